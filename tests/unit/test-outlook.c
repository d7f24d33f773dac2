/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlooks of an item from booked offers, and quotes by terms. Amounts are worked by hand. */
#include "core/trade/outlook.h"
#include "core/trade/quote.h"
#include "sw-test-money.h"

#define SHOP "outlet|outlet=Corner shop|kind=shop floor\n"
#define AD "outlet|outlet=Notice board|kind=priced ad|running_days=14|pay_days=2\n"

static GPtrArray *
outlooks_of (SwTestBed *bed, gint64 number)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwItem) item = sw_item_get (bed->catalogue, number, &error);
  assert_no_error (error);
  g_autoptr (SwOutlookBook) book = sw_outlook_learn (bed->catalogue, &error);
  assert_no_error (error);
  GPtrArray *outlooks = sw_outlook_of (book, item, &error);
  assert_no_error (error);
  return outlooks;
}

static const SwOutlook *
outlook_named (const GPtrArray *outlooks, const char *name)
{
  for (guint i = 0; i < outlooks->len; i++)
    if (g_str_equal (((const SwOutlook *)g_ptr_array_index (outlooks, i))->name, name))
      return g_ptr_array_index (outlooks, i);
  fail_msg ("no outlook for %s", name);
  return NULL;
}

static gint64
millionths (double share, gint64 amount)
{
  return (gint64)(share * (double)amount + (amount < 0 ? -0.5 : 0.5));
}

/* Of eight offers of the crates at Hill Road six sold, of two at the notice board none. */
static char *
record (void)
{
  GString *rows = g_string_new (HILL YARD SHOP AD);
  for (int i = 0; i < 8; i++)
    {
      g_string_append_printf (rows,
                              "offer|ref=H%d|outlet=Hill Road|item=2|count=1|start=9.00|"
                              "up=2026-04-1%d|closes=2026-04-2%dT20:00\n",
                              i, i, i);
      g_string_append_printf (rows, "result|ref=H%d|at=2026-04-2%dT20:00|result=%s\n", i, i,
                              i < 6 ? "sold|amount=9.50" : "no sale");
    }
  g_string_append (rows, "offer|ref=N1|outlet=Notice board|item=5|up=2026-04-14\n"
                         "result|ref=N1|at=2026-04-20|result=no sale\n"
                         "offer|ref=N2|outlet=Notice board|item=5|up=2026-04-21\n"
                         "result|ref=N2|at=2026-04-25|result=no sale\n");
  return g_string_free (rows, FALSE);
}

static void
test_from_record (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autofree char *rows = record ();
  sw_test_book (bed.catalogue, rows, NULL);
  g_autoptr (GPtrArray) outlooks = outlooks_of (&bed, 1);
  /* the yard sells nothing */
  assert_int_equal (outlooks->len, 3);
  const SwOutlook *hill = outlook_named (outlooks, "Hill Road");
  const SwOutlook *board = outlook_named (outlooks, "Notice board");
  const SwOutlook *shop = outlook_named (outlooks, "Corner shop");
  assert_int_equal (hill->cases, 8);
  assert_int_equal (hill->sold, 6);
  assert_false (hill->few);
  assert_int_equal (board->cases, 2);
  assert_true (board->few);
  assert_int_equal (shop->cases, 0);
  assert_true (hill->chance > shop->chance && shop->chance > board->chance);
  assert_true (hill->low < hill->chance && hill->chance < hill->high);
  assert_true (hill->high - hill->low < shop->high - shop->low);
  /* asked 300.00; by the terms of Hill Road: 2.30, 10.00 to 100.00 and 5 % of the rest */
  assert_true (hill->has_money);
  assert_i64_equal (hill->unsold_fees.minor, 230);
  assert_i64_equal (hill->fees.minor, 230 + 1000 + (hill->price.minor - 10000 + 10) / 20);
  gint64 expected = millionths (hill->chance, hill->price.minor - hill->fees.minor)
                    - millionths (1 - hill->chance, 230);
  assert_true (ABS (hill->expected.minor - expected) <= 2);
  assert_i64_equal (board->fees.minor, 0);
  /* the best first */
  for (guint i = 1; i < outlooks->len; i++)
    assert_true (((SwOutlook *)g_ptr_array_index (outlooks, i - 1))->expected.minor
                 >= ((SwOutlook *)g_ptr_array_index (outlooks, i))->expected.minor);
}

static void
test_no_price (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GPtrArray) outlooks = outlooks_of (&bed, 4);
  assert_int_equal (outlooks->len, 1);
  const SwOutlook *hill = g_ptr_array_index (outlooks, 0);
  assert_false (hill->has_money);
  assert_int_equal (hill->cases, 0);
  assert_true (hill->few);
}

/* A withdrawn offer and one that fell through: the first tells nothing, the second is no sale. */
static void
test_what_counts (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue,
                HILL PRESS "reversal|ref=A1|at=2026-04-28\n"
                           "offer|ref=A2|outlet=Hill Road|item=Ladder|up=2026-04-14\n"
                           "result|ref=A2|at=2026-04-15|result=withdrawn\n",
                NULL);
  g_autoptr (GPtrArray) outlooks = outlooks_of (&bed, 1);
  const SwOutlook *hill = g_ptr_array_index (outlooks, 0);
  assert_int_equal (hill->cases, 1);
  assert_int_equal (hill->sold, 0);
}

/* Interest that the item drew before raises the chance. */
static void
test_interest (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS_UP "interest|ref=A1|at=2026-04-20|looks=0|followers=0\n",
                NULL);
  g_autoptr (GPtrArray) cold = outlooks_of (&bed, 1);
  sw_test_book (bed.catalogue, "interest|ref=A1|at=2026-04-21|looks=300|followers=9|bids=2\n",
                NULL);
  g_autoptr (GPtrArray) warm = outlooks_of (&bed, 1);
  assert_true (outlook_named (warm, "Hill Road")->chance
               > outlook_named (cold, "Hill Road")->chance + 0.1);
}

typedef struct
{
  const char *label;
  gint64 price, fees;
} QuoteRow;

/* listing 2.00 + 15 %; commission 10 % to 100.00, 5 % above. */
static const QuoteRow quote_rows[] = {
  { "30", 3000, 230 + 300 },
  { "150", 15000, 230 + 1000 + 250 },
  { "800", 80000, 230 + 1000 + 3500 },
  { "less than its fees", 200, 230 + 20 },
};

static void
test_quote (void **state)
{
  const QuoteRow *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (SwOutlet) outlet = NULL;
  assert_true (sw_outlet_find (bed.catalogue, "Hill Road", &outlet, &error));
  g_autoptr (GPtrArray) charges = sw_charge_list (bed.catalogue, outlet->id, &error);
  SwQuote quote;
  assert_true (sw_quote_sold (outlet, charges, sw_test_day ("2026-04-14"), sw_money (row->price),
                              sw_catalogue_currency (bed.catalogue), &quote, &error));
  assert_money_equal (quote.fees, row->fees);
  assert_money_equal (quote.leaves, row->price - row->fees);
  /* before the terms began nothing is owed */
  assert_true (sw_quote_sold (outlet, charges, sw_test_day ("2025-12-31"), sw_money (row->price),
                              sw_catalogue_currency (bed.catalogue), &quote, &error));
  assert_money_equal (quote.fees, 0);
}

static void
test_last_day (void **state)
{
  (void)state;
  SwDay up;
  SwOutlet outlet = { .running_days = 10, .pay_days = 4 };
  assert_true (sw_quote_last_day_up (&outlet, sw_test_day ("2026-05-08"), &up));
  assert_int_equal (up.n, sw_test_day ("2026-04-24").n);
  outlet.pay_days = -1;
  assert_true (sw_quote_last_day_up (&outlet, sw_test_day ("2026-05-08"), &up));
  assert_int_equal (up.n, sw_test_day ("2026-04-28").n);
  outlet.running_days = -1;
  assert_false (sw_quote_last_day_up (&outlet, sw_test_day ("2026-05-08"), &up));
  outlet.running_days = G_MAXINT64 / 2;
  assert_false (sw_quote_last_day_up (&outlet, sw_test_day ("2026-05-08"), &up));
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_from_record);
  SW_TEST (tests, test_no_price);
  SW_TEST (tests, test_what_counts);
  SW_TEST (tests, test_interest);
  SW_TEST_ROWS (tests, test_quote, quote_rows);
  SW_TEST (tests, test_last_day);
  int failed = sw_tests_run (tests, "outlook");
  sw_test_property_end ();
  return failed;
}
