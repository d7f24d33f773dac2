/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A typed day or moment, word by word: each word is a time, a day, a month, a year or a weekday. */
#include "core/base/plain-time.h"

#include <langinfo.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#define DAY_S 86400
#define MOST_DAYS 3660

static const char *const weekdays[]
    = { "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday" };
static const char *const months[]
    = { "january", "february", "march",     "april",   "may",      "june",
        "july",    "august",   "september", "october", "november", "december" };

/* What was found so far; -1: not said. */
typedef struct
{
  int hour, minute, second;
  int weekday;          /* 0: Monday */
  int day, month, year; /* month 1 to 12 */
  int days_on;
} Found;

static gboolean
refuse (const char *text, const char *why, GError **error)
{
  g_autofree char *quoted = sw_text_quote (text);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("%s %s; type it as Sunday 20:00, 12 Apr 20:00 "
                  "or 2026-04-12 20:00."),
               quoted, why);
  return FALSE;
}

/* Whether 'word' is the beginning, of three letters or more, of the name; or the name itself. */
static gboolean
begins (const char *word, const char *name)
{
  g_autofree char *folded = g_utf8_casefold (name, -1);
  return (g_utf8_strlen (word, -1) >= 3 && g_str_has_prefix (folded, word))
         || (*word != '\0' && g_str_equal (word, folded));
}

/* The person's own word for that day of the week or month, by a date that has it. */
static gboolean
begins_locale (const char *word, int year, int month, int day, const char *format)
{
  g_autoptr (GDateTime) date = g_date_time_new_utc (year, month, day, 0, 0, 0);
  g_autofree char *name = g_date_time_format (date, format);
  return name != NULL && begins (word, name);
}

static gboolean
take_weekday (const char *word, Found *found)
{
  for (int i = 0; i < 7; i++)
    /* 1 January 2024 was a Monday */
    if (begins (word, weekdays[i]) || begins_locale (word, 2024, 1, 1 + i, "%A"))
      {
        found->weekday = i;
        return TRUE;
      }
  return FALSE;
}

static gboolean
take_month (const char *word, Found *found)
{
  for (int i = 0; i < 12; i++)
    if (begins (word, months[i]) || begins_locale (word, 2024, i + 1, 1, "%B"))
      {
        found->month = i + 1;
        return TRUE;
      }
  return FALSE;
}

/* "20:00", "20:00:20", "20.00", "20h", "8pm", "8:30pm" */
static gboolean
take_time (const char *word, Found *found)
{
  int hour, minute = 0, second = 0, end = 0;
  const char *rest;

  if (sscanf (word, "%2d%*1[:.]%2d%*1[:.]%2d%n", &hour, &minute, &second, &end) == 3 && end > 0)
    rest = word + end;
  else if (sscanf (word, "%2d%*1[:.]%2d%n", &hour, &minute, &end) == 2 && end > 0)
    {
      second = 0;
      rest = word + end;
    }
  else if (sscanf (word, "%2d%n", &hour, &end) == 1 && end > 0
           && (g_str_equal (word + end, "h") || g_str_equal (word + end, "am")
               || g_str_equal (word + end, "pm")))
    rest = word + end;
  else
    return FALSE;
  if (!g_ascii_isdigit (*word) || found->hour >= 0)
    return FALSE;
  if (g_str_equal (rest, "pm") || g_str_equal (rest, "am"))
    {
      if (hour < 1 || hour > 12)
        return FALSE;
      hour = hour % 12 + (*rest == 'p' ? 12 : 0);
    }
  else if (*rest != '\0' && !g_str_equal (rest, "h"))
    return FALSE;
  if (hour > 23 || minute > 59 || second > 59 || minute < 0 || second < 0)
    return FALSE;
  found->hour = hour;
  found->minute = minute;
  found->second = second;
  return TRUE;
}

/* "12", "12.", "12th", "+10" */
static gboolean
take_number (const char *word, Found *found)
{
  g_autofree char *digits = g_strdup (word);
  guint64 number;

  for (const char *const *end = (const char *const[]){ ".", "st", "nd", "rd", "th", NULL };
       *end != NULL; end++)
    if (g_str_has_suffix (digits, *end))
      digits[strlen (digits) - strlen (*end)] = '\0';
  if (*word == '+')
    {
      if (!g_ascii_string_to_unsigned (word + 1, 10, 0, MOST_DAYS, &number, NULL))
        return FALSE;
      found->days_on = (int)number;
      return TRUE;
    }
  if (!g_ascii_string_to_unsigned (digits, 10, 1, 2199, &number, NULL))
    return FALSE;
  if (number >= 1900 && found->year < 0)
    found->year = (int)number;
  else if (number <= 31 && found->day < 0)
    found->day = (int)number;
  else
    return FALSE;
  return TRUE;
}

static gboolean
take_word (const char *word, Found *found)
{
  if (g_str_equal (word, "at") || g_str_equal (word, "on"))
    return TRUE;
  return take_time (word, found) || take_number (word, found) || take_month (word, found)
         || take_weekday (word, found);
}

/* "in 10 days" becomes "+10", "8:30 pm" one word. Transfer full. */
static char *
joined (const char *text)
{
  g_autofree char *folded = g_utf8_casefold (text, -1);
  g_autoptr (GRegex) in = g_regex_new ("^in (\\d{1,4}) days?\\b", 0, 0, NULL);
  g_autoptr (GRegex) half = g_regex_new ("(\\d) (am|pm)\\b", 0, 0, NULL);
  g_autofree char *plus = g_regex_replace (in, folded, -1, 0, "+\\1", 0, NULL);

  return g_regex_replace (half, plus, -1, 0, "\\1\\2", 0, NULL);
}

static gboolean
find_words (const char *text, Found *found, GError **error)
{
  g_autofree char *tidy = sw_text_tidy (text);
  g_autofree char *plain = joined (tidy);
  g_auto (GStrv) words = g_strsplit_set (plain, " ,", -1);

  for (char **word = words; *word != NULL; word++)
    if (**word != '\0' && !take_word (*word, found))
      return refuse (text, _ ("is no closing time"), error);
  if (found->hour < 0)
    return refuse (text, _ ("has no time of day"), error);
  if ((found->day >= 0) != (found->month >= 0) || (found->year >= 0 && found->month < 0)
      || (found->days_on >= 0 && (found->day >= 0 || found->weekday >= 0)))
    return refuse (text, _ ("does not say one day"), error);
  return TRUE;
}

/* ---- which moment it is ---- */

/* The first of these days that is real and not over; FALSE: none. */
static gboolean
settle (const Found *found, SwDay day, SwInstant now, const SwZone *zone, SwInstant *out,
        SwCivilKind *out_kind)
{
  SwCivil civil = { .hour = found->hour, .minute = found->minute, .second = found->second };
  sw_day_to_ymd (day, &civil.year, &civil.month, &civil.day);
  *out = sw_civil_to_instant (civil, zone, out_kind);
  return out->us > now.us;
}

static int
weekday_of (SwDay day)
{
  return (((day.n + 3) % 7) + 7) % 7; /* 1 January 1970 was a Thursday */
}

static gboolean
is_day (const Found *found, SwDay day)
{
  int year, month, of_month;
  sw_day_to_ymd (day, &year, &month, &of_month);
  return (found->weekday < 0 || weekday_of (day) == found->weekday)
         && (found->day < 0 || (of_month == found->day && month == found->month))
         && (found->year < 0 || year == found->year);
}

static SwInstant
moment_on (const Found *found, SwDay day, const SwZone *zone, SwCivilKind *out_kind)
{
  SwInstant instant;
  settle (found, day, (SwInstant){ G_MININT64 }, zone, &instant, out_kind);
  return instant;
}

static gboolean
find_moment (const char *text, const Found *found, SwInstant now, const SwZone *zone,
             SwInstant *out, GError **error)
{
  SwDay today = sw_day_of_instant (now, zone);
  SwCivilKind kind = SW_CIVIL_PLAIN;
  SwInstant instant = { 0 };
  gboolean settled = FALSE;

  if (found->days_on >= 0)
    {
      instant = moment_on (found, (SwDay){ today.n + found->days_on }, zone, &kind);
      settled = TRUE;
    }
  else if (found->year >= 0)
    {
      SwCivil civil = { found->year, found->month, found->day, 0, 0, 0, 0 };
      SwDay day = sw_day_from_ymd (found->year, found->month, found->day);
      settled = sw_civil_valid (civil) && is_day (found, day);
      instant = moment_on (found, day, zone, &kind);
    }
  else
    /* eight years hold each day there is, 29 February too */
    for (int on = 0; on <= 8 * 366 && !settled; on++)
      {
        SwDay day = { today.n + on };
        settled = is_day (found, day) && settle (found, day, now, zone, &instant, &kind);
      }
  if (!settled)
    return refuse (text, _ ("is no day there is"), error);
  if (kind == SW_CIVIL_GAP)
    return refuse (text, _ ("never comes: the clocks skip it on that day"), error);
  *out = instant;
  return TRUE;
}

gboolean
sw_plain_time_parse (const char *text, SwInstant now, const SwZone *zone, SwInstant *out_instant,
                     GError **error)
{
  Found found = { -1, 0, 0, -1, -1, -1, -1, -1 };
  gboolean day_only = FALSE;
  SwInstant instant;
  g_autofree char *tidy = sw_text_tidy (text);

  if (sw_moment_parse (tidy, zone, &instant, &day_only, NULL))
    {
      if (day_only)
        return refuse (text, _ ("has no time of day"), error);
      *out_instant = instant;
      return TRUE;
    }
  return find_words (text, &found, error)
         && find_moment (text, &found, now, zone, out_instant, error);
}

/* ---- a day ---- */

#define FIRST_YEAR 1900
#define LAST_YEAR 2199
/* 29 February may be eight years off, around a year that a century leaves without it. */
#define YEARS_AROUND 8

/* What was typed: day and month, and a year or the last two figures of one; -1: not said. */
typedef struct
{
  int day, month, year, short_year, weekday;
} Typed;

typedef enum
{
  NO_DAY,
  TWO_DAYS,
  NOT_THERE,
  NOTHING,
} DayFault;

static gboolean
refuse_day (const char *text, DayFault fault, SwDay today, GError **error)
{
  g_autofree char *quoted = sw_text_quote (text);
  g_autofree char *example = sw_day_written (today);
  g_autofree char *plain = sw_day_to_text (today);
  if (fault == NOTHING)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("Type a day, like %s or %s. The year may be left out."), example, plain);
      return FALSE;
    }
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               fault == TWO_DAYS ? _ ("%s could be two days; write it like %s or %s.")
               : fault == NOT_THERE
                   ? _ ("%s is a day that no calendar has; write it like %s or %s.")
                   : _ ("%s is no day; write it like %s or %s. The year may be left out."),
               quoted, example, plain);
  return FALSE;
}

/* Tidied, folded, figures of any script as ASCII, "30. 11. 2026" closed up. Transfer full. */
static char *
plain_figures (const char *text)
{
  g_autofree char *tidy = sw_text_tidy (text);
  g_autofree char *folded = g_utf8_casefold (tidy, -1);
  g_autoptr (GRegex) gap = g_regex_new ("(?<=[0-9]\\.) (?=[0-9]{1,2}\\.|[0-9]{4}$)", 0, 0, NULL);
  GString *plain = g_string_new (NULL);
  for (const char *p = folded; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      int digit = g_unichar_digit_value (c);
      g_string_append_unichar (plain, digit >= 0 ? (gunichar)('0' + digit) : c);
    }
  g_autofree char *spaced = g_string_free (plain, FALSE);
  return g_regex_replace (gap, spaced, -1, 0, "", 0, NULL);
}

/* Whether the locale writes the month before the day: 1, 0; -1: it does not say. */
static int
month_comes_first (void)
{
  const char *name = setlocale (LC_TIME, NULL);
  if (g_str_equal (name, "POSIX") || g_str_equal (name, "C") || g_str_has_prefix (name, "C."))
    return -1;
  for (const char *p = strchr (nl_langinfo (D_FMT), '%'); p != NULL; p = strchr (p, '%'))
    {
      p += 1 + strspn (p + 1, "-_0^#EO");
      if (*p == 'd' || *p == 'e')
        return 0;
      if (*p != '\0' && strchr ("mbBhD", *p) != NULL)
        return 1;
    }
  return -1;
}

static void
take_year (const char *digits, Typed *typed)
{
  if (*digits == '\0')
    return;
  int *into = strlen (digits) == 4 ? &typed->year : &typed->short_year;
  *into = (int)g_ascii_strtoull (digits, NULL, 10);
}

/* FALSE: not all in figures. *out_two: two days could be meant. */
static gboolean
take_figures (const char *text, Typed *typed, gboolean *out_two)
{
  g_autoptr (GRegex) year_first
      = g_regex_new ("^([0-9]{4})([-./])([0-9]{1,2})\\2([0-9]{1,2})$", 0, 0, NULL);
  g_autoptr (GRegex) year_last
      = g_regex_new ("^([0-9]{1,2})([-./])([0-9]{1,2})(?:\\2([0-9]{4}|[0-9]{2})?)?$", 0, 0, NULL);
  g_autoptr (GMatchInfo) match = NULL, other = NULL;
  gboolean iso = g_regex_match (year_first, text, 0, &match);
  if (!iso && !g_regex_match (year_last, text, 0, &other))
    return FALSE;
  g_autofree char *one = g_match_info_fetch (iso ? match : other, 1);
  g_autofree char *mark = g_match_info_fetch (iso ? match : other, 2);
  g_autofree char *two = g_match_info_fetch (iso ? match : other, 3);
  g_autofree char *three = g_match_info_fetch (iso ? match : other, 4);
  int first = (int)g_ascii_strtoull (iso ? two : one, NULL, 10);
  int second = (int)g_ascii_strtoull (iso ? three : two, NULL, 10);
  int month_first = iso ? 1 : *mark == '.' ? 0 : first > 12 ? 0 : second > 12 ? 1 : -1;
  if (month_first < 0)
    month_first = first == second ? 0 : month_comes_first ();
  *out_two = month_first < 0;
  typed->month = month_first == 1 ? first : second;
  typed->day = month_first == 1 ? second : first;
  take_year (iso ? one : three != NULL ? three : "", typed);
  return TRUE;
}

/* A figure among words: the day, then the year. */
static gboolean
take_figure (const char *word, Typed *typed)
{
  Found found = { -1, 0, 0, -1, typed->day, -1, typed->year, -1 };
  gsize length = strspn (word, "0123456789");
  if (length == 2 && word[2] == '\0' && typed->day >= 0 && typed->month >= 0
      && typed->short_year < 0)
    {
      take_year (word, typed);
      return TRUE;
    }
  if (length == 0 || !take_number (word, &found))
    return FALSE;
  typed->day = found.day;
  typed->year = found.year;
  return TRUE;
}

static gboolean
take_name (const char *word, Typed *typed)
{
  Found found = { -1, 0, 0, -1, -1, -1, -1, -1 };
  g_autofree char *name = g_strdup (word);
  if (g_str_has_suffix (name, "."))
    name[strlen (name) - 1] = '\0';
  if (typed->month < 0 && take_month (name, &found))
    typed->month = found.month;
  else if (typed->weekday < 0 && take_weekday (name, &found))
    typed->weekday = found.weekday;
  else
    return FALSE;
  return TRUE;
}

static gboolean
take_day_words (const char *text, Typed *typed)
{
  g_auto (GStrv) words = g_strsplit_set (text, " ,", -1);
  for (char **word = words; *word != NULL; word++)
    if (**word != '\0' && !take_figure (*word, typed) && !take_name (*word, typed))
      return FALSE;
  return typed->day > 0 && typed->month > 0 && (typed->year < 0 || typed->short_year < 0);
}

/* Whether that year has the day, and it is the day of the week that was typed. */
static gboolean
is_in_year (const Typed *typed, int year, SwDay *out_day)
{
  SwCivil civil = { year, typed->month, typed->day, 0, 0, 0, 0 };
  if (year < FIRST_YEAR || year > LAST_YEAR || !sw_civil_valid (civil))
    return FALSE;
  *out_day = sw_day_from_ymd (year, typed->month, typed->day);
  return typed->weekday < 0 || weekday_of (*out_day) == typed->weekday;
}

static gboolean
find_day (const Typed *typed, SwDay today, SwDayLean lean, SwDay *out_day)
{
  int this_year;
  gint64 least = G_MAXINT64;
  SwDay day;
  sw_day_to_ymd (today, &this_year, NULL, NULL);
  if (typed->year >= 0)
    return is_in_year (typed, typed->year, out_day);
  int around = typed->short_year >= 0 ? 100 : YEARS_AROUND;
  for (int year = this_year - around; year <= this_year + around; year++)
    {
      if ((typed->short_year >= 0 && year % 100 != typed->short_year)
          || !is_in_year (typed, year, &day)
          || (typed->short_year < 0 && lean == SW_DAY_AHEAD && day.n < today.n))
        continue;
      gint64 apart = ABS ((gint64)day.n - today.n);
      if (apart > least || (apart == least && day.n < today.n))
        continue;
      least = apart;
      *out_day = day;
    }
  return least != G_MAXINT64;
}

gboolean
sw_day_from_person (const char *text, SwDay today, SwDayLean lean, SwDay *out_day, GError **error)
{
  Typed typed = { -1, -1, -1, -1, -1 };
  gboolean two = FALSE;
  SwDay day;
  if (text == NULL || !g_utf8_validate (text, -1, NULL) || strlen (text) > SW_TEXT_MAX)
    return refuse_day (text, NO_DAY, today, error);
  g_autofree char *plain = plain_figures (text);
  if (*plain == '\0')
    return refuse_day (text, NOTHING, today, error);
  if (!take_figures (plain, &typed, &two) && !take_day_words (plain, &typed))
    return refuse_day (text, NO_DAY, today, error);
  if (two)
    return refuse_day (text, TWO_DAYS, today, error);
  if (!find_day (&typed, today, lean, &day))
    return refuse_day (text, NOT_THERE, today, error);
  *out_day = day;
  return TRUE;
}

/* ---- a step ---- */

static const struct
{
  const char *unit;
  int seconds;
} units[] = { { "", 1 },        { "s", 1 },    { "sec", 1 },     { "second", 1 },
              { "seconds", 1 }, { "min", 60 }, { "minute", 60 }, { "minutes", 60 },
              { "m", 60 },      { "h", 3600 }, { "hour", 3600 }, { "hours", 3600 } };

gboolean
sw_plain_step_parse (const char *text, gint64 *out_seconds, GError **error)
{
  g_autofree char *tidy = sw_text_tidy (text);
  g_autofree char *quoted = sw_text_quote (text);
  int minutes, seconds, end = 0;
  char *rest = NULL;
  guint64 number;

  if (sscanf (tidy, "%4d:%2d%n", &minutes, &seconds, &end) == 2 && tidy[end] == '\0'
      && g_ascii_isdigit (*tidy) && seconds >= 0 && seconds < 60 && minutes <= DAY_S / 60 - 1)
    {
      *out_seconds = minutes * 60 + seconds;
      return TRUE;
    }
  number = g_ascii_isdigit (*tidy) ? g_ascii_strtoull (tidy, &rest, 10) : G_MAXUINT64;
  for (guint i = 0; number <= DAY_S && i < G_N_ELEMENTS (units); i++)
    if (g_ascii_strcasecmp (g_strstrip (rest), units[i].unit) == 0
        && number * (guint)units[i].seconds <= DAY_S)
      {
        *out_seconds = (gint64)number * units[i].seconds;
        return TRUE;
      }
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("%s is no step between closings; type it as 20 s, 2 min or 1:30."), quoted);
  return FALSE;
}
