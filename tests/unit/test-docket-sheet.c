/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A booked docket in words: what was weighed, what was taken as another class, what was charged. */
#include "core/trade/docket-sheet.h"
#include "sw-test-money.h"

static void
set_class (SwCatalogue *catalogue, gint64 item, const char *class)
{
  g_autoptr (GError) error = NULL;
  const SwItemChange change = { .scrap_class = class };
  sw_item_change (catalogue, item, &change, &error);
  assert_no_error (error);
}

static gint64
docket (SwCatalogue *catalogue)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDeal) deal = NULL;
  sw_deal_find (catalogue, "D", &deal, &error);
  assert_no_error (error);
  assert_non_null (deal);
  return deal->id;
}

#define TABLE                                                                                      \
  YARD "docket|ref=D|outlet=Yard|at=2026-05-09|gross=1570|tare=1000\n"                             \
       "docket line|ref=D|class=light steel|net=500|rate=60|item=Vat + Screw press\n"              \
       "docket line|ref=D|class=tyres|net=60|rate=0|item=Ladder\n"                                 \
       "docket line|ref=D|class=brass|net=10|rate=1234.50|place=Packing shed\n"                    \
       "fee|ref=D|charge=disposal|at=2026-05-09|amount=7.20\n"

static void
test_words (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  SwDocketSheet sheet = { 0 };
  set_class (bed.catalogue, sw_test_ask (bed.catalogue, "SELECT id FROM item WHERE name = 'Vat'"),
             "heavy steel");
  set_class (bed.catalogue,
             sw_test_ask (bed.catalogue, "SELECT id FROM item WHERE name = 'Ladder'"), "tyres");
  sw_test_book (bed.catalogue, TABLE, NULL);
  assert_true (sw_docket_sheet_read (bed.catalogue, docket (bed.catalogue), &sheet, &error));
  assert_string_equal (sheet.lines, "light steel 500 kg, tyres 60 kg, brass 10 kg");
  /* the press was not marked as any class, the ladder was taken as what it was marked as */
  assert_string_equal (sheet.other_class, "Vat marked as heavy steel, taken as light steel");
  assert_money_equal (sheet.charges, 720);
  sw_docket_sheet_clear (&sheet);
  /* charged anew: the later one counts; nothing is of another class any more */
  sw_test_book (bed.catalogue, "fee|ref=D|charge=disposal|at=2026-05-10|amount=5\n", NULL);
  set_class (bed.catalogue, sw_test_ask (bed.catalogue, "SELECT id FROM item WHERE name = 'Vat'"),
             "light steel");
  assert_true (sw_docket_sheet_read (bed.catalogue, docket (bed.catalogue), &sheet, &error));
  assert_null (sheet.other_class);
  assert_money_equal (sheet.charges, 500);
  sw_docket_sheet_clear (&sheet);
  assert_false (sw_docket_sheet_read (bed.catalogue, 4711, &sheet, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_words);
  int failures = sw_tests_run (tests, "docket-sheet");
  sw_test_property_end ();
  return failures;
}
