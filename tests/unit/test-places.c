/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places: paths as people type them, refusals, undo. */
#include "sw-records.h"

typedef struct
{
  const char *label, *typed, *path; /* path NULL: refused */
  int code;
  const char *says;
} PathRow;

static const PathRow path_rows[] = {
  { "plain", "Press house", "Press house", 0, NULL },
  { "nested", "Packing shed > Loft", "Packing shed > Loft", 0, NULL },
  { "no blanks", "Packing shed>Loft", "Packing shed > Loft", 0, NULL },
  { "many blanks", "  Packing   shed  >\tLoft ", NULL, SW_ERROR_BAD_INPUT, NULL },
  { "wide blanks", "  Packing   shed   >  Loft ", "Packing shed > Loft", 0, NULL },
  { "quotes", "Bob's \"old\" shed", "Bob's \"old\" shed", 0, NULL },
  { "emoji", "Cold store \xF0\x9F\x8D\x8E", "Cold store \xF0\x9F\x8D\x8E", 0, NULL },
  { "ten deep", "a>b>c>d>e>f>g>h>i>j", "a > b > c > d > e > f > g > h > i > j", 0, NULL },
  { "eleven deep", "a>b>c>d>e>f>g>h>i>j>k", NULL, SW_ERROR_REFUSED, "at most 10 deep" },
  { "empty", "", NULL, SW_ERROR_BAD_INPUT, NULL },
  { "blank", "   ", NULL, SW_ERROR_BAD_INPUT, NULL },
  { "empty part first", "> Loft", NULL, SW_ERROR_BAD_INPUT, "empty" },
  { "empty part last", "Packing shed >", NULL, SW_ERROR_BAD_INPUT, "empty" },
  { "empty part within", "Packing shed > > Loft", NULL, SW_ERROR_BAD_INPUT, "empty" },
  { "newline", "Press\nhouse", NULL, SW_ERROR_BAD_INPUT, NULL },
  { "invalid UTF-8", "Press \xFF house", NULL, SW_ERROR_BAD_INPUT, NULL },
};

static void
test_path (void **state)
{
  const PathRow *row = *state;
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  gboolean ok = sw_place_add (records.catalogue, row->typed, FALSE, NULL, NULL, &id, &error);
  if (row->path == NULL)
    {
      assert_false (ok);
      assert_sw_error (error, row->code);
      if (row->says != NULL)
        assert_contains (error->message, row->says);
      return;
    }
  assert_no_error (error);
  g_autoptr (SwPlace) place = sw_place_get (records.catalogue, id, &error);
  assert_no_error (error);
  assert_string_equal (place->path, row->path);
  g_autoptr (SwPlace) again = sw_place_find (records.catalogue, row->typed, &error);
  assert_no_error (error);
  assert_i64_equal (again->id, id);
}

static void
test_lengths (void **state)
{
  g_auto (Records) records = records_new ();
  g_autofree char *fits = g_strnfill (255, 'x');
  records_place (&records, fits);
  g_autofree char *huge = g_strnfill (1024 * 1024, 'x');
  g_autoptr (GError) error = NULL;
  assert_false (sw_place_add (records.catalogue, huge, FALSE, NULL, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

static void
test_parents_are_made_once (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 loft = records_place (&records, "Packing shed > Loft");
  gint64 bench = records_place (&records, "packing SHED > Bench");
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) places = sw_place_list (records.catalogue, &error);
  assert_no_error (error);
  assert_i64_equal (places->len, 3);
  g_autoptr (SwPlace) one = sw_place_get (records.catalogue, loft, &error);
  g_autoptr (SwPlace) two = sw_place_get (records.catalogue, bench, &error);
  assert_i64_equal (one->parent, two->parent);
  assert_string_equal (two->path, "Packing shed > Bench");
}

static void
test_again_is_refused (void **state)
{
  g_auto (Records) records = records_new ();
  records_place (&records, "Press house");
  g_autoptr (GError) error = NULL;
  assert_false (sw_place_add (records.catalogue, "PRESS  house", FALSE, NULL, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "'Press house'");
  gint64 id = 0;
  gboolean made = TRUE;
  g_clear_error (&error);
  assert_true (sw_place_ensure (records.catalogue, "press house", &id, &made, &error));
  assert_false (made);
}

typedef struct
{
  const char *label, *typed, *says;
} NearRow;

static const NearRow near_rows[] = {
  { "letters swapped", "Prses house", "did you mean 'Press house'?" },
  { "a letter short", "Pres house", "did you mean 'Press house'?" },
  { "beginning", "Pack", "'Packing shed' or 'Packing shed > Loft'" },
  { "spot without its building", "Loft", "did you mean 'Packing shed > Loft'" },
  { "nothing like it", "Glasshouse", "add it first" },
};

static void
test_near (void **state)
{
  const NearRow *row = *state;
  g_auto (Records) records = records_new ();
  records_place (&records, "Press house");
  records_place (&records, "Packing shed > Loft");
  g_autoptr (GError) error = NULL;
  assert_null (sw_place_find (records.catalogue, row->typed, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_contains (error->message, row->says);
}

typedef struct
{
  const char *label;
  double latitude, longitude;
  gboolean fits;
} PositionRow;

static const PositionRow position_rows[] = {
  { "somewhere", -41.25, 173.5, TRUE },  { "corner", -90, 180, TRUE },
  { "past the pole", 90.001, 0, FALSE }, { "past the date line", 0, -180.5, FALSE },
  { "no number", 0.0 / 0.0, 0, FALSE },
};

static void
test_position (void **state)
{
  const PositionRow *row = *state;
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  gboolean ok = sw_place_add (records.catalogue, "Yard > Gate", FALSE, &row->latitude,
                              &row->longitude, &id, &error);
  assert_int_equal (ok, row->fits);
  if (!row->fits)
    {
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      return;
    }
  g_autoptr (SwPlace) gate = sw_place_get (records.catalogue, id, &error);
  g_autoptr (SwPlace) yard = sw_place_get (records.catalogue, gate->parent, &error);
  assert_true (gate->has_position && gate->latitude == row->latitude);
  assert_false (yard->has_position);
}

static void
test_half_a_position (void **state)
{
  g_auto (Records) records = records_new ();
  const double degrees = 41.5;
  for (int half = 0; half < 2; half++)
    {
      g_autoptr (GError) error = NULL;
      assert_false (sw_place_add (records.catalogue, "Yard > Gate", FALSE,
                                  half == 0 ? &degrees : NULL, half == 1 ? &degrees : NULL, NULL,
                                  &error));
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
    }
}

static void
test_off_property (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  assert_true (sw_place_add (records.catalogue, "Home > Garage", TRUE, NULL, NULL, NULL, &error));
  gint64 shelf = records_place (&records, "Home > Garage > Shelf");
  g_autoptr (SwPlace) home = sw_place_find (records.catalogue, "Home", &error);
  g_autoptr (SwPlace) inside = sw_place_get (records.catalogue, shelf, &error);
  assert_true (home->off_property && inside->off_property);
}

static void
test_rename_takes_the_places_inside_along (void **state)
{
  g_auto (Records) records = records_new ();
  records_place (&records, "Packing shed > Loft > Corner");
  records_place (&records, "Packing shed annex");
  records_place (&records, "Press house");
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPlace) shed = sw_place_find (records.catalogue, "Packing shed", &error);
  assert_true (sw_place_rename (records.catalogue, shed->id, "Grading shed", &error));
  g_autoptr (SwPlace) corner
      = sw_place_find (records.catalogue, "Grading shed > Loft > Corner", &error);
  assert_no_error (error);
  g_autoptr (SwPlace) annex = sw_place_find (records.catalogue, "Packing shed annex", &error);
  assert_no_error (error);
  assert_false (sw_place_rename (records.catalogue, shed->id, "press HOUSE", &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_place_rename (records.catalogue, shed->id, "A > B", &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  /* the same name in other capitals is the place's own */
  assert_true (sw_place_rename (records.catalogue, shed->id, "GRADING shed", &error));
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (SwPlace) back
      = sw_place_find (records.catalogue, "Packing shed > Loft > Corner", &error);
  assert_no_error (error);
  assert_i64_equal (back->id, corner->id);
}

static void
test_box_and_walk (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_place (&records, "Press house");
  gint64 store = records_place (&records, "Cold store");
  g_autoptr (GError) error = NULL;
  assert_true (sw_place_set_box (records.catalogue, press, 10, -5, 200, 100, &error));
  assert_false (sw_place_set_box (records.catalogue, press, 10, 20, 0, 100, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_true (sw_place_set_walk_order (records.catalogue, press, 1, &error));
  assert_true (sw_place_set_walk_order (records.catalogue, store, 2, &error));
  g_autoptr (GPtrArray) places = sw_place_list (records.catalogue, &error);
  assert_i64_equal (((SwPlace *)g_ptr_array_index (places, 0))->id, press);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_undo (records.catalogue, NULL, &error));
  records_reopen (&records);
  g_autoptr (SwPlace) undrawn = sw_place_get (records.catalogue, press, &error);
  assert_false (undrawn->has_box);
  g_autofree char *sentence = NULL;
  assert_true (sw_redo (records.catalogue, &sentence, &error));
  assert_string_equal (sentence, "Press house drawn on the plan");
  g_autoptr (SwPlace) drawn = sw_place_get (records.catalogue, press, &error);
  assert_true (drawn->has_box && drawn->box_y == -5 && drawn->box_w == 200);
}

static void
test_photos_of_a_place (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_place (&records, "Press house");
  gint64 photo = records_photo (&records, "door.jpg");
  g_autoptr (GError) error = NULL;
  assert_true (sw_place_add_photo (records.catalogue, press, photo, &error));
  assert_true (sw_place_add_photo (records.catalogue, press, photo, &error));
  assert_i64_equal (sw_test_ask (records.catalogue, "SELECT count (*) FROM place_photo"), 1);
  assert_false (sw_place_add_photo (records.catalogue, press, 99, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

static void
test_undo_of_adding (void **state)
{
  g_auto (Records) records = records_new ();
  records_place (&records, "Packing shed > Loft");
  g_autoptr (GError) error = NULL;
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (GPtrArray) none = sw_place_list (records.catalogue, &error);
  assert_i64_equal (none->len, 0);
  records_reopen (&records);
  g_autofree char *sentence = NULL;
  assert_true (sw_redo (records.catalogue, &sentence, &error));
  assert_string_equal (sentence, "Place 'Packing shed > Loft' added");
  g_autoptr (GPtrArray) both = sw_place_list (records.catalogue, &error);
  assert_i64_equal (both->len, 2);
}

static void
test_move (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 shed = records_place (&records, "Packing shed");
  gint64 loft = records_place (&records, "Packing shed > Loft");
  gint64 bay = records_place (&records, "Packing shed > Loft > Bay");
  gint64 press = records_place (&records, "Press house");
  g_autoptr (GError) error = NULL;
  assert_true (sw_place_move (records.catalogue, loft, press, &error));
  g_autoptr (SwPlace) moved = sw_place_get (records.catalogue, bay, &error);
  assert_string_equal (moved->path, "Press house > Loft > Bay");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_place_move (records.catalogue, loft, 0, &error));
  g_autoptr (SwPlace) out = sw_place_get (records.catalogue, bay, &error);
  assert_string_equal (out->path, "Loft > Bay");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  /* into its own room, and into itself */
  assert_false (sw_place_move (records.catalogue, shed, bay, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "one of its own rooms");
  g_clear_error (&error);
  assert_false (sw_place_move (records.catalogue, shed, shed, &error));
  assert_contains (error->message, "the same place");
  g_clear_error (&error);
  records_place (&records, "Press house > loft");
  assert_false (sw_place_move (records.catalogue, loft, press, &error));
  assert_contains (error->message, "already");
  g_clear_error (&error);
  gint64 deep = records_place (&records, "A > B > C > D > E > F > G > H");
  assert_false (sw_place_move (records.catalogue, shed, deep, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "too deep");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_path, path_rows);
  SW_TEST_ROWS (tests, test_near, near_rows);
  SW_TEST_ROWS (tests, test_position, position_rows);
  SW_TEST (tests, test_half_a_position);
  SW_TEST (tests, test_lengths);
  SW_TEST (tests, test_parents_are_made_once);
  SW_TEST (tests, test_again_is_refused);
  SW_TEST (tests, test_off_property);
  SW_TEST (tests, test_rename_takes_the_places_inside_along);
  SW_TEST (tests, test_box_and_walk);
  SW_TEST (tests, test_photos_of_a_place);
  SW_TEST (tests, test_undo_of_adding);
  SW_TEST (tests, test_move);
  return sw_tests_run (tests, "places");
}
