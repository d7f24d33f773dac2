/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counts each round's offers; its money is read from the takings. */
#include "core/trade/rounds.h"

#include "core/catalogue/deals.h"
#include "core/catalogue/offer-notes.h"
#include "core/trade/takings.h"

void
sw_round_sum_free (SwRoundSum *sum)
{
  if (sum == NULL)
    return;
  g_free (sum->title);
  g_free (sum);
}

/* The money is that of the takings by round, so that both pages say the same. */
static void
take_money (SwRoundSum *sum, const SwTakings *takings)
{
  for (guint i = 0; i < takings->rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (takings->rows, i);
      if (row->number != sum->id)
        continue;
      sum->proceeds = row->proceeds;
      sum->fees = row->fees;
      sum->takings = row->takings;
    }
}

static void
count_result (SwRoundSum *sum, const SwDeal *deal)
{
  sum->offered++;
  sum->sold += deal->result == SW_RESULT_SOLD;
  sum->no_sale += deal->result == SW_RESULT_NO_SALE;
  sum->withdrawn += deal->result == SW_RESULT_WITHDRAWN;
  sum->running += deal->result == SW_RESULT_RUNNING;
  if (!sum->has_up || deal->up.n < sum->up.n)
    sum->up = deal->up;
  sum->has_up = TRUE;
}

static gboolean
count_deals (SwCatalogue *catalogue, SwRoundSum *sum, GError **error)
{
  g_autoptr (GArray) deals = sw_offer_round_deals (catalogue, sum->id, error);
  if (deals == NULL)
    return FALSE;
  for (guint i = 0; i < deals->len; i++)
    {
      g_autoptr (SwDeal) deal = sw_deal_get (catalogue, g_array_index (deals, gint64, i), error);
      if (deal == NULL)
        return FALSE;
      count_result (sum, deal);
    }
  return TRUE;
}

GPtrArray *
sw_round_sums (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwTakings) takings = { 0 };
  g_autoptr (GPtrArray) rounds = sw_offer_round_list (catalogue, error);
  if (rounds == NULL || !sw_takings_read (catalogue, SW_CREDIT_FOUND, SW_BY_ROUND, &takings, error))
    return NULL;
  g_autoptr (GPtrArray) sums = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_round_sum_free);
  for (guint i = rounds->len; i-- > 0;)
    {
      const SwOfferRound *round = g_ptr_array_index (rounds, i);
      SwRoundSum *sum = g_new0 (SwRoundSum, 1);
      g_ptr_array_add (sums, sum);
      sum->id = round->id;
      sum->title = g_strdup (round->title);
      if (!count_deals (catalogue, sum, error))
        return NULL;
      take_money (sum, &takings);
    }
  return g_steal_pointer (&sums);
}
