/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ground plan: drawing, nesting, taking away, the walk's order, scale and positions. */
#include "core/catalogue/ground.h"
#include "core/catalogue/jobs.h"
#include "sw-records.h"

static SwPlace *
get (Records *records, gint64 id)
{
  GError *error = NULL;
  SwPlace *place = sw_place_get (records->catalogue, id, &error);
  assert_no_error (error);
  return place;
}

static char *
order (Records *records)
{
  GError *error = NULL;
  g_autoptr (GPtrArray) places = sw_place_list (records->catalogue, &error);
  GString *text = g_string_new (NULL);
  for (guint i = 0; i < places->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : "",
                            ((SwPlace *)g_ptr_array_index (places, i))->path);
  return g_string_free (text, FALSE);
}

#define assert_order(records, text)                                                                \
  do                                                                                               \
    {                                                                                              \
      g_autofree char *now = order (records);                                                      \
      assert_string_equal (now, text);                                                             \
    }                                                                                              \
  while (0)

static void
test_drawn_named_nested (void **state)
{
  g_auto (Records) records = records_new ();
  SwBox outer = { 20, 40, 240, 160 }, inner = { 40, 100, 80, 60 };
  gint64 press = 0, loft = 0;
  GError *error = NULL;
  assert_true (
      sw_ground_draw (records.catalogue, " Press  house ", 0, &(SwDrawn){ outer }, &press, &error));
  assert_no_error (error);
  assert_true (
      sw_ground_draw (records.catalogue, "Loft", press, &(SwDrawn){ inner }, &loft, &error));
  g_autoptr (SwPlace) place = get (&records, loft);
  assert_string_equal (place->path, "Press house > Loft");
  assert_true (place->has_box && place->box_x == 40 && place->box_h == 60);
  /* one act each */
  g_autofree char *sentence = sw_undo_sentence (records.catalogue);
  assert_string_equal (sentence, "Press house > Loft drawn on the plan");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_order (&records, "Press house");
  assert_true (sw_redo (records.catalogue, NULL, &error));
  assert_order (&records, "Press house; Press house > Loft");
  assert_false (
      sw_ground_draw (records.catalogue, "press house", 0, &(SwDrawn){ outer }, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_ground_draw (records.catalogue, "A > B", 0, &(SwDrawn){ outer }, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  SwBox flat = { 0, 0, 10, 0 };
  assert_false (sw_ground_draw (records.catalogue, "Flat", 0, &(SwDrawn){ flat }, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_order (&records, "Press house; Press house > Loft");
}

static void
test_put_takes_rooms_along (void **state)
{
  g_auto (Records) records = records_new ();
  SwBox shed_box = { 0, 0, 400, 300 }, loft_box = { 20, 100, 100, 80 },
        store_box = { 500, 0, 300, 300 };
  gint64 shed = 0, loft = 0, store = 0;
  GError *error = NULL;
  assert_true (
      sw_ground_draw (records.catalogue, "Packing shed", 0, &(SwDrawn){ shed_box }, &shed, &error));
  assert_true (
      sw_ground_draw (records.catalogue, "Loft", shed, &(SwDrawn){ loft_box }, &loft, &error));
  assert_true (
      sw_ground_draw (records.catalogue, "Cold store", 0, &(SwDrawn){ store_box }, &store, &error));
  SwBox to = { 40, 60, 200, 150 };
  assert_true (sw_ground_put (records.catalogue, shed, 0, &(SwDrawn){ to }, &error));
  {
    g_autoptr (SwPlace) along = get (&records, loft);
    assert_true (along->box_x == 60 && along->box_y == 160 && along->box_w == 100);
  }
  /* into another place: it is called after it then, its rooms too */
  SwBox into = { 520, 40, 200, 150 };
  assert_true (sw_ground_put (records.catalogue, shed, store, &(SwDrawn){ into }, &error));
  {
    g_autoptr (SwPlace) along = get (&records, loft);
    assert_string_equal (along->path, "Cold store > Packing shed > Loft");
    assert_true (along->box_x == 540);
  }
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_order (&records, "Packing shed; Packing shed > Loft; Cold store");
  assert_false (sw_ground_put (records.catalogue, shed, loft, &(SwDrawn){ into }, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "one of its own rooms");
  g_clear_error (&error);
  g_autoptr (SwPlace) still = get (&records, shed);
  assert_true (still->box_x == 40 && still->parent == 0);
}

/* Buildings that were only ever shown in their default slots. */
static void
test_rooms_of_a_building_never_drawn (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_place (&records, "Press house"), loft = 0;
  SwBox shown = { 20, 20, 300, 200 }, room = { 40, 100, 80, 60 }, to = { 220, 60, 300, 200 };
  GError *error = NULL;
  assert_true (sw_ground_draw (records.catalogue, "Loft", press,
                               &(SwDrawn){ room, .outer = &shown }, &loft, &error));
  {
    g_autoptr (SwPlace) outer = get (&records, press);
    assert_true (outer->has_box && outer->box_x == 20 && outer->box_w == 300);
  }
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (SwPlace) again = get (&records, press);
  assert_false (again->has_box);
  assert_true (
      sw_ground_draw (records.catalogue, "Loft", press, &(SwDrawn){ room }, &loft, &error));
  assert_true (
      sw_ground_put (records.catalogue, press, 0, &(SwDrawn){ to, .before = &shown }, &error));
  g_autoptr (SwPlace) along = get (&records, loft);
  assert_true (along->box_x == 240 && along->box_y == 140);
}

static void
test_only_empty_ones_go (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_place (&records, "Press house");
  gint64 loft = records_place (&records, "Press house > Loft");
  gint64 store = records_place (&records, "Cold store");
  GError *error = NULL;
  assert_false (sw_ground_remove (records.catalogue, press, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "places inside it");
  g_clear_error (&error);
  assert_true (sw_ground_remove (records.catalogue, loft, &error));
  records_item (&records, "Screw press", 1, -1);
  assert_false (sw_ground_remove (records.catalogue, press, &error));
  assert_contains (error->message, "items");
  g_clear_error (&error);
  assert_true (sw_job_add (records.catalogue, 0, store, "clean", "", NULL, &error));
  assert_false (sw_ground_remove (records.catalogue, store, &error));
  assert_contains (error->message, "jobs");
  g_clear_error (&error);
  assert_true (sw_undo (records.catalogue, NULL, &error)); /* the job */
  assert_true (sw_ground_remove (records.catalogue, store, &error));
  assert_no_error (error);
  assert_order (&records, "Press house");
  records_reopen (&records);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_order (&records, "Cold store; Press house");
  assert_false (sw_ground_remove (records.catalogue, 99, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
}

static void
test_earlier_and_later_in_the_walk (void **state)
{
  g_auto (Records) records = records_new ();
  records_place (&records, "Cooperage");
  gint64 loft = records_place (&records, "Glasshouse > Loft");
  gint64 shed = records_place (&records, "Machine shed");
  SwBox box = { 0, 0, 100, 100 };
  GError *error = NULL;
  assert_order (&records, "Cooperage; Glasshouse; Glasshouse > Loft; Machine shed");
  assert_true (sw_ground_shift_walk (records.catalogue, shed, -1, &error));
  assert_order (&records, "Cooperage; Machine shed; Glasshouse; Glasshouse > Loft");
  assert_true (sw_ground_shift_walk (records.catalogue, shed, -5, &error));
  assert_order (&records, "Machine shed; Cooperage; Glasshouse; Glasshouse > Loft");
  /* at the end already, and alone in its building: nothing to do */
  assert_true (sw_ground_shift_walk (records.catalogue, shed, -1, &error));
  assert_true (sw_ground_shift_walk (records.catalogue, loft, 1, &error));
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_order (&records, "Cooperage; Machine shed; Glasshouse; Glasshouse > Loft");
  /* a new one is walked last */
  assert_true (sw_ground_draw (records.catalogue, "Annexe", 0, &(SwDrawn){ box }, NULL, &error));
  assert_order (&records, "Cooperage; Machine shed; Glasshouse; Glasshouse > Loft; Annexe");
}

static void
test_scale (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_place (&records, "Press house"), scale = -1;
  SwBox box = { 0, 0, 240, 100 };
  GError *error = NULL;
  assert_true (sw_ground_scale (records.catalogue, &scale, &error));
  assert_i64_equal (scale, 0);
  assert_true (sw_ground_set_length (records.catalogue, press, &box, 24000, &error));
  assert_true (sw_ground_scale (records.catalogue, &scale, &error));
  assert_i64_equal (scale, 100000); /* 24 m over 240 units: 10 cm each */
  assert_i64_equal (sw_ground_mm (scale, 100), 10000);
  g_autoptr (SwPlace) stored = get (&records, press);
  assert_true (stored->has_box && stored->box_w == 240);
  assert_false (sw_ground_set_length (records.catalogue, press, &box, 99, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_ground_scale (records.catalogue, &scale, &error));
  assert_i64_equal (scale, 0);
}

static void
test_off_property_with_its_rooms (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 yard = records_place (&records, "Yard"), bay = records_place (&records, "Yard > Bay");
  GError *error = NULL;
  assert_true (sw_ground_set_off_property (records.catalogue, yard, TRUE, &error));
  g_autoptr (SwPlace) inside = get (&records, bay);
  assert_true (inside->off_property);
  assert_false (sw_ground_set_off_property (records.catalogue, bay, FALSE, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
}

/* A photo of the place with that fix. */
static void
add_fix (Records *records, gint64 place, const char *file, double latitude, double longitude,
         double error_m)
{
  GError *error = NULL;
  gint64 photo = records_photo (records, file);
  g_autofree char *sql = NULL;
  char north[G_ASCII_DTOSTR_BUF_SIZE], east[G_ASCII_DTOSTR_BUF_SIZE];
  assert_true (sw_place_add_photo (records->catalogue, place, photo, &error));
  g_ascii_dtostr (north, sizeof north, latitude);
  g_ascii_dtostr (east, sizeof east, longitude);
  sql = g_strdup_printf ("UPDATE photo SET latitude = %s, longitude = %s, position_error_m = %d"
                         " WHERE id = %" G_GINT64_FORMAT,
                         north, east, (int)error_m, photo);
  sw_test_exec (records->catalogue, sql);
}

static void
test_position_from_photos (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_place (&records, "Press house"), store = records_place (&records, "Store");
  GError *error = NULL;
  assert_false (sw_ground_position_from_photos (records.catalogue, press, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  add_fix (&records, press, "1.jpg", -41.3200, 174.8100, 5);
  add_fix (&records, press, "2.jpg", -41.3202, 174.8102, 8);
  add_fix (&records, press, "3.jpg", -41.3900, 174.9000, 12); /* an old fix */
  add_fix (&records, press, "4.jpg", 10.0, 10.0, 900);        /* a hopeless one */
  assert_true (sw_ground_position_from_photos (records.catalogue, press, &error));
  g_autoptr (SwPlace) place = get (&records, press);
  assert_true (ABS (place->latitude - -41.3202) < 1e-9 && ABS (place->longitude - 174.8102) < 1e-9);
  /* on the date line */
  add_fix (&records, store, "5.jpg", -16.5, 179.9998, 5);
  add_fix (&records, store, "6.jpg", -16.5, -179.9998, 5);
  assert_true (sw_ground_position_from_photos (records.catalogue, store, &error));
  g_autoptr (SwPlace) line = get (&records, store);
  assert_true (ABS (ABS (line->longitude) - 180) < 1e-6);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_drawn_named_nested);
  SW_TEST (tests, test_put_takes_rooms_along);
  SW_TEST (tests, test_rooms_of_a_building_never_drawn);
  SW_TEST (tests, test_only_empty_ones_go);
  SW_TEST (tests, test_earlier_and_later_in_the_walk);
  SW_TEST (tests, test_scale);
  SW_TEST (tests, test_off_property_with_its_rooms);
  SW_TEST (tests, test_position_from_photos);
  return sw_tests_run (tests, "ground");
}
