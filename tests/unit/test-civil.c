/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days, wall-clock times, zones, reading and printing: our own promises. Published clock changes
 * stand in tests/reference. */
#include "sw-test.h"

#include "core/base/civil.h"

#include <glib/gstdio.h>

static SwZone *
zone_of (const char *name)
{
  g_autoptr (GError) error = NULL;
  SwZone *zone = sw_zone_new (name, &error);
  assert_no_error (error);
  return zone;
}

/* Zones. */

typedef struct
{
  const char *label;
  const char *name;
} NameRow;

static const NameRow known_zones[] = {
  { "two parts", "Pacific/Auckland" },
  { "three parts", "America/Argentina/Buenos_Aires" },
  { "one part", "UTC" },
  { "with a sign", "Etc/GMT+5" },
  { "with digits", "EST5EDT" },
  { "hyphen", "America/Port-au-Prince" },
};

static void
known_zone (void **state)
{
  const NameRow *row = *state;
  g_autoptr (SwZone) zone = zone_of (row->name);
  assert_string_equal (sw_zone_name (zone), row->name);
}

static const NameRow refused_zones[] = {
  { "unknown city", "Pacific/Nowhere" },
  { "small letters", "pacific/auckland" },
  { "rule text of POSIX", "NZST-12NZDT,M9.5.0,M4.1.0/3" },
  { "rule text without commas", "NZST-12" },
  { "bare offset", "+12:00" },
  { "folder", "Pacific" },
  { "way up", "../zoneinfo/Pacific/Auckland" },
  { "way up inside", "Pacific/../Pacific/Auckland" },
  { "here", "./Pacific/Auckland" },
  { "absolute", "/usr/share/zoneinfo/Pacific/Auckland" },
  { "colon form", ":Pacific/Auckland" },
  { "empty part", "Pacific//Auckland" },
  { "slash at the end", "Pacific/Auckland/" },
  { "leap-second tree", "right/Pacific/Auckland" },
  { "copied tree", "posix/Pacific/Auckland" },
  { "no zone file", "tzdata.zi" },
  { "list of zones", "zone.tab" },
  { "blank", "Pacific/Auckland " },
  { "empty", "" },
  { "missing", NULL },
  { "hostile bytes", "Pacific/\x1b[31m\xff" },
};

static void
refused_zone (void **state)
{
  const NameRow *row = *state;
  g_autoptr (GError) error = NULL;
  assert_null (sw_zone_new (row->name, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

/* TZDIR moves the zone folder; a file there that is no zone file is refused. */
static void
zone_folder_from_environment (void **state)
{
  g_autofree char *folder = g_dir_make_tmp ("shedwalk-zones-XXXXXX", NULL);
  g_autofree char *broken = g_build_filename (folder, "Broken", NULL);
  g_autofree char *copied = g_build_filename (folder, "Copied", NULL);
  g_autofree char *data = NULL;
  gsize length = 0;
  assert_true (g_file_set_contents (broken, "TZif2 but no more", -1, NULL));
  assert_true (g_file_get_contents ("/usr/share/zoneinfo/Pacific/Auckland", &data, &length, NULL));
  assert_true (g_file_set_contents (copied, data, (gssize)length, NULL));
  g_setenv ("TZDIR", folder, TRUE);
  SwZone *absent = sw_zone_new ("Pacific/Auckland", NULL);
  SwZone *bad = sw_zone_new ("Broken", NULL);
  SwZone *good = sw_zone_new ("Copied", NULL);
  g_unsetenv ("TZDIR");
  int offset = 0;
  if (good != NULL)
    sw_civil_from_instant ((SwInstant){ 1712411999 * SW_US_PER_SECOND }, good, &offset);
  sw_zone_free (good);
  g_unlink (broken);
  g_unlink (copied);
  g_rmdir (folder);
  assert_null (absent);
  assert_null (bad);
  assert_i64_equal (offset, 13 * 3600);
}

/* Days. */

typedef struct
{
  const char *label;
  int year, month, day;
  gint32 n;
} DayRow;

static const DayRow day_rows[] = {
  { "epoch", 1970, 1, 1, 0 },
  { "eve of it", 1969, 12, 31, -1 },
  { "century without leap day", 1900, 3, 1, -25508 },
  { "century with one", 2000, 2, 29, 11016 },
  { "last taken", 2199, 12, 31, 84005 },
};

static void
day_number (void **state)
{
  const DayRow *row = *state;
  int year = 0, month = 0, day = 0;
  assert_i64_equal (sw_day_from_ymd (row->year, row->month, row->day).n, row->n);
  sw_day_to_ymd ((SwDay){ row->n }, &year, &month, &day);
  assert_i64_equal (year, row->year);
  assert_i64_equal (month, row->month);
  assert_i64_equal (day, row->day);
  sw_day_to_ymd ((SwDay){ row->n }, NULL, NULL, NULL);
}

/* Day by day against GLib's calendar, from year 1 to 2400: 1970-01-01 is its Julian day 719163. */
static void
every_day_as_glib_counts (void **state)
{
  GDate date;
  g_date_clear (&date, 1);
  g_date_set_dmy (&date, 1, G_DATE_JANUARY, 1);
  while (g_date_get_year (&date) <= 2400)
    {
      gint32 n = (gint32)g_date_get_julian (&date) - 719163;
      int year, month, day;
      sw_day_to_ymd ((SwDay){ n }, &year, &month, &day);
      assert_i64_equal (year, g_date_get_year (&date));
      assert_i64_equal (month, (gint64)g_date_get_month (&date));
      assert_i64_equal (day, g_date_get_day (&date));
      assert_i64_equal (sw_day_from_ymd (year, month, day).n, n);
      SwCivil civil = { year, month, day, 0, 0, 0, 0 };
      assert_true (sw_civil_valid (civil));
      g_date_add_days (&date, 1);
    }
}

typedef struct
{
  const char *label;
  const char *text;
  const char *printed; /* NULL: refused */
} TextRow;

static const TextRow day_texts[] = {
  { "plain", "2026-04-05", "2026-04-05" },
  { "leap day", "2024-02-29", "2024-02-29" },
  { "first", "1900-01-01", "1900-01-01" },
  { "last", "2199-12-31", "2199-12-31" },
  { "no leap day", "2023-02-29", NULL },
  { "century without one", "2100-02-29", NULL },
  { "month 13", "2026-13-01", NULL },
  { "month 0", "2026-00-01", NULL },
  { "day 0", "2026-01-00", NULL },
  { "day 31 of 30", "2026-04-31", NULL },
  { "too early", "1899-12-31", NULL },
  { "too late", "2200-01-01", NULL },
  { "basic form", "20260405", NULL },
  { "short month", "2026-4-05", NULL },
  { "slashes", "2026/04/05", NULL },
  { "day first", "05-04-2026", NULL },
  { "with a time", "2026-04-05T10:00", NULL },
  { "blank behind", "2026-04-05 ", NULL },
  { "blank before", " 2026-04-05", NULL },
  { "signed", "+2026-04-05", NULL },
  { "empty", "", NULL },
  { "missing", NULL, NULL },
  { "ordinal", "2026-095", NULL },
  { "week", "2026-W14-7", NULL },
};

static void
day_text (void **state)
{
  const TextRow *row = *state;
  g_autoptr (GError) error = NULL;
  SwDay day = { -77 };
  gboolean taken = sw_day_parse (row->text, &day, &error);
  assert_true (taken == (row->printed != NULL));
  if (row->printed == NULL)
    {
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_i64_equal (day.n, -77);
      return;
    }
  g_autofree char *text = sw_day_to_text (day);
  assert_string_equal (text, row->printed);
}

/* Wall-clock times. */

typedef struct
{
  const char *label;
  SwCivil civil;
  gboolean valid;
} ValidRow;

static const ValidRow valid_rows[] = {
  { "first moment of a day", { 2026, 4, 5, 0, 0, 0, 0 }, TRUE },
  { "last moment of a day", { 2026, 4, 5, 23, 59, 59, 999999 }, TRUE },
  { "all zero, as cameras write", { 0, 0, 0, 0, 0, 0, 0 }, FALSE },
  { "hour 24", { 2026, 4, 5, 24, 0, 0, 0 }, FALSE },
  { "minute 60", { 2026, 4, 5, 1, 60, 0, 0 }, FALSE },
  { "leap second", { 2016, 12, 31, 23, 59, 60, 0 }, FALSE },
  { "negative", { 2026, 4, 5, -1, 0, 0, 0 }, FALSE },
  { "a million microseconds", { 2026, 4, 5, 1, 0, 0, 1000000 }, FALSE },
  { "month beyond the table", { 2026, 99, 5, 1, 0, 0, 0 }, FALSE },
  { "negative month", { 2026, -3, 5, 1, 0, 0, 0 }, FALSE },
};

static void
valid (void **state)
{
  const ValidRow *row = *state;
  assert_true (sw_civil_valid (row->civil) == row->valid);
}

static void
counts_as_if_in_utc (void **state)
{
  SwCivil before = { 1969, 12, 31, 23, 59, 59, 750000 };
  assert_i64_equal (sw_civil_to_us (before), -250000);
  SwCivil back = sw_civil_from_us (-250000);
  assert_memory_equal (&back, &before, sizeof back);
  g_autoptr (GRand) rand = g_rand_new_with_seed (8601);
  for (int i = 0; i < 20000; i++)
    {
      gint64 us = (gint64)g_rand_double_range (rand, -2e15, 7e15);
      SwCivil civil = sw_civil_from_us (us);
      assert_true (sw_civil_valid (civil));
      assert_i64_equal (sw_civil_to_us (civil), us);
    }
}

typedef struct
{
  const char *label;
  const char *zone;
  SwCivil civil;
  SwCivilKind kind;
  const char *printed;
} WallRow;

static const WallRow wall_rows[] = {
  { "plain",
    "Europe/London",
    { 2024, 7, 1, 12, 0, 0, 0 },
    SW_CIVIL_PLAIN,
    "2024-07-01T12:00:00+01:00" },
  { "last before a gap",
    "Europe/London",
    { 2024, 3, 31, 0, 59, 59, 999999 },
    SW_CIVIL_PLAIN,
    "2024-03-31T00:59:59.999999+00:00" },
  { "first of a gap",
    "Europe/London",
    { 2024, 3, 31, 1, 0, 0, 0 },
    SW_CIVIL_GAP,
    "2024-03-31T02:00:00+01:00" },
  { "in a gap",
    "Europe/London",
    { 2024, 3, 31, 1, 30, 0, 500000 },
    SW_CIVIL_GAP,
    "2024-03-31T02:30:00.5+01:00" },
  { "first after a gap",
    "Europe/London",
    { 2024, 3, 31, 2, 0, 0, 0 },
    SW_CIVIL_PLAIN,
    "2024-03-31T02:00:00+01:00" },
  { "last before a fold",
    "Europe/London",
    { 2024, 10, 27, 0, 59, 59, 0 },
    SW_CIVIL_PLAIN,
    "2024-10-27T00:59:59+01:00" },
  { "first of a fold",
    "Europe/London",
    { 2024, 10, 27, 1, 0, 0, 0 },
    SW_CIVIL_FOLD,
    "2024-10-27T01:00:00+01:00" },
  { "last of a fold",
    "Europe/London",
    { 2024, 10, 27, 1, 59, 59, 999999 },
    SW_CIVIL_FOLD,
    "2024-10-27T01:59:59.999999+01:00" },
  { "first after a fold",
    "Europe/London",
    { 2024, 10, 27, 2, 0, 0, 0 },
    SW_CIVIL_PLAIN,
    "2024-10-27T02:00:00+00:00" },
  { "half-hour gap",
    "Australia/Lord_Howe",
    { 2024, 10, 6, 2, 10, 0, 0 },
    SW_CIVIL_GAP,
    "2024-10-06T02:40:00+11:00" },
  { "after a half-hour gap",
    "Australia/Lord_Howe",
    { 2024, 10, 6, 2, 30, 0, 0 },
    SW_CIVIL_PLAIN,
    "2024-10-06T02:30:00+11:00" },
  { "half-hour fold",
    "Australia/Lord_Howe",
    { 2024, 4, 7, 1, 30, 0, 0 },
    SW_CIVIL_FOLD,
    "2024-04-07T01:30:00+11:00" },
  { "before a half-hour fold",
    "Australia/Lord_Howe",
    { 2024, 4, 7, 1, 29, 59, 0 },
    SW_CIVIL_PLAIN,
    "2024-04-07T01:29:59+11:00" },
  { "a day that never was",
    "Pacific/Apia",
    { 2011, 12, 30, 12, 0, 0, 0 },
    SW_CIVIL_GAP,
    "2011-12-31T12:00:00+14:00" },
  { "fold over a date change",
    "America/Havana",
    { 2024, 11, 3, 0, 30, 0, 0 },
    SW_CIVIL_FOLD,
    "2024-11-03T00:30:00-04:00" },
  { "two-hour gap",
    "Antarctica/Troll",
    { 2024, 3, 31, 2, 0, 0, 0 },
    SW_CIVIL_GAP,
    "2024-03-31T04:00:00+02:00" },
  { "negative saving, winter",
    "Europe/Dublin",
    { 2026, 1, 15, 9, 0, 0, 0 },
    SW_CIVIL_PLAIN,
    "2026-01-15T09:00:00+00:00" },
  { "negative saving, far summer",
    "Europe/Dublin",
    { 2090, 7, 15, 9, 0, 0, 0 },
    SW_CIVIL_PLAIN,
    "2090-07-15T09:00:00+01:00" },
  { "negative saving, far winter",
    "Europe/Dublin",
    { 2090, 1, 15, 9, 0, 0, 0 },
    SW_CIVIL_PLAIN,
    "2090-01-15T09:00:00+00:00" },
  { "ruled gap",
    "Australia/Lord_Howe",
    { 2150, 10, 4, 2, 10, 0, 0 },
    SW_CIVIL_GAP,
    "2150-10-04T02:40:00+11:00" },
  { "ruled fold",
    "Europe/London",
    { 2198, 10, 28, 1, 30, 0, 0 },
    SW_CIVIL_FOLD,
    "2198-10-28T01:30:00+01:00" },
  { "quarter hour",
    "Asia/Kathmandu",
    { 2026, 1, 15, 9, 0, 0, 0 },
    SW_CIVIL_PLAIN,
    "2026-01-15T09:00:00+05:45" },
};

static void
wall_clock (void **state)
{
  const WallRow *row = *state;
  g_autoptr (SwZone) zone = zone_of (row->zone);
  SwCivilKind kind = (SwCivilKind)-1;
  SwInstant instant = sw_civil_to_instant (row->civil, zone, &kind);
  g_autofree char *text = sw_instant_to_text (instant, zone);
  assert_string_equal (text, row->printed);
  assert_i64_equal (kind, row->kind);
  int offset = -1;
  SwCivil there = sw_civil_from_instant (instant, zone, &offset);
  assert_i64_equal (sw_civil_at_offset (there, offset).us, instant.us);
  if (kind != SW_CIVIL_GAP)
    assert_i64_equal (sw_civil_to_us (there), sw_civil_to_us (row->civil));
}

static const WallRow start_rows[] = {
  { "plain", "Pacific/Auckland", { 2026, 4, 5, 0, 0, 0, 0 }, 0, "2026-04-05T00:00:00+13:00" },
  { "clock goes forward at midnight",
    "America/Havana",
    { 2024, 3, 10, 0, 0, 0, 0 },
    0,
    "2024-03-10T01:00:00-04:00" },
  { "midnight twice",
    "America/Havana",
    { 2024, 11, 3, 0, 0, 0, 0 },
    0,
    "2024-11-03T00:00:00-04:00" },
  { "clock goes forward over midnight",
    "America/Toronto",
    { 1919, 3, 31, 0, 0, 0, 0 },
    0,
    "1919-03-31T00:30:00-04:00" },
  { "a day that never was",
    "Pacific/Apia",
    { 2011, 12, 30, 0, 0, 0, 0 },
    0,
    "2011-12-31T00:00:00+14:00" },
};

static void
day_start (void **state)
{
  const WallRow *row = *state;
  g_autoptr (SwZone) zone = zone_of (row->zone);
  SwDay day = sw_day_from_ymd (row->civil.year, row->civil.month, row->civil.day);
  SwInstant start = sw_day_start (day, zone);
  g_autofree char *text = sw_instant_to_text (start, zone);
  assert_string_equal (text, row->printed);
  assert_true (sw_day_of_instant ((SwInstant){ start.us - 1 }, zone).n < day.n);
  assert_true (sw_day_of_instant (start, zone).n >= day.n);
}

/* Moments. */

typedef struct
{
  const char *label;
  const char *text;
  const char *printed; /* in Pacific/Auckland; NULL: refused */
  gboolean day_only;
} MomentRow;

static const MomentRow moment_rows[] = {
  { "day alone", "2026-04-05", "2026-04-05T00:00:00+13:00", TRUE },
  { "minutes", "2026-04-05T21:04", "2026-04-05T21:04:00+12:00", FALSE },
  { "seconds", "2026-04-05T21:04:07", "2026-04-05T21:04:07+12:00", FALSE },
  { "fraction", "2026-04-05T21:04:07.25", "2026-04-05T21:04:07.25+12:00", FALSE },
  { "comma fraction", "2026-04-05T21:04:07,5", "2026-04-05T21:04:07.5+12:00", FALSE },
  { "finer than a microsecond", "2026-04-05T21:04:07.123456789", "2026-04-05T21:04:07.123456+12:00",
    FALSE },
  { "space", "2026-04-05 21:04", "2026-04-05T21:04:00+12:00", FALSE },
  { "UTC", "2026-04-05T09:04:07Z", "2026-04-05T21:04:07+12:00", FALSE },
  { "offset", "2026-04-05T10:04+01:00", "2026-04-05T21:04:00+12:00", FALSE },
  { "negative offset", "2026-04-04T23:34-09:30", "2026-04-05T21:04:00+12:00", FALSE },
  { "offset into another day", "2026-04-05T23:00-12:00", "2026-04-06T23:00:00+12:00", FALSE },
  { "gap", "2025-09-28T02:30", "2025-09-28T03:30:00+13:00", FALSE },
  { "fold", "2025-04-06T02:30", "2025-04-06T02:30:00+13:00", FALSE },
  { "second half of a fold", "2025-04-06T02:30+12:00", "2025-04-06T02:30:00+12:00", FALSE },
  { "day with a zone", "2026-04-05Z", NULL, FALSE },
  { "hour alone", "2026-04-05T21", NULL, FALSE },
  { "hour 24", "2026-04-05T24:00", NULL, FALSE },
  { "minute 60", "2026-04-05T21:60", NULL, FALSE },
  { "leap second", "2016-12-31T23:59:60Z", NULL, FALSE },
  { "fraction without digits", "2026-04-05T21:04:07.", NULL, FALSE },
  { "offset without colon", "2026-04-05T21:04+1200", NULL, FALSE },
  { "offset of hours", "2026-04-05T21:04+12", NULL, FALSE },
  { "offset too large", "2026-04-05T21:04+24:00", NULL, FALSE },
  { "offset minutes too large", "2026-04-05T21:04+12:60", NULL, FALSE },
  { "two zones", "2026-04-05T21:04ZZ", NULL, FALSE },
  { "trailing word", "2026-04-05T21:04 NZST", NULL, FALSE },
  { "no such day", "2026-02-30T10:00", NULL, FALSE },
  { "T alone", "2026-04-05T", NULL, FALSE },
  { "time alone", "21:04", NULL, FALSE },
  { "two blanks", "2026-04-05  21:04", NULL, FALSE },
  { "colons, as cameras write", "2026:04:05 21:04:07", NULL, FALSE },
  { "empty", "", NULL, FALSE },
  { "missing", NULL, NULL, FALSE },
};

static void
moment (void **state)
{
  const MomentRow *row = *state;
  g_autoptr (SwZone) zone = zone_of ("Pacific/Auckland");
  g_autoptr (GError) error = NULL;
  SwInstant instant = { -77 };
  gboolean day_only = -1;
  gboolean taken = sw_moment_parse (row->text, zone, &instant, &day_only, &error);
  assert_true (taken == (row->printed != NULL));
  if (row->printed == NULL)
    {
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_i64_equal (instant.us, -77);
      assert_i64_equal (day_only, -1);
      return;
    }
  g_autofree char *text = sw_instant_to_text (instant, zone);
  assert_string_equal (text, row->printed);
  assert_i64_equal (day_only, row->day_only);
  assert_true (sw_moment_parse (row->text, zone, NULL, NULL, NULL));
  SwInstant again = { 0 };
  assert_true (sw_moment_parse (text, zone, &again, NULL, NULL));
  assert_i64_equal (again.us, instant.us);
}

static void
civil_text (void **state)
{
  SwCivil civil = { 2026, 4, 5, 21, 4, 7, 250000 };
  g_autofree char *with_fraction = sw_civil_to_text (civil);
  assert_string_equal (with_fraction, "2026-04-05T21:04:07.25");
  civil.micro = 0;
  g_autofree char *whole = sw_civil_to_text (civil);
  assert_string_equal (whole, "2026-04-05T21:04:07");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, known_zone, known_zones);
  SW_TEST_ROWS (tests, refused_zone, refused_zones);
  SW_TEST (tests, zone_folder_from_environment);
  SW_TEST_ROWS (tests, day_number, day_rows);
  SW_TEST (tests, every_day_as_glib_counts);
  SW_TEST_ROWS (tests, day_text, day_texts);
  SW_TEST_ROWS (tests, valid, valid_rows);
  SW_TEST (tests, counts_as_if_in_utc);
  SW_TEST_ROWS (tests, wall_clock, wall_rows);
  SW_TEST_ROWS (tests, day_start, start_rows);
  SW_TEST_ROWS (tests, moment, moment_rows);
  SW_TEST (tests, civil_text);
  return sw_tests_run (tests, "civil");
}
