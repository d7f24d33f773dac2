/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days, wall-clock times, instants and the way between them, by the system's zone files.
 * Never asks what time it is now, and never which zone the machine is in. */
#include "core/base/civil.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/base/zone.h"

#include <locale.h>
#include <string.h>

#define SECONDS_PER_DAY 86400
#define FIRST_YEAR 1900
#define LAST_YEAR 2199

/* Changes that can matter around one wall-clock time; real zones have one, rarely two. */
#define MAX_STRETCHES 8

static gint64
floor_div (gint64 a, gint64 b)
{
  return a / b - (a % b < 0 ? 1 : 0);
}

/* Days. */

/* Counts from 1 March of a year of 400-year cycles, so that the leap day comes last: the day number
 * of a month's first is then (153 m + 2) / 5. Proleptic Gregorian calendar, ISO 8601-1:2019, 4.2.1;
 * the arithmetic is from memory and tested day by day against the calendar of GLib. */
static gint64
days_from_ymd (gint64 year, int month, int day)
{
  gint64 y = month <= 2 ? year - 1 : year;
  gint64 cycle = floor_div (y, 400);
  gint64 year_of_cycle = y - cycle * 400;
  gint64 month_from_march = (month + 9) % 12;
  gint64 day_of_year = (153 * month_from_march + 2) / 5 + day - 1;
  gint64 day_of_cycle = year_of_cycle * 365 + year_of_cycle / 4 - year_of_cycle / 100 + day_of_year;
  return cycle * 146097 + day_of_cycle - 719468;
}

static void
ymd_from_days (gint64 days, int *out_year, int *out_month, int *out_day)
{
  gint64 shifted = days + 719468;
  gint64 cycle = floor_div (shifted, 146097);
  gint64 day_of_cycle = shifted - cycle * 146097;
  gint64 year_of_cycle
      = (day_of_cycle - day_of_cycle / 1460 + day_of_cycle / 36524 - day_of_cycle / 146096) / 365;
  gint64 day_of_year
      = day_of_cycle - (365 * year_of_cycle + year_of_cycle / 4 - year_of_cycle / 100);
  gint64 month_from_march = (5 * day_of_year + 2) / 153;
  *out_day = (int)(day_of_year - (153 * month_from_march + 2) / 5 + 1);
  *out_month = (int)(month_from_march < 10 ? month_from_march + 3 : month_from_march - 9);
  *out_year = (int)(year_of_cycle + cycle * 400 + (*out_month <= 2 ? 1 : 0));
}

SwDay
sw_day_from_ymd (int year, int month, int day)
{
  return (SwDay){ (gint32)days_from_ymd (year, month, day) };
}

void
sw_day_to_ymd (SwDay day, int *out_year, int *out_month, int *out_day)
{
  int year, month, date;
  ymd_from_days (day.n, &year, &month, &date);
  if (out_year != NULL)
    *out_year = year;
  if (out_month != NULL)
    *out_month = month;
  if (out_day != NULL)
    *out_day = date;
}

SwDay
sw_day_of_instant (SwInstant instant, const SwZone *zone)
{
  SwCivil civil = sw_civil_from_instant (instant, zone, NULL);
  return sw_day_from_ymd (civil.year, civil.month, civil.day);
}

/* The stretches in which the wall clock can show 'wall', a time as if in UTC. */
static gsize
stretches_around (const SwZone *zone, gint64 wall, SwZoneStretch *out_stretches)
{
  return sw_zone_stretches (zone, wall - SW_ZONE_OFFSET_MAX, wall + SW_ZONE_OFFSET_MAX,
                            out_stretches, MAX_STRETCHES);
}

/* Not midnight, which may never come or come twice: the first moment at which the calendar shows
 * the day, or a later one where the day itself was left out. */
SwInstant
sw_day_start (SwDay day, const SwZone *zone)
{
  SwZoneStretch stretches[MAX_STRETCHES];
  gint64 midnight = (gint64)day.n * SECONDS_PER_DAY;
  gsize n = stretches_around (zone, midnight, stretches);
  for (gsize i = 0; i < n; i++)
    {
      gint64 start = MAX (stretches[i].from, midnight - stretches[i].offset_s);
      if (start < stretches[i].to)
        return (SwInstant){ start * SW_US_PER_SECOND };
    }
  g_assert_not_reached (); /* the last stretch has no end */
}

/* Wall-clock times. */

static int
days_in_month (int year, int month)
{
  static const int lengths[] = { 31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31 };
  gboolean leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
  return lengths[month - 1] + (month == 2 && leap ? 1 : 0);
}

gboolean
sw_civil_valid (SwCivil civil)
{
  return civil.year >= 1 && civil.year <= 9999 && civil.month >= 1 && civil.month <= 12
         && civil.day >= 1 && civil.day <= days_in_month (civil.year, civil.month)
         && civil.hour >= 0 && civil.hour <= 23 && civil.minute >= 0 && civil.minute <= 59
         && civil.second >= 0 && civil.second <= 59 && civil.micro >= 0
         && civil.micro < SW_US_PER_SECOND;
}

gint64
sw_civil_to_us (SwCivil civil)
{
  gint64 seconds = days_from_ymd (civil.year, civil.month, civil.day) * SECONDS_PER_DAY
                   + civil.hour * 3600 + civil.minute * 60 + civil.second;
  return seconds * SW_US_PER_SECOND + civil.micro;
}

SwCivil
sw_civil_from_us (gint64 us)
{
  gint64 seconds = floor_div (us, SW_US_PER_SECOND);
  gint64 days = floor_div (seconds, SECONDS_PER_DAY);
  int of_day = (int)(seconds - days * SECONDS_PER_DAY);
  SwCivil civil = {
    .hour = of_day / 3600,
    .minute = of_day / 60 % 60,
    .second = of_day % 60,
    .micro = (int)(us - seconds * SW_US_PER_SECOND),
  };
  ymd_from_days (days, &civil.year, &civil.month, &civil.day);
  return civil;
}

SwInstant
sw_civil_at_offset (SwCivil civil, int offset_s)
{
  return (SwInstant){ sw_civil_to_us (civil) - offset_s * SW_US_PER_SECOND };
}

SwInstant
sw_civil_to_instant (SwCivil civil, const SwZone *zone, SwCivilKind *out_kind)
{
  SwZoneStretch stretches[MAX_STRETCHES];
  gint64 wall = floor_div (sw_civil_to_us (civil), SW_US_PER_SECOND);
  gsize n = stretches_around (zone, wall, stretches);
  gsize n_times = 0, first = 0, skipped = 0;
  for (gsize i = 0; i < n; i++)
    {
      gint64 second = wall - stretches[i].offset_s;
      if (second >= stretches[i].from && second < stretches[i].to && n_times++ == 0)
        first = i;
      /* Past the end of its own stretch and before the start of the next: the change left it out.
       */
      if (i + 1 < n && second >= stretches[i].to
          && wall - stretches[i + 1].offset_s < stretches[i + 1].from)
        skipped = i;
    }
  if (out_kind != NULL)
    *out_kind = n_times == 0 ? SW_CIVIL_GAP : n_times == 1 ? SW_CIVIL_PLAIN : SW_CIVIL_FOLD;
  /* The offset before the gap carries a skipped time past the change by as much as it lies in it.
   */
  return sw_civil_at_offset (civil, stretches[n_times == 0 ? skipped : first].offset_s);
}

SwCivil
sw_civil_from_instant (SwInstant instant, const SwZone *zone, int *out_offset_s)
{
  int offset = sw_zone_offset_at (zone, floor_div (instant.us, SW_US_PER_SECOND));
  if (out_offset_s != NULL)
    *out_offset_s = offset;
  return sw_civil_from_us (instant.us + offset * SW_US_PER_SECOND);
}

/* Reading. */

/* Exactly n digits at *p; moves on. */
static gboolean
take_number (const char **p, int n, int *out)
{
  int value = 0;
  for (int i = 0; i < n; i++, (*p)++)
    {
      if (!g_ascii_isdigit (**p))
        return FALSE;
      value = value * 10 + (**p - '0');
    }
  *out = value;
  return TRUE;
}

static gboolean
take_char (const char **p, const char *any_of)
{
  if (**p == '\0' || strchr (any_of, **p) == NULL)
    return FALSE;
  (*p)++;
  return TRUE;
}

static gboolean
take_date (const char **p, SwCivil *civil)
{
  return take_number (p, 4, &civil->year) && take_char (p, "-") && take_number (p, 2, &civil->month)
         && take_char (p, "-") && take_number (p, 2, &civil->day);
}

/* Digits past a microsecond are dropped. */
static gboolean
take_fraction (const char **p, int *out_micro)
{
  int micro = 0, n = 0;
  for (; g_ascii_isdigit (**p); (*p)++, n++)
    if (n < 6)
      micro = micro * 10 + (**p - '0');
  for (int i = n; i < 6; i++)
    micro *= 10;
  *out_micro = micro;
  return n > 0;
}

static gboolean
take_time (const char **p, SwCivil *civil)
{
  if (!take_number (p, 2, &civil->hour) || !take_char (p, ":")
      || !take_number (p, 2, &civil->minute))
    return FALSE;
  if (!take_char (p, ":"))
    return TRUE;
  if (!take_number (p, 2, &civil->second))
    return FALSE;
  return take_char (p, ".,") ? take_fraction (p, &civil->micro) : TRUE;
}

/* "Z" or "+hh:mm". */
static gboolean
take_offset (const char **p, int *out_offset_s)
{
  if (take_char (p, "Zz"))
    {
      *out_offset_s = 0;
      return TRUE;
    }
  int sign = **p == '-' ? -1 : 1;
  int hours, minutes;
  if (!take_char (p, "+-") || !take_number (p, 2, &hours) || !take_char (p, ":")
      || !take_number (p, 2, &minutes) || hours > 23 || minutes > 59)
    return FALSE;
  *out_offset_s = sign * (hours * 3600 + minutes * 60);
  return TRUE;
}

static gboolean
fail_moment (const char *text, const char *what, const char *why, GError **error)
{
  g_autofree char *shown = sw_text_quote (text);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("The %s %s cannot be read: %s."), _ (what),
               shown, why);
  return FALSE;
}

static gboolean
check_civil (const char *text, const char *what, SwCivil civil, GError **error)
{
  if (!sw_civil_valid (civil))
    return fail_moment (text, what, _ ("no calendar or clock shows that; check its figures"),
                        error);
  if (civil.year < FIRST_YEAR || civil.year > LAST_YEAR)
    return fail_moment (text, what, _ ("its year must lie between 1900 and 2199"), error);
  return TRUE;
}

gboolean
sw_day_parse (const char *text, SwDay *out_day, GError **error)
{
  SwCivil civil = { .month = 1 };
  const char *p = text != NULL ? text : "";
  if (!take_date (&p, &civil) || *p != '\0')
    return fail_moment (text, N_ ("day"), _ ("write year, month and day like 2026-04-05"), error);
  if (!check_civil (text, "day", civil, error))
    return FALSE;
  if (out_day != NULL)
    *out_day = sw_day_from_ymd (civil.year, civil.month, civil.day);
  return TRUE;
}

gboolean
sw_moment_parse (const char *text, const SwZone *zone, SwInstant *out_instant,
                 gboolean *out_day_only, GError **error)
{
  static const char shape[] = N_ ("write it like 2026-04-05 or 2026-04-05T21:04");
  SwCivil civil = { .month = 1 };
  int offset_s = 0;
  const char *p = text != NULL ? text : "";
  if (!take_date (&p, &civil))
    return fail_moment (text, N_ ("time"), _ (shape), error);
  gboolean day_only = *p == '\0';
  if (!day_only && (!take_char (&p, "Tt ") || !take_time (&p, &civil)))
    return fail_moment (text, N_ ("time"), _ (shape), error);
  gboolean has_offset = *p != '\0';
  if (has_offset && (!take_offset (&p, &offset_s) || *p != '\0'))
    return fail_moment (text, N_ ("time"), _ (shape), error);
  if (!check_civil (text, "time", civil, error))
    return FALSE;
  SwInstant instant
      = has_offset ? sw_civil_at_offset (civil, offset_s) : sw_civil_to_instant (civil, zone, NULL);
  if (day_only)
    instant = sw_day_start (sw_day_from_ymd (civil.year, civil.month, civil.day), zone);
  if (out_instant != NULL)
    *out_instant = instant;
  if (out_day_only != NULL)
    *out_day_only = day_only;
  return TRUE;
}

/* Printing. */

/* Up to six decimals without closing zeros; nothing where there is no fraction. */
static void
append_fraction (GString *text, int micro)
{
  if (micro == 0)
    return;
  g_string_append_printf (text, ".%06d", micro);
  while (text->str[text->len - 1] == '0')
    g_string_truncate (text, text->len - 1);
}

static GString *
civil_text (SwCivil civil)
{
  GString *text = g_string_new (NULL);
  g_string_append_printf (text, "%04d-%02d-%02dT%02d:%02d:%02d", civil.year, civil.month, civil.day,
                          civil.hour, civil.minute, civil.second);
  append_fraction (text, civil.micro);
  return text;
}

char *
sw_day_to_text (SwDay day)
{
  int year, month, date;
  ymd_from_days (day.n, &year, &month, &date);
  return g_strdup_printf ("%04d-%02d-%02d", year, month, date);
}

char *
sw_day_written (SwDay day)
{
  int year, month, date;
  char text[128] = "";
  ymd_from_days (day.n, &year, &month, &date);
  g_autoptr (GDate) gdate = g_date_new_dmy ((GDateDay)date, (GDateMonth)month, (GDateYear)year);
  /* Translators: a day, as strftime (3) writes it: %e day of the month, %B month, %Y year. */
  g_date_strftime (text, sizeof text, C_ ("date", "%e %B %Y"), gdate);
  return g_strdup (g_strstrip (text));
}

char *
sw_day_to_person (SwDay day)
{
  const char *locale = setlocale (LC_TIME, NULL);
  gboolean plain = strcmp (locale, "C") == 0 || strcmp (locale, "POSIX") == 0;
  return plain ? sw_day_to_text (day) : sw_day_written (day);
}

char *
sw_civil_to_text (SwCivil civil)
{
  return g_string_free (civil_text (civil), FALSE);
}

char *
sw_instant_to_text (SwInstant instant, const SwZone *zone)
{
  int offset = sw_zone_offset_at (zone, floor_div (instant.us, SW_US_PER_SECOND));
  /* Early local mean times have offsets with seconds, which the format cannot hold: the nearest
   * minute is written, with the wall clock that makes the same instant, as RFC 3339 (Klyne and
   * Newman, 2002), 5.8, does in its last example. */
  int minutes = (int)floor_div (offset + 30, 60);
  GString *text = civil_text (sw_civil_from_us (instant.us + minutes * 60 * SW_US_PER_SECOND));
  g_string_append_printf (text, "%c%02d:%02d", minutes < 0 ? '-' : '+', ABS (minutes) / 60,
                          ABS (minutes) % 60);
  return g_string_free (text, FALSE);
}
