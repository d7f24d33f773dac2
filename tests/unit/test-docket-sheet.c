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

/* The sheet of the one docket of the bed. */
static GPtrArray *
read_one (SwCatalogue *catalogue, const SwDocketSheet **out_sheet)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *sheets = sw_docket_sheets (catalogue, &error);
  assert_no_error (error);
  assert_int_equal (sheets->len, 1);
  *out_sheet = g_ptr_array_index (sheets, 0);
  return sheets;
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
  const SwDocketSheet *sheet = NULL;
  set_class (bed.catalogue, sw_test_ask (bed.catalogue, "SELECT id FROM item WHERE name = 'Vat'"),
             "heavy steel");
  set_class (bed.catalogue,
             sw_test_ask (bed.catalogue, "SELECT id FROM item WHERE name = 'Ladder'"), "tyres");
  sw_test_book (bed.catalogue, TABLE, NULL);
  g_autoptr (GPtrArray) first = read_one (bed.catalogue, &sheet);
  assert_string_equal (sheet->ref, "D");
  assert_string_equal (sheet->outlet_name, "Yard");
  /* 500 kg at 60, 60 kg at 0 and 10 kg at 1234.50 a tonne */
  assert_money_equal (sheet->amount, 3000 + 1235);
  assert_string_equal (sheet->lines, "light steel 500 kg, tyres 60 kg, brass 10 kg");
  /* the press was not marked as any class, the ladder was taken as what it was marked as */
  assert_string_equal (sheet->other_class, "Vat marked as heavy steel, taken as light steel");
  assert_money_equal (sheet->charges, 720);
  /* charged anew: the later one counts; nothing is of another class any more */
  sw_test_book (bed.catalogue, "fee|ref=D|charge=disposal|at=2026-05-10|amount=5\n", NULL);
  set_class (bed.catalogue, sw_test_ask (bed.catalogue, "SELECT id FROM item WHERE name = 'Vat'"),
             "light steel");
  g_autoptr (GPtrArray) second = read_one (bed.catalogue, &sheet);
  assert_null (sheet->other_class);
  assert_money_equal (sheet->charges, 500);
}

static void
test_the_latest_first (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, TABLE, NULL);
  sw_test_book (bed.catalogue,
                "docket|ref=E|outlet=Yard|at=2026-05-20|gross=1012|tare=1000\n"
                "docket line|ref=E|class=brass|net=12|amount=3|place=Packing shed\n",
                NULL);
  g_autoptr (GPtrArray) sheets = sw_docket_sheets (bed.catalogue, &error);
  assert_no_error (error);
  assert_int_equal (sheets->len, 2);
  const SwDocketSheet *later = g_ptr_array_index (sheets, 0),
                      *earlier = g_ptr_array_index (sheets, 1);
  assert_string_equal (later->ref, "E");
  assert_string_equal (later->lines, "brass 12 kg");
  assert_money_equal (later->charges, 0);
  assert_null (later->other_class);
  assert_string_equal (earlier->ref, "D");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_words);
  SW_TEST (tests, test_the_latest_first);
  int failures = sw_tests_run (tests, "docket-sheet");
  sw_test_property_end ();
  return failures;
}
