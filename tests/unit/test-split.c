/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rule by which a lot's money is shared out, and the shares it leads to. */
#include "sw-test.h"

#include "core/trade/split.h"

#define PRICED(a, m)                                                                               \
  {                                                                                                \
    TRUE, TRUE, { a }, { m }                                                                       \
  }
#define NO_PRICE(m)                                                                                \
  {                                                                                                \
    FALSE, TRUE, { 0 }, { m }                                                                      \
  }
#define NO_MASS(a)                                                                                 \
  {                                                                                                \
    TRUE, FALSE, { a }, { 0 }                                                                      \
  }
#define BARE                                                                                       \
  {                                                                                                \
    FALSE, FALSE, { 0 }, { 0 }                                                                     \
  }

typedef struct
{
  const char *label;
  gsize n;
  SwSplitPart parts[4];
  SwSplitRule rule;
  gint64 total;
  gint64 shares[4];
  gboolean by_mass; /* a docket line's split */
} Row;

static const Row rows[] = {
  { "by asking",
    2,
    { PRICED (3000, 1), PRICED (1000, 9) },
    SW_SPLIT_BY_ASKING,
    1000,
    { 750, 250 } },
  /* 100 x 1/3 = 33.33 each, the cent left over to the lower number */
  { "asking, tie to the lower number",
    3,
    { NO_MASS (5), NO_MASS (5), NO_MASS (5) },
    SW_SPLIT_BY_ASKING,
    100,
    { 34, 33, 33 } },
  { "a price of zero takes no share",
    2,
    { NO_MASS (0), NO_MASS (7) },
    SW_SPLIT_BY_ASKING,
    99,
    { 0, 99 } },
  { "all prices zero, masses there: equally",
    2,
    { PRICED (0, 5), PRICED (0, 1) },
    SW_SPLIT_EQUALLY,
    101,
    { 51, 50 } },
  { "one without a price: by mass",
    2,
    { PRICED (3000, 1000), NO_PRICE (3000) },
    SW_SPLIT_BY_MASS,
    1000,
    { 250, 750 } },
  { "one without a price, another without a mass: equally",
    3,
    { NO_MASS (100), NO_PRICE (5), PRICED (1, 1) },
    SW_SPLIT_EQUALLY,
    101,
    { 34, 34, 33 } },
  { "nothing known: equally", 2, { BARE, BARE }, SW_SPLIT_EQUALLY, -5, { -3, -2 } },
  { "one item takes all", 1, { BARE }, SW_SPLIT_EQUALLY, 12345, { 12345 } },
  { "masses all zero: equally", 2, { NO_PRICE (0), NO_PRICE (0) }, SW_SPLIT_EQUALLY, 2, { 1, 1 } },
  /* largest weights there are: 2^63-1 each */
  { "huge prices",
    2,
    { NO_MASS (G_MAXINT64), NO_MASS (G_MAXINT64) },
    SW_SPLIT_BY_ASKING,
    3,
    { 2, 1 } },
  { "docket line: by mass though priced",
    2,
    { PRICED (9000, 1000), PRICED (1000, 3000) },
    SW_SPLIT_BY_MASS,
    1000,
    { 250, 750 },
    TRUE },
  { "docket line: one mass missing, equally",
    2,
    { NO_MASS (9000), PRICED (1000, 3000) },
    SW_SPLIT_EQUALLY,
    1001,
    { 501, 500 },
    TRUE },
};

static void
test_split (void **state)
{
  const Row *row = *state;
  gint64 weights[4];
  SwMoney shares[4];
  SwSplitRule rule = row->by_mass ? sw_split_weights_by_mass (row->parts, row->n, weights)
                                  : sw_split_weights (row->parts, row->n, weights);
  assert_string_equal (sw_split_rule_key (rule), sw_split_rule_key (row->rule));
  sw_money_split (sw_money (row->total), weights, row->n, shares);
  for (gsize i = 0; i < row->n; i++)
    assert_money_equal (shares[i], row->shares[i]);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_split, rows);
  return sw_tests_run (tests, "split");
}
