/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the plan shows of its places: what stands, what waits, who was there, rooms and all. */
#include "core/catalogue/jobs.h"
#include "core/catalogue/ground.h"
#include "core/catalogue/notes.h"
#include "core/catalogue/place-figures.h"
#include "sw-records.h"

/* All zero, place and all, where there is none. */
static SwPlaceSummary
of (const GArray *all, gint64 place)
{
  SwPlaceSummary found = { 0 };
  for (guint i = 0; i < all->len; i++)
    if (g_array_index (all, SwPlaceSummary, i).place == place)
      found = g_array_index (all, SwPlaceSummary, i);
  assert_i64_equal (found.place, place);
  return found;
}

static GArray *
read_all (Records *records)
{
  GError *error = NULL;
  GArray *all = sw_place_summaries (records->catalogue, &error);
  assert_no_error (error);
  return all;
}

static gint64
item_in (Records *records, const char *path, const char *name, gint64 asking, const char *mass)
{
  GError *error = NULL;
  gint64 place = records_place (records, path), item = records_item (records, name, 1, asking);
  SwMass weighed;
  SwItemChange change = { .place = &place };
  if (mass != NULL)
    {
      assert_true (sw_mass_parse (mass, &weighed, &error));
      change.mass = &weighed;
    }
  assert_true (sw_item_change (records->catalogue, item, &change, &error));
  assert_no_error (error);
  return item;
}

static void
test_of_one_place (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 empty = records_place (&records, "Cold store");
  gint64 press = records_place (&records, "Press house");
  gint64 one = records_item (&records, "Screw press", 1, 45000);
  gint64 two = records_item (&records, "Crates", 20, 6000);
  gint64 three = records_item (&records, "Bottle rack", 1, 900);
  records_item (&records, "Apple scoop", 2, -1);
  gint64 photos[] = { records_photo (&records, "1.jpg"), records_photo (&records, "2.jpg") };
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_assign (records.catalogue, one, photos, 2, FALSE, &error));
  assert_true (sw_item_assign (records.catalogue, two, photos, 1, TRUE, &error));
  assert_true (sw_item_move (records.catalogue, three, SW_STATE_KEPT, NULL, NULL, NULL, &error));
  g_autoptr (GArray) all = sw_place_summaries (records.catalogue, &error);
  assert_no_error (error);
  assert_i64_equal (all->len, 2);
  const SwPlaceSummary *none = &g_array_index (all, SwPlaceSummary, 0);
  const SwPlaceSummary *some = &g_array_index (all, SwPlaceSummary, 1);
  assert_i64_equal (none->place, empty);
  assert_i64_equal (none->items, 0);
  assert_i64_equal (some->place, press);
  assert_i64_equal (some->items, 4);
  assert_i64_equal (some->standing, 3);
  assert_i64_equal (some->by_state[SW_STATE_KEPT], 1);
  assert_i64_equal (some->by_state[SW_STATE_FOUND], 3);
  assert_money_equal (some->asking, 51000);
  assert_i64_equal (some->photos, 2);
}

static void
test_rooms_count_with_their_building (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 shed = records_place (&records, "Packing shed");
  gint64 loft = records_place (&records, "Packing shed > Loft");
  gint64 bay = records_place (&records, "Packing shed > Loft > Bay");
  item_in (&records, "Packing shed", "Grading table", 12000, "80 kg");
  item_in (&records, "Packing shed > Loft", "Crates", 6000, NULL);
  item_in (&records, "Packing shed > Loft > Bay", "Winch", 900, "1.25 t");
  g_autoptr (GArray) all = read_all (&records);
  assert_i64_equal (of (all, bay).standing, 1);
  assert_i64_equal (of (all, bay).mass.ug, 1250 * SW_UG_PER_KG);
  assert_i64_equal (of (all, loft).standing, 2);
  assert_money_equal (of (all, loft).asking, 6900);
  assert_i64_equal (of (all, shed).items, 3);
  assert_money_equal (of (all, shed).asking, 18900);
  assert_i64_equal (of (all, shed).mass.ug, 1330 * SW_UG_PER_KG);
  assert_i64_equal (of (all, shed).by_state[SW_STATE_FOUND], 3);
}

static void
test_what_waits (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_place (&records, "Press house");
  gint64 bare = records_item (&records, "Screw press", 1, 45000);
  gint64 shown = records_item (&records, "Crates", 1, 6000);
  gint64 asked = records_item (&records, "Bottle rack", 1, 900);
  gint64 sold = records_item (&records, "Ladder", 1, 2000);
  gint64 photos[] = { records_photo (&records, "1.jpg"), records_photo (&records, "2.jpg") };
  gint64 job = 0;
  GError *error = NULL;
  assert_true (sw_item_assign (records.catalogue, shown, photos, 1, FALSE, &error));
  assert_true (sw_item_assign (records.catalogue, asked, photos + 1, 1, FALSE, &error));
  assert_true (sw_job_add (records.catalogue, asked, 0, "photograph", "the plate", &job, &error));
  assert_no_error (error);
  assert_true (sw_item_move (records.catalogue, shown, SW_STATE_READY, NULL, NULL, NULL, &error));
  assert_no_error (error);
  g_autofree char *sql
      = g_strdup_printf ("UPDATE item SET state = 'sold' WHERE id = %" G_GINT64_FORMAT, sold);
  sw_test_exec (records.catalogue, sql);
  g_autoptr (GArray) all = read_all (&records);
  assert_i64_equal (of (all, press).to_decide, 2);
  assert_i64_equal (of (all, press).to_photograph, 2); /* the bare one and the one asked for */
  assert_i64_equal (of (all, press).to_collect, 1);
  assert_i64_equal (of (all, press).standing, 4);
  assert_true (sw_job_set_done (records.catalogue, job, TRUE, &error));
  g_autoptr (GArray) after = read_all (&records);
  assert_i64_equal (of (after, press).to_photograph, 1);
  assert_true (bare != 0);
}

static void
test_who_was_there (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 shed = records_place (&records, "Machine shed");
  gint64 pit = records_place (&records, "Machine shed > Pit");
  gint64 store = records_place (&records, "Cold store");
  gint64 press = records_place (&records, "Press house");
  gint64 door = records_photo (&records, "door.jpg");
  GError *error = NULL;
  {
    g_autoptr (GArray) all = read_all (&records);
    assert_int_equal (of (all, shed).status, SW_PLACE_NOT_WALKED);
  }
  assert_true (sw_place_add_photo (records.catalogue, pit, door, &error));
  assert_true (sw_ground_set_walked (records.catalogue, store, TRUE, &error));
  gint64 only = records_item (&records, "Screw press", 1, 45000);
  g_autoptr (GArray) all = read_all (&records);
  assert_int_equal (of (all, pit).status, SW_PLACE_WALKED); /* its items may still come */
  assert_int_equal (of (all, shed).status, SW_PLACE_WALKED);
  assert_int_equal (of (all, store).status, SW_PLACE_EMPTY);
  assert_int_equal (of (all, press).status, SW_PLACE_WALKED);
  assert_true (sw_item_move (records.catalogue, only, SW_STATE_KEPT, NULL, NULL, NULL, &error));
  g_autoptr (GArray) after = read_all (&records);
  assert_int_equal (of (after, press).status, SW_PLACE_EMPTY);
  /* home and the shop are nobody's walk, whatever lies there */
  assert_true (sw_ground_set_off_property (records.catalogue, shed, TRUE, &error));
  g_autoptr (GArray) off = read_all (&records);
  assert_int_equal (of (off, shed).status, SW_PLACE_ELSEWHERE);
  for (int i = 0; i < SW_N_PLACE_STATUS; i++)
    assert_true (*sw_place_status_word (i) != 0 && *sw_place_status_icon (i) != 0);
}

static void
test_more_than_can_be_added_up (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  item_in (&records, "Packing shed", "Roller", -1, "9 kg");
  gint64 anvil = item_in (&records, "Packing shed", "Anvil", -1, "9 kg");
  sw_test_exec (records.catalogue, "UPDATE item SET mass_ug = 5000000000000000000");
  assert_null (sw_place_summaries (records.catalogue, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "too many digits");
  /* of two states, which the database does not add */
  g_clear_error (&error);
  assert_true (
      sw_item_move (records.catalogue, anvil, SW_STATE_BRING_HOME, NULL, NULL, NULL, &error));
  assert_null (sw_place_summaries (records.catalogue, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "correct the heaviest");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_of_one_place);
  SW_TEST (tests, test_rooms_count_with_their_building);
  SW_TEST (tests, test_what_waits);
  SW_TEST (tests, test_who_was_there);
  SW_TEST (tests, test_more_than_can_be_added_up);
  return sw_tests_run (tests, "place-figures");
}
