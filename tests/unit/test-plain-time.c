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
    M = G_N_ELEMENTS (steps)
  };
  struct CMUnitTest tests[N + M];
  memset (tests, 0, sizeof tests);
  for (guint i = 0; i < N; i++)
    tests[i] = (struct CMUnitTest){ .name = *moments[i].text != '\0' ? moments[i].text : "nothing",
                                    .test_func = test_moment,
                                    .initial_state = GUINT_TO_POINTER (i) };
  for (guint i = 0; i < M; i++)
    tests[N + i] = (struct CMUnitTest){ .name = *steps[i].text != '\0' ? steps[i].text : "no step",
                                        .test_func = test_step,
                                        .initial_state = GUINT_TO_POINTER (i) };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
