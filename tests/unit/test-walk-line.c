/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the walk of a trip led: photos and notes in time order, drawn together by place. */
#include "core/catalogue/notes.h"
#include "core/catalogue/walk-line.h"
#include "sw-records.h"

#define MINUTE (G_GINT64_CONSTANT (60) * SW_US_PER_SECOND)

/* A photo of the trip at so many minutes of a clock that needs no shift. */
static gint64
photo_at (Records *records, gint64 trip, const char *file, int minute)
{
  gint64 photo = records_photo (records, file);
  g_autofree char *sql = g_strdup_printf ("UPDATE photo SET trip = %" G_GINT64_FORMAT
                                          ", clock_us = %" G_GINT64_FORMAT
                                          ", zone_offset_s = 0 WHERE id = %" G_GINT64_FORMAT,
                                          trip, (gint64)RECORDS_NOW.us + minute * MINUTE, photo);
  sw_test_exec (records->catalogue, sql);
  return photo;
}

static void
note_at (Records *records, gint64 trip, gint64 place, int minute)
{
  GError *error = NULL;
  gboolean added = FALSE;
  SwNote note = { .trip = trip,
                  .at = { RECORDS_NOW.us + minute * MINUTE },
                  .resolution_s = 1,
                  .place = place,
                  .what = (char *)"",
                  .remark = (char *)"" };
  assert_true (sw_note_add (records->catalogue, &note, &added, &error));
  assert_true (added);
}

static void
test_photos_and_notes (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-04-09", "2026-04-11");
  gint64 press = records_place (&records, "Press house"), store = records_place (&records, "Store");
  gint64 loft = records_place (&records, "Loft");
  gint64 item = records_item (&records, "Screw press", 1, -1);
  gint64 photos[]
      = { photo_at (&records, trip, "1.jpg", 30), photo_at (&records, trip, "2.jpg", 10),
          photo_at (&records, trip, "3.jpg", 50) };
  gint64 door = photo_at (&records, trip, "4.jpg", 40);
  GError *error = NULL;
  photo_at (&records, trip, "5.jpg", 45); /* of nobody knows what */
  assert_true (sw_item_assign (records.catalogue, item, photos, 3, FALSE, &error));
  assert_true (sw_place_add_photo (records.catalogue, store, door, &error));
  note_at (&records, trip, loft, 20);
  g_autoptr (GArray) legs = sw_walk_line (records.catalogue, trip, &error);
  assert_no_error (error);
  static const int minutes[] = { 10, 20, 30, 40, 50 };
  const gint64 places[] = { press, loft, press, store, press };
  assert_int_equal (legs->len, 5);
  for (guint i = 0; i < legs->len; i++)
    {
      const SwWalkLeg *leg = &g_array_index (legs, SwWalkLeg, i);
      assert_i64_equal (leg->place, places[i]);
      assert_i64_equal (leg->from.us, RECORDS_NOW.us + minutes[i] * MINUTE);
      assert_int_equal (leg->photos, i == 1 ? 0 : 1);
    }
  /* without the note the two in the press house are one leg */
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (GArray) fewer = sw_walk_line (records.catalogue, trip, &error);
  assert_int_equal (fewer->len, 3);
  assert_int_equal (g_array_index (fewer, SwWalkLeg, 0).photos, 2);
  assert_i64_equal (g_array_index (fewer, SwWalkLeg, 0).to.us, RECORDS_NOW.us + 30 * MINUTE);
}

static void
test_proposed_stops_and_what_was_brought_home (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-04-09", "2026-04-11");
  gint64 press = records_place (&records, "Press house"), store = records_place (&records, "Store");
  gint64 home = 0, item = records_item (&records, "Screw press", 1, -1);
  gint64 first = photo_at (&records, trip, "1.jpg", 10),
         second = photo_at (&records, trip, "2.jpg", 20);
  GError *error = NULL;
  assert_true (sw_place_add (records.catalogue, "Home", TRUE, NULL, NULL, &home, &error));
  assert_true (sw_item_assign (records.catalogue, item, &first, 1, FALSE, &error));
  SwItemChange change = { .place = &home };
  assert_true (sw_item_change (records.catalogue, item, &change, &error));
  g_autofree char *sql = g_strdup_printf (
      "INSERT INTO walk_stop (first, trip, start_us, is_new, place, probability, band, reason)"
      " VALUES (%" G_GINT64_FORMAT ", %" G_GINT64_FORMAT ", 0, 1, %" G_GINT64_FORMAT
      ", 0.5, 'doubtful', '');"
      "INSERT INTO walk_stop_photo VALUES (%" G_GINT64_FORMAT ", %" G_GINT64_FORMAT ", 0)",
      second, trip, store, second, second);
  sw_test_exec (records.catalogue, sql);
  g_autoptr (GArray) legs = sw_walk_line (records.catalogue, trip, &error);
  assert_no_error (error);
  assert_int_equal (legs->len, 2);
  assert_i64_equal (g_array_index (legs, SwWalkLeg, 0).place, press); /* found there, home since */
  assert_i64_equal (g_array_index (legs, SwWalkLeg, 1).place, store);
  g_autoptr (GArray) none = sw_walk_line (records.catalogue, trip + 1, &error);
  assert_int_equal (none->len, 0);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_photos_and_notes);
  SW_TEST (tests, test_proposed_stops_and_what_was_brought_home);
  return sw_tests_run (tests, "walk-line");
}
