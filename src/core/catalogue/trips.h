/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trips: stays at the property, numbered 1, 2, 3 in the order added. Records of the catalogue
 * layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id; /* the trip's number */
  char *title, *note;
  SwDay first, last;
} SwTrip;
void sw_trip_free (SwTrip *trip);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwTrip, sw_trip_free)

/* REFUSED: last before first; days that overlap another trip's. */
gboolean sw_trip_add (SwCatalogue *catalogue, const char *title, SwDay first, SwDay last,
                      gint64 *out_number, GError **error);
/* NULL fields stay as they are; the rules of adding hold. Photos and items stay with their trip. */
typedef struct
{
  const char *title, *note; /* note may be "" and have several lines */
  const SwDay *first, *last;
} SwTripChange;
gboolean sw_trip_change (SwCatalogue *catalogue, gint64 number, const SwTripChange *change,
                         GError **error);
/* NOT_FOUND with the trips there are. */
SwTrip *sw_trip_get (SwCatalogue *catalogue, gint64 number, GError **error);
/* GPtrArray of SwTrip by number. Transfer full. */
GPtrArray *sw_trip_list (SwCatalogue *catalogue, GError **error);
/* The trip whose days hold 'day', 0 for none. */
gboolean sw_trip_of_day (SwCatalogue *catalogue, SwDay day, gint64 *out_number, GError **error);
/* The trip whose period (first day to the day before the next trip's first; the last one's has no
 * end) holds 'day'; 0 before the first. Works on the list, so that callers that step over many rows
 * read it once. Trips may be added in any order. */
gint64 sw_trip_period (const GPtrArray *trips, SwDay day);
/* The first trip of the list that begins after the day; NULL: none. Transfer none. */
const SwTrip *sw_trip_next (const GPtrArray *trips, SwDay day);
/* The trip that runs on that day, else the next one; 0: none. */
gboolean sw_trip_at_hand (SwCatalogue *catalogue, SwDay day, gint64 *out_number, GError **error);

G_END_DECLS
