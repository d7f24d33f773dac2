/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ground plan's acts over the rows of places. Where several rows change, one event tells it. */
#include "core/catalogue/ground.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/length.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/places.h"

#define GOOD_FIX_M 50.0

static gboolean
tell_and_commit (SwAct *act, gint64 place, const char *verb, const char *sentence, GError **error)
{
  return sw_act_tell (act, SW_SUBJECT_PLACE, place, verb, NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

/* ---- drawing ---- */

static gboolean
set_box (SwCatalogue *catalogue, gint64 place, const SwBox *box, GError **error)
{
  return sw_place_set_box (catalogue, place, box->x, box->y, box->w, box->h, error);
}

/* Behind its neighbours, where those have an order at all. */
static gboolean
walk_last (SwCatalogue *catalogue, gint64 place, gint64 parent, GError **error)
{
  gint64 last = 0;

  return sw_db_get_int (catalogue, &last, NULL, error, SW_STMT_GROUND_LAST, "ii", parent, place)
         && sw_db_run (catalogue, error, SW_STMT_PLACE_SET_WALK_ORDER, "ii", place, last + 1);
}

/* A room stays in its building only where that keeps its place. */
static gboolean
keep_outer (SwCatalogue *catalogue, gint64 parent, const SwBox *shown, GError **error)
{
  g_autoptr (SwPlace) outer = parent != 0 ? sw_place_get (catalogue, parent, error) : NULL;

  if (outer == NULL)
    return parent == 0;
  return outer->has_box || shown == NULL || set_box (catalogue, parent, shown, error);
}

gboolean
sw_ground_draw (SwCatalogue *catalogue, const char *name, gint64 parent, const SwDrawn *drawn,
                gint64 *out_id, GError **error)
{
  g_autoptr (SwPlace) outer = NULL, made = NULL;
  g_autofree char *path = NULL, *sentence = NULL;
  gint64 id = 0;
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_place_name_check (name, error) || !sw_act_begin (&act, catalogue, error)
      || (parent != 0 && (outer = sw_place_get (catalogue, parent, error)) == NULL))
    return FALSE;
  path = outer != NULL ? g_strdup_printf ("%s > %s", outer->path, name) : g_strdup (name);
  if (!sw_place_add (catalogue, path, FALSE, NULL, NULL, &id, error)
      || !keep_outer (catalogue, parent, drawn->outer, error)
      || !set_box (catalogue, id, &drawn->box, error) || !walk_last (catalogue, id, parent, error)
      || (made = sw_place_get (catalogue, id, error)) == NULL)
    return FALSE;
  sentence = g_strdup_printf (_ ("%s drawn on the plan"), made->path);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

static const SwPlace *
find (const GPtrArray *places, gint64 id)
{
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      if (place->id == id)
        return place;
    }
  return NULL;
}

static gboolean
is_inside (const GPtrArray *places, const SwPlace *place, gint64 outer)
{
  for (guint depth = 0; place != NULL && depth <= places->len; depth++)
    {
      if (place->parent == outer)
        return TRUE;
      place = find (places, place->parent);
    }
  return FALSE;
}

/* Boxes that were drawn inside go along by as much as their place was moved. */
static gboolean
take_along (SwCatalogue *catalogue, gint64 place, int dx, int dy, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);

  if (places == NULL)
    return FALSE;
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *each = g_ptr_array_index (places, i);
      SwBox moved = { each->box_x + dx, each->box_y + dy, each->box_w, each->box_h };
      if (each->has_box && is_inside (places, each, place)
          && !set_box (catalogue, each->id, &moved, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
put_box (SwCatalogue *catalogue, const SwPlace *place, const SwDrawn *drawn, GError **error)
{
  const SwBox stored = { place->box_x, place->box_y, place->box_w, place->box_h };
  const SwBox *before = place->has_box ? &stored : drawn->before;

  if (!set_box (catalogue, place->id, &drawn->box, error))
    return FALSE;
  return before == NULL
         || take_along (catalogue, place->id, drawn->box.x - before->x, drawn->box.y - before->y,
                        error);
}

gboolean
sw_ground_put (SwCatalogue *catalogue, gint64 place, gint64 parent, const SwDrawn *drawn,
               GError **error)
{
  g_autoptr (SwPlace) before = NULL, after = NULL;
  g_autofree char *sentence = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error)
      || (before = sw_place_get (catalogue, place, error)) == NULL
      || !sw_place_move (catalogue, place, parent, error)
      || !keep_outer (catalogue, parent, drawn->outer, error)
      || !put_box (catalogue, before, drawn, error)
      || (after = sw_place_get (catalogue, place, error)) == NULL)
    return FALSE;
  if (before->parent != parent)
    sentence = g_strdup_printf (_ ("%s is now %s"), before->path, after->path);
  else
    sentence = g_strdup_printf (_ ("%s: moved on the plan"), after->path);
  return sw_act_commit (&act, sentence, error);
}

/* ---- taking away ---- */

gboolean
sw_ground_remove (SwCatalogue *catalogue, gint64 place, GError **error)
{
  g_autoptr (SwPlace) row = NULL;
  g_autofree char *holds = NULL, *sentence = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error)
      || (row = sw_place_get (catalogue, place, error)) == NULL)
    return FALSE;
  {
    g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_GROUND_HOLDS, "i", place);
    gboolean found = FALSE;
    if (!sw_db_step (catalogue, &use, &found, error))
      return FALSE;
    if (found)
      holds = sw_col_text (&use, 0);
  }
  if (holds != NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s is not empty: it has %s; only a place without anything can be deleted."),
                   row->path, holds);
      return FALSE;
    }
  sentence = g_strdup_printf (_ ("Place '%s' deleted"), row->path);
  return sw_db_run (catalogue, error, SW_STMT_GROUND_STOPS_FORGET, "i", place)
         && sw_db_run (catalogue, error, SW_STMT_GROUND_REMOVE, "i", place)
         && tell_and_commit (&act, place, "place.removed", sentence, error);
}

/* ---- what is said of it ---- */

gboolean
sw_ground_set_walked (SwCatalogue *catalogue, gint64 place, gboolean walked, GError **error)
{
  g_autoptr (SwPlace) row = NULL;
  g_autofree char *sentence = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error)
      || (row = sw_place_get (catalogue, place, error)) == NULL)
    return FALSE;
  if (row->walked == !!walked)
    return TRUE;
  sentence = g_strdup_printf ("%s: %s", row->path,
                              walked ? _ ("looked through")
                                     : _ ("not marked as looked through any more"));
  return sw_db_run (catalogue, error, SW_STMT_GROUND_SET_WALKED, "ii", place, (gint64) !!walked)
         && tell_and_commit (&act, place, "place.walked", sentence, error);
}

gboolean
sw_ground_set_off_property (SwCatalogue *catalogue, gint64 place, gboolean off, GError **error)
{
  g_autoptr (SwPlace) row = NULL;
  g_autofree char *sentence = NULL, *inside = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error)
      || (row = sw_place_get (catalogue, place, error)) == NULL)
    return FALSE;
  if (row->off_property == !!off)
    return TRUE;
  if (row->parent != 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s lies inside another place and is where that is; move it out first."),
                   row->path);
      return FALSE;
    }
  inside = g_strconcat (row->path, " > ", NULL);
  sentence = g_strdup_printf (off ? _ ("%s is off the property") : _ ("%s is on the property"),
                              row->path);
  return sw_db_run (catalogue, error, SW_STMT_GROUND_SET_OFF, "iti", place, inside, (gint64) !!off)
         && tell_and_commit (&act, place, "place.off", sentence, error);
}

/* ---- the order of the walk ---- */

/* Numbers of those beside the place, itself included, in the order they are walked. */
static GArray *
neighbours (SwCatalogue *catalogue, const SwPlace *place, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (places == NULL)
    return NULL;
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *each = g_ptr_array_index (places, i);
      if (each->parent == place->parent && each->off_property == place->off_property)
        g_array_append_val (ids, each->id);
    }
  return g_steal_pointer (&ids);
}

/* FALSE where it stands at that end already. */
static gboolean
shift (GArray *ids, gint64 place, int by)
{
  for (guint i = 0; i < ids->len; i++)
    if (g_array_index (ids, gint64, i) == place)
      {
        int to = CLAMP ((int)i + by, 0, (int)ids->len - 1);
        if (to == (int)i)
          return FALSE;
        g_array_remove_index (ids, i);
        g_array_insert_val (ids, (guint)to, place);
        return TRUE;
      }
  return FALSE;
}

gboolean
sw_ground_shift_walk (SwCatalogue *catalogue, gint64 place, int by, GError **error)
{
  g_autoptr (SwPlace) row = NULL;
  g_autoptr (GArray) ids = NULL;
  g_autofree char *sentence = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error)
      || (row = sw_place_get (catalogue, place, error)) == NULL
      || (ids = neighbours (catalogue, row, error)) == NULL)
    return FALSE;
  if (!shift (ids, place, by))
    return TRUE;
  for (guint i = 0; i < ids->len; i++)
    if (!sw_db_run (catalogue, error, SW_STMT_PLACE_SET_WALK_ORDER, "ii",
                    g_array_index (ids, gint64, i), (gint64)i + 1))
      return FALSE;
  sentence = g_strdup_printf (by < 0 ? _ ("%s: earlier in the walk") : _ ("%s: later in the walk"),
                              row->path);
  return tell_and_commit (&act, place, "place.walk", sentence, error);
}

/* ---- scale ---- */

gboolean
sw_ground_scale (SwCatalogue *catalogue, gint64 *out_um_per_unit, GError **error)
{
  gboolean found = FALSE;
  gint64 scale = 0;

  if (!sw_db_get_int (catalogue, &scale, &found, error, SW_STMT_GROUND_SCALE, ""))
    return FALSE;
  *out_um_per_unit = found ? scale : 0;
  return TRUE;
}

gint64
sw_ground_mm (gint64 um_per_unit, int units)
{
  return (um_per_unit * units + 500) / 1000;
}

gboolean
sw_ground_set_length (SwCatalogue *catalogue, gint64 place, const SwBox *box, gint64 mm,
                      GError **error)
{
  g_autoptr (SwPlace) row = NULL;
  g_autofree char *sentence = NULL, *length = sw_length_to_text (mm);
  gint64 side = MAX (box->w, box->h);
  g_auto (SwAct) act = SW_ACT_INIT;

  if (mm < 100 || mm > 10000000 || side < 1)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A box on the plan is between 0.1 m and 10 km long; %s is not."), length);
      return FALSE;
    }
  if (!sw_act_begin (&act, catalogue, error)
      || (row = sw_place_get (catalogue, place, error)) == NULL
      || !set_box (catalogue, place, box, error)
      || !sw_db_run (catalogue, error, SW_STMT_GROUND_SET_SCALE, "i",
                     MAX (1, (mm * 1000 + side / 2) / side)))
    return FALSE;
  sentence = g_strdup_printf (_ ("%s is %s long: the plan's scale"), row->path, length);
  return tell_and_commit (&act, place, "place.scale", sentence, error);
}

/* ---- where it lies ---- */

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double left = *(const double *)a, right = *(const double *)b;
  return (left > right) - (left < right);
}

static double
middle (GArray *values)
{
  guint n = values->len;

  g_array_sort (values, compare_doubles);
  return (g_array_index (values, double, (n - 1) / 2) + g_array_index (values, double, n / 2)) / 2;
}

/* Longitudes are taken beside the first one, so that a property on the date line is in one piece.
 */
static double
beside (double longitude, double first)
{
  if (longitude - first > 180)
    return longitude - 360;
  return longitude - first < -180 ? longitude + 360 : longitude;
}

static gboolean
read_fixes (SwCatalogue *catalogue, gint64 place, double worst, GArray *north, GArray *east,
            GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_GROUND_FIXES, "id", place, worst);
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, &use, &ok, error))
    {
      double latitude = sw_col_double (&use, 0), longitude = sw_col_double (&use, 1);

      if (east->len > 0)
        longitude = beside (longitude, g_array_index (east, double, 0));
      g_array_append_val (north, latitude);
      g_array_append_val (east, longitude);
    }
  return ok;
}

gboolean
sw_ground_position_from_photos (SwCatalogue *catalogue, gint64 place, GError **error)
{
  g_autoptr (GArray) north = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) east = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (SwPlace) row = sw_place_get (catalogue, place, error);
  double latitude, longitude;

  if (row == NULL || !read_fixes (catalogue, place, GOOD_FIX_M, north, east, error)
      || (north->len == 0 && !read_fixes (catalogue, place, G_MAXDOUBLE, north, east, error)))
    return FALSE;
  if (north->len == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("No photo of %s has a position; type it, or photograph the place with the "
                      "phone's position switched on."),
                   row->path);
      return FALSE;
    }
  latitude = middle (north);
  longitude = middle (east);
  if (longitude > 180)
    longitude -= 360;
  else if (longitude < -180)
    longitude += 360;
  return sw_place_set_position (catalogue, place, latitude, longitude, error);
}
