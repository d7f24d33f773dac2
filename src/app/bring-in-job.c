/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs core's bring-in on a thread of its own and lets the window read its counters. Copies nothing
 * itself. */
#include "app/bring-in-job.h"

#include "app/text.h"

/* Shared with the thread, which may outlive the object. */
typedef struct
{
  SwWorkerHold *hold;
  char **folders;
  SwBringInProgress progress;
  SwBringInReport *report;
} Run;

struct _SwBringInJob
{
  SwLongJob parent;
  Run *run;
};

G_DEFINE_TYPE (SwBringInJob, sw_bring_in_job, SW_TYPE_LONG_JOB)

static void
run_free (gpointer data)
{
  Run *run = data;

  g_clear_pointer (&run->hold, sw_worker_hold_release);
  g_strfreev (run->folders);
  sw_bring_in_report_free (run->report);
}

static void
run_unref (gpointer data)
{
  g_atomic_rc_box_release_full (data, run_free);
}

static void
sw_bring_in_job_finalize (GObject *object)
{
  SwBringInJob *self = SW_BRING_IN_JOB (object);

  g_clear_pointer (&self->run, run_unref);
  G_OBJECT_CLASS (sw_bring_in_job_parent_class)->finalize (object);
}

/* Rows are written behind the copies, which of very many takes a while longer. */
static gboolean
are_all_copied (SwBringInProgress *progress)
{
  int total = g_atomic_int_get (&progress->files_total);

  return total > 0 && g_atomic_int_get (&progress->files_done) >= total;
}

static char *
sw_bring_in_job_text (SwLongJob *job)
{
  SwBringInProgress *progress = &SW_BRING_IN_JOB (job)->run->progress;
  int stage = g_atomic_int_get (&progress->stage);
  int left = sw_bring_in_progress_seconds_left (progress);
  gint64 done, total;
  g_autofree char *done_text = NULL, *total_text = NULL, *left_text = NULL;

  if (stage == SW_BRING_IN_SCANNING)
    return g_strdup (_ ("Looking through the folder…"));
  if (stage == SW_BRING_IN_COMPARING)
    return g_strdup (_ ("Comparing photos of the same moment…"));
  if (are_all_copied (progress))
    return g_strdup_printf (_ ("All %d files are copied; writing them into the catalogue…"),
                            g_atomic_int_get (&progress->files_total));
  sw_bring_in_progress_bytes (progress, &done, &total);
  done_text = g_format_size ((guint64)done);
  total_text = g_format_size ((guint64)total);
  left_text = left >= 0 ? sw_text_seconds (left) : NULL;
  return g_strdup_printf (
      _ ("Copying %d of %d files, %s of %s%s%s"), g_atomic_int_get (&progress->files_done),
      g_atomic_int_get (&progress->files_total), done_text, total_text,
      left_text != NULL ? _ (", time left ") : "", left_text != NULL ? left_text : "");
}

static double
sw_bring_in_job_fraction (SwLongJob *job)
{
  SwBringInProgress *progress = &SW_BRING_IN_JOB (job)->run->progress;
  gint64 done, total;

  if (g_atomic_int_get (&progress->stage) != SW_BRING_IN_COPYING || are_all_copied (progress))
    return -1;
  sw_bring_in_progress_bytes (progress, &done, &total);
  return total > 0 ? (double)done / (double)total : -1;
}

static void
sw_bring_in_job_class_init (SwBringInJobClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sw_bring_in_job_finalize;
  SW_LONG_JOB_CLASS (klass)->text = sw_bring_in_job_text;
  SW_LONG_JOB_CLASS (klass)->fraction = sw_bring_in_job_fraction;
}

static void
sw_bring_in_job_init (SwBringInJob *self)
{
}

static void
run_thread (GTask *task, gpointer object, gpointer data, GCancellable *cancellable)
{
  Run *run = data;
  GError *error = NULL;

  if (sw_bring_in_run_on_worker (run->hold->worker, (const char *const *)run->folders, NULL,
                                 &run->progress, cancellable, run->report, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
on_done (GObject *object, GAsyncResult *result, gpointer data)
{
  SwBringInJob *self = SW_BRING_IN_JOB (object);
  g_autoptr (GError) error = NULL;

  g_task_propagate_boolean (G_TASK (result), &error);
  g_clear_pointer (&self->run->hold, sw_worker_hold_release);
  sw_long_job_end (SW_LONG_JOB (self), error);
  g_application_release (g_application_get_default ());
}

SwBringInJob *
sw_bring_in_job_new (SwStore *store, const char *const *folders)
{
  SwBringInJob *self = g_object_new (SW_TYPE_BRING_IN_JOB, NULL);
  g_autoptr (GTask) task
      = g_task_new (self, sw_long_job_cancellable (SW_LONG_JOB (self)), on_done, NULL);

  self->run = g_atomic_rc_box_new0 (Run);
  self->run->hold = sw_store_hold_worker (store);
  self->run->folders = g_strdupv ((char **)folders);
  self->run->report = sw_bring_in_report_new ();
  sw_long_job_tick (SW_LONG_JOB (self));
  /* a window closed meanwhile stops the bring-in; the program stays until it has stopped in good
   * order */
  g_application_hold (g_application_get_default ());
  g_task_set_check_cancellable (task, FALSE); /* what was done is reported also after a cancel */
  g_task_set_task_data (task, g_atomic_rc_box_acquire (self->run), run_unref);
  g_task_run_in_thread (task, run_thread);
  return self;
}

const SwBringInReport *
sw_bring_in_job_report (SwBringInJob *self)
{
  return sw_long_job_is_done (SW_LONG_JOB (self)) ? self->run->report : NULL;
}
