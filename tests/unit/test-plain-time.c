/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Closing times and steps as people type them. Seen from Tuesday 14 April 2026, 21:00 in Auckland.
 */
#include "core/base/plain-time.h"
#include "sw-test.h"

static const struct
{
  const char *text, *expected; /* NULL: refused */
} moments[] = {
  { "2026-04-26T20:00", "2026-04-26T20:00:00+12:00" },
  { "2026-04-26 20:00:40", "2026-04-26T20:00:40+12:00" },
  { "20:00", "2026-04-15T20:00:00+12:00" }, /* over for today */
  { "22:30", "2026-04-14T22:30:00+12:00" },
  { "Sunday 20:00", "2026-04-19T20:00:00+12:00" },
  { "sun, 8pm", "2026-04-19T20:00:00+12:00" },
  { "sun 8:30 pm", "2026-04-19T20:30:00+12:00" },
  { "Tue 20:00", "2026-04-21T20:00:00+12:00" },
  { "tue 21:01", "2026-04-14T21:01:00+12:00" },
  { "26 April 20:00", "2026-04-26T20:00:00+12:00" },
  { "April 26th at 20.00", "2026-04-26T20:00:00+12:00" },
  { "26. Apr 20h", "2026-04-26T20:00:00+12:00" },
  { "1 Feb 9:05", "2027-02-01T09:05:00+13:00" },
  { "29 Feb 12:00", "2028-02-29T12:00:00+13:00" },
  { "26 Apr 2027 20:00", "2027-04-26T20:00:00+12:00" },
  { "Sunday 26 April 20:00", "2026-04-26T20:00:00+12:00" },
  { "+10 20:00", "2026-04-24T20:00:00+12:00" },
  { "in 10 days 20:00", "2026-04-24T20:00:00+12:00" },
  { "12 am sunday", "2026-04-19T00:00:00+12:00" },
  { "", NULL },
  { "2026-04-26", NULL },
  { "Sunday", NULL },
  { "26 Apr", NULL },
  { "26 20:00", NULL },
  { "April 20:00", NULL },
  { "31 Apr 20:00", NULL },
  { "30 Feb 2027 12:00", NULL },
  { "25:00", NULL },
  { "20:61", NULL },
  { "13pm", NULL },
  { "Su 20:00", NULL },
  { "+99999 20:00", NULL },
  { "20:00 21:00", NULL },
  { "soon", NULL },
  /* New Zealand's clocks go from 2:00 to 3:00 on the last Sunday of September (Time Order 2007) */
  { "27 Sep 2026 2:30", NULL },
  { "27 Sep 2026 3:00", "2026-09-27T03:00:00+13:00" },
};

static void
test_moment (void **state)
{
  guint i = GPOINTER_TO_UINT (*state);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", &error);
  SwInstant now, instant = { 0 };
  assert_true (sw_moment_parse ("2026-04-14T21:00", zone, &now, NULL, NULL));
  gboolean read = sw_plain_time_parse (moments[i].text, now, zone, &instant, &error);
  if (moments[i].expected == NULL)
    {
      assert_false (read);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      return;
    }
  assert_no_error (error);
  g_autofree char *text = sw_instant_to_text (instant, zone);
  assert_string_equal (text, moments[i].expected);
}

/* Seen from Saturday 28 November 2026, in the C locale, which does not say whether the day or the
 * month comes first. */
static const struct
{
  const char *text, *near, *ahead; /* NULL: refused; ahead NULL: as near */
} days[] = {
  { "2026-11-30", "2026-11-30", NULL },
  { "2026/11/30", "2026-11-30", NULL },
  { "30 Nov", "2026-11-30", NULL },
  { "  30   NOV. ", "2026-11-30", NULL },
  { "30. Nov 2026", "2026-11-30", NULL },
  { "November 30th, 2026", "2026-11-30", NULL },
  { "30 November 26", "2026-11-30", NULL },
  { "Mon 30 Nov", "2026-11-30", NULL },
  { "Saturday, 28 November 2026", "2026-11-28", NULL },
  { "30.11.2026", "2026-11-30", NULL },
  { "30. 11. 2026", "2026-11-30", NULL },
  { "30. 11.", "2026-11-30", NULL },
  { "30.11.", "2026-11-30", NULL },
  { "30.11", "2026-11-30", NULL },
  { "3.4.26", "2026-04-03", NULL },
  { "30/11/2026", "2026-11-30", NULL },
  { "11/30/26", "2026-11-30", NULL },
  { "30-11", "2026-11-30", NULL },
  { "4/4/2026", "2026-04-04", NULL },
  { "14 Feb", "2027-02-14", NULL },
  { "28 Nov", "2026-11-28", NULL },
  { "27 Nov", "2026-11-27", "2027-11-27" },
  { "1 Sep", "2026-09-01", "2027-09-01" },
  { "29 Feb", "2028-02-29", NULL },
  { "1.1.75", "2075-01-01", NULL },
  { "1.1.77", "1977-01-01", NULL },
  { "\xd9\xa3\xd9\xa0/\xd9\xa1\xd9\xa1/\xd9\xa2\xd9\xa0\xd9\xa2\xd9\xa6", "2026-11-30", NULL },
  { "", NULL, NULL },
  { "   ", NULL, NULL },
  { "30", NULL, NULL },
  { "Nov", NULL, NULL },
  { "Sunday", NULL, NULL },
  { "Nov 2026", NULL, NULL },
  { "3/4/2026", NULL, NULL },
  { "3-4", NULL, NULL },
  { "31 Nov", NULL, NULL },
  { "29 Feb 2027", NULL, NULL },
  { "29.2.2027", NULL, NULL },
  { "30.13.2026", NULL, NULL },
  { "0.11.2026", NULL, NULL },
  { "13/13/2026", NULL, NULL },
  { "30.11/2026", NULL, NULL },
  { "30.11.2026.", NULL, NULL },
  { "30.11.202", NULL, NULL },
  { "30.11.20266", NULL, NULL },
  { "1899-12-31", NULL, NULL },
  { "31.12.2200", NULL, NULL },
  { "0000-01-01", NULL, NULL },
  { "Tue 30 Nov 2026", NULL, NULL },
  { "30 Nov Dec", NULL, NULL },
  { "30 31 Nov", NULL, NULL },
  { "30 Nov 20:00", NULL, NULL },
  { "-30 Nov", NULL, NULL },
  { "+5", NULL, NULL },
  { "soon", NULL, NULL },
  { "99999999999999999999.1.2026", NULL, NULL },
  { "30 Nov %s%n", NULL, NULL },
  { "30 Nov \xff", NULL, NULL },
  { "\xe2\x80\xae"
    "30 Nov",
    NULL, NULL },
};

static void
test_day (void **state)
{
  guint i = GPOINTER_TO_UINT (*state);
  const SwDay today = sw_day_from_ymd (2026, 11, 28);
  for (int lean = SW_DAY_NEAR; lean <= SW_DAY_AHEAD; lean++)
    {
      const char *expected
          = lean == SW_DAY_AHEAD && days[i].ahead != NULL ? days[i].ahead : days[i].near;
      g_autoptr (GError) error = NULL;
      SwDay day = { 77 };
      gboolean read = sw_day_from_person (days[i].text, today, (SwDayLean)lean, &day, &error);
      g_autofree char *text = sw_day_to_text (day);
      if (expected == NULL)
        {
          assert_false (read);
          assert_sw_error (error, SW_ERROR_BAD_INPUT);
          assert_true (g_utf8_validate (error->message, -1, NULL));
          assert_int_equal (day.n, 77);
          continue;
        }
      assert_no_error (error);
      assert_string_equal (text, expected);
    }
}

/* No text at all, and one too long to be read. */
static void
test_hostile_day (void **state)
{
  (void)state;
  g_autofree char *endless = g_strnfill (2000000, '1');
  const char *const texts[] = { NULL, endless };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;
      SwDay day;
      assert_false (
          sw_day_from_person (texts[i], sw_day_from_ymd (2026, 11, 28), SW_DAY_NEAR, &day, &error));
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_true (strlen (error->message) < 300);
    }
}

static const struct
{
  const char *text;
  gint64 expected; /* -1: refused */
} steps[] = {
  { "20 s", 20 }, { "20", 20 },  { "2 min", 120 }, { "2min", 120 },
  { "1:30", 90 }, { "0", 0 },    { "1 h", 3600 },  { "24 h", 86400 },
  { "25 h", -1 }, { "", -1 },    { "-5", -1 },     { "1:75", -1 },
  { "5 x", -1 },  { "1 2", -1 }, { "min", -1 },    { "99999999999999999999 s", -1 },
};

static void
test_step (void **state)
{
  guint i = GPOINTER_TO_UINT (*state);
  g_autoptr (GError) error = NULL;
  gint64 seconds = -1;
  gboolean read = sw_plain_step_parse (steps[i].text, &seconds, &error);
  assert_int_equal (read, steps[i].expected >= 0);
  if (!read)
    assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_i64_equal (seconds, steps[i].expected);
}

int
main (void)
{
  enum
  {
    N = G_N_ELEMENTS (moments),
    M = G_N_ELEMENTS (steps),
    D = G_N_ELEMENTS (days)
  };
  struct CMUnitTest tests[N + M + D + 1];
  memset (tests, 0, sizeof tests);
  for (guint i = 0; i < N; i++)
    tests[i] = (struct CMUnitTest){ .name = *moments[i].text != '\0' ? moments[i].text : "nothing",
                                    .test_func = test_moment,
                                    .initial_state = GUINT_TO_POINTER (i) };
  for (guint i = 0; i < M; i++)
    tests[N + i] = (struct CMUnitTest){ .name = *steps[i].text != '\0' ? steps[i].text : "no step",
                                        .test_func = test_step,
                                        .initial_state = GUINT_TO_POINTER (i) };
  for (guint i = 0; i < D; i++)
    tests[N + M + i] = (struct CMUnitTest){ .name = days[i].text,
                                            .test_func = test_day,
                                            .initial_state = GUINT_TO_POINTER (i) };
  tests[N + M + D] = (struct CMUnitTest)cmocka_unit_test (test_hostile_day);
  return cmocka_run_group_tests (tests, NULL, NULL);
}
