/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ways between two fixes have a Rayleigh distribution where both axes are normal and alike. Must
 * not know photos. */
#include "core/match/motion.h"

#include <math.h>

/* What a receiver does, more or less, and how many ways of each kind that guess is worth. */
#define JITTER_M2 4.0
#define WANDER_M2_S 0.4
#define STRENGTH 15.0
#define LEAST_M2 0.5
#define LEAST_M2_S 0.01
/* Up to here fixes are soon after each other; from there on the wandering is over. */
#define SOON_S 10.0
#define WANDERS_S 200.0
/* Nobody walks faster along either axis, in metres a second. */
#define SPEED 0.6
/* Share of ways with a wild fix, and how wild. */
#define WILD_SHARE 0.04
#define WILD_M 70.0
/* No way says more than this, either way. */
#define MOST 12.0

/* Steps from thing to thing: a step aside, across a room, to another building; shares, and metres
 * along each axis. */
static const struct
{
  double share, m;
} steps[] = { { 0.35, 2.2 }, { 0.50, 5.5 }, { 0.15, 35 } };

SwMotion
sw_motion_default (void)
{
  return (SwMotion){ JITTER_M2, WANDER_M2_S };
}

static double
rayleigh (double away_m, double variance)
{
  return away_m / variance * exp (-away_m * away_m / (2 * variance));
}

static double
variance_of (const SwMotion *motion, double away_s)
{
  return motion->jitter_m2 + motion->wander_m2_s * MIN (away_s, WANDERS_S);
}

static double
at_one_spot (const SwMotion *motion, double away_m, double away_s)
{
  return (1 - WILD_SHARE) * rayleigh (away_m, variance_of (motion, away_s));
}

double
sw_motion_still (const SwMotion *motion, double away_m, double away_s)
{
  double variance = variance_of (motion, away_s), step = 0;
  double wild = WILD_SHARE * rayleigh (away_m, variance + WILD_M * WILD_M);

  for (gsize k = 0; k < G_N_ELEMENTS (steps); k++)
    {
      double m = MIN (steps[k].m, SPEED * away_s);

      step += steps[k].share * rayleigh (away_m, variance + m * m);
    }
  return CLAMP ((at_one_spot (motion, away_m, away_s) + wild) / ((1 - WILD_SHARE) * step + wild),
                1 / MOST, MOST);
}

void
sw_motion_sums_add (SwMotionSums *sums, const SwMotion *motion, double away_m, double away_s,
                    double weight)
{
  double spot = at_one_spot (motion, away_m, away_s);
  double wild = WILD_SHARE * rayleigh (away_m, variance_of (motion, away_s) + WILD_M * WILD_M);
  int later = away_s > SOON_S;

  if (away_s > WANDERS_S)
    return;
  weight *= spot / (spot + wild);
  sums->n[later] += weight;
  sums->seconds[later] += weight * away_s;
  sums->squares[later] += weight * away_m * away_m / 2;
}

void
sw_motion_learn (SwMotion *motion, const SwMotionSums *sums)
{
  static const double usual_s[2] = { 5, 20 };
  double at_s[2], m2[2];

  for (int k = 0; k < 2; k++)
    {
      double n = sums->n[k] + STRENGTH;

      at_s[k] = (sums->seconds[k] + STRENGTH * usual_s[k]) / n;
      m2[k] = (sums->squares[k] + STRENGTH * (JITTER_M2 + WANDER_M2_S * usual_s[k])) / n;
    }
  motion->wander_m2_s = MAX ((m2[1] - m2[0]) / (at_s[1] - at_s[0]), LEAST_M2_S);
  motion->jitter_m2 = MAX (m2[0] - motion->wander_m2_s * at_s[0], LEAST_M2);
}
