/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items by place, trip, state and what they lack, in the order that is asked for. */
#include "core/catalogue/items-private.h"

#include "core/catalogue/places.h"
#include "core/catalogue/ready.h"
#include "core/catalogue/search.h"

static gboolean
within (gboolean has, gint64 value, const gint64 *least, const gint64 *most)
{
  if (least == NULL && most == NULL)
    return TRUE;
  return has && (least == NULL || value >= *least) && (most == NULL || value <= *most);
}

static guint
needs_met (const SwItem *item)
{
  gboolean stands = sw_state_stands (item->state);
  gboolean sized = item->size != SW_SIZE_UNKNOWN || item->length_mm != 0 || item->width_mm != 0
                   || item->height_mm != 0;
  return (item->n_dangers > 0 ? SW_ITEM_WITH_DANGER : 0u)
         | (item->n_questions > 0 ? SW_ITEM_WITH_QUESTION : 0u)
         | (item->n_jobs > 0 ? SW_ITEM_WITH_JOB : 0u)
         | (stands && !item->has_asking ? SW_ITEM_TO_BE_PRICED : 0u)
         | (item->n_photos == 0 ? SW_ITEM_WITHOUT_PHOTO : 0u) | (!sized ? SW_ITEM_WITHOUT_SIZE : 0u)
         | (item->claim != SW_CLAIM_NONE ? SW_ITEM_WITH_CLAIM : 0u)
         | (item->waits == SW_WAITS_LATER ? SW_ITEM_LATER : 0u);
}

static gboolean
is_listed (const SwItem *item, const SwItemFilter *filter)
{
  return (needs_met (item) & filter->needs) == filter->needs
         && within (item->has_asking, item->asking.minor,
                    filter->asking_least != NULL ? &filter->asking_least->minor : NULL,
                    filter->asking_most != NULL ? &filter->asking_most->minor : NULL)
         && within (item->has_mass, item->mass.ug,
                    filter->mass_least != NULL ? &filter->mass_least->ug : NULL,
                    filter->mass_most != NULL ? &filter->mass_most->ug : NULL);
}

static int
compare_numbers (gint64 a, gint64 b)
{
  return a < b ? -1 : a > b;
}

/* What is missing comes last either way: *out_last says so. */
static int
compare_by (const SwItem *a, const SwItem *b, SwItemOrder order, gboolean *out_last)
{
  *out_last = FALSE;
  switch (order)
    {
    case SW_ITEMS_BY_STATE:
      return compare_numbers (a->state, b->state);
    case SW_ITEMS_BY_NAME:
      return g_utf8_collate (a->name, b->name);
    case SW_ITEMS_BY_PLACE:
      return g_utf8_collate (a->place_path, b->place_path);
    case SW_ITEMS_BY_COUNT:
      return compare_numbers (a->count, b->count);
    case SW_ITEMS_BY_ASKING:
      *out_last = a->has_asking != b->has_asking;
      return *out_last ? b->has_asking - a->has_asking
                       : compare_numbers (a->asking.minor, b->asking.minor);
    case SW_ITEMS_BY_MASS:
      *out_last = a->has_mass != b->has_mass;
      return *out_last ? b->has_mass - a->has_mass : compare_numbers (a->mass.ug, b->mass.ug);
    case SW_ITEMS_BY_TRIP:
      *out_last = (a->trip == 0) != (b->trip == 0);
      return *out_last ? (a->trip == 0) - (b->trip == 0) : compare_numbers (a->trip, b->trip);
    default:
      return 0;
    }
}

static int
compare_items (gconstpointer left, gconstpointer right, gpointer data)
{
  const SwItem *a = *(SwItem *const *)left, *b = *(SwItem *const *)right;
  const SwItemFilter *filter = data;
  gboolean last = FALSE;
  int found = compare_by (a, b, filter->order, &last);
  if (found == 0)
    found = compare_numbers (a->id, b->id);
  return filter->descending && !last ? -found : found;
}

static GPtrArray *
list_rows (SwCatalogue *catalogue, const SwItemFilter *filter, const char *inside,
           const char *query, GError **error)
{
  g_autoptr (GPtrArray) items = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_item_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_LIST, "iitittii", filter->place,
                                  (gint64)(inside != NULL), inside, filter->trip,
                                  filter->state != NULL ? sw_state_key (*filter->state) : NULL,
                                  query, filter->outlet, filter->lot);
  for (;;)
    {
      gboolean row = FALSE;
      if (!sw_db_step (catalogue, &use, &row, error))
        return NULL;
      if (!row)
        return g_steal_pointer (&items);
      g_autoptr (SwItem) item = sw_item_from_row (&use);
      if (is_listed (item, filter))
        g_ptr_array_add (items, g_steal_pointer (&item));
    }
}

GPtrArray *
sw_item_list (SwCatalogue *catalogue, const SwItemFilter *filter, GError **error)
{
  static const SwItemFilter all = { 0 };
  if (filter == NULL)
    filter = &all;
  g_autofree char *inside = NULL;
  if (filter->place != 0 && filter->places_inside)
    {
      g_autoptr (SwPlace) place = sw_place_get (catalogue, filter->place, error);
      if (place == NULL)
        return NULL;
      inside = g_strconcat (place->path, " > ", NULL);
    }
  g_autofree char *query = sw_search_query (filter->search);
  g_autoptr (GPtrArray) items = list_rows (catalogue, filter, inside, query, error);
  if (items != NULL && (filter->order != SW_ITEMS_BY_NUMBER || filter->descending))
    g_ptr_array_sort_with_data (items, compare_items, (gpointer)filter);
  return g_steal_pointer (&items);
}

gboolean
sw_item_count_standing (SwCatalogue *catalogue, gint64 *out_n, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ITEM_STATES, "");
  gboolean row = FALSE;

  *out_n = 0;
  while (sw_db_step (catalogue, &use, &row, error))
    {
      g_autofree char *key = row ? sw_col_text (&use, 0) : NULL;
      SwState state = SW_STATE_FOUND; /* a foreign word, as read_states has it */

      if (!row)
        return TRUE;
      sw_state_from_key (key, &state);
      if (sw_state_stands (state))
        *out_n += sw_col_int (&use, 1);
    }
  return FALSE;
}
