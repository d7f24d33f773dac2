/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the way between two fixes says of one thing going on: against the Rayleigh distribution
 * (Johnson, N. L., Kotz, S., Balakrishnan, N., 1994, Continuous univariate distributions, vol. 1,
 * 2nd ed., chapter 18: density, quantiles, and the variance's maximum-likelihood estimate; from
 * memory), and where on a walk it is read. */
#include "sw-test.h"

#include "core/match/model.h"
#include "core/match/motion.h"
#include "core/match/stops.h"

#include <math.h>

#define S SW_US_PER_SECOND
#define T0 (G_GINT64_CONSTANT (1781946000) * S)
#define DEGREE_M 111195.0

#define WAYS 2000

/* --- the distribution --- */

/* The k-th of so many ways that stand for all. */
static double
quantile (double variance, int k)
{
  return sqrt (-2 * variance * log (1 - (k + 0.5) / WAYS));
}

static void
test_learns_a_receiver (void **state)
{
  static const SwMotion truths[] = { { 2, 0.1 }, { 4, 0.4 }, { 12, 2 } };
  static const double apart_s[2] = { 5, 30 };

  for (gsize row = 0; row < G_N_ELEMENTS (truths); row++)
    for (int wild = 0; wild < 2; wild++)
      {
        SwMotion motion = sw_motion_default ();

        for (int round = 0; round < 8; round++)
          {
            SwMotionSums sums = { 0 };

            for (int k = 0; k < 2; k++)
              for (int i = 0; i < WAYS; i++)
                {
                  double variance = truths[row].jitter_m2 + truths[row].wander_m2_s * apart_s[k];
                  /* One fix in fifty is off by a hundred metres: two ways. */
                  gboolean off = wild == 1 && i % 25 == 0;

                  sw_motion_sums_add (&sums, &motion, off ? 100 : quantile (variance, i),
                                      apart_s[k], 1);
                }
            sw_motion_learn (&motion, &sums);
          }
        for (int k = 0; k < 2; k++)
          {
            double truly = truths[row].jitter_m2 + truths[row].wander_m2_s * apart_s[k];

            assert_true (fabs ((motion.jitter_m2 + motion.wander_m2_s * apart_s[k]) / truly - 1)
                         < 0.06);
          }
      }
}

/* Few ways leave the guess nearly as it was; ways of hours apart teach nothing. */
static void
test_few_ways (void **state)
{
  SwMotion motion = sw_motion_default ();
  SwMotionSums sums = { 0 };

  sw_motion_sums_add (&sums, &motion, 3, 5, 1);
  sw_motion_sums_add (&sums, &motion, 300, 3600, 1);
  sw_motion_learn (&motion, &sums);
  assert_true (fabs (motion.jitter_m2 / sw_motion_default ().jitter_m2 - 1) < 0.1);
  assert_true (fabs (motion.wander_m2_s / sw_motion_default ().wander_m2_s - 1) < 0.1);
}

/* Two densities of one way are weighed: over all ways at one spot, which are Rayleigh but for wild
 * ones, the other's part of it comes to one. */
static void
test_is_a_ratio (void **state)
{
  /* So poor a receiver that no way says the most that one may. */
  const SwMotion motion = { 100, 1 };
  const double at_s = 20, variance = motion.jitter_m2 + motion.wander_m2_s * at_s, step_m = 0.01;
  double steps = 0, spot = 0;

  for (double way_m = step_m / 2; way_m < 400; way_m += step_m)
    {
      double wild = variance + 70 * 70;
      double density = 0.96 * way_m / variance * exp (-way_m * way_m / (2 * variance))
                       + 0.04 * way_m / wild * exp (-way_m * way_m / (2 * wild));

      spot += density * step_m;
      steps += density * step_m / sw_motion_still (&motion, way_m, at_s);
    }
  assert_true (fabs (spot - 1) < 1e-3);
  assert_true (fabs (steps - 1) < 0.01);
}

static void
test_still (void **state)
{
  const SwMotion motion = sw_motion_default ();
  double last = INFINITY;

  for (double way_m = 0.5; way_m <= 10; way_m += 0.5)
    {
      double still = sw_motion_still (&motion, way_m, 8);

      assert_true (still > 0.01 && still < 20 && still <= last);
      last = still;
    }
  assert_true (sw_motion_still (&motion, 1, 8) > 1.5);
  assert_true (sw_motion_still (&motion, 12, 8) < 0.2);
  /* Nobody walks that far in so short a time: a wild fix, which tells nothing. */
  assert_true (fabs (sw_motion_still (&motion, 90, 8) - 1) < 0.1);
  assert_true (sw_motion_still (&motion, 50, 120) < 0.2);
  /* A receiver wanders: after minutes the same way says little. */
  assert_true (sw_motion_still (&motion, 12, 180) > 0.5);
}

/* --- on a walk --- */

typedef struct
{
  const char *label;
  double east_m[6];  /* of each photo, twenty seconds apart; NAN: no fix */
  double error_m[6]; /* as the file says it */
  int camera[6];
  double later_s[6]; /* added to a photo's time and all after it */
  double way_m[5];   /* that is read into each pause; -1: none */
} Row;
static const Row rows[] = {
  { "a step", { 0, 1, 2, 27, 28, 30 }, { 0 }, { 0 }, { 0 }, { 1, 1, 25, 1, 2 } },
  { "one fix serves again", { 0, 0, 0, 25, 25, 26 }, { 0 }, { 0 }, { 0 }, { -1, -1, 25, -1, 1 } },
  { "a fix off by its own word",
    { 0, 90, 1, 2, 3, 4 },
    { 5, 80, 5 },
    { 0 },
    { 0 },
    { 1, -1, 1, 1, 1 } },
  { "none between: the longest pause",
    { 0, NAN, NAN, 25, 26, 27 },
    { 0 },
    { 0, 1, 1 },
    { 0, 0, 30 },
    { -1, 25, -1, 1, 1 } },
  { "long after", { 0, 1, 2, 27, 28, 30 }, { 0 }, { 0 }, { 0, 0, 0, 3600 }, { 1, 1, -1, 1, 2 } },
  { "another phone",
    { 0, 1, 2, 27, 28, 30 },
    { 0 },
    { 0, 0, 0, 1, 1, 1 },
    { 0 },
    { 1, 1, -1, 1, 2 } },
  { "no fixes", { NAN, NAN, NAN, NAN, NAN, NAN }, { 0 }, { 0 }, { 0 }, { -1, -1, -1, -1, -1 } },
};

typedef struct
{
  SwWalkPhoto photos[6];
  SwWalkCamera cameras[2];
  SwModelPhoto at[6];
  SwWalk walk;
} Small;

static void
small_init (Small *small, const Row *row)
{
  double later_s = 0;

  *small = (Small){ .walk = { .photos = small->photos, 6, .cameras = small->cameras } };
  small->walk.n_cameras = 2;
  for (guint k = 0; k < 6; k++)
    {
      SwWalkPhoto *photo = &small->photos[k];

      later_s += row->later_s[k];
      *photo = (SwWalkPhoto){ .id = k + 1, .resolution_us = S, .place = -1 };
      photo->decided = SW_WALK_OPEN;
      photo->clock_us = T0 + (gint64)(20 * k + later_s) * S;
      photo->camera = row->camera[k];
      photo->has_position = !isnan (row->east_m[k]);
      photo->error_m = row->error_m[k];
      photo->longitude = photo->has_position ? row->east_m[k] / DEGREE_M : 0;
      small->at[k] = (SwModelPhoto){ k, photo->clock_us };
    }
}

static void
test_on_a_walk (void **state)
{
  const Row *row = *state;
  Small small, bare;

  small_init (&small, row);
  bare = small;
  bare.walk.photos = bare.photos;
  bare.walk.cameras = bare.cameras;
  for (int k = 0; k < 6; k++)
    bare.photos[k].has_position = FALSE;
  g_autoptr (SwModel) model = sw_model_new (&small.walk, small.at, 6);
  g_autoptr (SwModel) without = sw_model_new (&bare.walk, bare.at, 6);
  sw_model_run (model, 0, 0);
  sw_model_run (without, 0, 0);
  for (gsize k = 0; k < 5; k++)
    {
      SwGapWeights weights;

      sw_model_gap_weights (model, k, &weights);
      if (row->way_m[k] < 0)
        {
          assert_true (weights.way_m < 0 && weights.still == 1);
          continue;
        }
      /* A sphere against the ellipsoid. */
      assert_true (fabs (weights.way_m - row->way_m[k]) < 0.01 * row->way_m[k]);
      if (row->way_m[k] > 10)
        assert_true (weights.still < 0.8
                     && sw_model_boundary (model, k) > sw_model_boundary (without, k) + 0.02);
      else
        assert_true (weights.still > 1
                     && sw_model_boundary (model, k) < sw_model_boundary (without, k));
    }
}

static void
test_is_told (void **state)
{
  Small small;

  small_init (&small, &rows[0]);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  g_autofree char *text = sw_stops_explain (&small.walk, proposal, 3);
  assert_contains (text, "25 m between the positions, for the same thing: ");
  assert_contains (text, " to 1 against.\n");
  for (guint k = 0; k < 6; k++)
    small.photos[k].has_position = FALSE;
  g_autoptr (SwProposal) bare = sw_stops_propose (&small.walk);
  g_autofree char *less = sw_stops_explain (&small.walk, bare, 3);
  assert_null (strstr (less, "between the positions"));
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_learns_a_receiver);
  SW_TEST (tests, test_few_ways);
  SW_TEST (tests, test_is_a_ratio);
  SW_TEST (tests, test_still);
  SW_TEST_ROWS (tests, test_on_a_walk, rows);
  SW_TEST (tests, test_is_told);
  return sw_tests_run (tests, "motion");
}
