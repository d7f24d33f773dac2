/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What may come home: the mass and the floor that each thing takes and where those figures are
 * from, what bars it, and what the plan rests on. */
#include "core/catalogue/van.h"
#include "core/trip/load-sheet.h"
#include "sw-records.h"

typedef struct
{
  const char *label;
  SwSize size;
  SwStows stows;
  gint64 length_mm, width_mm, kg; /* 0: not known */
  gboolean guessed;               /* the lengths were */
  gint64 floor_cm2;
  SwBasis floor_basis, mass_basis;
} FloorRow;

static const FloorRow floor_rows[] = {
  { "measured", SW_SIZE_UNKNOWN, SW_STOWS_FLOOR, 800, 600, 40, FALSE, 4800, SW_BASIS_KNOWN,
    SW_BASIS_KNOWN },
  { "measured, rounded up", SW_SIZE_UNKNOWN, SW_STOWS_UNKNOWN, 801, 601, 40, FALSE, 4815,
    SW_BASIS_KNOWN, SW_BASIS_KNOWN },
  { "its lengths guessed", SW_SIZE_MACHINE, SW_STOWS_FLOOR, 800, 600, 40, TRUE, 4800,
    SW_BASIS_GUESSED, SW_BASIS_KNOWN },
  { "one length alone", SW_SIZE_HAND, SW_STOWS_FLOOR, 800, 0, 4, FALSE, 1500, SW_BASIS_GUESSED,
    SW_BASIS_KNOWN },
  { "on a shelf, whatever its lengths", SW_SIZE_UNKNOWN, SW_STOWS_SHELF, 300, 300, 4, FALSE, 0,
    SW_BASIS_KNOWN, SW_BASIS_KNOWN },
  { "on the roof", SW_SIZE_UNKNOWN, SW_STOWS_ROOF, 5000, 300, 20, FALSE, 0, SW_BASIS_KNOWN,
    SW_BASIS_KNOWN },
  { "by its class", SW_SIZE_TWO_PEOPLE, SW_STOWS_UNKNOWN, 0, 0, 0, FALSE, 6000, SW_BASIS_GUESSED,
    SW_BASIS_GUESSED },
  { "by its mass: for one hand", SW_SIZE_UNKNOWN, SW_STOWS_UNKNOWN, 0, 0, 25, FALSE, 1500,
    SW_BASIS_GUESSED, SW_BASIS_KNOWN },
  { "by its mass: for two people", SW_SIZE_UNKNOWN, SW_STOWS_UNKNOWN, 0, 0, 26, FALSE, 6000,
    SW_BASIS_GUESSED, SW_BASIS_KNOWN },
  { "by its mass: for a machine", SW_SIZE_UNKNOWN, SW_STOWS_UNKNOWN, 0, 0, 101, FALSE, 15000,
    SW_BASIS_GUESSED, SW_BASIS_KNOWN },
  { "nothing known", SW_SIZE_UNKNOWN, SW_STOWS_UNKNOWN, 0, 0, 0, FALSE, 6000, SW_BASIS_ASSUMED,
    SW_BASIS_ASSUMED },
};

/* A van of 800 kg with a floor of 2.6 m by 1.4 m and a door of 1.2 m by 1.3 m. */
static gint64
begin (Records *records)
{
  const SwVan van = { { 800 * SW_UG_PER_KG }, 2600, 1400, 1400, 1200, 1300 };
  g_autoptr (GError) error = NULL;
  gint64 trip = 0;

  *records = records_new ();
  sw_van_set (records->catalogue, &van, &error);
  assert_no_error (error);
  sw_trip_add (records->catalogue, "Autumn", records_day ("2026-04-03"), records_day ("2026-04-06"),
               &trip, &error);
  assert_no_error (error);
  return trip;
}

static gint64
to_bring_home (Records *records, const char *name, const FloorRow *row)
{
  g_autoptr (GError) error = NULL;
  gint64 number = records_item (records, name, 1, -1);
  const SwMass mass = { row->kg * SW_UG_PER_KG };
  const SwItemChange change = { .size = &row->size,
                                .stows = &row->stows,
                                .length_mm = &row->length_mm,
                                .width_mm = &row->width_mm,
                                .size_guessed = &row->guessed,
                                .mass = row->kg > 0 ? &mass : NULL };

  sw_item_change (records->catalogue, number, &change, &error);
  assert_no_error (error);
  sw_test_exec (records->catalogue, "UPDATE item SET state = 'bring-home'");
  return number;
}

static SwLoadSheet *
sheet_of (Records *records, gint64 trip)
{
  g_autoptr (GError) error = NULL;
  SwLoadSheet *sheet = sw_load_sheet (records->catalogue, trip, 5000, NULL, &error);

  assert_no_error (error);
  return sheet;
}

static void
floor_and_mass (void **state)
{
  const FloorRow *row = *state;
  g_auto (Records) records = { 0 };
  gint64 trip = begin (&records);

  to_bring_home (&records, "Screw press", row);
  g_autoptr (SwLoadSheet) sheet = sheet_of (&records, trip);
  const SwLoadThing *thing = g_ptr_array_index (sheet->things, 0);

  assert_int_equal (sheet->things->len, 1);
  assert_i64_equal (thing->floor_cm2, row->floor_cm2);
  assert_int_equal (thing->floor_basis, row->floor_basis);
  assert_int_equal (thing->mass_basis, row->mass_basis);
  assert_int_equal (thing->heavy, row->kg == 0 || row->kg > 25);
  assert_int_equal (thing->money_basis, SW_BASIS_ASSUMED);
  assert_int_equal (sheet->weigh->len, row->mass_basis != SW_BASIS_KNOWN);
}

/* What must be cleared first stays, and is said where the person wished that it goes. */
static void
a_danger_stays (void **state)
{
  const FloorRow known = { .stows = SW_STOWS_FLOOR, .length_mm = 500, .width_mm = 400, .kg = 10 };
  const gboolean never = TRUE;
  const SwItemChange danger = { .never_offer = &never };
  g_auto (Records) records = { 0 };
  gint64 trip = begin (&records), press = to_bring_home (&records, "Screw press", &known),
         drum = to_bring_home (&records, "Spray drum", &known);

  g_autoptr (GError) error = NULL;

  sw_item_change (records.catalogue, drum, &danger, &error);
  assert_no_error (error);
  sw_load_wish_set (records.catalogue, trip, drum, SW_WISH_MUST, &error);
  assert_no_error (error);
  g_autoptr (SwLoadSheet) sheet = sheet_of (&records, trip);
  const SwLoadThing *first = g_ptr_array_index (sheet->things, 0),
                    *last = g_ptr_array_index (sheet->things, 1);

  assert_i64_equal (last->item->id, drum);
  assert_int_equal (last->obstacle, SW_OBSTACLE_DANGER);
  assert_i64_equal (last->pieces, 0);
  assert_i64_equal (first->item->id, press);
  assert_non_null (sheet->refused);
  assert_non_null (strstr (sheet->refused, "Spray drum must go, but must be cleared"));
}

/* Guesses and assumptions in a load are told apart; the heaviest of them are the ones to weigh. */
static void
what_rests_on_guesses (void **state)
{
  const FloorRow known = { .stows = SW_STOWS_SHELF, .kg = 10 },
                 by_class = { .stows = SW_STOWS_SHELF, .size = SW_SIZE_HAND },
                 unknown = { .stows = SW_STOWS_SHELF };
  g_auto (Records) records = { 0 };
  gint64 trip = begin (&records);

  to_bring_home (&records, "Screw press", &known);
  for (int k = 0; k < SW_LOAD_WEIGH_MOST; k++)
    to_bring_home (&records, "Crate", &by_class);
  to_bring_home (&records, "Something under a sheet", &unknown);
  sw_test_exec (records.catalogue, "UPDATE item SET asking = 1000");
  g_autoptr (SwLoadSheet) sheet = sheet_of (&records, trip);
  gint64 crates = SW_LOAD_WEIGH_MOST * sw_size_mass (SW_SIZE_HAND).ug,
         other = sw_size_mass (SW_SIZE_TWO_PEOPLE).ug;

  assert_i64_equal (sheet->guessed.ug, crates);
  assert_i64_equal (sheet->assumed.ug, other);
  assert_i64_equal (sheet->unsure.ug, crates + other);
  assert_i64_equal (g_array_index (sheet->runs, SwLoadRunSum, 0).mass.ug,
                    crates + other + 10 * SW_UG_PER_KG);
  assert_int_equal (sheet->weigh->len, SW_LOAD_WEIGH_MOST);
  assert_string_equal (((SwLoadThing *)g_ptr_array_index (sheet->weigh, 0))->item->name,
                       "Something under a sheet");
  assert_true (sheet->best);
  assert_i64_equal (sheet->leaves.minor, 1000 * (SW_LOAD_WEIGH_MOST + 2));
}

static void
stopped_or_no_trip (void **state)
{
  const FloorRow known = { .stows = SW_STOWS_SHELF, .kg = 10 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) stop = g_cancellable_new ();
  g_auto (Records) records = { 0 };
  gint64 trip = begin (&records);

  to_bring_home (&records, "Screw press", &known);
  assert_null (sw_load_sheet (records.catalogue, trip + 7, 5000, NULL, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  g_cancellable_cancel (stop);
  assert_null (sw_load_sheet (records.catalogue, trip, 5000, stop, &error));
  assert_sw_error (error, SW_ERROR_CANCELLED);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, floor_and_mass, floor_rows);
  SW_TEST (tests, a_danger_stays);
  SW_TEST (tests, what_rests_on_guesses);
  SW_TEST (tests, stopped_or_no_trip);
  return sw_tests_run (tests, "load-sheet");
}
