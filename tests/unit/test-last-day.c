/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counted back from the last day: what stands, what will be left, by when it has to be up, prices
 * that fall. */
#include "core/catalogue/outlets.h"
#include "core/catalogue/site.h"
#include "core/trade/book.h"
#include "core/trip/last-day.h"
#include "sw-records.h"

static void
book (Records *records, const char *table)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (table, strlen (table));

  sw_book_bytes (records->catalogue, bytes, "test", NULL, &error);
  assert_no_error (error);
}

static SwLastDay *
seen_from (Records *records, const char *day)
{
  g_autoptr (GError) error = NULL;
  SwLastDay *last = sw_last_day (records->catalogue, records_day (day), &error);

  assert_no_error (error);
  return last;
}

static void
set_last_day (Records *records, const char *text)
{
  g_autoptr (GError) error = NULL;
  SwDay day = records_day (text);

  sw_site_set_last_day (records->catalogue, &day, &error);
  assert_no_error (error);
}

static void
test_not_known (void **state)
{
  g_auto (Records) records = records_new ();
  SwLastDay *last = seen_from (&records, "2026-04-10");
  char *sentence = sw_last_day_sentence (last);

  assert_false (last->known);
  assert_int_equal (last->things->len, 0);
  assert_null (sentence);
  sw_last_day_free (last);
}

/* 100 less 10 in four steps: 77.50, 55.00, 32.50; thirds are rounded half-up. */
static void
test_falling_price (void **state)
{
  static const struct
  {
    gint64 asking, least;
    int k, n;
    gint64 price;
  } rows[] = {
    { 10000, 1000, 0, 4, 10000 }, { 10000, 1000, 1, 4, 7750 },
    { 10000, 1000, 2, 4, 5500 },  { 10000, 1000, 3, 4, 3250 },
    { 10000, 1000, 4, 4, 1000 },  { 100, 0, 1, 3, 67 },
    { 100, 0, 2, 3, 33 },         { 500, 500, 1, 2, 500 },
    { 500, 900, 1, 2, 500 },      { 0, 0, 1, 1, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;
      SwMoney price = SW_MONEY_ZERO;

      assert_true (sw_falling_price (sw_money (rows[i].asking), sw_money (rows[i].least), rows[i].k,
                                     rows[i].n, &price, &error));
      assert_no_error (error);
      assert_int_equal (price.minor, rows[i].price);
    }
}

static void
test_counted_back (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_item (&records, "Screw press", 1, 40000);
  SwLastDay *last;
  SwLastThing *thing;
  char *words, *sentence;

  records_item (&records, "Crates", 12, 3000);
  records_item (&records, "Ladder", 1, 2000);
  records_trip (&records, "2026-03-01", "2026-03-05");
  records_trip (&records, "2026-04-20", "2026-04-25");
  records_trip (&records, "2026-05-20", "2026-05-25");
  book (&records, "what,ref,outlet,kind,running_days,pay_days,collect_days,item,at,amount\n"
                  "outlet,,Hill Road,auction,10,4,7,,,\n"
                  "sale,S1,Hill Road,,,,,Ladder,2026-03-31,20\n");
  set_last_day (&records, "2026-05-30");
  last = seen_from (&records, "2026-04-10");
  assert_int_equal (last->days_left, 50); /* 20 of April, 30 of May */
  assert_int_equal (last->trips_left, 2);
  assert_int_equal (last->fetched_by.n, records_day ("2026-05-25").n);
  assert_int_equal (last->standing, 2);
  assert_int_equal (last->gone, 1);
  assert_int_equal (last->rate_days, 40); /* since 1 March */
  assert_int_equal (last->left, 1);       /* 50 / 40 go: one */
  assert_int_equal (last->things->len, 2);
  thing = g_ptr_array_index (last->things, 0);
  assert_int_equal (thing->item->id, press);
  assert_int_equal (thing->days, 21);
  assert_int_equal (thing->decide_by.n, records_day ("2026-05-04").n);
  assert_false (thing->too_late);
  assert_int_equal (thing->price.minor, 26667); /* the first of three steps down to nothing */
  words = sw_last_thing_words (thing, sw_catalogue_currency (records.catalogue));
  assert_string_equal (words, "up by 2026-05-04 (21 days at Hill Road); from the next trip on ask "
                              "266.67");
  sentence = sw_last_day_sentence (last);
  assert_string_equal (sentence,
                       "Last day 2026-05-30: 50 days and 2 trips left. 2 things stand "
                       "unsold, 1 went in the last 40 days: at that rate 1 will be left.");
  g_free (words);
  g_free (sentence);
  sw_last_day_free (last);
}

/* Too late for the outlet: what is left to do; a day that is past leaves nothing to count. */
static void
test_too_late (void **state)
{
  g_auto (Records) records = records_new ();
  SwLastDay *last;
  SwLastThing *thing;
  char *words;

  records_item (&records, "Crates", 12, -1);
  book (&records, "what,outlet,kind,running_days\noutlet,Hill Road,auction,30\n");
  set_last_day (&records, "2026-04-20");
  last = seen_from (&records, "2026-04-10");
  thing = g_ptr_array_index (last->things, 0);
  assert_true (thing->too_late);
  assert_false (thing->has_price);
  words = sw_last_thing_words (thing, sw_catalogue_currency (records.catalogue));
  assert_non_null (strstr (words, "give it away"));
  g_free (words);
  sw_last_day_free (last);
  last = seen_from (&records, "2026-05-01");
  assert_int_equal (last->days_left, 0);
  assert_int_equal (last->left, 1);
  sw_last_day_free (last);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_not_known),
    cmocka_unit_test (test_falling_price),
    cmocka_unit_test (test_counted_back),
    cmocka_unit_test (test_too_late),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
