/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clock, the cancel and the end of a job. Does none of the work. */
#include "app/long-job.h"

#define TICK_MS 100

typedef struct
{
  GCancellable *cancellable;
  guint tick;
  gboolean done;
  char *problem;
} SwLongJobPrivate;

enum
{
  PROGRESS,
  DONE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (SwLongJob, sw_long_job, G_TYPE_OBJECT)

static SwLongJobPrivate *
of (SwLongJob *self)
{
  return sw_long_job_get_instance_private (self);
}

static void
sw_long_job_dispose (GObject *object)
{
  sw_long_job_stop (SW_LONG_JOB (object));
  sw_long_job_cancel (SW_LONG_JOB (object));
  G_OBJECT_CLASS (sw_long_job_parent_class)->dispose (object);
}

static void
sw_long_job_finalize (GObject *object)
{
  SwLongJobPrivate *job = of (SW_LONG_JOB (object));

  g_clear_object (&job->cancellable);
  g_free (job->problem);
  G_OBJECT_CLASS (sw_long_job_parent_class)->finalize (object);
}

static void
sw_long_job_class_init (SwLongJobClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = sw_long_job_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_long_job_finalize;
  signals[PROGRESS]
      = g_signal_new ("progress", SW_TYPE_LONG_JOB, G_SIGNAL_RUN_FIRST,
                      G_STRUCT_OFFSET (SwLongJobClass, progress), NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[DONE] = g_signal_new ("done", SW_TYPE_LONG_JOB, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 0);
}

static void
sw_long_job_init (SwLongJob *self)
{
  of (self)->cancellable = g_cancellable_new ();
}

char *
sw_long_job_text (SwLongJob *self)
{
  return SW_LONG_JOB_GET_CLASS (self)->text (self);
}

double
sw_long_job_fraction (SwLongJob *self)
{
  return SW_LONG_JOB_GET_CLASS (self)->fraction (self);
}

const char *
sw_long_job_problem (SwLongJob *self)
{
  return of (self)->problem;
}

gboolean
sw_long_job_is_done (SwLongJob *self)
{
  return of (self)->done;
}

void
sw_long_job_cancel (SwLongJob *self)
{
  g_cancellable_cancel (of (self)->cancellable);
}

GCancellable *
sw_long_job_cancellable (SwLongJob *self)
{
  return of (self)->cancellable;
}

gboolean
sw_long_job_is_cancelled (SwLongJob *self)
{
  return g_cancellable_is_cancelled (of (self)->cancellable);
}

static gboolean
on_tick (gpointer self)
{
  g_signal_emit (self, signals[PROGRESS], 0);
  return G_SOURCE_CONTINUE;
}

void
sw_long_job_tick (SwLongJob *self)
{
  SwLongJobPrivate *job = of (self);

  if (job->tick == 0)
    job->tick = g_timeout_add (TICK_MS, on_tick, self);
}

void
sw_long_job_stop (SwLongJob *self)
{
  g_clear_handle_id (&of (self)->tick, g_source_remove);
}

void
sw_long_job_end (SwLongJob *self, const GError *error)
{
  SwLongJobPrivate *job = of (self);

  if (job->done)
    return;
  job->done = TRUE;
  job->problem = error != NULL ? g_strdup (error->message) : NULL;
  sw_long_job_stop (self);
  g_signal_emit (self, signals[DONE], 0);
}
