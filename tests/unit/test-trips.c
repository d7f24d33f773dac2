/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trips: days that fit, numbers, the trip of a day and the period of a day, undo. */
#include "sw-records.h"

typedef struct
{
  const char *label, *title, *first, *last;
  int code; /* -1: it fits */
  const char *says;
} AddRow;

/* There is a trip 1 'Easter' from 2026-04-03 to 2026-04-06. */
static const AddRow add_rows[] = {
  { "after it", "May", "2026-05-01", "2026-05-03", -1, NULL },
  { "before it", "March", "2026-03-01", "2026-03-03", -1, NULL },
  { "next day", "Next", "2026-04-07", "2026-04-07", -1, NULL },
  { "day before", "Before", "2026-04-02", "2026-04-02", -1, NULL },
  { "the same title", "Easter", "2026-06-01", "2026-06-01", -1, NULL },
  { "emoji", "Pressing \xF0\x9F\x8D\x8F", "2026-06-01", "2026-06-01", -1, NULL },
  { "leap day", "Leap", "2028-02-29", "2028-02-29", -1, NULL },
  { "its first day", "X", "2026-04-01", "2026-04-03", SW_ERROR_REFUSED, "trip 1 'Easter'" },
  { "its last day", "X", "2026-04-06", "2026-04-09", SW_ERROR_REFUSED, "2026-04-03 to 2026-04-06" },
  { "within it", "X", "2026-04-04", "2026-04-05", SW_ERROR_REFUSED, "overlap" },
  { "around it", "X", "2026-04-01", "2026-04-30", SW_ERROR_REFUSED, "overlap" },
  { "last before first", "X", "2026-05-03", "2026-05-01", SW_ERROR_REFUSED, "2026-05-01" },
  { "no title", " ", "2026-05-01", "2026-05-03", SW_ERROR_BAD_INPUT, "title" },
  { "newline", "May\nstay", "2026-05-01", "2026-05-03", SW_ERROR_BAD_INPUT, "title" },
};

static void
test_add (void **state)
{
  const AddRow *row = *state;
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  assert_true (sw_trip_add (records.catalogue, "Easter", records_day ("2026-04-03"),
                            records_day ("2026-04-06"), NULL, &error));
  gint64 number = 0;
  gboolean ok = sw_trip_add (records.catalogue, row->title, records_day (row->first),
                             records_day (row->last), &number, &error);
  if (row->code >= 0)
    {
      assert_false (ok);
      assert_sw_error (error, row->code);
      assert_contains (error->message, row->says);
      return;
    }
  assert_no_error (error);
  assert_i64_equal (number, 2);
  g_autoptr (SwTrip) trip = sw_trip_get (records.catalogue, 2, &error);
  assert_string_equal (trip->title, row->title);
  assert_i64_equal (trip->last.n, records_day (row->last).n);
}

static void
test_unknown (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  assert_null (sw_trip_get (records.catalogue, 7, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_contains (error->message, "no trips yet");
  g_clear_error (&error);
  records_trip (&records, "2026-04-03", "2026-04-06");
  assert_null (sw_trip_get (records.catalogue, 7, &error));
  assert_contains (error->message, "there are: 1 'A stay'");
}

static void
test_numbers_are_not_given_twice (void **state)
{
  g_auto (Records) records = records_new ();
  assert_i64_equal (records_trip (&records, "2026-04-03", "2026-04-06"), 1);
  g_autoptr (GError) error = NULL;
  assert_true (sw_undo (records.catalogue, NULL, &error));
  records_reopen (&records);
  assert_i64_equal (records_trip (&records, "2026-05-03", "2026-05-06"), 2);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autofree char *sentence = NULL;
  assert_true (sw_redo (records.catalogue, &sentence, &error));
  assert_string_equal (sentence, "Trip 2 'A stay' added: 2026-05-03 to 2026-05-06");
  g_autoptr (GPtrArray) trips = sw_trip_list (records.catalogue, &error);
  assert_i64_equal (trips->len, 1);
}

static void
test_change (void **state)
{
  g_auto (Records) records = records_new ();
  records_trip (&records, "2026-04-03", "2026-04-06");
  records_trip (&records, "2026-05-01", "2026-05-03");
  g_autoptr (GError) error = NULL;
  SwDay second = records_day ("2026-05-02"), overlap = records_day ("2026-04-06");
  /* within its own days, and a note of two lines */
  SwTripChange change = { .first = &second, .note = "roof leaks\nbring sheets" };
  assert_true (sw_trip_change (records.catalogue, 2, &change, &error));
  change = (SwTripChange){ .first = &overlap };
  assert_false (sw_trip_change (records.catalogue, 2, &change, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  change = (SwTripChange){ .last = &overlap };
  assert_false (sw_trip_change (records.catalogue, 2, &change, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  change = (SwTripChange){ .title = "" };
  assert_false (sw_trip_change (records.catalogue, 2, &change, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  records_reopen (&records);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (SwTrip) before = sw_trip_get (records.catalogue, 2, &error);
  assert_i64_equal (before->first.n, records_day ("2026-05-01").n);
  assert_string_equal (before->note, "");
  assert_true (sw_redo (records.catalogue, NULL, &error));
  g_autoptr (SwTrip) after = sw_trip_get (records.catalogue, 2, &error);
  assert_i64_equal (after->first.n, second.n);
  assert_string_equal (after->note, "roof leaks\nbring sheets");
}

typedef struct
{
  const char *label, *day;
  gint64 holds, period;
} DayRow;

/* Added out of order: 1 is 2026-05-01 to 03, 2 is 2026-04-03 to 06, 3 is 2026-08-10 to 10. */
static const DayRow day_rows[] = {
  { "before all", "2026-04-02", 0, 0 },  { "first day", "2026-04-03", 2, 2 },
  { "last day", "2026-04-06", 2, 2 },    { "between", "2026-04-07", 0, 2 },
  { "eve of next", "2026-04-30", 0, 2 }, { "next", "2026-05-01", 1, 1 },
  { "after it", "2026-08-09", 0, 1 },    { "one day", "2026-08-10", 3, 3 },
  { "no end", "2031-01-01", 0, 3 },
};

static void
test_day (void **state)
{
  const DayRow *row = *state;
  g_auto (Records) records = records_new ();
  records_trip (&records, "2026-05-01", "2026-05-03");
  records_trip (&records, "2026-04-03", "2026-04-06");
  records_trip (&records, "2026-08-10", "2026-08-10");
  g_autoptr (GError) error = NULL;
  gint64 number = -1;
  assert_true (sw_trip_of_day (records.catalogue, records_day (row->day), &number, &error));
  assert_i64_equal (number, row->holds);
  g_autoptr (GPtrArray) trips = sw_trip_list (records.catalogue, &error);
  assert_i64_equal (sw_trip_period (trips, records_day (row->day)), row->period);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_add, add_rows);
  SW_TEST (tests, test_unknown);
  SW_TEST (tests, test_numbers_are_not_given_twice);
  SW_TEST (tests, test_change);
  SW_TEST_ROWS (tests, test_day, day_rows);
  return sw_tests_run (tests, "trips");
}
