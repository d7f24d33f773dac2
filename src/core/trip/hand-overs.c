/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/hand-overs.h"

#include "core/catalogue/outlets.h"
#include "core/catalogue/places.h"
#include "core/trade/sales.h"

typedef struct
{
  SwCatalogue *catalogue;
  GPtrArray *outlets;
  GHashTable *rank; /* place -> 1 + its place in the list; off the property: none */
  SwDay trip_first;
  GPtrArray *list;
} Gather;

static void
thing_free (gpointer data)
{
  SwHandOverThing *thing = data;

  sw_item_free (thing->item);
  g_free (thing->ref);
  g_free (thing);
}

void
sw_hand_over_free (SwHandOver *hand_over)
{
  if (hand_over == NULL)
    return;
  g_clear_pointer (&hand_over->things, g_ptr_array_unref);
  g_free (hand_over->buyer);
  g_free (hand_over);
}

static void
free_hand_over (gpointer data)
{
  sw_hand_over_free (data);
}

static GHashTable *
rank_places (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  GHashTable *rank;

  if (places == NULL)
    return NULL;
  rank = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);

      if (!place->off_property)
        g_hash_table_insert (rank, g_memdup2 (&place->id, sizeof place->id),
                             GUINT_TO_POINTER (i + 1));
    }
  return rank;
}

static guint
rank_of (const Gather *gather, const SwItem *item)
{
  return GPOINTER_TO_UINT (g_hash_table_lookup (gather->rank, &item->place));
}

/* ---- the last day ---- */

static const SwOutlet *
outlet_of (const Gather *gather, gint64 id)
{
  for (guint i = 0; i < gather->outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (gather->outlets, i);

      if (outlet->id == id)
        return outlet;
    }
  return NULL;
}

static void
note_deadline (const Gather *gather, SwHandOver *hand_over, const SwDeal *deal)
{
  const SwOutlet *outlet = outlet_of (gather, deal->outlet);
  SwDay last;

  if (outlet == NULL || outlet->collect_days < 0)
    return;
  last = (SwDay){ deal->ended.n + (gint32)outlet->collect_days };
  if (hand_over->has_deadline && hand_over->deadline.n <= last.n)
    return;
  hand_over->has_deadline = TRUE;
  hand_over->deadline = last;
  hand_over->before_trip = last.n < gather->trip_first.n;
}

/* ---- buyers ---- */

/* People write one name in several ways. */
static char *
fold (const char *name)
{
  g_autofree char *normal = g_utf8_normalize (name, -1, G_NORMALIZE_ALL);

  return g_utf8_casefold (normal != NULL ? normal : name, -1);
}

static SwHandOver *
hand_over_of (const Gather *gather, const char *buyer)
{
  SwHandOver *made;

  for (guint i = 0; buyer != NULL && i < gather->list->len; i++)
    {
      SwHandOver *there = g_ptr_array_index (gather->list, i);
      g_autofree char *theirs = there->buyer != NULL ? fold (there->buyer) : NULL;
      g_autofree char *ours = fold (buyer);

      if (g_strcmp0 (theirs, ours) == 0)
        return there;
    }
  made = g_new0 (SwHandOver, 1);
  made->buyer = g_strdup (buyer);
  made->things = g_ptr_array_new_with_free_func (thing_free);
  g_ptr_array_add (gather->list, made);
  return made;
}

/* The sale's items that are Sold and stand on the property: SwHandOverThing, transfer full. */
static GPtrArray *
things_of (const Gather *gather, const SwDeal *deal, GError **error)
{
  g_autoptr (GArray) items = sw_deal_items (gather->catalogue, deal->id, error);
  g_autoptr (GPtrArray) things = g_ptr_array_new_with_free_func (thing_free);

  if (items == NULL)
    return NULL;
  for (guint i = 0; i < items->len; i++)
    {
      g_autoptr (SwItem) item
          = sw_item_get (gather->catalogue, g_array_index (items, SwDealItem, i).item, error);
      SwHandOverThing *thing;

      if (item == NULL)
        return NULL;
      if (item->state != SW_STATE_SOLD || rank_of (gather, item) == 0)
        continue;
      thing = g_new0 (SwHandOverThing, 1);
      thing->item = g_steal_pointer (&item);
      thing->deal = deal->id;
      thing->ref = g_strdup (deal->ref);
      thing->delivered = deal->delivery.minor > 0;
      g_ptr_array_add (things, thing);
    }
  return g_steal_pointer (&things);
}

static gboolean
add_sale (const Gather *gather, const SwSale *sale, GError **error)
{
  const char *buyer = sale->deal->buyer;
  g_autoptr (GPtrArray) things = NULL;
  SwHandOver *hand_over;

  if (sale->fell_through || sale->deal->has_collected || sale->deal->kind == SW_DEAL_DOCKET)
    return TRUE;
  things = things_of (gather, sale->deal, error);
  if (things == NULL || things->len == 0)
    return things != NULL;
  hand_over = hand_over_of (gather, buyer != NULL && *buyer != '\0' ? buyer : NULL);
  note_deadline (gather, hand_over, sale->deal);
  g_ptr_array_extend_and_steal (hand_over->things, g_steal_pointer (&things));
  return sw_money_add (hand_over->due, sale->owed, &hand_over->due, error);
}

/* ---- orders ---- */

static int
compare_things (gconstpointer a, gconstpointer b, gpointer data)
{
  const SwHandOverThing *one = *(SwHandOverThing *const *)a;
  const SwHandOverThing *other = *(SwHandOverThing *const *)b;
  guint rank = rank_of (data, one->item), rank_too = rank_of (data, other->item);

  if (rank != rank_too)
    return rank < rank_too ? -1 : 1;
  return one->item->id < other->item->id ? -1 : one->item->id > other->item->id;
}

static int
compare_hand_overs (gconstpointer a, gconstpointer b)
{
  const SwHandOver *one = *(SwHandOver *const *)a, *other = *(SwHandOver *const *)b;

  if (one->has_deadline != other->has_deadline)
    return one->has_deadline ? -1 : 1;
  if (one->has_deadline && one->deadline.n != other->deadline.n)
    return one->deadline.n < other->deadline.n ? -1 : 1;
  if (g_strcmp0 (one->buyer, other->buyer) != 0)
    return one->buyer == NULL     ? 1
           : other->buyer == NULL ? -1
                                  : g_utf8_collate (one->buyer, other->buyer);
  return 0;
}

GPtrArray *
sw_hand_over_list (SwCatalogue *catalogue, SwDay trip_first, GError **error)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func (free_hand_over);
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);
  g_autoptr (GHashTable) rank = outlets != NULL ? rank_places (catalogue, error) : NULL;
  g_autoptr (GPtrArray) sales = rank != NULL ? sw_sale_list (catalogue, error) : NULL;
  Gather gather = { catalogue, outlets, rank, trip_first, list };

  if (sales == NULL)
    return NULL;
  for (guint i = 0; i < sales->len; i++)
    if (!add_sale (&gather, g_ptr_array_index (sales, i), error))
      return NULL;
  for (guint i = 0; i < list->len; i++)
    g_ptr_array_sort_with_data (((SwHandOver *)g_ptr_array_index (list, i))->things, compare_things,
                                &gather);
  g_ptr_array_sort (list, compare_hand_overs);
  return g_steal_pointer (&list);
}
