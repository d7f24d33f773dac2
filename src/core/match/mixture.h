/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The components of mixtures of normal distributions: the steps of fitting them by
 * expectation-maximisation, with or without priors. Match layer; knows nothing of photos. Dempster,
 * A. P., Laird, N. M., Rubin, D. B. (1977), J. R. Statist. Soc. B 39(1), 1-38. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  double weight;
  double mean;
  double sd;
} SwNormal;

/* A prior worth 'strength' observations of that mean and 'sd_strength' of that spread; 0: maximum
 * likelihood. */
typedef struct
{
  double mean;
  double sd;
  double strength, sd_strength;
} SwNormalPrior;

/* Density of a normal distribution (its weight not counted). */
double sw_normal_density (const SwNormal *normal, double x);
/* P(X <= x) of a normal distribution. */
double sw_normal_below (const SwNormal *normal, double x);

/* Weighted sums of one component: what the E-step leaves behind. */
typedef struct
{
  double n, sum, squares;
} SwNormalSums;

/* Adds an observation to the sums, with the share of it that belongs to this component. */
void sw_normal_sums_add (SwNormalSums *sums, double x, double weight);
/* The M-step of one component: mean and spread of the sums and the prior together; the spread is at
 * least sd_floor. The weight is left as it is. Without observations and prior nothing changes. */
void sw_normal_update (SwNormal *normal, const SwNormalSums *sums, const SwNormalPrior *prior,
                       double sd_floor);

G_END_DECLS
