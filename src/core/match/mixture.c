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
