/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rounding, apportionment and currency digits against published tables. Each table names its
 * publication. */
#include "../unit/sw-test.h"

/* ISO 80000-1:2009, Quantities and units, Part 1: General, Annex B; rule A rounds ties to the even
 * multiple, rule B to the larger one (examples from memory). IEEE 754-2019, 4.3.1, names the same
 * two roundTiesToEven and roundTiesToAway. A number is written as an integer and the power of ten
 * it is divided by: 12.25 to 0.1 is 1225 x 1/10. */
typedef struct
{
  const char *label;
  gint64 amount, num, den;
  gint64 even, up;
} RoundingRow;

static const RoundingRow rounding_rows[] = {
  { "Annex B: 12.223 to 0.1", 12223, 1, 100, 122, 122 },
  { "Annex B: 12.251 to 0.1", 12251, 1, 100, 123, 123 },
  { "Annex B: 12.275 to 0.1", 12275, 1, 100, 123, 123 },
  { "Annex B: 1223.3 to 10", 12233, 1, 100, 122, 122 },
  { "Annex B: 1225.1 to 10", 12251, 1, 100, 123, 123 },
  { "Annex B: 1227.5 to 10", 12275, 1, 100, 123, 123 },
  { "Annex B: 12.25 to 0.1", 1225, 1, 10, 122, 123 },
  { "Annex B: 12.35 to 0.1", 1235, 1, 10, 124, 124 },
  { "Annex B: 1225.0 to 10", 12250, 1, 100, 122, 123 },
  { "Annex B: 1235.0 to 10", 12350, 1, 100, 124, 124 },
  { "Annex B: 12.254 to 0.1 in one stage", 12254, 1, 100, 123, 123 },
  /* CICC, databook 205, on rounding of numbers: half up, and to even */
  { "123.454 to 0.01", 123454, 1, 10, 12345, 12345 },
  { "123.455 to 0.01", 123455, 1, 10, 12346, 12346 },
  { "123.55 to 0.1", 12355, 1, 10, 1236, 1236 },
  /* Polars manual, Series.round, on its two modes */
  { "0.5 to 1", 5, 1, 10, 0, 1 },
  { "1.5 to 1", 15, 1, 10, 2, 2 },
  { "2.5 to 1", 25, 1, 10, 2, 3 },
  /* IEEE 754-2019, 4.3.1: away from zero, not towards plus infinity (derived) */
  { "-2.5 to 1", -25, 1, 10, -2, -3 },
  { "3.5 to 1", 35, 1, 10, 4, 4 },
  /* where binary floating point shows 2.67 and 1.00 (derived with exact decimals) */
  { "2.675 to 0.01", 2675, 1, 10, 268, 268 },
  { "1.005 to 0.01", 1005, 1, 10, 100, 101 },
  { "0.125 to 0.01", 125, 1, 10, 12, 13 },
  { "0.135 to 0.01", 135, 1, 10, 14, 14 },
  { "0.175 to 0.01", 175, 1, 10, 18, 18 },
  /* Inland Revenue of New Zealand: tax of 15% inside a price is 3/23; Australian Taxation Office:
     10% is 1/11 */
  { "goods and services tax inside 115.00", 11500, 3, 23, 1500, 1500 },
  { "goods and services tax inside 100.00", 10000, 3, 23, 1304, 1304 },
  { "goods and services tax inside 110.00", 11000, 1, 11, 1000, 1000 },
};

static void
rounding (void **state)
{
  const RoundingRow *row = *state;
  SwMoney even = { -77 }, up = { -77 };
  assert_true (
      sw_money_scale (sw_money (row->amount), row->num, row->den, SW_ROUND_HALF_EVEN, &even, NULL));
  assert_true (
      sw_money_scale (sw_money (row->amount), row->num, row->den, SW_ROUND_HALF_UP, &up, NULL));
  assert_money_equal (even, row->even);
  assert_money_equal (up, row->up);
}

/* Annex B warns of rounding in more than one stage: 12.254 would become 12.25 and then 12.2. */
static void
two_stages_go_wrong (void **state)
{
  SwMoney first = { 0 }, second = { 0 };
  assert_true (sw_money_scale (sw_money (12254), 1, 10, SW_ROUND_HALF_EVEN, &first, NULL));
  assert_true (sw_money_scale (first, 1, 10, SW_ROUND_HALF_EVEN, &second, NULL));
  assert_money_equal (first, 1225);
  assert_money_equal (second, 122);
}

/* Largest remainders, called Hamilton's method after the bill of 1792. */
typedef struct
{
  const char *label;
  gint64 total;
  gsize n;
  gint64 weights[15], parts[15];
} ShareRow;

/* Seats of the House of Representatives after the census of 1790: Electowiki, "Hamilton method" */
#define STATES_1790                                                                                \
  {                                                                                                \
    630560, 475327, 432879, 353523, 331589, 278514, 236841, 206236, 179570, 141822, 85533, 70835,  \
        68705, 68446, 55540                                                                        \
  }
/* COMAP, "For All Practical Purposes", 10th edition 2015, chapter 14, question 45 */
#define COMAP_45                                                                                   \
  {                                                                                                \
    5576330, 1387342, 3334241, 7512860, 310968                                                     \
  }
/* Electowiki, "Alabama paradox" */
#define ALABAMA                                                                                    \
  {                                                                                                \
    567, 385, 42, 6                                                                                \
  }

static const ShareRow share_rows[] = {
  { "census of 1790, 60 seats",
    60,
    15,
    STATES_1790,
    { 11, 8, 7, 6, 6, 5, 4, 3, 3, 2, 1, 1, 1, 1, 1 } },
  /* quotas as printed at Infinite Lexicon, "Largest remainder"; result derived */
  { "50, 30, 20 for 7", 7, 3, { 50, 30, 20 }, { 4, 2, 1 } },
  /* Wikipedia, "Largest remainder method", from memory */
  { "six parties for 10", 10, 6, { 47000, 16000, 15800, 12000, 6100, 3100 }, { 5, 2, 1, 1, 1, 0 } },
  { "Alabama paradox, 323 seats", 323, 4, ALABAMA, { 183, 124, 14, 2 } },
  { "Alabama paradox, 324 seats", 324, 4, ALABAMA, { 184, 125, 13, 2 } },
  { "COMAP, 89 seats", 89, 5, COMAP_45, { 27, 7, 16, 37, 2 } },
  { "COMAP, 90 seats", 90, 5, COMAP_45, { 28, 7, 17, 37, 1 } },
  { "COMAP, 91 seats", 91, 5, COMAP_45, { 28, 7, 17, 38, 1 } },
  /* derived */
  { "100.00 in three", 10000, 3, { 1, 1, 1 }, { 3334, 3333, 3333 } },
};

static void
shares (void **state)
{
  const ShareRow *row = *state;
  SwMoney parts[15];
  sw_money_split (sw_money (row->total), row->weights, row->n, parts);
  for (gsize i = 0; i < row->n; i++)
    assert_money_equal (parts[i], row->parts[i]);
}

/* ISO 4217:2015, list one: digits of the minor unit, as printed in OPC UA Part 3 (OPC Foundation,
 * 2022), 8.61 (AUD, EUR, INR, USD, GBP, JPY); LinkML value sets, "CurrencyCode" (NZD to ZAR); HCL,
 * "ISO currency codes" (XOF, BHD); the others from memory. */
typedef struct
{
  const char *label;
  int digits; /* -1: refused */
} CurrencyRow;

static const CurrencyRow currency_rows[] = {
  { "AUD", 2 },  { "EUR", 2 },  { "INR", 2 },  { "USD", 2 },  { "GBP", 2 },  { "NZD", 2 },
  { "CAD", 2 },  { "CHF", 2 },  { "SEK", 2 },  { "NOK", 2 },  { "DKK", 2 },  { "ZAR", 2 },
  { "CZK", 2 },  { "PLN", 2 },  { "HUF", 2 },  { "MRU", 2 },  { "MGA", 2 },  { "JPY", 0 },
  { "KRW", 0 },  { "ISK", 0 },  { "CLP", 0 },  { "VND", 0 },  { "XOF", 0 },  { "XAF", 0 },
  { "XPF", 0 },  { "BIF", 0 },  { "DJF", 0 },  { "GNF", 0 },  { "KMF", 0 },  { "PYG", 0 },
  { "RWF", 0 },  { "UGX", 0 },  { "VUV", 0 },  { "BHD", 3 },  { "KWD", 3 },  { "OMR", 3 },
  { "TND", 3 },  { "JOD", 3 },  { "IQD", 3 },  { "LYD", 3 },  { "CLF", -1 }, { "UYW", -1 },
  { "XAU", -1 }, { "XAG", -1 }, { "XPT", -1 }, { "XPD", -1 }, { "XDR", -1 }, { "XBA", -1 },
  { "XUA", -1 }, { "XSU", -1 }, { "XTS", -1 }, { "XXX", -1 },
};

static void
currency_digits (void **state)
{
  const CurrencyRow *row = *state;
  SwCurrency currency = { "", -1 };
  assert_true (sw_currency_find (row->label, &currency, NULL) == (row->digits >= 0));
  assert_i64_equal (currency.digits, row->digits);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, rounding, rounding_rows);
  SW_TEST (tests, two_stages_go_wrong);
  SW_TEST_ROWS (tests, shares, share_rows);
  SW_TEST_ROWS (tests, currency_digits, currency_rows);
  return sw_tests_run (tests, "published money");
}
