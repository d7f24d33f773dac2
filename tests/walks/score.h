/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a proposal does against the truth, and what simpler ways would have done. */
#pragma once

#include "core/match/stops.h"
#include "walkgen.h"

G_BEGIN_DECLS

typedef struct
{
  double photos, right;          /* right: the true item, or 'new' where the thing has no note */
  double held;                   /* right, and a new thing's photo in the stop of its thing */
  double nearest_right;          /* nearest note in time, given the same shift */
  double sure, sure_right;       /* photos in stops called sure; of them held */
  double hits, ours, truly;      /* boundaries: found and true, found, true */
  double fixed_hits, fixed_ours; /* the same by the fixed 60 s rule */
  double clocks, clocks_near;    /* cameras with evidence; within 5 s of the truth */
  double clocks_wrong;           /* a minute wrong with a spread under 10 s */
  double clocks_spread;          /* within 5 s or twice the spread claimed */
  double square;                 /* sum of (probability - held)^2 */
  double bin_p[10], bin_right[10], bin_n[10];
} Score;

void score_add (Score *score, const TrueWalk *truth, const SwProposal *proposal);
gboolean score_in_its_stop (const TrueWalk *truth, const SwProposal *proposal, guint i);
double score_f1 (double hits, double ours, double truly);
double score_calibration_error (const Score *score);

G_END_DECLS
