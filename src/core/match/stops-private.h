/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stops.c shares of a proposal in the making with the files named below. Not for anyone else.
 */
#pragma once

#include "core/match/model-private.h"
#include "core/match/stops.h"

G_BEGIN_DECLS

/* States this far below the best of their column are dropped. */
#define SW_STOPS_BEAM 1e-9

typedef struct
{
  const SwWalk *walk;
  SwProposal *proposal;
  GArray *stops;    /* SwStop */
  gint64 *clock_us; /* after repair, by its own clock */
  int *camera;      /* whose clock it is read by */
  gboolean *usable; /* has a time at all */
  gboolean *vague;  /* weak, and not borne out by its neighbours */
  gint64 *lean_us;  /* what a photo's clock has beyond its camera's shift */
  int *set;         /* which of its camera's sets a photo stands in, -1: none */
  GArray *parts;    /* SwClockPart, by camera and photo */
  /* Of each camera: spread from a drift or a change that may be, but was not taken. */
  double *doubt_s;
  int lead;                  /* the camera with most photos, -1: none */
  gboolean alone;            /* all photos are of one camera */
  const SwWalkParams *known; /* the person's habits where they are known, else NULL */
} SwStopsWork;

/* The proposal that could be made by who knew the person's habits beforehand: nothing is learned,
 * nothing pruned. The yardstick of the tests. Transfer full. */
SwProposal *sw_stops_propose_known (const SwWalk *walk, const SwWalkParams *params);

/* stops-times.c: fills clock_us, camera, usable and vague. */
void sw_stops_repair_times (SwStopsWork *work);

/* camera-clocks.c. */
int sw_stops_compare_photos (gconstpointer a, gconstpointer b); /* SwModelPhoto, by time */
/* Photos of that camera (SwModelPhoto) by its own clock plus what it leans plus shift, in time
 * order; the vague ones or the others; those whose shift a person set from some photo on left out.
 * Transfer full. */
GArray *sw_stops_photos_of (const SwStopsWork *work, int camera, gboolean vague, double shift_s);
/* All of them, the set ones too, in property time by the clocks found. Transfer full. */
GArray *sw_stops_placed_photos (const SwStopsWork *work, int camera, gboolean vague);
/* Property time of photo i by the clocks found; its time must be usable. */
gint64 sw_stops_place (const SwStopsWork *work, guint i);
/* Fills the proposal's clocks of all cameras that have a name or a shift set by the person. */
void sw_stops_find_clocks (SwStopsWork *work);

/* stops-join.c: joins the stops that are one, and puts them in the order in which the catalogue
 * lists them. */
void sw_stops_join (SwStopsWork *work);
/* New things without a place lie where the nearer of the stops around them does. */
void sw_stops_place_new (SwProposal *proposal);

/* band.c: what can be said of a finished stop. */
SwBand sw_stops_band (const SwStopsWork *work, const SwStop *stop);

G_END_DECLS
