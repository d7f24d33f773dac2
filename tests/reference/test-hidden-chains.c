/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chain and the mixture against published examples. */
#include "../unit/sw-test.h"

#include "core/match/chain.h"
#include "core/match/mixture.h"

#include <math.h>

/* A plain hidden Markov model of two states, as the textbooks write it. */
typedef struct
{
  double start[2], move[2][2], emit[2][3];
  int seen[8];
  gsize n;
} TwoStates;

static gsize
two_state_edges (gpointer data, gsize t, guint from, SwChainEdge *out)
{
  const TwoStates *model = data;

  for (guint to = 0; to < 2; to++)
    out[to] = (SwChainEdge){ to, 0, model->move[from][to] * model->emit[to][model->seen[t + 1]] };
  return 2;
}

static const guint two_sizes[8] = { 2, 2, 2, 2, 2, 2, 2, 2 };

static SwChain *
run_into (TwoStates *model, double *start, const double *finish)
{
  SwChainSpec spec = { .length = model->n,
                       .sizes = two_sizes,
                       .max_edges = 2,
                       .start = start,
                       .finish = finish,
                       .edges = two_state_edges,
                       .data = model };

  for (int s = 0; s < 2; s++)
    start[s] = model->start[s] * model->emit[s][model->seen[0]];
  return sw_chain_run (&spec);
}

static SwChain *
run_two_states (TwoStates *model, double *start)
{
  return run_into (model, start, NULL);
}

static void
near (double actual, double expected, double tolerance, const char *what)
{
  if (fabs (actual - expected) <= tolerance)
    return;
  print_error ("%s is %.7f, expected %.7f\n", what, actual, expected);
  fail ();
}

/* The umbrella world: Russell, S., Norvig, P., Artificial Intelligence: A Modern Approach, 3rd ed.
 * (2010), chapter 15 (P(R0) = 0.5, rain stays with 0.7, umbrella seen with 0.9 and 0.2). Seen:
 * umbrella, umbrella, none, umbrella, umbrella. P(R1) is 0.5 again. The filtered values of the
 * first two days stand in the text (0.818, 0.883); the others are from memory and were worked out
 * anew. */
static const TwoStates umbrella = {
  .start = { 0.5, 0.5 },
  .move = { { 0.7, 0.3 }, { 0.3, 0.7 } },
  .emit = { { 0.9, 0.1 }, { 0.2, 0.8 } },
  .seen = { 0, 0, 1, 0, 0 },
  .n = 5,
};

static void
test_umbrella_filtering (void **state)
{
  static const double expected[] = { 0.8182, 0.8834, 0.1907, 0.7308, 0.8673 };
  TwoStates model = umbrella;
  double start[2];

  /* What is known of a day from the days up to it: the last column of each prefix. */
  for (gsize t = 0; t < 4; t++)
    {
      model.n = t + 1;
      g_autoptr (SwChain) prefix = run_two_states (&model, start);
      near (sw_chain_marginal (prefix, t, 0), expected[t], 5e-5, "filtered rain");
    }
  model.n = 5;
  g_autoptr (SwChain) chain = run_two_states (&model, start);
  near (sw_chain_marginal (chain, 4, 0), expected[4], 5e-5, "filtered rain");
  near (exp (sw_chain_log_evidence (chain)), 0.0343037005, 5e-11, "likelihood of five days");
}

static void
test_umbrella_smoothing (void **state)
{
  static const double expected[] = { 0.8673, 0.8204, 0.3075, 0.8204, 0.8673 };
  TwoStates model = umbrella;
  double start[2];

  g_autoptr (SwChain) five = run_two_states (&model, start);
  for (gsize t = 0; t < 5; t++)
    near (sw_chain_marginal (five, t, 0), expected[t], 5e-5, "smoothed rain");
  model.n = 2;
  g_autoptr (SwChain) two = run_two_states (&model, start);
  near (sw_chain_marginal (two, 0, 0), 0.883, 5e-4, "smoothed rain on day one");
  near (exp (sw_chain_log_evidence (two)), 0.3515, 5e-5, "likelihood of two days");
}

/* Tomorrow's rain from today's: 0.627 on day two in the book's text. */
static void
test_umbrella_prediction (void **state)
{
  TwoStates model = umbrella;
  double start[2], rain;

  model.n = 1;
  g_autoptr (SwChain) one = run_two_states (&model, start);
  rain = sw_chain_marginal (one, 0, 0);
  near (model.move[0][0] * rain + model.move[1][0] * (1 - rain), 0.627, 5e-4, "rain on day two");
  near (rain, 0.818, 5e-4, "rain on day one");
}

typedef struct
{
  const double *start;
} StartScore;

static double
log_start (gpointer data, gsize t, guint state)
{
  return t == 0 ? log (((StartScore *)data)->start[state]) : 0;
}

/* The most probable path (Viterbi) has the greatest sum of these. */
static double
log_weight (gpointer data, gsize t, guint from, const SwChainEdge *edge)
{
  return log (edge->weight);
}

/* The greatest weight of a path that ends in that state at step t. */
static double
best_into (const TwoStates *whole, gsize t, int state)
{
  TwoStates model = *whole;
  double start[2], finish[2] = { state == 0, state == 1 };
  StartScore score = { start };
  guint path[8], kinds[8];

  model.n = t + 1;
  g_autoptr (SwChain) chain = run_into (&model, start, finish);
  return exp (sw_chain_best (chain, log_start, log_weight, &score, path, kinds));
}

static void
test_umbrella_path (void **state)
{
  static const guint expected[] = { 0, 0, 1, 0, 0 };
  /* rain, no rain; the first pair normalised as in the book (0.45 + 0.1 = 0.55) */
  static const double messages[][2] = {
    { .8182, .1818 }, { .5155, .0491 }, { .0361, .1237 }, { .0334, .0173 }, { .0210, .0024 }
  };
  TwoStates model = umbrella;
  double start[2];
  StartScore score = { start };
  guint path[5], kinds[4];

  g_autoptr (SwChain) chain = run_two_states (&model, start);
  sw_chain_best (chain, log_start, log_weight, &score, path, kinds);
  for (int t = 0; t < 5; t++)
    assert_int_equal (path[t], expected[t]);
  for (gsize t = 0; t < 5; t++)
    for (int s = 0; s < 2; s++)
      near (best_into (&umbrella, t, s) / 0.55, messages[t][s], 5e-5, "weight of the best path");
}

/* The healthy and feverish villagers, a common example of lecture notes: values from memory, worked
 * out anew. */
static const TwoStates fever = {
  .start = { 0.6, 0.4 },
  .move = { { 0.7, 0.3 }, { 0.4, 0.6 } },
  .emit = { { 0.5, 0.4, 0.1 }, { 0.1, 0.3, 0.6 } },
  .seen = { 0, 1, 2 },
  .n = 3,
};

static void
test_fever (void **state)
{
  TwoStates model = fever;
  double start[2];
  StartScore score = { start };
  guint path[3], kinds[2];

  g_autoptr (SwChain) chain = run_two_states (&model, start);
  near (exp (sw_chain_log_evidence (chain)), 0.03628, 5e-9, "forward total");
  near (exp (sw_chain_best (chain, log_start, log_weight, &score, path, kinds)), 0.01512, 5e-9,
        "weight of the most likely path");
  assert_int_equal (path[0], 0);
  assert_int_equal (path[1], 0);
  assert_int_equal (path[2], 1);
}

static void
test_fever_steps (void **state)
{
  static const double messages[][2] = { { .3, .04 }, { .084, .027 }, { .00588, .01512 } };

  for (gsize t = 0; t < 3; t++)
    for (int s = 0; s < 2; s++)
      near (best_into (&fever, t, s), messages[t][s], 5e-9, "weight of the best path");
}

static void
add_edge_posterior (gpointer data, gsize t, guint from, const SwChainEdge *edge, double posterior)
{
  ((double *)data)[t] += posterior;
}

/* Rabiner 1989, eq. 37 and 38: the edges' posteriors of a step sum to 1. */
static void
test_edges_sum_to_one (void **state)
{
  TwoStates model = umbrella;
  double start[2], sums[4] = { 0 };

  g_autoptr (SwChain) chain = run_two_states (&model, start);
  sw_chain_each_edge (chain, add_edge_posterior, sums);
  for (int t = 0; t < 4; t++)
    near (sums[t], 1, 1e-12, "sum of edge posteriors");
}

/* Waiting times in minutes between eruptions of Old Faithful: Azzalini, A., Bowman, A. W. (1990), A
 * look at some data on the Old Faithful geyser, Applied Statistics 39, 357-365; as the data set
 * 'faithful' of R. */
static const double waiting[] = {
  79, 54, 74, 62, 85, 55, 88, 85, 51, 85, 54, 84, 78, 47, 83, 52, 62, 84, 52, 79, 51, 47, 78,
  69, 74, 83, 55, 76, 78, 79, 73, 77, 66, 80, 74, 52, 48, 80, 59, 90, 80, 58, 84, 58, 73, 83,
  64, 53, 82, 59, 75, 90, 54, 80, 54, 83, 71, 64, 77, 81, 59, 84, 48, 82, 60, 92, 78, 78, 65,
  73, 82, 56, 79, 71, 62, 76, 60, 78, 76, 83, 75, 82, 70, 65, 73, 88, 76, 80, 48, 86, 60, 90,
  50, 78, 63, 72, 84, 75, 51, 82, 62, 88, 49, 83, 81, 47, 84, 52, 86, 81, 75, 59, 89, 79, 59,
  81, 50, 85, 59, 87, 53, 69, 77, 56, 88, 81, 45, 82, 55, 90, 45, 83, 56, 89, 46, 82, 51, 86,
  53, 79, 81, 60, 82, 77, 76, 59, 80, 49, 96, 53, 77, 77, 65, 81, 71, 70, 81, 93, 53, 89, 45,
  86, 58, 78, 66, 76, 63, 88, 52, 93, 49, 57, 77, 68, 81, 81, 73, 50, 85, 74, 55, 77, 83, 83,
  51, 78, 84, 46, 83, 55, 81, 57, 76, 84, 77, 81, 87, 77, 51, 78, 60, 82, 91, 53, 78, 46, 77,
  84, 49, 83, 71, 80, 49, 75, 64, 76, 53, 94, 55, 76, 50, 82, 54, 75, 78, 79, 78, 78, 70, 79,
  70, 54, 86, 50, 90, 54, 54, 77, 79, 64, 75, 47, 86, 63, 85, 82, 57, 82, 67, 74, 54, 83, 73,
  73, 88, 80, 71, 83, 56, 79, 78, 84, 58, 83, 43, 60, 75, 81, 46, 90, 46, 74,
};

/* One E-step: fills sums, returns the log-likelihood. */
static double
expect (const double *x, gsize n, const SwNormal parts[2], SwNormalSums sums[2])
{
  double log_likelihood = 0;

  for (gsize i = 0; i < n; i++)
    {
      double a = parts[0].weight * sw_normal_density (&parts[0], x[i]);
      double b = parts[1].weight * sw_normal_density (&parts[1], x[i]);

      log_likelihood += log (a + b);
      sw_normal_sums_add (&sums[0], x[i], a / (a + b));
      sw_normal_sums_add (&sums[1], x[i], b / (a + b));
    }
  return log_likelihood;
}

/* Fits two components without a prior (Dempster, Laird, Rubin 1977), until a round gains less than
 * the tolerance. Returns the log-likelihood. */
static double
fit_two (const double *x, gsize n, SwNormal parts[2], double sd_floor, double tolerance)
{
  double before = -INFINITY;

  for (int round = 0; round < 4000; round++)
    {
      SwNormalSums sums[2] = { { 0 } };
      double now = expect (x, n, parts, sums);

      if (fabs (now - before) < tolerance)
        return now;
      before = now;
      for (int j = 0; j < 2; j++)
        {
          parts[j].weight = sums[j].n / (double)n;
          sw_normal_update (&parts[j], &sums[j], NULL, sd_floor);
        }
    }
  fail_msg ("no end after 4,000 rounds");
  return before;
}

static void
test_old_faithful_data (void **state)
{
  double sum = 0;

  for (gsize k = 0; k < G_N_ELEMENTS (waiting); k++)
    sum += waiting[k];
  assert_i64_equal (G_N_ELEMENTS (waiting), 272);
  near (sum, 19284, 0, "sum of the waiting times");
}

/* Benaglia, T., Chauveau, D., Hunter, D. R., Young, D. S. (2009), mixtools: an R package for
 * analyzing finite mixture models, J. Stat. Software 32(6), fits this mixture: means 54.615
 * and 80.091, spreads 5.871 and 5.868, weights 0.361 and 0.639, log-likelihood -1034.00 (the
 * figures from memory, worked out anew). */
static void
test_old_faithful_normal (void **state)
{
  SwNormal parts[] = { { 0.5, 55, 6 }, { 0.5, 80, 6 } };
  double log_likelihood = fit_two (waiting, G_N_ELEMENTS (waiting), parts, 0.01, 1e-12);

  near (parts[0].weight, 0.360886, 1e-6, "weight of the short waits");
  near (parts[0].mean, 54.614856, 2e-6, "mean of the short waits");
  near (parts[1].mean, 80.091069, 2e-6, "mean of the long waits");
  near (parts[0].sd, 5.871219, 2e-6, "spread of the short waits");
  near (parts[1].sd, 5.867734, 2e-6, "spread of the long waits");
  near (log_likelihood, -1034.00175, 1e-5, "log-likelihood");
}

/* The same on ln x, as gaps are fitted: no published value; from another implementation of the same
 * steps. */
static void
test_old_faithful_log_normal (void **state)
{
  SwNormal parts[] = { { 0.5, 4.0, 0.1 }, { 0.5, 4.38, 0.1 } };
  double z[G_N_ELEMENTS (waiting)], sum = 0, log_likelihood;

  for (gsize k = 0; k < G_N_ELEMENTS (waiting); k++)
    sum += z[k] = log (waiting[k]);
  log_likelihood = fit_two (z, G_N_ELEMENTS (z), parts, 1e-4, 1e-13);
  near (parts[0].weight, 0.376154, 2e-6, "weight of the short waits");
  near (parts[0].mean, 4.003850, 1e-6, "mean of the short waits");
  near (parts[1].mean, 4.384304, 1e-6, "mean of the long waits");
  near (parts[0].sd, 0.114858, 1e-6, "spread of the short waits");
  near (log_likelihood - sum, -1032.70997, 1e-5, "log-likelihood in x");
}

/* A prior worth k observations: the conjugate mean, (k m + sum) / (k + n). */
static void
test_prior_mean (void **state)
{
  SwNormal normal = { 1, 0, 1 };
  SwNormalSums sums = { 0 };
  SwNormalPrior prior = { 10, 2, 4, 4 };

  sw_normal_sums_add (&sums, 20, 1);
  sw_normal_sums_add (&sums, 22, 1);
  sw_normal_update (&normal, &sums, &prior, 0.1);
  near (normal.mean, 82.0 / 6, 1e-12, "mean under a prior");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_umbrella_filtering);
  SW_TEST (tests, test_umbrella_smoothing);
  SW_TEST (tests, test_umbrella_prediction);
  SW_TEST (tests, test_umbrella_path);
  SW_TEST (tests, test_fever);
  SW_TEST (tests, test_fever_steps);
  SW_TEST (tests, test_edges_sum_to_one);
  SW_TEST (tests, test_old_faithful_data);
  SW_TEST (tests, test_old_faithful_normal);
  SW_TEST (tests, test_old_faithful_log_normal);
  SW_TEST (tests, test_prior_mean);
  return sw_tests_run (tests, "hidden-chains");
}
