/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Archives: stopped half-way, or on a catalogue that changes meanwhile. The whole way there and
 * back is tests/commands/test_archive.py's. */
#include "core/catalogue/archive.h"
#include "core/catalogue/places.h"
#include "sw-test-catalogue.h"

static int
count_entries (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  int n = 0;
  while (dir != NULL && g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
test_cancelled (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *to = g_build_filename (bed.folder, "archive", NULL);
  sw_test_add_photo (bed.catalogue, "a.jpg");
  SwArchive *archive = sw_archive_begin (bed.catalogue, to, &error);
  assert_no_error (error);
  assert_int_equal (count_entries (bed.folder), 2);
  g_cancellable_cancel (cancellable);
  assert_false (sw_archive_finish (archive, NULL, cancellable, NULL, &error));
  assert_sw_error (error, SW_ERROR_CANCELLED);
  sw_archive_free (archive);
  assert_int_equal (count_entries (bed.folder), 1);
  /* begun and left */
  g_clear_error (&error);
  sw_archive_free (sw_archive_begin (bed.catalogue, to, &error));
  assert_no_error (error);
  assert_int_equal (count_entries (bed.folder), 1);
}

static void
test_one_moment (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *to = g_build_filename (bed.folder, "archive", NULL);
  g_autofree char *again = g_build_filename (bed.folder, "Again.shedwalk", NULL);
  SwArchiveReport report = { 0 };
  int done = 0;
  sw_test_add_photo (bed.catalogue, "a.jpg");
  sw_place_add (bed.catalogue, "Press house", FALSE, NULL, NULL, NULL, &error);
  assert_no_error (error);
  g_autoptr (SwArchive) archive = sw_archive_begin (bed.catalogue, to, &error);
  assert_no_error (error);
  sw_place_add (bed.catalogue, "Cold store", FALSE, NULL, NULL, NULL, &error);
  sw_test_add_photo (bed.catalogue, "b.jpg");
  assert_true (sw_archive_finish (archive, &done, NULL, &report, &error));
  assert_no_error (error);
  assert_int_equal (done, 1);
  assert_true (report.photos == 1);
  assert_true (sw_archive_read (to, again, NULL, &report, &error));
  assert_no_error (error);
  g_autoptr (SwCatalogue) catalogue = sw_test_open (again, SW_OPEN_READ_WRITE);
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, &error);
  assert_int_equal (places->len, 1);
  assert_true (sw_test_ask (catalogue, "SELECT count(*) FROM photo") == 1);
}

static void
test_reading_cancelled (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autofree char *to = g_build_filename (bed.folder, "archive", NULL);
  g_autofree char *again = g_build_filename (bed.folder, "Again.shedwalk", NULL);
  g_autoptr (SwArchive) archive = sw_archive_begin (bed.catalogue, to, &error);
  assert_true (sw_archive_finish (archive, NULL, NULL, NULL, &error));
  g_cancellable_cancel (cancellable);
  assert_false (sw_archive_read (to, again, cancellable, NULL, &error));
  assert_sw_error (error, SW_ERROR_CANCELLED);
  assert_int_equal (count_entries (bed.folder), 2);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_cancelled);
  SW_TEST (tests, test_one_moment);
  SW_TEST (tests, test_reading_cancelled);
  return sw_tests_run (tests, "archive");
}
