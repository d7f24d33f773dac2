/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Terms of an outlet: what its dated charges come to. Trade layer; amounts in, amounts out, exact
 * to the last digit of a percent, no floating point. Knows the row of a charge
 * (core/catalogue/outlets.h) and no database. */
#pragma once

#include "core/catalogue/outlets.h"

G_BEGIN_DECLS

/* A percent as text without its sign, in its shortest form ("17.5"); any number of decimals, 0 to
 * 100. Reads "17.5%" and "17.5 %"; the sign is needed, so that a rate is never taken for money.
 * Transfer full. Error: BAD_INPUT. */
char *sw_percent_parse (const char *cell, GError **error);

/* The sum of amounts[i] x percents[i] / 100, rounded once. Exact inside. amounts >= 0. Error:
 * BAD_INPUT on overflow. */
gboolean sw_percent_sum (const SwMoney *amounts, const char *const *percents, gsize n,
                         SwRounding rounding, SwMoney *out, GError **error);

/* Marginal tiers: "500:10%;:4%" is 10% of what lies up to 500.00 and 4% of what lies above. Bounds
 * rise; the last tier is open. A percent alone ("10%") is one open tier. */
typedef struct _SwTiers SwTiers;
SwTiers *sw_tiers_parse (const char *cell, SwCurrency currency, GError **error);
void sw_tiers_free (SwTiers *tiers);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwTiers, sw_tiers_free)
/* In the form that sw_tiers_parse reads, each amount with the decimals of the currency. Transfer
 * full. */
char *sw_tiers_to_text (const SwTiers *tiers, SwCurrency currency);
gboolean sw_tiers_apply (const SwTiers *tiers, SwMoney amount, SwRounding rounding, SwMoney *out,
                         GError **error);

/* What is charged. */
typedef struct
{
  gboolean by_offer; /* FALSE: a sale without an offer owes no OFFER charge */
  gboolean sold;     /* FALSE: no sale, withdrawn */
  SwMoney price, delivery;
  gint64 rank; /* of the offer among those of its calendar month that the charge falls on, from 1
                  (sw_terms_rank); 0: none, nothing is free */
  SwCurrency currency;
  SwRounding rounding;
} SwChargeCase;

/* One charge: flat or tiers over the whole, then least and most, then rounding; the tax on the
 * rounded charge, rounded too. *out_due FALSE: not due in this case. */
gboolean sw_charge_compute (const SwCharge *charge, const SwChargeCase *what, gboolean *out_due,
                            SwMoney *out_amount, SwMoney *out_tax, GError **error);

/* The charges in force on a day: of each name the version with the latest 'from' not after it,
 * unless that ends it. 'charges' as sw_charge_list gives them. Container of borrowed SwCharge, by
 * name. */
GPtrArray *sw_terms_on (const GPtrArray *charges, SwDay day);

/* An offer's place among those that a charge falls on: sw_terms_rank numbers those of each calendar
 * month (in the zone) from 1, by closing time, then lowest item number, then ref. */
typedef struct
{
  gint64 deal;
  SwInstant closes;
  gint64 item;
  const char *ref;
  gint64 rank; /* out */
} SwClosing;
/* Sorts the GArray of SwClosing. */
void sw_terms_rank (GArray *closings, const SwZone *zone);

G_END_DECLS
