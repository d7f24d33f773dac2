/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/out-photos.h"

#include <string.h>

#include "core/base/error.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/handout/target.h"
#include "core/intake/jpeg.h"
#include "core/intake/pixels.h"

void
sw_out_photo_free (SwOutPhoto *photo)
{
  if (photo == NULL)
    return;
  g_free (photo->path);
  g_free (photo);
}

void
sw_out_picture_free (SwOutPicture *picture)
{
  if (picture == NULL)
    return;
  g_clear_pointer (&picture->jpeg, g_bytes_unref);
  g_free (picture);
}

/* ---- which ---- */

static gboolean
is_there (const GPtrArray *all, gint64 photo)
{
  for (guint i = 0; i < all->len; i++)
    if (((const SwOutPhoto *)g_ptr_array_index (all, i))->photo == photo)
      return TRUE;
  return FALSE;
}

static gboolean
add_photo (SwCatalogue *catalogue, GPtrArray *all, gint64 number, guint *added, GError **error)
{
  g_autoptr (SwPhoto) photo = sw_photo_get (catalogue, number, error);
  SwOutPhoto *kept;

  if (photo == NULL)
    return FALSE;
  if (photo->aside || strcmp (photo->kind, "photo") != 0 || is_there (all, number))
    return TRUE;
  kept = g_new0 (SwOutPhoto, 1);
  kept->photo = number;
  kept->path = sw_catalogue_path (catalogue, photo->stored);
  kept->orientation = sw_orientation_turned (photo->orientation, photo->turn);
  g_ptr_array_add (all, kept);
  (*added)++;
  return TRUE;
}

static gboolean
add_item (SwCatalogue *catalogue, GPtrArray *all, gint64 number, guint most, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  g_autoptr (GArray) photos = item != NULL ? sw_item_photos (catalogue, number, error) : NULL;
  guint added = 0;

  if (photos == NULL
      || (item->first_photo != 0 && !add_photo (catalogue, all, item->first_photo, &added, error)))
    return FALSE;
  for (guint i = 0; i < photos->len && (most == 0 || added < most); i++)
    if (!add_photo (catalogue, all, g_array_index (photos, gint64, i), &added, error))
      return FALSE;
  return TRUE;
}

GPtrArray *
sw_out_photos (SwCatalogue *catalogue, const GArray *items, guint most, GError **error)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_out_photo_free);

  for (guint i = 0; i < items->len; i++)
    if (!add_item (catalogue, all, g_array_index (items, gint64, i), most, error))
      return NULL;
  return g_steal_pointer (&all);
}

/* ---- the picture ---- */

gboolean
sw_out_photo_make (const SwOutPhoto *photo, SwDecoder *decoder, guint side, int quality,
                   GCancellable *cancellable, SwOutPicture **out_picture, GError **error)
{
  g_autoptr (GError) failure = NULL;
  g_autoptr (SwPicture) picture
      = sw_decoder_decode (decoder, photo->path, photo->orientation, side, cancellable, &failure);
  SwOutPicture *made = NULL;

  if (picture == NULL && g_error_matches (failure, SW_ERROR, SW_ERROR_CANCELLED))
    return sw_target_stopped (error);
  if (picture != NULL)
    {
      const SwPixels pixels
          = { picture->width, picture->height, (guint8 *)g_bytes_get_data (picture->rgb, NULL) };

      made = g_new0 (SwOutPicture, 1);
      made->width = picture->width;
      made->height = picture->height;
      made->jpeg = sw_jpeg_encode (&pixels, quality);
      if (made->jpeg == NULL)
        g_clear_pointer (&made, sw_out_picture_free);
    }
  *out_picture = made;
  return TRUE;
}
