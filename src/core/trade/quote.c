/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quotes by the terms of an outlet, and the days counted back from a trip. */
#include "core/trade/quote.h"

#include "core/trade/terms.h"

static gboolean
add_up (const GPtrArray *charges, SwDay day, const SwChargeCase *what, SwMoney *out_fees,
        GError **error)
{
  SwMoney sum = SW_MONEY_ZERO;
  g_autoptr (GPtrArray) in_force = sw_terms_on (charges, day);
  for (guint i = 0; i < in_force->len; i++)
    {
      SwMoney amount, tax;
      gboolean due = FALSE;
      if (!sw_charge_compute (g_ptr_array_index (in_force, i), what, &due, &amount, &tax, error))
        return FALSE;
      if (due
          && (!sw_money_add (sum, amount, &sum, error) || !sw_money_add (sum, tax, &sum, error)))
        return FALSE;
    }
  *out_fees = sum;
  return TRUE;
}

static gboolean
quote (const GPtrArray *charges, SwDay day, const SwChargeCase *what, SwQuote *out, GError **error)
{
  SwQuote made;
  if (!add_up (charges, day, what, &made.fees, error)
      || !sw_money_sub (what->price, made.fees, &made.leaves, error))
    return FALSE;
  *out = made;
  return TRUE;
}

gboolean
sw_quote_sold (const SwOutlet *outlet, const GPtrArray *charges, SwDay day, SwMoney price,
               SwCurrency currency, SwQuote *out, GError **error)
{
  const SwChargeCase what = { .by_offer = TRUE,
                              .sold = TRUE,
                              .price = price,
                              .currency = currency,
                              .rounding = outlet->rounding };
  return quote (charges, day, &what, out, error);
}

gboolean
sw_quote_no_sale (const SwOutlet *outlet, const GPtrArray *charges, SwDay day, SwCurrency currency,
                  SwQuote *out, GError **error)
{
  const SwChargeCase what
      = { .by_offer = TRUE, .currency = currency, .rounding = outlet->rounding };
  return quote (charges, day, &what, out, error);
}

gboolean
sw_quote_last_day_up (const SwOutlet *outlet, SwDay first_day, SwDay *out_day)
{
  if (outlet->running_days < 0)
    return FALSE;
  gint64 back = outlet->running_days + MAX (outlet->pay_days, 0);
  if (back > G_MAXINT32 / 2)
    return FALSE;
  *out_day = (SwDay){ first_day.n - (gint32)back };
  return TRUE;
}
