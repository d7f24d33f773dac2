/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places: rows, paths as people type them, their boxes on the plan.
 * Names are compared without case over the whole list: there are some hundred places at most. */
#include "core/catalogue/places.h"

#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/items.h"
#include "core/catalogue/near.h"
#include "core/catalogue/photos.h"

#define PATH_SEPARATOR " > "
#define PATH_DEPTH_MAX 10
/* The plan may be scrolled; a box far outside every screen is a mistake. */
#define BOX_LIMIT 100000

void
sw_place_free (SwPlace *place)
{
  if (place == NULL)
    return;
  g_free (place->name);
  g_free (place->path);
  g_free (place);
}

static SwPlace *
place_from_row (const SwUse *use)
{
  SwPlace *place = g_new0 (SwPlace, 1);
  place->id = sw_col_int (use, 0);
  place->parent = sw_col_int (use, 1);
  place->name = sw_col_text (use, 2);
  place->path = sw_col_text (use, 3);
  place->off_property = sw_col_int (use, 4) != 0;
  place->has_position = !sw_col_is_null (use, 5);
  if (place->has_position)
    {
      place->latitude = sw_col_double (use, 5);
      place->longitude = sw_col_double (use, 6);
    }
  place->has_box = !sw_col_is_null (use, 7);
  if (place->has_box)
    {
      place->box_x = (int)sw_col_int (use, 7);
      place->box_y = (int)sw_col_int (use, 8);
      place->box_w = (int)sw_col_int (use, 9);
      place->box_h = (int)sw_col_int (use, 10);
    }
  place->walk_order = (int)sw_col_int (use, 11);
  place->walked = sw_col_int (use, 12) != 0;
  return place;
}

/* 'A>B' to { "A", "B", NULL }, each tidied and checked. */
static char **
split_path (const char *path, GError **error)
{
  if (!sw_text_check (path, _ ("The place"), FALSE, FALSE, error))
    return NULL;
  g_auto (GStrv) parts = g_strsplit (path, ">", -1);
  guint n = g_strv_length (parts);
  if (n > PATH_DEPTH_MAX)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_REFUSED,
          _ ("The place lies %u levels deep; places nest at most %d deep, so leave some out."), n,
          PATH_DEPTH_MAX);
      return NULL;
    }
  for (guint i = 0; i < n; i++)
    {
      char *tidy = sw_text_tidy (parts[i]);
      g_free (parts[i]);
      parts[i] = tidy;
      if (*tidy == '\0')
        {
          g_autofree char *shown = sw_text_printable (path, -1);
          g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                       _ ("A part of the place '%s' is empty; write it as 'Building > Spot'."),
                       shown);
          return NULL;
        }
    }
  return g_steal_pointer (&parts);
}

static char *
join_path (const char *parent, const char *name)
{
  return parent == NULL ? g_strdup (name) : g_strconcat (parent, PATH_SEPARATOR, name, NULL);
}

/* NULL without error where none has the path; the exact one wins, else the same but for case. */
static SwPlace *
look_up (SwCatalogue *catalogue, const char *path, GError **error)
{
  {
    g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PLACE_BY_PATH, "t", path);
    gboolean row = FALSE;
    if (!sw_db_step (catalogue, &use, &row, error))
      return NULL;
    if (row)
      return place_from_row (&use);
  }
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  if (places == NULL)
    return NULL;
  for (guint i = 0; i < places->len; i++)
    {
      SwPlace *place = g_ptr_array_index (places, i);
      if (sw_text_same_name (place->path, path))
        return g_ptr_array_steal_index (places, i);
    }
  return NULL;
}

/* FALSE only on error; *out_place NULL where there is none. */
static gboolean
look_up_checked (SwCatalogue *catalogue, const char *path, SwPlace **out_place, GError **error)
{
  GError *local = NULL;
  SwPlace *place = look_up (catalogue, path, &local);
  if (local != NULL)
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  *out_place = place;
  return TRUE;
}

typedef struct
{
  gboolean off_property;
  const double *latitude, *longitude; /* of the last part; both or none */
} NewPlace;

static gboolean
insert_place (SwCatalogue *catalogue, SwAct *act, const SwPlace *parent, const char *name,
              const NewPlace *what, gboolean last, SwPlace **out_place, GError **error)
{
  g_autofree char *path = join_path (parent != NULL ? parent->path : NULL, name);
  gboolean off = what->off_property || (parent != NULL && parent->off_property);
  gboolean positioned = last && what->latitude != NULL;
  if (!sw_text_check_not_none (name, _ ("The name of a place"), error)
      || !sw_db_run (catalogue, error, SW_STMT_PLACE_INSERT, "Ittiidd", parent != NULL,
                     parent != NULL ? parent->id : (gint64)0, name, path, (gint64)off,
                     (gint64)positioned, positioned ? *what->latitude : 0.0,
                     positioned ? *what->longitude : 0.0))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence = g_strdup_printf (_ ("Place '%s' added"), path);
  if (!sw_act_tell (act, SW_SUBJECT_PLACE, id, "place.added", NULL, sentence, error))
    return FALSE;
  *out_place = sw_place_get (catalogue, id, error);
  return *out_place != NULL;
}

/* Walks down the parts and makes those that are missing, beneath the places that are there already.
 */
static gboolean
make_parts (SwCatalogue *catalogue, SwAct *act, char **parts, const NewPlace *what,
            SwPlace **out_place, gboolean *out_made, GError **error)
{
  g_autoptr (SwPlace) parent = NULL;
  gboolean made = FALSE;
  for (guint i = 0; parts[i] != NULL; i++)
    {
      SwPlace *next = NULL;
      g_autofree char *path = join_path (parent != NULL ? parent->path : NULL, parts[i]);
      if (!look_up_checked (catalogue, path, &next, error))
        return FALSE;
      made = next == NULL;
      if (next == NULL
          && !insert_place (catalogue, act, parent, parts[i], what, parts[i + 1] == NULL, &next,
                            error))
        return FALSE;
      sw_place_free (parent);
      parent = next;
    }
  *out_place = g_steal_pointer (&parent);
  *out_made = made;
  return TRUE;
}

static gboolean
check_position (const double *latitude, const double *longitude, GError **error)
{
  if ((latitude == NULL) != (longitude == NULL))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A position needs both latitude and longitude, in degrees."));
      return FALSE;
    }
  if (latitude == NULL)
    return TRUE;
  if (isfinite (*latitude) && isfinite (*longitude) && fabs (*latitude) <= 90.0
      && fabs (*longitude) <= 180.0)
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("The position is not on the globe: latitude runs from -90 to 90 and longitude from "
         "-180 to 180 degrees."));
  return FALSE;
}

gboolean
sw_place_add (SwCatalogue *catalogue, const char *path, gboolean off_property,
              const double *latitude, const double *longitude, gint64 *out_id, GError **error)
{
  g_auto (GStrv) parts = split_path (path, error);
  if (parts == NULL || !check_position (latitude, longitude, error))
    return FALSE;
  NewPlace what = { off_property, latitude, longitude };
  g_autoptr (SwPlace) place = NULL;
  gboolean made = FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !make_parts (catalogue, &act, parts, &what, &place, &made, error))
    return FALSE;
  if (!made)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_REFUSED,
          _ ("There is a place '%s' already; names that differ only in capitals are the same "
             "place."),
          place->path);
      return FALSE;
    }
  g_autofree char *sentence = g_strdup_printf (_ ("Place '%s' added"), place->path);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = place->id;
  return TRUE;
}

gboolean
sw_place_ensure (SwCatalogue *catalogue, const char *path, gint64 *out_id, gboolean *out_made,
                 GError **error)
{
  g_auto (GStrv) parts = split_path (path, error);
  if (parts == NULL)
    return FALSE;
  g_autofree char *tidy = g_strjoinv (PATH_SEPARATOR, parts);
  g_autoptr (SwPlace) place = NULL;
  gboolean made = FALSE;
  if (!look_up_checked (catalogue, tidy, &place, error))
    return FALSE;
  if (place == NULL)
    {
      NewPlace what = { FALSE, NULL, NULL };
      g_auto (SwAct) act = SW_ACT_INIT;
      if (!sw_act_begin (&act, catalogue, error)
          || !make_parts (catalogue, &act, parts, &what, &place, &made, error))
        return FALSE;
      g_autofree char *sentence = g_strdup_printf (_ ("Place '%s' added"), place->path);
      if (!sw_act_commit (&act, sentence, error))
        return FALSE;
    }
  if (out_id != NULL)
    *out_id = place->id;
  if (out_made != NULL)
    *out_made = made;
  return TRUE;
}

static void
set_no_place (SwCatalogue *catalogue, const char *path, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  if (places == NULL)
    return;
  g_autoptr (SwNear) near_names = sw_near_new (path);
  /* A spot is often typed without its building, so its own name counts as well as its path. */
  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      if (sw_text_same_name (place->name, path))
        sw_near_free (near_names), near_names = sw_near_new (place->path);
    }
  for (guint i = 0; i < places->len; i++)
    sw_near_consider (near_names, ((const SwPlace *)g_ptr_array_index (places, i))->path);
  g_autofree char *words = sw_near_words (near_names);
  g_autofree char *shown = sw_text_printable (path, -1);
  if (words != NULL)
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 _ ("There is no place '%s'; did you mean %s? Else add it as a place first."),
                 shown, words);
  else
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                 _ ("There is no place '%s'; add it first: shedwalk place add CATALOGUE '%s'."),
                 shown, shown);
}

SwPlace *
sw_place_find (SwCatalogue *catalogue, const char *path, GError **error)
{
  g_auto (GStrv) parts = split_path (path, error);
  if (parts == NULL)
    return NULL;
  g_autofree char *tidy = g_strjoinv (PATH_SEPARATOR, parts);
  SwPlace *place = NULL;
  if (!look_up_checked (catalogue, tidy, &place, error))
    return NULL;
  if (place == NULL)
    set_no_place (catalogue, tidy, error);
  return place;
}

SwPlace *
sw_place_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PLACE_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return place_from_row (&use);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("There is no place with the key %" PRId64 "; look at the list of places."), id);
  return NULL;
}

/* The places inside 'parent', in the order they came, each with what is inside it. A ring of
 * parents, which only a damaged catalogue has, is never entered from outside. */
static void
take_inside (GPtrArray *rows, gint64 parent, GPtrArray *ordered)
{
  for (guint i = 0; i < rows->len; i++)
    {
      SwPlace *place = g_ptr_array_index (rows, i);
      if (place == NULL || place->parent != parent)
        continue;
      rows->pdata[i] = NULL;
      g_ptr_array_add (ordered, place);
      take_inside (rows, place->id, ordered);
    }
}

GPtrArray *
sw_place_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PLACE_LIST, "");
  g_autoptr (GPtrArray) rows = sw_db_collect (catalogue, &use, (SwRowFunc)place_from_row,
                                              (GDestroyNotify)sw_place_free, error);
  g_autoptr (GPtrArray) ordered = NULL;

  if (rows == NULL)
    return NULL;
  ordered = g_ptr_array_new_full (rows->len, (GDestroyNotify)sw_place_free);
  take_inside (rows, 0, ordered);
  for (guint i = 0; i < rows->len; i++)
    if (rows->pdata[i] != NULL)
      g_ptr_array_add (ordered, g_steal_pointer (&rows->pdata[i]));
  return g_steal_pointer (&ordered);
}

/* Tells the event and commits under the same sentence. */
static gboolean
tell_and_commit (SwAct *act, gint64 id, const char *verb, const char *sentence, GError **error)
{
  return sw_act_tell (act, SW_SUBJECT_PLACE, id, verb, NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

gboolean
sw_place_set_box (SwCatalogue *catalogue, gint64 id, int x, int y, int w, int h, GError **error)
{
  if (w < 1 || h < 1 || w > BOX_LIMIT || h > BOX_LIMIT || ABS ((gint64)x) > BOX_LIMIT
      || ABS ((gint64)y) > BOX_LIMIT)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The box lies outside the plan or has no size; drag it open on the plan."));
      return FALSE;
    }
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  if (place == NULL)
    return FALSE;
  if (place->has_box && place->box_x == x && place->box_y == y && place->box_w == w
      && place->box_h == h)
    return TRUE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s %s the plan"), place->path,
                                               place->has_box ? _ ("moved on") : _ ("drawn on"));
  return sw_db_run (catalogue, error, SW_STMT_PLACE_SET_BOX, "iiiii", id, (gint64)x, (gint64)y,
                    (gint64)w, (gint64)h)
         && tell_and_commit (&act, id, "place.box", sentence, error);
}

gboolean
sw_place_set_position (SwCatalogue *catalogue, gint64 id, double latitude, double longitude,
                       GError **error)
{
  if (!check_position (&latitude, &longitude, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  if (place == NULL)
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: position set"), place->path);
  return sw_db_run (catalogue, error, SW_STMT_PLACE_SET_POSITION, "idd", id, latitude, longitude)
         && tell_and_commit (&act, id, "place.position", sentence, error);
}

gboolean
sw_place_set_walk_order (SwCatalogue *catalogue, gint64 id, int walk_order, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  if (place == NULL)
    return FALSE;
  if (place->walk_order == walk_order)
    return TRUE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s: stands at %d of the walk"), place->path, walk_order);
  return sw_db_run (catalogue, error, SW_STMT_PLACE_SET_WALK_ORDER, "ii", id, (gint64)walk_order)
         && tell_and_commit (&act, id, "place.walk", sentence, error);
}

static gboolean
rename_rows (SwCatalogue *catalogue, const SwPlace *place, const char *name, const char *path,
             GError **error)
{
  g_autofree char *old_prefix = g_strconcat (place->path, PATH_SEPARATOR, NULL);
  g_autofree char *new_prefix = g_strconcat (path, PATH_SEPARATOR, NULL);
  return sw_db_run (catalogue, error, SW_STMT_PLACE_RENAME, "itt", place->id, name, path)
         && sw_db_run (catalogue, error, SW_STMT_PLACE_RENAME_INSIDE, "tt", old_prefix, new_prefix);
}

/* { "Loft", NULL } of ' loft '; NULL where it is no single name. */
static char **
own_name (const char *name, GError **error)
{
  g_auto (GStrv) parts = split_path (name, error);
  if (parts == NULL)
    return NULL;
  if (parts[1] == NULL)
    return g_steal_pointer (&parts);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("A place's own name has no '>' in it; give the last part alone."));
  return NULL;
}

gboolean
sw_place_name_check (const char *name, GError **error)
{
  g_auto (GStrv) parts = own_name (name, error);
  return parts != NULL;
}

gboolean
sw_place_rename (SwCatalogue *catalogue, gint64 id, const char *name, GError **error)
{
  g_auto (GStrv) parts = own_name (name, error);
  if (parts == NULL)
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  if (place == NULL)
    return FALSE;
  gsize n_parent = strlen (place->path) - strlen (place->name);
  g_autofree char *parent = g_strndup (place->path, n_parent);
  g_autofree char *path = g_strconcat (parent, parts[0], NULL);
  g_autoptr (SwPlace) other = NULL;
  if (!look_up_checked (catalogue, path, &other, error))
    return FALSE;
  if (other != NULL && other->id != id)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("There is a place '%s' already; choose another name."), other->path);
      return FALSE;
    }
  if (strcmp (path, place->path) == 0)
    return TRUE;
  if (!sw_text_check_not_none (parts[0], _ ("The name of a place"), error))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s is now called '%s'"), place->path, parts[0]);
  return rename_rows (catalogue, place, parts[0], path, error)
         && tell_and_commit (&act, id, "place.renamed", sentence, error);
}

/* With the deepest of what is inside it. */
static gboolean
check_depth (SwCatalogue *catalogue, const SwPlace *place, const char *path, GError **error)
{
  g_autofree char *inside = g_strconcat (place->path, PATH_SEPARATOR, NULL);
  gint64 deepest = 0;
  if (!sw_db_get_int (catalogue, &deepest, NULL, error, SW_STMT_PLACE_DEPTH_INSIDE, "t", inside))
    return FALSE;
  g_auto (GStrv) before = g_strsplit (place->path, PATH_SEPARATOR, -1);
  g_auto (GStrv) after = g_strsplit (path, PATH_SEPARATOR, -1);
  gint64 own = g_strv_length (before) - 1;
  gint64 below = MAX (0, deepest - own);
  if (g_strv_length (after) + below <= PATH_DEPTH_MAX)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("%s would lie too deep: places nest at most %d times."), path, PATH_DEPTH_MAX);
  return FALSE;
}

static gboolean
check_parent (SwCatalogue *catalogue, const SwPlace *place, const SwPlace *parent, const char *path,
              GError **error)
{
  g_autofree char *inside = g_strconcat (place->path, PATH_SEPARATOR, NULL);
  g_autoptr (SwPlace) other = NULL;
  if (parent != NULL && (parent->id == place->id || g_str_has_prefix (parent->path, inside)))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s cannot be moved into %s: that is %s; choose a place outside it."),
                   place->path, parent->path,
                   parent->id == place->id ? _ ("the same place") : _ ("one of its own rooms"));
      return FALSE;
    }
  if (!look_up_checked (catalogue, path, &other, error))
    return FALSE;
  if (other != NULL && other->id != place->id)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("There is a place '%s' already; rename one of them first."), other->path);
      return FALSE;
    }
  return check_depth (catalogue, place, path, error);
}

gboolean
sw_place_move (SwCatalogue *catalogue, gint64 id, gint64 parent_id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  g_autoptr (SwPlace) parent = NULL;
  if (place == NULL
      || (parent_id != 0 && (parent = sw_place_get (catalogue, parent_id, error)) == NULL))
    return FALSE;
  if (place->parent == parent_id)
    return TRUE;
  g_autofree char *path = parent != NULL
                              ? g_strconcat (parent->path, PATH_SEPARATOR, place->name, NULL)
                              : g_strdup (place->name);
  if (!check_parent (catalogue, place, parent, path, error))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s is now %s"), place->path, path);
  return sw_db_run (catalogue, error, SW_STMT_PLACE_SET_PARENT, "iI", id, parent_id != 0, parent_id)
         && rename_rows (catalogue, place, place->name, path, error)
         && tell_and_commit (&act, id, "place.moved", sentence, error);
}

gboolean
sw_place_add_photo (SwCatalogue *catalogue, gint64 id, gint64 photo, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  g_autoptr (SwPhoto) shown = place != NULL ? sw_photo_get (catalogue, photo, error) : NULL;
  if (shown == NULL || !sw_db_run (catalogue, error, SW_STMT_PLACE_PHOTO_PUT, "ii", id, photo))
    return FALSE;
  if (sw_db_changes (catalogue) == 0)
    return TRUE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("Photo %" PRId64 " shows %s"), photo, place->path);
  return tell_and_commit (&act, id, "place.photo", sentence, error);
}

gboolean
sw_place_give_photos (SwCatalogue *catalogue, gint64 id, const gint64 *photos, gsize n,
                      GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPlace) place = sw_place_get (catalogue, id, error);
  if (place == NULL || !sw_item_assign_none (catalogue, photos, n, "building", error))
    return FALSE;
  for (gsize k = 0; k < n; k++)
    if (!sw_db_run (catalogue, error, SW_STMT_PLACE_PHOTO_LEAVE, "ii", photos[k], id)
        || !sw_place_add_photo (catalogue, id, photos[k], error))
      return FALSE;
  g_autofree char *sentence
      = sw_text_counted ((gint64)n, "%zu photo shows %s", "%zu photos show %s", n, place->path);
  return sw_act_commit (&act, sentence, error);
}

static void
fill_photo (const SwUse *use, gpointer out)
{
  *(SwPlacePhoto *)out = (SwPlacePhoto){ sw_col_int (use, 0), sw_col_int (use, 1) };
}

GArray *
sw_place_photo_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PLACE_PHOTO_ALL, "i", trip);
  return sw_db_collect_plain (catalogue, &use, sizeof (SwPlacePhoto), fill_photo, error);
}
