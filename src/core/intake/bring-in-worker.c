/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bring-in for the window: on a thread of its own, with its pieces of database work sent to the
 * catalogue thread. */
#include "core/intake/bring-in-private.h"

/* One piece on its way to the other thread and back. */
typedef struct
{
  SwRun *run;
  SwRunPiece piece;
  GMainContext *context;
  gboolean ended, good;
  GError *error;
} Errand;

static gpointer
do_piece (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Errand *errand = data;

  return errand->piece (catalogue, errand->run, error) ? errand : NULL;
}

static void
piece_ended (GObject *source, GAsyncResult *result, gpointer data)
{
  Errand *errand = data;

  errand->good = sw_worker_finish (errand->run->executor, result, &errand->error) != NULL;
  errand->ended = TRUE;
}

static gboolean
execute_there (SwRun *run, SwRunPiece piece, GError **error)
{
  Errand errand = { run, piece, g_main_context_get_thread_default (), FALSE, FALSE, NULL };

  /* never cancelled by itself: a batch that was copied gets its rows */
  sw_worker_push (run->executor, SW_RANK_BATCH, do_piece, &errand, NULL, NULL, NULL, piece_ended,
                  &errand);
  while (!errand.ended)
    g_main_context_iteration (errand.context, TRUE);
  if (!errand.good && errand.error != NULL)
    g_propagate_error (error, errand.error);
  return errand.good;
}

gboolean
sw_bring_in_run_on_worker (SwWorker *worker, const char *const *folders,
                           const SwBringInOptions *options, SwBringInProgress *progress,
                           GCancellable *cancellable, SwBringInReport *report, GError **error)
{
  GMainContext *context = g_main_context_new ();
  gboolean good;

  g_main_context_push_thread_default (context);
  good
      = sw_run_with (execute_there, worker, folders, options, progress, cancellable, report, error);
  g_main_context_pop_thread_default (context);
  g_main_context_unref (context);
  return good;
}
