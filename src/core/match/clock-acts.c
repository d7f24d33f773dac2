/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person says of a camera's clock. Finds nothing by itself: the pairing does. */
#include "core/match/clock-words.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/photos.h"

#include <string.h>

static gboolean
pair_anew (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (SwPairing) pairing = sw_pairing_run (catalogue, trip, NULL, error);

  return pairing != NULL;
}

/* Whether 'photo' is the first of its camera on the trip, by file: from it on is all of them. */
static gboolean
is_first (SwCatalogue *catalogue, gint64 camera, gint64 trip, gint64 photo, gboolean *out_first,
          GError **error)
{
  g_autoptr (GPtrArray) photos = sw_photo_list (catalogue, trip, FALSE, error);
  const SwPhoto *first = NULL;

  if (photos == NULL)
    return FALSE;
  for (guint k = 0; k < photos->len; k++)
    {
      const SwPhoto *one = g_ptr_array_index (photos, k);

      if (one->camera == camera && g_str_equal (one->kind, "photo")
          && (first == NULL || strcmp (one->file, first->file) < 0))
        first = one;
    }
  *out_first = first != NULL && first->id == photo;
  return TRUE;
}

gboolean
sw_clock_set (SwCatalogue *catalogue, const char *camera_text, gint64 trip, gint64 from,
              const double *shift_s, GError **error)
{
  g_autoptr (SwCamera) camera = sw_camera_find (catalogue, camera_text, error);
  gboolean first = FALSE;

  if (camera == NULL || (from != 0 && !is_first (catalogue, camera->id, trip, from, &first, error)))
    return FALSE;
  if (from != 0 && !first)
    return sw_camera_clock_set_from (catalogue, camera->id, trip, from, shift_s, error)
           && (shift_s != NULL || pair_anew (catalogue, trip, error));
  if (shift_s != NULL)
    {
      SwCameraClock clock
          = { .camera = camera->id, .trip = trip, .shift_s = *shift_s, .set_by_person = TRUE };

      return sw_camera_clock_put (catalogue, &clock, error);
    }
  return sw_camera_clock_drop (catalogue, camera->id, trip, error)
         && pair_anew (catalogue, trip, error);
}

/* --- a clock in a picture --- */

gboolean
sw_clock_see (SwCatalogue *catalogue, const char *camera_text, gint64 trip, gint64 number,
              const char *time, GError **error)
{
  g_autoptr (SwCamera) camera = sw_camera_find (catalogue, camera_text, error);
  g_autoptr (SwPhoto) photo = camera != NULL ? sw_photo_get (catalogue, number, error) : NULL;
  SwClockFace face = { .photo = number };
  gboolean none = g_strcmp0 (time, "none") == 0;

  if (photo == NULL
      || (!none && !sw_clock_face_parse (time, sw_catalogue_zone (catalogue), &face, error)))
    return FALSE;
  if (photo->camera != camera->id || photo->trip != trip || !photo->has_clock)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                   _ ("Photo %" PRId64 " is not one of %s with a time on trip "
                      "%" PRId64 "; the list of photos shows which are."),
                   number, camera->label, trip);
      return FALSE;
    }
  return sw_clock_face_put (catalogue, number, none ? NULL : &face, error)
         && pair_anew (catalogue, trip, error);
}
