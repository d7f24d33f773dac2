/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An outlet with its terms, what sales through it would leave, and the last day to put up what
 * shall be collected on the next trip. Trade layer; read only. */
#pragma once

#include "core/catalogue/going-out.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/trips.h"
#include "core/trade/quote.h"
#include "core/trade/slip.h"

G_BEGIN_DECLS

/* Prices at which the terms are shown, in whole units of the currency. */
#define SW_QUOTED_PRICES 3
extern const gint64 sw_quoted_prices[SW_QUOTED_PRICES]; /* 30, 150, 800 */

typedef struct
{
  SwOutlet *outlet;
  GPtrArray *charges;  /* SwCharge, all versions */
  gboolean has_quotes; /* FALSE: the terms overflow */
  SwMoney prices[SW_QUOTED_PRICES];
  SwQuote quotes[SW_QUOTED_PRICES], no_sale; /* by the terms of 'today' */
  gboolean has_trip;                         /* a trip begins after today */
  gint64 trip;
  SwDay trip_first;
  gboolean has_last_day; /* with a trip and a running time */
  SwDay last_day;
  SwTextLimits limits;
} SwOutletSheet;
void sw_outlet_sheet_free (SwOutletSheet *sheet);

/* GPtrArray of SwOutletSheet by name. Transfer full. */
GPtrArray *sw_outlet_sheets (SwCatalogue *catalogue, SwDay today, GError **error);

/* That outlet (by exact name) as it would stand on the day if the slip were booked: nothing is
 * kept. Transfer full. Errors: those of sw_slip_book, NOT_FOUND (the outlet). */
SwOutletSheet *sw_outlet_sheet_if (SwCatalogue *catalogue, SwSlip *slip, const char *outlet,
                                   SwDay day, GError **error);

/* How a charge stands on a day. */
typedef enum
{
  SW_CHARGE_IN_FORCE,
  SW_CHARGE_EARLIER, /* replaced or ended */
  SW_CHARGE_LATER,   /* begins after the day */
} SwChargeTime;
/* 'charges' as sw_charge_list gives them, 'charge' one of them. */
SwChargeTime sw_charge_time (const GPtrArray *charges, const SwCharge *charge, SwDay day);

G_END_DECLS
