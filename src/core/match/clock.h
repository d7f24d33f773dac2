/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clock shift of one camera: what must be added to its times to get property time, as a
 * posterior of modes. Match layer, pure. Candidates are the peaks of all differences between the
 * evidence and the camera's stops, weighed with a prior that likes no shift, whole hours and whole
 * days; each is then summed over a grid under robust likelihoods (clock-likelihood.h). */
#pragma once

#include "core/match/clock-likelihood.h"

G_BEGIN_DECLS

/* Seconds: a clock that is wrong is often wrong by whole hours. */
#define SW_CLOCK_HOUR_S 3600.0
/* Most modes that are kept. */
#define SW_CLOCK_MODES 6

typedef struct
{
  double shift_s;    /* the most likely five seconds of the mode */
  double spread_s;   /* standard deviation within this mode */
  double log_weight; /* log posterior mass of the mode, up to a constant common to all */
  double gain;       /* log likelihood at the top against 'the evidence tells nothing' */
} SwClockMode;

/* Writes up to 'most' modes, heaviest first; returns how many (0: nothing to go by). */
gsize sw_clock_modes (const SwClockEvidence *evidence, SwClockMode *out_modes, gsize most);
/* The same by a first look alone: spreads and weights are rough. */
gsize sw_clock_tries (const SwClockEvidence *evidence, SwClockMode *out_tries, gsize most);
/* sw_clock_modes of the evidence's tries, where those are known. */
gsize sw_clock_modes_of (const SwClockEvidence *evidence, const SwClockMode *tries, gsize n,
                         SwClockMode *out_modes);
/* Shifts by which the photos may lie among the others', by a first look. */
gsize sw_clock_tries_beside (const SwClockEvidence *evidence, SwClockMode *out_tries, gsize most);
/* Heaviest first, those that are one mode with a heavier one left out; returns how many stay. */
gsize sw_clock_sort_modes (SwClockMode *modes, gsize n);
/* The mode whose top is near 'top'. */
SwClockMode sw_clock_weigh (const SwClockEvidence *evidence, double top);
/* About its log_weight, at a third of the cost; not for faces and fixes, which are sharper. Where
 * it seems to be less than 'least' it is told but roughly, at a fifth of that. */
double sw_clock_glance (const SwClockEvidence *evidence, double top, double least);
/* Seconds of a mode that are summed over. Its grid begins at that base; seconds are counted from a
 * whole hour, where the prior is steep. */
#define SW_CLOCK_GRID 91
double sw_clock_grid_base (const SwClockEvidence *evidence, double top);
/* Mass, spread and middle of a mode from the log posterior of each second of its grid; gain is left
 * out. */
SwClockMode sw_clock_sum_mode (const double *log_value, double base);
/* The shift by which the clock is right but for whole hours, nearest to this one. */
double sw_clock_whole_near (const SwClockEvidence *evidence, double shift_s);
/* Log likelihood of the faces and the fixes. */
double sw_clock_anchors_likelihood (const SwClockEvidence *evidence, double shift_s);
/* Log prior of a shift on top of the evidence's bases. */
double sw_clock_log_prior_of (const SwClockEvidence *evidence, double shift_s);
/* Log density of a shift before any evidence. */
double sw_clock_log_prior (double shift_s);
/* Share of mode k in all, 0 to 1. */
double sw_clock_mode_share (const SwClockMode *modes, gsize n, gsize k);
/* One result from the modes: the heaviest, with the spread over all; known only where the modes
 * beside it hold most, or all lie within minutes, and the evidence says more than chance would. */
SwClockResult sw_clock_settle (const SwClockMode *modes, gsize n);

G_END_DECLS
