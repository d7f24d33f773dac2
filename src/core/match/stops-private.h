/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stops.c and camera-clocks.c share of a proposal in the making. Not for anyone else. */
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
  GArray *stops;             /* SwStop */
  gint64 *clock_us;          /* after repair, by its own clock */
  int *camera;               /* whose clock it is read by */
  gboolean *usable;          /* has a time at all */
  gboolean *vague;           /* weak, and not borne out by its neighbours */
  int lead;                  /* the camera with most photos, -1: none */
  gboolean alone;            /* all photos are of one camera */
  const SwWalkParams *known; /* the person's habits where they are known, else NULL */
} SwStopsWork;

/* The proposal that could be made by who knew the person's habits beforehand: nothing is learned,
 * nothing pruned. The yardstick of the tests. Transfer full. */
SwProposal *sw_stops_propose_known (const SwWalk *walk, const SwWalkParams *params);

int sw_stops_compare_photos (gconstpointer a, gconstpointer b); /* SwModelPhoto, by time */
/* Photos of that camera (SwModelPhoto) by its own clock plus shift, in time order; the vague ones
 * or the others. Transfer full. */
GArray *sw_stops_photos_of (const SwStopsWork *work, int camera, gboolean vague, double shift_s);
/* Fills the proposal's clock of that camera. The lead camera's comes first. */
void sw_stops_find_clock (SwStopsWork *work, int camera);

G_END_DECLS
