/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Written times against the examples of RFC 3339 (Klyne and Newman, "Date and Time on the Internet:
 * Timestamps", 2002) and the forms of ISO 8601-1:2019. The examples are from memory, their counts
 * of seconds worked out with date(1). */
#include "../unit/sw-test.h"

#include "core/base/civil.h"

#define REFUSED G_MININT64

typedef struct
{
  const char *label;
  const char *text;
  gint64 us;
} Row;

static const Row rows[] = {
  { "RFC 3339, 5.8, first example", "1985-04-12T23:20:50.52Z", 482196050520000 },
  { "RFC 3339, 5.8, second example", "1996-12-19T16:39:57-08:00", 851042397000000 },
  { "RFC 3339, 5.8, second example in UTC", "1996-12-20T00:39:57Z", 851042397000000 },
  { "RFC 3339, 5.8, last example", "1937-01-01T12:00:27.87+00:20", -1041337172130000 },
  { "RFC 3339, 5.8, leap second: shown by no camera", "1990-12-31T23:59:60Z", REFUSED },
  { "RFC 3339, 5.6, note: small letters", "1996-12-20t00:39:57z", 851042397000000 },
  { "RFC 3339, 5.6, note: a space", "1996-12-20 00:39:57Z", 851042397000000 },
  { "RFC 3339, 5.7: no 24:00", "1996-12-19T24:00:00Z", REFUSED },
  { "ISO 8601-1, comma as decimal sign", "1985-04-12T23:20:50,52Z", 482196050520000 },
  { "ISO 8601-1, reduced to minutes", "2024-02-29T00:00Z", 1709164800000000 },
  { "ISO 8601-1, basic form", "20240229T000000Z", REFUSED },
  { "ISO 8601-1, ordinal date", "2024-060T00:00Z", REFUSED },
  { "ISO 8601-1, week date", "2024-W09-4T00:00Z", REFUSED },
  { "ISO 8601-1, two-digit year", "24-02-29", REFUSED },
};

static void
written_time (void **state)
{
  const Row *row = *state;
  g_autoptr (SwZone) zone = sw_zone_new ("UTC", NULL);
  g_autoptr (GError) error = NULL;
  SwInstant instant = { REFUSED };
  gboolean taken = sw_moment_parse (row->text, zone, &instant, NULL, &error);
  assert_i64_equal (instant.us, row->us);
  assert_true (taken == (row->us != REFUSED));
  if (!taken)
    assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

/* The last example of 5.8 again: where the true offset has seconds, the nearest minute is written,
 * with the wall clock that makes the same instant. Monrovia kept 44 min 30 s behind UTC until 1972
 * (IANA time zone database, 2025b). */
static void
offset_with_seconds (void **state)
{
  g_autoptr (SwZone) zone = sw_zone_new ("Africa/Monrovia", NULL);
  assert_non_null (zone);
  SwCivil noon = { 1950, 1, 1, 12, 0, 0, 0 };
  SwInstant instant = sw_civil_to_instant (noon, zone, NULL);
  g_autofree char *text = sw_instant_to_text (instant, zone);
  assert_string_equal (text, "1950-01-01T12:00:30-00:44");
  SwInstant back = { 0 };
  assert_true (sw_moment_parse (text, zone, &back, NULL, NULL));
  assert_i64_equal (back.us, instant.us);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, written_time, rows);
  SW_TEST (tests, offset_with_seconds);
  return sw_tests_run (tests, "moments");
}
