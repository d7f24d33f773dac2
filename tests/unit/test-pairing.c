/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pairing a trip of a catalogue: what is stored, accepted, taken back; what a person decided stays.
 */
#include "sw-test-walk.h"

#include "core/match/sorting.h"

#define HOUR 3600

static void
test_no_notes (void **state)
{
  SwTestWalk walk;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  g_autoptr (SwPairing) pairing = sw_test_walk_pair (&walk);
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
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  SwInstant at;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, HOUR);
  sw_test_walk_notes (&walk, THREE_NOTES);
  g_autoptr (SwPairing) pairing = sw_test_walk_pair (&walk);
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
  g_autoptr (GArray) clocks = sw_camera_clock_list (walk.bed.catalogue, &error);
  assert_true (sw_photo_property_time (walk.bed.catalogue, clocks, photo, &at, NULL));
  g_autofree char *text = sw_instant_to_text (at, sw_catalogue_zone (walk.bed.catalogue));
  assert_string_equal (text, "2026-06-20T10:00:00+12:00");
  sw_test_bed_clear (&walk.bed);
}

/* What is stored can be worked out again: it is no act, and the same evidence stores nothing new.
 */
static void
test_stored_once (void **state)
{
  SwTestWalk walk;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, HOUR);
  sw_test_walk_notes (&walk, THREE_NOTES);
  gint64 acts = sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM act");
  g_autoptr (SwPairing) first = sw_test_walk_pair (&walk);
  gint64 changes = sw_test_ask (walk.bed.catalogue, "SELECT total_changes ()");
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM walk_stop_photo"), 9);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM walk_stop"), 3);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM camera_clock_found"),
                    1);
  g_autoptr (SwPairing) second = sw_test_walk_pair (&walk);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM act"), acts);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT total_changes ()"), changes);
  sw_test_bed_clear (&walk.bed);
}

static void
test_accept_band (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) notes = g_string_new (NULL);
  int accepted = 0, sure = 0;

  sw_test_walk_init (&walk);
  /* Three notes prove little: ten things, each noted seconds before its first photo. */
  for (int k = 0; k < 10; k++)
    {
      for (int shot = 0; shot < 3; shot++)
        sw_test_walk_photo (&walk, 60 + k * 240 + shot * 6);
      g_string_append_printf (notes, "10:%02d:48 Loft: basket %d\n", 4 * k, k + 1);
    }
  sw_test_walk_notes (&walk, notes->str);
  g_autoptr (SwPairing) pairing = sw_test_walk_pair (&walk);
  for (guint k = 0; k < pairing->stops->len; k++)
    sure += ((SwPairingStop *)g_ptr_array_index (pairing->stops, k))->band == SW_BAND_SURE;
  assert_true (sure > 0);
  sw_sorting_accept_band (walk.bed.catalogue, walk.trip, SW_BAND_SURE, &accepted, &error);
  assert_no_error (error);
  assert_i64_equal (accepted, sure);
  assert_i64_equal (
      sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM item_photo WHERE also = 0"),
      3 * sure);
  /* Accepted means decided: again there is nothing left to accept, and the pairing keeps it. */
  sw_sorting_accept_band (walk.bed.catalogue, walk.trip, SW_BAND_SURE, &accepted, &error);
  assert_no_error (error);
  assert_i64_equal (accepted, 0);
  g_autoptr (SwPairing) again = sw_test_walk_pair (&walk);
  assert_i64_equal (again->stops->len, pairing->stops->len);
  sw_test_bed_clear (&walk.bed);
}

static void
test_accept_new_thing (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  gint64 item = 0;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  sw_test_walk_notes (&walk, "09:59:50 Loft\n");
  g_autoptr (SwPairing) pairing = sw_test_walk_pair (&walk);
  const SwPairingStop *stop = g_ptr_array_index (pairing->stops, 1);
  assert_string_equal (stop->item, "thing 2 in Loft");
  sw_sorting_accept (walk.bed.catalogue, walk.trip, g_array_index (stop->photos, gint64, 0), &item,
                     &error);
  assert_no_error (error);
  g_autoptr (SwItem) made = sw_item_get (walk.bed.catalogue, item, &error);
  assert_string_equal (made->name, "thing 2 in Loft");
  assert_true (made->neutral);
  assert_i64_equal (made->n_photos, 3);
  sw_test_undo (walk.bed.catalogue, "Stop 2 of trip 1 accepted");
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, "SELECT count (*) FROM item"), 0);
  assert_false (sw_sorting_accept (walk.bed.catalogue, walk.trip, 999, &item, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  sw_test_bed_clear (&walk.bed);
}

/* A person's word against the notes: it holds, through pairing and accepting everything. */
static void
test_decided_stays (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  static const gint64 first[] = { 1, 2 }, none[] = { 9 };

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  sw_test_walk_notes (&walk, THREE_NOTES);
  sw_item_assign (walk.bed.catalogue, 3, first, 2, FALSE, &error);
  assert_no_error (error);
  sw_item_assign (walk.bed.catalogue, 0, none, 1, FALSE, &error);
  assert_no_error (error);
  sw_item_assign (walk.bed.catalogue, 2, first, 1, TRUE, &error);
  assert_no_error (error);
  g_autoptr (SwPairing) pairing = sw_test_walk_pair (&walk);
  const SwPairingStop *stop = g_ptr_array_index (pairing->stops, 0);
  assert_i64_equal (stop->item_number, 3);
  assert_i64_equal (stop->also->len, 1);
  assert_string_equal (g_ptr_array_index (stop->also, 0), "basket");
  for (int band = SW_BAND_SURE; band <= SW_BAND_UNKNOWN; band++)
    sw_sorting_accept_band (walk.bed.catalogue, walk.trip, (SwBand)band, NULL, &error);
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
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  double shift = -7200;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, HOUR);
  sw_test_walk_notes (&walk, THREE_NOTES);
  sw_clock_set (walk.bed.catalogue, "Orchard Pocket", walk.trip, 0, &shift, &error);
  assert_no_error (error);
  g_autoptr (SwPairing) pairing = sw_test_walk_pair (&walk);
  const SwPairingClock *clock = g_ptr_array_index (pairing->clocks, 0);
  assert_true (clock->set_by_person && clock->shift_s == -7200);
  sw_clock_set (walk.bed.catalogue, "Orchard Pocket", walk.trip, 0, NULL, &error);
  assert_no_error (error);
  assert_i64_equal (
      sw_test_ask (walk.bed.catalogue,
                   "SELECT shift_s = -3600 AND NOT EXISTS (SELECT 1 FROM camera_clock)"
                   " FROM camera_clock_found"),
      1);
  assert_false (sw_clock_set (walk.bed.catalogue, "No such", walk.trip, 0, &shift, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  sw_test_bed_clear (&walk.bed);
}

static void
test_explain_and_errors (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  SwPairingOptions options = { .explain = 2 };

  sw_test_walk_init (&walk);
  g_autoptr (SwPairing) empty = sw_test_walk_pair (&walk);
  assert_i64_equal (empty->stops->len, 0);
  assert_i64_equal (empty->clocks->len, 0);
  sw_test_walk_three_things (&walk, 0);
  sw_test_walk_notes (&walk, THREE_NOTES);
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

/* Transfer full. */
static GHashTable *
others_thought_out (SwTestWalk *walk)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPairingDraft) draft = sw_pairing_draft_new (walk->bed.catalogue, walk->trip, &error);

  assert_no_error (error);
  sw_pairing_draft_think (draft);
  return sw_pairing_draft_others (draft);
}

/* Two notes beside one thing: the one that it is not said to be is what else it may be, until a
 * person has decided. */
static void
test_what_else_it_may_be (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  g_autoptr (GHashTable) others = NULL, decided = NULL;
  const double right = 0;
  const gint64 first = 1;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  sw_test_walk_notes (&walk, "10:00:20 Loft: ladder\n10:00:24 Loft: basket\n");
  sw_clock_set (walk.bed.catalogue, "Orchard Pocket", walk.trip, 0, &right, &error);
  assert_no_error (error);
  g_autoptr (SwPairing) pairing = sw_test_walk_pair (&walk);
  const SwPairingStop *stop = g_ptr_array_index (pairing->stops, 0);
  others = others_thought_out (&walk);
  assert_i64_equal (g_hash_table_size (others), 1);
  const SwPairingOther *other = g_hash_table_lookup (others, &first);
  assert_non_null (other);
  assert_string_equal (stop->item, "ladder");
  assert_string_equal (other->name, "basket");
  assert_i64_equal (other->item, 2);
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 1, NULL, &error));
  decided = others_thought_out (&walk);
  assert_null (g_hash_table_lookup (decided, &first));
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
  SW_TEST (tests, test_what_else_it_may_be);
  return sw_tests_run (tests, "pairing");
}
