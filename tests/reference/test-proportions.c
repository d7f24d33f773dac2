/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outlook's intervals against published intervals for proportions: with many cases in one
 * outlet and nothing else known, the stated prior weighs little and the model must say what the
 * counts say. */
#include "../unit/sw-test.h"

#include <math.h>

#include "core/trade/outlook-model.h"

/* Newcombe, Statistics in Medicine 17 (1998) 857-872, examples 81/263 and 15/148, method 3 (score);
 * limits from memory, recomputed. The third is derived from the same formula. */
typedef struct
{
  const char *label;
  gsize sold, cases;
  double low, high; /* 95 % */
} ProportionRow;

static const ProportionRow rows[] = {
  { "81 of 263", 81, 263, 0.2553, 0.3662 },
  { "15 of 148", 15, 148, 0.0624, 0.1605 },
  { "230 of 600", 230, 600, 0.3453, 0.4229 },
};

/* What the prior may shift a limit by: its weight is half a case beside 13 and more (n p (1 - p)).
 */
#define NEAR 0.012

/* Standard normal quantiles of 97.5 % and 90 % (to four decimals in any table). */
#define Z_95 1.9600
#define Z_80 1.2816

static double
logit (double p)
{
  return log (p / (1 - p));
}

/* The limit of the 95 % interval that has the same middle and spread, in logits, as the 80 % one.
 */
static double
widened (double middle, double limit)
{
  double x = logit (middle) + (logit (limit) - logit (middle)) * Z_95 / Z_80;
  return 1 / (1 + exp (-x));
}

static void
test_proportion (void **state)
{
  const ProportionRow *row = *state;
  g_autofree SwOutlookCase *cases = g_new0 (SwOutlookCase, row->cases);
  for (gsize i = 0; i < row->cases; i++)
    {
      cases[i].kind = -1;
      cases[i].sold = i < row->sold;
    }
  g_autoptr (SwOutlookModel) model = sw_outlook_model_fit (cases, row->cases, 1, 0);
  const SwOutlookCase next = { .kind = -1 };
  SwOutlookGuess guess;
  sw_outlook_model_guess (model, &next, &guess);
  assert_int_equal (guess.cases, row->cases);
  assert_true (fabs (guess.chance - (double)row->sold / (double)row->cases) < NEAR);
  assert_true (fabs (widened (guess.chance, guess.low) - row->low) < NEAR);
  assert_true (fabs (widened (guess.chance, guess.high) - row->high) < NEAR);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_proportion, rows);
  return sw_tests_run (tests, "proportions");
}
