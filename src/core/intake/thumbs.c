/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thumbnails: looked up, or decoded by a helper, encoded here and kept. Holds no SQL; the store is
 * the catalogue's. */
#include "core/intake/thumbs.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/thumb-store.h"
#include "core/intake/jpeg.h"
#include "core/intake/pixels.h"
#include "core/intake/quality.h"

#define JPEG_QUALITY 82
#define MADE_A_COMMIT 64

static const guint sides[SW_N_THUMB_SIZES] = { [SW_THUMB_SMALL] = 160, [SW_THUMB_LARGE] = 640 };

struct _SwThumbs
{
  char *folder;
  SwThumbStore *store;
  SwDecoder *decoder;
  SwDecoder *small; /* for the pictures in the headers */
};

guint
sw_thumb_side (SwThumbSize size)
{
  return sides[size];
}

SwThumbs *
sw_thumbs_new (const char *catalogue_folder, const char *program)
{
  SwThumbs *thumbs = g_new0 (SwThumbs, 1);
  g_autofree char *path = g_build_filename (catalogue_folder, "thumbs.db", NULL);

  thumbs->folder = g_strdup (catalogue_folder);
  thumbs->store = sw_thumb_store_new (path);
  thumbs->decoder = sw_decoder_new (program, 0);
  thumbs->small = sw_decoder_new (program, 1);
  return thumbs;
}

void
sw_thumbs_free (SwThumbs *thumbs)
{
  if (thumbs == NULL)
    return;
  sw_decoder_free (thumbs->decoder);
  sw_decoder_free (thumbs->small);
  sw_thumb_store_free (thumbs->store);
  g_free (thumbs->folder);
  g_free (thumbs);
}

SwDecoder *
sw_thumbs_decoder (SwThumbs *thumbs)
{
  return thumbs->decoder;
}

/* FALSE where nothing is stored, neither a thumbnail nor that none can be made. */
static gboolean
take_stored (SwThumbs *thumbs, SwThumbFirst *photo, SwThumbSize size)
{
  photo->jpeg
      = sw_thumb_store_get (thumbs->store, photo->hash, (int)sides[size], SW_THUMBS_VERSION);
  photo->stand_in = NULL;
  photo->failed = photo->jpeg != NULL && g_bytes_get_size (photo->jpeg) == 0;
  if (photo->failed)
    g_clear_pointer (&photo->jpeg, g_bytes_unref);
  return photo->failed || photo->jpeg != NULL;
}

void
sw_thumbs_first (SwThumbs *thumbs, SwThumbFirst *photos, guint n, SwThumbSize size)
{
  g_autofree SwSmallWish *wishes = g_new (SwSmallWish, n);
  g_autofree guint *of = g_new (guint, n);
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < n; i++)
    if (!take_stored (thumbs, &photos[i], size))
      {
        char *path = g_build_filename (thumbs->folder, photos[i].stored, NULL);

        of[paths->len] = i;
        wishes[paths->len] = (SwSmallWish){ path, photos[i].orientation, NULL };
        g_ptr_array_add (paths, path);
      }
  sw_decoder_read_small (thumbs->small, wishes, paths->len, sides[size]);
  for (guint k = 0; k < paths->len; k++)
    photos[of[k]].stand_in = wishes[k].picture;
}

/* Encodes the picture in one size and keeps it. NULL only if there is no memory. */
static GBytes *
keep (SwThumbs *thumbs, const char *hash, const SwPicture *picture, SwThumbSize size)
{
  SwPixels whole
      = { picture->width, picture->height, (guint8 *)g_bytes_get_data (picture->rgb, NULL) };
  g_auto (SwPixels) small = { 0 };
  GBytes *jpeg;
  guint w, h;

  sw_pixels_fit (whole.width, whole.height, sides[size], &w, &h);
  small = sw_pixels_shrink (&whole, w, h);
  jpeg = sw_jpeg_encode (&small, JPEG_QUALITY);
  if (jpeg != NULL)
    sw_thumb_store_put (thumbs->store, hash, (int)sides[size], SW_THUMBS_VERSION, jpeg);
  return jpeg;
}

/* An empty row in the smaller size stands for 'cannot be made'. */
static void
remember_failure (SwThumbs *thumbs, const char *hash)
{
  g_autoptr (GBytes) nothing = g_bytes_new_static ("", 0);

  for (int size = 0; size < SW_N_THUMB_SIZES; size++)
    sw_thumb_store_put (thumbs->store, hash, (int)sides[size], SW_THUMBS_VERSION, nothing);
}

static GBytes *
make (SwThumbs *thumbs, const char *hash, const char *stored, int orientation, SwThumbSize size,
      SwPicture **out_picture, GCancellable *cancellable, GError **error)
{
  g_autofree char *path = g_build_filename (thumbs->folder, stored, NULL);
  g_autoptr (GError) failure = NULL;
  /* Who wants the picture looks at all of it, codes too; who waits for a thumbnail does not. */
  g_autoptr (SwPicture) picture
      = (out_picture != NULL ? sw_decoder_decode_with_codes : sw_decoder_decode) (
          thumbs->decoder, path, orientation, sides[SW_THUMB_LARGE], cancellable, &failure);
  GBytes *wanted = NULL;

  if (picture == NULL)
    {
      if (g_error_matches (failure, SW_ERROR, SW_ERROR_BAD_INPUT))
        remember_failure (thumbs, hash);
      g_propagate_error (error, g_steal_pointer (&failure));
      return NULL;
    }
  for (int s = 0; s < SW_N_THUMB_SIZES; s++)
    {
      g_autoptr (GBytes) jpeg = keep (thumbs, hash, picture, (SwThumbSize)s);

      if (s == (int)size && jpeg != NULL)
        wanted = g_steal_pointer (&jpeg);
    }
  if (wanted == NULL)
    g_set_error_literal (error, SW_ERROR, SW_ERROR_FAILED,
                         _ ("There is no memory for a thumbnail."));
  else if (out_picture != NULL)
    *out_picture = g_steal_pointer (&picture);
  return wanted;
}

GBytes *
sw_thumbs_get (SwThumbs *thumbs, const char *hash, const char *stored, int orientation,
               SwThumbSize size, SwPicture **out_picture, GCancellable *cancellable, GError **error)
{
  g_autoptr (GBytes) found
      = sw_thumb_store_get (thumbs->store, hash, (int)sides[size], SW_THUMBS_VERSION);

  if (found == NULL)
    return make (thumbs, hash, stored, orientation, size, out_picture, cancellable, error);
  if (g_bytes_get_size (found) > 0)
    return g_steal_pointer (&found);
  g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                       _ ("No picture can be made of this file: it is damaged; the file is kept."));
  return NULL;
}

/* ---- all that is missing ---- */

typedef struct
{
  SwThumbs *thumbs;
  GPtrArray *photos;  /* of SwPhoto, none owned */
  GHashTable *looked; /* photos that were looked at whole, by pointers to their numbers */
  GCancellable *cancellable;
  GAsyncQueue *finished; /* of Made */
} Batch;

typedef struct
{
  gint64 id;
  GBytes *likeness; /* NULL: failed */
  GPtrArray *codes; /* NULL: not read */
  SwPhotoQuality quality;
  int width, height;
} Made;

static void
made_free (gpointer data)
{
  Made *made = data;

  g_clear_pointer (&made->likeness, g_bytes_unref);
  g_clear_pointer (&made->codes, g_ptr_array_unref);
  g_free (made);
}

GHashTable *
sw_thumbs_looked_at (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GArray) read = sw_photo_codes_read (catalogue, SW_CODE_READER_VERSION, error);
  g_autoptr (GArray) measured = NULL;
  GHashTable *looked;
  guint at = 0;

  if (read == NULL)
    return NULL;
  measured = sw_photo_quality_measured (catalogue, SW_QUALITY_VERSION, error);
  if (measured == NULL)
    return NULL;
  looked = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  for (guint i = 0; i < read->len; i++)
    { /* both by number */
      gint64 photo = g_array_index (read, gint64, i);
      while (at < measured->len && g_array_index (measured, gint64, at) < photo)
        at++;
      if (at < measured->len && g_array_index (measured, gint64, at) == photo)
        g_hash_table_add (looked, g_memdup2 (&photo, sizeof photo));
    }
  return looked;
}

static gboolean
is_unmeasured (const Batch *batch, const SwPhoto *photo)
{
  return photo->likeness == NULL || !g_hash_table_contains (batch->looked, &photo->id);
}

static void
make_one (gpointer data, gpointer user_data)
{
  const SwPhoto *photo = data;
  Batch *batch = user_data;
  g_autoptr (SwPicture) picture = NULL;
  g_autoptr (GBytes) small = NULL;
  Made *made = g_new0 (Made, 1);

  made->id = photo->id;
  if (!g_cancellable_is_cancelled (batch->cancellable))
    small = sw_thumbs_get (batch->thumbs, photo->hash, photo->stored, photo->orientation,
                           SW_THUMB_LARGE, &picture, batch->cancellable, NULL);
  if (small != NULL && picture == NULL && is_unmeasured (batch, photo))
    {
      g_autofree char *path = g_build_filename (batch->thumbs->folder, photo->stored, NULL);

      picture = sw_decoder_decode_with_codes (batch->thumbs->decoder, path, photo->orientation,
                                              sides[SW_THUMB_LARGE], batch->cancellable, NULL);
    }
  if (picture != NULL)
    {
      gboolean turned = photo->orientation >= 5 && g_strcmp0 (photo->format, "heic") != 0;

      made->likeness = sw_likeness_pack (picture);
      made->codes = g_steal_pointer (&picture->codes);
      made->quality = picture->quality;
      made->quality.photo = made->id;
      made->width = (int)(turned ? picture->full_height : picture->full_width);
      made->height = (int)(turned ? picture->full_width : picture->full_height);
    }
  g_async_queue_push (batch->finished, made);
}

static gboolean
is_missing (const Batch *batch, const SwPhoto *photo)
{
  g_autoptr (GBytes) large = NULL;

  if (g_strcmp0 (photo->kind, "photo") != 0)
    return FALSE;
  large = sw_thumb_store_get (batch->thumbs->store, photo->hash, (int)sides[SW_THUMB_LARGE],
                              SW_THUMBS_VERSION);
  if (large == NULL)
    return TRUE;
  return is_unmeasured (batch, photo) && g_bytes_get_size (large) > 0;
}

/* A picture whose codes cost a helper its life has none: it is not tried again each time. */
static gboolean
keep_codes (SwCatalogue *catalogue, const Made *made, GError **error)
{
  g_autoptr (GPtrArray) none = g_ptr_array_new ();

  return sw_photo_codes_put (catalogue, made->id, SW_CODE_READER_VERSION,
                             made->codes != NULL ? made->codes : none, error);
}

/* Keeps what was measured, many photos to one commit; empties the list. */
static gboolean
keep_made (SwCatalogue *catalogue, GPtrArray *made, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (made->len == 0)
    return TRUE;
  if (!sw_act_begin_plain (&act, catalogue, error))
    return FALSE;
  for (guint i = 0; i < made->len; i++)
    {
      const Made *m = made->pdata[i];

      if (!sw_photo_set_likeness (catalogue, m->id, m->likeness, m->quality.sharpness, m->width,
                                  m->height, error))
        return FALSE;
      if (!keep_codes (catalogue, m, error)
          || !sw_photo_quality_put (catalogue, &m->quality, SW_QUALITY_VERSION, error))
        return FALSE;
    }
  g_ptr_array_set_size (made, 0);
  return sw_act_commit (&act, NULL, error);
}

static int
queue_missing (Batch *batch, GThreadPool *pool)
{
  int queued = 0;

  for (guint i = 0; i < batch->photos->len; i++)
    if (is_missing (batch, batch->photos->pdata[i]))
      {
        g_thread_pool_push (pool, batch->photos->pdata[i], NULL);
        queued++;
      }
  return queued;
}

gboolean
sw_thumbs_make_missing (SwThumbs *thumbs, SwCatalogue *catalogue, gint64 trip, int *done,
                        int *total, GCancellable *cancellable, int *out_made, GError **error)
{
  g_autoptr (GPtrArray) photos = sw_photo_list (catalogue, trip, FALSE, error);
  g_autoptr (GAsyncQueue) finished = g_async_queue_new_full (made_free);
  g_autoptr (GPtrArray) made = g_ptr_array_new_with_free_func (made_free);
  g_autoptr (GHashTable) looked = sw_thumbs_looked_at (catalogue, error);
  Batch batch = { thumbs, photos, looked, cancellable, finished };
  gboolean good = TRUE;
  GThreadPool *pool;
  int queued, made_count = 0;

  if (photos == NULL || looked == NULL)
    return FALSE;
  pool = g_thread_pool_new (make_one, &batch, (int)sw_decoder_n_helpers (thumbs->decoder), FALSE,
                            NULL);
  queued = queue_missing (&batch, pool);
  if (total != NULL)
    g_atomic_int_set (total, queued);
  for (int i = 0; i < queued; i++)
    {
      Made *one = g_async_queue_pop (finished);

      if (good && one->likeness != NULL)
        {
          g_ptr_array_add (made, one);
          made_count++;
        }
      else
        made_free (one);
      if (good && made->len >= MADE_A_COMMIT)
        good = keep_made (catalogue, made, error);
      if (done != NULL)
        g_atomic_int_set (done, i + 1);
    }
  g_thread_pool_free (pool, FALSE, TRUE);
  if (!good || !keep_made (catalogue, made, error))
    return FALSE;
  if (g_cancellable_is_cancelled (cancellable))
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_CANCELLED,
                           _ ("Stopped before all thumbnails were made."));
      return FALSE;
    }
  if (out_made != NULL)
    *out_made = made_count;
  return TRUE;
}
