/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items by place, trip, state and what they lack, in the order that is asked for: their numbers
 * first, which costs little, then the rows of those that are looked at. */
#include "core/catalogue/items-private.h"

#include <string.h>

#include "core/catalogue/places.h"
#include "core/catalogue/ready.h"
#include "core/catalogue/search.h"

/* An item as the list knows it before its row is read. */
typedef struct
{
  gint64 id;
  char *letters; /* what it is ordered by, ready to be compared; NULL: by number */
  gint64 number;
  gboolean is_missing; /* the number */
} Listed;

/* In the order of SwItemOrder, as the statement knows them. */
static const char *const order_keys[SW_N_ITEM_ORDERS]
    = { "", "state", "name", "place", "count", "asking", "mass", "trip" };

static void
listed_clear (gpointer data)
{
  g_free (((Listed *)data)->letters);
}

static SwState
state_of (const char *key)
{
  SwState state = SW_STATE_FOUND; /* a foreign word, as read_states has it */

  if (key != NULL)
    sw_state_from_key (key, &state);
  return state;
}

static Listed
listed_from_row (const SwUse *use, SwItemOrder order)
{
  Listed listed = { .id = sw_col_int (use, 0) };
  g_autofree char *text = NULL;

  if (order == SW_ITEMS_BY_NUMBER)
    return listed;
  text = sw_col_text (use, 1);
  listed.is_missing = text == NULL && sw_col_is_null (use, 2);
  if (order == SW_ITEMS_BY_STATE)
    listed.number = state_of (text);
  else if (text != NULL)
    listed.letters = g_utf8_collate_key (text, -1);
  else
    listed.number = sw_col_int (use, 2);
  return listed;
}

/* What is missing comes last either way; ties by number. */
static int
compare_listed (gconstpointer left, gconstpointer right, gpointer data)
{
  const Listed *a = left, *b = right;
  const SwItemFilter *filter = data;
  int found;

  if (a->is_missing != b->is_missing)
    return a->is_missing - b->is_missing;
  found = a->letters != NULL && b->letters != NULL
              ? strcmp (a->letters, b->letters)
              : (a->number > b->number) - (a->number < b->number);
  if (found == 0)
    found = (a->id > b->id) - (a->id < b->id);
  return filter->descending ? -found : found;
}

static SwUse
use_numbers (SwCatalogue *catalogue, const SwItemFilter *filter, const char *inside,
             const char *query)
{
  const char *state = filter->state != NULL ? sw_state_key (*filter->state) : NULL;
  const SwMoney *least = filter->asking_least, *most = filter->asking_most;
  const SwMass *light = filter->mass_least, *heavy = filter->mass_most;
  gint64 all = G_MININT64; /* an asking price or a mass that is there at all is above it */

  return sw_db_use (
      catalogue, query != NULL ? SW_STMT_ITEM_NUMBERS_FOUND : SW_STMT_ITEM_NUMBERS,
      query != NULL ? "iititiitiIIIIt" : "iititiitiIIII", filter->place, (gint64)(inside != NULL),
      inside, filter->trip, state, filter->outlet, filter->lot, order_keys[filter->order],
      (gint64)filter->needs, least != NULL, least != NULL ? least->minor : all, most != NULL,
      most != NULL ? most->minor : all, light != NULL, light != NULL ? light->ug : all,
      heavy != NULL, heavy != NULL ? heavy->ug : all, query);
}

static gboolean
is_wanted (const SwUse *use, const SwItemFilter *filter)
{
  g_autofree char *state = NULL;

  if ((filter->needs & SW_ITEM_TO_BE_PRICED) == 0)
    return TRUE;
  state = sw_col_text (use, 3);
  return sw_state_stands (state_of (state));
}

/* GArray of Listed, by number. */
static GArray *
list_numbers (SwCatalogue *catalogue, const SwItemFilter *filter, const char *inside,
              const char *query, GError **error)
{
  g_autoptr (GArray) listed = g_array_new (FALSE, FALSE, sizeof (Listed));
  g_auto (SwUse) use = use_numbers (catalogue, filter, inside, query);
  gboolean ok = TRUE;

  g_array_set_clear_func (listed, listed_clear);
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      if (is_wanted (&use, filter))
        {
          Listed one = listed_from_row (&use, filter->order);
          g_array_append_val (listed, one);
        }
    }
  return ok ? g_steal_pointer (&listed) : NULL;
}

static const SwItemFilter all_items = { 0 };

GArray *
sw_item_numbers (SwCatalogue *catalogue, const SwItemFilter *filter, GError **error)
{
  g_autofree char *inside = NULL, *query = NULL;
  g_autoptr (GArray) listed = NULL;
  GArray *numbers;

  if (filter == NULL)
    filter = &all_items;
  if (filter->place != 0 && filter->places_inside)
    {
      g_autoptr (SwPlace) place = sw_place_get (catalogue, filter->place, error);
      if (place == NULL)
        return NULL;
      inside = g_strconcat (place->path, " > ", NULL);
    }
  query = sw_search_query (filter->search);
  listed = list_numbers (catalogue, filter, inside, query, error);
  if (listed == NULL)
    return NULL;
  if (filter->order != SW_ITEMS_BY_NUMBER || filter->descending)
    g_array_sort_with_data (listed, compare_listed, (gpointer)filter);
  numbers = g_array_sized_new (FALSE, FALSE, sizeof (gint64), listed->len);
  for (guint i = 0; i < listed->len; i++)
    g_array_append_val (numbers, g_array_index (listed, Listed, i).id);
  return numbers;
}

/* "[3,1,2]", which one statement goes through in this order. */
static char *
as_text (const gint64 *numbers, guint n)
{
  GString *text = g_string_sized_new (8 * (gsize)n + 2);

  for (guint i = 0; i < n; i++)
    g_string_append_printf (text, "%c%" G_GINT64_FORMAT, i == 0 ? '[' : ',', numbers[i]);
  g_string_append (text, n == 0 ? "[]" : "]");
  return g_string_free (text, FALSE);
}

GPtrArray *
sw_item_rows (SwCatalogue *catalogue, const gint64 *numbers, guint n, GError **error)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_full (n, (GDestroyNotify)sw_item_free);
  g_autofree char *wanted = as_text (numbers, n);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_ROWS, "t", wanted);

  for (;;)
    {
      gboolean row = FALSE;

      if (!sw_db_step (catalogue, &use, &row, error))
        return NULL;
      /* what is gone has no row: those before the next one that has */
      for (gint64 id = row ? sw_col_int (&use, 0) : 0; items->len < n && numbers[items->len] != id;)
        g_ptr_array_add (items, NULL);
      if (!row)
        return g_steal_pointer (&items);
      g_ptr_array_add (items, sw_item_from_row (&use));
    }
}

GPtrArray *
sw_item_list (SwCatalogue *catalogue, const SwItemFilter *filter, GError **error)
{
  g_autoptr (GArray) numbers = sw_item_numbers (catalogue, filter, error);
  g_autoptr (GPtrArray) rows = NULL;
  GPtrArray *items;

  if (numbers == NULL)
    return NULL;
  rows
      = sw_item_rows (catalogue, (const gint64 *)(gconstpointer)numbers->data, numbers->len, error);
  if (rows == NULL)
    return NULL;
  /* another program may have taken one away in between */
  items = g_ptr_array_new_full (rows->len, (GDestroyNotify)sw_item_free);
  for (guint i = 0; i < rows->len; i++)
    if (g_ptr_array_index (rows, i) != NULL)
      g_ptr_array_add (items, g_steal_pointer (&g_ptr_array_index (rows, i)));
  return items;
}

gboolean
sw_item_count_standing (SwCatalogue *catalogue, gint64 *out_n, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_STATES, "");
  gboolean ok = TRUE;

  *out_n = 0;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      g_autofree char *key = sw_col_text (&use, 0);

      if (sw_state_stands (state_of (key)))
        *out_n += sw_col_int (&use, 1);
    }
  return ok;
}
