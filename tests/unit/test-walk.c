/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The walk past what is to do: from the plan or the positions, the own order respected until the
 * shortest is taken. */
#include "core/catalogue/ground.h"
#include "core/trip/walk.h"
#include "sw-records.h"

/* In a row along the plan, entered zig-zag: A at 0, D at 300, B at 100, C at 200 units. */
static const struct
{
  const char *name;
  int x;
  double longitude;
} row[] = { { "Packing shed", 0, 0.0 },
            { "Glasshouse", 300, 0.003 },
            { "Cooperage", 100, 0.001 },
            { "Cold store", 200, 0.002 } };

typedef struct
{
  Records records;
  gint64 places[G_N_ELEMENTS (row)];
  GArray *at;
} Walks;

static void
walks_start (Walks *walks, gboolean drawn, gboolean located)
{
  g_autoptr (GError) error = NULL;

  walks->records = records_new ();
  walks->at = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (gsize i = 0; i < G_N_ELEMENTS (row); i++)
    {
      walks->places[i] = records_place (&walks->records, row[i].name);
      sw_place_set_walk_order (walks->records.catalogue, walks->places[i], (int)i + 1, &error);
      assert_no_error (error);
      if (drawn)
        sw_place_set_box (walks->records.catalogue, walks->places[i], row[i].x, 0, 80, 60, &error);
      assert_no_error (error);
      if (located)
        sw_place_set_position (walks->records.catalogue, walks->places[i], 0.0, row[i].longitude,
                               &error);
      assert_no_error (error);
      g_array_append_val (walks->at, walks->places[i]);
    }
}

static void
walks_end (Walks *walks)
{
  g_array_unref (walks->at);
  records_clear (&walks->records);
}

static SwWalk *
plan (Walks *walks)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) places = sw_place_list (walks->records.catalogue, &error);
  SwWalk *walk;

  assert_no_error (error);
  walk = sw_walk_plan (walks->records.catalogue, places, walks->at, &error);
  assert_no_error (error);
  return walk;
}

static void
assert_names (const GPtrArray *stops, const char *expected)
{
  g_autofree char *names = sw_walk_names (stops);

  assert_string_equal (names, expected);
}

static void
test_by_the_plan (void **state)
{
  Walks walks = { 0 };
  SwWalk *walk;

  walks_start (&walks, TRUE, FALSE);
  walk = plan (&walks);
  assert_int_equal (walk->basis, SW_WALK_BY_PLAN);
  assert_false (walk->has_metres);
  assert_names (walk->own, "Packing shed, Glasshouse, Cooperage, Cold store");
  assert_names (walk->shortest, "Packing shed, Cooperage, Cold store, Glasshouse");
  assert_int_equal (walk->own_mm, 600 * 1000); /* 300 + 200 + 100 units */
  assert_int_equal (walk->shortest_mm, 300 * 1000);
  sw_walk_free (walk);
  walks_end (&walks);
}

static void
test_with_a_scale (void **state)
{
  Walks walks = { 0 };
  g_autoptr (GError) error = NULL;
  const SwBox box = { 0, 0, 80, 60 };
  g_autofree char *sentence = NULL;
  SwWalk *walk;

  walks_start (&walks, TRUE, FALSE);
  /* 80 units are 16 m, so 300 units are 60 m */
  sw_ground_set_length (walks.records.catalogue, walks.places[0], &box, 16000, &error);
  assert_no_error (error);
  walk = plan (&walks);
  assert_true (walk->has_metres);
  assert_int_equal (walk->shortest_mm, 60000);
  assert_int_equal (walk->own_mm, 120000);
  sentence = sw_walk_sentence (walk);
  assert_string_equal (
      sentence, "Your walk: Packing shed, Glasshouse, Cooperage, Cold store (120 m). Shortest "
                "by the plan: Packing shed, Cooperage, Cold store, Glasshouse (60 m).");
  sw_walk_free (walk);
  walks_end (&walks);
}

/* A thousandth of a degree of the equator of WGS 84 is 111.3195 m (a pi / 180000, NGA.STND.0036,
 * 2014, table 3.1). */
static void
test_by_positions (void **state)
{
  Walks walks = { 0 };
  SwWalk *walk;

  walks_start (&walks, FALSE, TRUE);
  walk = plan (&walks);
  assert_int_equal (walk->basis, SW_WALK_BY_POSITIONS);
  assert_true (walk->has_metres);
  assert_true (ABS (walk->shortest_mm - 3 * 111319) <= 3);
  assert_true (ABS (walk->own_mm - 6 * 111319) <= 6);
  sw_walk_free (walk);
  walks_end (&walks);
}

static void
test_without_spots (void **state)
{
  Walks walks = { 0 };
  g_autofree char *sentence = NULL;
  g_autoptr (GError) error = NULL;
  SwWalk *walk;

  walks_start (&walks, FALSE, FALSE);
  walk = plan (&walks);
  assert_int_equal (walk->basis, SW_WALK_BY_NOTHING);
  assert_int_equal (walk->shortest->len, 0);
  assert_false (sw_walk_is_shorter (walk));
  sentence = sw_walk_sentence (walk);
  assert_null (sentence);
  assert_false (sw_walk_take (walks.records.catalogue, walk, &error));
  assert_non_null (error);
  sw_walk_free (walk);
  walks_end (&walks);
}

/* Work in a room counts for its building; places without work and off the property are not walked.
 */
static void
test_where_work_is (void **state)
{
  Walks walks = { 0 };
  g_autoptr (GError) error = NULL;
  gint64 loft, home = 0;
  SwWalk *walk;

  walks_start (&walks, TRUE, FALSE);
  loft = records_place (&walks.records, "Cooperage > Loft");
  sw_place_add (walks.records.catalogue, "Home", TRUE, NULL, NULL, &home, &error);
  assert_no_error (error);
  g_array_set_size (walks.at, 0);
  g_array_append_val (walks.at, loft);
  g_array_append_val (walks.at, home);
  g_array_append_val (walks.at, walks.places[0]);
  g_array_append_val (walks.at, loft);
  walk = plan (&walks);
  assert_names (walk->own, "Packing shed, Cooperage");
  assert_int_equal (((SwWalkStop *)g_ptr_array_index (walk->own, 1))->lines, 2);
  assert_false (sw_walk_is_shorter (walk));
  sw_walk_free (walk);
  walks_end (&walks);
}

/* Those of the walk change places; the one without work keeps its own. */
static void
test_taken (void **state)
{
  Walks walks = { 0 };
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;
  gint64 machine;
  SwWalk *walk;

  walks_start (&walks, TRUE, FALSE);
  machine = records_place (&walks.records, "Machine shed");
  sw_place_set_walk_order (walks.records.catalogue, machine, 2, &error);
  assert_no_error (error);
  walk = plan (&walks);
  assert_true (sw_walk_take (walks.records.catalogue, walk, &error));
  assert_no_error (error);
  sw_walk_free (walk);
  walk = plan (&walks);
  assert_names (walk->own, "Packing shed, Cooperage, Cold store, Glasshouse");
  assert_false (sw_walk_is_shorter (walk));
  sw_walk_free (walk);
  sw_undo (walks.records.catalogue, &sentence, &error);
  assert_no_error (error);
  assert_string_equal (sentence, "The walk goes: Packing shed, Cooperage, Cold store, Glasshouse");
  walk = plan (&walks);
  assert_names (walk->own, "Packing shed, Glasshouse, Cooperage, Cold store");
  sw_walk_free (walk);
  walks_end (&walks);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_by_the_plan),   cmocka_unit_test (test_with_a_scale),
    cmocka_unit_test (test_by_positions),  cmocka_unit_test (test_without_spots),
    cmocka_unit_test (test_where_work_is), cmocka_unit_test (test_taken),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
