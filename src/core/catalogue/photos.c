/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos: rows, lists by time, property time; bring-ins and look-alikes. The files are the intake
 * layer's; cameras are in cameras.c, what a photo shows in assign.c. */
#include "core/catalogue/photos.h"

#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/trips.h"

void
sw_photo_free (SwPhoto *photo)
{
  if (photo == NULL)
    return;
  g_free (photo->kind);
  g_free (photo->format);
  g_free (photo->file);
  g_free (photo->stored);
  g_free (photo->hash);
  g_free (photo->camera_label);
  g_free (photo->time_source);
  g_free (photo->remark);
  g_clear_pointer (&photo->likeness, g_bytes_unref);
  g_free (photo);
}

static void
read_time_and_position (SwPhoto *photo, const SwUse *use)
{
  photo->has_clock = !sw_col_is_null (use, 12);
  photo->clock_us = sw_col_int (use, 12);
  photo->has_offset = !sw_col_is_null (use, 13);
  photo->zone_offset_s = (int)sw_col_int (use, 13);
  photo->time_source = sw_col_text (use, 14);
  photo->has_position = !sw_col_is_null (use, 15);
  if (photo->has_position)
    {
      photo->latitude = sw_col_double (use, 15);
      photo->longitude = sw_col_double (use, 16);
    }
  photo->position_error_m = sw_col_double (use, 17);
  photo->has_gps_time = !sw_col_is_null (use, 18);
  photo->gps_us = sw_col_int (use, 18);
}

static SwPhoto *
photo_from_row (const SwUse *use)
{
  SwPhoto *photo = g_new0 (SwPhoto, 1);
  photo->id = sw_col_int (use, 0);
  photo->kind = sw_col_text (use, 1);
  photo->format = sw_col_text (use, 2);
  photo->file = sw_col_text (use, 3);
  photo->stored = sw_col_text (use, 4);
  photo->size = sw_col_int (use, 5);
  photo->hash = sw_col_text (use, 6);
  photo->trip = sw_col_int (use, 7);
  photo->camera = sw_col_int (use, 8);
  photo->companion_of = sw_col_int (use, 9);
  photo->bring_in = sw_col_int (use, 10);
  photo->camera_label = sw_col_text (use, 11);
  read_time_and_position (photo, use);
  photo->orientation = (int)sw_col_int (use, 19);
  photo->width = (int)sw_col_int (use, 20);
  photo->height = (int)sw_col_int (use, 21);
  photo->remark = sw_col_text (use, 22);
  photo->likeness = sw_col_is_null (use, 23) ? NULL : sw_col_blob (use, 23);
  photo->sharpness = sw_col_double (use, 24);
  photo->aside = sw_col_int (use, 25) != 0;
  photo->turn = (int)sw_col_int (use, 26);
  return photo;
}

static gboolean
check_path (const char *file, GError **error)
{
  if (file != NULL && *file != '\0' && g_utf8_validate (file, -1, NULL))
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("The name of the file is empty or no valid text (UTF-8); rename it and bring it "
                  "in again."));
  return FALSE;
}

static gboolean
refuse_known_hash (SwCatalogue *catalogue, const SwPhoto *photo, GError **error)
{
  GError *local = NULL;
  g_autoptr (SwPhoto) other = sw_photo_by_hash (catalogue, photo->hash, &local);
  if (local != NULL)
    {
      g_propagate_error (error, local);
      return FALSE;
    }
  if (other == NULL)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The bytes of '%s' are in the catalogue already, as photo %" PRId64 " '%s'."),
               photo->file, other->id, other->file);
  return FALSE;
}

static gboolean
insert_photo (SwCatalogue *catalogue, const SwPhoto *photo, GError **error)
{
  return sw_db_run (
      catalogue, error, SW_STMT_PHOTO_INSERT, "ttttitIIIiIIttiddidIiIIibd", photo->kind,
      photo->format, photo->file, photo->stored, photo->size, photo->hash, photo->trip != 0,
      photo->trip, photo->camera != 0, photo->camera, photo->companion_of != 0, photo->companion_of,
      photo->bring_in, photo->has_clock, photo->clock_us, photo->has_offset,
      (gint64)photo->zone_offset_s, photo->time_source, photo->remark != NULL ? photo->remark : "",
      (gint64)photo->has_position, photo->latitude, photo->longitude,
      (gint64)(photo->has_position && photo->position_error_m > 0), photo->position_error_m,
      photo->has_gps_time, photo->gps_us, (gint64)MAX (1, photo->orientation), photo->width > 0,
      (gint64)photo->width, photo->height > 0, (gint64)photo->height, (gint64)photo->aside,
      photo->likeness, photo->sharpness);
}

gboolean
sw_photo_add (SwCatalogue *catalogue, SwPhoto *photo, GError **error)
{
  if (!check_path (photo->file, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !refuse_known_hash (catalogue, photo, error)
      || !insert_photo (catalogue, photo, error))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *shown = sw_text_printable (photo->file, -1);
  g_autofree char *sentence = g_strdup_printf (_ ("Photo %" PRId64 " '%s' brought in"), id, shown);
  if (!sw_db_run (catalogue, error, SW_STMT_PHOTO_PATH_PUT, "it", id, photo->file)
      || !sw_act_tell (&act, SW_SUBJECT_PHOTO, id, "photo.added", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  photo->id = id;
  return TRUE;
}

SwPhoto *
sw_photo_get (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_GET, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return photo_from_row (&use);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("There is no photo %" PRId64 "; the list of photos shows their numbers."), id);
  return NULL;
}

SwPhoto *
sw_photo_by_hash (SwCatalogue *catalogue, const char *hash, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_BY_HASH, "t", hash);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error) || !row)
    return NULL;
  return photo_from_row (&use);
}

/* --- time --- */

static gint64
clock_shift_us (const SwCameraClock *clock, gint64 clock_us)
{
  double days = (double)(clock_us - clock->drift_from_us) / 86400e6;

  return (gint64)llround (
      (clock->shift_s + (clock->drift_s_day != 0 ? clock->drift_s_day * days : 0)) * 1e6);
}

SwInstant
sw_photo_time_by (const SwPhoto *photo, const SwCameraClock *clock, const SwZone *zone,
                  SwCivilKind *out_kind)
{
  gint64 shift_us = clock != NULL ? clock_shift_us (clock, photo->clock_us) : 0;
  SwCivil civil = sw_civil_from_us (photo->clock_us + shift_us);
  SwCivilKind kind = SW_CIVIL_PLAIN;
  gboolean by_offset = photo->has_offset && !(clock != NULL && clock->set_by_person);
  SwInstant instant = by_offset ? sw_civil_at_offset (civil, photo->zone_offset_s)
                                : sw_civil_to_instant (civil, zone, &kind);
  if (out_kind != NULL)
    *out_kind = kind;
  return instant;
}

gboolean
sw_photo_property_time (SwCatalogue *catalogue, const GArray *clocks, const SwPhoto *photo,
                        SwInstant *out, SwCivilKind *out_kind)
{
  if (!photo->has_clock)
    return FALSE;
  const SwCameraClock *clock
      = sw_camera_clock_for (clocks, photo->camera, photo->trip, photo->file, photo->id);
  *out = sw_photo_time_by (photo, clock, sw_catalogue_zone (catalogue), out_kind);
  return TRUE;
}

static int
compare_clock_keys (gconstpointer a, gconstpointer b)
{
  const SwCameraClock *left = a, *right = b;
  if (left->camera != right->camera)
    return left->camera < right->camera ? -1 : 1;
  return left->trip < right->trip ? -1 : left->trip > right->trip;
}

const SwCameraClock *
sw_camera_clock_in (const GArray *clocks, gint64 camera, gint64 trip)
{
  SwCameraClock key = { .camera = camera, .trip = trip };
  guint at = 0;
  if (!g_array_binary_search ((GArray *)clocks, &key, compare_clock_keys, &at))
    return NULL;
  const SwCameraClock *clock = &g_array_index (clocks, SwCameraClock, at);
  for (; at > 0 && compare_clock_keys (clock - 1, &key) == 0; at--)
    clock--;
  return clock->from_photo == 0 ? clock : NULL;
}

const SwCameraClock *
sw_camera_clock_for (const GArray *clocks, gint64 camera, gint64 trip, const char *file,
                     gint64 photo)
{
  SwCameraClock key = { .camera = camera, .trip = trip };
  const SwCameraClock *held = NULL;
  guint at = 0;
  if (!g_array_binary_search ((GArray *)clocks, &key, compare_clock_keys, &at))
    return NULL;
  while (at > 0 && compare_clock_keys (&g_array_index (clocks, SwCameraClock, at - 1), &key) == 0)
    at--;
  for (; at < clocks->len; at++)
    {
      const SwCameraClock *clock = &g_array_index (clocks, SwCameraClock, at);
      int order = g_strcmp0 (clock->from_file, file);
      if (compare_clock_keys (clock, &key) != 0
          || (clock->from_photo != 0 && (order > 0 || (order == 0 && clock->from_photo > photo))))
        break;
      held = clock;
    }
  return held;
}

typedef struct
{
  SwPhoto *photo;
  gint64 us;
} Timed;

static int
compare_timed (gconstpointer a, gconstpointer b)
{
  const Timed *left = a, *right = b;
  if (left->us != right->us)
    return left->us < right->us ? -1 : 1;
  return left->photo->id < right->photo->id ? -1 : left->photo->id > right->photo->id;
}

/* Sorts by property time, then number; photos without a time come last. */
static gboolean
sort_by_time (SwCatalogue *catalogue, GPtrArray *photos, GError **error)
{
  g_autoptr (GArray) clocks = sw_camera_clock_list (catalogue, error);
  if (clocks == NULL)
    return FALSE;
  const SwZone *zone = sw_catalogue_zone (catalogue);
  g_autoptr (GArray) timed = g_array_sized_new (FALSE, FALSE, sizeof (Timed), photos->len);
  for (guint i = 0; i < photos->len; i++)
    {
      SwPhoto *photo = g_ptr_array_index (photos, i);
      const SwCameraClock *clock
          = sw_camera_clock_for (clocks, photo->camera, photo->trip, photo->file, photo->id);
      Timed one = { photo, G_MAXINT64 };
      if (photo->has_clock)
        one.us = sw_photo_time_by (photo, clock, zone, NULL).us;
      g_array_append_val (timed, one);
    }
  g_array_sort (timed, compare_timed);
  for (guint i = 0; i < timed->len; i++)
    photos->pdata[i] = g_array_index (timed, Timed, i).photo;
  return TRUE;
}

GPtrArray *
sw_photo_list (SwCatalogue *catalogue, gint64 trip, gboolean with_asides, GError **error)
{
  g_autoptr (GPtrArray) photos = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_photo_free);
  {
    g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_LIST, "ii", trip, (gint64)with_asides);
    gboolean ok = TRUE;
    while (sw_db_next (catalogue, &use, &ok, error))
      g_ptr_array_add (photos, photo_from_row (&use));
    if (!ok)
      return NULL;
  }
  return sort_by_time (catalogue, photos, error) ? g_steal_pointer (&photos) : NULL;
}

/* --- changes --- */

/* Tells and commits when the statement before it changed a row; else there is nothing to keep. */
static gboolean
tell_if_changed (SwCatalogue *catalogue, SwAct *act, gint64 id, const char *verb,
                 const char *sentence, GError **error)
{
  if (sw_db_changes (catalogue) == 0)
    return TRUE;
  return sw_act_tell (act, SW_SUBJECT_PHOTO, id, verb, NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

static gboolean
photo_exists (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, id, error);
  return photo != NULL;
}

gboolean
sw_photo_add_path (SwCatalogue *catalogue, gint64 id, const char *file, GError **error)
{
  if (!check_path (file, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !photo_exists (catalogue, id, error)
      || !sw_db_run (catalogue, error, SW_STMT_PHOTO_PATH_PUT, "it", id, file))
    return FALSE;
  if (sw_db_changes (catalogue) == 0)
    return TRUE;
  g_autofree char *shown = sw_text_printable (file, -1);
  g_autofree char *sentence
      = g_strdup_printf (_ ("Photo %" PRId64 " met again as '%s'"), id, shown);
  return sw_db_run (catalogue, error, SW_STMT_PHOTO_NAME_FIRST, "i", id)
         && sw_act_tell (&act, SW_SUBJECT_PHOTO, id, "photo.path", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_photo_set_trip (SwCatalogue *catalogue, gint64 id, gint64 trip, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !photo_exists (catalogue, id, error))
    return FALSE;
  g_autoptr (SwTrip) found = trip != 0 ? sw_trip_get (catalogue, trip, error) : NULL;
  if (trip != 0 && found == NULL)
    return FALSE;
  if (!sw_db_run (catalogue, error, SW_STMT_PHOTO_SET_TRIP, "iI", id, trip != 0, trip))
    return FALSE;
  g_autofree char *sentence
      = trip != 0 ? g_strdup_printf (_ ("Photo %" PRId64 " to trip %" PRId64), id, trip)
                  : g_strdup_printf (_ ("Photo %" PRId64 " to no trip"), id);
  return tell_if_changed (catalogue, &act, id, "photo.trip", sentence, error);
}

gboolean
sw_photo_set_companion (SwCatalogue *catalogue, gint64 id, gint64 companion_of, GError **error)
{
  if (id == companion_of)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("Photo %" PRId64 " cannot be its own companion."), id);
      return FALSE;
    }
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !photo_exists (catalogue, id, error)
      || (companion_of != 0 && !photo_exists (catalogue, companion_of, error))
      || !sw_db_run (catalogue, error, SW_STMT_PHOTO_SET_COMPANION, "iI", id, companion_of != 0,
                     companion_of))
    return FALSE;
  g_autofree char *sentence
      = companion_of != 0
            ? g_strdup_printf (_ ("%" PRId64 " goes with photo %" PRId64), id, companion_of)
            : g_strdup_printf (_ ("%" PRId64 " stands alone"), id);
  return tell_if_changed (catalogue, &act, id, "photo.companion", sentence, error);
}

gboolean
sw_photo_set_likeness (SwCatalogue *catalogue, gint64 id, GBytes *likeness, double sharpness,
                       int width, int height, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin_plain (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_PHOTO_SET_LIKENESS, "ibdII", id, likeness,
                       sharpness, width > 0, (gint64)width, height > 0, (gint64)height)
         && sw_act_commit (&act, NULL, error);
}

/* --- what a photo shows --- */

GArray *
sw_photo_items (SwCatalogue *catalogue, gint64 id, gboolean *out_no_item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_ITEMS, "i", id);
  g_autoptr (GArray) items = sw_db_collect_ids (catalogue, &use, error);
  gint64 one = 0;
  gboolean none = FALSE;
  if (items == NULL
      || !sw_db_get_int (catalogue, &one, &none, error, SW_STMT_PHOTO_NO_ITEM, "i", id))
    return NULL;
  if (out_no_item != NULL)
    *out_no_item = none;
  return g_steal_pointer (&items);
}

static gboolean
read_pairs (SwCatalogue *catalogue, GArray *shown, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_ITEM_PAIRS, "");
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwPhotoShows one = { sw_col_int (&use, 0), sw_col_int (&use, 1), sw_col_int (&use, 2) != 0 };
      g_array_append_val (shown, one);
    }
  return ok;
}

static gboolean
read_no_items (SwCatalogue *catalogue, GArray *shown, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_NO_ITEM_LIST, "");
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwPhotoShows one = { sw_col_int (&use, 0), 0, FALSE };
      g_array_append_val (shown, one);
    }
  return ok;
}

static int
compare_shown (gconstpointer a, gconstpointer b)
{
  const SwPhotoShows *left = a, *right = b;
  if (left->photo != right->photo)
    return left->photo < right->photo ? -1 : 1;
  if (left->also != right->also)
    return left->also ? 1 : -1;
  return left->item < right->item ? -1 : left->item > right->item;
}

GArray *
sw_photo_shows_list (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GArray) shown = g_array_new (FALSE, FALSE, sizeof (SwPhotoShows));
  if (!read_pairs (catalogue, shown, error) || !read_no_items (catalogue, shown, error))
    return NULL;
  g_array_sort (shown, compare_shown);
  return g_steal_pointer (&shown);
}

static void
moment_free (gpointer data)
{
  SwPhotoMoment *moment = data;
  g_free (moment->kind);
  g_free (moment->file);
  g_free (moment);
}

static SwPhotoMoment *
moment_from_row (SwCatalogue *catalogue, const SwUse *use, gint64 trip, const GArray *clocks)
{
  SwPhotoMoment *moment = g_new0 (SwPhotoMoment, 1);
  const SwZone *zone = sw_catalogue_zone (catalogue);
  SwPhoto photo = { .has_clock = !sw_col_is_null (use, 3), .has_offset = !sw_col_is_null (use, 4) };
  moment->photo = sw_col_int (use, 0);
  moment->kind = sw_col_text (use, 1);
  moment->file = sw_col_text (use, 2);
  moment->timed = photo.has_clock;
  if (!moment->timed)
    return moment;
  photo.clock_us = sw_col_int (use, 3);
  photo.zone_offset_s = photo.has_offset ? (int)sw_col_int (use, 4) : 0;
  const SwCameraClock *clock
      = sw_camera_clock_for (clocks, sw_col_int (use, 5), trip, moment->file, moment->photo);
  SwInstant at = sw_photo_time_by (&photo, clock, zone, NULL);
  moment->t_us = sw_civil_to_us (sw_civil_from_instant (at, zone, NULL));
  return moment;
}

GPtrArray *
sw_photo_moments (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GPtrArray) moments = g_ptr_array_new_with_free_func (moment_free);
  g_autoptr (GArray) clocks = sw_camera_clock_list (catalogue, error);
  if (clocks == NULL)
    return NULL;
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_MOMENTS, "i", trip);
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    g_ptr_array_add (moments, moment_from_row (catalogue, &use, trip, clocks));
  return ok ? g_steal_pointer (&moments) : NULL;
}
