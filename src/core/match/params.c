/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Parameters and densities of the pairing model. The priors are common sense about a person with a
 * camera, worth a few observations each, so that a short walk keeps them and a long one overrules
 * them. Must not know notes or photos. */
#include "core/match/params.h"

#include <math.h>

/* A note up to this many seconds 'inside' its stop still counts as before or after: clocks are
 * known to seconds only. */
#define LAG_SLACK_S 2.0
/* Scale of wrong note times: minutes to a quarter of an hour. */
#define OFF_SCALE_S 330.0
/* No density falls below this: one odd gap must not decide a walk. */
#define DENSITY_FLOOR 1e-9

/* Share of slow gaps, and how many gaps that guess is worth. */
#define SLOW_SHARE 0.03
#define SLOW_STRENGTH 40.0
#define SLOW_STEP 1.6
#define SLOW_SD 1.0
/* Share of an exponential part in the lags, for people who write at once. */
#define LAG_PROMPT_SHARE 0.25
#define LAG_PROMPT_S 12.0

static const SwNormalPrior within_prior = { 2.0, 0.75, 10 }; /* e^2 = 7 s */
static const SwNormalPrior between_prior[SW_N_GAPS] = {
  [SW_GAP_NEAR] = { 4.3, 0.60, 10 },  /* 74 s */
  [SW_GAP_WALK] = { 5.0, 0.60, 10 },  /* 150 s */
  [SW_GAP_BREAK] = { 8.2, 1.80, 40 }, /* an hour, give or take */
};
static const SwNormalPrior lag_prior[2] = { { 2.7, 0.9, 8 }, { 2.7, 0.9, 8 } }; /* 15 s */
static const double lag_share_prior[SW_N_LAGS] = { 0.36, 0.16, 0.43, 0.05 };
#define LAG_SHARE_STRENGTH 10.0

/* What a step along, a walk and a break are to steps of each kind. */
static const double gap_mix[SW_N_STEPS][SW_N_GAPS] = {
  [SW_STEP_SAME] = { 0.83, 0.13, 0.04 },
  [SW_STEP_OTHER] = { 0.25, 0.70, 0.05 },
  [SW_STEP_ANY] = { 0.65, 0.30, 0.05 },
};

SwWalkParams
sw_walk_params_default (void)
{
  SwWalkParams params = { .boundary = 0.25, .slow = SLOW_SHARE, .noted = 0.8, .stray = 0.0008 };

  params.within = (SwNormal){ 1, within_prior.mean, within_prior.sd };
  for (int k = 0; k < SW_N_GAPS; k++)
    params.between[k] = (SwNormal){ 1, between_prior[k].mean, between_prior[k].sd };
  for (int k = 0; k < SW_N_LAGS; k++)
    params.lag_share[k] = lag_share_prior[k];
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

double
sw_gap_within (const SwWalkParams *params, double z)
{
  return (1 - params->slow) * sw_normal_density (&params->within, z) + within_slow (params, z)
         + DENSITY_FLOOR;
}

double
sw_gap_within_main (const SwWalkParams *params, double z)
{
  return (1 - params->slow) * sw_normal_density (&params->within, z) / sw_gap_within (params, z);
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
sw_gap_between_shares (const SwWalkParams *params, SwStep step, double z, double *out_share)
{
  double sum = 0;

  for (int k = 0; k < SW_N_GAPS; k++)
    {
      out_share[k] = gap_mix[step][k] * (sw_normal_density (&params->between[k], z) + 1e-12);
      sum += out_share[k];
    }
  for (int k = 0; k < SW_N_GAPS; k++)
    out_share[k] /= sum;
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
sw_lag_density (const SwWalkParams *params, int which, double lag_s, double res_s)
{
  const SwNormal *lag = &params->lag[which == SW_LAG_AFTER];
  double from = which == SW_LAG_AFTER ? lag_s : lag_s - res_s;

  if (from + res_s + LAG_SLACK_S <= 0)
    return 0;
  return MAX (0, lag_below (lag, from + res_s) - lag_below (lag, from)) / res_s;
}

double
sw_lag_off_density (double distance_s)
{
  return exp (-fabs (distance_s) / OFF_SCALE_S) / (2 * OFF_SCALE_S);
}

static double
beta_mean (double yes, double no, double mean, double strength)
{
  return (yes + mean * strength) / (yes + no + strength);
}

void
sw_walk_params_learn (SwWalkParams *params, const SwWalkCounts *counts)
{
  double lags = LAG_SHARE_STRENGTH;

  params->boundary = beta_mean (counts->boundaries, counts->stays, 0.25, 10);
  params->slow
      = beta_mean (counts->stays - counts->within.n, counts->within.n, SLOW_SHARE, SLOW_STRENGTH);
  sw_normal_update (&params->within, &counts->within, &within_prior, 0.15);
  for (int k = 0; k < SW_N_GAPS; k++)
    sw_normal_update (&params->between[k], &counts->between[k], &between_prior[k], 0.15);
  /* A step along is never the longer one, nor quicker than inside a stop. */
  params->between[SW_GAP_NEAR].mean
      = MAX (params->between[SW_GAP_NEAR].mean, params->within.mean + 0.3);
  params->between[SW_GAP_WALK].mean
      = MAX (params->between[SW_GAP_WALK].mean, params->between[SW_GAP_NEAR].mean);
  params->noted = CLAMP (beta_mean (counts->noted, counts->unnoted, 0.8, 6), 0.02, 0.98);
  if (counts->seconds > 0)
    params->stray
        = MAX ((counts->strays + 0.4 + 0.06 * counts->noted) / (counts->seconds + 300), 1e-7);
  for (int k = 0; k < SW_N_LAGS; k++)
    lags += counts->lag_count[k];
  for (int k = 0; k < SW_N_LAGS; k++)
    params->lag_share[k] = (counts->lag_count[k] + lag_share_prior[k] * LAG_SHARE_STRENGTH) / lags;
  for (int k = 0; k < 2; k++)
    sw_normal_update (&params->lag[k], &counts->lag[k], &lag_prior[k], 0.25);
}

void
sw_walk_params_guess (SwWalkParams *params, const double *z, gsize n)
{
  SwNormal parts[] = {
    { 0.72, within_prior.mean, within_prior.sd },
    { 0.24, between_prior[SW_GAP_NEAR].mean, 0.7 },
    { 0.04, between_prior[SW_GAP_BREAK].mean, between_prior[SW_GAP_BREAK].sd },
  };
  const SwNormalPrior priors[] = {
    within_prior,
    { 4.5, 0.7, 10 },
    between_prior[SW_GAP_BREAK],
  };

  /* Too few gaps to learn from: the priors stand. */
  if (n < 8)
    return;
  sw_mixture_fit (z, n, parts, G_N_ELEMENTS (parts), priors, 0.15, 30, 1e-4);
  params->within.mean = parts[0].mean;
  params->within.sd = parts[0].sd;
  params->between[SW_GAP_NEAR].mean = MAX (parts[1].mean - 0.15, parts[0].mean + 0.3);
  params->between[SW_GAP_WALK].mean = MAX (parts[1].mean + 0.4, parts[0].mean + 0.3);
  params->boundary = CLAMP (1 - parts[0].weight, 0.02, 0.9);
}
