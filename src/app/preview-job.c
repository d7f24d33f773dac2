/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Has the catalogue thread read what core's look needs, then looks on a thread of its own. */
#include "app/preview-job.h"

#include "app/text.h"

/* Shared with the thread, which may outlive the object. */
typedef struct
{
  SwPreviewBase *base;
  char **folders;
  SwPreviewProgress progress;
} Run;

struct _SwPreviewJob
{
  SwLongJob parent;
  SwStore *store;
  Run *run;
  SwPreview *preview;
};

G_DEFINE_TYPE (SwPreviewJob, sw_preview_job, SW_TYPE_LONG_JOB)

static void
run_free (gpointer data)
{
  Run *run = data;

  sw_preview_base_free (run->base);
  g_strfreev (run->folders);
}

static void
run_unref (gpointer data)
{
  g_atomic_rc_box_release_full (data, run_free);
}

/* Of a hundred thousand photos that takes longer than a frame. */
static gpointer
free_preview (gpointer preview)
{
  sw_preview_free (preview);
  return NULL;
}

static void
sw_preview_job_finalize (GObject *object)
{
  SwPreviewJob *self = SW_PREVIEW_JOB (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->run, run_unref);
  if (self->preview != NULL)
    g_thread_unref (g_thread_new ("free", free_preview, self->preview));
  G_OBJECT_CLASS (sw_preview_job_parent_class)->finalize (object);
}

static char *
sw_preview_job_text (SwLongJob *job)
{
  SwPreviewProgress *progress = &SW_PREVIEW_JOB (job)->run->progress;
  int seen = g_atomic_int_get (&progress->seen);

  switch (g_atomic_int_get (&progress->stage))
    {
    case SW_PREVIEW_READING:
      return g_strdup_printf (_ ("Reading %d of %d photos and other files"),
                              g_atomic_int_get (&progress->done),
                              g_atomic_int_get (&progress->total));
    case SW_PREVIEW_COMPARING:
      return g_strdup (_ ("Comparing photos of the same moment…"));
    default:
      return seen > 0 ? g_strdup_printf (_ ("Looking through the folder: %d files"), seen)
                      : g_strdup (_ ("Looking through the folder…"));
    }
}

static double
sw_preview_job_fraction (SwLongJob *job)
{
  SwPreviewProgress *progress = &SW_PREVIEW_JOB (job)->run->progress;
  int total = g_atomic_int_get (&progress->total);

  if (g_atomic_int_get (&progress->stage) != SW_PREVIEW_READING || total == 0)
    return -1;
  return (double)g_atomic_int_get (&progress->done) / total;
}

static void
sw_preview_job_class_init (SwPreviewJobClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sw_preview_job_finalize;
  SW_LONG_JOB_CLASS (klass)->text = sw_preview_job_text;
  SW_LONG_JOB_CLASS (klass)->fraction = sw_preview_job_fraction;
}

static void
sw_preview_job_init (SwPreviewJob *self)
{
}

static void
end (SwPreviewJob *self, const GError *error)
{
  if (sw_long_job_is_cancelled (SW_LONG_JOB (self)))
    sw_long_job_stop (SW_LONG_JOB (self));
  else
    sw_long_job_end (SW_LONG_JOB (self), error);
}

/* ---- looking ---- */

static void
look_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Run *run = data;
  GError *error = NULL;
  SwPreview *preview = sw_preview_run (run->base, (const char *const *)run->folders, NULL,
                                       &run->progress, cancellable, &error);

  g_clear_pointer (&run->base, sw_preview_base_free); /* here, not on the main thread */
  if (preview != NULL)
    g_task_return_pointer (task, preview, (GDestroyNotify)sw_preview_free);
  else
    g_task_return_error (task, error);
}

static void
on_looked (GObject *object, GAsyncResult *result, gpointer data)
{
  SwPreviewJob *self = SW_PREVIEW_JOB (object);
  g_autoptr (GError) error = NULL;

  self->preview = g_task_propagate_pointer (G_TASK (result), &error);
  end (self, error);
}

/* ---- what is known ---- */

static gpointer
base_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_preview_base_read (catalogue, error);
}

static void
on_base (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwPreviewJob) self = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GTask) task = NULL;

  self->run->base = sw_store_finish (self->store, result, &error);
  if (self->run->base == NULL || sw_long_job_is_cancelled (SW_LONG_JOB (self)))
    {
      end (self, error);
      return;
    }
  task = g_task_new (self, sw_long_job_cancellable (SW_LONG_JOB (self)), on_looked, NULL);
  g_task_set_task_data (task, g_atomic_rc_box_acquire (self->run), run_unref);
  g_task_run_in_thread (task, look_thread);
}

SwPreviewJob *
sw_preview_job_new (SwStore *store, const char *const *folders)
{
  SwPreviewJob *self = g_object_new (SW_TYPE_PREVIEW_JOB, NULL);

  self->store = g_object_ref (store);
  self->run = g_atomic_rc_box_new0 (Run);
  self->run->folders = g_strdupv ((char **)folders);
  sw_long_job_tick (SW_LONG_JOB (self));
  sw_store_read (store, SW_RANK_VISIBLE, base_run, NULL, NULL, (GDestroyNotify)sw_preview_base_free,
                 sw_long_job_cancellable (SW_LONG_JOB (self)), on_base, g_object_ref (self));
  return self;
}

const SwPreview *
sw_preview_job_preview (SwPreviewJob *self)
{
  return self->preview;
}
