/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts, events, undo and redo: alone, nested, refused, over restarts, beside another program,
 * killed half-way. */
#include "sw-test-catalogue.h"

#include "core/catalogue/catalogue-private.h"

#include <signal.h>
#include <sys/wait.h>

#define PLACES "SELECT count (*) FROM place"
#define ADD_PRESS "INSERT INTO place (name, path) VALUES ('Press house', 'Press house')"
#define ADD_STORE "INSERT INTO place (name, path) VALUES ('Cold store', 'Cold store')"
#define ADD_TRIP                                                                                   \
  "INSERT INTO trip (title, first_day, last_day) VALUES ('First walk', 20000, 20003);"
/* As a schema step leaves it behind. */
#define BARRIER                                                                                    \
  "INSERT INTO act (at_us, author, kind, sentence)"                                                \
  " VALUES (0, 'Rowan', 'barrier', 'The catalogue learned: places')"
#define ADD_ITEM "INSERT INTO item (name, place, added_us) VALUES ('Screw press', 1, 0)"

static void
expect_refused (gboolean ok, GError *error, const char *part)
{
  assert_false (ok);
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, part);
  g_error_free (error);
}

static void
undo_and_redo_over_restarts (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  sw_test_act (bed.catalogue, "Screw press added", ADD_ITEM);
  sw_test_act (bed.catalogue, "Screw press renamed",
               "UPDATE item SET name = 'Small screw press', asking = 25000 WHERE id = 1");
  sw_test_reopen (&bed);
  g_autofree char *next = sw_undo_sentence (bed.catalogue);
  assert_string_equal (next, "Screw press renamed");
  sw_test_undo (bed.catalogue, "Screw press renamed");
  assert_i64_equal (
      sw_test_ask (bed.catalogue, "SELECT name = 'Screw press' AND asking IS NULL FROM item"), 1);
  sw_test_reopen (&bed);
  sw_test_undo (bed.catalogue, "Screw press added");
  sw_test_undo (bed.catalogue, "Press house added");
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 0);
  sw_test_reopen (&bed);
  GError *error = NULL;
  gboolean ok = sw_undo (bed.catalogue, NULL, &error);
  expect_refused (ok, error, "nothing to take back");
  assert_null (sw_undo_sentence (bed.catalogue));
  sw_test_redo (bed.catalogue, "Press house added");
  sw_test_redo (bed.catalogue, "Screw press added");
  sw_test_reopen (&bed);
  sw_test_redo (bed.catalogue, "Screw press renamed");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT id = 1 AND asking = 25000 FROM item"), 1);
  error = NULL;
  ok = sw_redo (bed.catalogue, NULL, &error);
  expect_refused (ok, error, "nothing to do again");
  /* and back once more: the line is the same as if nothing had been taken back */
  sw_test_undo (bed.catalogue, "Screw press renamed");
  sw_test_redo (bed.catalogue, "Screw press renamed");
}

static void
a_new_act_ends_redo (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  sw_test_act (bed.catalogue, "Cold store added", ADD_STORE);
  sw_test_undo (bed.catalogue, "Cold store added");
  sw_test_act (bed.catalogue, "Trip added", ADD_TRIP);
  assert_null (sw_redo_sentence (bed.catalogue));
  GError *error = NULL;
  gboolean ok = sw_redo (bed.catalogue, NULL, &error);
  expect_refused (ok, error, "nothing to do again");
  /* what was taken back is skipped */
  sw_test_undo (bed.catalogue, "Trip added");
  sw_test_undo (bed.catalogue, "Press house added");
  sw_test_redo (bed.catalogue, "Press house added");
  sw_test_redo (bed.catalogue, "Trip added");
  /* the store's redo ended when the trip was added */
  assert_null (sw_redo_sentence (bed.catalogue));
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 1);
}

static void
numbers_are_never_given_twice (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  sw_test_act (bed.catalogue, "Screw press added", ADD_ITEM);
  sw_test_undo (bed.catalogue, "Screw press added");
  sw_test_act (bed.catalogue, "Screw press added", ADD_ITEM);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT id FROM item"), 2);
}

static void
events_stay_and_are_flagged (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  sw_test_undo (bed.catalogue, "Press house added");
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) events = sw_events_of (bed.catalogue, SW_SUBJECT_ITEM, 1, &error);
  assert_no_error (error);
  assert_i64_equal (events->len, 2);
  const SwEvent *newest = events->pdata[0], *first = events->pdata[1];
  assert_string_equal (newest->sentence, "Taken back: Press house added");
  assert_string_equal (newest->verb, "undone");
  assert_false (newest->undone);
  assert_string_equal (first->sentence, "Press house added");
  assert_string_equal (first->author, g_get_user_name ());
  assert_true (first->undone);
  sw_test_redo (bed.catalogue, "Press house added");
  g_autoptr (GPtrArray) again = sw_events_of (bed.catalogue, SW_SUBJECT_ITEM, 1, &error);
  assert_i64_equal (again->len, 3);
  assert_string_equal (((SwEvent *)again->pdata[0])->sentence, "Done again: Press house added");
  assert_false (((SwEvent *)again->pdata[2])->undone);
  g_autoptr (GPtrArray) none = sw_events_of (bed.catalogue, SW_SUBJECT_TRIP, 1, &error);
  assert_i64_equal (none->len, 0);
}

static void
a_conflict_is_refused_whole (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Places added", ADD_PRESS ";" ADD_STORE);
  sw_test_act (bed.catalogue, "Places moved", "UPDATE place SET walk_order = 7");
  /* past every act, as another program of another time might */
  sw_test_exec (bed.catalogue, "UPDATE place SET walk_order = 9 WHERE name = 'Cold store'");
  GError *error = NULL;
  gboolean ok = sw_undo (bed.catalogue, NULL, &error);
  expect_refused (ok, error, "changed meanwhile");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT walk_order FROM place WHERE id = 1"), 7);
  g_autofree char *still = sw_undo_sentence (bed.catalogue);
  assert_string_equal (still, "Places moved");
  /* what the act did not touch is no conflict */
  sw_test_exec (bed.catalogue, "UPDATE place SET walk_order = 7, off_property = 1 WHERE id = 2");
  sw_test_undo (bed.catalogue, "Places moved");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT off_property FROM place WHERE id = 2"), 1);
}

static void
a_broken_link_is_refused (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  sw_test_exec (bed.catalogue, ADD_ITEM);
  GError *error = NULL;
  gboolean ok = sw_undo (bed.catalogue, NULL, &error);
  expect_refused (ok, error, "changed meanwhile");
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 1);
}

static void
inner_acts_are_part_of_the_outer (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  {
    g_auto (SwAct) outer = SW_ACT_INIT;
    assert_true (sw_act_begin (&outer, bed.catalogue, &error));
    sw_test_act (bed.catalogue, "inner, kept", ADD_PRESS);
    {
      g_auto (SwAct) refused = SW_ACT_INIT;
      assert_true (sw_act_begin (&refused, bed.catalogue, &error));
      sw_test_exec (bed.catalogue, ADD_STORE);
      assert_true (
          sw_act_tell (&refused, SW_SUBJECT_PLACE, 2, "place.added", NULL, "gone", &error));
    }
    assert_true (sw_act_commit (&outer, "Both at once", &error));
  }
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 1);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM act"), 1);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM event"), 1);
  sw_test_undo (bed.catalogue, "Both at once");
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 0);
}

static void
an_act_left_open_leaves_nothing (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  {
    g_auto (SwAct) act = SW_ACT_INIT;
    assert_true (sw_act_begin (&act, bed.catalogue, NULL));
    sw_test_exec (bed.catalogue, ADD_PRESS);
  }
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 0);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM act"), 0);
}

static void
empty_and_told_acts (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  {
    g_auto (SwAct) act = SW_ACT_INIT;
    assert_true (sw_act_begin (&act, bed.catalogue, NULL));
    assert_true (sw_act_commit (&act, "Nothing at all", NULL));
  }
  /* a change that changes nothing */
  {
    g_auto (SwAct) act = SW_ACT_INIT;
    assert_true (sw_act_begin (&act, bed.catalogue, NULL));
    sw_test_exec (bed.catalogue, "UPDATE place SET walk_order = walk_order");
    assert_true (sw_act_commit (&act, "Nothing new", NULL));
  }
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM act"), 1);
  sw_test_act (bed.catalogue, "Only said", "SELECT 1");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM event"), 2);
  /* is not for undo, and does not stand in its way */
  sw_test_undo (bed.catalogue, "Press house added");
  sw_test_redo (bed.catalogue, "Press house added");
}

static void
plain_acts_leave_no_row (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  {
    g_auto (SwAct) plain = SW_ACT_INIT;
    assert_true (sw_act_begin_plain (&plain, bed.catalogue, &error));
    sw_test_act (bed.catalogue, "within a plain one", ADD_PRESS);
    assert_true (sw_act_commit (&plain, NULL, &error));
  }
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 1);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM act"), 0);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM event"), 0);
  {
    g_auto (SwAct) act = SW_ACT_INIT, plain = SW_ACT_INIT;
    assert_true (sw_act_begin (&act, bed.catalogue, &error));
    assert_true (sw_act_begin_plain (&plain, bed.catalogue, &error));
    sw_test_exec (bed.catalogue, ADD_TRIP);
    assert_true (sw_act_commit (&plain, NULL, &error));
    sw_test_exec (bed.catalogue, ADD_STORE);
    assert_true (sw_act_commit (&act, "Cold store added", &error));
  }
  sw_test_undo (bed.catalogue, "Cold store added");
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 1);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM trip"), 1);
}

static void
a_barrier_stops_undo (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  sw_test_exec (bed.catalogue, ADD_STORE);
  sw_test_exec (bed.catalogue, BARRIER);
  assert_null (sw_undo_sentence (bed.catalogue));
  GError *refused = NULL;
  gboolean ok = sw_undo (bed.catalogue, NULL, &refused);
  expect_refused (ok, refused, "The catalogue learned");
  sw_test_act (bed.catalogue, "Trip added", ADD_TRIP);
  sw_test_undo (bed.catalogue, "Trip added");
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 2);
}

/* A changeset is a part of a file that may come from anywhere: cut or changed at any byte it is
 * refused or applied, and never hangs or breaks anything (SQLite's own reader hangs on a header
 * that is cut off). */
static void
a_damaged_changeset_is_refused (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "All added", ADD_PRESS ";" ADD_ITEM ";" ADD_TRIP);
  gint64 size = sw_test_ask (bed.catalogue, "SELECT length (data) FROM changeset");
  assert_true (size > 60);
  sw_test_exec (bed.catalogue, "CREATE TEMP TABLE kept AS SELECT data FROM changeset");
  for (gint64 cut = 0; cut < size; cut++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *sql = g_strdup_printf (
          "UPDATE changeset SET data = (SELECT substr (data, 1, %d) FROM kept)", (int)cut);
      sw_test_exec (bed.catalogue, sql);
      /* cut between two changes it is whole in itself, and then it is the links that refuse it or
       * nothing */
      if (!sw_undo (bed.catalogue, NULL, &error))
        assert_true (error->code == SW_ERROR_DAMAGED || error->code == SW_ERROR_REFUSED);
      else
        sw_test_redo (bed.catalogue, "All added");
    }
  sw_test_exec (bed.catalogue, "UPDATE changeset SET data = (SELECT data FROM kept)");
  sw_test_undo (bed.catalogue, "All added");
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 0);
}

static void
bring_in_two_photos (SwCatalogue *catalogue)
{
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) batch = SW_ACT_INIT;
  assert_true (sw_act_begin_plain (&batch, catalogue, &error));
  sw_test_exec (catalogue,
                "INSERT INTO bring_in (opened_us, source) VALUES (1, '/card');"
                "INSERT INTO photo (kind, format, file, stored, size, hash, time_source, bring_in)"
                " VALUES ('photo', 'jpeg', 'a.jpg', 'photos/a', 1, 'a', 'file', 1),"
                " ('photo', 'jpeg', 'b.jpg', 'photos/b', 1, 'b', 'file', 1)");
  assert_true (sw_act_commit (&batch, NULL, &error));
  g_auto (SwAct) end = SW_ACT_INIT;
  assert_true (sw_act_begin (&end, catalogue, &error));
  sw_test_exec (catalogue, "INSERT INTO look_alike VALUES (1, 2);"
                           "UPDATE bring_in SET closed_us = 2");
  assert_true (sw_act_commit_bring_in (&end, 1, "2 photos brought in", &error));
}

static void
a_bring_in_is_put_aside (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  bring_in_two_photos (bed.catalogue);
  sw_test_exec (bed.catalogue, "UPDATE photo SET likeness = x'0102', sharpness = 3.5");
  sw_test_undo (bed.catalogue, "2 photos brought in");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT sum (aside) FROM photo"), 2);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM look_alike"), 0);
  sw_test_redo (bed.catalogue, "2 photos brought in");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT sum (aside) FROM photo"), 0);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM look_alike"), 1);
  sw_test_exec (bed.catalogue, ADD_PRESS ";" ADD_ITEM ";"
                                         "INSERT INTO item_photo (item, photo) VALUES (1, 2)");
  GError *error = NULL;
  gboolean ok = sw_undo (bed.catalogue, NULL, &error);
  expect_refused (ok, error, "changed meanwhile");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT sum (aside) FROM photo"), 0);
}

static void
two_programs_share_one_line (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (SwCatalogue) other = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  assert_false (sw_catalogue_changed_elsewhere (bed.catalogue));
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  assert_true (sw_catalogue_changed_elsewhere (other));
  assert_false (sw_catalogue_changed_elsewhere (other));
  assert_false (sw_catalogue_changed_elsewhere (bed.catalogue));
  sw_test_act (other, "Cold store added", ADD_STORE);
  sw_test_undo (bed.catalogue, "Cold store added");
  sw_test_undo (other, "Press house added");
  sw_test_redo (bed.catalogue, "Press house added");
  assert_i64_equal (sw_test_ask (other, PLACES), 1);
}

static void
a_second_writer_is_told_to_wait (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (SwCatalogue) other = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  sqlite3_busy_timeout (sw_db_handle (other), 20);
  sqlite3_busy_timeout (sw_db_handle (bed.catalogue), 20);
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT, second = SW_ACT_INIT;
  assert_true (sw_act_begin (&act, bed.catalogue, &error));
  assert_false (sw_act_begin (&second, other, &error));
  assert_sw_error (error, SW_ERROR_BUSY);
  g_clear_error (&error);
  sw_test_exec (bed.catalogue, ADD_PRESS);
  /* somebody reads: the commit waits, is refused, and nothing of it stands */
  sqlite3_stmt *reading = NULL;
  sqlite3_prepare_v2 (sw_db_handle (other), "SELECT key FROM setting", -1, &reading, NULL);
  assert_true (sqlite3_step (reading) == SQLITE_ROW);
  assert_false (sw_act_commit (&act, "Press house added", &error));
  assert_sw_error (error, SW_ERROR_BUSY);
  sw_act_clear (&act);
  sqlite3_finalize (reading);
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 0);
  sw_test_act (other, "Cold store added", ADD_STORE);
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 1);
}

/* A window that is writing keeps no command from reading, until the very moment of its commit. */
static void
opened_beside_a_writer (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  {
    g_auto (SwAct) act = SW_ACT_INIT;
    assert_true (sw_act_begin (&act, bed.catalogue, &error));
    sw_test_exec (bed.catalogue, ADD_PRESS);
    for (int mode = SW_OPEN_READ_WRITE; mode <= SW_OPEN_READ_ONLY; mode++)
      {
        g_autoptr (SwCatalogue) other = sw_test_open (bed.path, mode);
        assert_i64_equal (sw_test_ask (other, PLACES), 0);
      }
  }
  sw_test_exec (bed.catalogue, "BEGIN EXCLUSIVE");
  assert_null (sw_catalogue_open (bed.path, SW_OPEN_READ_WRITE, &error));
  assert_sw_error (error, SW_ERROR_BUSY);
  sw_test_exec (bed.catalogue, "ROLLBACK");
}

static void
killed_half_way (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added", ADD_PRESS);
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  pid_t child = fork ();
  assert_true (child >= 0);
  if (child == 0)
    {
      SwCatalogue *mine = sw_catalogue_open (bed.path, SW_OPEN_READ_WRITE, NULL);
      SwAct act = SW_ACT_INIT;
      /* more than the page cache holds, so that the file itself is half-written when the end comes
       */
      if (mine != NULL && sw_act_begin (&act, mine, NULL))
        sqlite3_exec (
            sw_db_handle (mine),
            "PRAGMA cache_size = 5;"
            "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 5000)"
            "INSERT INTO person (name) SELECT 'person ' || i || hex (randomblob (200)) FROM n",
            NULL, NULL, NULL);
      kill (getpid (), SIGKILL);
      _exit (0);
    }
  int status = 0;
  assert_true (waitpid (child, &status, 0) == child);
  assert_true (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
  g_autofree char *journal = g_build_filename (bed.path, "catalogue.db-journal", NULL);
  assert_true (g_file_test (journal, G_FILE_TEST_EXISTS));
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_ONLY);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM person"), 0);
  assert_i64_equal (sw_test_ask (bed.catalogue, PLACES), 1);
  sw_test_reopen (&bed);
  sw_test_undo (bed.catalogue, "Press house added");
}

static void
a_moved_folder_is_noticed (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autofree char *moved = g_build_filename (bed.folder, "Moved.shedwalk", NULL);
  assert_true (g_rename (bed.path, moved) == 0);
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  assert_false (sw_act_begin (&act, bed.catalogue, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "moved");
  assert_true (g_mkdir (bed.path, 0777) == 0);
  g_clear_error (&error);
  assert_false (sw_act_begin (&act, bed.catalogue, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
}

static void
note_tables (SwCatalogue *catalogue, const char *const *tables, gpointer data)
{
  GString *seen = data;
  g_autofree const char **sorted
      = g_memdup2 (tables, sizeof *tables * (g_strv_length ((char **)tables) + 1));
  for (gsize i = 0; sorted[i] != NULL; i++)
    for (gsize j = i + 1; sorted[j] != NULL; j++)
      if (strcmp (sorted[j], sorted[i]) < 0)
        {
          const char *swap = sorted[i];
          sorted[i] = sorted[j];
          sorted[j] = swap;
        }
  g_autofree char *joined = g_strjoinv (",", (char **)sorted);
  g_string_append_printf (seen, "[%s]", joined);
}

static void
changes_are_told_after_the_commit (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GString) seen = g_string_new (NULL);
  sw_catalogue_set_changed (bed.catalogue, note_tables, seen);
  sw_test_act (bed.catalogue, "All added", ADD_PRESS ";" ADD_ITEM ";" ADD_TRIP);
  assert_string_equal (seen->str, "[event,item,place,trip]");
  g_string_truncate (seen, 0);
  sw_test_undo (bed.catalogue, "All added");
  assert_string_equal (seen->str, "[event,item,place,trip]");
  g_string_truncate (seen, 0);
  g_auto (SwAct) act = SW_ACT_INIT;
  assert_true (sw_act_begin_plain (&act, bed.catalogue, NULL));
  sw_test_exec (bed.catalogue, ADD_STORE ";" ADD_PRESS);
  sw_test_exec (bed.catalogue, "INSERT INTO camera_clock SELECT 1, 1, 0, 0, 0, 0 WHERE FALSE");
  assert_string_equal (seen->str, "");
  assert_true (sw_act_commit (&act, NULL, NULL));
  assert_string_equal (seen->str, "[place]");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, undo_and_redo_over_restarts);
  SW_TEST (tests, a_new_act_ends_redo);
  SW_TEST (tests, numbers_are_never_given_twice);
  SW_TEST (tests, events_stay_and_are_flagged);
  SW_TEST (tests, a_conflict_is_refused_whole);
  SW_TEST (tests, a_broken_link_is_refused);
  SW_TEST (tests, inner_acts_are_part_of_the_outer);
  SW_TEST (tests, an_act_left_open_leaves_nothing);
  SW_TEST (tests, empty_and_told_acts);
  SW_TEST (tests, plain_acts_leave_no_row);
  SW_TEST (tests, a_barrier_stops_undo);
  SW_TEST (tests, a_damaged_changeset_is_refused);
  SW_TEST (tests, a_bring_in_is_put_aside);
  SW_TEST (tests, two_programs_share_one_line);
  SW_TEST (tests, a_second_writer_is_told_to_wait);
  SW_TEST (tests, opened_beside_a_writer);
  SW_TEST (tests, killed_half_way);
  SW_TEST (tests, a_moved_folder_is_noticed);
  SW_TEST (tests, changes_are_told_after_the_commit);
  return sw_tests_run (tests, "act");
}
