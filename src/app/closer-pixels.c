/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One job at a time: the first wish that is not fulfilled. A job that nobody wants any more, or
 * that a more urgent one overtakes, is cancelled. Converting to the screen's format happens on the
 * job's thread, so that the main thread only draws. */
#include "app/closer-pixels.h"

#include <math.h>

typedef struct
{
  gint64 photo;
  SwCloserPart whole, part;
  int side; /* that 'part' was asked for with */
  gboolean failed;
} Kept;

typedef struct
{
  SwPictureSource *source;
  SwCloserWish wish;
  SwDecodePart part;
} Job;

struct _SwCloserPixels
{
  GObject parent;
  SwPictureSource *source;
  GArray *wishes;       /* SwCloserWish */
  GHashTable *kept;     /* photo -> Kept */
  GCancellable *cancel; /* of the running job; NULL: none runs */
  SwCloserWish running;
  gboolean stale; /* what the running job brings is of no use */
};

enum
{
  LOADED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwCloserPixels, sw_closer_pixels, G_TYPE_OBJECT)

static void
part_clear (SwCloserPart *part)
{
  g_clear_pointer (&part->surface, cairo_surface_destroy);
  *part = (SwCloserPart){ 0 };
}

static void
part_free (gpointer data)
{
  part_clear (data);
  g_free (data);
}

static void
kept_free (gpointer data)
{
  Kept *kept = data;

  part_clear (&kept->whole);
  part_clear (&kept->part);
  g_free (kept);
}

static void
job_free (gpointer data)
{
  Job *job = data;

  sw_picture_source_unref (job->source);
  g_free (job);
}

static void
sw_closer_pixels_dispose (GObject *object)
{
  SwCloserPixels *self = SW_CLOSER_PIXELS (object);

  g_cancellable_cancel (self->cancel);
  g_array_set_size (self->wishes, 0);
  g_hash_table_remove_all (self->kept);
  G_OBJECT_CLASS (sw_closer_pixels_parent_class)->dispose (object);
}

static void
sw_closer_pixels_finalize (GObject *object)
{
  SwCloserPixels *self = SW_CLOSER_PIXELS (object);

  g_array_unref (self->wishes);
  g_hash_table_unref (self->kept);
  sw_picture_source_unref (self->source);
  G_OBJECT_CLASS (sw_closer_pixels_parent_class)->finalize (object);
}

static void
sw_closer_pixels_class_init (SwCloserPixelsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_closer_pixels_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_closer_pixels_finalize;
  signals[LOADED] = g_signal_new ("loaded", SW_TYPE_CLOSER_PIXELS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
}

static void
sw_closer_pixels_init (SwCloserPixels *self)
{
  self->wishes = g_array_new (FALSE, FALSE, sizeof (SwCloserWish));
  self->kept = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, kept_free);
}

SwCloserPixels *
sw_closer_pixels_new (SwPictureSource *source)
{
  SwCloserPixels *self = g_object_new (SW_TYPE_CLOSER_PIXELS, NULL);

  self->source = sw_picture_source_ref (source);
  return self;
}

/* ---- a job, on its thread ---- */

static cairo_surface_t *
surface_of (const SwPicture *picture)
{
  cairo_surface_t *surface
      = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)picture->width, (int)picture->height);
  const guint8 *from = g_bytes_get_data (picture->rgb, NULL);
  guint8 *to = cairo_image_surface_get_data (surface);
  gsize stride = (gsize)cairo_image_surface_get_stride (surface);

  if (cairo_surface_status (surface) != CAIRO_STATUS_SUCCESS)
    {
      cairo_surface_destroy (surface);
      return NULL;
    }
  for (gsize y = 0; y < picture->height; y++)
    {
      guint32 *row = (guint32 *)(gpointer)(to + y * stride);

      for (gsize x = 0; x < picture->width; x++, from += 3)
        row[x] = (guint32)from[0] << 16 | (guint32)from[1] << 8 | from[2];
    }
  cairo_surface_mark_dirty (surface);
  return surface;
}

static void
job_run (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  int turn = 0;
  g_autoptr (SwPicture) picture
      = sw_picture_source_part (job->source, job->wish.photo, &job->part, cancellable, &turn);
  SwCloserPart *part = NULL;

  if (picture != NULL && !g_cancellable_is_cancelled (cancellable))
    {
      part = g_new0 (SwCloserPart, 1);
      part->surface = surface_of (picture);
      part->full_width = (int)picture->full_width;
      part->full_height = (int)picture->full_height;
      part->scaled_width = (int)picture->scaled_width;
      part->scaled_height = (int)picture->scaled_height;
      part->x = (int)job->part.x;
      part->y = (int)job->part.y;
      part->width = (int)picture->width;
      part->height = (int)picture->height;
    }
  if (part != NULL && part->surface == NULL)
    g_clear_pointer (&part, part_free);
  g_task_return_pointer (task, part, part_free);
}

/* ---- what is there, what is missing ---- */

static Kept *
kept_of (SwCloserPixels *self, gint64 photo)
{
  return g_hash_table_lookup (self->kept, &photo);
}

static gboolean
is_fulfilled (SwCloserPixels *self, const SwCloserWish *wish)
{
  const Kept *kept = kept_of (self, wish->photo);

  if (kept == NULL)
    return FALSE;
  if (kept->failed)
    return TRUE;
  if (!wish->part)
    return kept->whole.surface != NULL;
  return kept->part.surface != NULL && kept->side == wish->side && kept->part.x <= wish->x
         && kept->part.y <= wish->y
         && kept->part.x + kept->part.width >= MIN (wish->x + wish->width, kept->part.scaled_width)
         && kept->part.y + kept->part.height
                >= MIN (wish->y + wish->height, kept->part.scaled_height);
}

static const SwCloserWish *
first_missing (SwCloserPixels *self)
{
  for (guint i = 0; i < self->wishes->len; i++)
    {
      const SwCloserWish *wish = &g_array_index (self->wishes, SwCloserWish, i);
      if (!is_fulfilled (self, wish))
        return wish;
    }
  return NULL;
}

/* Around what is looked at as much again on each side as the budget allows, so that a drag seldom
 * has to wait. */
static SwDecodePart
part_around (const SwCloserWish *wish)
{
  double grow = sqrt (SW_CLOSER_PART_PIXELS / MAX ((double)wish->width * wish->height, 1));
  int width = (int)(wish->width * grow), height = (int)(wish->height * grow);
  int x = MAX (0, wish->x + wish->width / 2 - width / 2);
  int y = MAX (0, wish->y + wish->height / 2 - height / 2);

  return (SwDecodePart){ .max_side = (guint)wish->side,
                         .x = (guint)x,
                         .y = (guint)y,
                         .width = (guint)width,
                         .height = (guint)height };
}

static void start (SwCloserPixels *self);

static void
keep (SwCloserPixels *self, const SwCloserWish *wish, SwCloserPart *part)
{
  Kept *kept = kept_of (self, wish->photo);

  if (kept == NULL)
    {
      kept = g_new0 (Kept, 1);
      kept->photo = wish->photo;
      g_hash_table_insert (self->kept, &kept->photo, kept);
    }
  if (part == NULL)
    kept->failed = TRUE;
  else if (wish->part)
    {
      part_clear (&kept->part);
      kept->part = *part;
      kept->side = wish->side;
    }
  else
    {
      part_clear (&kept->whole);
      kept->whole = *part;
    }
  g_free (part);
}

static void
on_done (GObject *object, GAsyncResult *result, gpointer data)
{
  SwCloserPixels *self = SW_CLOSER_PIXELS (object);
  gboolean cancelled = g_cancellable_is_cancelled (self->cancel);
  SwCloserPart *part = g_task_propagate_pointer (G_TASK (result), NULL);
  SwCloserWish wish = self->running;
  gboolean of_use = !cancelled && !self->stale;

  g_clear_object (&self->cancel);
  self->stale = FALSE;
  if (of_use)
    keep (self, &wish, part);
  else if (part != NULL)
    part_free (part);
  start (self);
  if (of_use)
    g_signal_emit (self, signals[LOADED], 0, wish.photo);
}

static void
start (SwCloserPixels *self)
{
  const SwCloserWish *wish = first_missing (self);
  g_autoptr (GTask) task = NULL;
  Job *job;

  if (self->cancel != NULL || wish == NULL)
    return;
  job = g_new0 (Job, 1);
  job->source = sw_picture_source_ref (self->source);
  job->wish = self->running = *wish;
  job->part = wish->part ? part_around (wish)
                         : (SwDecodePart){ .max_side = SW_CLOSER_WHOLE_SIDE,
                                           .width = SW_CLOSER_WHOLE_SIDE,
                                           .height = SW_CLOSER_WHOLE_SIDE };
  self->cancel = g_cancellable_new ();
  task = g_task_new (self, self->cancel, on_done, NULL);
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, job, job_free);
  g_task_run_in_thread (task, job_run);
}

/* ---- public ---- */

static void
drop_unwanted (SwCloserPixels *self)
{
  GHashTableIter iter;
  gpointer value;

  g_hash_table_iter_init (&iter, self->kept);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      Kept *kept = value;
      gboolean wanted = FALSE, part = FALSE;

      for (guint i = 0; i < self->wishes->len; i++)
        {
          const SwCloserWish *wish = &g_array_index (self->wishes, SwCloserWish, i);
          wanted |= wish->photo == kept->photo;
          part |= wish->photo == kept->photo && wish->part;
        }
      if (!wanted)
        g_hash_table_iter_remove (&iter);
      else if (!part)
        part_clear (&kept->part);
    }
}

static gboolean
is_same (const SwCloserWish *a, const SwCloserWish *b)
{
  return a->photo == b->photo && a->part == b->part && (!a->part || a->side == b->side);
}

void
sw_closer_pixels_set_wishes (SwCloserPixels *self, const SwCloserWish *wishes, guint n)
{
  const SwCloserWish *first;

  g_array_set_size (self->wishes, 0);
  g_array_append_vals (self->wishes, wishes, n);
  drop_unwanted (self);
  first = first_missing (self);
  if (self->cancel != NULL && (first == NULL || !is_same (first, &self->running)))
    g_cancellable_cancel (self->cancel);
  start (self);
}

void
sw_closer_pixels_forget (SwCloserPixels *self, gint64 photo)
{
  g_hash_table_remove (self->kept, &photo);
  self->stale |= self->cancel != NULL && self->running.photo == photo;
  start (self);
}

const SwCloserPart *
sw_closer_pixels_whole (SwCloserPixels *self, gint64 photo)
{
  const Kept *kept = kept_of (self, photo);
  return kept != NULL && kept->whole.surface != NULL ? &kept->whole : NULL;
}

const SwCloserPart *
sw_closer_pixels_part (SwCloserPixels *self, gint64 photo)
{
  const Kept *kept = kept_of (self, photo);
  return kept != NULL && kept->part.surface != NULL ? &kept->part : NULL;
}

gboolean
sw_closer_pixels_failed (SwCloserPixels *self, gint64 photo)
{
  const Kept *kept = kept_of (self, photo);
  return kept != NULL && kept->failed;
}

gboolean
sw_closer_pixels_is_idle (SwCloserPixels *self)
{
  return self->cancel == NULL && first_missing (self) == NULL;
}
