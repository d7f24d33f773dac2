/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pairing a trip of a catalogue: what is stored, accepted, taken back; what a person decided stays.
 */
#include "sw-test-catalogue.h"

#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"
#include "core/match/notes.h"
#include "core/match/pairing.h"

#define HOUR 3600

typedef struct
{
  SwTestBed bed;
  gint64 trip, camera;
  gint64 bring_in;
  int n;
} Walk;

static void
walk_init (Walk *walk)
{
  g_autoptr (GError) error = NULL;

  *walk = (Walk){ .bed = sw_test_bed_new () };
  sw_trip_add (walk->bed.catalogue, "Second walk", sw_day_from_ymd (2026, 6, 20),
               sw_day_from_ymd (2026, 6, 22), &walk->trip, &error);
  assert_no_error (error);
  sw_camera_ensure (walk->bed.catalogue, "Orchard", "Pocket", "", &walk->camera, &error);
  assert_no_error (error);
  sw_bring_in_open (walk->bed.catalogue, "/card", &walk->bring_in, &error);
  assert_no_error (error);
}

static gint64
add_photo (Walk *walk, int seconds)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *hash = g_strdup_printf ("%032x", ++walk->n);
  g_autofree char *file = g_strdup_printf ("card/P%04d.jpg", walk->n);
  SwCivil ten = { 2026, 6, 20, 10, 0, 0, 0 };
  SwPhoto photo = { .kind = (char *)"photo",
                    .format = (char *)"jpeg",
                    .file = file,
                    .stored = file,
                    .size = 1,
                    .hash = hash,
                    .trip = walk->trip,
                    .camera = walk->camera,
                    .bring_in = walk->bring_in,
                    .has_clock = TRUE,
                    .clock_us = sw_civil_to_us (ten) + seconds * SW_US_PER_SECOND,
                    .time_source = (char *)"original",
                    .orientation = 1,
                    .remark = (char *)"" };

  sw_photo_add (walk->bed.catalogue, &photo, &error);
  assert_no_error (error);
  return photo.id;
}

/* Three things at 10:00, 10:02 and 10:04, three photos each, by a clock that is 'fast' seconds
 * ahead. */
static void
add_three_things (Walk *walk, int fast)
{
  static const int times[] = { 0, 6, 12, 120, 127, 133, 250, 255, 262 };

  for (gsize k = 0; k < G_N_ELEMENTS (times); k++)
    add_photo (walk, times[k] + fast);
}

static void
add_notes (Walk *walk, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
  SwNotesReport *report = NULL;

  sw_notes_read_bytes (walk->bed.catalogue, walk->trip, bytes, "walk.txt", TRUE, &report, &error);
  assert_no_error (error);
  sw_notes_report_free (report);
}

static SwPairing *
run (Walk *walk)
{
  g_autoptr (GError) error = NULL;
  SwPairing *pairing = sw_pairing_run (walk->bed.catalogue, walk->trip, NULL, &error);

  assert_no_error (error);
  assert_non_null (pairing);
  return pairing;
}

#define THREE_NOTES                                                                                \
  "10:00:30 Loft: ladder\n10:02:28 Loft: basket\n10:04:40 Press house: screw press\n"

static void
test_no_notes (void **state)
{
  Walk walk;

  walk_init (&walk);
  add_three_things (&walk, 0);
  g_autoptr (SwPairing) pairing = run (&walk);
  assert_i64_equal (pairing->stops->len, 3);
  for (guint k = 0; k < 3; k++)
    {
      const SwPairingStop *stop = g_ptr_array_index (pairing->stops, k);
      g_autofree char *name = g_strdup_printf ("thing %u", k + 1);

      assert_true (stop->is_new);
      assert_i64_equal (stop->item_number, 0);
      assert_i64_equal (stop->photos->len, 3);
      assert_string_equal (stop->item, name);
      assert_null (stop->place);
    }
  const SwPairingClock *clock = g_ptr_array_index (pairing->clocks, 0);
  assert_string_equal (clock->label, "Orchard Pocket");
  assert_false (clock->known);
  sw_test_bed_clear (&walk.bed);
}

static void
test_notes_and_clock (void **state)
{
  Walk walk;
  g_autoptr (GError) error = NULL;
  SwInstant at;

  walk_init (&walk);
  add_three_things (&walk, HOUR);
  add_notes (&walk, THREE_NOTES);
  g_autoptr (SwPairing) pairing = run (&walk);
  assert_i64_equal (pairing->stops->len, 3);
  const SwPairingStop *last = g_ptr_array_index (pairing->stops, 2);
  assert_string_equal (last->item, "screw press");
  assert_string_equal (last->place, "Press house");
  assert_false (last->is_new);
  assert_i64_equal (last->item_number, 3);
  assert_string_equal (g_ptr_array_index (last->files, 0), "card/P0007.jpg");
  assert_contains (last->reason, "clock put back 1 h");
  const SwPairingClock *clock = g_ptr_array_index (pairing->clocks, 0);
  assert_true (clock->known);
  assert_true (clock->shift_s == -HOUR);
  assert_i64_equal (clock->evidence, 3);
  /* The photos' property times follow. */
  g_autoptr (SwPhoto) photo = sw_photo_get (walk.bed.catalogue, 1, &error);
  assert_true (sw_photo_property_time (walk.bed.catalogue, photo, &at, NULL));
  g_autofree char *text = sw_instant_to_text (at, sw_catalogue_zone (walk.bed.catalogue));
  assert_string_equal (text, "2026-06-20T10:00:00+12:00");
  sw_test_bed_clear (&walk.bed);
}

/* The same evidence stores nothing new; it is one act, and taken back as one. */
static void
test_stored_once (void **state)
{
  Walk walk;

  walk_init (&walk);
  add_three_things (&walk, 0);
  add_notes (&walk, THREE_NOTES);
  g_autoptr (SwPairing) first = run (&walk);
  gint64 acts = sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM act");
  g_autoptr (SwPairing) second = run (&walk);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM act"), acts);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM stop_photo"), 9);
  g_autofree char *sentence = sw_undo_sentence (walk.bed.catalogue);
  assert_contains (sentence, "Trip 1 paired: 3 stops");
  sw_test_undo (walk.bed.catalogue, sentence);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM stop"), 0);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM camera_clock"), 0);
  sw_test_redo (walk.bed.catalogue, sentence);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM stop"), 3);
  sw_test_bed_clear (&walk.bed);
}

static void
test_accept_band (void **state)
{
  Walk walk;
  g_autoptr (GError) error = NULL;
  int accepted = 0, sure = 0;

  walk_init (&walk);
  add_three_things (&walk, 0);
  add_notes (&walk, "10:00:30 Loft: ladder\n10:02:28 Loft: basket\n");
  g_autoptr (SwPairing) pairing = run (&walk);
  for (guint k = 0; k < pairing->stops->len; k++)
    sure += ((SwPairingStop *)g_ptr_array_index (pairing->stops, k))->band == SW_BAND_SURE;
  assert_true (sure > 0);
  sw_pairing_accept (walk.bed.catalogue, walk.trip, SW_BAND_SURE, &accepted, &error);
  assert_no_error (error);
  assert_i64_equal (accepted, sure);
  assert_i64_equal (
      sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM item_photo WHERE also = 0"),
      3 * sure);
  /* Accepted means decided: again there is nothing left to accept, and the pairing keeps it. */
  sw_pairing_accept (walk.bed.catalogue, walk.trip, SW_BAND_SURE, &accepted, &error);
  assert_no_error (error);
  assert_i64_equal (accepted, 0);
  g_autoptr (SwPairing) again = run (&walk);
  assert_i64_equal (again->stops->len, pairing->stops->len);
  sw_test_bed_clear (&walk.bed);
}

static void
test_accept_new_thing (void **state)
{
  Walk walk;
  g_autoptr (GError) error = NULL;
  gint64 item = 0;

  walk_init (&walk);
  add_three_things (&walk, 0);
  add_notes (&walk, "09:59:50 Loft\n");
  g_autoptr (SwPairing) pairing = run (&walk);
  const SwPairingStop *stop = g_ptr_array_index (pairing->stops, 1);
  assert_string_equal (stop->item, "thing 2 in Loft");
  sw_pairing_accept_stop (walk.bed.catalogue, walk.trip, 2, &item, &error);
  assert_no_error (error);
  g_autoptr (SwItem) made = sw_item_get (walk.bed.catalogue, item, &error);
  assert_string_equal (made->name, "thing 2 in Loft");
  assert_true (made->neutral);
  assert_i64_equal (made->n_photos, 3);
  sw_test_undo (walk.bed.catalogue, "Stop 2 of trip 1 accepted");
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM item"), 0);
  assert_false (sw_pairing_accept_stop (walk.bed.catalogue, walk.trip, 9, &item, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  sw_test_bed_clear (&walk.bed);
}

/* A person's word against the notes: it holds, through pairing and accepting everything. */
static void
test_decided_stays (void **state)
{
  Walk walk;
  g_autoptr (GError) error = NULL;
  static const gint64 first[] = { 1, 2 }, none[] = { 9 };

  walk_init (&walk);
  add_three_things (&walk, 0);
  add_notes (&walk, THREE_NOTES);
  sw_item_assign (walk.bed.catalogue, 3, first, 2, FALSE, &error);
  assert_no_error (error);
  sw_item_assign (walk.bed.catalogue, 0, none, 1, FALSE, &error);
  assert_no_error (error);
  sw_item_assign (walk.bed.catalogue, 2, first, 1, TRUE, &error);
  assert_no_error (error);
  g_autoptr (SwPairing) pairing = run (&walk);
  const SwPairingStop *stop = g_ptr_array_index (pairing->stops, 0);
  assert_i64_equal (stop->item_number, 3);
  assert_i64_equal (stop->also->len, 1);
  assert_string_equal (g_ptr_array_index (stop->also, 0), "basket");
  for (int band = SW_BAND_SURE; band <= SW_BAND_UNKNOWN; band++)
    sw_pairing_accept (walk.bed.catalogue, walk.trip, (SwBand)band, NULL, &error);
  assert_no_error (error);
  assert_i64_equal (
      sw_test_ask (
          walk.bed.catalogue,
          "SELECT count (*) FROM item_photo WHERE photo IN (1, 2) AND also = 0 AND item = 3"),
      2);
  assert_i64_equal (
      sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM item_photo WHERE photo = 9"), 0);
  sw_test_bed_clear (&walk.bed);
}

static void
test_clock_by_hand (void **state)
{
  Walk walk;
  g_autoptr (GError) error = NULL;
  double shift = -7200;

  walk_init (&walk);
  add_three_things (&walk, HOUR);
  add_notes (&walk, THREE_NOTES);
  sw_clock_set (walk.bed.catalogue, "Orchard Pocket", walk.trip, &shift, &error);
  assert_no_error (error);
  g_autoptr (SwPairing) pairing = run (&walk);
  const SwPairingClock *clock = g_ptr_array_index (pairing->clocks, 0);
  assert_true (clock->set_by_person && clock->shift_s == -7200);
  sw_clock_set (walk.bed.catalogue, "Orchard Pocket", walk.trip, NULL, &error);
  assert_no_error (error);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue,
                                 "SELECT shift_s = -3600 AND set_by_person = 0 FROM camera_clock"),
                    1);
  assert_false (sw_clock_set (walk.bed.catalogue, "No such", walk.trip, &shift, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  sw_test_bed_clear (&walk.bed);
}

static void
test_explain_and_errors (void **state)
{
  Walk walk;
  g_autoptr (GError) error = NULL;
  SwPairingOptions options = { .explain = 2 };

  walk_init (&walk);
  g_autoptr (SwPairing) empty = run (&walk);
  assert_i64_equal (empty->stops->len, 0);
  assert_i64_equal (empty->clocks->len, 0);
  add_three_things (&walk, 0);
  add_notes (&walk, THREE_NOTES);
  g_autoptr (SwPairing) pairing = sw_pairing_run (walk.bed.catalogue, walk.trip, &options, &error);
  assert_no_error (error);
  assert_contains (pairing->explanation, "ladder");
  assert_contains (pairing->explanation, "6 s to the photo before");
  options.explain = 77;
  assert_null (sw_pairing_run (walk.bed.catalogue, walk.trip, &options, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_null (sw_pairing_run (walk.bed.catalogue, 5, NULL, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  sw_test_bed_clear (&walk.bed);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_no_notes);
  SW_TEST (tests, test_notes_and_clock);
  SW_TEST (tests, test_stored_once);
  SW_TEST (tests, test_accept_band);
  SW_TEST (tests, test_accept_new_thing);
  SW_TEST (tests, test_decided_stays);
  SW_TEST (tests, test_clock_by_hand);
  SW_TEST (tests, test_explain_and_errors);
  return sw_tests_run (tests, "pairing");
}
