/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts the finds in order. Reads each table once, so that ten thousand finds cost one pass. */
#include "core/catalogue/decide.h"
#include "core/base/language.h"

#include <string.h>

#include "core/catalogue/act.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/db.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"

#define ORDER_AS_KEY(tag, key) key,
static const char *const order_keys[] = { SW_DECIDE_ORDERS (ORDER_AS_KEY) };

/* Evidence of what a thing brings, the better the later; what it cost new says nothing of that. */
static const char *const evidence[] = { "paid", "guessed", N_ ("like things") };

#define KEY_ORDER "round-order"
#define KEY_ITEM "round-item"
#define KEY_BEFORE "round-before"

void
sw_decide_free (SwDecideRound *round)
{
  if (round == NULL)
    return;
  g_clear_pointer (&round->items, g_array_unref);
  g_free (round);
}

SwPutOff
sw_put_off_of (const SwItem *item)
{
  if (item->waits == SW_WAITS_LATER)
    return SW_PUT_OFF_LATER;
  if (item->waits == SW_WAITS_PRICE)
    return SW_PUT_OFF_PRICE;
  if (item->n_questions > 0 || item->claim == SW_CLAIM_OPEN)
    return SW_PUT_OFF_ASK;
  return item->n_jobs > 0 ? SW_PUT_OFF_JOB : SW_PUT_OFF_NOT;
}

/* --- worth --- */

typedef struct
{
  int rank; /* index in evidence, plus one; 0: none */
  gint64 amount, pieces;
} Evidence;

/* Item to the best evidence, of equals the latest. Transfer full. */
static GHashTable *
read_evidence (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GHashTable) best = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DECIDE_PRICES, "");
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, &use, &ok, error))
    {
      gint64 item = sw_col_int (&use, 0);
      g_autofree char *kind = sw_col_text (&use, 1);
      const Evidence *known = g_hash_table_lookup (best, &item);
      Evidence said = { 0, sw_col_int (&use, 2), sw_col_int (&use, 3) };
      for (int i = 0; i < (int)G_N_ELEMENTS (evidence); i++)
        if (strcmp (kind, evidence[i]) == 0)
          said.rank = i + 1;
      if (said.rank > 0 && (known == NULL || said.rank >= known->rank))
        g_hash_table_insert (best, g_memdup2 (&item, sizeof item), g_memdup2 (&said, sizeof said));
    }
  return ok ? g_steal_pointer (&best) : NULL;
}

static gboolean
take_worth (const SwItem *item, GHashTable *best, SwDecideItem *out, GError **error)
{
  const Evidence *said = g_hash_table_lookup (best, &item->id);

  out->has_worth = item->has_asking || said != NULL;
  out->worth = item->asking;
  if (item->has_asking || said == NULL)
    return TRUE;
  return sw_money_scale (sw_money (said->amount), item->count, said->pieces, SW_ROUND_HALF_UP,
                         &out->worth, error);
}

/* --- when it must be up --- */

static gint64
days_of (const SwOutlet *outlet)
{
  return MAX (0, outlet->running_days) + MAX (0, outlet->pay_days);
}

/* outlet 0: the slowest; -1 where there is none. */
static gint64
days_before (const GPtrArray *outlets, gint64 outlet)
{
  gint64 slowest = -1;

  for (guint i = 0; i < outlets->len; i++)
    {
      const SwOutlet *each = g_ptr_array_index (outlets, i);
      if (each->id == outlet)
        return days_of (each);
      slowest = MAX (slowest, days_of (each));
    }
  return slowest;
}

static gboolean
read_next_trip (SwCatalogue *catalogue, SwDecideRound *round, GError **error)
{
  g_autoptr (GPtrArray) trips = sw_trip_list (catalogue, error);
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  const SwTrip *next;

  if (trips == NULL)
    return FALSE;
  next = sw_trip_next (trips, today);
  round->has_trip = next != NULL;
  if (next != NULL)
    round->next_trip = next->first;
  return TRUE;
}

/* --- the order --- */

typedef struct
{
  SwDecideItem item;
  int place; /* position in walking order */
} Placed;

typedef struct
{
  SwDecideOrder order;
} Sorting;

/* The greater first; what has none last. */
static int
compare_worth (const SwDecideItem *a, const SwDecideItem *b)
{
  if (a->has_worth != b->has_worth)
    return a->has_worth ? -1 : 1;
  if (!a->has_worth || a->worth.minor == b->worth.minor)
    return 0;
  return a->worth.minor > b->worth.minor ? -1 : 1;
}

static int
compare_due (const SwDecideItem *a, const SwDecideItem *b)
{
  if (a->has_due != b->has_due)
    return a->has_due ? -1 : 1;
  if (a->has_due && a->due.n != b->due.n)
    return a->due.n < b->due.n ? -1 : 1;
  return compare_worth (a, b);
}

static int
compare (gconstpointer a, gconstpointer b, gpointer data)
{
  const Placed *one = a, *two = b;
  SwDecideOrder order = ((const Sorting *)data)->order;
  int waits = (one->item.put_off != SW_PUT_OFF_NOT) - (two->item.put_off != SW_PUT_OFF_NOT);
  int by = order == SW_DECIDE_BY_WORTH ? compare_worth (&one->item, &two->item)
           : order == SW_DECIDE_BY_DUE ? compare_due (&one->item, &two->item)
                                       : 0;

  if (waits != 0)
    return waits;
  if (by != 0)
    return by;
  if (one->place != two->place)
    return one->place - two->place;
  return one->item.item < two->item.item ? -1 : one->item.item > two->item.item;
}

/* Place to its position in walking order. Transfer full. */
static GHashTable *
read_places (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  GHashTable *at = NULL;

  if (places == NULL)
    return NULL;
  at = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      g_hash_table_insert (at, g_memdup2 (&place->id, sizeof place->id), GUINT_TO_POINTER (i));
    }
  return at;
}

static gboolean
place_items (SwCatalogue *catalogue, const GPtrArray *items, SwDecideRound *round, GArray *placed,
             GError **error)
{
  g_autoptr (GHashTable) best = read_evidence (catalogue, error);
  g_autoptr (GHashTable) places = best != NULL ? read_places (catalogue, error) : NULL;
  g_autoptr (GPtrArray) outlets = places != NULL ? sw_outlet_list (catalogue, error) : NULL;

  if (outlets == NULL)
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      gint64 days = days_before (outlets, item->outlet);
      Placed one = { .item = { .item = item->id, .put_off = sw_put_off_of (item) } };
      if (!take_worth (item, best, &one.item, error))
        return FALSE;
      one.place = (int)GPOINTER_TO_UINT (g_hash_table_lookup (places, &item->place));
      one.item.has_due = round->has_trip && days >= 0;
      one.item.due = (SwDay){ round->next_trip.n - (gint32)MAX (0, days) };
      round->waiting[one.item.put_off]++;
      g_array_append_val (placed, one);
    }
  return TRUE;
}

SwDecideRound *
sw_decide_read (SwCatalogue *catalogue, gint64 place, gint64 trip, SwDecideOrder order,
                GError **error)
{
  const SwState found = SW_STATE_FOUND;
  SwItemFilter filter = { .place = place, .places_inside = TRUE, .trip = trip, .state = &found };
  g_autoptr (SwDecideRound) round = g_new0 (SwDecideRound, 1);
  g_autoptr (GArray) placed = g_array_new (FALSE, FALSE, sizeof (Placed));
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);
  Sorting sorting = { order };

  if (items == NULL || !read_next_trip (catalogue, round, error)
      || !place_items (catalogue, items, round, placed, error))
    return NULL;
  g_array_sort_with_data (placed, compare, &sorting);
  round->items = g_array_sized_new (FALSE, FALSE, sizeof (SwDecideItem), placed->len);
  for (guint i = 0; i < placed->len; i++)
    g_array_append_val (round->items, g_array_index (placed, Placed, i).item);
  return g_steal_pointer (&round);
}

/* --- where the person stood --- */

static gboolean
get_number (SwCatalogue *catalogue, const char *key, gint64 *out_number, GError **error)
{
  GError *inner = NULL;
  g_autofree char *text = sw_setting_get (catalogue, key, &inner);

  if (inner != NULL)
    {
      g_propagate_error (error, inner);
      return FALSE;
    }
  *out_number = text != NULL ? g_ascii_strtoll (text, NULL, 10) : 0;
  return TRUE;
}

static gboolean
put_number (SwCatalogue *catalogue, const char *key, gint64 number, GError **error)
{
  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT, number);

  return sw_setting_put (catalogue, key, text, error);
}

gboolean
sw_decide_mark_get (SwCatalogue *catalogue, SwDecideMark *out_mark, GError **error)
{
  SwDecideMark mark = { 0 };
  GError *inner = NULL;
  g_autofree char *order = sw_setting_get (catalogue, KEY_ORDER, &inner);

  if (inner != NULL)
    {
      g_propagate_error (error, inner);
      return FALSE;
    }
  for (int i = 0; i < SW_N_DECIDE_ORDERS; i++)
    if (g_strcmp0 (order, order_keys[i]) == 0)
      mark.order = (SwDecideOrder)i;
  if (!get_number (catalogue, KEY_ITEM, &mark.item, error)
      || !get_number (catalogue, KEY_BEFORE, &mark.before, error))
    return FALSE;
  *out_mark = mark;
  return TRUE;
}

gboolean
sw_decide_mark_put (SwCatalogue *catalogue, const SwDecideMark *mark, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  g_return_val_if_fail (mark->order < SW_N_DECIDE_ORDERS, FALSE);
  return sw_act_begin_plain (&act, catalogue, error)
         && sw_setting_put (catalogue, KEY_ORDER, order_keys[mark->order], error)
         && put_number (catalogue, KEY_ITEM, mark->item, error)
         && put_number (catalogue, KEY_BEFORE, mark->before, error)
         && sw_act_commit (&act, NULL, error);
}

static gpointer
person_from_row (const SwUse *use)
{
  return sw_col_text (use, 0);
}

GPtrArray *
sw_people (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PEOPLE, "");
  return sw_db_collect (catalogue, &use, person_from_row, g_free, error);
}
