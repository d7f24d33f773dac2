/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks at photos and has proposals made. Decoding runs in core's helper processes; what was seen
 * goes to the catalogue in small pieces at the lowest rank, so that a key press never waits for it.
 */
#include "app/look-job.h"

#include "app/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/photo-codes.h"
#include "core/catalogue/photos.h"
#include "core/intake/decoder.h"
#include "core/intake/quality.h"
#include "core/intake/thumbs.h"
#include "core/match/pairing.h"

#include <malloc.h>

/* Looks written at once: a piece stays well under 20 ms. */
#define PIECE 16

/* Shared with the threads. */
typedef struct
{
  SwPictureSource *source;
  GArray *photos; /* gint64 */
  int next, done; /* atomic */
  GAsyncQueue *looks;
} Run;

struct _SwLookJob
{
  SwLongJob parent;
  SwStore *store;
  Run *run;
  gint64 trip;
  GArray *trips; /* gint64, that have no proposals yet of what was seen; the last is next */
  int threads, writing;
};

G_DEFINE_TYPE (SwLookJob, sw_look_job, SW_TYPE_LONG_JOB)

static void
look_free (gpointer data)
{
  SwLook *look = data;
  g_clear_pointer (&look->likeness, g_bytes_unref);
  g_clear_pointer (&look->codes, g_ptr_array_unref);
  g_free (look);
}

static void
run_free (gpointer data)
{
  Run *run = data;

  sw_picture_source_unref (run->source);
  g_clear_pointer (&run->photos, g_array_unref);
  g_clear_pointer (&run->looks, g_async_queue_unref);
}

static void
run_unref (gpointer data)
{
  g_atomic_rc_box_release_full (data, run_free);
}

static void
sw_look_job_dispose (GObject *object)
{
  SwLookJob *self = SW_LOOK_JOB (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->trips, g_array_unref);
  g_clear_pointer (&self->run, run_unref);
  G_OBJECT_CLASS (sw_look_job_parent_class)->dispose (object);
}

static void
finish (SwLookJob *self)
{
  sw_long_job_end (SW_LONG_JOB (self), NULL);
}

/* ---- proposals, last: a trip at a time, so that what the person asks for comes in between ---- */

static gpointer
propose_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (SwPairing) pairing = sw_pairing_run (catalogue, *(const gint64 *)data, NULL, error);

  if (pairing == NULL)
    return NULL;
  /* what looking and proposing needed would else be kept for the next time */
  malloc_trim (0);
  return GINT_TO_POINTER (TRUE);
}

static void propose_next (SwLookJob *self);

static void
on_proposed (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwLookJob) self = data;
  g_autoptr (GError) error = NULL;

  if (self->store == NULL)
    return;
  sw_store_finish (self->store, result, &error);
  if (error != NULL)
    {
      sw_store_tell (self->store, error->message, TRUE);
      finish (self);
      return;
    }
  propose_next (self);
}

/* The latest trip first: it is the one that photos came for. */
static void
propose_next (SwLookJob *self)
{
  gint64 trip;

  if (self->trips->len == 0 || sw_long_job_is_cancelled (SW_LONG_JOB (self)))
    {
      finish (self);
      return;
    }
  trip = g_array_index (self->trips, gint64, self->trips->len - 1);
  g_array_set_size (self->trips, self->trips->len - 1);
  sw_store_read (self->store, SW_RANK_SEARCH, propose_run, g_memdup2 (&trip, sizeof trip), g_free,
                 NULL, NULL, on_proposed, g_object_ref (self));
}

static gpointer
trips_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  gint64 wanted = *(const gint64 *)data;
  g_autoptr (GPtrArray) trips = sw_trip_list (catalogue, error);
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; trips != NULL && i < trips->len; i++)
    {
      const SwTrip *trip = g_ptr_array_index (trips, i);
      if (wanted == 0 || wanted == trip->id)
        g_array_append_val (numbers, trip->id);
    }
  return trips != NULL ? g_steal_pointer (&numbers) : NULL;
}

static void
on_trips (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwLookJob) self = data;
  g_autoptr (GError) error = NULL;

  if (self->store == NULL)
    return;
  self->trips = sw_store_finish (self->store, result, &error);
  if (self->trips != NULL)
    {
      propose_next (self);
      return;
    }
  if (error != NULL)
    sw_store_tell (self->store, error->message, TRUE);
  finish (self);
}

static void
propose (SwLookJob *self)
{
  if (sw_long_job_is_cancelled (SW_LONG_JOB (self)))
    {
      finish (self);
      return;
    }
  sw_store_read (self->store, SW_RANK_SEARCH, trips_run, g_memdup2 (&self->trip, sizeof self->trip),
                 g_free, (GDestroyNotify)g_array_unref, NULL, on_trips, g_object_ref (self));
}

/* ---- writing what was seen ---- */

static gpointer
write_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  GPtrArray *looks = data;
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin_plain (&act, catalogue, error))
    return NULL;
  for (guint i = 0; i < looks->len; i++)
    {
      const SwLook *look = g_ptr_array_index (looks, i);
      if (!sw_photo_set_likeness (catalogue, look->photo, look->likeness, look->quality.sharpness,
                                  look->width, look->height, error)
          || !sw_photo_codes_put (catalogue, look->photo, SW_CODE_READER_VERSION, look->codes,
                                  error)
          || !sw_photo_quality_put (catalogue, &look->quality, SW_QUALITY_VERSION, error))
        return NULL;
    }
  return GINT_TO_POINTER (sw_act_commit (&act, NULL, error));
}

static void
on_written (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwLookJob) self = data;

  self->writing--;
  if (self->store == NULL)
    return;
  sw_store_finish (self->store, result, NULL); /* seen again next time where it failed */
  if (self->threads == 0 && self->writing == 0)
    propose (self);
}

static void
write_looks (SwLookJob *self, gboolean all)
{
  while (g_async_queue_length (self->run->looks) >= (all ? 1 : PIECE))
    {
      GPtrArray *looks = g_ptr_array_new_with_free_func (look_free);
      SwLook *look;
      while (looks->len < PIECE && (look = g_async_queue_try_pop (self->run->looks)) != NULL)
        g_ptr_array_add (looks, look);
      self->writing++;
      sw_store_read (self->store, SW_RANK_BATCH, write_run, looks,
                     (GDestroyNotify)g_ptr_array_unref, NULL, NULL, on_written,
                     g_object_ref (self));
    }
}

static void
sw_look_job_progress (SwLongJob *job)
{
  write_looks (SW_LOOK_JOB (job), FALSE);
}

/* ---- looking ---- */

static void
look_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Run *run = data;
  int i;

  while ((i = g_atomic_int_add (&run->next, 1)) < (int)run->photos->len)
    {
      SwLook look = { 0 };
      if (g_cancellable_is_cancelled (cancellable))
        break;
      if (sw_picture_source_look (run->source, g_array_index (run->photos, gint64, i), cancellable,
                                  &look))
        g_async_queue_push (run->looks, g_memdup2 (&look, sizeof look));
      g_atomic_int_inc (&run->done);
    }
  g_task_return_boolean (task, TRUE);
}

static void
on_thread_done (GObject *object, GAsyncResult *result, gpointer data)
{
  SwLookJob *self = SW_LOOK_JOB (object);

  self->threads--;
  if (self->threads > 0 || self->store == NULL)
    return;
  write_looks (self, TRUE);
  if (self->writing == 0)
    propose (self);
}

static void
start_threads (SwLookJob *self)
{
  int n = CLAMP ((int)g_get_num_processors (), 1, 4);

  self->threads = n;
  for (int i = 0; i < n; i++)
    {
      g_autoptr (GTask) task
          = g_task_new (self, sw_long_job_cancellable (SW_LONG_JOB (self)), on_thread_done, NULL);
      g_task_set_check_cancellable (task, FALSE);
      g_task_set_task_data (task, g_atomic_rc_box_acquire (self->run), run_unref);
      g_task_run_in_thread (task, look_thread);
    }
  sw_long_job_tick (SW_LONG_JOB (self));
}

/* ---- what is there to look at ---- */

typedef struct
{
  gint64 trip;
  SwPictureSource *source;
} Wish;

static void
wish_free (gpointer data)
{
  sw_picture_source_unref (((Wish *)data)->source);
  g_free (data);
}

typedef struct
{
  SwPictureSource *source;
  GHashTable *looked;
  GArray *numbers;
} Listing;

static void
list_photo (const SwPhotoFile *file, gpointer data)
{
  const Listing *listing = data;

  sw_picture_source_set_photo (listing->source, file);
  if (file->is_photo && !file->aside
      && (!file->has_likeness || !g_hash_table_contains (listing->looked, &file->photo)))
    g_array_append_val (listing->numbers, file->photo);
}

static gpointer
list_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Wish *wish = data;
  g_autoptr (GHashTable) looked = sw_thumbs_looked_at (catalogue, error);
  g_autoptr (GArray) numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  Listing listing = { wish->source, looked, numbers };

  if (looked == NULL || !sw_photo_files_each (catalogue, wish->trip, list_photo, &listing, error))
    return NULL;
  return g_steal_pointer (&numbers);
}

static void
on_listed (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwLookJob) self = data;

  if (self->store == NULL)
    return;
  self->run->photos = sw_store_finish (self->store, result, NULL);
  if (self->run->photos == NULL)
    finish (self);
  else
    start_threads (self);
}

static char *
sw_look_job_text (SwLongJob *job)
{
  SwLookJob *self = SW_LOOK_JOB (job);

  if (self->run == NULL || self->run->photos == NULL)
    return g_strdup (_ ("Looking at the photos…"));
  if (self->threads == 0)
    return g_strdup (_ ("Sorting the photos into stops…"));
  return g_strdup_printf (_ ("Looking at %d of %u photos"), g_atomic_int_get (&self->run->done),
                          self->run->photos->len);
}

static double
sw_look_job_fraction (SwLongJob *job)
{
  SwLookJob *self = SW_LOOK_JOB (job);

  if (self->run == NULL || self->run->photos == NULL || self->run->photos->len == 0
      || self->threads == 0)
    return -1;
  return (double)g_atomic_int_get (&self->run->done) / self->run->photos->len;
}

static void
sw_look_job_class_init (SwLookJobClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_look_job_dispose;
  SW_LONG_JOB_CLASS (klass)->text = sw_look_job_text;
  SW_LONG_JOB_CLASS (klass)->fraction = sw_look_job_fraction;
  SW_LONG_JOB_CLASS (klass)->progress = sw_look_job_progress;
}

static void
sw_look_job_init (SwLookJob *self)
{
}

SwLookJob *
sw_look_job_new (SwStore *store, gint64 trip)
{
  SwLookJob *self = g_object_new (SW_TYPE_LOOK_JOB, NULL);
  Wish *wish = g_new0 (Wish, 1);

  self->store = g_object_ref (store);
  self->trip = trip;
  self->run = g_atomic_rc_box_new0 (Run);
  self->run->source = sw_picture_source_ref (sw_store_picture_source (store));
  self->run->looks = g_async_queue_new_full (look_free);
  wish->trip = trip;
  wish->source = sw_picture_source_ref (self->run->source);
  sw_store_read (store, SW_RANK_VISIBLE, list_run, wish, wish_free, (GDestroyNotify)g_array_unref,
                 NULL, on_listed, g_object_ref (self));
  return self;
}
