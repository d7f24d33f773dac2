/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items as rows. A row's face is made when it comes into view, so 10,000 items cost nothing until
 * then. */
#include "app/item-rows.h"

#include "app/text.h"
#include "core/trade/scrap.h"

typedef struct
{
  SwStore *store;
  SwItemList *list;
  gboolean with_place;
} Data;

static void
data_free (gpointer data)
{
  Data *self = data;
  g_object_unref (self->store);
  sw_item_list_unref (self->list);
  g_free (self);
}

static SwRowKind
kind (gpointer data, guint i)
{
  return SW_ROW_ITEM;
}

static gint64
key (gpointer data, guint i)
{
  const SwItem *item = g_ptr_array_index (((Data *)data)->list->items, i);
  return item->id;
}

/* ", danger, 2 questions": what still wants care. */
static void
add_flags (GString *text, const SwItem *item)
{
  g_autofree char *questions = sw_text_count (item->n_questions, "%d question", "%d questions");
  g_autofree char *jobs = sw_text_count (item->n_jobs, "%d job", "%d jobs");

  if (item->never_offer)
    g_string_append (text, _ (", not cleared"));
  if (item->n_dangers > 0)
    g_string_append (text, _ (", danger"));
  if (item->clash)
    g_string_append (text, _ (", two claims"));
  else if (item->claim != SW_CLAIM_NONE)
    g_string_append (text, _ (", claim"));
  if (item->n_questions > 0)
    g_string_append_printf (text, ", %s", questions);
  if (item->n_jobs > 0)
    g_string_append_printf (text, ", %s", jobs);
}

/* "3 pieces, Loft, 4 photos, floor 12.00, danger": only what there is to say. */
static char *
detail (const Data *self, const SwItem *item, const SwItemWorth *worth)
{
  GString *text = g_string_new (NULL);
  g_autofree char *photos = sw_text_count (item->n_photos, "%d photo", "%d photos");

  if (item->count != 1)
    g_string_append_printf (text, _ ("%" PRId64 " pieces, "), item->count);
  if (self->with_place && item->place_path != NULL)
    g_string_append_printf (text, "%s, ", item->place_path);
  g_string_append (text, item->n_photos > 0 ? photos : _ ("no photo"));
  if (worth->has_floor)
    {
      g_autofree char *floor = sw_store_money (self->store, worth->floor);
      g_string_append_printf (text, _ (", floor %s"), floor);
    }
  add_flags (text, item);
  return g_string_free (text, FALSE);
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  const Data *self = data;
  const SwItem *item = g_ptr_array_index (self->list->items, i);
  g_autofree char *money = NULL;

  out_face->title = g_strdup (item->name);
  out_face->icon = sw_state_icon (item->state);
  out_face->word = _ (sw_state_word (item->state));
  out_face->detail = detail (self, item, &g_array_index (self->list->worth, SwItemWorth, i));
  if (item->has_asking)
    {
      out_face->trail = sw_store_money (self->store, item->asking);
      money = sw_store_money_with_code (self->store, item->asking);
    }
  out_face->done = !sw_state_stands (item->state);
  out_face->picture = item->first_photo;
  out_face->sentence
      = g_strdup_printf (_ ("%s, %s, %s, %s"), item->name, out_face->word,
                         money != NULL ? money : _ ("no price yet"), out_face->detail);
}

static const SwRowsFuncs funcs = { kind, key, face };

SwItemList *
sw_item_list_ref (SwItemList *list)
{
  g_atomic_ref_count_inc (&list->count);
  return list;
}

void
sw_item_list_unref (gpointer data)
{
  SwItemList *list = data;

  if (!g_atomic_ref_count_dec (&list->count))
    return;
  g_ptr_array_unref (list->items);
  g_array_unref (list->worth);
  g_free (list);
}

SwRows *
sw_item_rows_new (SwStore *store, SwItemList *list, gboolean with_place)
{
  Data *data = g_new0 (Data, 1);

  data->store = g_object_ref (store);
  data->list = sw_item_list_ref (list);
  data->with_place = with_place;
  return sw_rows_new (list->items->len, &funcs, data, data_free);
}

SwItemQuery *
sw_item_query_new (gint64 place, const char *search)
{
  SwItemQuery *query = g_new0 (SwItemQuery, 1);

  query->place = place;
  query->search = search != NULL && *search != '\0' ? g_strdup (search) : NULL;
  return query;
}

void
sw_item_query_free (gpointer query)
{
  g_free (((SwItemQuery *)query)->search);
  g_clear_pointer (&((SwItemQuery *)query)->likely, g_array_unref);
  g_free (query);
}

void
sw_item_query_set_likely (SwItemQuery *query, const GArray *likely, gint64 place)
{
  query->likely = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_vals (query->likely, likely->data, likely->len);
  query->likely_place = place;
}

typedef struct
{
  GHashTable *ranks; /* item -> its place among the likely ones, from 1 */
  guint n;
  gint64 place;
} Ranking;

static guint
rank_of (const Ranking *ranking, const SwItem *item)
{
  guint rank = GPOINTER_TO_UINT (g_hash_table_lookup (ranking->ranks, &item->id));

  return rank != 0 ? rank : item->place == ranking->place ? ranking->n + 1 : ranking->n + 2;
}

static int
compare_ranks (gconstpointer a, gconstpointer b, gpointer data)
{
  const SwItem *x = *(SwItem *const *)a, *y = *(SwItem *const *)b;
  guint rank_x = rank_of (data, x), rank_y = rank_of (data, y);

  return rank_x != rank_y ? (rank_x > rank_y) - (rank_x < rank_y)
                          : (x->id > y->id) - (x->id < y->id);
}

static void
likeliest_first (const SwItemQuery *query, GPtrArray *items)
{
  g_autoptr (GHashTable) ranks = g_hash_table_new (g_int64_hash, g_int64_equal);
  Ranking ranking = { ranks, query->likely->len, query->likely_place };

  for (guint i = query->likely->len; i-- > 0;)
    g_hash_table_insert (ranks, &g_array_index (query->likely, gint64, i),
                         GUINT_TO_POINTER (i + 1));
  g_ptr_array_sort_with_data (items, compare_ranks, &ranking);
}

static void
drop (GPtrArray *items, gint64 id)
{
  for (guint i = 0; i < items->len; i++)
    if (((const SwItem *)g_ptr_array_index (items, i))->id == id)
      {
        g_ptr_array_remove_index (items, i);
        return;
      }
}

static gboolean
read_worth (SwCatalogue *catalogue, SwItemList *list, GError **error)
{
  for (guint i = 0; i < list->items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (list->items, i);
      SwItemWorth worth = { 0 };
      if (item->scrap_class != NULL && item->has_mass)
        {
          g_auto (SwItemFloor) floor = { 0 };
          if (!sw_item_floor (catalogue, item, &floor, error))
            return FALSE;
          worth.has_floor = floor.known;
          worth.floor = floor.floor;
        }
      g_array_append_val (list->worth, worth);
    }
  return TRUE;
}

gpointer
sw_item_query_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const SwItemQuery *query = data;
  SwItemFilter filter = { .place = query->place,
                          .places_inside = TRUE,
                          .trip = query->trip,
                          .outlet = query->outlet,
                          .state = query->has_state ? &query->state : NULL,
                          .needs = query->needs,
                          .asking_least = query->has_asking_least ? &query->asking_least : NULL,
                          .asking_most = query->has_asking_most ? &query->asking_most : NULL,
                          .mass_least = query->has_mass_least ? &query->mass_least : NULL,
                          .mass_most = query->has_mass_most ? &query->mass_most : NULL,
                          .order = query->order,
                          .descending = query->descending,
                          .search = query->search };
  GPtrArray *items = sw_item_list (catalogue, &filter, error);
  g_autoptr (SwItemList) list = NULL;

  if (items == NULL)
    return NULL;
  if (query->leave_out != 0)
    drop (items, query->leave_out);
  if (query->likely != NULL)
    likeliest_first (query, items);
  list = g_new0 (SwItemList, 1);
  g_atomic_ref_count_init (&list->count);
  list->items = items;
  list->worth = g_array_new (FALSE, TRUE, sizeof (SwItemWorth));
  return read_worth (catalogue, list, error) ? g_steal_pointer (&list) : NULL;
}
