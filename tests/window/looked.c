/* SPDX-License-Identifier: GPL-3.0-or-later */
/* looked CATALOGUE: enters all photos as looked at, with thumbnails, likenesses and measures made
 * up from their numbers, so that a catalogue of many photos stands in seconds. For tests of the
 * window alone: what it enters is of no use to anybody. */
#include <glib/gprintf.h>

#include "core/catalogue/act.h"
#include "core/catalogue/photo-codes.h"
#include "core/catalogue/photo-quality.h"
#include "core/catalogue/thumb-store.h"
#include "core/intake/quality.h"
#include "core/intake/thumbs.h"

static gboolean
look_at (SwCatalogue *catalogue, const SwPhoto *photo, GError **error)
{
  guint8 likeness[72];
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  SwPhotoQuality quality
      = { .photo = photo->id, .sharpness = 200, .focus = 0.2, .mean = 110 + (int)(photo->id % 20) };

  for (gsize i = 0; i < sizeof likeness; i++)
    likeness[i] = (guint8)((guint64)(photo->id / 4 + 1) * 2654435761u >> (i % 24));
  bytes = g_bytes_new (likeness, sizeof likeness);
  return sw_photo_set_likeness (catalogue, photo->id, bytes, quality.sharpness, 160, 120, error)
         && sw_photo_codes_put (catalogue, photo->id, SW_CODE_READER_VERSION, none, error)
         && sw_photo_quality_put (catalogue, &quality, SW_QUALITY_VERSION, error);
}

static gboolean
look_at_all (SwCatalogue *catalogue, const GPtrArray *photos, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin_plain (&act, catalogue, error))
    return FALSE;
  for (guint i = 0; i < photos->len; i++)
    if (!look_at (catalogue, photos->pdata[i], error))
      return FALSE;
  return sw_act_commit (&act, NULL, error);
}

/* The file is as small as a thumbnail: it stands for its own in both sizes. */
static void
keep_thumbnails (const char *folder, const GPtrArray *photos)
{
  g_autofree char *path = g_build_filename (folder, "thumbs.db", NULL);
  SwThumbStore *store = sw_thumb_store_new (path);

  for (guint i = 0; i < photos->len; i++)
    {
      const SwPhoto *photo = photos->pdata[i];
      g_autofree char *file = g_build_filename (folder, photo->stored, NULL);
      g_autofree char *data = NULL;
      g_autoptr (GBytes) bytes = NULL;
      gsize n = 0;

      if (!g_file_get_contents (file, &data, &n, NULL))
        continue;
      bytes = g_bytes_new_take (g_steal_pointer (&data), n);
      for (int size = 0; size < SW_N_THUMB_SIZES; size++)
        sw_thumb_store_put (store, photo->hash, (int)sw_thumb_side ((SwThumbSize)size),
                            SW_THUMBS_VERSION, bytes);
    }
  sw_thumb_store_free (store);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) photos = NULL;
  SwCatalogue *catalogue
      = argc == 2 ? sw_catalogue_open (argv[1], SW_OPEN_READ_WRITE, &error) : NULL;

  if (catalogue != NULL)
    photos = sw_photo_list (catalogue, 0, FALSE, &error);
  if (photos == NULL || !look_at_all (catalogue, photos, &error))
    {
      g_fprintf (stderr, "looked: %s\n", error != NULL ? error->message : "CATALOGUE");
      return 1;
    }
  keep_thumbnails (argv[1], photos);
  sw_catalogue_close (catalogue);
  return 0;
}
