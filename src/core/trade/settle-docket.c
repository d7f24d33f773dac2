/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a yard paid and charged, line by line, over the items of each line. */
#include "core/trade/settle-docket.h"

#include "core/trade/split.h"

/* By mass; where one is missing, equally: fixed when the docket is booked, so that masses that are
 * learned later change nothing. */
static gboolean
fix_line_weights (SwLedger *ledger, SwDocketLine *line, GError **error)
{
  guint n = line->items->len;
  if (n == 0)
    return TRUE;
  g_autofree SwSplitPart *parts = g_new0 (SwSplitPart, n);
  g_autofree gint64 *weights = g_new0 (gint64, n);
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < ledger->items->len; k++)
      {
        const SwDealItem *item = &g_array_index (ledger->items, SwDealItem, k);
        if (item->item == g_array_index (line->items, SwDocketItem, i).item)
          parts[i] = (SwSplitPart){ FALSE, item->has_mass, SW_MONEY_ZERO, item->mass };
      }
  sw_split_weights_by_mass (parts, n, weights);
  for (guint i = 0; i < n; i++)
    g_array_index (line->items, SwDocketItem, i).weight = weights[i];
  return sw_docket_line_set_weights (ledger->catalogue, line, error);
}

/* What a line brought or bears, over its items; without items to the loose scrap of its place. */
static void
add_line (SwLedger *ledger, const SwDocketLine *line, SwPosting key, SwMoney amount)
{
  guint n = line->items->len;
  if (n == 0)
    {
      key.place = line->place;
      sw_ledger_add (ledger, &key, amount.minor);
      return;
    }
  g_autofree gint64 *weights = g_new (gint64, n);
  g_autofree SwMoney *parts = g_new (SwMoney, n);
  for (guint i = 0; i < n; i++)
    weights[i] = g_array_index (line->items, SwDocketItem, i).weight;
  sw_money_split (amount, weights, n, parts);
  for (guint i = 0; i < n; i++)
    {
      key.item = g_array_index (line->items, SwDocketItem, i).item;
      sw_ledger_add (ledger, &key, parts[i].minor);
    }
}

/* A yard's fee goes over the lines by their money, then over a line's items as its money does. */
static void
add_docket_fee (SwLedger *ledger, const SwFee *fee, gpointer data)
{
  const GPtrArray *lines = data;
  g_autofree gint64 *weights = g_new (gint64, lines->len);
  g_autofree SwMoney *parts = g_new (SwMoney, lines->len);
  SwPosting key = { .kind = SW_POSTING_FEE, .charge = fee->charge, .day = ledger->deal->ended };
  for (guint i = 0; i < lines->len; i++)
    weights[i] = ((const SwDocketLine *)g_ptr_array_index (lines, i))->amount.minor;
  sw_money_split (fee->amount, weights, lines->len, parts);
  for (guint i = 0; i < lines->len; i++)
    add_line (ledger, g_ptr_array_index (lines, i), key, parts[i]);
}

gboolean
sw_docket_fix (SwLedger *ledger, GError **error)
{
  g_autoptr (GPtrArray) lines = sw_docket_lines (ledger->catalogue, ledger->deal->id, error);
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    if (!fix_line_weights (ledger, g_ptr_array_index (lines, i), error))
      return FALSE;
  return lines != NULL;
}

gboolean
sw_docket_settle (SwLedger *ledger, GError **error)
{
  g_autoptr (GPtrArray) lines = sw_docket_lines (ledger->catalogue, ledger->deal->id, error);
  if (lines == NULL)
    return FALSE;
  SwPosting key = { .kind = SW_POSTING_PRICE, .day = ledger->deal->ended };
  for (guint i = 0; i < lines->len; i++)
    {
      const SwDocketLine *line = g_ptr_array_index (lines, i);
      for (guint k = 0; k < line->items->len; k++)
        ledger->unweighed
            = ledger->unweighed || g_array_index (line->items, SwDocketItem, k).weight < 0;
      if (!ledger->unweighed)
        add_line (ledger, line, key, line->amount);
    }
  return ledger->unweighed || sw_ledger_each_fee (ledger, add_docket_fee, lines, error);
}
