/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adds up the postings of each round's offers. */
#include "core/trade/rounds.h"

#include "core/base/error.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/postings.h"

void
sw_round_sum_free (SwRoundSum *sum)
{
  if (sum == NULL)
    return;
  g_free (sum->title);
  g_free (sum);
}

typedef struct
{
  SwRoundSum *sum;
  gboolean overflow;
} Adding;

static void
add_posting (const SwPosting *posting, gpointer data)
{
  Adding *adding = data;
  gint64 *sum = posting->kind == SW_POSTING_FEE    ? &adding->sum->fees.minor
                : posting->kind == SW_POSTING_OWED ? NULL
                                                   : &adding->sum->proceeds.minor;
  if (sum != NULL && __builtin_add_overflow (*sum, posting->minor, sum))
    adding->overflow = TRUE;
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
add_deals (SwCatalogue *catalogue, SwRoundSum *sum, GError **error)
{
  g_autoptr (GArray) deals = sw_offer_round_deals (catalogue, sum->id, error);
  Adding adding = { sum, FALSE };
  if (deals == NULL)
    return FALSE;
  for (guint i = 0; i < deals->len; i++)
    {
      g_autoptr (SwDeal) deal = sw_deal_get (catalogue, g_array_index (deals, gint64, i), error);
      if (deal == NULL || !sw_posting_sums (catalogue, deal->id, add_posting, &adding, error))
        return FALSE;
      count_result (sum, deal);
    }
  if (!adding.overflow)
    return sw_money_sub (sum->proceeds, sum->fees, &sum->takings, error);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               "The money of the round is too large to be added up.");
  return FALSE;
}

GPtrArray *
sw_round_sums (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) rounds = sw_offer_round_list (catalogue, error);
  if (rounds == NULL)
    return NULL;
  g_autoptr (GPtrArray) sums = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_round_sum_free);
  for (guint i = rounds->len; i-- > 0;)
    {
      const SwOfferRound *round = g_ptr_array_index (rounds, i);
      SwRoundSum *sum = g_new0 (SwRoundSum, 1);
      g_ptr_array_add (sums, sum);
      sum->id = round->id;
      sum->title = g_strdup (round->title);
      if (!add_deals (catalogue, sum, error))
        return NULL;
    }
  return g_steal_pointer (&sums);
}
