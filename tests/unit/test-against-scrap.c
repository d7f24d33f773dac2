/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was raised against what scrap alone would have brought. Amounts are worked by hand. */
#include "core/catalogue/outlets.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/against-scrap.h"
#include "sw-test-money.h"

static SwAgainstScrap
read_sums (SwCatalogue *catalogue)
{
  g_autoptr (GError) error = NULL;
  SwAgainstScrap sums = { 0 };
  sw_against_scrap_read (catalogue, &sums, &error);
  assert_no_error (error);
  /* the four sums of takings are the takings, in every case */
  g_auto (SwTakings) takings = { 0 };
  sw_takings_read (catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &takings, &error);
  assert_no_error (error);
  assert_i64_equal (sums.raised.minor + sums.unknown_raised.minor + sums.as_scrap.minor
                        + sums.unsold.minor,
                    takings.total.takings.minor);
  return sums;
}

static void
set_class (SwCatalogue *catalogue, gint64 item, const char *class)
{
  g_autoptr (GError) error = NULL;
  const SwItemChange change = { .scrap_class = class };
  sw_item_change (catalogue, item, &change, &error);
  assert_no_error (error);
}

static void
set_rate (SwCatalogue *catalogue, const char *class, const char *from, gint64 rate)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwOutlet) yard = NULL;
  sw_outlet_find (catalogue, "Yard", &yard, &error);
  assert_no_error (error);
  sw_yard_rate_set (catalogue, yard->id, class, sw_test_day (from), sw_money (rate), &error);
  assert_no_error (error);
}

/* The press (400 kg) and crates (50 kg) sold; the ladder has no mass; the pump went over the scale;
 * the vat's sale fell through; the scales found no buyer. */
#define ALL                                                                                        \
  HILL YARD PRESS                                                                                  \
      "sale|ref=S1|item=Ladder|at=2026-04-30|amount=40.00\n"                                       \
      "sale|ref=S2|item=Crates|at=2026-05-20|amount=4.00\n"                                        \
      "docket|ref=D1|outlet=Yard|at=2026-05-10|gross=300|tare=0\n"                                 \
      "docket line|ref=D1|class=heavy steel|net=290|rate=150|item=Pump\n"                          \
      "docket line|ref=D1|class=heavy steel|net=10|rate=150\n"                                     \
      "fee|ref=D1|charge=weighing|at=2026-05-10|amount=5.00\n"                                     \
      "offer|ref=A2|outlet=Hill Road|item=Vat|up=2026-04-14|closes=2026-04-26T20:01\n"             \
      "result|ref=A2|at=2026-04-26T20:01|result=sold|amount=100.00\n"                              \
      "reversal|ref=A2|at=2026-05-02\n"                                                            \
      "offer|ref=A3|outlet=Hill Road|item=Scales|up=2026-04-14|closes=2026-04-26T20:02\n"          \
      "result|ref=A3|at=2026-04-26T20:02|result=no sale\n"

static void
test_sums (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, ALL, NULL);
  SwAgainstScrap sums = read_sums (bed.catalogue);
  /* nothing has a class yet: press 182.70, ladder 40.00, crates 4.00 */
  assert_int_equal (sums.things, 0);
  assert_int_equal (sums.unknown, 3);
  assert_money_equal (sums.unknown_raised, 22670);
  assert_money_equal (sums.as_scrap, 4500 - 500);
  /* vat: listing 2.30 and commission 10.00 stay; scales: listing 2.30 */
  assert_money_equal (sums.unsold, -1460);
  set_class (bed.catalogue, 1, "cast iron");
  set_class (bed.catalogue, 2, "cast iron");
  set_class (bed.catalogue, 5, "cast iron");
  assert_int_equal (read_sums (bed.catalogue).things, 0); /* a class without a rate */
  /* press on 26 April: 400 kg at 187.50 = 75.00; crates on 20 May: 50 kg at 100.00 = 5.00 */
  set_rate (bed.catalogue, "cast iron", "2026-04-01", 18750);
  set_rate (bed.catalogue, "cast iron", "2026-05-01", 10000);
  sums = read_sums (bed.catalogue);
  assert_int_equal (sums.things, 2);
  assert_money_equal (sums.raised, 18270 + 400);
  assert_money_equal (sums.scrap, 7500 + 500);
  assert_money_equal (sums.more, 18670 - 8000);
  assert_int_equal (sums.unknown, 1);
  /* 50.00 for a load of a tonne: 20.00 and 2.50 */
  assert_true (
      sw_scrap_load_set (bed.catalogue, sw_money (5000), (SwMass){ 1000 * SW_UG_PER_KG }, &error));
  sums = read_sums (bed.catalogue);
  assert_money_equal (sums.scrap, 8000 - 2250);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_money_equal (read_sums (bed.catalogue).scrap, 8000);
}

/* A rate that was asked for only after the sale serves it too, where none was in force then. */
static void
test_later_rate (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, YARD "sale|ref=S2|item=Crates|at=2026-04-20|amount=4.00\n", NULL);
  set_class (bed.catalogue, 2, "cast iron");
  set_rate (bed.catalogue, "cast iron", "2026-05-01", 10000);
  SwAgainstScrap sums = read_sums (bed.catalogue);
  assert_money_equal (sums.scrap, 500);
  assert_money_equal (sums.more, -100); /* scrap would have brought more */
}

static void
test_nothing (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  SwAgainstScrap sums = read_sums (bed.catalogue);
  assert_int_equal (sums.things + sums.unknown, 0);
  assert_money_equal (sums.more, 0);
}

/* No row can be booked that makes the money too large, but a catalogue may come from elsewhere. */
static void
test_more_than_can_be_added_up (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  SwAgainstScrap sums;
  sw_test_book (bed.catalogue, "sale|ref=A|item=Ladder|at=2026-06-20|amount=1|delivery=1\n", NULL);
  sw_test_exec (bed.catalogue, "UPDATE posting SET minor = 5000000000000000000 WHERE minor > 0");
  assert_false (sw_against_scrap_read (bed.catalogue, &sums, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "too many digits");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_sums);
  SW_TEST (tests, test_later_rate);
  SW_TEST (tests, test_nothing);
  SW_TEST (tests, test_more_than_can_be_added_up);
  int failures = sw_tests_run (tests, "against-scrap");
  sw_test_property_end ();
  return failures;
}
