/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of outlets against the books. Amounts are worked by hand. */
#include "core/trade/statement.h"
#include "core/catalogue/offer-notes.h"
#include "sw-test-money.h"

/* The press for 200.00 (fees 17.30), the ladder for 35.00 (2.30 + 3.50 = 5.80). */
#define LADDER                                                                                     \
  "offer|ref=A2|outlet=Hill Road|item=Ladder|up=2026-04-14|closes=2026-04-26T20:05\n"              \
  "result|ref=A2|at=2026-04-26T20:05|result=sold|amount=35.00\n"

static const SwStatementColumns all_columns
    = { { (char *)"Lot", (char *)"Date", (char *)"Hammer", (char *)"Charges" } };

static gboolean
try_read (SwTestBed *bed, const char *csv, const SwStatementColumns *columns, SwStatement *out,
          GError **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (csv, strlen (csv));
  g_autoptr (SwTable) table = sw_table_read (bytes, error);
  return table != NULL
         && sw_statement_read (bed->catalogue, "Hill Road", table, columns, out, error);
}

static SwStatement
read_statement (SwTestBed *bed, const char *csv)
{
  g_autoptr (GError) error = NULL;
  SwStatement statement = { 0 };
  try_read (bed, csv, &all_columns, &statement, &error);
  assert_no_error (error);
  return statement;
}

static const SwStatementLine *
line (const SwStatement *statement, guint i)
{
  return g_ptr_array_index (statement->lines, i);
}

static guint
book (SwTestBed *bed, const SwStatement *statement)
{
  g_autoptr (GError) error = NULL;
  guint entered = 99;
  sw_statement_book (bed->catalogue, statement, &entered, &error);
  assert_no_error (error);
  return entered;
}

static void
assert_total (SwTestBed *bed, gint64 proceeds, gint64 fees, gint64 owed)
{
  SwTakingsRow total;
  g_autofree char *rows = sw_test_takings (bed->catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  assert_money_equal (total.proceeds, proceeds);
  assert_money_equal (total.fees, fees);
  assert_money_equal (total.owed, owed);
}

static SwTestBed
with_sales (void)
{
  SwTestBed bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS LADDER, NULL);
  return bed;
}

static void
test_agrees (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  const char *csv = "Lot,Date,Hammer,Charges\na1,2026-04-28,200.00,-17.30\nA2,2026-04-28,35,5.80\n";
  g_auto (SwStatement) statement = read_statement (&bed, csv);
  assert_int_equal (statement.matched, 2);
  assert_int_equal (statement.differing, 0);
  assert_money_equal (statement.price, 23500);
  assert_money_equal (statement.fees, 2310);
  assert_money_equal (statement.booked_fees, 2310);
  assert_total (&bed, 23500, 2310, 23500);
  assert_int_equal (book (&bed, &statement), 2);
  assert_total (&bed, 23500, 2310, 0);
  /* the same statement twice enters nothing twice */
  g_auto (SwStatement) again = read_statement (&bed, csv);
  assert_int_equal (book (&bed, &again), 0);
  assert_total (&bed, 23500, 2310, 0);
}

static void
test_other_fees (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  const char *csv
      = "Lot,Date,Hammer,Charges\nA1,2026-04-28,200.00,19.05\nA2,2026-04-28,35.00,0.00\n";
  g_auto (SwStatement) statement = read_statement (&bed, csv);
  assert_int_equal (statement.differing, 2);
  assert_contains (line (&statement, 0)->says, "Fees of 19.05");
  assert_contains (line (&statement, 0)->says, "17.30");
  assert_int_equal (book (&bed, &statement), 2);
  assert_total (&bed, 23500, 1905, 0);
  g_auto (SwStatement) again = read_statement (&bed, csv);
  assert_int_equal (again.differing, 0);
  assert_int_equal (book (&bed, &again), 0);
  /* a corrected statement counts instead */
  g_auto (SwStatement) corrected
      = read_statement (&bed, "Lot,Date,Hammer,Charges\nA1,2026-04-28,200.00,18.00\n");
  assert_int_equal (book (&bed, &corrected), 1);
  assert_total (&bed, 23500, 1800, 0);
}

static void
test_other_price (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  g_auto (SwStatement) statement
      = read_statement (&bed, "Lot,Date,Hammer,Charges\nA1,2026-04-28,190.00,16.80\n");
  assert_contains (line (&statement, 0)->says, "Sold for 190.00 by the statement, for 200.00");
  assert_int_equal (book (&bed, &statement), 0);
  assert_total (&bed, 23500, 2310, 23500);
}

static void
test_by_amount (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  g_auto (SwStatement) statement = read_statement (
      &bed, "Lot,Date,Hammer,Charges\n,2026-04-28,200.00,17.30\n,2026-05-20,35.00,5.80\n");
  assert_int_equal (line (&statement, 0)->match, SW_STATEMENT_BY_AMOUNT);
  assert_string_equal (line (&statement, 0)->ref, "A1");
  assert_int_equal (line (&statement, 1)->match, SW_STATEMENT_UNKNOWN); /* too late */
  /* two sales of one price: nobody guesses */
  sw_test_book (bed.catalogue,
                "offer|ref=A3|outlet=Hill Road|item=Scales|up=2026-04-14\n"
                "result|ref=A3|at=2026-04-26|result=sold|amount=200.00\n",
                NULL);
  g_auto (SwStatement) unclear = read_statement (
      &bed, "Lot,Date,Hammer,Charges\n,2026-04-28,200.00,17.30\nA2,2026-04-28,35.00,5.80\n");
  assert_int_equal (line (&unclear, 0)->match, SW_STATEMENT_UNCLEAR);
  assert_contains (line (&unclear, 0)->says, "2 sales");
}

/* Which row comes first changes nothing: references go before amounts, and a sale that is taken
 * leaves another row only one. */
static void
test_order_of_rows (void **state)
{
  (void)state;
  static const char *const rows[] = { ",2026-04-27,200.00,17.30\n", "A1,2026-04-26,200.00,17.30\n",
                                      ",2026-04-30,200.00,2.00\n" };
  static const int orders[][3]
      = { { 0, 1, 2 }, { 0, 2, 1 }, { 1, 0, 2 }, { 1, 2, 0 }, { 2, 0, 1 }, { 2, 1, 0 } };
  g_auto (SwTestBed) bed = with_sales ();
  /* 1 May is too late for the row of 27 April, 27 April is near enough to both others */
  sw_test_book (bed.catalogue,
                "sale|ref=B1|outlet=Hill Road|item=Scales|at=2026-04-28|amount=200.00\n"
                "sale|ref=B2|outlet=Hill Road|item=Vat|at=2026-05-01|amount=200.00\n",
                NULL);
  for (guint i = 0; i < G_N_ELEMENTS (orders); i++)
    {
      g_autoptr (GString) table = g_string_new ("Lot,Date,Hammer,Charges\n");
      for (guint k = 0; k < 3; k++)
        g_string_append (table, rows[orders[i][k]]);
      g_auto (SwStatement) statement = read_statement (&bed, table->str);
      static const char *const refs[] = { "B1", "A1", "B2" };
      for (guint k = 0; k < 3; k++)
        assert_string_equal (line (&statement, k)->ref, refs[orders[i][k]]);
    }
}

/* The outlet's own reference, pasted when the offer went up. */
static void
test_own_reference (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDeal) deal = NULL;
  assert_true (sw_deal_find (bed.catalogue, "A1", &deal, &error));
  const SwOfferNoteChange change = { .own_ref = "HR-4711" };
  assert_true (sw_offer_note_change (bed.catalogue, deal->id, &change, &error));
  g_auto (SwStatement) statement
      = read_statement (&bed, "Lot,Date,Hammer,Charges\nhr-4711,2026-04-28,200.00,17.30\n");
  assert_int_equal (line (&statement, 0)->match, SW_STATEMENT_BY_REFERENCE);
  assert_string_equal (line (&statement, 0)->ref, "A1");
}

/* Half a statement, rows twice, rows of nothing, cells that make no sense. */
static void
test_odd_rows (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  g_auto (SwStatement) statement = read_statement (&bed, "Lot,Date,Hammer,Charges\n"
                                                         "A1,2026-04-25,200.00,17.30\n"
                                                         "A1,2026-04-28,200.00,17.30\n"
                                                         "Z9,2026-04-28,12.00,1.00\n"
                                                         "A2,sometime,35.00,5.80\n"
                                                         "A2,2026-04-28,many,5.80\n");
  assert_int_equal (statement.matched, 1);
  assert_int_equal (line (&statement, 1)->match, SW_STATEMENT_UNCLEAR);
  assert_int_equal (line (&statement, 2)->match, SW_STATEMENT_UNKNOWN);
  assert_int_equal (line (&statement, 3)->match, SW_STATEMENT_UNREAD);
  assert_contains (line (&statement, 3)->says, "sometime");
  assert_contains (line (&statement, 4)->says, "many");
  assert_int_equal (statement.missing->len, 1);
  assert_string_equal (g_ptr_array_index (statement.missing, 0), "A2");
}

/* A sale that fell through before the statement came need not be in it; where it is, the row says
 * so, and nothing is entered as paid. The next buyer's sale at the same price is matched first. */
static void
test_fallen_through (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  sw_test_book (bed.catalogue, "reversal|ref=A2|at=2026-04-27\n", NULL);
  g_auto (SwStatement) without
      = read_statement (&bed, "Lot,Date,Hammer,Charges\n"
                              "A1,2026-04-26,200.00,17.30\nA1,2026-04-28,200.00,17.30\n");
  assert_int_equal (without.missing->len, 0);
  g_auto (SwStatement) with
      = read_statement (&bed, "Lot,Date,Hammer,Charges\nA2,2026-04-28,35.00,5.80\n");
  assert_string_equal (line (&with, 0)->ref, "A2");
  assert_contains (line (&with, 0)->says, "fell through on 2026-04-27");
  assert_int_equal (with.differing, 1);
  assert_int_equal (book (&bed, &with), 0);
  assert_total (&bed, 20000, 2310, 20000);
  sw_test_book (bed.catalogue,
                "sale|ref=B1|outlet=Hill Road|item=Ladder|at=2026-04-27|amount=35.00\n", NULL);
  g_auto (SwStatement) again
      = read_statement (&bed, "Lot,Date,Hammer,Charges\n,2026-04-28,35.00,0.00\n");
  assert_int_equal (line (&again, 0)->match, SW_STATEMENT_BY_AMOUNT);
  assert_string_equal (line (&again, 0)->ref, "B1");
}

static void
test_refused (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  g_auto (SwStatement) statement = { 0 };
  g_autoptr (GError) error = NULL;
  /* another outlet's */
  assert_false (try_read (&bed, "Lot,Date,Hammer,Charges\nQ1,2026-04-28,7.00,1.00\n", &all_columns,
                          &statement, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "another outlet");
  g_clear_error (&error);
  /* a column that is not there */
  assert_false (
      try_read (&bed, "Lot,Date,Price\nA1,2026-04-28,200.00\n", &all_columns, &statement, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "Hammer");
  g_clear_error (&error);
  /* nothing to match by */
  const SwStatementColumns price_only = { { NULL, NULL, (char *)"Hammer", NULL } };
  assert_false (try_read (&bed, "Hammer\n200.00\n", &price_only, &statement, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

static void
test_columns (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = with_sales ();
  g_autoptr (GError) error = NULL;
  g_auto (SwStatementColumns) columns = { { NULL } };
  assert_true (sw_statement_columns_get (bed.catalogue, 1, &columns, &error));
  assert_null (columns.heading[SW_STATEMENT_PRICE]);
  assert_true (sw_statement_columns_keep (bed.catalogue, 1, &all_columns, &error));
  assert_true (sw_statement_columns_get (bed.catalogue, 1, &columns, &error));
  assert_string_equal (columns.heading[SW_STATEMENT_PRICE], "Hammer");
}

static void
test_no_outlet (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_static ("Lot\nA1\n", 7);
  g_autoptr (SwTable) table = sw_table_read (bytes, &error);
  SwStatement statement = { 0 };
  assert_false (
      sw_statement_read (bed.catalogue, "Hil Road", table, &all_columns, &statement, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_contains (error->message, "Hil Road");
}

/* A day as the person's locale writes it. */
static void
test_written_day (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  g_auto (SwStatement) statement
      = read_statement (&bed, "Lot,Date,Hammer,Charges\nA1,\"April 28, 2026\",200.00,17.30\n");
  assert_int_equal (statement.matched, 1);
  assert_null (line (&statement, 0)->says);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_agrees);
  SW_TEST (tests, test_other_fees);
  SW_TEST (tests, test_other_price);
  SW_TEST (tests, test_by_amount);
  SW_TEST (tests, test_order_of_rows);
  SW_TEST (tests, test_own_reference);
  SW_TEST (tests, test_odd_rows);
  SW_TEST (tests, test_fallen_through);
  SW_TEST (tests, test_refused);
  SW_TEST (tests, test_columns);
  SW_TEST (tests, test_no_outlet);
  SW_TEST (tests, test_written_day);
  int failed = sw_tests_run (tests, "statement");
  sw_test_property_end ();
  return failed;
}
