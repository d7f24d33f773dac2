/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/walk.h"

#include <math.h>

#include "core/base/distance.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/ground.h"
#include "core/trip/walking-order.h"

static const char *const basis_words[] = {
#define AS_WORDS(tag, words) words,
  SW_WALK_BASES (AS_WORDS)
#undef AS_WORDS
};

const char *
sw_walk_basis_words (SwWalkBasis basis)
{
  return basis_words[basis];
}

static void
stop_free (gpointer data)
{
  SwWalkStop *stop = data;

  g_free (stop->name);
  g_free (stop);
}

void
sw_walk_free (SwWalk *walk)
{
  if (walk == NULL)
    return;
  g_clear_pointer (&walk->shortest, g_ptr_array_unref);
  g_clear_pointer (&walk->own, g_ptr_array_unref);
  g_free (walk);
}

/* ---- stops ---- */

static const SwPlace *
place_of (const GPtrArray *places, gint64 id)
{
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);

      if (place->id == id)
        return place;
    }
  return NULL;
}

/* The building it is in; NULL off the property. */
static const SwPlace *
building_of (const GPtrArray *places, gint64 id)
{
  const SwPlace *place = place_of (places, id);

  while (place != NULL && place->parent != 0)
    place = place_of (places, place->parent);
  return place != NULL && !place->off_property ? place : NULL;
}

static int
count_lines (const GPtrArray *places, const SwPlace *building, const GArray *at)
{
  int n = 0;

  for (guint i = 0; i < at->len; i++)
    n += building_of (places, g_array_index (at, gint64, i)) == building;
  return n;
}

static void
add_stops (SwWalk *walk, const GPtrArray *places, const GArray *at)
{
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      int lines = place->parent == 0 && !place->off_property ? count_lines (places, place, at) : 0;
      SwWalkStop *stop;

      if (lines == 0)
        continue;
      stop = g_new0 (SwWalkStop, 1);
      stop->place = place->id;
      stop->name = g_strdup (place->name);
      stop->lines = lines;
      g_ptr_array_add (walk->own, stop);
    }
}

static void
find_basis (SwWalk *walk, const GPtrArray *places)
{
  guint drawn = 0, located = 0;

  for (guint i = 0; i < walk->own->len; i++)
    {
      const SwWalkStop *stop = g_ptr_array_index (walk->own, i);
      const SwPlace *place = place_of (places, stop->place);

      drawn += place != NULL && place->has_box;
      located += place != NULL && place->has_position;
    }
  walk->basis = drawn == 0 && located == 0 ? SW_WALK_BY_NOTHING
                : drawn >= located         ? SW_WALK_BY_PLAN
                                           : SW_WALK_BY_POSITIONS;
}

static void
find_spot (const SwWalk *walk, SwWalkStop *stop, const SwPlace *place)
{
  if (place == NULL)
    return;
  if (walk->basis == SW_WALK_BY_PLAN && place->has_box)
    {
      stop->has_spot = TRUE;
      stop->x = place->box_x + place->box_w / 2.0;
      stop->y = place->box_y + place->box_h / 2.0;
    }
  else if (walk->basis == SW_WALK_BY_POSITIONS && place->has_position)
    {
      stop->has_spot = TRUE;
      stop->x = place->latitude;
      stop->y = place->longitude;
    }
}

/* ---- ways ---- */

static gint64
way (const SwWalk *walk, const SwWalkStop *one, const SwWalkStop *other, gint64 um_per_unit)
{
  double units;

  if (walk->basis == SW_WALK_BY_POSITIONS)
    return llround (sw_distance_m (one->x, one->y, other->x, other->y) * 1000);
  units = hypot (one->x - other->x, one->y - other->y);
  return llround (um_per_unit > 0 ? units * (double)um_per_unit / 1000 : units * 1000);
}

/* 'spots': those of the own order that have one. */
static void
find_shortest (SwWalk *walk, GPtrArray *spots, gint64 um_per_unit)
{
  gsize n = spots->len;
  g_autofree gint64 *ways = g_new (gint64, n * n + 1);
  g_autofree guint *order = g_new (guint, n + 1);

  for (guint a = 0; a < n; a++)
    {
      order[a] = a;
      for (guint b = 0; b < n; b++)
        ways[a * n + b] = way (walk, g_ptr_array_index (spots, MIN (a, b)),
                               g_ptr_array_index (spots, MAX (a, b)), um_per_unit);
    }
  walk->own_mm = sw_walking_length (ways, n, order);
  sw_walking_order (ways, n, order);
  walk->shortest_mm = sw_walking_length (ways, n, order);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (walk->shortest, g_ptr_array_index (spots, order[i]));
}

SwWalk *
sw_walk_plan (SwCatalogue *catalogue, const GPtrArray *places, const GArray *at, GError **error)
{
  g_autoptr (SwWalk) walk = g_new0 (SwWalk, 1);
  g_autoptr (GPtrArray) spots = g_ptr_array_new ();
  gint64 um_per_unit = 0;

  walk->own = g_ptr_array_new_with_free_func (stop_free);
  walk->shortest = g_ptr_array_new ();
  if (!sw_ground_scale (catalogue, &um_per_unit, error))
    return NULL;
  add_stops (walk, places, at);
  find_basis (walk, places);
  walk->has_metres
      = walk->basis == SW_WALK_BY_POSITIONS || (walk->basis == SW_WALK_BY_PLAN && um_per_unit > 0);
  for (guint i = 0; i < walk->own->len; i++)
    {
      SwWalkStop *stop = g_ptr_array_index (walk->own, i);

      find_spot (walk, stop, place_of (places, stop->place));
      if (stop->has_spot)
        g_ptr_array_add (spots, stop);
    }
  if (spots->len > 0)
    find_shortest (walk, spots, um_per_unit);
  return g_steal_pointer (&walk);
}

gboolean
sw_walk_is_shorter (const SwWalk *walk)
{
  return walk->shortest_mm < walk->own_mm;
}

char *
sw_walk_names (const GPtrArray *stops)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < stops->len; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? ", " : "",
                            ((const SwWalkStop *)g_ptr_array_index (stops, i))->name);
  return g_string_free (names, FALSE);
}

static char *
with_length (const SwWalk *walk, const GPtrArray *stops, gint64 mm)
{
  g_autofree char *names = sw_walk_names (stops);

  return walk->has_metres
             ? g_strdup_printf ("%s (%" G_GINT64_FORMAT " m)", names, (mm + 500) / 1000)
             : g_steal_pointer (&names);
}

char *
sw_walk_sentence (const SwWalk *walk)
{
  g_autofree char *own = NULL, *shortest = NULL;

  if (walk->own->len < 2 || walk->basis == SW_WALK_BY_NOTHING)
    return NULL;
  own = with_length (walk, walk->own, walk->own_mm);
  if (!sw_walk_is_shorter (walk))
    return g_strdup_printf (_ ("Walk: %s."), own);
  shortest = with_length (walk, walk->shortest, walk->shortest_mm);
  return g_strdup_printf (_ ("Your walk: %s. Shortest %s: %s."), own, _ (basis_words[walk->basis]),
                          shortest);
}

/* ---- taking it ---- */

static gboolean
is_in (const SwWalk *walk, gint64 place)
{
  for (guint i = 0; i < walk->shortest->len; i++)
    if (((const SwWalkStop *)g_ptr_array_index (walk->shortest, i))->place == place)
      return TRUE;
  return FALSE;
}

/* All buildings anew from 1 on; those of the walk take the slots that they had between them. */
static gboolean
number_buildings (SwCatalogue *catalogue, const SwWalk *walk, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  guint taken = 0;
  int slot = 0;

  for (guint i = 0; places != NULL && i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      gint64 id = place->id;

      if (place->parent != 0 || place->off_property)
        continue;
      if (is_in (walk, id))
        id = ((const SwWalkStop *)g_ptr_array_index (walk->shortest, taken++))->place;
      if (!sw_place_set_walk_order (catalogue, id, ++slot, error))
        return FALSE;
    }
  return places != NULL;
}

gboolean
sw_walk_take (SwCatalogue *catalogue, const SwWalk *walk, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *names = NULL, *sentence = NULL;

  if (!sw_walk_is_shorter (walk))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("No shorter walk is known than the one in your own order."));
      return FALSE;
    }
  names = sw_walk_names (walk->shortest);
  sentence = g_strdup_printf (_ ("The walk goes: %s"), names);
  return sw_act_begin (&act, catalogue, error) && number_buildings (catalogue, walk, error)
         && sw_act_commit (&act, sentence, error);
}
