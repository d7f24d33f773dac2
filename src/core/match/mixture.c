/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Normal mixtures by expectation-maximisation. Sums are taken about the prior mean or the present
 * mean, so that large values lose no digits. Must not know what the numbers measure. */
#include "core/match/mixture.h"

#include <math.h>

double
sw_normal_density (const SwNormal *normal, double x)
{
  double z = (x - normal->mean) / normal->sd;

  return exp (-0.5 * z * z) / (normal->sd * sqrt (2 * G_PI));
}

double
sw_normal_below (const SwNormal *normal, double x)
{
  return 0.5 * erfc (-(x - normal->mean) / (normal->sd * G_SQRT2));
}

void
sw_normal_sums_add (SwNormalSums *sums, double x, double weight)
{
  sums->n += weight;
  sums->sum += weight * x;
  sums->squares += weight * x * x;
}

void
sw_normal_update (SwNormal *normal, const SwNormalSums *sums, const SwNormalPrior *prior,
                  double sd_floor)
{
  double k = prior ? prior->strength : 0, k_sd = prior ? prior->sd_strength : 0;
  double about, variance;

  if (sums->n + k > 0)
    normal->mean = (sums->sum + (k > 0 ? k * prior->mean : 0)) / (sums->n + k);
  if (sums->n + k_sd <= 0)
    return;
  /* The normal-inverse-gamma prior's mode but for its counts. */
  about = sums->squares - 2 * normal->mean * sums->sum + sums->n * normal->mean * normal->mean;
  if (prior)
    about += k * (normal->mean - prior->mean) * (normal->mean - prior->mean)
             + k_sd * prior->sd * prior->sd;
  variance = about / (sums->n + k_sd);
  normal->sd = MAX (sd_floor, sqrt (MAX (variance, 0)));
}

/* One E-step: fills sums, returns the log-likelihood. */
static double
expect (const double *x, gsize n, const SwNormal *parts, gsize k, SwNormalSums *sums, double *share)
{
  double log_likelihood = 0;

  for (gsize i = 0; i < n; i++)
    {
      double total = 0;

      for (gsize j = 0; j < k; j++)
        {
          share[j] = parts[j].weight * sw_normal_density (&parts[j], x[i]);
          total += share[j];
        }
      log_likelihood += log (MAX (total, 1e-300));
      for (gsize j = 0; j < k; j++)
        sw_normal_sums_add (&sums[j], x[i], total > 0 ? share[j] / total : 1.0 / (double)k);
    }
  return log_likelihood;
}

double
sw_mixture_fit (const double *x, gsize n, SwNormal *parts, gsize k, const SwNormalPrior *priors,
                double sd_floor, int rounds, double tolerance)
{
  g_autofree SwNormalSums *sums = g_new0 (SwNormalSums, k);
  g_autofree double *share = g_new0 (double, k);
  double before = -INFINITY, now = -INFINITY;

  for (int round = 0; round <= rounds; round++)
    {
      double all = 0;

      for (gsize j = 0; j < k; j++)
        sums[j] = (SwNormalSums){ 0 };
      now = expect (x, n, parts, k, sums, share);
      if (round == rounds || fabs (now - before) < tolerance)
        break;
      before = now;
      for (gsize j = 0; j < k; j++)
        all += sums[j].n + (priors ? priors[j].strength : 0);
      for (gsize j = 0; j < k && all > 0; j++)
        {
          parts[j].weight = (sums[j].n + (priors ? priors[j].strength : 0)) / all;
          sw_normal_update (&parts[j], &sums[j], priors ? &priors[j] : NULL, sd_floor);
        }
    }
  return now;
}
