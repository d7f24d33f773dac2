/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who fetches what before and on a trip: one buyer's things together, what is due, deadlines by an
 * outlet's terms; and what is kept back for whom. */
#include "core/catalogue/dangers.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/decide-fields.h"
#include "core/catalogue/site.h"
#include "core/trade/book.h"
#include "core/trip/buyer-text.h"
#include "core/trip/hand-overs.h"
#include "core/trip/held.h"
#include "core/trip/ticks.h"
#include "sw-records.h"

static void
book (Records *records, const char *table)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (table, strlen (table));

  sw_book_bytes (records->catalogue, bytes, "test", NULL, &error);
  assert_no_error (error);
}

static GPtrArray *
list_for (Records *records, const char *first)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *list = sw_hand_over_list (records->catalogue, records_day (first), &error);

  assert_no_error (error);
  return list;
}

/* "Ann: 2 things, 8000 due, by 2026-04-12, early"; the i-th. */
static void
assert_hand_over (const GPtrArray *list, guint i, const char *expected)
{
  const SwHandOver *it = g_ptr_array_index (list, i);
  g_autofree char *day = it->has_deadline ? sw_day_to_text (it->deadline) : g_strdup ("no day");
  g_autofree char *told = g_strdup_printf (
      "%s: %u, %" G_GINT64_FORMAT " due, %s%s", it->buyer != NULL ? it->buyer : "nobody",
      it->things->len, it->due.minor, day, it->before_trip ? ", early" : "");

  assert_string_equal (told, expected);
}

/* Ann has two sales and paid a part of one; ten days to collect run from each day of sale, and the
 * earlier counts. A sale without an outlet has no deadline and stands last. */
static void
test_by_buyer (void **state)
{
  g_auto (Records) records = records_new ();
  static const char *const things[] = { "Vat", "Press", "Still", "Ladder" };

  for (gsize i = 0; i < G_N_ELEMENTS (things); i++)
    records_item (&records, things[i], 1, -1);
  book (&records, "what,ref,outlet,kind,collect_days,item,at,amount,buyer\n"
                  "outlet,,Hill Road,auction,10,,,,\n"
                  "sale,S1,Hill Road,,,Vat,2026-04-02,60.00,Ann\n"
                  "sale,S2,Hill Road,,,Press,2026-04-05,30.00,ann\n"
                  "payment,S1,,,,,2026-04-03,10.00,\n"
                  "sale,S3,,,,Still,2026-04-04,15.00,\n"
                  "sale,S4,Hill Road,,,Ladder,2026-04-06,9.00,Ben\n");
  g_autoptr (GPtrArray) list = list_for (&records, "2026-04-14");
  assert_int_equal (list->len, 3);
  assert_hand_over (list, 0, "ann: 2, 8000 due, 2026-04-12, early");
  assert_hand_over (list, 1, "Ben: 1, 900 due, 2026-04-16");
  assert_hand_over (list, 2, "nobody: 1, 1500 due, no day");
  /* collected, or fallen through: gone from the list */
  book (&records, "what,ref,at\ncollected,S4,2026-04-07\nreversal,S3,2026-04-07\n");
  g_autoptr (GPtrArray) left = list_for (&records, "2026-04-10");
  assert_int_equal (left->len, 1);
  assert_hand_over (left, 0, "ann: 2, 8000 due, 2026-04-12");
}

static void
test_nothing_sold (void **state)
{
  g_auto (Records) records = records_new ();
  records_item (&records, "Vat", 1, 1000);
  g_autoptr (GPtrArray) list = list_for (&records, "2026-04-14");
  assert_int_equal (list->len, 0);
}

static void
hold (Records *records, const char *name, const char *until, const char *whom)
{
  g_autoptr (GError) error = NULL;
  SwDay day = records_day (until);
  const SwStepOptions options = { .until = &day, .hold_for = whom };

  sw_item_move (records->catalogue, records_item (records, name, 1, -1), SW_STATE_ON_HOLD, &options,
                NULL, NULL, &error);
  assert_no_error (error);
}

/* The first to run out first, and what that asks for before, during and after the trip. */
static void
test_held (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 number = records_trip (&records, "2026-05-10", "2026-05-12");
  g_autoptr (SwTrip) trip = sw_trip_get (records.catalogue, number, &error);
  static const char *const expected[] = {
    "for Dot until 2026-04-12, which is over: ask, or let it go",
    "for Bea until 2026-05-09, before the trip: ask now",
    "for Cal until 2026-05-12, during the trip: agree on the hand-over",
    "for Eve until 2026-05-13",
  };

  hold (&records, "Vat", "2026-05-13", "Eve");
  hold (&records, "Press", "2026-05-12", "Cal");
  hold (&records, "Still", "2026-05-09", "Bea");
  hold (&records, "Ladder", "2026-04-12", "Dot");
  records_item (&records, "Crates", 1, -1);
  g_autoptr (GPtrArray) held = sw_held_list (records.catalogue, &error);
  assert_no_error (error);
  assert_int_equal (held->len, G_N_ELEMENTS (expected));
  for (guint i = 0; i < held->len; i++)
    {
      g_autofree char *words
          = sw_held_words (g_ptr_array_index (held, i), trip, records_day ("2026-04-20"));
      assert_string_equal (words, expected[i]);
    }
}

static SwMoney
taken_on_trip (Records *records, gint64 trip)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwTickSheet) sheet = sw_tick_sheet (records->catalogue, trip, 50, NULL, &error);

  assert_no_error (error);
  return sheet->taken;
}

/* Ann paid 45.00 for 40.00 on the trip. Given back from the bank the cash box still holds it; out
 * of the box it does not. */
static void
test_given_back_of_the_cash (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDeal) deal = NULL;
  gint64 trip = 0, item = records_item (&records, "Vat", 1, -1);

  sw_trip_add (records.catalogue, "Spring", records_day ("2026-04-08"), records_day ("2026-04-10"),
               &trip, &error);
  assert_no_error (error);
  book (&records, "what,ref,item,at,amount,buyer\nsale,S1,Vat,2026-04-02,40.00,Ann\n");
  assert_true (sw_deal_find (records.catalogue, "S1", &deal, &error));
  const SwMoney taken = { 4500 };
  const SwTickSaid said = { .trip = trip,
                            .number = 1,
                            .subject = deal->id,
                            .item = item,
                            .tick = SW_TICK_HANDED_OVER,
                            .taken = &taken };
  sw_tick (records.catalogue, &said, NULL, &error);
  assert_no_error (error);
  assert_money_equal (taken_on_trip (&records, trip), 4500);
  book (&records, "what,ref,at,amount\npaid back,S1,2026-04-10,2.00\n");
  assert_money_equal (taken_on_trip (&records, trip), 4500);
  book (&records, "what,ref,at,amount\npaid back,S1,2026-04-11,3.00\n");
  assert_true (sw_paid_back_in_cash (records.catalogue, deal->id, &error));
  assert_money_equal (taken_on_trip (&records, trip), 4200);
}

static char *
written_to (Records *records, gint64 trip, const char *ref)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDeal) deal = NULL;
  char *text;

  assert_true (sw_deal_find (records->catalogue, ref, &deal, &error));
  text = sw_buyer_text_of_deal (records->catalogue, trip, deal->id, &error);
  assert_no_error (error);
  return text;
}

static void
lifted_by (Records *records, gint64 item, SwSize size)
{
  g_autoptr (GError) error = NULL;
  SwDecideValue value = { .has = TRUE, .number = size };

  sw_decide_set (records->catalogue, item, SW_DECIDE_LIFTED, &value, NULL, &error);
  assert_no_error (error);
}

/* The things of all of the buyer's sales, who has to lift, cautions, what is due, by when. The way
 * to the gate only once all is paid; never the place, nor another buyer. */
static void
test_what_a_buyer_is_written (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 trip = records_trip (&records, "2026-04-14", "2026-04-16");
  gint64 vat = records_item (&records, "Vat", 1, -1),
         press = records_item (&records, "Press", 1, -1);

  records_item (&records, "Crates", 6, -1);
  lifted_by (&records, vat, SW_SIZE_TWO_PEOPLE);
  lifted_by (&records, press, SW_SIZE_MACHINE);
  assert_true (sw_danger_add (records.catalogue, press, "lead paint", "seen", NULL, &error));
  assert_true (sw_site_set_way (records.catalogue, "Key under the third vat.", &error));
  book (&records, "what,ref,outlet,kind,collect_days,item,at,amount,buyer\n"
                  "outlet,,Hill Road,auction,10,,,,\n"
                  "sale,S1,Hill Road,,,Vat,2026-04-02,60.00,Ann\n"
                  "sale,S2,Hill Road,,,Press,2026-04-05,30.00,Ann\n"
                  "sale,S3,,,,Crates,2026-04-05,12.00,Ben\n");
  g_autofree char *owing = written_to (&records, trip, "S2");
  assert_contains (owing, "Hello Ann,\n\nto be fetched:\n- Vat: please bring a second person\n");
  assert_contains (owing, "- Press: please bring, or agree on, a machine to lift it\n");
  assert_contains (owing, "Caution, Press: lead paint: ");
  assert_contains (owing, "90.00 NZD is due in cash when you fetch it.\n");
  assert_contains (owing, "Please say when you could come; we then agree on a time.\n");
  assert_contains (owing, "if that cannot be, let us agree on a day.\n");
  for (const char *const *never
       = (const char *const[]){ "Key", "Press house", "Ben", "Crates", "2026-04-14", NULL };
       *never != NULL; never++)
    if (strstr (owing, *never) != NULL)
      fail_msg ("'%s' is written to a buyer: %s", *never, owing);
  /* paid, and somebody is there */
  book (&records, "what,ref,at,amount\npayment,S3,2026-04-06,12.00\n");
  assert_true (sw_site_set_hours (records.catalogue, trip, "  Saturday  10 to 16 ", &error));
  g_autofree char *paid = written_to (&records, trip, "S3");
  assert_contains (paid, "Hello Ben,\n\nto be fetched:\n- 6 x Crates\n");
  assert_contains (paid, "It is paid; thank you.\n");
  assert_contains (paid, "Somebody is there: Saturday 10 to 16. Please say when you will come.\n");
  assert_contains (paid, "\nThe way: Key under the third vat.\n");
  assert_null (strstr (paid, "By the terms"));
}

static void
test_nobody_is_written (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDeal) deal = NULL;
  gint64 trip = records_trip (&records, "2026-04-14", "2026-04-16");

  records_item (&records, "Vat", 1, -1);
  book (&records, "what,ref,item,at,amount,buyer\nsale,S1,Vat,2026-04-02,40.00,Ann\n"
                  "collected,S1,,2026-04-03,,\n");
  assert_true (sw_deal_find (records.catalogue, "S1", &deal, &error));
  assert_null (sw_buyer_text_of_deal (records.catalogue, trip, deal->id, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_null (sw_buyer_text_of_deal (records.catalogue, trip + 1, deal->id, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_by_buyer);
  SW_TEST (tests, test_nothing_sold);
  SW_TEST (tests, test_held);
  SW_TEST (tests, test_given_back_of_the_cash);
  SW_TEST (tests, test_what_a_buyer_is_written);
  SW_TEST (tests, test_nobody_is_written);
  return sw_tests_run (tests, "hand-overs");
}
