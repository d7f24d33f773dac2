/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parameters and densities of the pairing model. The priors are common sense about a person with a
 * camera, worth a few observations each, so that a short walk keeps them and a long one overrules
 * them. Must not know notes or photos. */
#include "core/match/params.h"

#include <math.h>

/* A note up to this many seconds 'inside' its stop still counts as before or after: clocks are
 * known to seconds only. */
#define LAG_SLACK_S 2.0
/* A note's time is taken for its middle up to this; a coarser one's lag lies anywhere within it. */
#define LAG_COARSE_S 5.0
/* Scale of wrong note times: minutes to a quarter of an hour. */
#define OFF_SCALE_S 330.0
/* No density falls below this: one odd gap must not decide a walk. */
#define DENSITY_FLOOR 1e-9

/* Two photos at once: e^mean seconds, whoever takes them. */
static const SwNormal burst_gap = { 1, -0.22, 0.45 }; /* 0.8 s */
#define BURST_SHARE 0.065
#define BURST_STRENGTH 30.0
/* Share of slow gaps, how many gaps that guess is worth, and how they lie to the others. */
#define SLOW_SHARE 0.04
#define SLOW_STRENGTH 40.0
#define SLOW_STEP 1.6
#define SLOW_SD 1.0
/* Time to change cameras; and what is left below, as clocks are known to seconds only. */
#define CHANGE_S 1.8
#define CHANGE_FLOOR 0.04
#define BOUNDARY_SHARE 0.22
#define BOUNDARY_STRENGTH 10.0
/* Rounds of learning by gaps alone. */
#define GUESS_ROUNDS 10
/* Share of an exponential part in the lags, for people who write at once. */
#define LAG_PROMPT_SHARE 0.1
#define LAG_PROMPT_S 12.0

/* How often a camera is picked anew for the next photo of a thing, by how long ago it was changed,
 * and how many photos each guess is worth; and for another thing. */
static const double pick_share[SW_N_SINCE] = { 0.12, 0.97, 0.75, 0.45 };
#define PICK_STRENGTH 30.0
#define PICK_NEXT 0.9

/* Of the notes that would come too late for their pause, so many do; the others are written in it.
 */
#define LAG_LATE 0.2

/* How long a person takes differs much from one to the next, how evenly they work does not: the
 * spreads are worth more than the means, else a person's pauses inside a stop and between stops run
 * into each other. */
static const SwNormalPrior within_prior = { 1.95, 0.55, 2, 40 }; /* e^1.95 = 7 s */
static const SwNormalPrior between_prior[SW_N_GAPS] = {
  [SW_GAP_NEAR] = { 3.85, 0.38, 2, 30 },  /* 47 s */
  [SW_GAP_WALK] = { 4.8, 0.62, 10, 20 },  /* two minutes */
  [SW_GAP_BREAK] = { 8.2, 1.80, 40, 40 }, /* an hour, give or take */
};
static const SwNormalPrior lag_prior[2] = { { 2.7, 0.6, 3, 25 }, { 2.7, 0.6, 3, 25 } }; /* 15 s */
static const double lag_share_prior[SW_N_LAGS] = { 0.42, 0.12, 0.42, 0.04 };
#define LAG_SHARE_STRENGTH 5.0

/* What a step along, a walk and a break are to steps of each kind. */
static const double gap_mix[SW_N_STEPS][SW_N_GAPS] = {
  [SW_STEP_SAME] = { 0.83, 0.13, 0.04 },
  [SW_STEP_OTHER] = { 0.25, 0.70, 0.05 },
  [SW_STEP_ANY] = { 0.65, 0.30, 0.05 },
};

SwWalkParams
sw_walk_params_default (void)
{
  SwWalkParams params = { .boundary = BOUNDARY_SHARE,
                          .burst = BURST_SHARE,
                          .slow = SLOW_SHARE,
                          .noted = 0.8,
                          .stray = 0.0008 };

  params.within = (SwNormal){ 1, within_prior.mean, within_prior.sd };
  for (int k = 0; k < SW_N_GAPS; k++)
    params.between[k] = (SwNormal){ 1, between_prior[k].mean, between_prior[k].sd };
  for (int k = 0; k < SW_N_SINCE; k++)
    params.pick[k] = pick_share[k];
  for (int k = 0; k < SW_N_LAGS; k++)
    params.lag_share[k] = lag_share_prior[k];
  params.motion = sw_motion_default ();
  for (int k = 0; k < 2; k++)
    params.lag[k] = (SwNormal){ 1, lag_prior[k].mean, lag_prior[k].sd };
  return params;
}

static double
within_slow (const SwWalkParams *params, double z)
{
  SwNormal slow = { 1, params->within.mean + SLOW_STEP, SLOW_SD };

  return params->slow * sw_normal_density (&slow, z);
}

static double
within_burst (const SwWalkParams *params, double z)
{
  return params->burst * sw_normal_density (&burst_gap, z);
}

static double
within_main (const SwWalkParams *params, double z)
{
  return (1 - params->burst - params->slow) * sw_normal_density (&params->within, z);
}

double
sw_gap_within (const SwWalkParams *params, double z)
{
  return within_main (params, z) + within_burst (params, z) + within_slow (params, z)
         + DENSITY_FLOOR;
}

double
sw_change_weight (double z)
{
  double usual = exp (z) / CHANGE_S;

  return CHANGE_FLOOR + (1 - CHANGE_FLOOR) * (1 - exp (-usual * usual));
}

double
sw_gap_change (const SwWalkParams *params, double z)
{
  return sw_change_weight (z) * (within_main (params, z) + within_slow (params, z))
             / (1 - params->burst)
         + DENSITY_FLOOR;
}

int
sw_since_next (int since, gboolean changes)
{
  if (changes)
    return 1;
  return since == SW_SINCE_LONG ? since : (since + 1) % SW_N_SINCE;
}

double
sw_camera_in_hand (const SwWalkParams *params, int since, gboolean changes, double share)
{
  double pick = params->pick[since];

  return changes ? pick / PICK_NEXT
                 : (pick + (1 - pick) / share) / (PICK_NEXT + (1 - PICK_NEXT) / share);
}

double
sw_gap_between (const SwWalkParams *params, SwStep step, double z)
{
  double sum = DENSITY_FLOOR;

  for (int k = 0; k < SW_N_GAPS; k++)
    sum += gap_mix[step][k] * sw_normal_density (&params->between[k], z);
  return sum;
}

void
sw_walk_counts_stay (SwWalkCounts *counts, const SwWalkParams *params, double z, double weight)
{
  double all = sw_gap_within (params, z);

  counts->stays += weight;
  counts->bursts += weight * within_burst (params, z) / all;
  counts->slow += weight * within_slow (params, z) / all;
  sw_normal_sums_add (&counts->within, z, weight * within_main (params, z) / all);
}

void
sw_walk_counts_boundary (SwWalkCounts *counts, const SwWalkParams *params, SwStep step, double z,
                         double weight)
{
  double share[SW_N_GAPS], sum = 0;

  counts->boundaries += weight;
  for (int k = 0; k < SW_N_GAPS; k++)
    {
      share[k] = gap_mix[step][k] * (sw_normal_density (&params->between[k], z) + 1e-12);
      sum += share[k];
    }
  for (int k = 0; k < SW_N_GAPS; k++)
    sw_normal_sums_add (&counts->between[k], z, weight * share[k] / sum);
}

void
sw_walk_counts_camera (SwWalkCounts *counts, const SwWalkParams *params, int since,
                       gboolean changes, double share, double weight)
{
  double picked = params->pick[since] * share;

  /* One camera alone tells nothing. */
  if (share >= 1)
    return;
  counts->photos[since] += weight;
  counts->picks[since] += weight * (changes ? 1 : picked / (picked + 1 - params->pick[since]));
}

double
sw_lag_value (double lag_s)
{
  return log (MAX (lag_s + LAG_SLACK_S, 1.0));
}

/* P(lag <= s) of the log-normal part and the prompt part together. */
static double
lag_below (const SwNormal *lag, double s)
{
  s += LAG_SLACK_S;
  if (s <= 0)
    return 0;
  return (1 - LAG_PROMPT_SHARE) * sw_normal_below (lag, log (s))
         + LAG_PROMPT_SHARE * (1 - exp (-s / LAG_PROMPT_S));
}

double
sw_lag_in_room (const SwWalkParams *params, int which, double lag_s, double res_s, double room_s,
                double *out_own)
{
  const SwNormal *lag = &params->lag[which == SW_LAG_AFTER];
  double from = which == SW_LAG_AFTER ? lag_s : lag_s - res_s, upto = from + res_s;
  double cut = CLAMP (room_s, from, upto), below_cut, squeezed;

  *out_own = 0;
  if (upto + LAG_SLACK_S <= 0)
    return 0;
  below_cut = lag_below (lag, cut);
  *out_own = (MAX (0, below_cut - lag_below (lag, from))
              + LAG_LATE * MAX (0, lag_below (lag, upto) - below_cut))
             / res_s;
  squeezed = (1 - LAG_LATE) * (1 - lag_below (lag, room_s)) * MAX (0, cut - MAX (from, 0))
             / MAX (room_s, 1) / res_s;
  return *out_own + squeezed;
}

double
sw_lag_off_density (double distance_s)
{
  return exp (-fabs (distance_s) / OFF_SCALE_S) / (2 * OFF_SCALE_S);
}

/* Mean and mean square of a normal value that is known to lie between two others; FALSE where
 * hardly any does (Johnson, N. L., Kotz, S., Balakrishnan, N., 1994, Continuous univariate
 * distributions, vol. 1, 2nd ed., section 13.10.1; from memory). */
static gboolean
moments_between (const SwNormal *normal, double from, double upto, double *out_mean,
                 double *out_square)
{
  double a = (from - normal->mean) / normal->sd, b = (upto - normal->mean) / normal->sd;
  double mass = sw_normal_below (normal, upto) - sw_normal_below (normal, from);
  double at_a = exp (-a * a / 2) / sqrt (2 * G_PI), at_b = exp (-b * b / 2) / sqrt (2 * G_PI);
  double mean, variance;

  if (!(mass > 1e-6))
    return FALSE;
  mean = (at_a - at_b) / mass;
  variance = MAX (1 + (a * at_a - b * at_b) / mass - mean * mean, 0);
  *out_mean = normal->mean + normal->sd * mean;
  *out_square = *out_mean * *out_mean + normal->sd * normal->sd * variance;
  return TRUE;
}

void
sw_walk_counts_lag (SwWalkCounts *counts, const SwWalkParams *params, int which, double lag_s,
                    double res_s, double room_s, double weight)
{
  gboolean after = which == SW_LAG_AFTER;
  double from = after ? lag_s : lag_s - res_s, upto = from + res_s, mean, square;
  double most = room_s > from ? MIN (upto, room_s) : upto;

  if (res_s > LAG_COARSE_S
      && moments_between (&params->lag[after], log (MAX (from, -LAG_SLACK_S / 2) + LAG_SLACK_S),
                          log (MAX (most, 0) + LAG_SLACK_S), &mean, &square))
    {
      counts->lag[after].n += weight;
      counts->lag[after].sum += weight * mean;
      counts->lag[after].squares += weight * square;
    }
  else
    sw_normal_sums_add (&counts->lag[after], sw_lag_value (from + res_s / 2), weight);
}

static double
beta_mean (double yes, double no, double mean, double strength)
{
  return (yes + mean * strength) / (yes + no + strength);
}

static void
learn_gaps (SwWalkParams *params, const SwWalkCounts *counts)
{
  params->boundary
      = beta_mean (counts->boundaries, counts->stays, BOUNDARY_SHARE, BOUNDARY_STRENGTH);
  params->burst
      = beta_mean (counts->bursts, counts->stays - counts->bursts, BURST_SHARE, BURST_STRENGTH);
  params->slow = beta_mean (counts->slow, counts->stays - counts->slow, SLOW_SHARE, SLOW_STRENGTH);
  for (int k = 0; k < SW_N_SINCE; k++)
    params->pick[k] = beta_mean (counts->picks[k], counts->photos[k] - counts->picks[k],
                                 pick_share[k], PICK_STRENGTH);
  sw_normal_update (&params->within, &counts->within, &within_prior, 0.15);
  for (int k = 0; k < SW_N_GAPS; k++)
    sw_normal_update (&params->between[k], &counts->between[k], &between_prior[k], 0.15);
  /* A step along is never the longer one, nor quicker than inside a stop. */
  params->between[SW_GAP_NEAR].mean
      = MAX (params->between[SW_GAP_NEAR].mean, params->within.mean + 0.3);
  params->between[SW_GAP_WALK].mean
      = MAX (params->between[SW_GAP_WALK].mean, params->between[SW_GAP_NEAR].mean);
}

void
sw_walk_params_learn (SwWalkParams *params, const SwWalkCounts *counts)
{
  double lags = LAG_SHARE_STRENGTH;

  learn_gaps (params, counts);
  params->noted = CLAMP (beta_mean (counts->noted, counts->unnoted, 0.6, 2), 0.02, 0.98);
  if (counts->seconds > 0)
    params->stray
        = MAX ((counts->strays + 0.1 + 0.01 * counts->noted) / (counts->seconds + 300), 1e-7);
  for (int k = 0; k < SW_N_LAGS; k++)
    lags += counts->lag_count[k];
  for (int k = 0; k < SW_N_LAGS; k++)
    params->lag_share[k] = (counts->lag_count[k] + lag_share_prior[k] * LAG_SHARE_STRENGTH) / lags;
  for (int k = 0; k < 2; k++)
    sw_normal_update (&params->lag[k], &counts->lag[k], &lag_prior[k], 0.25);
  sw_motion_learn (&params->motion, &counts->motion);
}

void
sw_walk_params_guess (SwWalkParams *params, const double *z, gsize n)
{
  /* Too few gaps to learn from: the priors stand. */
  if (n < 8)
    return;
  for (int round = 0; round < GUESS_ROUNDS; round++)
    {
      SwWalkCounts counts = { 0 };

      for (gsize i = 0; i < n; i++)
        {
          double between = params->boundary * sw_gap_between (params, SW_STEP_ANY, z[i]);
          double within = (1 - params->boundary) * sw_gap_within (params, z[i]);
          double boundary = between / (between + within);

          sw_walk_counts_stay (&counts, params, z[i], 1 - boundary);
          sw_walk_counts_boundary (&counts, params, SW_STEP_ANY, z[i], boundary);
        }
      learn_gaps (params, &counts);
    }
}
