/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far a phone seems to have moved between two photos: while it stays at one thing, and when it
 * goes on to another. A receiver's error is mostly a bias that wanders over minutes: two fixes soon
 * after each other tell a step of some metres though both are off by more. Match layer, pure. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Variance along each of two axes of the way between two fixes at one spot: what they jitter, and
 * what the bias wanders by the second. */
typedef struct
{
  double jitter_m2, wander_m2_s;
} SwMotion;

/* Sums over fixes at one spot, soon after each other and later. */
typedef struct
{
  double n[2], seconds[2], squares[2];
} SwMotionSums;

SwMotion sw_motion_default (void);
/* Likelihood of the way at one spot against that of a step to another; away_s are the seconds
 * between the two fixes. */
double sw_motion_still (const SwMotion *motion, double away_m, double away_s);
/* Counts a way at one spot with that weight; a wild fix counts less. */
void sw_motion_sums_add (SwMotionSums *sums, const SwMotion *motion, double away_m, double away_s,
                         double weight);
/* The M-step, under a prior worth some ways each. */
void sw_motion_learn (SwMotion *motion, const SwMotionSums *sums);

G_END_DECLS
