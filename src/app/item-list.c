/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items by number, their rows by page: a keystroke of a search waits for the numbers and the first
 * page alone. */
#include "app/item-list.h"

#include "core/trade/scrap.h"

/* Rows that were read together; those of items that are gone are NULL. */
typedef struct
{
  guint first;
  GPtrArray *items; /* SwItem */
  GArray *worth;    /* SwItemWorth, one an item */
} Page;

struct _SwItemList
{
  gatomicrefcount count;
  GArray *numbers;  /* gint64 */
  GPtrArray *items; /* SwItem, NULL where not read yet */
  GArray *worth;    /* SwItemWorth */
  guint8 *is_read;  /* a page each */
  guint n_pages;
  guint next; /* the page to be read next: the one that was looked at last */
};

static void
page_free (gpointer data)
{
  Page *page = data;

  g_clear_pointer (&page->items, g_ptr_array_unref);
  g_clear_pointer (&page->worth, g_array_unref);
  g_free (page);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Page, page_free)

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
  g_array_unref (list->numbers);
  g_ptr_array_unref (list->items);
  g_array_unref (list->worth);
  g_free (list->is_read);
  g_free (list);
}

guint
sw_item_list_length (const SwItemList *list)
{
  return list->numbers->len;
}

gint64
sw_item_list_number (const SwItemList *list, guint i)
{
  return g_array_index (list->numbers, gint64, i);
}

const SwItem *
sw_item_list_look (SwItemList *list, guint i)
{
  guint page = i / SW_ITEM_ROWS_AT_ONCE;

  if (!list->is_read[page])
    list->next = page;
  return g_ptr_array_index (list->items, i);
}

const SwItemWorth *
sw_item_list_worth (const SwItemList *list, guint i)
{
  return &g_array_index (list->worth, SwItemWorth, i);
}

/* Takes the numbers. */
static SwItemList *
list_new (GArray *numbers)
{
  SwItemList *list = g_new0 (SwItemList, 1);

  g_atomic_ref_count_init (&list->count);
  list->numbers = numbers;
  list->items = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_item_free);
  g_ptr_array_set_size (list->items, (int)numbers->len);
  list->worth = g_array_new (FALSE, TRUE, sizeof (SwItemWorth));
  g_array_set_size (list->worth, numbers->len);
  list->n_pages = (numbers->len + SW_ITEM_ROWS_AT_ONCE - 1) / SW_ITEM_ROWS_AT_ONCE;
  list->is_read = g_new0 (guint8, list->n_pages);
  return list;
}

static void
put_row (SwItemList *list, guint i, gpointer *item, const SwItemWorth *worth)
{
  gpointer *at = &g_ptr_array_index (list->items, i);

  g_clear_pointer (at, sw_item_free);
  *at = g_steal_pointer (item);
  g_array_index (list->worth, SwItemWorth, i) = *worth;
}

static void
put_page (SwItemList *list, Page *page)
{
  for (guint i = 0; i < page->items->len; i++)
    put_row (list, page->first + i, &g_ptr_array_index (page->items, i),
             &g_array_index (page->worth, SwItemWorth, i));
  if (list->n_pages > 0)
    list->is_read[page->first / SW_ITEM_ROWS_AT_ONCE] = TRUE;
}

void
sw_item_list_take_over (SwItemList *list, SwItemList *before)
{
  g_autoptr (GHashTable) rows = NULL;

  if (list->n_pages < 2)
    return; /* all of it is read */
  rows = g_hash_table_new (g_int64_hash, g_int64_equal);
  for (guint i = 0; i < before->items->len; i++)
    if (g_ptr_array_index (before->items, i) != NULL)
      g_hash_table_insert (rows, &g_array_index (before->numbers, gint64, i),
                           GUINT_TO_POINTER (i + 1));
  for (guint i = 0; i < list->items->len; i++)
    {
      guint from = GPOINTER_TO_UINT (
          g_hash_table_lookup (rows, &g_array_index (list->numbers, gint64, i)));

      if (from != 0 && g_ptr_array_index (list->items, i) == NULL)
        put_row (list, i, &g_ptr_array_index (before->items, from - 1),
                 &g_array_index (before->worth, SwItemWorth, from - 1));
    }
}

/* ---- reading, on the catalogue thread ---- */

static gboolean
read_worth (SwCatalogue *catalogue, const SwItem *item, SwItemWorth *out, GError **error)
{
  g_auto (SwItemFloor) floor = { 0 };

  *out = (SwItemWorth){ 0 };
  if (item == NULL || item->scrap_class == NULL || !item->has_mass)
    return TRUE;
  if (!sw_item_floor (catalogue, item, &floor, error))
    return FALSE;
  out->has_floor = floor.known;
  out->floor = floor.floor;
  return TRUE;
}

static Page *
read_page (SwCatalogue *catalogue, const gint64 *numbers, guint first, guint n, GError **error)
{
  g_autoptr (Page) page = g_new0 (Page, 1);

  page->first = first;
  page->worth = g_array_sized_new (FALSE, FALSE, sizeof (SwItemWorth), n);
  page->items = sw_item_rows (catalogue, numbers, n, error);
  for (guint i = 0; page->items != NULL && i < n; i++)
    {
      SwItemWorth worth;
      if (!read_worth (catalogue, g_ptr_array_index (page->items, i), &worth, error))
        return NULL;
      g_array_append_val (page->worth, worth);
    }
  return page->items != NULL ? g_steal_pointer (&page) : NULL;
}

/* ---- reading on ---- */

typedef struct
{
  SwItemList *list;
  SwStore *store;
  GCancellable *cancellable;
  GWeakRef owner;
  SwItemListTold told;
} Reading;

typedef struct
{
  guint first, n;
  gint64 numbers[SW_ITEM_ROWS_AT_ONCE];
} Wanted;

static void
reading_free (Reading *reading)
{
  sw_item_list_unref (reading->list);
  g_object_unref (reading->store);
  g_clear_object (&reading->cancellable);
  g_weak_ref_clear (&reading->owner);
  g_free (reading);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Reading, reading_free)

static gpointer
run_page (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wanted *wanted = data;

  return read_page (catalogue, wanted->numbers, wanted->first, wanted->n, error);
}

/* The page that was looked at, else the next behind it that is missing; n_pages: none is. */
static guint
missing_page (const SwItemList *list)
{
  for (guint i = 0; i < list->n_pages; i++)
    if (!list->is_read[(list->next + i) % list->n_pages])
      return (list->next + i) % list->n_pages;
  return list->n_pages;
}

static void on_page (GObject *object, GAsyncResult *result, gpointer data);

/* Takes the reading. */
static void
read_next (Reading *reading)
{
  SwItemList *list = reading->list;
  guint page = missing_page (list);
  Wanted *wanted;

  if (page == list->n_pages)
    {
      reading_free (reading);
      return;
    }
  wanted = g_new (Wanted, 1);
  wanted->first = page * SW_ITEM_ROWS_AT_ONCE;
  wanted->n = MIN (SW_ITEM_ROWS_AT_ONCE, list->numbers->len - wanted->first);
  for (guint i = 0; i < wanted->n; i++)
    wanted->numbers[i] = sw_item_list_number (list, wanted->first + i);
  sw_store_read (reading->store, SW_RANK_SEARCH, run_page, wanted, g_free, page_free,
                 reading->cancellable, on_page, reading);
}

static void
on_page (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (Reading) reading = data;
  g_autoptr (Page) page = sw_store_finish (reading->store, result, NULL);
  g_autoptr (GObject) owner = g_weak_ref_get (&reading->owner);

  if (page == NULL || owner == NULL)
    return;
  put_page (reading->list, page);
  reading->told (owner, page->first, page->items->len);
  read_next (g_steal_pointer (&reading));
}

void
sw_item_list_read_on (SwItemList *list, SwStore *store, GCancellable *cancellable, GObject *owner,
                      SwItemListTold told)
{
  Reading *reading = g_new0 (Reading, 1);

  reading->list = sw_item_list_ref (list);
  reading->store = g_object_ref (store);
  g_set_object (&reading->cancellable, cancellable);
  g_weak_ref_init (&reading->owner, owner);
  reading->told = told;
  read_next (reading);
}

/* ---- what is asked for ---- */

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
  GHashTable *likely, *in_place; /* item -> its place among them, from 1 */
  guint n;
} Ranking;

static GHashTable *
rank_table (const GArray *numbers)
{
  GHashTable *ranks = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = numbers->len; i-- > 0;)
    g_hash_table_insert (ranks, &g_array_index (numbers, gint64, i), GUINT_TO_POINTER (i + 1));
  return ranks;
}

static guint
rank_of (const Ranking *ranking, const gint64 *item)
{
  guint rank = GPOINTER_TO_UINT (g_hash_table_lookup (ranking->likely, item));

  return rank != 0                                         ? rank
         : g_hash_table_contains (ranking->in_place, item) ? ranking->n + 1
                                                           : ranking->n + 2;
}

static int
compare_ranks (gconstpointer a, gconstpointer b, gpointer data)
{
  const gint64 *x = a, *y = b;
  guint rank_x = rank_of (data, x), rank_y = rank_of (data, y);

  return rank_x != rank_y ? (rank_x > rank_y) - (rank_x < rank_y) : (*x > *y) - (*x < *y);
}

static gboolean
likeliest_first (SwCatalogue *catalogue, const SwItemQuery *query, GArray *numbers, GError **error)
{
  SwItemFilter there = { .place = query->likely_place };
  g_autoptr (GArray) in_place = query->likely_place != 0
                                    ? sw_item_numbers (catalogue, &there, error)
                                    : g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autoptr (GHashTable) ranks = NULL, places = NULL;

  if (in_place == NULL)
    return FALSE;
  ranks = rank_table (query->likely);
  places = rank_table (in_place);
  g_array_sort_with_data (numbers, compare_ranks, &(Ranking){ ranks, places, query->likely->len });
  return TRUE;
}

static void
drop (GArray *numbers, gint64 id)
{
  for (guint i = 0; i < numbers->len; i++)
    if (g_array_index (numbers, gint64, i) == id)
      {
        g_array_remove_index (numbers, i);
        return;
      }
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
  g_autoptr (GArray) numbers = sw_item_numbers (catalogue, &filter, error);
  g_autoptr (Page) first = NULL;
  SwItemList *list;

  if (numbers == NULL)
    return NULL;
  if (query->leave_out != 0)
    drop (numbers, query->leave_out);
  if (query->likely != NULL && !likeliest_first (catalogue, query, numbers, error))
    return NULL;
  first = read_page (catalogue, (const gint64 *)(gconstpointer)numbers->data, 0,
                     MIN (numbers->len, SW_ITEM_ROWS_AT_ONCE), error);
  if (first == NULL)
    return NULL;
  list = list_new (g_steal_pointer (&numbers));
  put_page (list, first);
  return list;
}
