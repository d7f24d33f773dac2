/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of outlets and their charges, of offers with their interest and results, and of holds, into
 * the catalogue. */
#include "core/trade/book-private.h"
#include "core/base/language.h"

#include <string.h>

#include "core/base/text.h"
#include "core/catalogue/steps.h"

/* --- outlets and charges --- */

static gint64
days_or_none (const SwRow *row, SwColumn column)
{
  return row->text[column] != NULL ? row->value[column] : -1;
}

static SwOutlet
outlet_of (const SwRow *row)
{
  SwOutlet outlet = { .name = row->text[SW_COLUMN_OUTLET],
                      .running_days = days_or_none (row, SW_COLUMN_RUNNING_DAYS),
                      .pay_days = days_or_none (row, SW_COLUMN_PAY_DAYS),
                      .collect_days = days_or_none (row, SW_COLUMN_COLLECT_DAYS),
                      .rounding = SW_ROUND_HALF_UP };
  if (sw_row_has (row, KIND))
    outlet.has_kind = sw_outlet_kind_parse (row->text[SW_COLUMN_KIND], &outlet.kind);
  if (sw_row_has (row, ROUNDING) && sw_text_same_name (row->text[SW_COLUMN_ROUNDING], "half-even"))
    outlet.rounding = SW_ROUND_HALF_EVEN;
  return outlet;
}

static gboolean
same_outlet (const SwOutlet *a, const SwOutlet *b)
{
  return a->has_kind == b->has_kind && (!a->has_kind || a->kind == b->kind)
         && a->running_days == b->running_days && a->pay_days == b->pay_days
         && a->collect_days == b->collect_days && a->rounding == b->rounding;
}

gboolean
sw_book_outlet (SwBook *book, SwRow *row, GError **error)
{
  SwOutlet outlet = outlet_of (row);
  g_autoptr (SwOutlet) known = NULL;
  if (!sw_outlet_find (book->catalogue, outlet.name, &known, error))
    return FALSE;
  row->done = known != NULL && same_outlet (known, &outlet);
  return row->done || sw_outlet_put (book->catalogue, &outlet, NULL, error);
}

static SwCharge
charge_of (const SwRow *row, gint64 outlet)
{
  SwCharge charge = { .outlet = outlet,
                      .name = row->text[SW_COLUMN_CHARGE],
                      .from = row->day,
                      .ends = !sw_row_has (row, FLAT) && !sw_row_has (row, TIERS),
                      .basis = SW_CHARGE_OFFER };
  if (charge.ends)
    return charge;
  sw_charge_basis_parse (row->text[SW_COLUMN_ON], &charge.basis);
  charge.flat = sw_row_money (row, FLAT);
  charge.tiers = row->text[SW_COLUMN_TIERS];
  charge.has_least = sw_row_has (row, LEAST);
  charge.least = sw_row_money (row, LEAST);
  charge.has_most = sw_row_has (row, MOST);
  charge.most = sw_row_money (row, MOST);
  charge.tax = row->text[SW_COLUMN_TAX];
  charge.free_offers = row->value[SW_COLUMN_FREE];
  return charge;
}

static gboolean
same_charge (const SwCharge *a, const SwCharge *b)
{
  if (a->ends || b->ends)
    return a->ends == b->ends;
  return a->basis == b->basis && a->flat.minor == b->flat.minor
         && g_strcmp0 (a->tiers, b->tiers) == 0 && a->has_least == b->has_least
         && a->least.minor == b->least.minor && a->has_most == b->has_most
         && a->most.minor == b->most.minor && g_strcmp0 (a->tax, b->tax) == 0
         && a->free_offers == b->free_offers;
}

/* The version of that day, and the latest one before it; NULL each where there is none. */
static void
find_versions (const GPtrArray *charges, const SwCharge *charge, const SwCharge **out_same,
               const SwCharge **out_before)
{
  *out_same = *out_before = NULL;
  for (guint i = 0; i < charges->len; i++)
    {
      const SwCharge *other = g_ptr_array_index (charges, i);
      if (strcmp (other->name, charge->name) != 0)
        continue;
      if (other->from.n == charge->from.n)
        *out_same = other;
      else if (other->from.n < charge->from.n)
        *out_before = other;
    }
}

gboolean
sw_book_charge (SwBook *book, SwRow *row, GError **error)
{
  g_autoptr (SwOutlet) outlet = NULL;
  if (!sw_book_find_outlet (book, row, &outlet, error))
    return FALSE;
  SwCharge charge = charge_of (row, outlet->id);
  g_autoptr (GPtrArray) charges = sw_charge_list (book->catalogue, outlet->id, error);
  if (charges == NULL)
    return FALSE;
  const SwCharge *same, *before;
  find_versions (charges, &charge, &same, &before);
  row->done = same != NULL && same_charge (same, &charge);
  if (row->done)
    return TRUE;
  /* Often a mistyped column: a charge that never was needs no end. */
  if (charge.ends && (before == NULL || before->ends))
    {
      g_autofree char *shown = sw_text_quote (charge.name);
      g_autofree char *remark = g_strdup_printf (
          _ ("the charge %s has neither flat nor tiers, which ends it, but it did not run."),
          shown);
      sw_book_remark (book, row->line, remark);
    }
  sw_book_count_free (book, outlet->id);
  return sw_charge_put (book->catalogue, &charge, error);
}

/* --- offers --- */

static SwDeal
offer_of (const SwRow *row, gint64 outlet)
{
  return (SwDeal){ .ref = row->text[SW_COLUMN_REF],
                   .kind = SW_DEAL_OFFER,
                   .outlet = outlet,
                   .up = row->day,
                   .has_closes = sw_row_has (row, CLOSES),
                   .closes = { row->value[SW_COLUMN_CLOSES] },
                   .has_start = sw_row_has (row, START),
                   .start = sw_row_money (row, START),
                   .has_reserve = sw_row_has (row, RESERVE),
                   .reserve = sw_row_money (row, RESERVE),
                   .result = SW_RESULT_RUNNING };
}

/* A hold goes before a running offer: while it lasts the item stays On hold, and the offer runs
 * beside it. */
static gboolean
put_up (SwBook *book, const SwDealItem *item, SwDay day, GError **error)
{
  g_autoptr (SwItem) row = sw_item_get (book->catalogue, item->item, error);
  if (row == NULL)
    return FALSE;
  if (row->state != SW_STATE_ON_HOLD || !row->has_hold || row->hold_until.n < day.n)
    return sw_book_walk (book, item->item, SW_STATE_ON_OFFER, day, error);
  g_autofree char *until = sw_day_to_person (row->hold_until);
  g_autofree char *remark = g_strdup_printf (
      _ ("%s is on hold until %s: the offer runs, the hold goes before it."), row->name, until);
  sw_book_remark (book, book->line, remark);
  return TRUE;
}

gboolean
sw_book_offer (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwOutlet) outlet = NULL;
  if (!sw_act_begin (&act, book->catalogue, error) || !sw_book_check_new (book, row, error)
      || !sw_book_find_outlet (book, row, &outlet, error))
    return FALSE;
  SwDeal deal = offer_of (row, outlet->id);
  if (deal.has_closes && sw_day_of_instant (deal.closes, book->zone).n < deal.up.n)
    return sw_book_refuse (error, _ ("The offer closes before the day it is up; look at both."));
  g_autoptr (GArray) numbers = sw_book_row_items (book, row, error);
  g_autoptr (GArray) items = numbers != NULL ? sw_book_deal_items (book, numbers, error) : NULL;
  gint64 id = 0;
  if (items == NULL
      || !sw_deal_add (book->catalogue, &deal, (const SwDealItem *)(gpointer)items->data,
                       items->len, &id, error))
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    if (!put_up (book, &g_array_index (items, SwDealItem, i), deal.up, error))
      return FALSE;
  g_autofree char *names = sw_book_item_names (items);
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: %s up at %s"), deal.ref, names, outlet->name);
  sw_book_count_free (book, outlet->id);
  return sw_book_tell (book, &act, id, "offer.up", deal.up, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

static gint64
number_or_none (const SwRow *row, SwColumn column)
{
  return row->text[column] != NULL ? row->value[column] : -1;
}

gboolean
sw_book_interest (SwBook *book, SwRow *row, GError **error)
{
  g_autoptr (SwDeal) deal = sw_book_find_deal (book, row, error);
  if (deal == NULL)
    return FALSE;
  if (deal->kind != SW_DEAL_OFFER)
    return sw_book_refuse (error, deal->kind == SW_DEAL_SALE
                                      ? _ ("Interest is drawn by an offer; this ref is a sale.")
                                      : _ ("Interest is drawn by an offer; this ref is a docket."));
  SwInterest interest = { { row->value[SW_COLUMN_AT] },
                          number_or_none (row, SW_COLUMN_LOOKS),
                          number_or_none (row, SW_COLUMN_FOLLOWERS),
                          number_or_none (row, SW_COLUMN_BIDS),
                          sw_row_has (row, AMOUNT),
                          sw_row_money (row, AMOUNT) };
  return sw_interest_add (book->catalogue, deal->id, &interest, error);
}

/* --- results --- */

static gboolean
is_sold_state (SwState state)
{
  return state == SW_STATE_SOLD || state == SW_STATE_HANDED_OVER;
}

static gboolean
count_other_running (SwBook *book, gint64 item, guint *out_n, GError **error)
{
  g_autoptr (GArray) running = sw_deal_running (book->catalogue, item, error);
  if (running == NULL)
    return FALSE;
  *out_n = running->len;
  return TRUE;
}

/* The one unsold end of an offer leaves the item On offer while another one runs. */
static gboolean
end_unsold (SwBook *book, const SwDealItem *item, const SwDeal *deal, GError **error)
{
  guint running = 0;
  if (item->state != SW_STATE_ON_OFFER)
    return TRUE;
  if (!count_other_running (book, item->item, &running, error))
    return FALSE;
  if (running > 0)
    return TRUE;
  SwState to = SW_STATE_NO_SALE;
  if (deal->result == SW_RESULT_WITHDRAWN)
    to = item->before == SW_STATE_AT_HOME ? SW_STATE_AT_HOME : SW_STATE_READY;
  return sw_book_walk (book, item->item, to, deal->ended, error);
}

/* Sold in two outlets at once: both sales happened, one of them will fall through. */
static gboolean
end_sold (SwBook *book, const SwDealItem *item, const SwDeal *deal, GError **error)
{
  if (!is_sold_state (item->state))
    return sw_book_walk (book, item->item, SW_STATE_SOLD, deal->ended, error);
  g_autofree char *remark = g_strdup_printf (
      _ ("%s is sold already; one of the two sales has to fall through."), item->name);
  sw_book_remark (book, book->line, remark);
  return TRUE;
}

static gboolean
check_end (const SwDeal *deal, const SwRow *row, GError **error)
{
  g_autofree char *shown = sw_text_quote (deal->ref);
  if (deal->kind != SW_DEAL_OFFER)
    return sw_book_refuse (error,
                           deal->kind == SW_DEAL_SALE
                               ? _ ("%s is a sale, which has no result of its own.")
                               : _ ("%s is a docket, which has no result of its own."),
                           shown);
  if (deal->result != SW_RESULT_RUNNING)
    return sw_book_refuse (error, _ ("%s is booked already, with another result (%s)."), shown,
                           _ (sw_result_word (deal->result)));
  if (row->day.n >= deal->up.n)
    return TRUE;
  g_autofree char *up = sw_day_to_person (deal->up);
  g_autofree char *day = sw_day_to_person (row->day);
  return sw_book_refuse (error, _ ("The result of %s is of %s, before it was up (%s)."), shown, day,
                         up);
}

static char *
result_sentence (SwBook *book, const SwDeal *deal, const GArray *items)
{
  g_autofree char *names = sw_book_item_names (items);
  g_autofree char *amount = sw_money_to_person (deal->amount, book->currency);
  if (deal->result == SW_RESULT_SOLD)
    return g_strdup_printf (_ ("%s: %s sold for %s"), deal->ref, names, amount);
  return g_strdup_printf (deal->result == SW_RESULT_NO_SALE ? _ ("%s: %s no sale")
                                                            : _ ("%s: %s withdrawn"),
                          deal->ref, names);
}

gboolean
sw_book_result (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_book_find_deal (book, row, error);
  if (deal == NULL || !check_end (deal, row, error) || !sw_act_begin (&act, book->catalogue, error))
    return FALSE;
  sw_result_parse (row->text[SW_COLUMN_RESULT], &deal->result);
  deal->ended = row->day;
  deal->ended_at = (SwInstant){ row->value[SW_COLUMN_AT] };
  deal->amount = sw_row_money (row, AMOUNT);
  deal->delivery = sw_row_money (row, DELIVERY);
  deal->buyer = g_strdup (row->text[SW_COLUMN_BUYER]);
  g_autoptr (GArray) items = sw_deal_items (book->catalogue, deal->id, error);
  if (items == NULL || !sw_deal_end (book->catalogue, deal, error))
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      const SwDealItem *item = &g_array_index (items, SwDealItem, i);
      if (!(deal->result == SW_RESULT_SOLD ? end_sold (book, item, deal, error)
                                           : end_unsold (book, item, deal, error)))
        return FALSE;
    }
  sw_book_touch (book, deal->id, TRUE);
  sw_book_count_free (book, deal->outlet);
  g_autofree char *sentence = result_sentence (book, deal, items);
  return sw_book_tell (book, &act, deal->id, "offer.ended", deal->ended, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* --- holds --- */

gboolean
sw_book_hold (SwBook *book, SwRow *row, GError **error)
{
  SwDay until = sw_day_of_instant ((SwInstant){ row->value[SW_COLUMN_UNTIL] }, book->zone);
  SwStepOptions options = {
    .day = &row->day, .until = &until, .hold_for = row->text[SW_COLUMN_BUYER], .by_books = TRUE
  };
  g_autoptr (GArray) numbers = sw_book_find_items (book, row->text[SW_COLUMN_ITEM], error);
  for (guint i = 0; numbers != NULL && i < numbers->len; i++)
    {
      g_autofree char *remark = NULL;
      if (!sw_item_walk_to (book->catalogue, g_array_index (numbers, gint64, i), SW_STATE_ON_HOLD,
                            &options, NULL, &remark, error))
        return FALSE;
      if (remark != NULL)
        sw_book_remark (book, row->line, remark);
    }
  return numbers != NULL;
}
