/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times as text: Exif's own fields and the patterns that phones put into file names. Pure. */
#include "core/intake/metadata.h"

#include <string.h>

/* 'n' digits, a blank counting as a zero in front (cameras write "2004: 7: 2"). -1 for anything
 * else. */
static int
number_at (const char *p, int n)
{
  int v = 0;
  gboolean seen = FALSE;

  for (int i = 0; i < n; i++)
    {
      if (p[i] == ' ' && !seen)
        continue;
      if (!g_ascii_isdigit (p[i]))
        return -1;
      seen = TRUE;
      v = v * 10 + (p[i] - '0');
    }
  return seen ? v : -1;
}

static gboolean
is_blank (const char *text)
{
  for (; *text != '\0'; text++)
    if (strchr (" :-/.0T", *text) == NULL)
      return FALSE;
  return TRUE;
}

gboolean
sw_exif_time_parse (const char *text, SwCivil *out, gboolean *out_blank)
{
  SwCivil c = { 0 };

  *out_blank = is_blank (text);
  if (*out_blank || strlen (text) < 19)
    return FALSE;
  if (strchr (":-/.", text[4]) == NULL || strchr (":-/.", text[7]) == NULL
      || strchr (" T:", text[10]) == NULL || strchr (":.", text[13]) == NULL
      || strchr (":.", text[16]) == NULL)
    return FALSE;
  c.year = number_at (text, 4);
  c.month = number_at (text + 5, 2);
  c.day = number_at (text + 8, 2);
  c.hour = number_at (text + 11, 2);
  c.minute = number_at (text + 14, 2);
  c.second = number_at (text + 17, 2);
  if (c.year < 1900 || c.hour < 0 || c.minute < 0 || c.second < 0 || !sw_civil_valid (c))
    return FALSE;
  *out = c;
  return TRUE;
}

gboolean
sw_exif_offset_parse (const char *text, int *out_seconds)
{
  int hours, minutes;

  if (strlen (text) < 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':')
    return FALSE;
  if (!g_ascii_isdigit (text[1]) || !g_ascii_isdigit (text[4]))
    return FALSE;
  hours = number_at (text + 1, 2);
  minutes = number_at (text + 4, 2);
  if (hours < 0 || hours > 15 || minutes < 0 || minutes > 59)
    return FALSE;
  *out_seconds = (hours * 3600 + minutes * 60) * (text[0] == '-' ? -1 : 1);
  return TRUE;
}

/* Patterns: Y M D h m s are digits, '?' is one of "-_. :T" or a space, 'f' a digit of the fraction,
 * 'a' and 't' are themselves; a digit must not stand before or after the match. Longest first. What
 * the makers of phones use is common practice, not a standard. */
static const char *const patterns[] = {
  "YYYYMMDD?hhmmssfff",     /* 20260405_101530123 */
  "YYYYMMDD?hhmmss",        /* IMG_20260405_101530 */
  "YYYY?MM?DD?hh?mm?ss",    /* 2026-04-05 10.15.30 */
  "YYYY?MM?DD?hhmmss",      /* 2026-04-05-101530 */
  "YYYY?MM?DD?at?hh?mm?ss", /* 2026-04-05 at 10.15.30 */
  "YYYYMMDD?hh?mm?ss",      /* 20260405_10_15_30 */
  "YYYYMMDDhhmmssfff",
  "YYYYMMDDhhmmss",
  "YYYYMMDD", /* IMG-20260405-0003: the day alone */
  "YYYY?MM?DD",
};

static int *
field_of (SwCivil *c, char letter)
{
  switch (letter)
    {
    case 'Y':
      return &c->year;
    case 'M':
      return &c->month;
    case 'D':
      return &c->day;
    case 'h':
      return &c->hour;
    case 'm':
      return &c->minute;
    case 's':
      return &c->second;
    default:
      return &c->micro;
    }
}

static gboolean
match_at (const char *p, const char *pattern, SwCivil *out)
{
  SwCivil c = { 0 };

  for (; *pattern != '\0'; pattern++, p++)
    {
      int *field;

      if (*pattern == '?')
        {
          if (*p == '\0' || strchr ("-_. :T", *p) == NULL)
            return FALSE;
          continue;
        }
      if (*pattern == 'a' || *pattern == 't')
        {
          if (*p != *pattern)
            return FALSE;
          continue;
        }
      if (!g_ascii_isdigit (*p))
        return FALSE;
      field = field_of (&c, *pattern);
      *field = *field * 10 + (*p - '0');
    }
  c.micro *= 1000;
  if (g_ascii_isdigit (*p) || c.year < 1990 || c.year > 2199 || !sw_civil_valid (c))
    return FALSE;
  *out = c;
  return TRUE;
}

gboolean
sw_name_time_parse (const char *name, SwCivil *out, gboolean *out_day_only)
{
  g_autofree char *base = g_path_get_basename (name);

  for (gsize i = 0; i < G_N_ELEMENTS (patterns); i++)
    for (const char *p = base; *p != '\0'; p++)
      {
        SwCivil c;

        if (p > base && g_ascii_isdigit (p[-1]))
          continue;
        if (!match_at (p, patterns[i], &c))
          continue;
        *out_day_only = strchr (patterns[i], 'h') == NULL;
        if (*out_day_only)
          c.hour = 12;
        *out = c;
        return TRUE;
      }
  return FALSE;
}
