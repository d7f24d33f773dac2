/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The check: finds each kind of fault by name, finds none in a sound catalogue, and knows half-done
 * work from damage. */
#include "sw-test-catalogue.h"

#include "core/catalogue/check.h"

static SwCheckReport
run_check (SwCatalogue *catalogue)
{
  g_autoptr (GError) error = NULL;
  SwCheckReport report = { 0 };
  sw_check_run (catalogue, NULL, &report, &error);
  assert_no_error (error);
  return report;
}

static void
fill (SwCatalogue *catalogue)
{
  sw_test_act (catalogue, "Places added",
               "INSERT INTO place (name, path) VALUES ('Packing shed', 'Packing shed');"
               "INSERT INTO place (parent, name, path) VALUES (1, 'Loft', 'Packing shed > Loft')");
  sw_test_act (catalogue, "Screw press added",
               "INSERT INTO item (name, place, added_us) VALUES ('Screw press', 2, 0)");
  sw_test_add_photo (catalogue, "a.jpg");
  sw_test_add_photo (catalogue, "b.jpg");
  sw_test_act (catalogue, "Photo assigned", "INSERT INTO item_photo (item, photo) VALUES (1, 2)");
  sw_test_act (catalogue, "Held",
               "UPDATE item SET state = 'on-hold', hold_until = 20000, hold_for = 'Ash'");
  sw_test_undo (catalogue, "Held");
}

static void
a_sound_catalogue_has_no_fault (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  fill (bed.catalogue);
  g_auto (SwCheckReport) report = run_check (bed.catalogue);
  for (guint i = 0; i < report.faults->len; i++)
    print_error ("%s\n", (char *)report.faults->pdata[i]);
  assert_i64_equal (report.faults->len, 0);
  assert_i64_equal (report.remarks->len, 0);
  assert_i64_equal (report.photos, 2);
  assert_i64_equal (report.items, 1);
  sw_test_redo (bed.catalogue, "Held");
  g_auto (SwCheckReport) again = run_check (bed.catalogue);
  assert_i64_equal (again.faults->len, 0);
}

/* One fault a row: SQL past every rule, or a file written (text) or removed (NULL). */
typedef struct
{
  const char *label, *sql, *file, *text;
  const char *part; /* of the one fault's sentence */
} FaultRow;
static const FaultRow fault_rows[] = {
  { "photo missing", NULL, "photos/trip-01/a.jpg", NULL, "a.jpg is missing" },
  { "photo changed", NULL, "photos/trip-01/a.jpg", "other bytes", "a.jpg was changed" },
  { "photo of another size", "UPDATE photo SET size = size + 1 WHERE id = 1", NULL, NULL,
    "changed" },
  { "extra photo", NULL, "photos/trip-01/z.jpg", "extra", "photos/trip-01/z.jpg" },
  { "extra with an escape", NULL, "photos/\x1b[2Jz", "extra", "\\x1B[2Jz" },
  { "temporary", NULL, "photos/trip-01/c.jpg.part", "half", "c.jpg.part" },
  { "half backup", NULL, "backups/20260101T000000Z-00-x.db.part", "half", "safety copy" },
  { "broken link", "INSERT INTO item_photo (item, photo) VALUES (1, 99)", NULL, NULL,
    "link is broken" },
  { "unknown state", "UPDATE item SET state = 'lost'", NULL, NULL, "unknown state 'lost'" },
  { "hold without a day", "UPDATE item SET state = 'on-hold', hold_for = 'Ash'", NULL, NULL,
    "on hold" },
  { "place path", "UPDATE place SET path = 'Attic' WHERE id = 2", NULL, NULL, "'Attic'" },
  { "place moved", "UPDATE place SET parent = NULL WHERE id = 2", NULL, NULL, "Loft" },
  { "history", "UPDATE act SET undone_by = 1 WHERE id = 2", NULL, NULL, "history" },
  { "changeset", "UPDATE changeset SET data = x'54ff00aa' WHERE act = 1", NULL, NULL, "act 1" },
};

static void
change_file (const char *folder, const char *file, const char *text)
{
  g_autofree char *path = g_build_filename (folder, file, NULL);
  if (text != NULL)
    sw_test_write (folder, file, text);
  else
    assert_true (g_unlink (path) == 0);
}

static void
one_fault (void **data)
{
  const FaultRow *row = *data;
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  fill (bed.catalogue);
  sw_test_exec (bed.catalogue, "PRAGMA foreign_keys = OFF");
  if (row->sql != NULL)
    sw_test_exec (bed.catalogue, row->sql);
  if (row->file != NULL)
    change_file (bed.path, row->file, row->text);
  g_auto (SwCheckReport) report = run_check (bed.catalogue);
  assert_i64_equal (report.faults->len, 1);
  assert_contains (report.faults->pdata[0], row->part);
  assert_i64_equal (report.remarks->len, 0);
}

static void
half_done_is_no_fault (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  fill (bed.catalogue);
  sw_test_write (bed.path, "photos/trip-01/c.jpg.part", "half");
  sw_test_write (bed.path, "photos/trip-01/d.jpg", "no row yet");
  sw_test_write (bed.path, "backups/x.db.part", "half");
  sw_test_exec (bed.catalogue,
                "INSERT INTO bring_in (opened_us, source) VALUES (5, '/media/card')");
  g_auto (SwCheckReport) report = run_check (bed.catalogue);
  assert_i64_equal (report.faults->len, 0);
  assert_i64_equal (report.remarks->len, 4);
  assert_contains (report.remarks->pdata[0], "/media/card");
  /* what is really missing is a fault all the same */
  change_file (bed.path, "photos/trip-01/a.jpg", NULL);
  g_auto (SwCheckReport) worse = run_check (bed.catalogue);
  assert_i64_equal (worse.faults->len, 1);
}

static void
a_damaged_page_is_found (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  fill (bed.catalogue);
  gint64 page
      = sw_test_ask (bed.catalogue, "SELECT rootpage FROM sqlite_schema WHERE name = 'photo_path'");
  g_autofree char *database = sw_catalogue_path (bed.catalogue, "catalogue.db");
  g_autofree char *bytes = NULL;
  gsize length = 0;
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  assert_true (g_file_get_contents (database, &bytes, &length, NULL));
  memset (bytes + (page - 1) * 4096, 0x5a, 4096);
  assert_true (g_file_set_contents (database, bytes, (gssize)length, NULL));
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  g_auto (SwCheckReport) report = run_check (bed.catalogue);
  assert_true (report.faults->len > 0);
  assert_contains (report.faults->pdata[0], "damaged");
}

static void
links_in_photos_are_not_followed (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  fill (bed.catalogue);
  g_autofree char *loop = g_build_filename (bed.path, "photos", "loop", NULL);
  assert_true (symlink (bed.path, loop) == 0);
  g_auto (SwCheckReport) report = run_check (bed.catalogue);
  assert_i64_equal (report.faults->len, 1);
  assert_contains (report.faults->pdata[0], "photos/loop");
}

static gboolean
check_sums (SwCatalogue *catalogue, GCancellable *cancellable, SwCheckReport *report,
            GError **error)
{
  report->sums += 3;
  sw_check_fault (report, "The sums of %s do not add up.", sw_catalogue_name (catalogue));
  return TRUE;
}

static gboolean
check_quietly (SwCatalogue *catalogue, GCancellable *cancellable, SwCheckReport *report,
               GError **error)
{
  return TRUE;
}

static void
layers_above_add_theirs (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_check_register ("test-sums", check_sums);
  g_auto (SwCheckReport) report = run_check (bed.catalogue);
  assert_i64_equal (report.sums, 3);
  assert_string_equal (report.faults->pdata[0], "The sums of Cider works do not add up.");
  /* the same name again replaces */
  sw_check_register ("test-sums", check_quietly);
  g_auto (SwCheckReport) quiet = run_check (bed.catalogue);
  assert_i64_equal (quiet.faults->len, 0);
}

static void
can_be_stopped (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  fill (bed.catalogue);
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) stop = g_cancellable_new ();
  g_auto (SwCheckReport) report = { 0 };
  g_cancellable_cancel (stop);
  assert_false (sw_check_run (bed.catalogue, stop, &report, &error));
  assert_sw_error (error, SW_ERROR_CANCELLED);
  assert_null (report.faults);
}

static void
reads_a_read_only_catalogue (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  fill (bed.catalogue);
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_ONLY);
  g_auto (SwCheckReport) report = run_check (bed.catalogue);
  assert_i64_equal (report.faults->len, 0);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, a_sound_catalogue_has_no_fault);
  SW_TEST_ROWS (tests, one_fault, fault_rows);
  SW_TEST (tests, half_done_is_no_fault);
  SW_TEST (tests, a_damaged_page_is_found);
  SW_TEST (tests, links_in_photos_are_not_followed);
  SW_TEST (tests, layers_above_add_theirs);
  SW_TEST (tests, can_be_stopped);
  SW_TEST (tests, reads_a_read_only_catalogue);
  return sw_tests_run (tests, "check");
}
