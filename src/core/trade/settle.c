/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Works out a deal's ledger from its rows and posts what is missing of it. Decides no state of an
 * item.
 *
 * The ledger is always worked out whole: price, delivery, fees, reversals and what is owed, each
 * split over the items by weights that were fixed when the deal ended. It is then compared with the
 * postings there are, and the differences are posted. So a fee that is charged months later, or a
 * payment, needs no rule of its own. */
#include "core/trade/settle.h"

#include <string.h>

#include "core/catalogue/outlets.h"
#include "core/trade/ledger.h"
#include "core/trade/settle-docket.h"
#include "core/trade/split.h"
#include "core/trade/terms.h"

/* --- weights --- */

static SwSplitRule
weigh (GArray *items)
{
  g_autofree SwSplitPart *parts = g_new0 (SwSplitPart, items->len);
  g_autofree gint64 *weights = g_new0 (gint64, items->len);
  for (guint i = 0; i < items->len; i++)
    {
      const SwDealItem *item = &g_array_index (items, SwDealItem, i);
      parts[i] = (SwSplitPart){ item->has_asking, item->has_mass, item->asking, item->mass };
    }
  SwSplitRule rule = sw_split_weights (parts, items->len, weights);
  for (guint i = 0; i < items->len; i++)
    g_array_index (items, SwDealItem, i).weight = weights[i];
  return rule;
}

static gboolean
fix_weights (SwLedger *ledger, GError **error)
{
  SwSplitRule rule = weigh (ledger->items);
  return sw_deal_set_split (ledger->catalogue, ledger->deal->id, sw_split_rule_key (rule),
                            ledger->items, error);
}

/* --- computed fees --- */

static gboolean
find_rounding (SwCatalogue *catalogue, const char *outlet, SwRounding *out_rounding, GError **error)
{
  g_autoptr (SwOutlet) found = NULL;
  if (!sw_outlet_find (catalogue, outlet, &found, error))
    return FALSE;
  *out_rounding = found != NULL ? found->rounding : SW_ROUND_HALF_UP;
  return TRUE;
}

static gboolean
compute_fees (SwCatalogue *catalogue, const SwDeal *deal, GError **error)
{
  if (deal->outlet == 0 || deal->kind == SW_DEAL_DOCKET)
    return TRUE;
  SwChargeCase what = { .by_offer = deal->kind == SW_DEAL_OFFER,
                        .sold = deal->result == SW_RESULT_SOLD,
                        .price = deal->amount,
                        .delivery = deal->delivery,
                        .currency = sw_catalogue_currency (catalogue) };
  g_autoptr (GPtrArray) all = sw_charge_list (catalogue, deal->outlet, error);
  if (all == NULL || !find_rounding (catalogue, deal->outlet_name, &what.rounding, error))
    return FALSE;
  g_autoptr (GPtrArray) charges = sw_terms_on (all, deal->up);
  /* what is not due is kept for offers: they count among those of their month */
  for (guint i = 0; i < charges->len; i++)
    {
      const SwCharge *charge = g_ptr_array_index (charges, i);
      gboolean due = FALSE;
      SwFee fee = { .charge = charge->name };
      if (!sw_charge_compute (charge, &what, &due, &fee.amount, &fee.tax, error)
          || ((due || what.by_offer)
              && !sw_fee_add_computed (catalogue, deal->id, &fee, due, charge->free_offers, error)))
        return FALSE;
    }
  return TRUE;
}

/* --- offers and sales --- */

/* Fees bear the day of the result; without one yet, their own. */
static void
add_fee (SwLedger *ledger, const SwFee *fee, gpointer data)
{
  SwDay day = ledger->deal->result == SW_RESULT_RUNNING ? fee->day : ledger->deal->ended;
  sw_ledger_add_split (ledger, SW_POSTING_FEE, fee->charge, day, fee->amount);
}

/* 'left' is what each item still has of the sale; a part is split like the price, the whole takes
 * what is left. */
static gboolean
add_reversals (SwLedger *ledger, SwMoney *left, SwMoney *out_reversed, GError **error)
{
  g_autoptr (GArray) reversals = sw_reversal_list (ledger->catalogue, ledger->deal->id, error);
  if (reversals == NULL)
    return FALSE;
  guint n = ledger->items->len;
  g_autofree SwMoney *parts = g_new (SwMoney, n);
  *out_reversed = SW_MONEY_ZERO;
  for (guint i = 0; i < reversals->len; i++)
    {
      const SwDealEntry *entry = &g_array_index (reversals, SwDealEntry, i);
      if (entry->whole)
        memcpy (parts, left, n * sizeof *parts);
      else
        sw_ledger_split (ledger, entry->amount, parts);
      sw_ledger_add_parts (ledger, SW_POSTING_REVERSAL, "", entry->day, parts, -1);
      for (guint k = 0; k < n; k++)
        left[k].minor -= parts[k].minor;
      if (!sw_money_add (*out_reversed, entry->amount, out_reversed, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_owed (SwLedger *ledger, SwMoney proceeds, SwMoney reversed, GError **error)
{
  g_autoptr (GArray) payments = sw_payment_list (ledger->catalogue, ledger->deal->id, error);
  SwMoney owed = proceeds;
  if (payments == NULL || !sw_money_sub (owed, reversed, &owed, error))
    return FALSE;
  for (guint i = 0; i < payments->len; i++)
    if (!sw_money_sub (owed, g_array_index (payments, SwDealEntry, i).amount, &owed, error))
      return FALSE;
  if (owed.minor > 0)
    sw_ledger_add_split (ledger, SW_POSTING_OWED, "", ledger->deal->ended, owed);
  return TRUE;
}

static gboolean
add_sale (SwLedger *ledger, GError **error)
{
  const SwDeal *deal = ledger->deal;
  guint n = ledger->items->len;
  g_autofree SwMoney *price = g_new (SwMoney, n);
  g_autofree SwMoney *delivery = g_new (SwMoney, n);
  SwMoney proceeds, reversed;
  if (!sw_money_add (deal->amount, deal->delivery, &proceeds, error))
    return FALSE;
  sw_ledger_split (ledger, deal->amount, price);
  sw_ledger_split (ledger, deal->delivery, delivery);
  sw_ledger_add_parts (ledger, SW_POSTING_PRICE, "", deal->ended, price, 1);
  sw_ledger_add_parts (ledger, SW_POSTING_DELIVERY, "", deal->ended, delivery, 1);
  for (guint i = 0; i < n; i++)
    price[i].minor += delivery[i].minor;
  return add_reversals (ledger, price, &reversed, error)
         && add_owed (ledger, proceeds, reversed, error);
}

static gboolean
settle_offer (SwLedger *ledger, GError **error)
{
  if (ledger->deal->result == SW_RESULT_RUNNING)
    weigh (ledger->items);
  return (ledger->deal->result != SW_RESULT_SOLD || add_sale (ledger, error))
         && sw_ledger_each_fee (ledger, add_fee, NULL, error);
}

/* --- the whole --- */

static gboolean
work_out (SwLedger *ledger, GError **error)
{
  gboolean ok = ledger->deal->kind == SW_DEAL_DOCKET ? sw_docket_settle (ledger, error)
                                                     : settle_offer (ledger, error);
  return ok
         && sw_posting_sums (ledger->catalogue, ledger->deal->id, sw_ledger_subtract, ledger,
                             error);
}

gboolean
sw_settle_fix (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_auto (SwLedger) ledger = { 0 };
  if (!sw_ledger_init (&ledger, catalogue, deal, error))
    return FALSE;
  if (ledger.deal->kind == SW_DEAL_DOCKET)
    return sw_docket_fix (&ledger, error);
  return fix_weights (&ledger, error) && compute_fees (catalogue, ledger.deal, error);
}

gboolean
sw_settle (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_auto (SwLedger) ledger = { 0 };
  return sw_ledger_init (&ledger, catalogue, deal, error) && work_out (&ledger, error)
         && sw_ledger_post (&ledger, error);
}

static void
add_price (const SwPosting *posting, gpointer data)
{
  gint64 *sum = data;
  if (posting->kind == SW_POSTING_PRICE)
    *sum += posting->minor;
}

/* An offer or a sale of nothing, or one that ended without weights: only in a damaged catalogue. */
static gboolean
is_damaged (const SwLedger *ledger)
{
  if (ledger->deal->kind == SW_DEAL_DOCKET)
    return FALSE;
  for (guint i = 0; i < ledger->items->len; i++)
    if (ledger->deal->result != SW_RESULT_RUNNING
        && g_array_index (ledger->items, SwDealItem, i).weight < 0)
      return TRUE;
  return ledger->items->len == 0;
}

gboolean
sw_settle_check (SwCatalogue *catalogue, gint64 deal, gboolean *out_sound, GError **error)
{
  g_auto (SwLedger) ledger = { 0 };
  gint64 price = 0;
  if (!sw_ledger_init (&ledger, catalogue, deal, error))
    return FALSE;
  if (is_damaged (&ledger))
    {
      *out_sound = FALSE;
      return TRUE;
    }
  if (!work_out (&ledger, error) || !sw_posting_sums (catalogue, deal, add_price, &price, error))
    return FALSE;
  *out_sound = sw_ledger_is_sound (&ledger) && price == ledger.deal->amount.minor;
  return TRUE;
}
