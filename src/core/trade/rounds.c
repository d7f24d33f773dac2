/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sets each round's counts beside its money, which is read from the takings. */
#include "core/trade/rounds.h"

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

static SwRoundSum *
sum_of (const SwOfferRound *round)
{
  SwRoundSum *sum = g_new0 (SwRoundSum, 1);
  sum->id = round->id;
  sum->title = g_strdup (round->title);
  sum->has_up = round->has_up;
  sum->up = round->up;
  sum->offered = round->offered;
  sum->sold = round->sold;
  sum->no_sale = round->no_sale;
  sum->withdrawn = round->withdrawn;
  sum->running = round->offered - round->sold - round->no_sale - round->withdrawn;
  return sum;
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
      SwRoundSum *sum = sum_of (g_ptr_array_index (rounds, i));
      g_ptr_array_add (sums, sum);
      take_money (sum, &takings);
    }
  return g_steal_pointer (&sums);
}
