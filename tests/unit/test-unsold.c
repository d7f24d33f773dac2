/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unsold items one by one, outlets with their terms, rounds and sales as the window shows them.
 * Amounts are worked by hand. */
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/act.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/offering.h"
#include "core/trade/outlet-sheet.h"
#include "core/trade/rounds.h"
#include "core/trade/sale-sheet.h"
#include "core/trade/sales.h"
#include "core/trade/unsold.h"
#include "sw-test-money.h"

#define PRESS_UNSOLD "result|ref=A1|at=2026-04-26T20:00|result=no sale\n"
#define LADDER                                                                                     \
  "offer|ref=A2|outlet=Hill Road|item=Ladder|up=2026-04-14|closes=2026-04-26T20:01|start=60.00\n"  \
  "interest|ref=A2|at=2026-04-26T19:00|looks=40|bids=0\n"                                          \
  "result|ref=A2|at=2026-04-26T20:01|result=no sale\n"                                             \
  "offer|ref=A3|outlet=Hill Road|item=Ladder|up=2026-05-14|closes=2026-05-26T20:01|start=50.00\n"  \
  "result|ref=A3|at=2026-05-26T20:01|result=no sale\n"

static void
test_unsold (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL PRESS_UP PRESS_UNSOLD LADDER, NULL);
  g_autoptr (GPtrArray) all = sw_unsold_list (bed.catalogue, &error);
  assert_no_error (error);
  assert_int_equal (all->len, 2);
  const SwUnsold *press = g_ptr_array_index (all, 0), *ladder = g_ptr_array_index (all, 1);
  assert_i64_equal (press->item->id, 1);
  assert_money_equal (press->asked, 30000);
  assert_int_equal (press->times, 1);
  assert_string_equal (press->ref, "A1");
  assert_false (press->has_interest);
  assert_int_equal (press->outlooks->len, 1);
  assert_int_equal (ladder->times, 2);
  assert_string_equal (ladder->ref, "A3");
  assert_money_equal (ladder->asked, 5000); /* the later start */
  /* again keeps the outlet, elsewhere leaves it open */
  assert_true (sw_unsold_decide (bed.catalogue, 1, SW_VERDICT_AGAIN, &error));
  g_autoptr (SwItem) item = sw_item_get (bed.catalogue, 1, &error);
  assert_int_equal (item->state, SW_STATE_READY);
  assert_string_equal (item->outlet_name, "Hill Road");
  assert_true (sw_unsold_decide (bed.catalogue, 5, SW_VERDICT_LATER, &error));
  g_autofree char *left = sw_test_item (bed.catalogue, 5);
  assert_string_equal (left, "5 No sale x1 5000");
  assert_true (sw_unsold_decide (bed.catalogue, 5, SW_VERDICT_BRING_HOME, &error));
  assert_false (sw_unsold_decide (bed.catalogue, 5, SW_VERDICT_KEEP, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  g_autofree char *back = sw_test_item (bed.catalogue, 5);
  assert_string_equal (back, "5 No sale x1 5000");
}

/* Common practice, no source: twelve castings of 40 kg are 480 kg, and 90.00 for all of them lies
 * under what the yard brings where it pays more than 187.50 a tonne; cartage lowers that floor. */
static void
test_castings (void **state)
{
  (void)state;
  static const struct
  {
    gint64 rate, cartage;
    SwFloorVerdict against;
  } cases[] = { { 18750, 0, SW_FLOOR_ABOVE },
                { 18752, 0, SW_FLOOR_BELOW },
                { 25000, 0, SW_FLOOR_BELOW },
                { 25000, 5000, SW_FLOOR_ABOVE } }; /* 120.00 less 50.00 for a load of 480 kg */
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  SwMass mass = { 480 * SW_UG_PER_KG };
  SwMoney asking = sw_money (9000);
  const SwItemChange change = { .mass = &mass, .asking = &asking, .scrap_class = "cast iron" };
  sw_test_book (bed.catalogue, HILL YARD PRESS_UP PRESS_UNSOLD, NULL);
  assert_true (sw_item_change (bed.catalogue, 1, &change, &error));
  g_autoptr (SwOutlet) yard = NULL;
  assert_true (sw_outlet_find (bed.catalogue, "Yard", &yard, &error));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      assert_true (sw_yard_rate_set (bed.catalogue, yard->id, "cast iron",
                                     sw_test_day ("2026-01-01"), sw_money (cases[i].rate), &error));
      assert_true (sw_scrap_load_set (bed.catalogue, sw_money (cases[i].cartage), mass, &error));
      g_autoptr (GPtrArray) all = sw_unsold_list (bed.catalogue, &error);
      assert_no_error (error);
      const SwUnsold *castings = g_ptr_array_index (all, 0);
      assert_true (castings->floor.known);
      assert_int_equal (castings->against_floor, cases[i].against);
    }
}

static void
test_outlets (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue,
                "outlet|outlet=Hill Road|kind=auction|running_days=10|pay_days=3\n"
                "charge|outlet=Hill Road|charge=fee|from=2026-01-01|on=price|tiers=10%\n"
                "charge|outlet=Hill Road|charge=fee|from=2026-04-01|on=price|tiers=20%\n"
                "charge|outlet=Hill Road|charge=fee|from=2026-09-01|on=price|tiers=5%\n" YARD,
                NULL);
  g_autoptr (GPtrArray) sheets
      = sw_outlet_sheets (bed.catalogue, sw_test_day ("2026-04-20"), &error);
  assert_no_error (error);
  const SwOutletSheet *hill = g_ptr_array_index (sheets, 0), *yard = g_ptr_array_index (sheets, 1);
  /* a fifth of 30, 150 and 800 */
  assert_money_equal (hill->quotes[0].fees, 600);
  assert_money_equal (hill->quotes[1].leaves, 12000);
  assert_money_equal (hill->quotes[2].fees, 16000);
  assert_money_equal (hill->no_sale.fees, 0);
  /* 13 days back from 8 May */
  assert_true (hill->has_last_day);
  g_autofree char *last = sw_day_to_text (hill->last_day);
  assert_string_equal (last, "2026-04-25");
  assert_false (yard->has_last_day);
  static const SwChargeTime times[] = { SW_CHARGE_EARLIER, SW_CHARGE_IN_FORCE, SW_CHARGE_LATER };
  assert_int_equal (hill->charges->len, 3);
  for (guint i = 0; i < 3; i++)
    assert_int_equal (sw_charge_time (hill->charges, g_ptr_array_index (hill->charges, i),
                                      sw_test_day ("2026-04-20")),
                      times[i]);
  /* after the last trip there is none to count back from */
  g_autoptr (GPtrArray) late = sw_outlet_sheets (bed.catalogue, sw_test_day ("2026-05-08"), &error);
  assert_false (((const SwOutletSheet *)g_ptr_array_index (late, 0))->has_trip);
}

/* A charge that is only being thought of is shown and not kept. */
static void
test_outlet_with_a_charge_in_mind (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue,
                "outlet|outlet=Hill Road|kind=auction\n"
                "charge|outlet=Hill Road|charge=fee|from=2026-01-01|on=price|tiers=20%\n",
                NULL);
  SwDay day = sw_test_day ("2026-04-20");
  g_autoptr (SwSlip) slip = sw_slip_new (bed.catalogue);
  sw_slip_row (slip, SW_ROW_CHARGE);
  sw_slip_text (slip, SW_COLUMN_OUTLET, "Hill Road");
  sw_slip_text (slip, SW_COLUMN_CHARGE, "listing");
  sw_slip_text (slip, SW_COLUMN_ON, "offer");
  sw_slip_text (slip, SW_COLUMN_FLAT, "1.50");
  sw_slip_day (slip, SW_COLUMN_FROM, day);
  SwOutletSheet *sheet = sw_outlet_sheet_if (bed.catalogue, slip, "Hill Road", day, &error);
  assert_no_error (error);
  /* a fifth of 30 and of 800, and 1.50 with or without a sale */
  assert_money_equal (sheet->quotes[0].fees, 750);
  assert_money_equal (sheet->quotes[2].leaves, 63850);
  assert_money_equal (sheet->no_sale.fees, 150);
  assert_int_equal (sheet->charges->len, 2);
  sw_outlet_sheet_free (sheet);
  assert_null (sw_outlet_sheet_if (bed.catalogue, slip, "Elsewhere", day, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  sw_slip_text (slip, SW_COLUMN_FLAT, "1.505");
  assert_null (sw_outlet_sheet_if (bed.catalogue, slip, "Hill Road", day, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_autoptr (GPtrArray) after = sw_outlet_sheets (bed.catalogue, day, NULL);
  const SwOutletSheet *hill = g_ptr_array_index (after, 0);
  assert_int_equal (hill->charges->len, 1);
  assert_money_equal (hill->no_sale.fees, 0);
}

/* What is odd about a row comes back without the number of a line that nobody wrote. */
static void
test_slip_remarks (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) remarks = NULL;
  gboolean never = TRUE;
  SwItemChange change = { .never_offer = &never };
  assert_true (sw_item_change (bed.catalogue, 5, &change, &error));
  g_autoptr (SwSlip) slip = sw_slip_new (bed.catalogue);
  sw_slip_row (slip, SW_ROW_SALE);
  sw_slip_text (slip, SW_COLUMN_REF, "S1");
  sw_slip_text (slip, SW_COLUMN_ITEM, "Ladder");
  sw_slip_day (slip, SW_COLUMN_AT, sw_test_day ("2026-04-20"));
  sw_slip_money (slip, SW_COLUMN_AMOUNT, TRUE, sw_money (4000));
  assert_true (sw_slip_book (slip, "Ladder sold", &remarks, &error));
  assert_no_error (error);
  assert_i64_equal (remarks->len, 1);
  assert_string_equal (
      remarks->pdata[0],
      "Ladder became Sold although it is marked never to be offered before it is cleared.");
}

static void
test_rounds (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL PRESS LADDER, NULL);
  static const char *const of[][2] = { { "A1", "April" }, { "A2", "April" }, { "A3", "May" } };
  for (guint i = 0; i < G_N_ELEMENTS (of); i++)
    {
      g_autoptr (SwDeal) deal = NULL;
      gint64 round = 0;
      assert_true (sw_deal_find (bed.catalogue, of[i][0], &deal, &error));
      assert_true (sw_round_ensure (bed.catalogue, of[i][1], &round, &error));
      const SwOfferNoteChange change = { .round = &round };
      assert_true (sw_offer_note_change (bed.catalogue, deal->id, &change, &error));
    }
  g_autoptr (GPtrArray) sums = sw_round_sums (bed.catalogue, &error);
  assert_no_error (error);
  assert_int_equal (sums->len, 2);
  const SwRoundSum *may = g_ptr_array_index (sums, 0), *april = g_ptr_array_index (sums, 1);
  assert_string_equal (may->title, "May");
  assert_int_equal (may->offered, 1);
  assert_money_equal (may->takings, -230); /* the listing alone */
  assert_int_equal (april->offered, 2);
  assert_int_equal (april->sold, 1);
  assert_int_equal (april->no_sale, 1);
  assert_money_equal (april->proceeds, 20000);
  assert_money_equal (april->fees, 1730 + 230);
  assert_money_equal (april->takings, 20000 - 1960);
}

static void
test_sales (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue,
                HILL PRESS "sale|ref=S1|item=Ladder|at=2026-04-30|amount=40.00\n"
                           "payment|ref=S1|at=2026-04-30|amount=42.50\n"
                           "collected|ref=S1|at=2026-04-30\n"
                           "sale|ref=S2|item=Crates|at=2026-05-01|amount=90.00\n"
                           "reversal|ref=S2|at=2026-05-02\n"
                           "payment|ref=A1|at=2026-04-27|amount=150.00\n"
                           "reversal|ref=A1|at=2026-04-28|amount=20.00\n",
                NULL);
  g_autoptr (GPtrArray) sales = sw_sale_list (bed.catalogue, &error);
  assert_no_error (error);
  assert_int_equal (sales->len, 3);
  const SwSale *press = g_ptr_array_index (sales, 0), *crates = g_ptr_array_index (sales, 1),
               *ladder = g_ptr_array_index (sales, 2);
  assert_string_equal (press->items, "Screw press");
  assert_money_equal (press->owed, 3000); /* 200 - 20 - 150 */
  assert_false (sw_sale_is_settled (press));
  assert_true (crates->fell_through && sw_sale_is_settled (crates));
  assert_money_equal (press->over, 0);
  assert_money_equal (ladder->owed, 0);
  assert_money_equal (ladder->over, 250); /* 42.50 for 40.00 */
  assert_true (sw_sale_is_settled (ladder));
}

/* What was paid too much and given back: the sale is paid to the cent, and nothing else moves. */
static void
test_paid_back (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  static const char table[] = "sale|ref=S1|item=Ladder|at=2026-04-30|amount=38.00|delivery=2.00\n"
                              "payment|ref=S1|at=2026-04-30|amount=42.51\n"
                              "collected|ref=S1|at=2026-04-30\n"
                              "paid back|ref=S1|at=2026-04-30|amount=1.01\n";
  SwTakingsRow total;
  sw_test_book (bed.catalogue, table, NULL);
  g_autoptr (GPtrArray) sales = sw_sale_list (bed.catalogue, &error);
  assert_no_error (error);
  const SwSale *sale = g_ptr_array_index (sales, 0);
  assert_money_equal (sale->paid, 4150);
  assert_money_equal (sale->over, 150);
  sw_test_book (bed.catalogue, "paid back|ref=S1|at=2026-05-03|amount=1.50\n", NULL);
  g_autoptr (GPtrArray) later = sw_sale_list (bed.catalogue, &error);
  assert_no_error (error);
  sale = g_ptr_array_index (later, 0);
  assert_money_equal (sale->paid, 4000);
  assert_money_equal (sale->over, 0);
  assert_money_equal (sale->owed, 0);
  assert_money_equal (sale->taken_back, 0);
  assert_true (sw_sale_is_settled (sale));
  g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  assert_money_equal (total.proceeds, 4000);
  assert_money_equal (total.owed, 0);
  /* the same rows again enter nothing twice */
  g_auto (SwBookReport) report = { 0 };
  sw_test_book (bed.catalogue, table, &report);
  assert_int_equal (report.booked, 0);
  g_autoptr (SwSaleSheet) sheet = sw_sale_sheet (bed.catalogue, sale->deal->id, &error);
  assert_int_equal (sheet->backs->len, 2);
  /* out of the cash box or not is the latest row's alone */
  SwMoney cash;
  assert_true (sw_paid_back_cash (bed.catalogue, sale->deal->id, &cash, &error));
  assert_money_equal (cash, 0);
  assert_true (sw_paid_back_in_cash (bed.catalogue, sale->deal->id, &error));
  assert_true (sw_paid_back_cash (bed.catalogue, sale->deal->id, &cash, &error));
  assert_money_equal (cash, 150);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_true (sw_paid_back_cash (bed.catalogue, sale->deal->id, &cash, &error));
  assert_money_equal (cash, 0);
}

/* An offer whose sale fell through counts among those without a buyer, and is the latest of them.
 */
static void
test_fell_through (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue,
                HILL PRESS "reversal|ref=A1|at=2026-05-02\n"
                           "sale|ref=S1|item=Ladder|at=2026-04-30|amount=40.00\n"
                           "reversal|ref=S1|at=2026-05-02\n",
                NULL);
  g_autoptr (GPtrArray) unsold = sw_unsold_list (bed.catalogue, &error);
  assert_no_error (error);
  assert_int_equal (unsold->len, 2);
  for (guint i = 0; i < unsold->len; i++)
    {
      const SwUnsold *each = g_ptr_array_index (unsold, i);
      gboolean press = g_str_equal (each->item->name, "Screw press");
      assert_int_equal (each->times, press ? 1 : 0);
      assert_int_equal (each->fell_through, press);
      assert_int_equal (each->ref != NULL, press);
    }
}

static void
test_why_not (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  static const struct
  {
    gint64 item;
    gboolean can;
  } cases[] = { { 1, FALSE }, { 2, TRUE }, { 4, FALSE } }; /* sold, fine, without a price */
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (SwItem) item = sw_item_get (bed.catalogue, cases[i].item, &error);
      g_autofree char *why = sw_offering_why_not (bed.catalogue, item);
      assert_int_equal (why == NULL, cases[i].can);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_castings),     cmocka_unit_test (test_unsold),
    cmocka_unit_test (test_outlets),      cmocka_unit_test (test_outlet_with_a_charge_in_mind),
    cmocka_unit_test (test_slip_remarks), cmocka_unit_test (test_rounds),
    cmocka_unit_test (test_sales),        cmocka_unit_test (test_paid_back),
    cmocka_unit_test (test_fell_through), cmocka_unit_test (test_why_not),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
