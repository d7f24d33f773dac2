/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Civil time: days, wall-clock times, instants, IANA zones. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A calendar day: days since 1970-01-01 (proleptic Gregorian). */
typedef struct
{
  gint32 n;
} SwDay;

/* An instant: microseconds since 1970-01-01T00:00:00Z. */
typedef struct
{
  gint64 us;
} SwInstant;

/* A wall-clock time without a zone. month 1-12, day 1-31, hour 0-23, second 0-59. */
typedef struct
{
  int year, month, day, hour, minute, second;
  int micro;
} SwCivil;

#define SW_US_PER_SECOND G_GINT64_CONSTANT (1000000)

typedef struct _SwZone SwZone; /* immutable: threads may share one */

typedef enum
{
  SW_CIVIL_PLAIN, /* happens once */
  SW_CIVIL_GAP,  /* never happens: skipped by a clock change; moved forward by the length of the gap
                  */
  SW_CIVIL_FOLD, /* happens twice; the first is taken */
} SwCivilKind;

/* IANA name ("Pacific/Auckland"), read from the system's zone files ($TZDIR, else
 * /usr/share/zoneinfo). Error: BAD_INPUT for an unknown one. */
SwZone *sw_zone_new (const char *name, GError **error);
const char *sw_zone_name (const SwZone *zone);
void sw_zone_free (SwZone *zone);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwZone, sw_zone_free)

/* Whether such a moment stands in the calendar, years 1 to 9999; no leap seconds. */
gboolean sw_civil_valid (SwCivil civil);
/* The instant at which clocks of the zone show it. *out_kind (may be NULL) says whether they do so
 * once, never or twice. */
SwInstant sw_civil_to_instant (SwCivil civil, const SwZone *zone, SwCivilKind *out_kind);
/* The instant at which a clock that many seconds east of UTC shows it. */
SwInstant sw_civil_at_offset (SwCivil civil, int offset_s);
/* What clocks of the zone show then; *out_offset_s (may be NULL): seconds east of UTC. */
SwCivil sw_civil_from_instant (SwInstant instant, const SwZone *zone, int *out_offset_s);
/* Counts as if in UTC: for arithmetic on camera clocks. */
gint64 sw_civil_to_us (SwCivil civil);
SwCivil sw_civil_from_us (gint64 us);

/* month 1 to 12; a day past the end of its month counts on into the next. */
SwDay sw_day_from_ymd (int year, int month, int day);
void sw_day_to_ymd (SwDay day, int *out_year, int *out_month,
                    int *out_day); /* out pointers may be NULL */
/* The day in the zone. */
SwDay sw_day_of_instant (SwInstant instant, const SwZone *zone);
/* The first moment of the day; where clocks skipped midnight, the moment they skipped to. */
SwInstant sw_day_start (SwDay day, const SwZone *zone);
/* "YYYY-MM-DD" of ISO 8601, years 1900 to 2199. Error: BAD_INPUT. */
gboolean sw_day_parse (const char *text, SwDay *out_day, GError **error);
char *sw_day_to_text (SwDay day);
/* A day written out with the name of its month, by the process's locale: "14 August 2026". Transfer
 * full. */
char *sw_day_written (SwDay day);
/* As sentences and sheets for a person write a day: written out. A command keeps the C locale for
 * days, so there it is sw_day_to_text (). Transfer full. */
char *sw_day_to_person (SwDay day);

/* ISO 8601 extended: "2026-04-05", "2026-04-05T21:04", "...:07", "...:07.25", a space for the T
 * allowed, zone "Z" or "+12:00" or none. A day alone is its first moment with *out_day_only TRUE. A
 * time without a zone is property time. Out pointers may be NULL. Error: BAD_INPUT. */
gboolean sw_moment_parse (const char *text, const SwZone *zone, SwInstant *out_instant,
                          gboolean *out_day_only, GError **error);
/* ISO 8601 with offset, fraction only if not zero: "2026-04-05T21:04:07+12:00". Transfer full. */
char *sw_instant_to_text (SwInstant instant, const SwZone *zone);
/* "YYYY-MM-DDTHH:MM:SS[.f]", no offset. Transfer full. */
char *sw_civil_to_text (SwCivil civil);

G_END_DECLS
