/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clocks that change within a trip, and clocks read off a picture: rows. How a change is found is
 * the match layer's. */
#include <math.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/photos.h"

gboolean
sw_camera_clock_parts_found (SwCatalogue *catalogue, gint64 camera, gint64 trip,
                             const SwCameraClock *parts, gsize n, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin_plain (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_CLOCK_PARTS_DROP, "ii", camera, trip))
    return FALSE;
  for (gsize k = 0; k < n; k++)
    if (!sw_db_run (catalogue, error, SW_STMT_CLOCK_PART_PUT, "iiiddidi", camera, trip,
                    parts[k].from_photo, parts[k].shift_s, parts[k].spread_s,
                    (gint64)parts[k].evidence, parts[k].drift_s_day, parts[k].drift_from_us))
      return FALSE;
  return sw_act_commit (&act, NULL, error);
}

static SwPhoto *
photo_of_clock (SwCatalogue *catalogue, gint64 camera, gint64 trip, gint64 number, GError **error)
{
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, number, error);

  if (photo == NULL)
    return NULL;
  if (photo->camera == camera && photo->trip == trip && photo->has_clock)
    return g_steal_pointer (&photo);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("Photo %" PRId64 " is not one of that camera with a time on trip "
                  "%" PRId64 "; the list of photos shows which are."),
               number, trip);
  return NULL;
}

gboolean
sw_camera_clock_set_from (SwCatalogue *catalogue, gint64 camera, gint64 trip, gint64 number,
                          const double *shift_s, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwPhoto) photo = photo_of_clock (catalogue, camera, trip, number, error);
  g_autofree char *sentence = NULL;

  if (photo == NULL)
    return FALSE;
  if (shift_s != NULL && !(isfinite (*shift_s) && fabs (*shift_s) <= 1.6e9))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The clock shift is not a number of seconds that a clock can be off by."));
      return FALSE;
    }
  sentence = shift_s != NULL
                 ? g_strdup_printf (_ ("%s from photo %" PRId64 " on: clock set to %+.0f s"),
                                    photo->camera_label, number, *shift_s)
                 : g_strdup_printf (_ ("%s from photo %" PRId64 " on: clock open again"),
                                    photo->camera_label, number);
  return sw_act_begin (&act, catalogue, error)
         && (shift_s != NULL ? sw_db_run (catalogue, error, SW_STMT_CLOCK_SET_PUT, "iiid", camera,
                                          trip, number, *shift_s)
                             : sw_db_run (catalogue, error, SW_STMT_CLOCK_SET_DROP, "iii", camera,
                                          trip, number))
         && sw_act_tell (&act, SW_SUBJECT_CAMERA, camera, "camera.clock", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_clock_face_put (SwCatalogue *catalogue, gint64 number, const SwClockFace *seen, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, number, error);
  g_autofree char *sentence = NULL;

  if (photo == NULL)
    return FALSE;
  sentence = g_strdup_printf (seen != NULL ? _ ("A clock read in photo %" PRId64)
                                           : _ ("The clock in photo %" PRId64 " left out"),
                              number);
  return sw_act_begin (&act, catalogue, error)
         && (seen != NULL
                 ? sw_db_run (catalogue, error, SW_STMT_FACE_PUT, "iiii", number, seen->seen_us,
                              (gint64)seen->resolution_s, (gint64)(seen->dated != FALSE))
                 : sw_db_run (catalogue, error, SW_STMT_FACE_DROP, "i", number))
         && sw_act_tell (&act, SW_SUBJECT_PHOTO, number, "photo.clock", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

static void
fill_face (const SwUse *use, gpointer out)
{
  *(SwClockFace *)out = (SwClockFace){ sw_col_int (use, 0), sw_col_int (use, 1),
                                       (int)sw_col_int (use, 2), sw_col_int (use, 3) != 0 };
}

GArray *
sw_clock_face_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FACE_LIST, "i", trip);
  return sw_db_collect_plain (catalogue, &use, sizeof (SwClockFace), fill_face, error);
}
