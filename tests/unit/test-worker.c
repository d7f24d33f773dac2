/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The catalogue thread: order by rank, results and errors, cancel, notices, and its end. Waits for
 * states, never for a time. */
#include "sw-test-catalogue.h"

#include "core/catalogue/worker.h"

#include <sys/wait.h>

/* Holds the thread at a known point until it is let go. */
typedef struct
{
  GMutex mutex;
  GCond cond;
  gboolean inside, go;
} Gate;

static void
gate_wait_inside (Gate *gate)
{
  g_mutex_lock (&gate->mutex);
  while (!gate->inside)
    g_cond_wait (&gate->cond, &gate->mutex);
  g_mutex_unlock (&gate->mutex);
}

static void
gate_open (Gate *gate)
{
  g_mutex_lock (&gate->mutex);
  gate->go = TRUE;
  g_cond_broadcast (&gate->cond);
  g_mutex_unlock (&gate->mutex);
}

static gpointer
stand_in_gate (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Gate *gate = data;
  g_mutex_lock (&gate->mutex);
  gate->inside = TRUE;
  g_cond_broadcast (&gate->cond);
  while (!gate->go)
    g_cond_wait (&gate->cond, &gate->mutex);
  g_mutex_unlock (&gate->mutex);
  return NULL;
}

/* What came back, in order, in the main context. */
typedef struct
{
  SwWorker *worker;
  GString *order; /* of the results */
  int answers, errors, last_code;
  GString *notices;
  int elsewhere;
} Desk;

static void
wait_for (gboolean (*reached) (Desk *desk), Desk *desk)
{
  while (!reached (desk))
    g_main_context_iteration (NULL, TRUE);
}

static void
on_answer (GObject *source, GAsyncResult *result, gpointer data)
{
  Desk *desk = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *said = sw_worker_finish (desk->worker, result, &error);
  desk->answers++;
  if (error != NULL)
    {
      desk->errors++;
      desk->last_code = error->code;
    }
  if (said != NULL)
    g_string_append (desk->order, said);
}

static void
on_notice (SwWorker *worker, const char *const *tables, gpointer data)
{
  Desk *desk = data;
  if (tables == NULL)
    desk->elsewhere++;
  for (gsize i = 0; tables != NULL && tables[i] != NULL; i++)
    g_string_append_printf (desk->notices, "%s ", tables[i]);
}

static Desk
desk_new (const char *folder)
{
  Desk desk = { sw_worker_new (folder), g_string_new (NULL), 0, 0, -1, g_string_new (NULL), 0 };
  return desk;
}

static void
desk_clear (Desk *desk)
{
  sw_worker_free (desk->worker);
  g_string_free (desk->order, TRUE);
  g_string_free (desk->notices, TRUE);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Desk, desk_clear)

static gpointer
say (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return g_strdup (data);
}

static gpointer
add_place (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (sw_act_begin (&act, catalogue, error))
    {
      sw_test_exec (catalogue,
                    "INSERT INTO place (name, path) VALUES ('Press house', 'Press house')");
      sw_act_commit (&act, "Press house added", error);
    }
  return NULL;
}

static gpointer
refuse (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, "No.");
  return NULL;
}

static gpointer
tell_mode (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return g_strdup (sw_catalogue_is_read_only (catalogue) ? "read-only" : "read-write");
}

static void
push (Desk *desk, SwRank rank, SwWorkFunc work, const char *word, GCancellable *cancellable)
{
  sw_worker_push (desk->worker, rank, work, g_strdup (word), g_free, g_free, cancellable, on_answer,
                  desk);
}

static gboolean
nine_answers (Desk *desk)
{
  return desk->answers >= 9;
}

static gboolean
one_answer (Desk *desk)
{
  return desk->answers >= 1;
}

static gboolean
two_answers (Desk *desk)
{
  return desk->answers >= 2;
}

static gboolean
noticed (Desk *desk)
{
  return desk->notices->len > 0;
}

static gboolean
elsewhere (Desk *desk)
{
  return desk->elsewhere > 0;
}

static void
order_by_rank (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_auto (Desk) desk = desk_new (bed.path);
  Gate gate = { 0 };
  sw_worker_push (desk.worker, SW_RANK_BATCH, stand_in_gate, &gate, NULL, NULL, NULL, on_answer,
                  &desk);
  gate_wait_inside (&gate);
  push (&desk, SW_RANK_BATCH, say, "G", NULL);
  push (&desk, SW_RANK_BATCH, say, "H", NULL);
  push (&desk, SW_RANK_SEARCH, say, "E", NULL);
  push (&desk, SW_RANK_KEY, say, "A", NULL);
  push (&desk, SW_RANK_VISIBLE, say, "C", NULL);
  push (&desk, SW_RANK_KEY, say, "B", NULL);
  push (&desk, SW_RANK_VISIBLE, say, "D", NULL);
  push (&desk, SW_RANK_SEARCH, say, "F", NULL);
  gate_open (&gate);
  wait_for (nine_answers, &desk);
  assert_string_equal (desk.order->str, "ABCDEFGH");
  assert_i64_equal (desk.errors, 0);
}

static void
errors_come_back (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_auto (Desk) desk = desk_new (bed.path);
  push (&desk, SW_RANK_KEY, refuse, "", NULL);
  wait_for (one_answer, &desk);
  assert_i64_equal (desk.last_code, SW_ERROR_REFUSED);
  g_auto (Desk) nowhere = desk_new ("/nowhere/x.shedwalk");
  push (&nowhere, SW_RANK_KEY, say, "x", NULL);
  push (&nowhere, SW_RANK_BATCH, say, "y", NULL);
  wait_for (two_answers, &nowhere);
  assert_i64_equal (nowhere.errors, 2);
  assert_i64_equal (nowhere.last_code, SW_ERROR_NOT_FOUND);
  assert_string_equal (nowhere.order->str, "");
}

static void
cancelled_before_its_turn (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_auto (Desk) desk = desk_new (bed.path);
  g_autoptr (GCancellable) stop = g_cancellable_new ();
  Gate gate = { 0 };
  sw_worker_push (desk.worker, SW_RANK_KEY, stand_in_gate, &gate, NULL, NULL, NULL, on_answer,
                  &desk);
  gate_wait_inside (&gate);
  push (&desk, SW_RANK_VISIBLE, say, "scrolled away", stop);
  g_cancellable_cancel (stop);
  gate_open (&gate);
  wait_for (two_answers, &desk);
  assert_i64_equal (desk.errors, 1);
  assert_i64_equal (desk.last_code, SW_ERROR_CANCELLED);
  assert_string_equal (desk.order->str, "");
}

static void
changes_are_told (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_auto (Desk) desk = desk_new (bed.path);
  sw_worker_set_changed (desk.worker, on_notice, &desk);
  push (&desk, SW_RANK_KEY, add_place, "", NULL);
  wait_for (noticed, &desk);
  assert_string_equal (desk.notices->str, "place ");
  assert_i64_equal (desk.elsewhere, 0);
  /* another program's act is noticed by looking; this one has no name for its tables */
  sw_test_act (bed.catalogue, "Cold store added",
               "INSERT INTO place (name, path) VALUES ('Cold store', 'Cold store')");
  wait_for (elsewhere, &desk);
  assert_string_equal (desk.notices->str, "place ");
}

static void
the_end_keeps_what_was_keyed (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  Desk desk = desk_new (bed.path);
  Gate gate = { 0 };
  sw_worker_push (desk.worker, SW_RANK_KEY, stand_in_gate, &gate, NULL, NULL, NULL, on_answer,
                  &desk);
  gate_wait_inside (&gate);
  push (&desk, SW_RANK_BATCH, say, "batch", NULL);
  push (&desk, SW_RANK_KEY, add_place, "", NULL);
  sw_worker_set_changed (desk.worker, on_notice, &desk);
  gate_open (&gate);
  g_clear_pointer (&desk.worker, sw_worker_free);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM place"), 1);
  while (desk.answers < 3)
    g_main_context_iteration (NULL, TRUE);
  while (g_main_context_iteration (NULL, FALSE))
    ;
  /* the notice of a worker that is gone is not delivered */
  assert_string_equal (desk.notices->str, "");
  desk_clear (&desk);
}

/* As somebody who owns nothing, since root passes every permission check; a process of its own,
 * since that cannot be taken back. */
static void
opens_for_reading_where_it_must (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autofree char *database = g_build_filename (bed.path, "catalogue.db", NULL);
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  assert_true (chmod (bed.folder, 0755) == 0 && chmod (bed.path, 0555) == 0);
  assert_int_equal (chmod (database, 0644), 0); /* its owner lets others read it */
  pid_t child = fork ();
  assert_true (child >= 0);
  if (child == 0)
    {
      if (geteuid () == 0 && setuid (65534) != 0)
        _exit (99);
      Desk desk = desk_new (bed.path);
      push (&desk, SW_RANK_KEY, tell_mode, "", NULL);
      wait_for (one_answer, &desk);
      _exit (g_str_equal (desk.order->str, "read-only") ? 0 : 1);
    }
  int status = 0;
  assert_true (waitpid (child, &status, 0) == child);
  assert_true (chmod (bed.path, 0755) == 0);
  assert_true (WIFEXITED (status));
  assert_i64_equal (WEXITSTATUS (status), 0);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, order_by_rank);
  SW_TEST (tests, errors_come_back);
  SW_TEST (tests, cancelled_before_its_turn);
  SW_TEST (tests, changes_are_told);
  SW_TEST (tests, the_end_keeps_what_was_keyed);
  SW_TEST (tests, opens_for_reading_where_it_must);
  return sw_tests_run (tests, "worker");
}
