/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clock changes against zdump, run on the same zone files, and against changes of the IANA time
 * zone database as published. */
#include "../unit/sw-test.h"

#include "core/base/civil.h"

#include <stdio.h>
#include <time.h>

/* One line of zdump -v: a moment in UTC, the wall clock then, and its offset. */
typedef struct
{
  gint64 second;
  SwCivil wall;
  int offset_s;
} Line;

static gboolean
read_moment (const char *text, SwCivil *out, int *out_length)
{
  static const char months[] = "JanFebMarAprMayJunJulAugSepOctNovDec";
  char weekday[4], month[4];
  SwCivil civil = { .micro = 0 };
  if (sscanf (text, "%3s %3s %d %d:%d:%d %d%n", weekday, month, &civil.day, &civil.hour,
              &civil.minute, &civil.second, &civil.year, out_length)
      != 7)
    return FALSE;
  const char *found = strstr (months, month);
  civil.month = found != NULL ? (int)(found - months) / 3 + 1 : 0;
  *out = civil;
  return found != NULL;
}

/* FALSE for the lines on the ends of time, which hold no calendar. */
static gboolean
read_line (const char *zone, const char *text, Line *out)
{
  int length = 0;
  SwCivil utc;
  const char *offset = strstr (text, "gmtoff="), *equals = strstr (text, "UT = ");
  if (!g_str_has_prefix (text, zone) || offset == NULL || equals == NULL
      || !read_moment (text + strlen (zone), &utc, &length)
      || !read_moment (equals + strlen ("UT = "), &out->wall, &length))
    return FALSE;
  out->second = sw_civil_to_us (utc) / SW_US_PER_SECOND;
  out->offset_s = (int)g_ascii_strtoll (offset + strlen ("gmtoff="), NULL, 10);
  return TRUE;
}

/* All lines of zdump between two years; two a change: the second before it and the second it comes
 * at. */
static GArray *
zdump (const char *zone, const char *years)
{
  const char *argv[] = { "zdump", "-v", "-c", years, zone, NULL };
  g_autofree char *output = NULL;
  g_autoptr (GError) error = NULL;
  int status = -1;
  g_spawn_sync (NULL, (char **)(gsize)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &output, NULL,
                &status, &error);
  assert_no_error (error);
  assert_i64_equal (status, 0);
  GArray *lines = g_array_new (FALSE, FALSE, sizeof (Line));
  g_auto (GStrv) texts = g_strsplit (output, "\n", -1);
  for (char **text = texts; *text != NULL; text++)
    {
      Line line;
      if (read_line (zone, *text, &line))
        g_array_append_val (lines, line);
    }
  return lines;
}

static SwZone *
zone_of (const char *name)
{
  g_autoptr (GError) error = NULL;
  SwZone *zone = sw_zone_new (name, &error);
  assert_no_error (error);
  return zone;
}

static void
check_wall (const SwZone *zone, gint64 second, const SwCivil *wall, int offset_s)
{
  int offset = -1;
  SwCivil civil = sw_civil_from_instant ((SwInstant){ second * SW_US_PER_SECOND }, zone, &offset);
  if (offset != offset_s)
    print_error ("%s at %" G_GINT64_FORMAT "\n", sw_zone_name (zone), second);
  assert_i64_equal (offset, offset_s);
  assert_memory_equal (&civil, wall, sizeof civil);
}

/* The wall-clock second 'wall' (counted as if in UTC) comes at 'second', and so often. */
static void
check_second (const SwZone *zone, gint64 wall, gint64 second, SwCivilKind kind)
{
  SwCivilKind found = (SwCivilKind)-1;
  SwInstant instant
      = sw_civil_to_instant (sw_civil_from_us (wall * SW_US_PER_SECOND), zone, &found);
  if (found != kind || instant.us != second * SW_US_PER_SECOND)
    print_error ("%s, wall clock %" G_GINT64_FORMAT "\n", sw_zone_name (zone), wall);
  assert_i64_equal (found, kind);
  assert_i64_equal (instant.us, second * SW_US_PER_SECOND);
}

/* Around a change at 'second': what was skipped, or came twice, and the seconds on either side. */
static void
check_change (const SwZone *zone, gint64 second, int before, int after)
{
  int length = ABS (after - before);
  gint64 low = second + MIN (before, after);
  SwCivilKind kind = after > before ? SW_CIVIL_GAP : SW_CIVIL_FOLD;
  check_second (zone, low - 1, low - 1 - before, SW_CIVIL_PLAIN);
  check_second (zone, low + length, low + length - after, SW_CIVIL_PLAIN);
  const int inside[] = { 0, length / 2, length - 1 };
  for (gsize i = 0; i < G_N_ELEMENTS (inside); i++)
    check_second (zone, low + inside[i], low + inside[i] - before, kind);
}

typedef struct
{
  const char *label; /* the zone */
  gboolean changes;  /* whether any clock change falls into 2015 to 2035 */
} ZoneRow;

static const ZoneRow zone_rows[] = {
  { "Africa/Cairo", TRUE },      { "Africa/Casablanca", TRUE },  { "America/Denver", TRUE },
  { "America/Havana", TRUE },    { "America/Nuuk", TRUE },       { "America/Phoenix", FALSE },
  { "America/Sao_Paulo", TRUE }, { "America/St_Johns", TRUE },   { "Antarctica/Troll", TRUE },
  { "Asia/Beirut", TRUE },       { "Asia/Gaza", TRUE },          { "Asia/Kathmandu", FALSE },
  { "Asia/Pyongyang", TRUE },    { "Australia/Adelaide", TRUE }, { "Australia/Lord_Howe", TRUE },
  { "Europe/Dublin", TRUE },     { "Europe/London", TRUE },      { "Pacific/Apia", TRUE },
  { "Pacific/Auckland", TRUE },  { "Pacific/Chatham", TRUE },
};

static void
as_zdump_says (void **state)
{
  const ZoneRow *row = *state;
  g_autoptr (SwZone) zone = zone_of (row->label);
  g_autoptr (GArray) lines = zdump (row->label, "2015,2036");
  assert_true ((lines->len > 0) == row->changes);
  assert_i64_equal (lines->len % 2, 0);
  for (guint i = 0; i < lines->len; i += 2)
    {
      const Line *before = &g_array_index (lines, Line, i);
      const Line *at = &g_array_index (lines, Line, i + 1);
      assert_i64_equal (at->second, before->second + 1);
      check_wall (zone, before->second, &before->wall, before->offset_s);
      check_wall (zone, at->second, &at->wall, at->offset_s);
      if (at->offset_s != before->offset_s)
        check_change (zone, at->second, before->offset_s, at->offset_s);
    }
}

/* Every day the program takes, beyond what the files list, too. */
static const ZoneRow long_rows[] = {
  { "Africa/Casablanca", TRUE },   { "America/Nuuk", TRUE },  { "America/Toronto", TRUE },
  { "Australia/Lord_Howe", TRUE }, { "Europe/Dublin", TRUE }, { "Pacific/Auckland", TRUE },
};

static void
over_three_centuries (void **state)
{
  const ZoneRow *row = *state;
  g_autoptr (SwZone) zone = zone_of (row->label);
  g_autoptr (GArray) lines = zdump (row->label, "1900,2200");
  assert_true (lines->len > 100);
  for (guint i = 0; i < lines->len; i++)
    {
      const Line *line = &g_array_index (lines, Line, i);
      check_wall (zone, line->second, &line->wall, line->offset_s);
    }
}

/* IANA time zone database, release 2025b (Eggert and contributors, 2025). */
typedef struct
{
  const char *label;
  const char *zone;
  gint64 second;
  const char *before, *at; /* with offsets, the second before and the second of the change */
} PublishedRow;

#define AKL "Pacific/Auckland"
#define LON "Europe/London"
#define DEN "America/Denver"
#define LHI "Australia/Lord_Howe"

static const PublishedRow published_rows[] = {
  { "Auckland, April 2024", AKL, 1712412000, "2024-04-07T02:59:59+13:00",
    "2024-04-07T02:00:00+12:00" },
  { "Auckland, September 2024", AKL, 1727532000, "2024-09-29T01:59:59+12:00",
    "2024-09-29T03:00:00+13:00" },
  { "Auckland, April 2025", AKL, 1743861600, "2025-04-06T02:59:59+13:00",
    "2025-04-06T02:00:00+12:00" },
  { "Auckland, September 2025", AKL, 1758981600, "2025-09-28T01:59:59+12:00",
    "2025-09-28T03:00:00+13:00" },
  { "London, March 2024", LON, 1711846800, "2024-03-31T00:59:59+00:00",
    "2024-03-31T02:00:00+01:00" },
  { "London, October 2024", LON, 1729990800, "2024-10-27T01:59:59+01:00",
    "2024-10-27T01:00:00+00:00" },
  { "London, March 2025", LON, 1743296400, "2025-03-30T00:59:59+00:00",
    "2025-03-30T02:00:00+01:00" },
  { "London, October 2025", LON, 1761440400, "2025-10-26T01:59:59+01:00",
    "2025-10-26T01:00:00+00:00" },
  { "Denver, March 2024", DEN, 1710061200, "2024-03-10T01:59:59-07:00",
    "2024-03-10T03:00:00-06:00" },
  { "Denver, November 2024", DEN, 1730620800, "2024-11-03T01:59:59-06:00",
    "2024-11-03T01:00:00-07:00" },
  { "Denver, March 2025", DEN, 1741510800, "2025-03-09T01:59:59-07:00",
    "2025-03-09T03:00:00-06:00" },
  { "Denver, November 2025", DEN, 1762070400, "2025-11-02T01:59:59-06:00",
    "2025-11-02T01:00:00-07:00" },
  { "Lord Howe, April 2024", LHI, 1712415600, "2024-04-07T01:59:59+11:00",
    "2024-04-07T01:30:00+10:30" },
  { "Lord Howe, October 2024", LHI, 1728142200, "2024-10-06T01:59:59+10:30",
    "2024-10-06T02:30:00+11:00" },
  { "London was an hour ahead at the epoch", LON, 0, "1970-01-01T00:59:59+01:00",
    "1970-01-01T01:00:00+01:00" },
};

static void
as_published (void **state)
{
  const PublishedRow *row = *state;
  g_autoptr (SwZone) zone = zone_of (row->zone);
  SwInstant at = { row->second * SW_US_PER_SECOND };
  SwInstant before = { at.us - SW_US_PER_SECOND };
  g_autofree char *at_text = sw_instant_to_text (at, zone);
  g_autofree char *before_text = sw_instant_to_text (before, zone);
  assert_string_equal (at_text, row->at);
  assert_string_equal (before_text, row->before);
  /* An offset in the text decides, also within a fold. */
  SwInstant back = { 1 };
  assert_true (sw_moment_parse (row->at, zone, &back, NULL, NULL));
  assert_i64_equal (back.us, at.us);
  assert_true (sw_moment_parse (row->before, zone, &back, NULL, NULL));
  assert_i64_equal (back.us, before.us);
}

/* Rules that no zone of the database has in its last line, but a file may (RFC 8536, 3.3; POSIX.1-
 * 2017, 8.3): days counted through the year, with and without the leap day, at any second. Each
 * change lies within its year in UTC too, for glibc looks no further. */
typedef struct
{
  const char *label;
  const char *rule;
} RuleRow;

static const RuleRow rule_rows[] = {
  { "days without the leap day", "AAA3BBB,J60/2,J300/3" },
  { "the day before the leap day", "AAA3BBB,J59,J301" },
  { "days with the leap day", "AAA3BBB,59/2,299/3" },
  { "the first and the last day", "AAA-10BBB-12:30,0/12,J365/22" },
  { "seconds", "<-0430>4:30:15<-0315>3:15:45,J61/1:02:03,305/23:59:59" },
  { "the day before and the day after", "AAA3BBB,M3.5.0/-1,M10.5.0/26:30" },
  { "saving over the turn of the year", "AAA-3BBB,J305/2,J32/2" },
  { "no saving", "AAA7" },
};

static void
append_block (GString *to)
{
  static const char counts[] = "\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0\1\0\0\0\4";

  g_string_append_len (to, "TZif2\0\0\0\0\0\0\0\0\0\0\0\0\0\0\0", 20);
  g_string_append_len (to, counts, 24);
  g_string_append_len (to, "\0\0\0\0\0\0AAA\0", 10);
}

/* A zone file that lists no change and ends in the rule. */
static SwZone *
zone_by_rule (const char *rule)
{
  g_autofree char *folder = g_dir_make_tmp ("sw-zones-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "Ruled", NULL);
  g_autoptr (GString) bytes = g_string_new (NULL);
  SwZone *zone;

  append_block (bytes);
  append_block (bytes);
  g_string_append_printf (bytes, "\n%s\n", rule);
  assert_true (g_file_set_contents (path, bytes->str, (gssize)bytes->len, NULL));
  g_setenv ("TZDIR", folder, TRUE);
  zone = zone_of ("Ruled");
  g_unsetenv ("TZDIR");
  g_unlink (path);
  g_rmdir (folder);
  return zone;
}

/* Every half-hour of six years, a leap year among them, as the C library reads the same rule. */
static void
as_the_c_library_says (void **state)
{
  const RuleRow *row = *state;
  g_autoptr (SwZone) zone = zone_by_rule (row->rule);
  g_autofree char *before = g_strdup (g_getenv ("TZ"));

  g_setenv ("TZ", row->rule, TRUE);
  tzset ();
  for (gint64 second = 1672531200; second < 1672531200 + 6 * 365 * 86400; second += 1800)
    {
      time_t time = (time_t)second;
      struct tm tm;
      int offset = -1;

      assert_non_null (localtime_r (&time, &tm));
      sw_civil_from_instant ((SwInstant){ second * SW_US_PER_SECOND }, zone, &offset);
      if (offset != tm.tm_gmtoff)
        print_error ("%s at %" G_GINT64_FORMAT "\n", row->rule, second);
      assert_i64_equal (offset, tm.tm_gmtoff);
    }
  g_setenv ("TZ", before != NULL ? before : "", TRUE);
  tzset ();
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, as_the_c_library_says, rule_rows);
  SW_TEST_ROWS (tests, as_zdump_says, zone_rows);
  SW_TEST_ROWS (tests, over_three_centuries, long_rows);
  SW_TEST_ROWS (tests, as_published, published_rows);
  return sw_tests_run (tests, "zones");
}
