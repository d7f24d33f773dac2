/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person decides of stops: it stands at once, outlives every later proposal, and is taken
 * back by one undo, whatever was proposed meanwhile. */
#include "sw-test-walk.h"

#include "core/catalogue/act.h"
#include "core/catalogue/proposals.h"
#include "core/match/sorting.h"

/* The walk of every test: photos 1 to 9, three to a thing. */
static void
start (SwTestWalk *walk)
{
  sw_test_walk_init (walk);
  sw_test_walk_three_things (walk, 0);
  sw_test_walk_notes (walk, "09:59:50 Loft\n");
  sw_pairing_free (sw_test_walk_pair (walk));
}

/* "123 456 789": the stored stops' photos. */
static char *
stored (SwTestWalk *walk)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) stops = sw_proposal_list (walk->bed.catalogue, walk->trip, &error);
  GString *text = g_string_new (NULL);

  assert_no_error (error);
  for (guint k = 0; k < stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (stops, k);
      if (k > 0)
        g_string_append_c (text, ' ');
      for (guint i = 0; i < stop->photos->len; i++)
        g_string_append_printf (text, "%" G_GINT64_FORMAT, g_array_index (stop->photos, gint64, i));
    }
  return g_string_free (text, FALSE);
}

/* At once, and again after the pairing has thought it over. */
static void
assert_stops (SwTestWalk *walk, const char *expected)
{
  g_autofree char *now = stored (walk);
  g_autofree char *later = NULL;

  assert_string_equal (now, expected);
  sw_pairing_free (sw_test_walk_pair (walk));
  later = stored (walk);
  assert_string_equal (later, expected);
}

static void
undo (SwTestWalk *walk)
{
  g_autoptr (GError) error = NULL;

  assert_true (sw_undo (walk->bed.catalogue, NULL, &error));
  assert_no_error (error);
  sw_pairing_free (sw_test_walk_pair (walk));
}

static gint64
ask (SwTestWalk *walk, const char *sql)
{
  return sw_test_ask (walk->bed.catalogue, sql);
}

static void
test_cut (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;

  start (&walk);
  assert_stops (&walk, "123 456 789");
  assert_true (sw_sorting_cut (walk.bed.catalogue, walk.trip, 5, &error));
  assert_no_error (error);
  assert_stops (&walk, "123 4 56 789");
  assert_false (sw_sorting_cut (walk.bed.catalogue, walk.trip, 5, &error));
  assert_error (error, SW_ERROR, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_sorting_cut (walk.bed.catalogue, walk.trip, 77, &error));
  assert_error (error, SW_ERROR, SW_ERROR_NOT_FOUND);
  undo (&walk);
  assert_stops (&walk, "123 456 789");
  sw_test_bed_clear (&walk.bed);
}

static void
test_join (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;

  start (&walk);
  assert_true (sw_sorting_join (walk.bed.catalogue, walk.trip, 4, &error));
  assert_stops (&walk, "123456 789");
  assert_false (sw_sorting_join (walk.bed.catalogue, walk.trip, 1, &error));
  assert_error (error, SW_ERROR, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_sorting_join (walk.bed.catalogue, walk.trip, 4, &error));
  assert_error (error, SW_ERROR, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  /* what was joined can be cut again, elsewhere or there */
  assert_true (sw_sorting_cut (walk.bed.catalogue, walk.trip, 4, &error));
  assert_stops (&walk, "123 456 789");
  undo (&walk);
  undo (&walk);
  assert_stops (&walk, "123 456 789");
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM photo_cut"), 0);
  sw_test_bed_clear (&walk.bed);
}

/* Joined to what is decided, the photos are decided alike; a later join of two decided ones takes
 * the earlier one's. */
static void
test_join_to_decided (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  gint64 first = 0, second = 0;

  start (&walk);
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 1, &first, &error));
  assert_true (sw_sorting_join (walk.bed.catalogue, walk.trip, 4, &error));
  assert_no_error (error);
  assert_stops (&walk, "123456 789");
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo WHERE item = 1"), 6);
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 7, &second, &error));
  assert_true (sw_sorting_join (walk.bed.catalogue, walk.trip, 7, &error));
  assert_stops (&walk, "123456789");
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo WHERE item = 1"), 9);
  undo (&walk);
  assert_stops (&walk, "123456 789");
  assert_i64_equal (first, 1);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo WHERE item = 1"), 6);
  sw_test_bed_clear (&walk.bed);
}

/* Somebody gave the neutral name that was proposed to another thing there meanwhile: the next free
 * one is taken, and the other thing gets no photos. */
static void
test_neutral_name_taken_meanwhile (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  g_autofree char *name = NULL;
  gint64 place, made = 0;

  start (&walk);
  {
    g_autoptr (GPtrArray) stops = sw_proposal_list (walk.bed.catalogue, walk.trip, &error);
    name = g_strdup (((const SwStopRecord *)g_ptr_array_index (stops, 0))->name);
    place = ((const SwStopRecord *)g_ptr_array_index (stops, 0))->place;
  }
  assert_string_equal (name, "thing 1 in Loft");
  assert_true (
      sw_item_add (walk.bed.catalogue, &(SwItemNew){ .name = name, .place = place }, NULL, &error));
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 1, &made, &error));
  assert_no_error (error);
  g_autoptr (SwItem) item = sw_item_get (walk.bed.catalogue, made, &error);
  assert_true (g_str_has_prefix (item->name, "thing "));
  assert_string_not_equal (item->name, name);
  assert_i64_equal (ask (&walk, "SELECT count (DISTINCT name) FROM item"), 2);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo WHERE item = 1"), 0);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo WHERE item = 2"), 3);
  sw_test_bed_clear (&walk.bed);
}

static void
test_joined_over_a_long_gap (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;

  start (&walk);
  sw_test_walk_photo (&walk, 3 * 3600);
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 7, NULL, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_true (sw_cut_set (walk.bed.catalogue, 0, 10, SW_CUT_JOIN, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  g_autofree char *text = stored (&walk);
  assert_string_equal (text, "123 456 78910");
  sw_test_bed_clear (&walk.bed);
}

/* What was decided of the photos goes before a join that says otherwise. */
static void
test_contradiction (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;

  start (&walk);
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 1, NULL, &error));
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 4, NULL, &error));
  for (gint64 photo = 2; photo <= 9; photo++)
    assert_true (sw_cut_set (walk.bed.catalogue, 0, photo, SW_CUT_JOIN, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  g_autofree char *text = stored (&walk);
  assert_string_equal (text, "123 456789");
  sw_test_bed_clear (&walk.bed);
}

static void
test_set_apart (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const gint64 middle[] = { 5 }, last[] = { 6 }, first[] = { 4 }, all[] = { 8, 7, 9 },
               holes[] = { 1, 3 }, two_stops[] = { 3, 4 };

  start (&walk);
  assert_true (sw_sorting_set_apart (walk.bed.catalogue, walk.trip, middle, 1, &error));
  assert_stops (&walk, "123 4 5 6 789");
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM photo_cut WHERE photo IN (5, 6)"
                                " AND cut = 1 AND beside = photo - 1"),
                    2);
  undo (&walk);
  assert_stops (&walk, "123 456 789");
  assert_true (sw_sorting_set_apart (walk.bed.catalogue, walk.trip, last, 1, &error));
  assert_i64_equal (
      ask (&walk, "SELECT count (*) FROM photo_cut WHERE photo IN (6, 7) AND cut = 1"), 2);
  undo (&walk);
  assert_true (sw_sorting_set_apart (walk.bed.catalogue, walk.trip, first, 1, &error));
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM photo_cut WHERE photo IN (4, 5) AND cut = 1"
                                " AND beside = photo - 1"),
                    2);
  undo (&walk);
  assert_false (sw_sorting_set_apart (walk.bed.catalogue, walk.trip, all, 3, &error));
  g_clear_error (&error);
  assert_false (sw_sorting_set_apart (walk.bed.catalogue, walk.trip, holes, 2, &error));
  g_clear_error (&error);
  assert_false (sw_sorting_set_apart (walk.bed.catalogue, walk.trip, two_stops, 2, &error));
  assert_error (error, SW_ERROR, SW_ERROR_REFUSED);
  sw_test_bed_clear (&walk.bed);
}

/* Two photos that a person parted stay parted where the second camera's clock, put right, turns
 * their order around; two that were joined stay joined where it sets them an hour apart. */
static void
test_said_before_a_clock_was_put_right (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const double right = 0, later = 6, far = 3600;

  start (&walk);
  gint64 first_camera = walk.camera;
  sw_camera_ensure (walk.bed.catalogue, "Orchard", "Brass", "", &walk.camera, &error);
  assert_no_error (error);
  sw_test_walk_photo (&walk, 123); /* photo 10, between 4 and 5 */
  sw_test_walk_photo (&walk, 265); /* and 11, after 9 */
  g_autofree char *first = g_strdup_printf ("%" G_GINT64_FORMAT, first_camera);
  g_autofree char *second = g_strdup_printf ("%" G_GINT64_FORMAT, walk.camera);
  assert_true (sw_clock_set (walk.bed.catalogue, first, walk.trip, 0, &right, &error));
  assert_true (sw_clock_set (walk.bed.catalogue, second, walk.trip, 0, &right, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_stops (&walk, "123 41056 78911");
  assert_true (sw_sorting_cut (walk.bed.catalogue, walk.trip, 5, &error));
  assert_stops (&walk, "123 410 56 78911");
  assert_true (sw_clock_set (walk.bed.catalogue, second, walk.trip, 0, &later, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_stops (&walk, "123 45 106 78911");
  assert_true (sw_sorting_set_apart (walk.bed.catalogue, walk.trip, (gint64[]){ 11 }, 1, &error));
  assert_true (sw_sorting_join (walk.bed.catalogue, walk.trip, 11, &error));
  assert_true (sw_clock_set (walk.bed.catalogue, second, walk.trip, 0, &far, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_no_error (error);
  g_autofree char *text = stored (&walk);
  assert_non_null (strstr (text, "78911"));
  sw_test_bed_clear (&walk.bed);
}

static void
test_move (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const gint64 end[] = { 6 }, begin[] = { 4 }, far[] = { 2 };

  start (&walk);
  assert_true (sw_sorting_move (walk.bed.catalogue, walk.trip, end, 1, 7, &error));
  assert_no_error (error);
  assert_stops (&walk, "123 45 6789");
  undo (&walk);
  assert_true (sw_sorting_move (walk.bed.catalogue, walk.trip, begin, 1, 1, &error));
  assert_stops (&walk, "1234 56 789");
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo"), 0);
  undo (&walk);
  /* not a neighbour: what it is moved to is accepted, and it gets the same */
  assert_true (sw_sorting_move (walk.bed.catalogue, walk.trip, far, 1, 7, &error));
  assert_no_error (error);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo WHERE photo IN (2, 7, 8, 9)"), 4);
  assert_i64_equal (ask (&walk, "SELECT count (DISTINCT item) FROM item_photo"), 1);
  undo (&walk);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo"), 0);
  assert_stops (&walk, "123 456 789");
  sw_test_bed_clear (&walk.bed);
}

/* A stop that was decided ends where it ended, however near the next photos are. */
static void
test_ends_hold (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const gint64 photos[] = { 4, 5, 6 };

  start (&walk);
  assert_true (sw_sorting_cut (walk.bed.catalogue, walk.trip, 2, &error));
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 1, NULL, &error));
  assert_stops (&walk, "1 23 456 789");
  assert_true (sw_sorting_no_item (walk.bed.catalogue, walk.trip, "building", photos, 3, &error));
  assert_i64_equal (
      ask (&walk, "SELECT count (*) FROM photo_cut WHERE photo IN (4, 7) AND cut = 1"), 2);
  sw_test_bed_clear (&walk.bed);
}

static void
test_no_item_kinds (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const gint64 photos[] = { 4, 5, 6 };

  start (&walk);
  assert_true (sw_sorting_no_item (walk.bed.catalogue, walk.trip, "receipt", photos, 3, &error));
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM photo_no_item WHERE kind = 'receipt'"), 3);
  g_autoptr (GPtrArray) stops = sw_proposal_list (walk.bed.catalogue, walk.trip, &error);
  const SwStopRecord *stop = g_ptr_array_index (stops, 1);
  assert_string_equal (stop->no_item_kind, "receipt");
  assert_i64_equal (stop->n_open, 0);
  assert_true (sw_sorting_no_item (walk.bed.catalogue, walk.trip, "paper", photos, 1, &error));
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM photo_no_item WHERE kind = 'receipt'"), 2);
  undo (&walk);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM photo_no_item WHERE kind = 'receipt'"), 3);
  undo (&walk);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM photo_no_item"), 0);
  sw_test_bed_clear (&walk.bed);
}

static void
test_give_new_and_another (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const gint64 first[] = { 1, 2, 3 }, second[] = { 4, 5, 6 }, third[] = { 7, 8, 9 };
  gint64 item = 0, unnamed = 0;

  start (&walk);
  assert_true (sw_sorting_give_new (walk.bed.catalogue, walk.trip, "  Fruit ladder ", 0, first, 3,
                                    &item, &error));
  assert_no_error (error);
  g_autoptr (SwItem) made = sw_item_get (walk.bed.catalogue, item, &error);
  assert_string_equal (made->name, "Fruit ladder");
  assert_string_equal (made->place_path, "Loft");
  assert_false (made->neutral);
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_true (sw_sorting_give_another (walk.bed.catalogue, walk.trip, item, second, 3, &error));
  g_autoptr (SwItem) more = sw_item_get (walk.bed.catalogue, item, &error);
  assert_i64_equal (more->count, 2);
  assert_i64_equal (more->n_photos, 6);
  undo (&walk);
  g_autoptr (SwItem) again = sw_item_get (walk.bed.catalogue, item, &error);
  assert_i64_equal (again->count, 1);
  assert_i64_equal (again->n_photos, 3);
  assert_true (
      sw_sorting_give_new (walk.bed.catalogue, walk.trip, " ", 0, third, 3, &unnamed, &error));
  g_autoptr (SwItem) later = sw_item_get (walk.bed.catalogue, unnamed, &error);
  assert_true (later->neutral);
  assert_contains (later->name, "in Loft");
  assert_false (
      sw_sorting_give_new (walk.bed.catalogue, walk.trip, "bad\nname", 0, second, 3, NULL, &error));
  assert_error (error, SW_ERROR, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  undo (&walk);
  undo (&walk);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item"), 0);
  assert_stops (&walk, "123 456 789");
  sw_test_bed_clear (&walk.bed);
}

/* One photo of a stop shows no item, or another one: nothing is said of the others. */
static void
test_part_of_a_stop (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const gint64 middle[] = { 5 }, end[] = { 9 };
  gint64 item = 0;

  start (&walk);
  assert_true (sw_sorting_no_item (walk.bed.catalogue, walk.trip, "mistake", middle, 1, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  g_autofree char *text = stored (&walk);
  assert_string_equal (text, "123 46 5 789");
  g_autoptr (GPtrArray) stops = sw_proposal_list (walk.bed.catalogue, walk.trip, &error);
  assert_true (((SwStopRecord *)g_ptr_array_index (stops, 1))->is_new);
  assert_true (
      sw_sorting_give_new (walk.bed.catalogue, walk.trip, "Basket", 0, end, 1, &item, &error));
  assert_no_error (error);
  sw_pairing_free (sw_test_walk_pair (&walk));
  g_autofree char *later = stored (&walk);
  assert_string_equal (later, "123 46 5 78 9");
  g_autoptr (GPtrArray) again = sw_proposal_list (walk.bed.catalogue, walk.trip, &error);
  assert_true (((SwStopRecord *)g_ptr_array_index (again, 3))->is_new);
  sw_test_bed_clear (&walk.bed);
}

/* An undo goes through whatever was proposed after the act, and redo too. */
static void
test_undo_past_proposals (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  double shift = 60;

  start (&walk);
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 4, NULL, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  undo (&walk);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item"), 0);
  assert_true (sw_redo (walk.bed.catalogue, NULL, &error));
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM item_photo"), 3);
  /* a clock set, left to the machine, found by it meanwhile */
  sw_test_walk_notes (&walk, THREE_NOTES);
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_true (sw_clock_set (walk.bed.catalogue, "1", walk.trip, 0, &shift, &error));
  assert_true (sw_clock_set (walk.bed.catalogue, "1", walk.trip, 0, NULL, &error));
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM camera_clock_found"), 1);
  undo (&walk);
  assert_i64_equal (
      ask (&walk, "SELECT count (*) FROM camera_clock WHERE set_by_person = 1 AND shift_s = 60"),
      1);
  /* what it was found from is taken back and comes again */
  undo (&walk);
  undo (&walk);
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM camera_clock_found"), 0);
  for (int k = 0; k < 3; k++)
    assert_true (sw_redo (walk.bed.catalogue, NULL, &error));
  assert_no_error (error);
  assert_i64_equal (ask (&walk, "SELECT count (*) FROM camera_clock"), 0);
  sw_test_bed_clear (&walk.bed);
}

/* A draft that was thought out before the latest act is left. */
static void
test_draft_out_of_date (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  gboolean is_stored = TRUE;

  start (&walk);
  g_autoptr (SwPairingDraft) draft = sw_pairing_draft_new (walk.bed.catalogue, walk.trip, &error);
  assert_true (sw_sorting_cut (walk.bed.catalogue, walk.trip, 5, &error));
  sw_pairing_draft_think (draft);
  assert_true (sw_pairing_draft_store (draft, walk.bed.catalogue, &is_stored, &error));
  assert_false (is_stored);
  assert_stops (&walk, "123 4 56 789");
  g_autoptr (SwPairingDraft) fresh = sw_pairing_draft_new (walk.bed.catalogue, walk.trip, &error);
  sw_pairing_draft_think (fresh);
  assert_true (sw_pairing_draft_store (fresh, walk.bed.catalogue, &is_stored, &error));
  assert_true (is_stored);
  sw_test_bed_clear (&walk.bed);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_cut);
  SW_TEST (tests, test_join);
  SW_TEST (tests, test_join_to_decided);
  SW_TEST (tests, test_neutral_name_taken_meanwhile);
  SW_TEST (tests, test_joined_over_a_long_gap);
  SW_TEST (tests, test_contradiction);
  SW_TEST (tests, test_set_apart);
  SW_TEST (tests, test_said_before_a_clock_was_put_right);
  SW_TEST (tests, test_move);
  SW_TEST (tests, test_ends_hold);
  SW_TEST (tests, test_no_item_kinds);
  SW_TEST (tests, test_give_new_and_another);
  SW_TEST (tests, test_part_of_a_stop);
  SW_TEST (tests, test_undo_past_proposals);
  SW_TEST (tests, test_draft_out_of_date);
  return sw_tests_run (tests, "sorting");
}
