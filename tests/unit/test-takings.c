/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takings: keys and their order, equal totals over random tables, and the list of running offers.
 * The rules by which rows count are in test-book.c. */
#include "core/trade/settle.h"
#include "sw-test-money.h"

#include "core/catalogue/offer-notes.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/places.h"
#include "core/trade/offers.h"

/* What a row is made of adds up to the row. */
static void
assert_entries (SwCatalogue *catalogue, SwCredit credit, SwGrouping by, const SwTakingsRow *row)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = sw_takings_entries (catalogue, credit, by, row->key, &error);
  assert_no_error (error);
  SwTakingsRow sum = { 0 };
  for (guint i = 0; i < entries->len; i++)
    {
      const SwTakingsEntry *entry = g_ptr_array_index (entries, i);
      sum.proceeds.minor += entry->proceeds.minor;
      sum.fees.minor += entry->fees.minor;
      sum.takings.minor += entry->takings.minor;
      sum.costs.minor += entry->costs.minor;
      sum.owed.minor += entry->owed.minor;
      if (i > 0)
        assert_true (((SwTakingsEntry *)g_ptr_array_index (entries, i - 1))->day.n <= entry->day.n);
    }
  assert_money_equal (sum.proceeds, row->proceeds.minor);
  assert_money_equal (sum.fees, row->fees.minor);
  assert_money_equal (sum.takings, row->takings.minor);
  assert_money_equal (sum.costs, row->costs.minor);
  assert_money_equal (sum.owed, row->owed.minor);
}

static void
assert_all_entries (SwCatalogue *catalogue)
{
  for (int credit = 0; credit < SW_N_CREDITS; credit++)
    for (int by = 0; by < SW_N_GROUPINGS; by++)
      {
        g_autoptr (GError) error = NULL;
        g_auto (SwTakings) takings = { 0 };
        sw_takings_read (catalogue, (SwCredit)credit, (SwGrouping)by, &takings, &error);
        assert_no_error (error);
        for (guint i = 0; i < takings.rows->len; i++)
          assert_entries (catalogue, (SwCredit)credit, (SwGrouping)by,
                          g_ptr_array_index (takings.rows, i));
      }
}

static void
test_words (void **state)
{
  SwCredit credit;
  SwGrouping by;
  for (int i = 0; i < SW_N_CREDITS; i++)
    {
      assert_true (sw_credit_parse (sw_credit_word ((SwCredit)i), &credit));
      assert_int_equal (credit, i);
    }
  for (int i = 0; i < SW_N_GROUPINGS; i++)
    {
      assert_true (sw_grouping_parse (sw_grouping_word ((SwGrouping)i), &by));
      assert_int_equal (by, i);
    }
  assert_string_equal (sw_credit_word (SW_CREDIT_HANDED_OVER), "handed-over");
  assert_false (sw_credit_parse ("handed over", &credit));
  assert_false (sw_grouping_parse ("", &by));
}

static void
test_empty (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_totals_agree (bed.catalogue);
  SwTakingsRow total;
  g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_TRIP, &total);
  assert_string_equal (text, "");
}

/* Trips may be added in any order: rows stand by number, periods go by days. */
static void
test_order_of_trips (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_trip_add (bed.catalogue, "Earlier", sw_test_day ("2026-03-01"), sw_test_day ("2026-03-02"),
               NULL, &error);
  assert_no_error (error);
  sw_test_book (bed.catalogue,
                "sale|ref=A|item=Ladder|at=2026-02-01|amount=1\n"
                "sale|ref=B|item=Scales|at=2026-03-20|amount=2\n"
                "sale|ref=C|item=Vat|at=2026-04-20|amount=3\n"
                "sale|ref=D|item=Pump|at=2026-05-20|amount=4\n"
                "cost|at=2026-05-20|amount=5\n",
                NULL);
  SwTakingsRow total;
  g_autofree char *sold = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_TRIP, &total);
  assert_string_equal (sold, "before 100 0 0 100 | 1 300 0 0 300 | 2 400 0 0 400 | 3 200 0 0 200"
                             " | none 0 0 500 0");
  g_autofree char *handed
      = sw_test_takings (bed.catalogue, SW_CREDIT_HANDED_OVER, SW_BY_TRIP, &total);
  assert_string_equal (handed, "none 0 0 500 0 | waiting 1000 0 0 1000");
}

/* A trip added later moves the periods of what is booked, and no total. */
static void
test_trip_added_later (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, "sale|ref=A|item=Ladder|at=2026-06-20|amount=1\n", NULL);
  SwTakingsRow total;
  g_autofree char *before = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_TRIP, &total);
  assert_string_equal (before, "2 100 0 0 100");
  sw_trip_add (bed.catalogue, "Later", sw_test_day ("2026-06-19"), sw_test_day ("2026-06-21"), NULL,
               &error);
  assert_no_error (error);
  g_autofree char *after = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_TRIP, &total);
  assert_string_equal (after, "3 100 0 0 100");
  sw_test_totals_agree (bed.catalogue);
}

static void
set_place (SwCatalogue *catalogue, gint64 item, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPlace) place = sw_place_find (catalogue, path, &error);
  assert_no_error (error);
  SwItemChange change = { .place = &place->id };
  sw_item_change (catalogue, item, &change, &error);
  assert_no_error (error);
}

/* By place is where the item was found: bringing it home changes nothing, putting its place right
 * does. */
static void
test_place_is_where_it_was_found (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_place_add (bed.catalogue, "Home", TRUE, NULL, NULL, NULL, &error);
  assert_no_error (error);
  sw_place_add (bed.catalogue, "Shop floor", TRUE, NULL, NULL, NULL, &error);
  assert_no_error (error);
  sw_test_book (bed.catalogue, "sale|ref=A|item=Ladder|at=2026-06-20|amount=1\n", NULL);
  static const struct
  {
    const char *to, *rows;
  } moves[] = { { "Home", "Packing shed 100 0 0 100" },
                { "Shop floor", "Packing shed 100 0 0 100" },
                { "Press house", "Press house 100 0 0 100" },
                { "Home", "Press house 100 0 0 100" } };
  for (gsize i = 0; i < G_N_ELEMENTS (moves); i++)
    {
      SwTakingsRow total;
      set_place (bed.catalogue, 5, moves[i].to);
      g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_PLACE, &total);
      assert_string_equal (text, moves[i].rows);
    }
}

static void
test_no_trips_at_all (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  static const SwTestItem item = { "Ladder", "Packing shed", 0, 1, 5000, NULL };
  sw_test_add_item (bed.catalogue, &item);
  sw_test_book (bed.catalogue, "sale|ref=A|item=Ladder|at=2026-06-20|amount=1\n", NULL);
  SwTakingsRow total;
  g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_TRIP, &total);
  assert_string_equal (text, "none 100 0 0 100");
}

static void
test_read_only (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, "sale|ref=A|item=Ladder|at=2026-06-20|amount=1\n", NULL);
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_ONLY);
  sw_test_totals_agree (bed.catalogue);
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = sw_test_table ("cost|at=2026-06-20|amount=1\n");
  assert_false (sw_book_bytes (bed.catalogue, bytes, "table.csv", NULL, &error));
  assert_sw_error (error, SW_ERROR_READ_ONLY);
}

/* No row can be booked that makes the money too large, but a catalogue may come from elsewhere. */
static void
test_more_than_can_be_added_up (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue,
                "sale|ref=A|item=Ladder|at=2026-06-20|amount=1\n"
                "sale|ref=B|item=Vat|at=2026-06-20|amount=1\n",
                NULL);
  sw_test_exec (bed.catalogue, "UPDATE posting SET minor = 5000000000000000000 WHERE minor > 0");
  for (int credit = 0; credit < SW_N_CREDITS; credit++)
    for (int grouping = 0; grouping < SW_N_GROUPINGS; grouping++)
      {
        g_autoptr (GError) error = NULL;
        g_auto (SwTakings) takings = { 0 };
        assert_false (sw_takings_read (bed.catalogue, (SwCredit)credit, (SwGrouping)grouping,
                                       &takings, &error));
        assert_sw_error (error, SW_ERROR_BAD_INPUT);
      }
}

/* The same of one sale: its postings are not written. */
static void
test_a_sale_too_large_to_be_kept (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  sw_test_book (bed.catalogue, "sale|ref=A|item=Ladder|at=2026-06-20|amount=1|delivery=1\n", NULL);
  sw_test_exec (bed.catalogue, "UPDATE posting SET minor = -9000000000000000000 WHERE minor > 0;"
                               "UPDATE deal SET amount = 9000000000000000000");
  assert_true (sw_act_begin (&act, bed.catalogue, &error));
  assert_false (sw_settle (bed.catalogue, 1, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "grows too large to be kept");
}

static void
test_an_outlet_that_is_gone (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwTakings) takings = { 0 };
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  sw_test_exec (bed.catalogue, "PRAGMA foreign_keys = OFF; DELETE FROM outlet");
  assert_false (sw_takings_read (bed.catalogue, SW_CREDIT_FOUND, SW_BY_OUTLET, &takings, &error));
  assert_sw_error (error, SW_ERROR_DAMAGED);
}

/* --- random tables --- */

#define SEEDS 25

/* What a table must come to, added up while it is written. */
typedef struct
{
  GRand *random;
  GString *table;
  gint64 proceeds, costs, owed;
  int refs;
} Writer;

static int
pick (Writer *writer, int low, int high)
{
  return g_rand_int_range (writer->random, low, high);
}

static void
append_date (Writer *writer, const char *column, int day)
{
  SwDay at = { sw_test_day ("2026-03-01").n + day };
  g_autofree char *text = sw_day_to_text (at);
  g_string_append_printf (writer->table, "|%s=%s", column, text);
}

static void
append_money (Writer *writer, const char *column, gint64 minor)
{
  g_string_append_printf (writer->table, "|%s=%d.%02d", column, (int)(minor / 100),
                          (int)(minor % 100));
}

/* A sale of the items with payments and perhaps reversals; the whole one last. */
static void
write_sale (Writer *writer, const char *items)
{
  int ref = ++writer->refs, day = pick (writer, 0, 120);
  gint64 amount = pick (writer, 0, 20000), delivery = pick (writer, 0, 3) * 333;
  gint64 left = amount + delivery, paid = 0;
  g_string_append_printf (writer->table, "sale|ref=S%d|item=%s|outlet=Shop", ref, items);
  append_date (writer, "at", day);
  append_money (writer, "amount", amount);
  append_money (writer, "delivery", delivery);
  for (int i = pick (writer, 0, 3); i > 0; i--)
    {
      gint64 part = pick (writer, 0, 5000);
      g_string_append_printf (writer->table, "\npayment|ref=S%d", ref);
      append_date (writer, "at", day + i);
      append_money (writer, "amount", part);
      paid += part;
    }
  for (int i = pick (writer, 0, 3); i > 0 && left > 0; i--)
    {
      gint64 part = pick (writer, 0, (int)left);
      g_string_append_printf (writer->table, "\nreversal|ref=S%d", ref);
      append_date (writer, "at", day + 10);
      append_money (writer, "amount", part);
      left -= part;
    }
  if (pick (writer, 0, 4) == 0)
    {
      g_string_append_printf (writer->table, "\nreversal|ref=S%d", ref);
      append_date (writer, "at", day + 11);
      left = 0;
    }
  if (pick (writer, 0, 2) == 0)
    {
      g_string_append_printf (writer->table, "\ncollected|ref=S%d", ref);
      append_date (writer, "at", day + 20);
    }
  g_string_append_c (writer->table, '\n');
  writer->proceeds += left;
  writer->owed += MAX (left - paid, 0);
}

static void
write_docket (Writer *writer)
{
  gint64 iron = pick (writer, 0, 9000), loose = pick (writer, 0, 9000);
  g_string_append (writer->table, "docket|ref=D|outlet=Shop|gross=30|tare=10");
  append_date (writer, "at", pick (writer, 0, 120));
  g_string_append (writer->table, "\ndocket line|ref=D|class=iron|net=12.5|item=Pump + Ladder");
  append_money (writer, "amount", iron);
  g_string_append (writer->table, "\ndocket line|ref=D|class=iron|net=7.5|place=Press house");
  append_money (writer, "amount", loose);
  g_string_append (writer->table, "\nfee|ref=D|charge=weighing");
  append_date (writer, "at", 130);
  append_money (writer, "amount", 777);
  g_string_append (writer->table, "\ncost|trip=1");
  append_date (writer, "at", 40);
  append_money (writer, "amount", iron);
  g_string_append_c (writer->table, '\n');
  writer->proceeds += iron + loose;
  writer->costs += iron;
}

static void
test_random_tables (void **state)
{
  static const char *const lots[] = { "Screw press + Crates", "Scales + Vat", "Bottles" };
  for (guint32 seed = 1; seed <= SEEDS; seed++)
    {
      g_auto (SwTestBed) bed = sw_test_property_new ();
      g_autoptr (GRand) random = g_rand_new_with_seed (seed);
      g_autoptr (GString) table = g_string_new (
          "outlet|outlet=Shop\n"
          "charge|outlet=Shop|charge=share|from=2026-01-01|on=price+delivery|tiers=50:12.5%;:7.77%|"
          "least=1|tax=15%\n");
      Writer writer = { random, table, 0, 0, 0, 0 };
      for (gsize i = 0; i < G_N_ELEMENTS (lots); i++)
        write_sale (&writer, lots[i]);
      write_docket (&writer);
      sw_test_book (bed.catalogue, table->str, NULL);
      SwTakingsRow total;
      g_autofree char *text = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
      if (total.proceeds.minor != writer.proceeds || total.owed.minor != writer.owed)
        print_error ("seed %u: %s\n%s", seed, text, table->str);
      assert_money_equal (total.proceeds, writer.proceeds);
      assert_money_equal (total.owed, writer.owed);
      assert_money_equal (total.costs, writer.costs);
      assert_true (total.fees.minor >= 777 + 3 * 115);
      sw_test_totals_agree (bed.catalogue);
      assert_all_entries (bed.catalogue);
      g_autofree char *sentence = sw_undo_sentence (bed.catalogue);
      sw_test_undo (bed.catalogue, sentence);
      g_autofree char *undone
          = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
      assert_string_equal (undone, "");
    }
}

/* Months by the day that the view counts by; rounds by title. */
static void
test_months_and_rounds (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue,
                HILL PRESS "collected|ref=A1|at=2026-05-08\n"
                           "sale|ref=S|item=Ladder|at=2026-04-12|amount=35.00\n"
                           "cost|trip=1|at=2026-03-31|amount=5.00|remark=Petrol\n",
                NULL);
  g_autoptr (SwDeal) press = NULL;
  assert_true (sw_deal_find (bed.catalogue, "A1", &press, &error));
  assert_true (sw_offer_into_round (bed.catalogue, press->id, " April ", &error));
  SwTakingsRow total;
  g_autofree char *sold = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_MONTH, &total);
  assert_string_equal (sold, "2026-03 0 0 500 0 | 2026-04 23500 1730 0 23500");
  g_autofree char *handed
      = sw_test_takings (bed.catalogue, SW_CREDIT_HANDED_OVER, SW_BY_MONTH, &total);
  assert_string_equal (handed,
                       "2026-03 0 0 500 0 | 2026-05 20000 1730 0 20000 | waiting 3500 0 0 3500");
  g_autofree char *rounds = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_ROUND, &total);
  assert_string_equal (rounds, "April 20000 1730 0 20000 | none 3500 0 500 3500");
  sw_test_totals_agree (bed.catalogue);
  assert_all_entries (bed.catalogue);
  g_autoptr (GPtrArray) entries
      = sw_takings_entries (bed.catalogue, SW_CREDIT_FOUND, SW_BY_ROUND, "none", &error);
  assert_int_equal (entries->len, 2);
  assert_string_equal (((SwTakingsEntry *)g_ptr_array_index (entries, 0))->what, "Petrol");
  assert_string_equal (((SwTakingsEntry *)g_ptr_array_index (entries, 1))->what, "Ladder");
  g_autoptr (GPtrArray) nothing
      = sw_takings_entries (bed.catalogue, SW_CREDIT_FOUND, SW_BY_ROUND, "May", &error);
  assert_int_equal (nothing->len, 0);
  assert_false (sw_offer_into_round (bed.catalogue, 999, "April", &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_false (sw_offer_into_round (bed.catalogue, press->id, "none", &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_true (sw_offer_into_round (bed.catalogue, press->id, "", &error));
  g_autofree char *left = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_ROUND, &total);
  assert_string_equal (left, "none 23500 1730 500 23500");
}

/* Nothing may bear the name of the row that holds what has none. */
static void
test_none_is_no_name (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  static const char *const words[] = { "none", " None ", "NONE" };
  gint64 id = 0, place = sw_test_ask (bed.catalogue, "SELECT min(id) FROM place");
  SwOutlet outlet
      = { .name = (char *)"none", .running_days = -1, .pay_days = -1, .collect_days = -1 };
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autoptr (GError) error = NULL;
      assert_false (sw_place_add (bed.catalogue, words[i], FALSE, NULL, NULL, &id, &error));
      assert_sw_error (error, SW_ERROR_REFUSED);
      assert_contains (error->message, "choose another name");
      g_clear_error (&error);
      assert_false (sw_place_rename (bed.catalogue, place, words[i], &error));
      assert_sw_error (error, SW_ERROR_REFUSED);
      g_clear_error (&error);
      assert_false (sw_round_ensure (bed.catalogue, words[i], &id, &error));
      assert_sw_error (error, SW_ERROR_REFUSED);
      g_clear_error (&error);
      outlet.name = (char *)words[i];
      assert_false (sw_outlet_put (bed.catalogue, &outlet, &id, &error));
      assert_sw_error (error, SW_ERROR_REFUSED);
    }
}

/* --- running offers --- */

static void
test_running_offers (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue,
                "outlet|outlet=Hill Road\noutlet|outlet=Shop\n"
                "offer|ref=N|outlet=Shop|item=Ladder|up=2026-04-01\n"
                "offer|ref=L|outlet=Hill Road|item=Vat + Screw press|up=2026-04-02|"
                "closes=2026-04-20T20:05|start=10|reserve=20\n"
                "offer|ref=E|outlet=Hill Road|item=Scales|up=2026-04-03|closes=2026-04-20T20:00\n"
                "offer|ref=G|outlet=Hill Road|item=Pump|up=2026-04-03|closes=2026-04-20T20:00\n"
                "result|ref=G|at=2026-04-20|result=no sale\n"
                "interest|ref=L|at=2026-04-10|looks=40|followers=3\n"
                "interest|ref=L|at=2026-04-12|looks=55|followers=4|bids=2|amount=12.50\n"
                "sale|ref=S|item=Scales|at=2026-04-15|amount=50\n",
                NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) offers = sw_offer_list (bed.catalogue, &error);
  assert_no_error (error);
  assert_int_equal (offers->len, 3);
  const SwOffer *first = g_ptr_array_index (offers, 0), *lot = g_ptr_array_index (offers, 1),
                *last = g_ptr_array_index (offers, 2);
  assert_string_equal (first->ref, "E");
  assert_true (first->to_withdraw);
  assert_string_equal (lot->items, "Screw press + Vat");
  assert_string_equal (lot->outlet, "Hill Road");
  assert_false (lot->to_withdraw);
  assert_true (lot->has_start && lot->has_reserve && lot->has_interest);
  assert_money_equal (lot->reserve, 2000);
  assert_i64_equal (lot->interest.looks, 55);
  assert_i64_equal (lot->interest.bids, 2);
  assert_money_equal (lot->interest.amount, 1250);
  assert_string_equal (last->ref, "N");
  assert_false (last->has_closes);
  assert_i64_equal (last->interest.looks, -1);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_words);
  SW_TEST (tests, test_empty);
  SW_TEST (tests, test_order_of_trips);
  SW_TEST (tests, test_trip_added_later);
  SW_TEST (tests, test_place_is_where_it_was_found);
  SW_TEST (tests, test_no_trips_at_all);
  SW_TEST (tests, test_read_only);
  SW_TEST (tests, test_more_than_can_be_added_up);
  SW_TEST (tests, test_a_sale_too_large_to_be_kept);
  SW_TEST (tests, test_an_outlet_that_is_gone);
  SW_TEST (tests, test_random_tables);
  SW_TEST (tests, test_months_and_rounds);
  SW_TEST (tests, test_none_is_no_name);
  SW_TEST (tests, test_running_offers);
  int failures = sw_tests_run (tests, "takings");
  sw_test_property_end ();
  return failures;
}
