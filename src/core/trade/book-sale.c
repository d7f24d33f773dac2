/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of sales without an offer, of what follows a sale (payments, collection, reversals), of fees
 * as charged and of costs, into the catalogue. */
#include "core/trade/book-private.h"
#include "core/base/language.h"

#include "core/base/text.h"
#include "core/catalogue/trips.h"
#include "core/trade/sales.h"

/* --- sales without an offer --- */

static gboolean
outlet_or_none (SwBook *book, SwRow *row, gint64 *out_outlet, GError **error)
{
  *out_outlet = 0;
  if (!sw_row_has (row, OUTLET))
    return TRUE;
  g_autoptr (SwOutlet) outlet = NULL;
  if (!sw_book_find_outlet (book, row, &outlet, error))
    return FALSE;
  *out_outlet = outlet->id;
  return TRUE;
}

static SwDeal
sale_of (const SwRow *row, gint64 outlet)
{
  return (SwDeal){ .ref = row->text[SW_COLUMN_REF],
                   .kind = SW_DEAL_SALE,
                   .outlet = outlet,
                   .up = row->day,
                   .result = SW_RESULT_SOLD,
                   .ended = row->day,
                   .ended_at = { row->value[SW_COLUMN_AT] },
                   .amount = sw_row_money (row, AMOUNT),
                   .delivery = sw_row_money (row, DELIVERY),
                   .buyer = row->text[SW_COLUMN_BUYER] };
}

gboolean
sw_book_sale (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 outlet = 0, id = 0;
  if (!sw_act_begin (&act, book->catalogue, error) || !sw_book_check_new (book, row, error)
      || !outlet_or_none (book, row, &outlet, error))
    return FALSE;
  SwDeal deal = sale_of (row, outlet);
  g_autoptr (GArray) numbers = sw_book_row_items (book, row, error);
  g_autoptr (GArray) items = numbers != NULL ? sw_book_deal_items (book, numbers, error) : NULL;
  if (items == NULL
      || !sw_deal_add (book->catalogue, &deal, (const SwDealItem *)(gpointer)items->data,
                       items->len, &id, error))
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    if (!sw_book_walk (book, g_array_index (items, SwDealItem, i).item, SW_STATE_SOLD, row->day,
                       error))
      return FALSE;
  sw_book_touch (book, id, TRUE);
  g_autofree char *names = sw_book_item_names (items);
  g_autofree char *amount = sw_money_to_person (deal.amount, book->currency);
  g_autofree char *sentence = g_strdup_printf (_ ("%s: %s sold for %s"), deal.ref, names, amount);
  return sw_book_tell (book, &act, id, "sale.made", row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* --- after a sale --- */

static gboolean
is_among (const GArray *ids, gint64 id)
{
  for (guint i = 0; i < ids->len; i++)
    if (g_array_index (ids, gint64, i) == id)
      return TRUE;
  return FALSE;
}

gboolean
sw_book_payment (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_book_find_sale (book, row, error);
  SwDealEntry entry = { row->day, sw_row_money (row, AMOUNT), FALSE };
  if (deal == NULL || !sw_act_begin (&act, book->catalogue, error)
      || !sw_payment_add (book->catalogue, deal->id, &entry, error))
    return FALSE;
  sw_book_touch (book, deal->id, FALSE);
  g_autofree char *amount = sw_money_to_person (entry.amount, book->currency);
  g_autofree char *sentence = g_strdup_printf (_ ("%s: %s paid"), deal->ref, amount);
  return sw_book_tell (book, &act, deal->id, "sale.paid", row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* Only what was paid beyond price and delivery goes back so: it was never part of the sale, and
 * what is owed stays as it is. A refund of the price is a reversal. */
static gboolean
check_paid_back (SwBook *book, const SwDeal *deal, const SwRow *row, GError **error)
{
  SwMoney over;
  if (!sw_sale_over (book->catalogue, deal, &over, error))
    return FALSE;
  if (row->value[SW_COLUMN_AMOUNT] <= over.minor)
    return TRUE;
  g_autofree char *shown = sw_text_quote (deal->ref);
  g_autofree char *beyond = sw_money_to_person (over, book->currency);
  return over.minor == 0
             ? sw_book_refuse (error,
                               _ ("Nothing was paid too much for %s; to give back of the price, "
                                  "book a reversal."),
                               shown)
             : sw_book_refuse (error,
                               _ ("%s was paid too much for %s, no more can be given back so; to "
                                  "give back of the price, book a reversal."),
                               beyond, shown);
}

gboolean
sw_book_paid_back (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_book_find_sale (book, row, error);
  SwDealEntry entry = { row->day, sw_row_money (row, AMOUNT), FALSE };
  if (deal == NULL || !check_paid_back (book, deal, row, error)
      || !sw_act_begin (&act, book->catalogue, error)
      || !sw_paid_back_add (book->catalogue, deal->id, &entry, error))
    return FALSE;
  g_autofree char *amount = sw_money_to_person (entry.amount, book->currency);
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: %s, paid too much, given back"), deal->ref, amount);
  return sw_book_tell (book, &act, deal->id, "sale.paid-back", row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* Only what this sale holds goes: an item that fell through, or was sold again, stays where it is.
 */
static gboolean
hand_over (SwBook *book, const SwDealItem *item, const SwDeal *deal, SwDay day, GError **error)
{
  g_autoptr (GArray) standing = sw_deal_standing_sales (book->catalogue, item->item, error);
  if (standing == NULL)
    return FALSE;
  if (item->state == SW_STATE_SOLD && is_among (standing, deal->id))
    return sw_book_walk (book, item->item, SW_STATE_HANDED_OVER, day, error);
  g_autofree char *remark = g_strdup_printf (_ ("%s is %s: its state was left as it is."),
                                             item->name, _ (sw_state_word (item->state)));
  sw_book_remark (book, book->line, remark);
  return TRUE;
}

gboolean
sw_book_collected (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_book_find_sale (book, row, error);
  if (deal == NULL)
    return FALSE;
  g_autofree char *shown = sw_text_quote (deal->ref);
  if (deal->has_collected)
    return sw_book_refuse (error, _ ("%s is booked already as collected, on another day."), shown);
  g_autoptr (GArray) items = sw_deal_items (book->catalogue, deal->id, error);
  if (items == NULL || !sw_act_begin (&act, book->catalogue, error)
      || !sw_deal_set_collected (book->catalogue, deal->id, row->day, error))
    return FALSE;
  /* Taken before the sale was agreed: the step is the sale's, the day of the money is the row's. */
  SwDay day = { MAX (row->day.n, deal->ended.n) };
  for (guint i = 0; i < items->len; i++)
    if (!hand_over (book, &g_array_index (items, SwDealItem, i), deal, day, error))
      return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: collected"), deal->ref);
  return sw_book_tell (book, &act, deal->id, "sale.collected", row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* --- reversals --- */

static gboolean
find_left (SwBook *book, const SwDeal *deal, SwMoney *out_left, gboolean *out_whole, GError **error)
{
  g_autoptr (GArray) reversals = sw_reversal_list (book->catalogue, deal->id, error);
  if (reversals == NULL || !sw_money_add (deal->amount, deal->delivery, out_left, error))
    return FALSE;
  *out_whole = FALSE;
  for (guint i = 0; i < reversals->len; i++)
    {
      const SwDealEntry *entry = &g_array_index (reversals, SwDealEntry, i);
      out_left->minor -= entry->amount.minor; /* never more than was left */
      *out_whole = *out_whole || entry->whole;
    }
  return TRUE;
}

static gboolean
check_reversal (SwBook *book, const SwDeal *deal, const SwRow *row, SwMoney left, gboolean whole,
                GError **error)
{
  g_autofree char *shown = sw_text_quote (deal->ref);
  if (whole)
    return sw_book_refuse (error, _ ("%s fell through already; nothing is left to take back."),
                           shown);
  if (row->day.n < deal->ended.n)
    {
      g_autofree char *sold = sw_day_to_person (deal->ended);
      return sw_book_refuse (error, _ ("The reversal of %s is before its sale (%s)."), shown, sold);
    }
  if (sw_row_has (row, AMOUNT) && row->value[SW_COLUMN_AMOUNT] > left.minor)
    {
      g_autofree char *rest = sw_money_to_person (left, book->currency);
      return sw_book_refuse (error, _ ("Of %s only %s is left to take back."), shown, rest);
    }
  return TRUE;
}

/* The sale fell through: back to No sale, or On offer where another offer still runs; unless the
 * item was sold a second time. */
static gboolean
take_back (SwBook *book, const SwDealItem *item, SwDay day, GError **error)
{
  if (item->state != SW_STATE_SOLD && item->state != SW_STATE_HANDED_OVER)
    return TRUE;
  g_autoptr (GArray) standing = sw_deal_standing_sales (book->catalogue, item->item, error);
  if (standing == NULL)
    return FALSE;
  if (standing->len > 0)
    return TRUE;
  g_autoptr (GArray) running = sw_deal_running (book->catalogue, item->item, error);
  return running != NULL && sw_book_walk (book, item->item, SW_STATE_NO_SALE, day, error)
         && (running->len == 0 || sw_book_walk (book, item->item, SW_STATE_ON_OFFER, day, error));
}

gboolean
sw_book_reversal (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_book_find_sale (book, row, error);
  SwMoney left;
  gboolean fell = FALSE;
  if (deal == NULL || !find_left (book, deal, &left, &fell, error)
      || !check_reversal (book, deal, row, left, fell, error))
    return FALSE;
  gboolean whole = !sw_row_has (row, AMOUNT);
  SwDealEntry entry = { row->day, whole ? left : sw_row_money (row, AMOUNT), whole };
  g_autoptr (GArray) items = sw_deal_items (book->catalogue, deal->id, error);
  if (items == NULL || !sw_act_begin (&act, book->catalogue, error)
      || !sw_reversal_add (book->catalogue, deal->id, &entry, error))
    return FALSE;
  for (guint i = 0; whole && i < items->len; i++)
    if (!take_back (book, &g_array_index (items, SwDealItem, i), row->day, error))
      return FALSE;
  sw_book_touch (book, deal->id, FALSE);
  g_autofree char *amount = sw_money_to_person (entry.amount, book->currency);
  g_autofree char *sentence = g_strdup_printf (
      whole ? _ ("%s: fell through, %s taken back") : _ ("%s: %s taken back"), deal->ref, amount);
  return sw_book_tell (book, &act, deal->id, "sale.reversed", row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* --- fees and costs --- */

static gboolean
refuse_same_day (SwBook *book, const SwDeal *deal, const SwFee *fee, GError **error)
{
  g_autoptr (GPtrArray) charged = sw_fee_charged (book->catalogue, deal->id, error);
  if (charged == NULL)
    return FALSE;
  g_autofree char *shown = sw_text_quote (fee->charge);
  g_autofree char *day = sw_day_to_person (fee->day);
  for (guint i = 0; i < charged->len; i++)
    {
      const SwFee *other = g_ptr_array_index (charged, i);
      if (other->day.n == fee->day.n && g_str_equal (other->charge, fee->charge))
        return sw_book_refuse (
            error,
            _ ("%s has the fee %s of %s already, and of two on one day nobody knows which counts: "
               "give a later day, or undo the first."),
            deal->ref, shown, day);
    }
  return TRUE;
}

gboolean
sw_book_fee (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_book_find_deal (book, row, error);
  SwFee fee = { .charge = row->text[SW_COLUMN_CHARGE],
                .amount = sw_row_money (row, AMOUNT),
                .day = row->day };
  if (deal == NULL || !refuse_same_day (book, deal, &fee, error)
      || !sw_act_begin (&act, book->catalogue, error)
      || !sw_fee_add_charged (book->catalogue, deal->id, &fee, error))
    return FALSE;
  sw_book_touch (book, deal->id, FALSE);
  g_autofree char *amount = sw_money_to_person (fee.amount, book->currency);
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: %s charged for %s"), deal->ref, amount, fee.charge);
  return sw_book_tell (book, &act, deal->id, "fee.charged", row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_book_cost (SwBook *book, SwRow *row, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  SwCost cost = { .trip = row->value[SW_COLUMN_TRIP],
                  .day = row->day,
                  .amount = sw_row_money (row, AMOUNT),
                  .remark = row->text[SW_COLUMN_REMARK] };
  g_autoptr (SwTrip) trip = cost.trip != 0 ? sw_trip_get (book->catalogue, cost.trip, error) : NULL;
  if ((cost.trip != 0 && trip == NULL) || !sw_act_begin (&act, book->catalogue, error)
      || !sw_cost_add (book->catalogue, &cost, error))
    return FALSE;
  g_autofree char *amount = sw_money_to_person (cost.amount, book->currency);
  g_autofree char *sentence
      = g_strdup_printf (_ ("Cost of %s%s%s"), amount, cost.remark != NULL ? ": " : "",
                         cost.remark != NULL ? cost.remark : "");
  SwSubject subject = trip != NULL ? SW_SUBJECT_TRIP : SW_SUBJECT_CATALOGUE;
  return sw_act_tell (&act, subject, cost.trip, "cost.entered", &row->day, sentence, error)
         && sw_act_commit (&act, sentence, error);
}
