/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Booking: tables that are refused, each with its line named and nothing left behind. The property
 * is that of sw-test-money.h. */
#include "sw-test-money.h"

typedef struct
{
  const char *label;
  const char *table; /* its first row is line 2 */
  const char *says;  /* in the sentence */
} BadRow;

static const BadRow bad_rows[] = {
  { "unknown what", "gossip|ref=A\n", "line 2: ‘gossip’ in 'what' is not known" },
  { "an undeclared outlet", "offer|ref=A|outlet=Nowhere|item=Vat|up=2026-04-01\n",
    "line 2: There is no outlet ‘Nowhere’" },
  { "unknown kind of outlet", "outlet|outlet=A|kind=circus\n", "line 2: ‘circus’ is no kind" },
  { "unknown rounding", "outlet|outlet=A|rounding=down\n", "line 2: ‘down’ is no rounding" },
  { "an outlet twice", "outlet|outlet=A\noutlet|outlet=A|kind=dealer\n",
    "line 3: The outlet stands on line 2" },
  { "a charge twice from one day",
    YARD "charge|outlet=Yard|charge=a|from=2026-01-01|on=offer|flat=1\n"
         "charge|outlet=Yard|charge=a|from=2026-01-01|on=offer|flat=2\n",
    "line 4: The charge stands on line 3" },
  { "a charge flat and in tiers",
    YARD "charge|outlet=Yard|charge=a|from=2026-01-01|on=sale|flat=1|tiers=:1%\n", "line 3: " },
  { "a charge in tiers on offers",
    YARD "charge|outlet=Yard|charge=a|from=2026-01-01|on=offer|tiers=:1%\n", "line 3: " },
  { "a flat charge on the price",
    YARD "charge|outlet=Yard|charge=a|from=2026-01-01|on=price|flat=1\n", "line 3: " },
  { "least above most",
    YARD "charge|outlet=Yard|charge=a|from=2026-01-01|on=sale|flat=1|least=5|most=4\n",
    "line 3: The least" },
  { "bad tiers", YARD "charge|outlet=Yard|charge=a|from=2026-01-01|on=price|tiers=10:5%\n",
    "line 3: tiers: " },
  { "bad tax", YARD "charge|outlet=Yard|charge=a|from=2026-01-01|on=sale|flat=1|tax=20\n",
    "line 3: tax: " },
  { "more given back than was paid too much",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=5\npayment|ref=A|at=2026-04-01|amount=6\n"
    "paid back|ref=A|at=2026-04-02|amount=1.01\n",
    "line 4: 1.00 was paid too much for ‘A’" },
  { "given back where nothing was paid too much",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=5\npayment|ref=A|at=2026-04-01|amount=5\n"
    "paid back|ref=A|at=2026-04-02|amount=0.01\n",
    "line 4: Nothing was paid too much for ‘A’" },
  { "unknown item", "sale|ref=S|item=Anvil|at=2026-04-01|amount=1\n", "line 2: " },
  { "unknown item number", "sale|ref=S|item=99|at=2026-04-01|amount=1\n", "line 2: " },
  { "no ref", "sale|item=Vat|at=2026-04-01|amount=1\n", "line 2: the sale has no 'ref'" },
  { "no day", "sale|ref=S|item=Vat|amount=1\n", "line 2: the sale has no 'at'" },
  { "no amount", "sale|ref=S|item=Vat|at=2026-04-01\n", "line 2: the sale has no 'amount'" },
  { "sold without an amount",
    YARD "offer|ref=A|outlet=Yard|item=Vat|up=2026-04-01\nresult|ref=A|at=2026-04-02|result=sold\n",
    "line 4: " },
  { "no sale with an amount",
    YARD "offer|ref=A|outlet=Yard|item=Vat|up=2026-04-01\nresult|ref=A|at=2026-04-02|result=no "
         "sale|amount=5\n",
    "line 4: " },
  { "unknown result",
    YARD
    "offer|ref=A|outlet=Yard|item=Vat|up=2026-04-01\nresult|ref=A|at=2026-04-02|result=burnt\n",
    "line 4: ‘burnt’" },
  { "a result of nothing", "result|ref=A|at=2026-04-02|result=no sale\n",
    "line 2: There is no offer" },
  { "a result of a sale",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=1\nresult|ref=A|at=2026-04-02|result=no sale\n",
    "line 3: ‘A’ is a sale" },
  { "a result before the offer was up",
    YARD
    "offer|ref=A|outlet=Yard|item=Vat|up=2026-04-03\nresult|ref=A|at=2026-04-02|result=no sale\n",
    "line 4: The result" },
  { "closes before it is up",
    YARD "offer|ref=A|outlet=Yard|item=Vat|up=2026-04-03|closes=2026-04-01\n",
    "line 3: The offer closes" },
  { "interest in a docket",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-12|gross=500|tare=400\n"
         "docket line|ref=D|class=iron|net=100|rate=200\n"
         "interest|ref=D|at=2026-04-13|looks=3\n",
    "line 5: Interest is drawn by an offer; this ref is a docket." },
  { "a result of a docket",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-12|gross=500|tare=400\n"
         "docket line|ref=D|class=iron|net=100|rate=200\n"
         "result|ref=D|at=2026-04-13|result=no sale\n",
    "line 5: \u2018D\u2019 is a docket, which has no result of its own." },
  { "two results",
    YARD "offer|ref=A|outlet=Yard|item=Vat|up=2026-04-01\nresult|ref=A|at=2026-04-02|result=no "
         "sale\nresult|ref=A|at=2026-04-03|result=no sale\n",
    "line 5: ‘A’ with its result stands on line 4" },
  { "a ref twice",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=1\nsale|ref=A|item=Ladder|at=2026-04-01|amount=1\n",
    "line 3: ‘A’ as offer, sale or docket stands on line 2" },
  { "collected twice",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=1\ncollected|ref=A|at=2026-04-02\ncollected|ref=A|at="
    "2026-04-03\n",
    "line 4: " },
  { "sold a second time",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=1\nsale|ref=B|item=Vat|at=2026-04-02|amount=1\n",
    "line 3: Vat is Sold" },
  { "put up after it was sold",
    YARD
    "sale|ref=A|item=Vat|at=2026-04-01|amount=1\noffer|ref=B|outlet=Yard|item=Vat|up=2026-04-02\n",
    "line 4: Vat is Sold" },
  { "payment of a running offer",
    YARD "offer|ref=A|outlet=Yard|item=Vat|up=2026-04-01\npayment|ref=A|at=2026-04-02|amount=1\n",
    "line 4: ‘A’ was not sold" },
  { "payment of nothing", "payment|ref=A|at=2026-04-02|amount=1\n",
    "line 2: There is no offer, sale or docket" },
  { "more taken back than was paid",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=5\nreversal|ref=A|at=2026-04-02|amount=5.01\n",
    "line 3: Of ‘A’ only 5.00 is left" },
  { "taken back twice",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=5\nreversal|ref=A|at=2026-04-02\nreversal|ref=A|at="
    "2026-04-03\n",
    "line 4: ‘A’ fell through already" },
  { "taken back before it was sold",
    "sale|ref=A|item=Vat|at=2026-04-03|amount=5\nreversal|ref=A|at=2026-04-02\n",
    "line 3: The reversal" },
  { "two fees on one day",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=5\nfee|ref=A|charge=x|at=2026-04-03|amount=1\nfee|"
    "ref=A|charge=x|at=2026-04-03|amount=2\n",
    "line 4: A has the fee ‘x’" },
  { "count with a lot", "sale|ref=A|item=Crates + Vat|count=2|at=2026-04-01|amount=5\n",
    "line 2: A lot takes its items whole" },
  { "count above what is left",
    "sale|ref=A|item=Crates|count=8|at=2026-04-01|amount=5\nsale|ref=B|item=Crates|count=3|at=2026-"
    "04-02|amount=5\n",
    "line 3: Of Crates only 2 are left" },
  { "count of zero", "sale|ref=A|item=Crates|count=0|at=2026-04-01|amount=5\n",
    "line 2: The count" },
  { "an item twice in a lot", "sale|ref=A|item=Vat + 4|at=2026-04-01|amount=5\n",
    "line 2: Item 4 stands in the lot twice" },
  { "cost of an unknown trip", "cost|trip=9|at=2026-04-01|amount=5\n",
    "line 2: There is no trip 9" },
  { "cost of trip zero", "cost|trip=0|at=2026-04-01|amount=5\n",
    "line 2: Trips are numbered from 1" },
  { "docket that does not add up",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=100|tare=40\ndocket "
         "line|ref=D|class=a|net=59.999|rate=1\n",
    "line 3: Gross less tare is 60 kg" },
  { "outlet called as what has none", "outlet|outlet=None\n", "line 2: The name of an outlet" },
  { "docket of nets that cannot be added up",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=100|tare=40\n"
         "docket line|ref=D|class=a|net=5000000000|rate=0\n"
         "docket line|ref=D|class=a|net=5000000000|rate=0\n",
    "line 3: The nets of the docket are too large" },
  { "docket without lines", YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=40|tare=40\n",
    "line 3: The docket has no lines" },
  { "docket with more tare than gross",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=40|tare=41\n", "line 3: The tare" },
  { "docket line without a docket", "docket line|ref=D|class=a|net=59|rate=1\n",
    "line 2: There is no docket ‘D’" },
  { "docket line without money",
    YARD
    "docket|ref=D|outlet=Yard|at=2026-04-01|gross=10|tare=0\ndocket line|ref=D|class=a|net=10\n",
    "line 4: A docket line needs" },
  { "docket line of an unknown place",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=10|tare=0\ndocket "
         "line|ref=D|class=a|net=10|rate=1|place=Moon\n",
    "line 4: " },
  { "docket line of an unknown item",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=10|tare=0\ndocket "
         "line|ref=D|class=a|net=10|rate=1|item=Moon\n",
    "line 4: " },
  { "kilograms with a unit", YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=10 t|tare=0\n",
    "line 3: gross: " },
  { "payment of a docket",
    YARD "docket|ref=D|outlet=Yard|at=2026-04-01|gross=10|tare=0\ndocket "
         "line|ref=D|class=a|net=10|rate=1\npayment|ref=D|at=2026-04-02|amount=1\n",
    "line 5: ‘D’ is a docket" },
  { "interest of a sale",
    "sale|ref=A|item=Vat|at=2026-04-01|amount=5\ninterest|ref=A|at=2026-04-01|looks=3\n",
    "line 3: Interest" },
  { "hold without an end", "hold|item=Vat|at=2026-04-01|buyer=B\n",
    "line 2: the hold has no 'until'" },
  { "too many decimals", "sale|ref=S|item=Vat|at=2026-04-01|amount=1.005\n", "line 2: amount: " },
  { "negative money", "sale|ref=S|item=Vat|at=2026-04-01|amount=-1\n", "line 2: amount: " },
  { "overflowing money", "sale|ref=S|item=Vat|at=2026-04-01|amount=99999999999999999999\n",
    "line 2: amount: " },
  { "money that overflows in the sum",
    "sale|ref=S|item=Vat|at=2026-04-01|amount=92233720368547758.07|delivery=0.01\n", "line 2: " },
  { "money that overflows in the sum of all sales",
    "sale|ref=S|item=Vat|at=2026-04-01|amount=92233720368547758.07\n"
    "sale|ref=T|item=Ladder|at=2026-04-01|amount=0.01\n",
    "grows too large" },
  { "costs that overflow",
    "cost|at=2026-04-01|amount=92233720368547758.07\ncost|at=2026-04-01|amount=0.01\n",
    "grows too large" },
  { "no money", "sale|ref=S|item=Vat|at=2026-04-01|amount=dear\n", "line 2: amount: " },
  { "grouped money", "sale|ref=S|item=Vat|at=2026-04-01|amount=1,234.50\n", "line 2: amount: " },
  { "impossible day", "sale|ref=S|item=Vat|at=2026-02-30|amount=1\n", "line 2: at: " },
  { "no number", "sale|ref=S|item=Crates|count=some|at=2026-02-20|amount=1\n", "line 2: count: " },
  { "number out of range",
    "sale|ref=S|item=Crates|count=99999999999999999999|at=2026-02-20|amount=1\n",
    "line 2: count: " },
  { "escape codes are shown harmless", "sale|ref=S|item=\033[31mVat|at=2026-02-20|amount=1\n",
    "line 2: " },
  { "escape codes in what", "\033[31m|ref=S\n", "\\x1B" },
  { "all faults are named",
    "sale|ref=S|item=Vat|at=2026-02-30|amount=1\npayment|ref=S|at=2026-03-01|amount=1\ncost|at="
    "2026-03-01|amount=-4\n",
    "line 4: amount: " },
};

static void
test_refused (void **state)
{
  const BadRow *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autofree char *before = sw_test_dump (bed.catalogue);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = sw_test_table (row->table);
  g_auto (SwBookReport) report = { 0 };
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", &report, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, row->says);
  assert_null (strchr (error->message, '\033'));
  assert_true (report.faults->len >= 1);
  g_autofree char *after = sw_test_dump (bed.catalogue);
  assert_string_equal (after, before);
}

/* One fault is not told three times: what hangs on the faulty row is passed over. */
static void
test_no_faults_of_faults (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = sw_test_table (
      HILL "offer|ref=A1|outlet=Hill Road|item=Nothing|up=2026-04-14\n" PRESS_SOLD
           "payment|ref=A1|at=2026-05-01|amount=5\ncollected|ref=A1|at=2026-05-01\n");
  g_auto (SwBookReport) report = { 0 };
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", &report, &error));
  assert_int_equal (report.faults->len, 1);
  assert_contains (g_ptr_array_index (report.faults, 0), "line 5: ");
}

static void
test_many_faults (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GString) table = g_string_new (NULL);
  for (int i = 0; i < 30; i++)
    g_string_append_printf (table, "cost|at=2026-04-01|amount=no%d\n", i);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = sw_test_table (table->str);
  g_auto (SwBookReport) report = { 0 };
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", &report, &error));
  assert_int_equal (report.faults->len, 30);
  assert_contains (error->message, "line 21: ");
  assert_null (strstr (error->message, "line 22: "));
  assert_contains (error->message, "and 10 more.");
}

/* --- files that are no tables --- */

typedef struct
{
  const char *label;
  const char *bytes;
  gsize length;
} FileRow;

#define BYTES(text) text, sizeof (text) - 1
static const FileRow file_rows[] = {
  { "empty", BYTES ("") },
  { "no what", BYTES ("ref,at\nS,2026-04-01\n") },
  { "a column twice", BYTES ("what,at,at\ncost,2026-04-01,2026-04-01\n") },
  { "a NUL byte", BYTES ("what,at,amount\ncost,2026-04-01,5\0\n") },
  { "invalid UTF-8", BYTES ("what,at,amount,remark\ncost,2026-04-01,5,\xff\xfe\xfa\n") },
  { "an unclosed quote", BYTES ("what,at,amount\ncost,\"2026-04-01,5\n") },
};

static void
test_no_table (void **state)
{
  const FileRow *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new_static (row->bytes, row->length);
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

static void
test_huge_field (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GString) table = g_string_new ("what,at,amount,remark\ncost,2026-04-01,5,");
  for (int i = 0; i < 1 << 20; i++)
    g_string_append_c (table, 'x');
  g_autoptr (GBytes) bytes = g_bytes_new (table->str, table->len);
  g_autoptr (GError) error = NULL;
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "2");
  assert_true (strlen (error->message) < 2000);
}

static void
test_missing_file (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (bed.folder, "missing.csv", NULL);
  assert_false (sw_book_file (bed.catalogue, path, NULL, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

/* --- against what is there --- */

static void
test_names_that_several_bear (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  static const SwTestItem twin = { "Vat", "Packing shed", 1, 1, -1, NULL };
  static const SwTestItem plus = { "Pump + Ladder", "Packing shed", 1, 1, -1, NULL };
  sw_test_add_item (bed.catalogue, &twin);
  sw_test_add_item (bed.catalogue, &plus);
  static const char *const tables[] = { "sale|ref=S|item=Vat|at=2026-04-20|amount=40\n",
                                        "sale|ref=S|item=Pump + Ladder|at=2026-04-20|amount=40\n" };
  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) bytes = sw_test_table (tables[i]);
      assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", NULL, &error));
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_contains (error->message, "line 2: ");
    }
  sw_test_book (bed.catalogue, "sale|ref=S|item=8|at=2026-04-20|amount=40\n", NULL);
}

static void
test_ref_with_other_content (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes
      = sw_test_table ("result|ref=A1|at=2026-04-26|result=sold|amount=210.00\n");
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", NULL, &error));
  assert_contains (error->message, "line 2: ‘A1’ is booked already");
  g_clear_error (&error);
  g_autoptr (GBytes) other = sw_test_table ("sale|ref=A1|item=Vat|at=2026-04-26|amount=210.00\n");
  assert_false (sw_book_bytes (bed.catalogue, other, "table.csv", NULL, &error));
  assert_contains (error->message, "line 2: ‘A1’ is booked already as offer");
}

typedef struct
{
  const char *label;
  const char *before, *table;
  const char *says;
} LaterRow;

#define DOCKET                                                                                     \
  "docket|ref=D|outlet=Yard|at=2026-04-12|gross=500|tare=400\n"                                    \
  "docket line|ref=D|class=iron|net=100|rate=200\n"

static const LaterRow later_rows[] = {
  { "collected on another day", HILL PRESS "collected|ref=A1|at=2026-05-01\n",
    "collected|ref=A1|at=2026-05-02\n", "line 2: \u2018A1\u2019 is booked already as collected" },
  { "a line more of a docket", YARD DOCKET, DOCKET "docket line|ref=D|class=brass|net=1|rate=9\n",
    "booked already" },
};

/* What was booked by an earlier table stands against it. */
static void
test_against_what_is_booked (void **state)
{
  const LaterRow *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, row->before, NULL);
  g_autofree char *dump = sw_test_dump (bed.catalogue);
  g_autoptr (GBytes) bytes = sw_test_table (row->table);
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", NULL, &error));
  assert_contains (error->message, row->says);
  g_autofree char *after = sw_test_dump (bed.catalogue);
  assert_string_equal (after, dump);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_refused, bad_rows);
  SW_TEST (tests, test_no_faults_of_faults);
  SW_TEST (tests, test_many_faults);
  SW_TEST_ROWS (tests, test_no_table, file_rows);
  SW_TEST (tests, test_huge_field);
  SW_TEST (tests, test_missing_file);
  SW_TEST (tests, test_ref_with_other_content);
  SW_TEST_ROWS (tests, test_against_what_is_booked, later_rows);
  SW_TEST (tests, test_names_that_several_bear);
  int failures = sw_tests_run (tests, "book-refused");
  sw_test_property_end ();
  return failures;
}
