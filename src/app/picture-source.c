/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a photo's number to its pixels, through the thumbnail store. Runs on worker threads; touches
 * no widget and not the catalogue's connection. The JPEG bytes it decodes were written by our own
 * decode helper. */
#include "app/picture-source.h"

#include "core/intake/thumbs.h"

/* One a photo there is: kept small. */
typedef struct
{
  gint64 photo;
  const char *hash, *stored; /* in 'names' */
  guint8 orientation, turn;
} File;

struct _SwPictureSource
{
  GMutex lock;
  GArray *files; /* File, by photo */
  GStringChunk *names;
  char *folder;
  SwThumbs *thumbs;   /* made when first needed */
  SwDecoder *closer;  /* one helper of its own, so that a look closer waits for no thumbnail; made
                         when first  needed */
  GMutex turned_lock; /* held for no longer than a copy of a number: the main thread takes it */
  GArray *turned;     /* photos whose turn is another now */
};

SwPictureSource *
sw_picture_source_new (const char *folder)
{
  SwPictureSource *source = g_atomic_rc_box_new0 (SwPictureSource);

  g_mutex_init (&source->lock);
  g_mutex_init (&source->turned_lock);
  source->turned = g_array_new (FALSE, FALSE, sizeof (gint64));
  source->folder = g_strdup (folder);
  source->files = g_array_new (FALSE, FALSE, sizeof (File));
  source->names = g_string_chunk_new (64 * 1024);
  return source;
}

SwPictureSource *
sw_picture_source_ref (SwPictureSource *source)
{
  return g_atomic_rc_box_acquire (source);
}

static void
source_free (gpointer data)
{
  SwPictureSource *source = data;

  g_clear_pointer (&source->thumbs, sw_thumbs_free);
  g_clear_pointer (&source->closer, sw_decoder_free);
  g_array_unref (source->turned);
  g_array_unref (source->files);
  g_string_chunk_free (source->names);
  g_free (source->folder);
  g_mutex_clear (&source->lock);
  g_mutex_clear (&source->turned_lock);
}

void
sw_picture_source_unref (SwPictureSource *source)
{
  if (source != NULL)
    g_atomic_rc_box_release_full (source, source_free);
}

/* The photo's row, or the one it would stand before. */
static guint
find_row (SwPictureSource *source, gint64 photo)
{
  guint low = 0, high = source->files->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (g_array_index (source->files, File, middle).photo < photo)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static File *
look_up (SwPictureSource *source, gint64 photo)
{
  guint at = find_row (source, photo);
  File *file = &g_array_index (source->files, File, at);

  return at < source->files->len && file->photo == photo ? file : NULL;
}

static void
set_turn (SwPictureSource *source, File *file, int turn)
{
  if (file->turn == turn)
    return;
  file->turn = (guint8)turn;
  g_mutex_lock (&source->turned_lock);
  g_array_append_val (source->turned, file->photo);
  g_mutex_unlock (&source->turned_lock);
}

GArray *
sw_picture_source_take_turned (SwPictureSource *source)
{
  GArray *turned, *none = g_array_new (FALSE, FALSE, sizeof (gint64));

  g_mutex_lock (&source->turned_lock);
  turned = g_steal_pointer (&source->turned);
  source->turned = none;
  g_mutex_unlock (&source->turned_lock);
  return turned;
}

void
sw_picture_source_set_photo (SwPictureSource *source, const SwPhotoFile *photo)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&source->lock);
  File *known = look_up (source, photo->photo);

  if (!photo->is_photo)
    return;
  if (known != NULL)
    {
      set_turn (source, known, photo->turn);
      return;
    }
  File file = { photo->photo, g_string_chunk_insert (source->names, photo->hash),
                g_string_chunk_insert (source->names, photo->stored), (guint8)photo->orientation,
                (guint8)photo->turn };
  g_array_insert_val (source->files, find_row (source, file.photo), file);
}

/* A copy of the photo's row (its names stay as long as the source does), and the thumbnail store.
 */
static gboolean
find (SwPictureSource *source, gint64 photo, File *out_file, SwThumbs **out_thumbs)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&source->lock);
  const File *file = look_up (source, photo);

  if (file == NULL)
    return FALSE;
  if (source->thumbs == NULL)
    source->thumbs = sw_thumbs_new (source->folder, NULL);
  *out_thumbs = source->thumbs;
  *out_file = *file;
  return TRUE;
}

/* Takes 'pixbuf'. */
static GdkPixbuf *
turned (GdkPixbuf *pixbuf, int turn)
{
  static const GdkPixbufRotation ways[4]
      = { GDK_PIXBUF_ROTATE_NONE, GDK_PIXBUF_ROTATE_CLOCKWISE, GDK_PIXBUF_ROTATE_UPSIDEDOWN,
          GDK_PIXBUF_ROTATE_COUNTERCLOCKWISE };
  GdkPixbuf *upright;

  if (pixbuf == NULL || turn == 0)
    return pixbuf;
  upright = gdk_pixbuf_rotate_simple (pixbuf, ways[turn % 4]);
  g_object_unref (pixbuf);
  return upright;
}

/* Our own JPEG. NULL where it cannot be read. */
static GdkPixbuf *
pixbuf_of_jpeg (GBytes *jpeg)
{
  g_autoptr (GInputStream) stream = g_memory_input_stream_new_from_bytes (jpeg);

  return gdk_pixbuf_new_from_stream (stream, NULL, NULL);
}

static GdkPixbuf *
pixbuf_of_picture (const SwPicture *picture)
{
  return gdk_pixbuf_new_from_bytes (picture->rgb, GDK_COLORSPACE_RGB, FALSE, 8, (int)picture->width,
                                    (int)picture->height, (int)picture->width * 3);
}

void
sw_picture_source_first (SwPictureSource *source, SwFirstPicture *pictures, guint n, gboolean large)
{
  g_autofree SwThumbFirst *firsts = g_new0 (SwThumbFirst, n);
  g_autofree guint *of = g_new (guint, n);
  g_autofree int *turns = g_new (int, n);
  SwThumbs *thumbs = NULL;
  guint found = 0;

  for (guint i = 0; i < n; i++)
    {
      File file;

      pictures[i].pixbuf = NULL;
      pictures[i].is_final = !find (source, pictures[i].photo, &file, &thumbs);
      if (pictures[i].is_final)
        continue;
      of[found] = i;
      turns[found] = file.turn;
      firsts[found++] = (SwThumbFirst){ .hash = file.hash,
                                        .stored = file.stored,
                                        .orientation = file.orientation };
    }
  if (found > 0)
    sw_thumbs_first (thumbs, firsts, found, large ? SW_THUMB_LARGE : SW_THUMB_SMALL);
  for (guint k = 0; k < found; k++)
    {
      SwFirstPicture *picture = &pictures[of[k]];

      if (firsts[k].jpeg != NULL)
        picture->pixbuf = turned (pixbuf_of_jpeg (firsts[k].jpeg), turns[k]);
      else if (firsts[k].stand_in != NULL)
        picture->pixbuf = turned (pixbuf_of_picture (firsts[k].stand_in), turns[k]);
      picture->is_final = firsts[k].jpeg != NULL || firsts[k].failed;
      g_clear_pointer (&firsts[k].jpeg, g_bytes_unref);
      g_clear_pointer (&firsts[k].stand_in, sw_picture_free);
    }
}

GdkPixbuf *
sw_picture_source_load (SwPictureSource *source, gint64 photo, gboolean large)
{
  SwThumbs *thumbs = NULL;
  File file;
  g_autoptr (GBytes) bytes = NULL;

  if (!find (source, photo, &file, &thumbs))
    return NULL;
  bytes = sw_thumbs_get (thumbs, file.hash, file.stored, file.orientation,
                         large ? SW_THUMB_LARGE : SW_THUMB_SMALL, NULL, NULL, NULL);
  return bytes != NULL ? turned (pixbuf_of_jpeg (bytes), file.turn) : NULL;
}

static SwDecoder *
closer_decoder (SwPictureSource *source)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&source->lock);

  if (source->closer == NULL)
    source->closer = sw_decoder_new (NULL, 1);
  return source->closer;
}

SwPicture *
sw_picture_source_part (SwPictureSource *source, gint64 photo, const SwDecodePart *part,
                        GCancellable *cancellable, int *out_turn)
{
  SwThumbs *thumbs = NULL;
  File file;
  SwDecodePart wanted = *part;
  g_autofree char *path = NULL;

  if (!find (source, photo, &file, &thumbs))
    return NULL;
  *out_turn = wanted.turn = file.turn;
  wanted.orientation = file.orientation;
  path = g_build_filename (source->folder, file.stored, NULL);
  return sw_decoder_decode_part (closer_decoder (source), path, &wanted, cancellable, NULL);
}

gboolean
sw_picture_source_look (SwPictureSource *source, gint64 photo, GCancellable *cancellable,
                        SwLook *out_look)
{
  SwThumbs *thumbs = NULL;
  File file;
  g_autoptr (SwPicture) picture = NULL;
  g_autoptr (GBytes) bytes = NULL;

  if (!find (source, photo, &file, &thumbs))
    return FALSE;
  bytes = sw_thumbs_get (thumbs, file.hash, file.stored, file.orientation, SW_THUMB_SMALL, &picture,
                         cancellable, NULL);
  if (bytes == NULL)
    return FALSE;
  if (picture == NULL)
    { /* the thumbnails were there already, the likeness was not */
      g_autofree char *path = g_build_filename (source->folder, file.stored, NULL);
      picture = sw_decoder_decode_with_codes (sw_thumbs_decoder (thumbs), path, file.orientation,
                                              sw_thumb_side (SW_THUMB_LARGE), cancellable, NULL);
    }
  if (picture == NULL)
    return FALSE;
  *out_look = (SwLook){ .photo = photo,
                        .likeness = sw_likeness_pack (picture),
                        .quality = picture->quality,
                        .width = (int)picture->full_width,
                        .height = (int)picture->full_height,
                        .codes
                        = picture->codes ? g_steal_pointer (&picture->codes) : g_ptr_array_new () };
  out_look->quality.photo = photo;
  return TRUE;
}
