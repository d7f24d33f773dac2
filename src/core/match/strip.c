/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joins stops and moments into one row of units. Must not propose nor decide. */
#include "core/match/strip.h"

#include "core/catalogue/items.h"
#include "core/catalogue/photo-quality.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/places.h"
#include "core/match/pairing.h"

#include <string.h>

void
sw_strip_free (SwStrip *strip)
{
  if (strip == NULL)
    return;
  g_clear_pointer (&strip->units, g_array_unref);
  g_clear_pointer (&strip->begins, g_array_unref);
  g_clear_pointer (&strip->stops, g_ptr_array_unref);
  g_clear_pointer (&strip->names, g_string_chunk_free);
  g_free (strip);
}

static void
count_left (SwStrip *strip)
{
  SwStripLeft *left = &strip->left;

  left->stops = (int)strip->stops->len;
  for (guint k = 0; k < strip->stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (strip->stops, k);

      if (stop->n_open == 0)
        continue;
      left->open++;
      if (g_strcmp0 (stop->band, "sure") == 0)
        left->sure++;
      else if (g_strcmp0 (stop->band, "doubtful") == 0)
        left->doubtful++;
      else
        left->unknown++;
    }
}

static SwStripKind
kind_of (const char *kind)
{
  static const char *const kinds[] = { "photo", "raw", "clip", "memo" };

  for (guint k = 0; k < G_N_ELEMENTS (kinds); k++)
    if (g_strcmp0 (kind, kinds[k]) == 0)
      return (SwStripKind)k;
  return SW_STRIP_RAW;
}

static SwStripUnit
unit_of (SwStrip *strip, const SwPhotoMoment *moment, GHashTable *marks)
{
  SwStripUnit unit = { .photo = moment->photo,
                       .kind = kind_of (moment->kind),
                       .timed = moment->timed,
                       .t_us = moment->t_us,
                       .stop = -1,
                       .decided = SW_STOP_OPEN,
                       .marks = GPOINTER_TO_UINT (g_hash_table_lookup (marks, &moment->photo)) };

  if (unit.kind != SW_STRIP_PHOTO)
    {
      g_autofree char *name = g_path_get_basename (moment->file);
      unit.file = g_string_chunk_insert (strip->names, name);
    }
  return unit;
}

/* By time, what has none last. */
static int
compare_units (gconstpointer a, gconstpointer b)
{
  const SwStripUnit *x = a, *y = b;

  if (x->timed != y->timed)
    return x->timed ? -1 : 1;
  if (x->t_us != y->t_us)
    return x->t_us < y->t_us ? -1 : 1;
  return (x->photo > y->photo) - (x->photo < y->photo);
}

/* photo -> its marks, of those that have any. */
static GHashTable *
read_marks (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GArray) quality = sw_photo_quality_list (catalogue, trip, error);
  GHashTable *marks;

  if (quality == NULL)
    return NULL;
  marks = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint k = 0; k < quality->len; k++)
    {
      const SwPhotoQuality *each = &g_array_index (quality, SwPhotoQuality, k);

      if (each->marks != 0)
        g_hash_table_insert (marks, g_memdup2 (&each->photo, sizeof each->photo),
                             GUINT_TO_POINTER (each->marks));
    }
  return marks;
}

typedef struct
{
  SwStrip *strip;
  GHashTable *moments; /* photo -> SwStripUnit */
  GArray *loose;       /* SwStripUnit of no stop, by time */
  guint next;          /* of the loose ones */
} Laying;

/* Loose units up to that time; they stand in the stop where it goes on behind them. */
static void
lay_loose (Laying *laying, gboolean timed, gint64 upto_us, int stop)
{
  for (; laying->next < laying->loose->len; laying->next++)
    {
      SwStripUnit unit = g_array_index (laying->loose, SwStripUnit, laying->next);

      if (timed && (!unit.timed || unit.t_us >= upto_us))
        return;
      unit.stop = unit.kind == SW_STRIP_PHOTO ? -1 : stop;
      g_array_append_val (laying->strip->units, unit);
    }
}

static void
lay_stop (Laying *laying, int k)
{
  const SwStopRecord *stop = g_ptr_array_index (laying->strip->stops, (guint)k);
  guint begin = 0;

  for (guint i = 0; i < stop->photos->len; i++)
    {
      gint64 photo = g_array_index (stop->photos, gint64, i);
      const SwStripUnit *known = g_hash_table_lookup (laying->moments, &photo);
      SwStripUnit unit = known != NULL ? *known : (SwStripUnit){ .photo = photo };

      if (unit.timed)
        lay_loose (laying, TRUE, unit.t_us, i > 0 ? k : -1);
      if (i == 0)
        begin = laying->strip->units->len;
      unit.stop = k;
      unit.n_in_stop = (int)i + 1;
      unit.decided = g_array_index (stop->decided, gint64, i);
      g_array_append_val (laying->strip->units, unit);
    }
  g_array_append_val (laying->strip->begins, begin);
}

static void
lay_all (SwStrip *strip, const GPtrArray *moments, GHashTable *marks)
{
  g_autoptr (GHashTable) known = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, g_free);
  g_autoptr (GHashTable) in_stops = g_hash_table_new (g_int64_hash, g_int64_equal);
  g_autoptr (GArray) loose = g_array_new (FALSE, FALSE, sizeof (SwStripUnit));
  Laying laying = { strip, known, loose, 0 };

  for (guint k = 0; k < strip->stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (strip->stops, k);
      for (guint i = 0; i < stop->photos->len; i++)
        g_hash_table_add (in_stops, &g_array_index (stop->photos, gint64, i));
    }
  for (guint k = 0; k < moments->len; k++)
    {
      const SwPhotoMoment *moment = g_ptr_array_index (moments, k);
      SwStripUnit unit = unit_of (strip, moment, marks);

      if (g_hash_table_contains (in_stops, &moment->photo))
        {
          SwStripUnit *kept = g_memdup2 (&unit, sizeof unit);
          g_hash_table_insert (known, &kept->photo, kept);
        }
      else
        g_array_append_val (loose, unit);
    }
  g_array_sort (loose, compare_units);
  for (guint k = 0; k < strip->stops->len; k++)
    lay_stop (&laying, (int)k);
  lay_loose (&laying, FALSE, 0, -1);
}

SwStrip *
sw_strip_read (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (SwStrip) strip = g_new0 (SwStrip, 1);
  g_autoptr (GPtrArray) moments = sw_photo_moments (catalogue, trip, error);
  g_autoptr (GHashTable) marks = moments != NULL ? read_marks (catalogue, trip, error) : NULL;

  strip->trip = trip;
  if (marks == NULL || (strip->stops = sw_proposal_list (catalogue, trip, error)) == NULL)
    return NULL;
  strip->units = g_array_sized_new (FALSE, FALSE, sizeof (SwStripUnit), moments->len);
  strip->begins = g_array_new (FALSE, FALSE, sizeof (guint));
  strip->names = g_string_chunk_new (4096);
  lay_all (strip, moments, marks);
  count_left (strip);
  return g_steal_pointer (&strip);
}

/* ---- what came of it ---- */

int
sw_strip_longest_pause (const SwStrip *strip, int stop)
{
  const SwStripUnit *before = NULL;
  gint64 longest = -1;
  int at = -1;

  for (guint u = g_array_index (strip->begins, guint, stop); u < strip->units->len; u++)
    {
      const SwStripUnit *unit = &g_array_index (strip->units, SwStripUnit, u);

      if (unit->stop != stop)
        break;
      if (unit->kind != SW_STRIP_PHOTO || !unit->timed)
        continue;
      if (before != NULL && unit->t_us - before->t_us > longest)
        {
          longest = unit->t_us - before->t_us;
          at = (int)u;
        }
      before = unit;
    }
  return at;
}

gboolean
sw_strip_wants_cost (const SwStopRecord *stop)
{
  return stop->n_open == 0 && !stop->has_cost && g_strcmp0 (stop->no_item_kind, "receipt") == 0;
}

void
sw_strip_sum_free (SwStripSum *sum)
{
  if (sum == NULL)
    return;
  g_clear_pointer (&sum->not_seen, g_ptr_array_unref);
  g_clear_pointer (&sum->one_poor, g_ptr_array_unref);
  g_free (sum);
}

/* The numbers of the items that photos of the trip show. */
static GHashTable *
items_of (const GPtrArray *stops, SwStripSum *sum)
{
  GHashTable *items = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);

  for (guint k = 0; k < stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (stops, k);

      sum->receipts_open += sw_strip_wants_cost (stop);
      for (guint i = 0; i < stop->decided->len; i++)
        {
          gint64 decided = g_array_index (stop->decided, gint64, i);

          if (decided > 0)
            g_hash_table_add (items, g_memdup2 (&decided, sizeof decided));
          sum->without_item += decided == SW_STOP_NO_ITEM;
        }
    }
  return items;
}

static void
count_items (SwStripSum *sum, const GPtrArray *all, GHashTable *shown, gint64 trip,
             GHashTable *poor, GHashTable *places)
{
  for (guint k = 0; k < all->len; k++)
    {
      SwItem *item = g_ptr_array_index (all, k);

      if (!g_hash_table_contains (shown, &item->id))
        continue;
      g_hash_table_add (places, &item->place);
      sum->items_new += item->trip == trip;
      sum->items_known += item->trip != trip;
      sum->unnamed += item->trip == trip && item->neutral;
      if (item->n_photos == 1 && g_hash_table_contains (poor, &item->first_photo))
        g_ptr_array_add (sum->one_poor, g_strdup (item->name));
    }
}

/* Whether it, or a place inside it, is among those. */
static gboolean
is_seen (const GPtrArray *places, const SwPlace *place, GHashTable *seen)
{
  gsize length = strlen (place->path);

  for (guint k = 0; k < places->len; k++)
    {
      SwPlace *each = g_ptr_array_index (places, k);

      if (g_hash_table_contains (seen, &each->id) && g_str_has_prefix (each->path, place->path)
          && (each->path[length] == '\0' || g_str_has_prefix (each->path + length, " > ")))
        return TRUE;
    }
  return FALSE;
}

/* A building that was not walked speaks for its rooms. */
static gboolean
is_in_unseen (const GPtrArray *places, const SwPlace *place, GHashTable *seen)
{
  for (guint k = 0; place->parent != 0 && k < places->len; k++)
    {
      const SwPlace *each = g_ptr_array_index (places, k);

      if (each->id == place->parent)
        return !is_seen (places, each, seen);
    }
  return FALSE;
}

SwStripSum *
sw_strip_sum_read (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (SwStripSum) sum = g_new0 (SwStripSum, 1);
  g_autoptr (GPtrArray) stops = sw_proposal_list (catalogue, trip, error);
  g_autoptr (GPtrArray) items = stops != NULL ? sw_item_list (catalogue, NULL, error) : NULL;
  g_autoptr (GPtrArray) places = items != NULL ? sw_place_list (catalogue, error) : NULL;
  g_autoptr (GHashTable) seen = g_hash_table_new (g_int64_hash, g_int64_equal);

  g_autoptr (GHashTable) poor = places != NULL ? read_marks (catalogue, trip, error) : NULL;

  if (poor == NULL)
    return NULL;
  sum->not_seen = g_ptr_array_new_with_free_func (g_free);
  sum->one_poor = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GHashTable) shown = items_of (stops, sum);
  count_items (sum, items, shown, trip, poor, seen);
  for (guint k = 0; k < places->len; k++)
    {
      const SwPlace *place = g_ptr_array_index (places, k);

      if (!place->off_property && g_strcmp0 (place->path, SW_PLACE_UNKNOWN) != 0
          && !is_seen (places, place, seen) && !is_in_unseen (places, place, seen))
        g_ptr_array_add (sum->not_seen, g_strdup (place->path));
    }
  return g_steal_pointer (&sum);
}
