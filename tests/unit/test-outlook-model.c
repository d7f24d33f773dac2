/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outlook's model: sellers drawn from its stated prior, whose truth is known. An 80 % interval
 * must hold the truth in 75 to 85 % of cases whatever the number of cases, and money must be right
 * over all. Published value: the normal quantile in NIST/SEMATECH e-Handbook of Statistical Methods
 * (2012), section 1.3.6.7.1, by way of a case without any record. */
#include "core/trade/outlook-model.h"
#include "sw-test.h"

#include <math.h>

/* cmocka 1.1 compares floats of single precision only. */
#define assert_float_near(actual, expected, within)                                                \
  assert_true (fabs ((actual) - (expected)) <= (within))

#define SELLERS 2000
#define OUTLETS 3
#define KINDS 3

typedef struct
{
  double overall, price, interest, outlet[OUTLETS], kind[KINDS];
} Truth;

typedef struct
{
  Truth chance, ratio;
  double error_sd;
} Seller;

/* Two uniform numbers into a normal one (Box and Muller, Annals of Mathematical Statistics 29
 * (1958)). */
static double
normal (GRand *dice, double mean, double sd)
{
  double radius = sqrt (-2 * log (1 - g_rand_double (dice)));
  return mean + sd * radius * cos (2 * G_PI * g_rand_double (dice));
}

#define DRAW(tag, mean, sd) [SW_TERM_##tag] = { mean, sd },
static const double chance_table[SW_N_TERMS][2] = { SW_OUTLOOK_CHANCE (DRAW) };
static const double ratio_table[SW_N_TERMS][2] = { SW_OUTLOOK_RATIO (DRAW) };

static double
draw (GRand *dice, const double table[][2], SwTerm term)
{
  return normal (dice, table[term][0], table[term][1]);
}

static Truth
draw_truth (GRand *dice, const double table[][2])
{
  Truth truth = { draw (dice, table, SW_TERM_OVERALL),
                  draw (dice, table, SW_TERM_PRICE),
                  draw (dice, table, SW_TERM_INTEREST),
                  { 0 },
                  { 0 } };
  for (int i = 0; i < OUTLETS; i++)
    truth.outlet[i] = draw (dice, table, SW_TERM_OUTLET);
  for (int i = 0; i < KINDS; i++)
    truth.kind[i] = draw (dice, table, SW_TERM_KIND);
  return truth;
}

static double
along (const Truth *truth, const SwOutlookCase *what)
{
  return truth->overall + truth->price * what->price + truth->interest * what->interest
         + truth->outlet[what->outlet] + truth->kind[what->kind];
}

static SwOutlookCase
draw_case (GRand *dice, const Seller *seller, int outlet)
{
  SwOutlookCase drawn = { .outlet = outlet,
                          .kind = g_rand_int_range (dice, 0, KINDS),
                          .price = normal (dice, 0, 0.5),
                          .interest = g_rand_double_range (dice, -1, 2) };
  drawn.sold = g_rand_double (dice) < 1 / (1 + exp (-along (&seller->chance, &drawn)));
  drawn.has_ratio = drawn.sold;
  if (drawn.sold)
    drawn.ratio = normal (dice, along (&seller->ratio, &drawn), seller->error_sd);
  return drawn;
}

/* How often the interval held, and the money expected and guessed, by number of cases. */
typedef struct
{
  const char *label;
  int least, most;
  int cases, held;
} Band;

typedef struct
{
  double true_money, guessed;
} Money;

static void
judge (GRand *dice, const Seller *seller, const SwOutlookModel *model, int outlet, Band *bands,
       Money *money)
{
  SwOutlookCase next = draw_case (dice, seller, outlet);
  SwOutlookGuess guess;
  sw_outlook_model_guess (model, &next, &guess);
  double chance = 1 / (1 + exp (-along (&seller->chance, &next)));
  double ratio = exp (along (&seller->ratio, &next) + seller->error_sd * seller->error_sd / 2);
  for (int i = 0; i < 3; i++)
    if (guess.cases >= bands[i].least && guess.cases <= bands[i].most)
      {
        bands[i].cases++;
        bands[i].held += guess.low <= chance && chance <= guess.high;
      }
  money->true_money += chance * ratio;
  money->guessed += guess.chance * guess.ratio;
}

static void
run_seller (GRand *dice, Band *bands, Money *money)
{
  Seller seller
      = { draw_truth (dice, chance_table), draw_truth (dice, ratio_table), SW_OUTLOOK_ERROR_SD };
  const int counts[OUTLETS] = { g_rand_int_range (dice, 0, 5), g_rand_int_range (dice, 5, 21),
                                g_rand_int_range (dice, 21, 61) };
  g_autoptr (GArray) cases = g_array_new (FALSE, FALSE, sizeof (SwOutlookCase));
  for (int outlet = 0; outlet < OUTLETS; outlet++)
    for (int i = 0; i < counts[outlet]; i++)
      {
        SwOutlookCase one = draw_case (dice, &seller, outlet);
        g_array_append_val (cases, one);
      }
  g_autoptr (SwOutlookModel) model = sw_outlook_model_fit (
      (const SwOutlookCase *)(void *)cases->data, cases->len, OUTLETS, KINDS);
  for (int outlet = 0; outlet < OUTLETS; outlet++)
    judge (dice, &seller, model, outlet, bands, money);
}

static void
test_sellers (void **state)
{
  (void)state;
  g_autoptr (GRand) dice = g_rand_new_with_seed (20260411);
  Band bands[]
      = { { "under 5", 0, 4, 0, 0 }, { "5 to 20", 5, 20, 0, 0 }, { "over 20", 21, 1000, 0, 0 } };
  Money money = { 0, 0 };
  for (int i = 0; i < SELLERS; i++)
    run_seller (dice, bands, &money);
  for (gsize i = 0; i < G_N_ELEMENTS (bands); i++)
    {
      double share = (double)bands[i].held / bands[i].cases;
      print_message ("%s cases: %.1f %% of %d intervals hold the truth\n", bands[i].label,
                     100 * share, bands[i].cases);
      assert_true (bands[i].cases >= SELLERS / 2);
      assert_true (share >= 0.75 && share <= 0.85);
    }
  double off = money.guessed / money.true_money - 1;
  print_message ("money: %+.2f %% over all\n", 100 * off);
  assert_true (fabs (off) < 0.02);
}

/* Without any record the interval is the prior's own: mean and spread of the sum of its terms. */
static void
test_no_record (void **state)
{
  (void)state;
  g_autoptr (SwOutlookModel) model = sw_outlook_model_fit (NULL, 0, 1, 0);
  const SwOutlookCase what = { .outlet = 0, .kind = -1 };
  SwOutlookGuess guess;
  sw_outlook_model_guess (model, &what, &guess);
  double sd = sqrt (1.2 * 1.2 + 1.0 * 1.0);
  assert_float_near (log (guess.high / (1 - guess.high)), 1.2815515655 * sd, 1e-6);
  assert_float_near (log (guess.low / (1 - guess.low)), -1.2815515655 * sd, 1e-6);
  assert_float_near (guess.chance, 0.5, 1e-9);
  assert_int_equal (guess.cases, 0);
}

/* Few cases are pulled to the overall rate, many stand by themselves. */
static void
test_pulled (void **state)
{
  (void)state;
  SwOutlookCase cases[160];
  for (int i = 0; i < 160; i++)
    cases[i] = (SwOutlookCase){ .outlet = i < 2 ? 0 : 1, .kind = -1, .sold = i < 2 || i % 4 == 0 };
  g_autoptr (SwOutlookModel) model = sw_outlook_model_fit (cases, 160, 2, 0);
  SwOutlookGuess few, many;
  sw_outlook_model_guess (model, &(SwOutlookCase){ .outlet = 0, .kind = -1 }, &few);
  sw_outlook_model_guess (model, &(SwOutlookCase){ .outlet = 1, .kind = -1 }, &many);
  assert_int_equal (few.cases, 2);
  assert_int_equal (many.cases, 158);
  /* 2 of 2 is no certainty; 40 of 158 is about a quarter */
  assert_true (few.chance > 0.3 && few.chance < 0.8);
  assert_true (few.high - few.low > 2 * (many.high - many.low));
  assert_float_near (many.chance, 0.253, 0.02);
}

static void
test_interest (void **state)
{
  (void)state;
  assert_float_near (sw_outlook_interest (-1, -1, -1), 0, 0);
  assert_float_near (sw_outlook_interest (0, 0, 0), -1, 0);
  assert_true (sw_outlook_interest (50, 0, 0) < sw_outlook_interest (50, 1, 0));
  assert_true (sw_outlook_interest (50, 1, 0) < sw_outlook_interest (50, 1, 1));
  assert_float_near (sw_outlook_interest (G_MAXINT64, G_MAXINT64, G_MAXINT64), 3, 0);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_sellers);
  SW_TEST (tests, test_no_record);
  SW_TEST (tests, test_pulled);
  SW_TEST (tests, test_interest);
  return sw_tests_run (tests, "outlook-model");
}
