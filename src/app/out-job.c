/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/out-job.h"

#include <string.h>

#include "app/text.h"
#include "app/widgets.h"
#include "core/base/error.h"

#define LOOK_MS 100

/* Held by the window, by the work on either thread and by what comes back. */
typedef struct
{
  const SwOutKind *kind;
  SwStore *store;
  gpointer data, begun;
  GDestroyNotify destroy;
  SwOutProgress progress;
  GCancellable *cancellable;
  GtkWidget *dialog, *bar; /* weak */
  guint look;
} Job;

static void
job_clear (gpointer data)
{
  Job *job = data;

  if (job->begun != NULL)
    job->kind->free_begun (job->begun);
  if (job->destroy != NULL)
    job->destroy (job->data);
  g_object_unref (job->cancellable);
  g_object_unref (job->store);
}

static void
job_unref (gpointer job)
{
  g_atomic_rc_box_release_full (job, job_clear);
}

static void
close_dialog (Job *job)
{
  g_clear_handle_id (&job->look, g_source_remove);
  if (job->dialog != NULL)
    gtk_widget_destroy (job->dialog);
}

static void
tell (Job *job, const char *sentence, const GError *error)
{
  close_dialog (job);
  if (sentence != NULL)
    sw_store_tell (job->store, sentence, FALSE);
  else if (!g_error_matches (error, G_IO_ERROR,
                             G_IO_ERROR_CANCELLED)) /* the catalogue was closed */
    sw_store_tell (job->store, error->message,
                   !g_error_matches (error, SW_ERROR, SW_ERROR_CANCELLED));
}

/* ---- the second half, on its own thread ---- */

static void
finish_run (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Job *job = data;
  GError *error = NULL;
  char *sentence
      = job->kind->finish (job->begun, job->data, &job->progress, job->cancellable, &error);

  /* what it held is let go here: it may have much to take away */
  job->kind->free_begun (g_steal_pointer (&job->begun));
  if (sentence != NULL)
    g_task_return_pointer (task, sentence, g_free);
  else
    g_task_return_error (task, error);
}

static void
on_finished (GObject *object, GAsyncResult *result, gpointer data)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = g_task_propagate_pointer (G_TASK (result), &error);

  tell (job, sentence, error);
  job_unref (job);
}

/* ---- the first, on the catalogue thread ---- */

static gpointer
begin_run (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Job *job = data;

  job->begun = job->kind->begin (catalogue, job->data, &job->progress, error);
  return job->begun != NULL ? job : NULL;
}

static void
on_begun (GObject *object, GAsyncResult *result, gpointer data)
{
  Job *job = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (GTask) task = NULL;

  if (sw_store_finish (job->store, result, &error) == NULL)
    {
      tell (job, NULL, error);
      job_unref (job);
      return;
    }
  task = g_task_new (NULL, NULL, on_finished, job);
  g_task_set_task_data (task, g_atomic_rc_box_acquire (job), job_unref);
  g_task_run_in_thread (task, finish_run);
}

/* ---- the small window ---- */

static gboolean
look (gpointer data)
{
  Job *job = data;
  int total = g_atomic_int_get (&job->progress.total),
      done = g_atomic_int_get (&job->progress.done);

  if (total > 0)
    {
      g_autofree char *text = g_strdup_printf (_ ("%d of %d"), MIN (done, total), total);
      gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (job->bar), MIN (1.0, (double)done / total));
      gtk_progress_bar_set_text (GTK_PROGRESS_BAR (job->bar), text);
    }
  else
    gtk_progress_bar_pulse (GTK_PROGRESS_BAR (job->bar));
  return G_SOURCE_CONTINUE;
}

static void
on_response (GtkDialog *dialog, int response, gpointer data)
{
  gtk_widget_destroy (GTK_WIDGET (dialog));
}

/* Also with the main window: nobody waits for it any more. Once it is finished this does nothing.
 */
static void
on_destroy (GtkWidget *dialog, gpointer data)
{
  Job *job = data;

  g_clear_handle_id (&job->look, g_source_remove);
  g_cancellable_cancel (job->cancellable);
  job->dialog = NULL;
}

static void
job_released (gpointer data, GClosure *closure)
{
  job_unref (data);
}

static void
show_dialog (Job *job, GtkWindow *parent)
{
  GtkWidget *content;

  job->dialog = gtk_dialog_new_with_buttons (
      job->kind->title, parent, GTK_DIALOG_DESTROY_WITH_PARENT | GTK_DIALOG_USE_HEADER_BAR,
      _ ("_Cancel"), GTK_RESPONSE_CANCEL, NULL);
  gtk_window_set_resizable (GTK_WINDOW (job->dialog), FALSE);
  content = gtk_dialog_get_content_area (GTK_DIALOG (job->dialog));
  gtk_container_set_border_width (GTK_CONTAINER (content), 24);
  job->bar = gtk_progress_bar_new ();
  gtk_widget_set_size_request (job->bar, 280, -1);
  gtk_progress_bar_set_show_text (GTK_PROGRESS_BAR (job->bar), TRUE);
  gtk_progress_bar_set_text (GTK_PROGRESS_BAR (job->bar), _ ("Getting ready"));
  atk_object_set_name (gtk_widget_get_accessible (job->bar), _ ("How far it is"));
  gtk_container_add (GTK_CONTAINER (content), job->bar);
  g_signal_connect (job->dialog, "response", G_CALLBACK (on_response), NULL);
  g_signal_connect_data (job->dialog, "destroy", G_CALLBACK (on_destroy),
                         g_atomic_rc_box_acquire (job), job_released, 0);
  job->look = g_timeout_add (LOOK_MS, look, job);
  gtk_widget_show_all (job->dialog);
}

void
sw_out_job_run (GtkWindow *parent, SwStore *store, const SwOutKind *kind, gpointer data,
                GDestroyNotify destroy)
{
  Job *job = g_atomic_rc_box_new0 (Job);

  job->kind = kind;
  job->store = g_object_ref (store);
  job->data = data;
  job->destroy = destroy;
  job->cancellable = g_cancellable_new ();
  show_dialog (job, parent);
  sw_store_read (store, SW_RANK_KEY, begin_run, g_atomic_rc_box_acquire (job), job_unref, NULL,
                 NULL, on_begun, job);
}
