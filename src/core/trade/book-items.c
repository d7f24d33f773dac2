/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What rows mean by their cells: items, lots, parts of a count, outlets, deals; and the steps of
 * items that the rows tell. */
#include "core/trade/book-private.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/steps.h"

#define LOT_MARK " + "

/* --- items --- */

static gboolean
find_item (SwBook *book, const char *cell, gint64 *out_number, GError **error)
{
  g_autoptr (SwItem) item = sw_item_find (book->catalogue, cell, error);
  if (item == NULL)
    return FALSE;
  *out_number = item->id;
  return TRUE;
}

static int
compare_numbers (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *)a, y = *(const gint64 *)b;
  return x < y ? -1 : x > y;
}

static gboolean
find_lot (SwBook *book, const char *cell, GArray *numbers, GError **error)
{
  g_auto (GStrv) names = g_strsplit (cell, LOT_MARK, -1);
  for (guint i = 0; names[i] != NULL; i++)
    {
      gint64 number = 0;
      if (!find_item (book, g_strstrip (names[i]), &number, error))
        return FALSE;
      for (guint k = 0; k < numbers->len; k++)
        if (g_array_index (numbers, gint64, k) == number)
          return sw_book_refuse (error, _ ("Item %" PRId64 " stands in the lot twice."), number);
      g_array_append_val (numbers, number);
    }
  g_array_sort (numbers, compare_numbers);
  return TRUE;
}

GArray *
sw_book_find_items (SwBook *book, const char *cell, GError **error)
{
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  gint64 whole = 0;
  if (strstr (cell, LOT_MARK) == NULL)
    {
      if (!find_item (book, cell, &whole, error))
        return NULL;
      g_array_append_val (numbers, whole);
      return g_steal_pointer (&numbers);
    }
  /* A name may hold a plus itself. */
  g_autoptr (GError) no_lot = NULL;
  gboolean is_lot = find_lot (book, cell, numbers, &no_lot);
  if (!find_item (book, cell, &whole, NULL))
    {
      if (is_lot)
        return g_steal_pointer (&numbers);
      g_propagate_error (error, g_steal_pointer (&no_lot));
      return NULL;
    }
  if (is_lot)
    {
      g_autofree char *shown = sw_text_quote (cell);
      sw_book_refuse (
          error, _ ("%s is the name of an item and could be a lot too; give the numbers."), shown);
      return NULL;
    }
  g_array_set_size (numbers, 0);
  g_array_append_val (numbers, whole);
  return g_steal_pointer (&numbers);
}

gboolean
sw_book_split_count (SwBook *book, SwRow *row, GError **error)
{
  row->split = TRUE;
  gint64 count = row->value[SW_COLUMN_COUNT];
  g_autoptr (GArray) numbers = sw_book_find_items (book, row->text[SW_COLUMN_ITEM], error);
  if (numbers == NULL)
    return FALSE;
  if (numbers->len > 1)
    return sw_book_refuse (error, _ ("A lot takes its items whole; leave the count empty."));
  gint64 number = g_array_index (numbers, gint64, 0);
  g_autoptr (SwItem) item = sw_item_get (book->catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (count > item->count)
    return sw_book_refuse (error,
                           _ ("Of %s only %" PRId64 " are left; %" PRId64 " cannot be taken."),
                           item->name, item->count, count);
  row->part = number;
  return count == item->count || sw_item_split (book->catalogue, number, count, &row->part, error);
}

GArray *
sw_book_row_items (SwBook *book, SwRow *row, GError **error)
{
  if (row->part == 0)
    return sw_book_find_items (book, row->text[SW_COLUMN_ITEM], error);
  GArray *numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_val (numbers, row->part);
  return numbers;
}

static void
clear_deal_item (gpointer data)
{
  g_free (((SwDealItem *)data)->name);
}

/* Where a withdrawal leads back to: what the item was before its first running offer. */
static gboolean
find_before (SwBook *book, const SwItem *item, SwState *out_before, GError **error)
{
  *out_before = item->state;
  if (item->state != SW_STATE_ON_OFFER)
    return TRUE;
  g_autoptr (GArray) running = sw_deal_running (book->catalogue, item->id, error);
  if (running == NULL)
    return FALSE;
  if (running->len == 0)
    return TRUE;
  g_autoptr (GArray) others
      = sw_deal_items (book->catalogue, g_array_index (running, gint64, 0), error);
  if (others == NULL)
    return FALSE;
  for (guint i = 0; i < others->len; i++)
    if (g_array_index (others, SwDealItem, i).item == item->id)
      *out_before = g_array_index (others, SwDealItem, i).before;
  return TRUE;
}

GArray *
sw_book_deal_items (SwBook *book, const GArray *numbers, GError **error)
{
  g_autoptr (GArray) items = g_array_new (FALSE, TRUE, sizeof (SwDealItem));
  g_array_set_clear_func (items, clear_deal_item);
  for (guint i = 0; i < numbers->len; i++)
    {
      g_autoptr (SwItem) item
          = sw_item_get (book->catalogue, g_array_index (numbers, gint64, i), error);
      SwDealItem row = { 0 };
      if (item == NULL || !find_before (book, item, &row.before, error))
        return NULL;
      row.item = item->id;
      row.state = item->state;
      row.name = g_strdup (item->name);
      g_array_append_val (items, row);
    }
  return g_steal_pointer (&items);
}

char *
sw_book_item_names (const GArray *deal_items)
{
  GString *names = g_string_new (NULL);
  for (guint i = 0; i < deal_items->len; i++)
    {
      if (i == 3)
        {
          g_string_append_printf (names, _ (" and %u more"), deal_items->len - i);
          break;
        }
      g_string_append_printf (names, "%s%s", i > 0 ? LOT_MARK : "",
                              g_array_index (deal_items, SwDealItem, i).name);
    }
  return g_string_free (names, FALSE);
}

gboolean
sw_book_walk (SwBook *book, gint64 item, SwState state, SwDay day, GError **error)
{
  SwStepOptions options = { .day = &day, .by_books = TRUE };
  g_autofree char *remark = NULL;
  if (!sw_item_walk_to (book->catalogue, item, state, &options, NULL, &remark, error))
    return FALSE;
  if (remark != NULL)
    sw_book_remark (book, book->line, remark);
  return TRUE;
}

/* --- outlets and deals --- */

gboolean
sw_book_find_outlet (SwBook *book, SwRow *row, SwOutlet **out_outlet, GError **error)
{
  const char *name = row->text[SW_COLUMN_OUTLET];
  g_autofree char *shown = sw_text_quote (name);
  if (!sw_outlet_find (book->catalogue, name, out_outlet, error))
    return FALSE;
  if (*out_outlet != NULL)
    return TRUE;
  return sw_book_refuse (error, _ ("There is no outlet %s; declare it in a row of 'outlet'."),
                         shown);
}

gboolean
sw_book_check_new (SwBook *book, const SwRow *row, GError **error)
{
  const char *ref = row->text[SW_COLUMN_REF];
  g_autoptr (SwDeal) known = NULL;
  if (!sw_deal_find (book->catalogue, ref, &known, error))
    return FALSE;
  if (known == NULL)
    return TRUE;
  g_autofree char *shown = sw_text_quote (ref);
  return sw_book_refuse (
      error,
      _ ("%s is booked already as %s, and this row says something else; give it another ref."),
      shown, _ (sw_deal_kind_word (known->kind)));
}

SwDeal *
sw_book_find_deal (SwBook *book, const SwRow *row, GError **error)
{
  const char *ref = row->text[SW_COLUMN_REF];
  SwDeal *deal = NULL;
  if (!sw_deal_find (book->catalogue, ref, &deal, error))
    return NULL;
  if (deal == NULL)
    {
      g_autofree char *shown = sw_text_quote (ref);
      sw_book_refuse (error, _ ("There is no offer, sale or docket with the ref %s."), shown);
    }
  return deal;
}

SwDeal *
sw_book_find_sale (SwBook *book, const SwRow *row, GError **error)
{
  g_autoptr (SwDeal) deal = sw_book_find_deal (book, row, error);
  if (deal == NULL)
    return NULL;
  g_autofree char *shown = sw_text_quote (deal->ref);
  if (deal->kind == SW_DEAL_DOCKET)
    {
      sw_book_refuse (error,
                      _ ("%s is a docket, which is paid and collected on its day; it takes no %s."),
                      shown, _ (sw_row_kind_word (row->kind)));
      return NULL;
    }
  if (deal->result != SW_RESULT_SOLD)
    {
      sw_book_refuse (error, _ ("%s was not sold: its result is %s; it takes no %s."), shown,
                      deal->result == SW_RESULT_RUNNING ? _ ("not there yet")
                                                        : _ (sw_result_word (deal->result)),
                      _ (sw_row_kind_word (row->kind)));
      return NULL;
    }
  return g_steal_pointer (&deal);
}

gboolean
sw_book_tell (SwBook *book, SwAct *act, gint64 deal, const char *verb, SwDay day,
              const char *sentence, GError **error)
{
  g_autofree char *remarked
      = book->row_remark != NULL ? g_strdup_printf ("%s (%s)", sentence, book->row_remark) : NULL;
  return sw_act_tell (act, SW_SUBJECT_OFFER, deal, verb, &day,
                      remarked != NULL ? remarked : sentence, error);
}
