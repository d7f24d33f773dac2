/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Percents, tiers, charges, their dated versions and free offers: the rules of an outlet's terms,
 * figures worked by hand. */
#include "sw-test.h"

#include "core/trade/terms.h"

static const SwCurrency cents = { "NZD", 2 };

/* --- percents --- */

typedef struct
{
  const char *label;
  const char *cell;
  const char *expected; /* NULL: refused */
} PercentRow;

static const PercentRow percent_rows[] = {
  { "whole", "20%", "20" },
  { "decimals", "17.5%", "17.5" },
  { "trailing zeros go", "17.500%", "17.5" },
  { "zero decimals go", "4.00%", "4" },
  { "leading zeros go", "004%", "4" },
  { "below one", "0.05%", "0.05" },
  { "blank before the sign", "7.5 %", "7.5" },
  { "zero", "0%", "0" },
  { "the whole", "100%", "100" },
  { "the whole with decimals", "100.000%", "100" },
  { "thirty decimals", "3.333333333333333333333333333333%", "3.333333333333333333333333333333" },
  { "no sign", "20", NULL },
  { "sign alone", "%", NULL },
  { "empty", "", NULL },
  { "negative", "-5%", NULL },
  { "plus", "+5%", NULL },
  { "comma", "7,5%", NULL },
  { "two points", "7.5.5%", NULL },
  { "point first", ".5%", NULL },
  { "point last", "5.%", NULL },
  { "more than the whole", "100.01%", NULL },
  { "far more", "1000%", NULL },
  { "words", "ten%", NULL },
  { "exponent", "1e1%", NULL },
};

static void
test_percent (void **state)
{
  const PercentRow *row = *state;
  g_autoptr (GError) error = NULL;
  g_autofree char *percent = sw_percent_parse (row->cell, &error);
  if (row->expected == NULL)
    {
      assert_null (percent);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      return;
    }
  assert_no_error (error);
  assert_string_equal (percent, row->expected);
}

typedef struct
{
  const char *label;
  const char *percent;
  gint64 amount, up, even;
} RateRow;

static const RateRow rate_rows[] = {
  { "exact", "10", 12340, 1234, 1234 },
  { "below half", "10", 12344, 1234, 1234 },
  { "above half", "10", 12346, 1235, 1235 },
  { "tie under an even", "10", 12345, 1235, 1234 },
  { "tie under an odd", "10", 12355, 1236, 1236 },
  /* 1.005 x 100.00 = 1.00500: a binary double says 100.49999 */
  { "tie that doubles miss", "1.005", 10000, 101, 100 },
  /* 0.5 and a last digit twenty-odd places on: no tie */
  { "just above a tie", "50.00000000000000000000001", 1, 1, 1 },
  { "just below a tie", "49.99999999999999999999999", 1, 0, 0 },
  { "half a cent", "50", 1, 1, 0 },
  { "one and a half", "50", 3, 2, 2 },
  { "all", "100", G_MAXINT64, G_MAXINT64, G_MAXINT64 },
  { "none", "0", G_MAXINT64, 0, 0 },
  /* (2^63 - 1) / 3 with thirty decimals: 3074457345618258602.33 less 3.07e-14 of it */
  { "long rate of the largest amount", "33.333333333333333333333333333333", G_MAXINT64,
    G_GINT64_CONSTANT (3074457345618258602), G_GINT64_CONSTANT (3074457345618258602) },
};

static void
test_rate (void **state)
{
  const RateRow *row = *state;
  g_autoptr (GError) error = NULL;
  SwMoney amount = sw_money (row->amount), out = SW_MONEY_ZERO;
  assert_true (sw_percent_sum (&amount, &row->percent, 1, SW_ROUND_HALF_UP, &out, &error));
  assert_money_equal (out, row->up);
  assert_true (sw_percent_sum (&amount, &row->percent, 1, SW_ROUND_HALF_EVEN, &out, &error));
  assert_money_equal (out, row->even);
  assert_no_error (error);
}

static void
test_sum_rounds_once (void **state)
{
  /* 0.4 + 0.4 + 0.4 cents are 1.2, not three times 0. */
  SwMoney amounts[] = { { 4 }, { 4 }, { 4 } };
  const char *percents[] = { "10", "10", "10" };
  SwMoney out;
  assert_true (sw_percent_sum (amounts, percents, 3, SW_ROUND_HALF_UP, &out, NULL));
  assert_money_equal (out, 1);
}

static void
test_sum_overflow (void **state)
{
  SwMoney amounts[] = { { G_MAXINT64 }, { 1 } };
  const char *percents[] = { "100", "100" };
  SwMoney out = { 77 };
  g_autoptr (GError) error = NULL;
  assert_false (sw_percent_sum (amounts, percents, 2, SW_ROUND_HALF_UP, &out, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_money_equal (out, 77);
}

/* --- tiers --- */

typedef struct
{
  const char *label;
  const char *cell;
  const char *text; /* NULL: refused */
  gint64 amount, charge;
} TierRow;

static const TierRow tier_rows[] = {
  { "below the bound", "500:10%;:4%", "500.00:10%;:4%", 40000, 4000 },
  { "at the bound", "500:10%;:4%", "500.00:10%;:4%", 50000, 5000 },
  /* 50.00 + 4% of 200.00 */
  { "above the bound", "500:10%;:4%", "500.00:10%;:4%", 70000, 5800 },
  { "nothing", "500:10%;:4%", "500.00:10%;:4%", 0, 0 },
  { "one open tier", ":7.5%", ":7.5%", 1000, 75 },
  { "a percent alone", "7.5%", ":7.5%", 1000, 75 },
  { "blanks", " 500 : 10% ; : 4% ", "500.00:10%;:4%", 70000, 5800 },
  /* 0.333 + 0.333 cents of a cent's halves: 33.3% of 1 twice and 50% of 1 = 1.166, rounded once */
  { "the sum is rounded once", "0.01:33.3%;0.02:33.3%;:50%", "0.01:33.3%;0.02:33.3%;:50%", 3, 1 },
  { "empty", "", NULL },
  { "closed at the top", "500:10%", NULL },
  { "bounds that fall", "500:10%;400:5%;:1%", NULL },
  { "bounds that repeat", "500:10%;500:5%;:1%", NULL },
  { "a bound of zero", "0:10%;:4%", NULL },
  { "open in the middle", ":10%;500:5%;:1%", NULL },
  { "no rate", "500:;:4%", NULL },
  { "no percent sign", "500:10;:4", NULL },
  { "too many decimals in the bound", "500.001:10%;:4%", NULL },
  { "negative bound", "-5:10%;:4%", NULL },
  { "a percent among tiers", "10%;:4%", NULL },
  { "trailing semicolon", "500:10%;:4%;", NULL },
  { "overflowing bound", "99999999999999999999:10%;:4%", NULL },
};

static void
test_tiers (void **state)
{
  const TierRow *row = *state;
  g_autoptr (GError) error = NULL;
  g_autoptr (SwTiers) tiers = sw_tiers_parse (row->cell, cents, &error);
  if (row->text == NULL)
    {
      assert_null (tiers);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      return;
    }
  assert_no_error (error);
  g_autofree char *text = sw_tiers_to_text (tiers, cents);
  assert_string_equal (text, row->text);
  SwMoney charge;
  assert_true (sw_tiers_apply (tiers, sw_money (row->amount), SW_ROUND_HALF_UP, &charge, &error));
  assert_money_equal (charge, row->charge);
}

/* --- charges --- */

typedef struct
{
  const char *label;
  SwCharge charge;
  SwChargeCase what;
  gboolean due;
  gint64 amount, tax;
} ChargeRow;

#define SOLD(price_, delivery_)                                                                    \
  {                                                                                                \
    TRUE, TRUE, { price_ }, { delivery_ }, 1, { "NZD", 2 }, SW_ROUND_HALF_UP                       \
  }
#define SOLD_EVEN(price_)                                                                          \
  {                                                                                                \
    TRUE, TRUE, { price_ }, { 0 }, 1, { "NZD", 2 }, SW_ROUND_HALF_EVEN                             \
  }
#define SOLD_WITHOUT_OFFER(price_)                                                                 \
  {                                                                                                \
    FALSE, TRUE, { price_ }, { 0 }, 0, { "NZD", 2 }, SW_ROUND_HALF_UP                              \
  }
#define UNSOLD(rank_)                                                                              \
  {                                                                                                \
    TRUE, FALSE, { 0 }, { 0 }, rank_, { "NZD", 2 }, SW_ROUND_HALF_UP                               \
  }

static const ChargeRow charge_rows[] = {
  { "per offer, sold",
    { .basis = SW_CHARGE_OFFER, .flat = { 150 } },
    SOLD (10000, 0),
    TRUE,
    150,
    0 },
  { "per offer, unsold", { .basis = SW_CHARGE_OFFER, .flat = { 150 } }, UNSOLD (1), TRUE, 150, 0 },
  { "per offer, sold without one",
    { .basis = SW_CHARGE_OFFER, .flat = { 150 } },
    SOLD_WITHOUT_OFFER (10000),
    FALSE,
    0,
    0 },
  { "per sale, sold", { .basis = SW_CHARGE_SALE, .flat = { 99 } }, SOLD (10000, 0), TRUE, 99, 0 },
  { "per sale, sold without an offer",
    { .basis = SW_CHARGE_SALE, .flat = { 99 } },
    SOLD_WITHOUT_OFFER (10000),
    TRUE,
    99,
    0 },
  { "per sale, unsold", { .basis = SW_CHARGE_SALE, .flat = { 99 } }, UNSOLD (1), FALSE, 0, 0 },
  { "of the price",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)"500:10%;:4%" },
    SOLD (70000, 5000),
    TRUE,
    5800,
    0 },
  /* 750.00: 50.00 + 4% of 250.00 */
  { "of price and delivery",
    { .basis = SW_CHARGE_PRICE_AND_DELIVERY, .tiers = (char *)"500:10%;:4%" },
    SOLD (70000, 5000),
    TRUE,
    6000,
    0 },
  { "of the price, unsold",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)":10%" },
    UNSOLD (1),
    FALSE,
    0,
    0 },
  { "least",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)":10%", .has_least = TRUE, .least = { 200 } },
    SOLD (1000, 0),
    TRUE,
    200,
    0 },
  { "least of a price of zero",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)":10%", .has_least = TRUE, .least = { 200 } },
    SOLD (0, 0),
    TRUE,
    200,
    0 },
  { "most",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)":10%", .has_most = TRUE, .most = { 5000 } },
    SOLD (90000, 0),
    TRUE,
    5000,
    0 },
  { "most of zero",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)":10%", .has_most = TRUE },
    SOLD (90000, 0),
    TRUE,
    0,
    0 },
  /* 10% of 123.45 = 12.345 -> 12.35 half-up; 20% of 12.35 = 2.47 */
  { "tax on the rounded charge",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)":10%", .tax = (char *)"20" },
    SOLD (12345, 0),
    TRUE,
    1235,
    247 },
  /* half-even: 12.34; 20% = 2.468 -> 2.47 */
  { "half-even",
    { .basis = SW_CHARGE_PRICE, .tiers = (char *)":10%", .tax = (char *)"20" },
    SOLD_EVEN (12345),
    TRUE,
    1234,
    247 },
  /* 12.5% of 1.00 = 0.125: tax half-even 0.12, half-up 0.13 */
  { "tax tie half-up",
    { .basis = SW_CHARGE_SALE, .flat = { 100 }, .tax = (char *)"12.5" },
    SOLD (1, 0),
    TRUE,
    100,
    13 },
  { "tax tie half-even",
    { .basis = SW_CHARGE_SALE, .flat = { 100 }, .tax = (char *)"12.5" },
    SOLD_EVEN (1),
    TRUE,
    100,
    12 },
  { "free offer",
    { .basis = SW_CHARGE_OFFER, .flat = { 150 }, .free_offers = 2 },
    UNSOLD (2),
    FALSE,
    0,
    0 },
  { "first that is not free",
    { .basis = SW_CHARGE_OFFER, .flat = { 150 }, .free_offers = 2 },
    UNSOLD (3),
    TRUE,
    150,
    0 },
  { "ended", { .ends = TRUE }, SOLD (1000, 0), FALSE, 0, 0 },
};

static void
test_charge (void **state)
{
  const ChargeRow *row = *state;
  g_autoptr (GError) error = NULL;
  gboolean due;
  SwMoney amount, tax;
  assert_true (sw_charge_compute (&row->charge, &row->what, &due, &amount, &tax, &error));
  assert_no_error (error);
  assert_int_equal (due, row->due);
  assert_money_equal (amount, row->amount);
  assert_money_equal (tax, row->tax);
}

/* --- dated versions --- */

static SwCharge versions[] = {
  { .id = 1, .name = (char *)"commission", .from = { 100 } },
  { .id = 2, .name = (char *)"commission", .from = { 200 } },
  { .id = 3, .name = (char *)"commission", .from = { 300 }, .ends = TRUE },
  { .id = 4, .name = (char *)"commission", .from = { 400 } },
  { .id = 5, .name = (char *)"listing", .from = { 150 } },
};

typedef struct
{
  const char *label;
  gint32 day;
  const char *ids;
} VersionRow;

static const VersionRow version_rows[] = {
  { "before all", 99, "" },
  { "from its day", 100, "1" },
  { "two charges", 199, "1 5" },
  { "replaced on the day", 200, "2 5" },
  { "last day before the end", 299, "2 5" },
  { "ended", 300, "5" },
  { "begun again", 400, "4 5" },
};

static void
test_versions (void **state)
{
  const VersionRow *row = *state;
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (versions); i++)
    g_ptr_array_add (all, &versions[i]);
  g_autoptr (GPtrArray) in_force = sw_terms_on (all, (SwDay){ row->day });
  g_autoptr (GString) ids = g_string_new (NULL);
  for (guint i = 0; i < in_force->len; i++)
    g_string_append_printf (ids, "%s%d", i > 0 ? " " : "",
                            (int)((SwCharge *)g_ptr_array_index (in_force, i))->id);
  assert_string_equal (ids->str, row->ids);
}

/* --- free offers --- */

static void
test_rank (void **state)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", &error);
  assert_no_error (error);
  /* 2026-03-31T11:30Z is already April in Auckland (+13). */
  static const struct
  {
    gint64 deal;
    const char *closes;
    gint64 item;
    const char *ref;
    gint64 rank;
  } rows[] = {
    { 1, "2026-03-31T10:30:00Z", 9, "a", 2 }, /* 23:30 on 31 March */
    { 2, "2026-03-31T11:30:00Z", 9, "b", 1 }, /* 00:30 on 1 April */
    { 3, "2026-03-05T20:00:00", 4, "c", 1 },  { 4, "2026-04-20T20:00:00", 8, "d", 3 },
    { 5, "2026-04-20T20:00:00", 7, "e", 2 }, /* same time: lower item first */
    { 6, "2026-04-20T20:00:00", 8, "f", 4 }, /* same time and item: by ref */
    { 7, "2025-04-20T20:00:00", 8, "g", 1 }, /* April of another year */
  };
  g_autoptr (GArray) closings = g_array_new (FALSE, FALSE, sizeof (SwClosing));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      SwClosing closing = { rows[i].deal, { 0 }, rows[i].item, rows[i].ref, 0 };
      assert_true (sw_moment_parse (rows[i].closes, zone, &closing.closes, NULL, &error));
      g_array_append_val (closings, closing);
    }
  sw_terms_rank (closings, zone);
  for (guint i = 0; i < closings->len; i++)
    {
      SwClosing *closing = &g_array_index (closings, SwClosing, i);
      assert_i64_equal (closing->rank, rows[closing->deal - 1].rank);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_percent, percent_rows);
  SW_TEST_ROWS (tests, test_rate, rate_rows);
  SW_TEST (tests, test_sum_rounds_once);
  SW_TEST (tests, test_sum_overflow);
  SW_TEST_ROWS (tests, test_tiers, tier_rows);
  SW_TEST_ROWS (tests, test_charge, charge_rows);
  SW_TEST_ROWS (tests, test_versions, version_rows);
  SW_TEST (tests, test_rank);
  return sw_tests_run (tests, "terms");
}
