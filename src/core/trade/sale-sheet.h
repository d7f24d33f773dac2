/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One sale with all that was said of it: payments, refunds, fees as worked out and as charged, who
 * else wanted it. Trade layer; read only. */
#pragma once

#include "core/catalogue/enquiries.h"

G_BEGIN_DECLS

/* A fee by its name. What was charged counts, else what was worked out; tax is in both. */
typedef struct
{
  char *charge;
  gboolean has_computed, has_charged;
  SwMoney computed, charged, counts;
  SwMoney difference; /* charged - computed, where it was charged; a name that was not worked out
                       * counts as 0 worked out */
} SwSaleFee;
void sw_sale_fee_free (SwSaleFee *fee);

typedef struct
{
  SwDeal *deal;
  GPtrArray *payments;   /* SwPaymentTold */
  GArray *backs;         /* SwDealEntry: paid too much and given back */
  GArray *reversals;     /* SwDealEntry */
  GPtrArray *fees;       /* SwSaleFee by name */
  GPtrArray *enquiries;  /* SwEnquiry by time */
  const SwEnquiry *next; /* the underbidder; NULL: nobody else named an amount */
  SwMoney fees_total;
  char *extra; /* what was also to be had with it; "": nothing was said */
} SwSaleSheet;
void sw_sale_sheet_free (SwSaleSheet *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwSaleSheet, sw_sale_sheet_free)

/* Errors: NOT_FOUND, BAD_INPUT on overflow. Transfer full. */
SwSaleSheet *sw_sale_sheet (SwCatalogue *catalogue, gint64 deal, GError **error);

G_END_DECLS
