/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Days and moments as a person types them: "30 Nov", "Sunday 20:00". Base layer. */
#pragma once

#include "core/base/civil.h"

G_BEGIN_DECLS

/* Reads, in the zone and as seen at 'now':
 * - ISO 8601 as sw_moment_parse does; a day alone is refused, since offers close at a time;
 * - "20:00": the next time it is that;
 * - "Sun 20:00", "sunday 20:00:20": the next such day and time; English names and those of the
 *   person's locale, three letters and more;
 * - "12 Apr 20:00", "April 12 20:00", "12 Apr 2027 20:00": without a year the next such day;
 * - "+10 20:00", "in 10 days 20:00": that many days on.
 * "20.00", "20h", "8pm" and "8:30 pm" are times too. Error: BAD_INPUT with an example, also for a
 * time that the zone's clocks skip on that day. */
gboolean sw_plain_time_parse (const char *text, SwInstant now, const SwZone *zone,
                              SwInstant *out_instant, GError **error);

/* Which day is meant where the year is left out. */
typedef enum
{
  SW_DAY_NEAR,  /* the nearest one; of two as near the later */
  SW_DAY_AHEAD, /* today or later: days until which, or by which, something holds */
} SwDayLean;

/* A day as a person sees it written, and as people shorten it, seen from today:
 * - ISO 8601, "2026-11-30";
 * - written out as sw_day_written does, "30 November 2026", in any order, with the beginning of the
 *   month's name (three letters and more), in English or by the locale; a day of the week may stand
 *   with it where it is the right one;
 * - in figures, "30.11.2026", "30/11/26": with points the day comes first, else in the order of the
 *   locale's own dates (LC_TIME); where that is not known, and two days could be meant, it is
 *   refused;
 * - each of them without the year. A year of two figures is the one nearest to today.
 * Figures may be those of any script. Error: BAD_INPUT with an example, also for a day that no
 * calendar has or of a year outside 1900 to 2199. */
gboolean sw_day_from_person (const char *text, SwDay today, SwDayLean lean, SwDay *out_day,
                             GError **error);

/* "20 s", "2 min", "1:30" (minutes and seconds), "90" (seconds), "1 h": the step between closings,
 * in seconds, 0 to 86400. Error: BAD_INPUT. */
gboolean sw_plain_step_parse (const char *text, gint64 *out_seconds, GError **error);

G_END_DECLS
