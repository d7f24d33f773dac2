/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adds the postings up. One pass over the covering index; what each posting is credited to is
 * looked up in arrays by number. The three views differ in one function, credit_of. */
#include "core/trade/takings-private.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/places.h"
#include "core/catalogue/postings.h"
#include "core/catalogue/trips.h"

#define AS_CREDIT_WORD(tag, word) [SW_CREDIT_##tag] = word,
static const char *const credit_words[SW_N_CREDITS] = { SW_CREDITS (AS_CREDIT_WORD) };

#define AS_GROUPING_WORD(tag, word) [SW_BY_##tag] = word,
static const char *const grouping_words[SW_N_GROUPINGS] = { SW_GROUPINGS (AS_GROUPING_WORD) };

const char *
sw_credit_word (SwCredit credit)
{
  g_return_val_if_fail (credit >= 0 && credit < SW_N_CREDITS, "");
  return credit_words[credit];
}

const char *
sw_grouping_word (SwGrouping grouping)
{
  g_return_val_if_fail (grouping >= 0 && grouping < SW_N_GROUPINGS, "");
  return grouping_words[grouping];
}

const char *
sw_grouping_none (SwGrouping grouping)
{
  static const char *const none[SW_N_GROUPINGS]
      = { N_ ("No trip"), N_ ("No place"), N_ ("No outlet"), N_ ("No month"), N_ ("No round") };
  g_return_val_if_fail (grouping >= 0 && grouping < SW_N_GROUPINGS, "");
  return none[grouping];
}

static int
find_word (const char *const *words, int n, const char *word)
{
  for (int i = 0; i < n; i++)
    if (strcmp (words[i], word) == 0)
      return i;
  return -1;
}

gboolean
sw_credit_parse (const char *word, SwCredit *out_credit)
{
  int found = find_word (credit_words, SW_N_CREDITS, word);
  if (found >= 0)
    *out_credit = (SwCredit)found;
  return found >= 0;
}

gboolean
sw_grouping_parse (const char *word, SwGrouping *out_grouping)
{
  int found = find_word (grouping_words, SW_N_GROUPINGS, word);
  if (found >= 0)
    *out_grouping = (SwGrouping)found;
  return found >= 0;
}

static void
row_free (gpointer data)
{
  SwTakingsRow *row = data;
  g_free (row->key);
  g_free (row);
}

void
sw_takings_clear (SwTakings *takings)
{
  g_clear_pointer (&takings->rows, g_ptr_array_unref);
}

/* --- adding --- */

/* Both arrays are sorted by their first field; numbers are never used again, so the guess of a
 * gapless list is nearly always right. */
static gconstpointer
by_number (const GArray *array, gint64 number)
{
  gsize size = g_array_get_element_size ((GArray *)array);
  guint low = 0, high = array->len;
  if (number >= 1 && number <= array->len
      && *(const gint64 *)(gconstpointer)(array->data + (gsize)(number - 1) * size) == number)
    return array->data + (gsize)(number - 1) * size;
  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      gint64 at = *(const gint64 *)(gconstpointer)(array->data + middle * size);
      if (at == number)
        return array->data + middle * size;
      if (at < number)
        low = middle + 1;
      else
        high = middle;
    }
  return NULL;
}

static gint64
period (const SwTakingsAdding *adding, SwDay day)
{
  if (adding->trips->len == 0)
    return SW_KEY_NONE;
  gint64 trip = sw_trip_period (adding->trips, day);
  return trip != 0 ? trip : SW_KEY_BEFORE;
}

static gint64
found_with (const SwTakingsAdding *adding, const SwPosting *posting)
{
  if (posting->item == 0)
    return period (adding, posting->day); /* loose scrap was found by nobody */
  const SwCreditItem *item = by_number (adding->items, posting->item);
  return item != NULL ? item->trip : SW_KEY_NONE;
}

/* What belongs to a sale stands where the sale stands: where it was collected, or waiting. A
 * reversal stands on its own day, but waits where nothing of its ref was ever collected. */
static gint64
handed_over_in (const SwTakingsAdding *adding, const SwPosting *posting, const SwCreditDeal *deal)
{
  if (deal == NULL || !deal->sold)
    return period (adding, posting->day);
  if (!deal->has_collected)
    return SW_KEY_WAITING;
  return period (adding, posting->kind == SW_POSTING_REVERSAL ? posting->day : deal->collected);
}

static gint64
credit_of (const SwTakingsAdding *adding, const SwPosting *posting, const SwCreditDeal *deal)
{
  switch (adding->credit)
    {
    case SW_CREDIT_FOUND:
      return found_with (adding, posting);
    case SW_CREDIT_SOLD:
      return period (adding, posting->day);
    case SW_CREDIT_HANDED_OVER:
      return handed_over_in (adding, posting, deal);
    case SW_N_CREDITS:
      break;
    }
  return SW_KEY_NONE;
}

static gint64
month_key (SwDay day)
{
  int year, month;
  sw_day_to_ymd (day, &year, &month, NULL);
  return (gint64)year * 12 + month - 1;
}

/* The month of the day that the view counts by. */
static gint64
month_of (const SwTakingsAdding *adding, const SwPosting *posting, const SwCreditDeal *deal)
{
  if (adding->credit != SW_CREDIT_HANDED_OVER || deal == NULL || !deal->sold)
    return month_key (posting->day);
  if (!deal->has_collected)
    return SW_KEY_WAITING;
  return month_key (posting->kind == SW_POSTING_REVERSAL ? posting->day : deal->collected);
}

static gint64
place_of (const SwTakingsAdding *adding, const SwPosting *posting)
{
  if (posting->item == 0)
    return posting->place;
  const SwCreditItem *item = by_number (adding->items, posting->item);
  return item != NULL ? item->place : SW_KEY_NONE;
}

gint64
sw_takings_key_of (const SwTakingsAdding *adding, const SwPosting *posting)
{
  const SwCreditDeal *deal = by_number (adding->deals, posting->deal);
  switch (adding->grouping)
    {
    case SW_BY_TRIP:
      return credit_of (adding, posting, deal);
    case SW_BY_PLACE:
      return place_of (adding, posting);
    case SW_BY_OUTLET:
      return deal != NULL ? deal->outlet : SW_KEY_NONE;
    case SW_BY_MONTH:
      return month_of (adding, posting, deal);
    case SW_BY_ROUND:
      return deal != NULL ? deal->round : SW_KEY_NONE;
    case SW_N_GROUPINGS:
      break;
    }
  return SW_KEY_NONE;
}

gint64
sw_takings_cost_key (const SwTakingsAdding *adding, const SwCost *cost)
{
  return adding->grouping == SW_BY_TRIP    ? cost->trip
         : adding->grouping == SW_BY_MONTH ? month_key (cost->day)
                                           : SW_KEY_NONE;
}

static SwTakingsRow *
row_for (SwTakingsAdding *adding, gint64 key)
{
  guint at = (guint)(key - SW_KEY_LEAST);
  if (at >= adding->rows->len)
    g_ptr_array_set_size (adding->rows, (gint)at + 1);
  SwTakingsRow *row = g_ptr_array_index (adding->rows, at);
  if (row == NULL)
    row = g_ptr_array_index (adding->rows, at) = g_new0 (SwTakingsRow, 1);
  return row;
}

static void
add (SwTakingsAdding *adding, SwMoney *sum, gint64 minor)
{
  if (__builtin_add_overflow (sum->minor, minor, &sum->minor))
    adding->overflow = TRUE;
}

void
sw_takings_add (SwTakingsAdding *adding, const SwPosting *posting, SwMoney *proceeds, SwMoney *fees,
                SwMoney *owed)
{
  switch (posting->kind)
    {
    case SW_POSTING_PRICE:
    case SW_POSTING_DELIVERY:
    case SW_POSTING_REVERSAL:
      add (adding, proceeds, posting->minor);
      break;
    case SW_POSTING_FEE:
      add (adding, fees, posting->minor);
      break;
    case SW_POSTING_OWED:
      add (adding, owed, posting->minor);
      break;
    case SW_N_POSTING_KINDS:
      break;
    }
}

static void
add_posting (const SwPosting *posting, gpointer data)
{
  SwTakingsAdding *adding = data;
  SwTakingsRow *row = row_for (adding, sw_takings_key_of (adding, posting));
  sw_takings_add (adding, posting, &row->proceeds, &row->fees, &row->owed);
}

static gboolean
add_costs (SwCatalogue *catalogue, SwTakingsAdding *adding, GError **error)
{
  g_autoptr (GPtrArray) costs = sw_cost_list (catalogue, error);
  if (costs == NULL)
    return FALSE;
  for (guint i = 0; i < costs->len; i++)
    {
      const SwCost *cost = g_ptr_array_index (costs, i);
      add (adding, &row_for (adding, sw_takings_cost_key (adding, cost))->costs,
           cost->amount.minor);
    }
  return TRUE;
}

/* --- rows in order --- */

static gboolean
is_empty (const SwTakingsRow *row)
{
  return row->proceeds.minor == 0 && row->fees.minor == 0 && row->costs.minor == 0
         && row->owed.minor == 0;
}

static char *
place_key (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  return place != NULL ? g_strdup (place->path) : NULL;
}

static char *
outlet_key (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);
  for (guint i = 0; outlets != NULL && i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);
      if (outlet->id == id)
        return g_strdup (outlet->name);
    }
  if (outlets != NULL)
    g_set_error_literal (error, SW_ERROR, SW_ERROR_DAMAGED,
                         _ ("A sale speaks of an outlet that is not there; run check."));
  return NULL;
}

char *
sw_takings_key_text (SwCatalogue *catalogue, SwGrouping grouping, gint64 key, GError **error)
{
  switch (key)
    {
    case SW_KEY_BEFORE:
      return g_strdup ("before");
    case SW_KEY_NONE:
      return g_strdup ("none");
    case SW_KEY_WAITING:
      return g_strdup ("waiting");
    default:
      break;
    }
  if (grouping == SW_BY_PLACE)
    return place_key (catalogue, key, error);
  if (grouping == SW_BY_OUTLET)
    return outlet_key (catalogue, key, error);
  if (grouping == SW_BY_ROUND)
    return sw_round_title (catalogue, key, error);
  if (grouping == SW_BY_MONTH)
    return g_strdup_printf ("%04d-%02d", (int)(key / 12), (int)(key % 12) + 1);
  return g_strdup_printf ("%" G_GINT64_FORMAT, key);
}

typedef struct
{
  gint64 key;
  SwTakingsRow *row;
} Keyed;

/* before, trips by number, none, waiting; names in byte order, none last. */
static int
class_of (gint64 key)
{
  return key == SW_KEY_BEFORE ? 0 : key > 0 ? 1 : key == SW_KEY_NONE ? 2 : 3;
}

static int
compare_keyed (gconstpointer a, gconstpointer b, gpointer data)
{
  const Keyed *x = a, *y = b;
  SwGrouping grouping = *(const SwGrouping *)data;
  if (class_of (x->key) != class_of (y->key))
    return class_of (x->key) - class_of (y->key);
  if (grouping != SW_BY_TRIP)
    return strcmp (x->row->key, y->row->key);
  return x->key < y->key ? -1 : x->key > y->key;
}

static gboolean
take_row (SwCatalogue *catalogue, const SwTakingsAdding *adding, gint64 key,
          const SwTakingsRow *sums, GArray *keyed, GError **error)
{
  g_autofree char *text = sw_takings_key_text (catalogue, adding->grouping, key, error);
  if (text == NULL)
    return FALSE;
  Keyed entry = { key, g_memdup2 (sums, sizeof *sums) };
  entry.row->key = g_steal_pointer (&text);
  entry.row->trip = adding->grouping == SW_BY_TRIP && key > 0 ? key : 0;
  entry.row->number = adding->grouping != SW_BY_MONTH && key > 0 ? key : 0;
  g_array_append_val (keyed, entry);
  return sw_money_sub (sums->proceeds, sums->fees, &entry.row->takings, error);
}

static gboolean
add_total (SwTakingsRow *total, const SwTakingsRow *row, GError **error)
{
  return sw_money_add (total->proceeds, row->proceeds, &total->proceeds, error)
         && sw_money_add (total->fees, row->fees, &total->fees, error)
         && sw_money_add (total->takings, row->takings, &total->takings, error)
         && sw_money_add (total->costs, row->costs, &total->costs, error)
         && sw_money_add (total->owed, row->owed, &total->owed, error);
}

static void
clear_keyed (gpointer data)
{
  Keyed *keyed = data;
  if (keyed->row != NULL)
    row_free (keyed->row);
}

static gboolean
sort_rows (SwCatalogue *catalogue, SwTakingsAdding *adding, SwTakings *out_takings, GError **error)
{
  g_autoptr (GArray) keyed = g_array_new (FALSE, FALSE, sizeof (Keyed));
  g_array_set_clear_func (keyed, clear_keyed);
  for (guint i = 0; i < adding->rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (adding->rows, i);
      if (row != NULL && !is_empty (row)
          && !take_row (catalogue, adding, (gint64)i + SW_KEY_LEAST, row, keyed, error))
        return FALSE;
    }
  g_array_sort_with_data (keyed, compare_keyed, &adding->grouping);
  SwTakingsRow total = { 0 };
  for (guint i = 0; i < keyed->len; i++)
    {
      SwTakingsRow *row = g_array_index (keyed, Keyed, i).row;
      if (!add_total (&total, row, error))
        return FALSE;
      row->running = total.takings;
    }
  total.running = total.takings;
  out_takings->rows = g_ptr_array_new_with_free_func (row_free);
  for (guint i = 0; i < keyed->len; i++)
    g_ptr_array_add (out_takings->rows, g_steal_pointer (&g_array_index (keyed, Keyed, i).row));
  out_takings->total = total;
  return TRUE;
}

void
sw_takings_adding_clear (SwTakingsAdding *adding)
{
  g_clear_pointer (&adding->trips, g_ptr_array_unref);
  g_clear_pointer (&adding->items, g_array_unref);
  g_clear_pointer (&adding->deals, g_array_unref);
  g_clear_pointer (&adding->rows, g_ptr_array_unref);
}

gboolean
sw_takings_adding_start (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping,
                         SwTakingsAdding *adding, GError **error)
{
  adding->credit = credit;
  adding->grouping = grouping;
  adding->trips = sw_trip_list (catalogue, error);
  adding->items = adding->trips != NULL ? sw_credit_items (catalogue, error) : NULL;
  adding->deals = adding->items != NULL ? sw_credit_deals (catalogue, error) : NULL;
  adding->rows = g_ptr_array_new_with_free_func (g_free);
  return adding->deals != NULL;
}

gboolean
sw_takings_refuse_overflow (const SwTakingsAdding *adding, GError **error)
{
  if (!adding->overflow)
    return TRUE;
  g_set_error_literal (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("The takings grow too large to be added up; look for a figure with too many digits."));
  return FALSE;
}

gboolean
sw_takings_read (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping,
                 SwTakings *out_takings, GError **error)
{
  g_auto (SwTakingsAdding) adding = { 0 };
  if (!sw_takings_adding_start (catalogue, credit, grouping, &adding, error))
    return FALSE;
  if (!sw_posting_each (catalogue, add_posting, &adding, error)
      || !add_costs (catalogue, &adding, error))
    return FALSE;
  if (!sw_takings_refuse_overflow (&adding, error))
    return FALSE;
  return sort_rows (catalogue, &adding, out_takings, error);
}
