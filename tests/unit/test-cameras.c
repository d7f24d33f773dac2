/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cameras: labels, finding, clocks; undo. */
#include "sw-records.h"

#include <math.h>

static gint64
ensure (Records *records, const char *make, const char *model, const char *serial)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  sw_camera_ensure (records->catalogue, make, model, serial, &id, &error);
  assert_no_error (error);
  return id;
}

typedef struct
{
  const char *label, *make, *model, *serial, *named;
} LabelRow;

static const LabelRow label_rows[] = {
  { "both", "Kestrel", "C1", NULL, "Kestrel C1" },
  { "the make again in the model", "Kestrel", "KESTREL C1", NULL, "KESTREL C1" },
  { "model alone", NULL, "C1", NULL, "C1" },
  { "make alone", "Kestrel", "", NULL, "Kestrel" },
  { "nothing", NULL, NULL, NULL, "unknown camera" },
  { "blanks at the end", "Kestrel   ", "C1  ", NULL, "Kestrel C1" },
  { "control characters", "Kes\ntrel\033", "C1", NULL, "Kes trel C1" },
  { "invalid UTF-8", "Kes\xFFtrel", "C1", NULL, "Kes\xEF\xBF\xBDtrel C1" },
  { "right to left override", "Kestrel", "C1\xE2\x80\xAEgnp", NULL, "Kestrel C1 gnp" },
};

static void
test_label (void **state)
{
  const LabelRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 id = ensure (&records, row->make, row->model, row->serial);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwCamera) camera = sw_camera_find (records.catalogue, row->named, &error);
  assert_no_error (error);
  assert_i64_equal (camera->id, id);
  assert_i64_equal (ensure (&records, row->make, row->model, row->serial), id);
}

static void
test_equal_labels (void **state)
{
  g_auto (Records) records = records_new ();
  ensure (&records, "Kestrel", "C1", "100042");
  ensure (&records, "Kestrel", "C1", "200043");
  ensure (&records, "Kestrel", "C1", "300043");
  ensure (&records, "Kestrel", "C1", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) cameras = sw_camera_list (records.catalogue, &error);
  const char *const labels[]
      = { "Kestrel C1", "Kestrel C1 (0043)", "Kestrel C1 (2)", "Kestrel C1 (3)" };
  assert_i64_equal (cameras->len, G_N_ELEMENTS (labels));
  for (guint i = 0; i < cameras->len; i++)
    assert_string_equal (((const SwCamera *)g_ptr_array_index (cameras, i))->label, labels[i]);
}

static void
test_huge_parts_are_cut (void **state)
{
  g_auto (Records) records = records_new ();
  g_autofree char *huge = g_strnfill (1024 * 1024, 'x');
  ensure (&records, huge, "C1", huge);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) cameras = sw_camera_list (records.catalogue, &error);
  assert_true (strlen (((const SwCamera *)g_ptr_array_index (cameras, 0))->label) < 300);
}

static void
test_find (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  assert_null (sw_camera_find (records.catalogue, "C1", &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  ensure (&records, "Kestrel", "C1", NULL);
  ensure (&records, NULL, "1", NULL);
  static const struct
  {
    const char *typed;
    gint64 id;
  } rows[] = { { "Kestrel C1", 1 }, { "kestrel  c1", 1 }, { "2", 2 }, { "1", 2 } };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (SwCamera) camera = sw_camera_find (records.catalogue, rows[i].typed, &error);
      assert_no_error (error);
      assert_i64_equal (camera->id, rows[i].id);
    }
  assert_null (sw_camera_find (records.catalogue, "Plover", &error));
  assert_contains (error->message, "'Kestrel C1', '1'");
}

static void
test_clock (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 camera = ensure (&records, "Kestrel", "C1", NULL);
  gint64 trip = records_trip (&records, "2026-04-03", "2026-04-06");
  g_autoptr (GError) error = NULL;
  SwCameraClock got = { 0 };
  gboolean known = TRUE;
  assert_true (sw_camera_clock_get (records.catalogue, camera, trip, &got, &known, &error));
  assert_false (known);
  SwCameraClock clock = { camera, trip, -3672.5, 1.25, 9, FALSE };
  assert_true (sw_camera_clock_put (records.catalogue, &clock, &error));
  clock.shift_s = 90061;
  clock.set_by_person = TRUE;
  assert_true (sw_camera_clock_put (records.catalogue, &clock, &error));
  /* found again unchanged: no act */
  assert_true (sw_camera_clock_put (records.catalogue, &clock, &error));
  records_reopen (&records);
  g_autofree char *undone = NULL;
  assert_true (sw_undo (records.catalogue, &undone, &error));
  assert_string_equal (undone,
                       "Kestrel C1 on trip 1: clock put forward 1 d 1 h 1 min 1 s (set by hand)");
  assert_true (sw_camera_clock_get (records.catalogue, camera, trip, &got, &known, &error));
  assert_true (known && got.shift_s == -3672.5 && got.spread_s == 1.25 && !got.set_by_person);
  assert_i64_equal (got.evidence, 9);
  g_autofree char *before = sw_undo_sentence (records.catalogue);
  /* what was found is no act */
  assert_string_equal (before, "Trip 1 'A stay' added: 2026-04-03 to 2026-04-06");
  assert_true (sw_redo (records.catalogue, NULL, &error));
  assert_true (sw_camera_clock_get (records.catalogue, camera, trip, &got, &known, &error));
  assert_true (got.shift_s == 90061 && got.set_by_person);
  g_autoptr (GArray) clocks = sw_camera_clock_list (records.catalogue, &error);
  assert_non_null (sw_camera_clock_in (clocks, camera, trip));
  assert_null (sw_camera_clock_in (clocks, camera, trip + 1));
  assert_true (sw_camera_clock_drop (records.catalogue, camera, trip, &error));
  assert_true (sw_camera_clock_get (records.catalogue, camera, trip, &got, &known, &error));
  assert_false (known);
}

static void
test_clock_refused (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 camera = ensure (&records, "Kestrel", "C1", NULL);
  gint64 trip = records_trip (&records, "2026-04-03", "2026-04-06");
  const SwCameraClock bad[] = {
    { camera, trip, (double)NAN, 0, 0, TRUE }, { camera, trip, (double)INFINITY, 0, 0, TRUE },
    { camera, trip, 1e12, 0, 0, TRUE },        { camera, trip, 0, -1, 0, TRUE },
    { camera, trip, 0, 0, -1, TRUE },          { camera + 1, trip, 0, 0, 0, TRUE },
    { camera, trip + 1, 0, 0, 0, TRUE },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      assert_false (sw_camera_clock_put (records.catalogue, &bad[i], &error));
      assert_sw_error (error, i < 5 ? SW_ERROR_BAD_INPUT : SW_ERROR_NOT_FOUND);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_label, label_rows);
  SW_TEST (tests, test_equal_labels);
  SW_TEST (tests, test_huge_parts_are_cut);
  SW_TEST (tests, test_find);
  SW_TEST (tests, test_clock);
  SW_TEST (tests, test_clock_refused);
  return sw_tests_run (tests, "cameras");
}
