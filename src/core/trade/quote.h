/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What selling through an outlet would cost and leave, before anything is offered. Trade layer. */
#pragma once

#include "core/catalogue/outlets.h"

G_BEGIN_DECLS

typedef struct
{
  SwMoney fees;   /* charges with their taxes */
  SwMoney leaves; /* price minus fees; below zero where they eat it up */
} SwQuote;

/* By the charges in force on the day ('charges' as sw_charge_list gives them), for an offer sold at
 * the price without delivery. Free offers of a month are not counted: the quote is the dearer case.
 * Errors: BAD_INPUT on overflow. */
gboolean sw_quote_sold (const SwOutlet *outlet, const GPtrArray *charges, SwDay day, SwMoney price,
                        SwCurrency currency, SwQuote *out, GError **error);
/* The same for an offer that finds no buyer; leaves is -fees. */
gboolean sw_quote_no_sale (const SwOutlet *outlet, const GPtrArray *charges, SwDay day,
                           SwCurrency currency, SwQuote *out, GError **error);

/* When an offer must be up for its goods to be collected in a stay that begins on 'first_day':
 * running days to its close, then days to pay, so that it is paid by that day. FALSE where the
 * outlet's running time is not said; days to pay that are not said count as none. */
gboolean sw_quote_last_day_up (const SwOutlet *outlet, SwDay first_day, SwDay *out_day);

G_END_DECLS
