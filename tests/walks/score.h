/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a proposal does against the truth, and what simpler ways would have done. */
#pragma once

#include "core/match/stops.h"
#include "walkgen.h"

G_BEGIN_DECLS

/* Sums over walks, doubles and nothing else. Photos of cards are counted nowhere. */
typedef struct
{
  double photos, right;          /* right: the true item, or 'new' where the thing has no note */
  double held;                   /* right, and a new thing's photo in the stop of its thing */
  double nearest_right;          /* nearest note in time, given the same shift */
  double sure, sure_right;       /* photos in stops called sure; of them held */
  double hits, ours, truly;      /* boundaries in true order: found and true, found, true */
  double fixed_hits, fixed_ours; /* the same by the fixed 60 s rule */
  double pair_hits, pair_ours, pair_truly; /* pairs of photos of one thing without a note */
  double returns, returns_found;           /* times a thing was gone back to */
  double cameras, clocks;                  /* all; those whose clock is said to be known */
  double clocks_near;                      /* of them within 5 s of the truth */
  double clocks_best;   /* within the greater of 5 s and twice the best possible's spread */
  double clocks_wrong;  /* a minute wrong with a spread under 10 s */
  double clocks_spread; /* within the greater of 5 s and twice the spread claimed */
  double square;        /* sum of (probability - held)^2 */
  double bin_p[10], bin_right[10], bin_n[10];
} Score;

/* best_spread_s: of each camera, what the best possible could tell its clock by; NULL: unknown,
 * clocks_best is left alone. */
void score_add (Score *score, const TrueWalk *truth, const SwProposal *proposal,
                const double *best_spread_s);
void score_sum (Score *sum, const Score *one);
gboolean score_in_its_stop (const TrueWalk *truth, const SwProposal *proposal, guint i);
double score_f1 (double hits, double ours, double truly);
double score_calibration_error (const Score *score);
/* The share of 'sure' that held which 97.5% of resamplings of whole walks exceed (bootstrap:
 * Efron, B., 1979, Ann. Statist. 7(1), 1-26). */
double score_sure_bound (const Score *scores, int n);

G_END_DECLS
