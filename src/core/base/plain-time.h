/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Moments as a person types them beside an outlet's page: "Sunday 20:00". Base layer. */
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

/* "20 s", "2 min", "1:30" (minutes and seconds), "90" (seconds), "1 h": the step between closings,
 * in seconds, 0 to 86400. Error: BAD_INPUT. */
gboolean sw_plain_step_parse (const char *text, gint64 *out_seconds, GError **error);

G_END_DECLS
