/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The catalogue thread: takes work by rank, runs it with the only connection, and tells changes to
 * the main context that made it. Knows nothing of what the work does. */
#include "core/catalogue/worker.h"

#include "core/base/error.h"
#include "core/base/language.h"

/* How often another program's writing is looked for, in microseconds. */
#define POLL_US (250 * 1000)
#define N_RANKS (SW_RANK_BATCH + 1)

/* What notices on their way need after the worker is gone: counted, and told that it is. */
typedef struct
{
  gatomicrefcount refs;
  SwWorker *worker; /* NULL once freed; read and written in the main context only */
} Link;

struct _SwWorker
{
  GThread *thread;
  char *folder;
  GMainContext *context;
  Link *link;
  SwWorkerChangedFunc changed; /* main context only */
  gpointer changed_data;

  GMutex mutex; /* guards what follows */
  GCond wake;
  GQueue queues[N_RANKS]; /* of GTask */
  gboolean ending;
};

typedef struct
{
  SwWorkFunc work;
  gpointer data;
  GDestroyNotify destroy, destroy_result;
} Job;

static void
job_free (gpointer data)
{
  Job *job = data;
  if (job->destroy != NULL)
    job->destroy (job->data);
  g_free (job);
}

static void
link_unref (gpointer data)
{
  Link *link = data;
  if (g_atomic_ref_count_dec (&link->refs))
    g_free (link);
}

/* Notices ****************************************************************/

typedef struct
{
  Link *link;
  char **tables; /* NULL: another program wrote */
} Notice;

static void
notice_free (gpointer data)
{
  Notice *notice = data;
  link_unref (notice->link);
  g_strfreev (notice->tables);
  g_free (notice);
}

static gboolean
deliver (gpointer data)
{
  Notice *notice = data;
  SwWorker *worker = notice->link->worker;
  if (worker != NULL && worker->changed != NULL)
    worker->changed (worker, (const char *const *)notice->tables, worker->changed_data);
  return G_SOURCE_REMOVE;
}

/* From the catalogue thread. */
static void
send_notice (SwWorker *worker, const char *const *tables)
{
  Notice *notice = g_new0 (Notice, 1);
  notice->link = worker->link;
  g_atomic_ref_count_inc (&worker->link->refs);
  notice->tables = g_strdupv ((char **)tables);
  g_autoptr (GSource) source = g_idle_source_new ();
  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, deliver, notice, notice_free);
  g_source_attach (source, worker->context);
}

static void
on_changed (SwCatalogue *catalogue, const char *const *tables, gpointer data)
{
  send_notice (data, tables);
}

/* The thread *************************************************************/

static void
return_cancelled (GTask *task)
{
  g_task_return_new_error (task, SW_ERROR, SW_ERROR_CANCELLED,
                           _ ("It was stopped before it began."));
}

static void
run_task (GTask *task, SwCatalogue *catalogue, const GError *broken)
{
  Job *job = g_task_get_task_data (task);
  GCancellable *cancellable = g_task_get_cancellable (task);
  GError *error = NULL;
  if (g_cancellable_is_cancelled (cancellable))
    {
      return_cancelled (task);
      return;
    }
  if (catalogue == NULL)
    {
      g_task_return_error (task, g_error_copy (broken));
      return;
    }
  gpointer result = job->work (catalogue, job->data, cancellable, &error);
  if (error != NULL)
    {
      if (result != NULL && job->destroy_result != NULL)
        job->destroy_result (result);
      g_task_return_error (task, error);
    }
  else
    g_task_return_pointer (task, result, job->destroy_result);
}

/* Mutex held. The first of the best rank; none: NULL. */
static GTask *
take_next (SwWorker *worker)
{
  for (int rank = 0; rank < N_RANKS; rank++)
    if (!g_queue_is_empty (&worker->queues[rank]))
      return g_queue_pop_head (&worker->queues[rank]);
  return NULL;
}

/* Mutex held. At the end only what a person waits for is still done. */
static void
drop_the_rest (SwWorker *worker)
{
  for (int rank = SW_RANK_KEY + 1; rank < N_RANKS; rank++)
    {
      GTask *task = NULL;
      while ((task = g_queue_pop_head (&worker->queues[rank])) != NULL)
        {
          return_cancelled (task);
          g_object_unref (task);
        }
    }
}

/* Waits for work, or for the time of the next look; NULL then. *out_end TRUE: all is done and the
 * thread may go. */
static GTask *
wait_for_task (SwWorker *worker, gint64 until, gboolean *out_end)
{
  g_autoptr (GMutexLocker) locker = g_mutex_locker_new (&worker->mutex);
  GTask *task = NULL;
  gboolean in_time = TRUE;
  while ((task = take_next (worker)) == NULL && !worker->ending && in_time)
    in_time = g_cond_wait_until (&worker->wake, &worker->mutex, until);
  if (worker->ending)
    drop_the_rest (worker);
  *out_end = worker->ending && task == NULL;
  return task;
}

static gpointer
run_thread (gpointer data)
{
  SwWorker *worker = data;
  g_autoptr (GError) broken = NULL;
  g_autoptr (SwCatalogue) catalogue
      = sw_catalogue_open (worker->folder, SW_OPEN_READ_WRITE, &broken);
  /* what cannot be written can still be looked at */
  if (catalogue == NULL && g_error_matches (broken, SW_ERROR, SW_ERROR_READ_ONLY))
    {
      g_clear_error (&broken);
      catalogue = sw_catalogue_open (worker->folder, SW_OPEN_READ_ONLY, &broken);
    }
  if (catalogue != NULL)
    sw_catalogue_set_changed (catalogue, on_changed, worker);
  gint64 next_look = g_get_monotonic_time () + POLL_US;
  gboolean end = FALSE;
  while (!end)
    {
      GTask *task = wait_for_task (worker, next_look, &end);
      if (task != NULL)
        {
          run_task (task, catalogue, broken);
          g_object_unref (task);
        }
      if (g_get_monotonic_time () < next_look)
        continue;
      if (catalogue != NULL && sw_catalogue_changed_elsewhere (catalogue))
        send_notice (worker, NULL);
      next_look = g_get_monotonic_time () + POLL_US;
    }
  return NULL;
}

/* The main side **********************************************************/

SwWorker *
sw_worker_new (const char *folder)
{
  SwWorker *worker = g_new0 (SwWorker, 1);
  worker->folder = g_strdup (folder);
  worker->context = g_main_context_ref_thread_default ();
  worker->link = g_new0 (Link, 1);
  g_atomic_ref_count_init (&worker->link->refs);
  worker->link->worker = worker;
  g_mutex_init (&worker->mutex);
  g_cond_init (&worker->wake);
  for (int rank = 0; rank < N_RANKS; rank++)
    g_queue_init (&worker->queues[rank]);
  worker->thread = g_thread_new ("catalogue", run_thread, worker);
  return worker;
}

void
sw_worker_free (SwWorker *worker)
{
  if (worker == NULL)
    return;
  g_mutex_lock (&worker->mutex);
  worker->ending = TRUE;
  g_cond_signal (&worker->wake);
  g_mutex_unlock (&worker->mutex);
  g_thread_join (worker->thread);
  worker->link->worker = NULL;
  link_unref (worker->link);
  g_main_context_unref (worker->context);
  g_mutex_clear (&worker->mutex);
  g_cond_clear (&worker->wake);
  g_free (worker->folder);
  g_free (worker);
}

void
sw_worker_push (SwWorker *worker, SwRank rank, SwWorkFunc work, gpointer data,
                GDestroyNotify destroy, GDestroyNotify destroy_result, GCancellable *cancellable,
                GAsyncReadyCallback callback, gpointer user_data)
{
  g_return_if_fail (worker != NULL && rank < N_RANKS && work != NULL);
  Job *job = g_new0 (Job, 1);
  *job = (Job){ work, data, destroy, destroy_result };
  GTask *task = g_task_new (NULL, cancellable, callback, user_data);
  /* a cancel that comes too late does not throw away a result that stands: the work itself says
   * whether it stopped */
  g_task_set_check_cancellable (task, FALSE);
  g_task_set_task_data (task, job, job_free);
  g_mutex_lock (&worker->mutex);
  g_queue_push_tail (&worker->queues[rank], task);
  g_cond_signal (&worker->wake);
  g_mutex_unlock (&worker->mutex);
}

gpointer
sw_worker_finish (SwWorker *worker, GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
sw_worker_set_changed (SwWorker *worker, SwWorkerChangedFunc changed, gpointer data)
{
  worker->changed = changed;
  worker->changed_data = data;
}
