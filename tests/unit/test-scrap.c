/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scrap floors: the sum itself, and an item's by rates and the planned load. Amounts are worked by
 * hand. */
#include "core/catalogue/outlets.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/scrap-pile.h"
#include "core/trade/scrap.h"
#include "sw-records.h"

typedef struct
{
  const char *label;
  gint64 grams, rate, cartage, load_kg, floor;
} FloorRow;

/* mass x rate / t, rounded half up, minus mass x cartage / load, rounded half up. */
static const FloorRow floor_rows[] = {
  { "a hundredweight", 50000, 20000, 0, 0, 1000 },
  { "less its cartage", 50000, 20000, 9000, 1500, 700 },
  { "below zero", 10000, 1000, 90000, 500, -1790 },
  { "each rounded by itself", 1500, 333, 1, 1, -2 }, /* 0.4995 to 0, 1.5 to 2 */
  { "no mass", 0, 20000, 9000, 1500, 0 },
  { "the yard charges for it", 60000, -8000, 0, 0, -480 },
  { "charged, and carried there", 60000, -8000, 9000, 1500, -840 },
};

static void
test_floor (void **state)
{
  const FloorRow *row = *state;
  SwMoney floor = SW_MONEY_ZERO;
  g_autoptr (GError) error = NULL;
  assert_true (sw_scrap_floor ((SwMass){ row->grams * 1000000 }, sw_money (row->rate),
                               sw_money (row->cartage), (SwMass){ row->load_kg * SW_UG_PER_KG },
                               &floor, &error));
  assert_money_equal (floor, row->floor);
}

static void
item_floor (Records *records, gint64 number, gboolean known, gint64 minor, const char *says)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwItem) item = records_get (records, number);
  g_auto (SwItemFloor) floor = { 0 };
  assert_true (sw_item_floor (records->catalogue, item, &floor, &error));
  assert_int_equal (floor.known, known);
  if (known)
    assert_money_equal (floor.floor, minor);
  assert_contains (floor.words, says);
}

static gint64
yard (Records *records, const char *name)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  SwOutlet outlet = { .name = (char *)name,
                      .has_kind = TRUE,
                      .kind = SW_OUTLET_SCRAP_YARD,
                      .running_days = -1,
                      .pay_days = -1,
                      .collect_days = -1 };
  assert_true (sw_outlet_put (records->catalogue, &outlet, &id, &error));
  return id;
}

static void
test_item_floor (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Boiler", 1, -1);
  const SwMass mass = { 200 * SW_UG_PER_KG }, nothing = { 0 };
  g_autoptr (GError) error = NULL;
  item_floor (&records, item, FALSE, 0, "class of scrap");
  SwItemChange class = { .scrap_class = "heavy steel" };
  assert_true (sw_item_change (records.catalogue, item, &class, &error));
  item_floor (&records, item, FALSE, 0, "No rate yet for heavy steel");
  gint64 near = yard (&records, "Near yard"), far = yard (&records, "Far yard");
  assert_true (sw_yard_rate_set (records.catalogue, near, "heavy steel", records_day ("2026-01-01"),
                                 sw_money (18000), &error));
  item_floor (&records, item, FALSE, 0, "mass is not known");
  SwItemChange none = { .mass = &nothing };
  assert_true (sw_item_change (records.catalogue, item, &none, &error));
  item_floor (&records, item, FALSE, 0, "weigh or guess it");
  SwItemChange weigh = { .mass = &mass };
  assert_true (sw_item_change (records.catalogue, item, &weigh, &error));
  item_floor (&records, item, TRUE, 3600, "no load planned");
  /* the later rate of one yard counts, the best of several, none from tomorrow on */
  assert_true (sw_yard_rate_set (records.catalogue, near, "heavy steel", records_day ("2026-04-01"),
                                 sw_money (15000), &error));
  item_floor (&records, item, TRUE, 3000, "Near yard, from 2026-04-01");
  assert_true (sw_yard_rate_set (records.catalogue, far, "heavy steel", records_day ("2026-02-01"),
                                 sw_money (16000), &error));
  assert_true (sw_yard_rate_set (records.catalogue, far, "heavy steel", records_day ("2026-04-11"),
                                 sw_money (99000), &error));
  item_floor (&records, item, TRUE, 3200, "Far yard");
  assert_true (sw_scrap_load_set (records.catalogue, sw_money (30000),
                                  (SwMass){ 1000 * SW_UG_PER_KG }, &error));
  item_floor (&records, item, TRUE, -2800, "cartage of a load of 1000 kg");
  records_reopen (&records);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  item_floor (&records, item, TRUE, 3200, "no load planned");
}

/* A yard that charges for a class: the floor lies below zero without any cartage, a yard that
 * charges less is the better one, and undo takes the rate back. */
static void
test_what_costs_money_to_be_rid_of (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Tyres", 6, -1);
  gint64 near = yard (&records, "Near yard"), far = yard (&records, "Far yard");
  const SwMass mass = { 60 * SW_UG_PER_KG };
  SwItemChange change = { .scrap_class = "tyres", .mass = &mass };
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_change (records.catalogue, item, &change, &error));
  assert_true (sw_yard_rate_set (records.catalogue, near, "tyres", records_day ("2026-01-01"),
                                 sw_money (-12000), &error));
  item_floor (&records, item, TRUE, -720, "tyres at a charge of 120.00 a tonne (Near yard");
  assert_true (sw_collected_rate_set (records.catalogue, far, "tyres", records_day ("2026-01-01"),
                                      sw_money (-20000), (SwMass){ 0 }, &error));
  assert_true (sw_yard_rate_set (records.catalogue, far, "tyres", records_day ("2026-01-01"),
                                 sw_money (-8000), &error));
  item_floor (&records, item, TRUE, -480, "a charge of 80.00 a tonne (Far yard");
  records_reopen (&records);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  item_floor (&records, item, TRUE, -720, "Near yard");
}

static void
test_rates_refused (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 near = yard (&records, "Near yard");
  SwDay day = records_day ("2026-04-01");
  g_autoptr (GError) error = NULL;
  assert_false (sw_yard_rate_set (records.catalogue, 99, "steel", day, sw_money (1), &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_false (sw_yard_rate_set (records.catalogue, near, " ", day, sw_money (1), &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_false (sw_scrap_load_set (records.catalogue, sw_money (1), (SwMass){ 0 }, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

static void
test_masses_that_cannot_be_added_up (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwScrapPile) pile = { 0 };
  static const char *const names[] = { "Anvil", "Roller" };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      gint64 item = records_item (&records, names[i], 1, -1);
      assert_true (
          sw_item_move (records.catalogue, item, SW_STATE_FOR_SCRAP, NULL, NULL, NULL, &error));
    }
  sw_test_exec (records.catalogue, "UPDATE item SET mass_ug = 5000000000000000000");
  assert_false (sw_scrap_pile_read (records.catalogue, 0, &pile, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "too many digits");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_floor, floor_rows);
  SW_TEST (tests, test_item_floor);
  SW_TEST (tests, test_what_costs_money_to_be_rid_of);
  SW_TEST (tests, test_rates_refused);
  SW_TEST (tests, test_masses_that_cannot_be_added_up);
  return sw_tests_run (tests, "scrap");
}
