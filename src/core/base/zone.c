/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads a zone of the IANA database from the system's compiled files: TZif versions 1 to 4 of RFC
 * 8536 (Olson, Eggert and Murchison, 2019) and its successor RFC 9636 (2024).
 *
 * Not GTimeZone: for an unknown name it says UTC, it takes rule text for a name, and it reads a
 * rule with negative saving (Ireland's) the wrong way round, in winter too, where the file stops
 * listing changes. */
#include "core/base/zone.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#include <string.h>

#define SECONDS_PER_DAY 86400
#define MAX_CHANGES 100000

/* From 'at' on the clock is offset_s ahead of UTC. */
typedef struct
{
  gint64 at;
  int offset_s;
} Change;

/* A day of each year and a second of it, counted on the wall clock in force until then. */
typedef struct
{
  char
      kind; /* 'M': week and weekday of a month; 'J': day 1-365 without leap days; '0': day 0-365 */
  int month, week, day;
  int second;
} RuleDay;

struct _SwZone
{
  char *name;
  int first_offset_s; /* before the first change */
  Change *changes;
  gsize n_changes;
  /* What holds for ever after the last change. */
  gboolean has_rule;
  gboolean rule_saves;
  int rule_offset_s, saving_offset_s;
  RuleDay saving_starts, saving_ends;
};

/* The file. */

typedef struct
{
  const guint8 *data;
  gsize left;
} Reader;

static const guint8 *
take (Reader *reader, gsize n)
{
  if (n > reader->left)
    return NULL;
  const guint8 *taken = reader->data;
  reader->data += n;
  reader->left -= n;
  return taken;
}

static guint32
big_endian_32 (const guint8 *p)
{
  return (guint32)p[0] << 24 | (guint32)p[1] << 16 | (guint32)p[2] << 8 | p[3];
}

static gint64
big_endian_time (const guint8 *p, gsize width)
{
  if (width == 4)
    return (gint32)big_endian_32 (p);
  return (gint64)((guint64)big_endian_32 (p) << 32 | big_endian_32 (p + 4));
}

typedef struct
{
  int version;
  gsize n_ut, n_std, n_leaps, n_times, n_types, n_chars;
} Header;

static gboolean
read_header (Reader *reader, Header *header)
{
  const guint8 *p = take (reader, 44);
  if (p == NULL || memcmp (p, "TZif", 4) != 0)
    return FALSE;
  *header = (Header){
    .version = p[4] == 0 ? 1 : p[4] - '0',
    .n_ut = big_endian_32 (p + 20),
    .n_std = big_endian_32 (p + 24),
    .n_leaps = big_endian_32 (p + 28),
    .n_times = big_endian_32 (p + 32),
    .n_types = big_endian_32 (p + 36),
    .n_chars = big_endian_32 (p + 40),
  };
  /* Leap seconds are in the "right" files only, which no camera goes by. */
  return header->n_leaps == 0 && header->n_types > 0 && header->n_types <= 256
         && header->n_times <= MAX_CHANGES && header->n_chars <= 65536 && header->n_ut <= 256
         && header->n_std <= 256;
}

static gsize
block_size (const Header *header, gsize width)
{
  return header->n_times * (width + 1) + header->n_types * 6 + header->n_chars + header->n_std
         + header->n_ut;
}

/* Type records: offset, whether it saves daylight, where its letters stand. */
static gboolean
type_offset (const guint8 *types, gsize i, int *out_offset_s)
{
  gint32 offset = (gint32)big_endian_32 (types + 6 * i);
  if (offset < -SW_ZONE_OFFSET_MAX || offset > SW_ZONE_OFFSET_MAX)
    return FALSE;
  *out_offset_s = offset;
  return TRUE;
}

static gboolean
read_block (Reader *reader, const Header *header, gsize width, SwZone *zone)
{
  const guint8 *times = take (reader, header->n_times * width);
  const guint8 *indices = take (reader, header->n_times);
  const guint8 *types = take (reader, header->n_types * 6);
  const guint8 *rest = take (reader, header->n_chars + header->n_std + header->n_ut);
  if (times == NULL || indices == NULL || types == NULL || rest == NULL
      || !type_offset (types, 0, &zone->first_offset_s))
    return FALSE;
  zone->changes = g_new0 (Change, header->n_times + 1);
  for (gsize i = 0; i < header->n_times; i++)
    {
      Change *change = &zone->changes[i];
      change->at = big_endian_time (times + width * i, width);
      if (indices[i] >= header->n_types || !type_offset (types, indices[i], &change->offset_s)
          || (i > 0 && change->at <= change[-1].at))
        return FALSE;
    }
  zone->n_changes = header->n_times;
  return TRUE;
}

/* The rule for the time after the last change: a TZ text of POSIX (IEEE 1003.1-2017, 8.3) with the
 * hours that RFC 8536, 3.3.1 adds to it. */

static gboolean
take_number (const char **p, int max, int *out)
{
  int value = 0;
  const char *start = *p;
  for (; g_ascii_isdigit (**p); (*p)++)
    {
      value = value * 10 + (**p - '0');
      if (value > max)
        return FALSE;
    }
  *out = value;
  return *p > start;
}

static gboolean
take_char (const char **p, char c)
{
  if (**p != c)
    return FALSE;
  (*p)++;
  return TRUE;
}

/* Letters, or anything between angle brackets. */
static gboolean
take_name (const char **p)
{
  const char *start = *p;
  if (take_char (p, '<'))
    {
      while (**p != '\0' && **p != '>')
        (*p)++;
      return take_char (p, '>');
    }
  while (g_ascii_isalpha (**p))
    (*p)++;
  return *p - start >= 3;
}

/* [+-]h[:mm[:ss]] in seconds. */
static gboolean
take_clock (const char **p, int max_hours, int *out_seconds)
{
  int hours = 0, minutes = 0, seconds = 0;
  gboolean negative = take_char (p, '-');
  if (!negative)
    take_char (p, '+');
  if (!take_number (p, max_hours, &hours))
    return FALSE;
  if (take_char (p, ':') && !take_number (p, 59, &minutes))
    return FALSE;
  if (take_char (p, ':') && !take_number (p, 59, &seconds))
    return FALSE;
  int total = hours * 3600 + minutes * 60 + seconds;
  *out_seconds = negative ? -total : total;
  return TRUE;
}

static gboolean
take_rule_day (const char **p, RuleDay *day)
{
  *day = (RuleDay){ .kind = '0', .second = 2 * 3600 };
  if (!take_char (p, ','))
    return FALSE;
  gboolean read;
  if (take_char (p, 'M'))
    {
      day->kind = 'M';
      read = take_number (p, 12, &day->month) && take_char (p, '.')
             && take_number (p, 5, &day->week) && take_char (p, '.')
             && take_number (p, 6, &day->day) && day->month >= 1 && day->week >= 1;
    }
  else if (take_char (p, 'J'))
    {
      day->kind = 'J';
      read = take_number (p, 365, &day->day) && day->day >= 1;
    }
  else
    read = take_number (p, 365, &day->day);
  return read && (!take_char (p, '/') || take_clock (p, 167, &day->second));
}

static gboolean
read_rule (const char *text, SwZone *zone)
{
  int west = 0;
  const char *p = text;
  if (*p == '\0')
    return TRUE;
  if (!take_name (&p) || !take_clock (&p, 24, &west))
    return FALSE;
  zone->has_rule = TRUE;
  zone->rule_offset_s = -west;
  if (*p == '\0')
    return TRUE;
  zone->rule_saves = TRUE;
  zone->saving_offset_s = zone->rule_offset_s + 3600;
  if (!take_name (&p))
    return FALSE;
  if (*p != ',')
    {
      if (!take_clock (&p, 24, &west))
        return FALSE;
      zone->saving_offset_s = -west;
    }
  return take_rule_day (&p, &zone->saving_starts) && take_rule_day (&p, &zone->saving_ends)
         && *p == '\0';
}

/* The line after the second block. */
static gboolean
read_footer (Reader *reader, SwZone *zone)
{
  if (reader->left < 2 || reader->data[0] != '\n')
    return FALSE;
  const char *start = (const char *)reader->data + 1;
  const char *end = memchr (start, '\n', reader->left - 1);
  if (end == NULL)
    return FALSE;
  g_autofree char *text = g_strndup (start, (gsize)(end - start));
  return read_rule (text, zone);
}

static gboolean
read_zone (const char *data, gsize length, SwZone *zone)
{
  Reader reader = { (const guint8 *)data, length };
  Header header;
  if (!read_header (&reader, &header))
    return FALSE;
  if (header.version < 2)
    return read_block (&reader, &header, 4, zone);
  /* The first block serves readers of 32 bits. */
  return take (&reader, block_size (&header, 4)) != NULL && read_header (&reader, &header)
         && read_block (&reader, &header, 8, zone) && read_footer (&reader, zone);
}

/* Only names below the zone folder: no way up, no absolute path, no empty part. The trees "posix"
 * and "right" are copies, the second one with leap seconds. */
static gboolean
is_zone_name (const char *name)
{
  if (name == NULL || *name == '\0' || strlen (name) > 100)
    return FALSE;
  g_auto (GStrv) parts = g_strsplit (name, "/", -1);
  if (strcmp (parts[0], "posix") == 0 || strcmp (parts[0], "right") == 0)
    return FALSE;
  for (char **part = parts; *part != NULL; part++)
    {
      gsize fit
          = strspn (*part, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-");
      if (fit == 0 || (*part)[fit] != '\0')
        return FALSE;
    }
  return TRUE;
}

static gboolean
load_zone (const char *name, SwZone *zone)
{
  if (!is_zone_name (name))
    return FALSE;
  const char *folder = g_getenv ("TZDIR");
  if (folder == NULL || *folder == '\0')
    folder = "/usr/share/zoneinfo";
  g_autofree char *path = g_build_filename (folder, name, NULL);
  g_autofree char *data = NULL;
  gsize length = 0;
  return g_file_test (path, G_FILE_TEST_IS_REGULAR)
         && g_file_get_contents (path, &data, &length, NULL) && read_zone (data, length, zone);
}

SwZone *
sw_zone_new (const char *name, GError **error)
{
  g_autoptr (SwZone) zone = g_new0 (SwZone, 1);
  zone->name = g_strdup (name);
  if (load_zone (name, zone))
    return g_steal_pointer (&zone);
  g_autofree char *shown = sw_text_quote (name);
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("The time zone %s is not known; give its area and city, such as Pacific/Auckland."),
      shown);
  return NULL;
}

const char *
sw_zone_name (const SwZone *zone)
{
  return zone->name;
}

void
sw_zone_free (SwZone *zone)
{
  if (zone == NULL)
    return;
  g_free (zone->changes);
  g_free (zone->name);
  g_free (zone);
}

/* Changes, listed and ruled. */

static gboolean
is_leap (int year)
{
  return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
}

/* The day of the year's rule. Week 5 is the last one that has such a weekday. */
static gint64
rule_day_number (const RuleDay *rule, int year)
{
  gint64 first = sw_day_from_ymd (year, 1, 1).n;
  if (rule->kind == '0')
    return first + rule->day;
  if (rule->kind == 'J')
    return first + rule->day - 1 + (is_leap (year) && rule->day >= 60 ? 1 : 0);
  gint64 month = sw_day_from_ymd (year, rule->month, 1).n;
  gint64 next = rule->month < 12 ? sw_day_from_ymd (year, rule->month + 1, 1).n
                                 : sw_day_from_ymd (year + 1, 1, 1).n;
  /* 1970-01-01 was a Thursday; weekdays count from Sunday as 0. */
  gint64 weekday = ((month + 4) % 7 + 7) % 7;
  gint64 day = month + (rule->day - weekday + 7) % 7 + 7 * (rule->week - 1);
  while (day >= next)
    day -= 7;
  return day;
}

/* The change of that year into saving or out of it. */
static Change
ruled_change (const SwZone *zone, int year, gboolean into_saving)
{
  const RuleDay *rule = into_saving ? &zone->saving_starts : &zone->saving_ends;
  int until = into_saving ? zone->rule_offset_s : zone->saving_offset_s;
  return (Change){
    .at = rule_day_number (rule, year) * SECONDS_PER_DAY + rule->second - until,
    .offset_s = into_saving ? zone->saving_offset_s : zone->rule_offset_s,
  };
}

/* A year that 'second' lies in or next to; kept within what the calendar here can count. */
static int
year_near (gint64 second)
{
  int year;
  gint64 days = CLAMP (second / SECONDS_PER_DAY, -4000000, 4000000);
  sw_day_to_ymd ((SwDay){ (gint32)days }, &year, NULL, NULL);
  return year;
}

static gboolean
is_past_list (const SwZone *zone, gint64 second)
{
  return zone->has_rule
         && (zone->n_changes == 0 || second >= zone->changes[zone->n_changes - 1].at);
}

/* The latest ruled change up to 'second'. Saving wins a tie: that is how a rule says that it never
 * ends. */
static int
ruled_offset (const SwZone *zone, gint64 second)
{
  if (!zone->rule_saves)
    return zone->rule_offset_s;
  int year = year_near (second);
  Change latest = { G_MININT64, zone->rule_offset_s };
  for (int y = year - 2; y <= year + 1; y++)
    for (int into_saving = 0; into_saving <= 1; into_saving++)
      {
        Change change = ruled_change (zone, y, into_saving);
        if (change.at <= second
            && (change.at > latest.at || (change.at == latest.at && into_saving)))
          latest = change;
      }
  return latest.offset_s;
}

/* How many listed changes lie at or before 'second'. */
static gsize
listed_before (const SwZone *zone, gint64 second)
{
  gsize low = 0, high = zone->n_changes;
  while (low < high)
    {
      gsize middle = low + (high - low) / 2;
      if (zone->changes[middle].at <= second)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

int
sw_zone_offset_at (const SwZone *zone, gint64 second)
{
  if (is_past_list (zone, second))
    return ruled_offset (zone, second);
  gsize n = listed_before (zone, second);
  return n == 0 ? zone->first_offset_s : zone->changes[n - 1].offset_s;
}

/* The first moment after 'second' at which a change stands, listed or ruled; G_MAXINT64 if none. */
static gint64
next_moment (const SwZone *zone, gint64 second)
{
  gsize n = listed_before (zone, second);
  if (n < zone->n_changes)
    return zone->changes[n].at;
  gint64 next = G_MAXINT64;
  int year = year_near (second);
  for (int y = year - 1; zone->rule_saves && y <= year + 2; y++)
    for (int into_saving = 0; into_saving <= 1; into_saving++)
      {
        gint64 at = ruled_change (zone, y, into_saving).at;
        if (at > second && at < next)
          next = at;
      }
  return next;
}

gsize
sw_zone_stretches (const SwZone *zone, gint64 from, gint64 to, SwZoneStretch *out_stretches,
                   gsize max)
{
  gsize n = 0;
  out_stretches[n++] = (SwZoneStretch){ G_MININT64, G_MAXINT64, sw_zone_offset_at (zone, from) };
  for (gint64 at = next_moment (zone, from); at <= to && n < max; at = next_moment (zone, at))
    {
      int offset_s = sw_zone_offset_at (zone, at);
      if (offset_s == out_stretches[n - 1].offset_s)
        continue;
      out_stretches[n - 1].to = at;
      out_stretches[n++] = (SwZoneStretch){ at, G_MAXINT64, offset_s };
    }
  return n;
}
