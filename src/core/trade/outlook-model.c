/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two regressions on the same terms: whether an offer sells (logistic), and for how much (normal).
 * Linear algebra by GSL on matrices of a few dozen rows. */
#include "core/trade/outlook-model.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

/* Newton's steps until the most likely point moves no more; the function is concave. */
#define STEPS 60
#define STILL 1e-9
/* Steps are cut where the odds would leap. */
#define LEAP 4.0
/* 90th percentile of the standard normal distribution (NIST/SEMATECH e-Handbook, section 1.3.6.7.1,
 * table of the cumulative normal distribution). */
#define Z90 1.2815515655446004

typedef struct
{
  double mean, sd;
} Prior;

#define AS_PRIOR(tag, mean, sd) [SW_TERM_##tag] = { mean, sd },
static const Prior chance_priors[SW_N_TERMS] = { SW_OUTLOOK_CHANCE (AS_PRIOR) };
static const Prior ratio_priors[SW_N_TERMS] = { SW_OUTLOOK_RATIO (AS_PRIOR) };

/* A normal belief of all coefficients. */
typedef struct
{
  gsl_vector *mean;
  gsl_matrix *covariance;
} Belief;

struct _SwOutlookModel
{
  int n_outlets, n_kinds;
  int *cases; /* by outlet */
  Belief chance, ratio;
  double error_variance;
};

/* The terms of one case: at most five are not zero. */
typedef struct
{
  size_t at[SW_N_TERMS];
  double value[SW_N_TERMS];
  int n;
} Terms;

double
sw_outlook_interest (gint64 looks, gint64 followers, gint64 bids)
{
  if (looks < 0 && followers < 0 && bids < 0)
    return 0;
  double drawn
      = (double)MAX (looks, 0) / 50.0 + (double)MAX (followers, 0) + 3.0 * (double)MAX (bids, 0);
  return MIN (log1p (drawn) - 1.0, 3.0);
}

static size_t
size_of (const SwOutlookModel *model)
{
  return (size_t)(SW_TERM_OUTLET + model->n_outlets + model->n_kinds);
}

static void
add_term (Terms *terms, size_t at, double value)
{
  terms->at[terms->n] = at;
  terms->value[terms->n++] = value;
}

static Terms
terms_of (const SwOutlookModel *model, const SwOutlookCase *what)
{
  Terms terms = { .n = 0 };
  add_term (&terms, SW_TERM_OVERALL, 1);
  add_term (&terms, SW_TERM_PRICE, what->price);
  add_term (&terms, SW_TERM_INTEREST, what->interest);
  if (what->outlet >= 0 && what->outlet < model->n_outlets)
    add_term (&terms, (size_t)(SW_TERM_OUTLET + what->outlet), 1);
  if (what->kind >= 0 && what->kind < model->n_kinds)
    add_term (&terms, (size_t)(SW_TERM_OUTLET + model->n_outlets + what->kind), 1);
  return terms;
}

static const Prior *
prior_at (const SwOutlookModel *model, const Prior *priors, size_t at)
{
  if (at < SW_TERM_OUTLET)
    return &priors[at];
  return &priors[at < (size_t)(SW_TERM_OUTLET + model->n_outlets) ? SW_TERM_OUTLET : SW_TERM_KIND];
}

static double
along (const Terms *terms, const gsl_vector *mean)
{
  double sum = 0;
  for (int i = 0; i < terms->n; i++)
    sum += terms->value[i] * gsl_vector_get (mean, terms->at[i]);
  return sum;
}

static double
spread_along (const Terms *terms, const gsl_matrix *covariance)
{
  double sum = 0;
  for (int i = 0; i < terms->n; i++)
    for (int j = 0; j < terms->n; j++)
      sum += terms->value[i] * terms->value[j]
             * gsl_matrix_get (covariance, terms->at[i], terms->at[j]);
  return MAX (sum, 0);
}

/* --- sums over cases: precision and its right-hand side --- */

typedef struct
{
  gsl_matrix *precision;
  gsl_vector *pull;
} Sums;

static Sums
sums_new (size_t n)
{
  return (Sums){ gsl_matrix_alloc (n, n), gsl_vector_alloc (n) };
}

static void
sums_free (Sums *sums)
{
  gsl_matrix_free (sums->precision);
  gsl_vector_free (sums->pull);
}

static void
start_with_prior (const SwOutlookModel *model, const Prior *priors, const gsl_vector *around,
                  Sums *sums)
{
  gsl_matrix_set_zero (sums->precision);
  for (size_t i = 0; i < size_of (model); i++)
    {
      const Prior *prior = prior_at (model, priors, i);
      double precision = 1 / (prior->sd * prior->sd);
      gsl_matrix_set (sums->precision, i, i, precision);
      gsl_vector_set (sums->pull, i, precision * (prior->mean - gsl_vector_get (around, i)));
    }
}

static void
add_case (const Terms *terms, double weight, double pull, Sums *sums)
{
  for (int i = 0; i < terms->n; i++)
    {
      *gsl_vector_ptr (sums->pull, terms->at[i]) += terms->value[i] * pull;
      for (int j = 0; j < terms->n; j++)
        *gsl_matrix_ptr (sums->precision, terms->at[i], terms->at[j])
            += weight * terms->value[i] * terms->value[j];
    }
}

/* precision -> its Cholesky factor, pull -> the step. Cannot fail: the prior keeps the matrix
 * positive definite. */
static void
solve (Sums *sums)
{
  gsl_linalg_cholesky_decomp1 (sums->precision);
  gsl_linalg_cholesky_svx (sums->precision, sums->pull);
}

static void
keep_covariance (Sums *sums, Belief *belief)
{
  gsl_linalg_cholesky_invert (sums->precision);
  gsl_matrix_memcpy (belief->covariance, sums->precision);
}

/* --- whether it sells --- */

static double
logistic (double x)
{
  return 1 / (1 + exp (-x));
}

static void
sum_chances (const SwOutlookModel *model, const SwOutlookCase *cases, gsize n, Sums *sums)
{
  start_with_prior (model, chance_priors, model->chance.mean, sums);
  for (gsize i = 0; i < n; i++)
    {
      Terms terms = terms_of (model, &cases[i]);
      double p = logistic (along (&terms, model->chance.mean));
      add_case (&terms, p * (1 - p), (cases[i].sold ? 1 : 0) - p, sums);
    }
}

static double
take_step (Sums *sums, gsl_vector *mean)
{
  double longest = MAX (fabs (gsl_vector_max (sums->pull)), fabs (gsl_vector_min (sums->pull)));
  if (longest > LEAP)
    gsl_vector_scale (sums->pull, LEAP / longest);
  gsl_vector_add (mean, sums->pull);
  return longest;
}

static void
fit_chance (SwOutlookModel *model, const SwOutlookCase *cases, gsize n, Sums *sums)
{
  double moved = INFINITY;
  for (int step = 0; step < STEPS && moved > STILL; step++)
    {
      sum_chances (model, cases, n, sums);
      solve (sums);
      moved = take_step (sums, model->chance.mean);
    }
  sum_chances (model, cases, n, sums);
  solve (sums);
  keep_covariance (sums, &model->chance);
}

/* --- for how much --- */

static void
fit_ratio_with (SwOutlookModel *model, const SwOutlookCase *cases, gsize n, Sums *sums)
{
  gsl_vector_set_zero (model->ratio.mean);
  start_with_prior (model, ratio_priors, model->ratio.mean, sums);
  for (gsize i = 0; i < n; i++)
    if (cases[i].sold && cases[i].has_ratio)
      {
        Terms terms = terms_of (model, &cases[i]);
        add_case (&terms, 1 / model->error_variance, cases[i].ratio / model->error_variance, sums);
      }
  solve (sums);
  gsl_vector_memcpy (model->ratio.mean, sums->pull);
  keep_covariance (sums, &model->ratio);
}

/* The expected squared error of the cases under the belief, with the prior's cases among them. */
static double
error_variance (const SwOutlookModel *model, const SwOutlookCase *cases, gsize n)
{
  double sum = SW_OUTLOOK_ERROR_CASES * SW_OUTLOOK_ERROR_SD * SW_OUTLOOK_ERROR_SD;
  double count = SW_OUTLOOK_ERROR_CASES;
  for (gsize i = 0; i < n; i++)
    if (cases[i].sold && cases[i].has_ratio)
      {
        Terms terms = terms_of (model, &cases[i]);
        double off = cases[i].ratio - along (&terms, model->ratio.mean);
        sum += off * off + spread_along (&terms, model->ratio.covariance);
        count++;
      }
  return sum / count;
}

static void
fit_ratio (SwOutlookModel *model, const SwOutlookCase *cases, gsize n, Sums *sums)
{
  model->error_variance = SW_OUTLOOK_ERROR_SD * SW_OUTLOOK_ERROR_SD;
  for (int round = 0; round < 8; round++)
    {
      fit_ratio_with (model, cases, n, sums);
      model->error_variance = error_variance (model, cases, n);
    }
}

/* --- the whole --- */

static Belief
belief_new (const SwOutlookModel *model, const Prior *priors)
{
  size_t n = size_of (model);
  Belief belief = { gsl_vector_alloc (n), gsl_matrix_alloc (n, n) };
  for (size_t i = 0; i < n; i++)
    gsl_vector_set (belief.mean, i, prior_at (model, priors, i)->mean);
  return belief;
}

SwOutlookModel *
sw_outlook_model_fit (const SwOutlookCase *cases, gsize n, int n_outlets, int n_kinds)
{
  g_return_val_if_fail (n_outlets >= 0 && n_kinds >= 0, NULL);
  SwOutlookModel *model = g_new0 (SwOutlookModel, 1);
  model->n_outlets = n_outlets;
  model->n_kinds = n_kinds;
  model->cases = g_new0 (int, (gsize)n_outlets + 1);
  for (gsize i = 0; i < n; i++)
    if (cases[i].outlet >= 0 && cases[i].outlet < n_outlets)
      model->cases[cases[i].outlet]++;
  model->chance = belief_new (model, chance_priors);
  model->ratio = belief_new (model, ratio_priors);
  Sums sums = sums_new (size_of (model));
  fit_chance (model, cases, n, &sums);
  fit_ratio (model, cases, n, &sums);
  sums_free (&sums);
  return model;
}

void
sw_outlook_model_free (SwOutlookModel *model)
{
  if (model == NULL)
    return;
  gsl_vector_free (model->chance.mean);
  gsl_matrix_free (model->chance.covariance);
  gsl_vector_free (model->ratio.mean);
  gsl_matrix_free (model->ratio.covariance);
  g_free (model->cases);
  g_free (model);
}

/* The mean of the logistic function under a normal belief, by the sum over a fine net: smooth, so
 * that a net of a tenth of the spread is exact to the digits shown. */
static double
mean_chance (double mean, double sd)
{
  double sum = 0, weights = 0;
  for (int i = -50; i <= 50; i++)
    {
      double z = i / 10.0, weight = exp (-z * z / 2);
      sum += weight * logistic (mean + sd * z);
      weights += weight;
    }
  return sum / weights;
}

void
sw_outlook_model_guess (const SwOutlookModel *model, const SwOutlookCase *what, SwOutlookGuess *out)
{
  Terms terms = terms_of (model, what);
  double mean = along (&terms, model->chance.mean);
  double sd = sqrt (spread_along (&terms, model->chance.covariance));
  double ratio_spread = spread_along (&terms, model->ratio.covariance) + model->error_variance;
  gboolean known = what->outlet >= 0 && what->outlet < model->n_outlets;
  *out = (SwOutlookGuess){
    .chance = mean_chance (mean, sd),
    .low = logistic (mean - Z90 * sd),
    .high = logistic (mean + Z90 * sd),
    .ratio = exp (along (&terms, model->ratio.mean) + ratio_spread / 2),
    .cases = known ? model->cases[what->outlet] : 0,
  };
}
