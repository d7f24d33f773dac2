/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clock shift of one camera: what must be added to its times to get property time. Match layer,
 * pure. Candidates are the peaks of a histogram of all differences between notes and stops, weighed
 * with a prior that likes no shift, whole hours and whole days; each is then refined under a robust
 * likelihood. */
#pragma once

#include "core/match/params.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

/* A stop of that camera by its own clock. item: what a person decided of it, else SW_WALK_OPEN. */
typedef struct
{
  gint64 first_us, last_us;
  int item;
} SwClockStop;

/* Most modes that are kept. */
#define SW_CLOCK_MODES 6

typedef struct
{
  double shift_s;
  double spread_s;   /* within this mode */
  double log_weight; /* log posterior mass of the mode, up to a constant */
} SwClockMode;

/* Writes up to SW_CLOCK_MODES modes, heaviest first; returns how many (0: nothing to go by). stops:
 * in time order. Only item notes count. */
gsize sw_clock_modes (const SwClockStop *stops, gsize n_stops, const SwWalkNote *notes,
                      gsize n_notes, const SwWalkParams *params, SwClockMode *out_modes);
/* Log density of a shift before any evidence. */
double sw_clock_log_prior (double shift_s);
/* One result from the modes: the heaviest, with the spread over all; known only where the modes
 * beside it hold most. */
SwClockResult sw_clock_settle (const SwClockMode *modes, gsize n);

G_END_DECLS
