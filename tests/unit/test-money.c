/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums, splits, reading and printing of money: our own promises. Published values stand in
 * tests/reference. */
#include "sw-test.h"

#include <locale.h>

static const SwCurrency eur = { "EUR", 2 }, jpy = { "JPY", 0 }, kwd = { "KWD", 3 };

static void
known_currencies (void **state)
{
  SwCurrency found = { "???", 9 };
  assert_true (sw_currency_find ("EUR", &found, NULL));
  assert_string_equal (found.code, "EUR");
  assert_i64_equal (found.digits, 2);
}

typedef struct
{
  const char *label;
  const char *code;
} RefusedCode;

static const RefusedCode refused_codes[] = {
  { "four digits", "CLF" },   { "four digits, pension unit", "UYW" },
  { "metal", "XAU" },         { "drawing rights", "XDR" },
  { "no currency", "XXX" },   { "test code", "XTS" },
  { "small letters", "eur" }, { "too short", "EU" },
  { "too long", "EURO" },     { "empty", "" },
  { "missing", NULL },        { "hostile bytes", "\x1b[2J\xff" },
};

static void
refused_currency (void **state)
{
  const RefusedCode *row = *state;
  g_autoptr (GError) error = NULL;
  SwCurrency found = { "???", 9 };
  assert_false (sw_currency_find (row->code, &found, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_i64_equal (found.digits, 9);
}

typedef struct
{
  const char *label;
  gint64 a, b;
  gboolean sum_fits, difference_fits;
  gint64 sum, difference;
} SumRow;

static const SumRow sum_rows[] = {
  { "plain", 250, 199, TRUE, TRUE, 449, 51 },
  { "signs", -250, 199, TRUE, TRUE, -51, -449 },
  { "top", G_MAXINT64, 1, FALSE, TRUE, 0, G_MAXINT64 - 1 },
  { "bottom", G_MININT64, 1, TRUE, FALSE, G_MININT64 + 1, 0 },
  { "least taken from zero", 0, G_MININT64, TRUE, FALSE, G_MININT64, 0 },
};

static void
sums (void **state)
{
  const SumRow *row = *state;
  g_autoptr (GError) add_error = NULL, sub_error = NULL;
  SwMoney sum = { -77 }, difference = { -77 };
  assert_true (sw_money_add (sw_money (row->a), sw_money (row->b), &sum, &add_error)
               == row->sum_fits);
  assert_money_equal (sum, row->sum_fits ? row->sum : -77);
  assert_true (sw_money_sub (sw_money (row->a), sw_money (row->b), &difference, &sub_error)
               == row->difference_fits);
  assert_money_equal (difference, row->difference_fits ? row->difference : -77);
  if (!row->sum_fits)
    assert_sw_error (add_error, SW_ERROR_BAD_INPUT);
  if (!row->difference_fits)
    assert_sw_error (sub_error, SW_ERROR_BAD_INPUT);
}

static void
sum_into_operand (void **state)
{
  SwMoney total = { 5 };
  assert_true (sw_money_add (total, total, &total, NULL));
  assert_money_equal (total, 10);
}

typedef struct
{
  const char *label;
  gint64 amount, num, den;
  gboolean fits;
  gint64 half_up, half_even;
} ScaleRow;

static const ScaleRow scale_rows[] = {
  { "a tenth", 12345, 1, 10, TRUE, 1235, 1234 },
  { "a tenth, other parity", 12335, 1, 10, TRUE, 1234, 1234 },
  { "negative amount", -12345, 1, 10, TRUE, -1235, -1234 },
  { "negative factor", 12345, -1, 10, TRUE, -1235, -1234 },
  { "both negative", -12345, -1, 10, TRUE, 1235, 1234 },
  { "below a half", 149, 1, 100, TRUE, 1, 1 },
  { "above a half", 151, 1, 100, TRUE, 2, 2 },
  { "odd divisor has no ties", 10, 1, 3, TRUE, 3, 3 },
  { "zero", 0, 12, 7, TRUE, 0, 0 },
  { "product past 64 bits", G_MAXINT64, G_MAXINT64, G_MAXINT64, TRUE, G_MAXINT64, G_MAXINT64 },
  { "half of the largest", G_MAXINT64, 1, 2, TRUE, 4611686018427387904, 4611686018427387904 },
  { "least kept", G_MININT64, 1, 1, TRUE, G_MININT64, G_MININT64 },
  { "least turned over", G_MININT64, -1, 1, FALSE, 0, 0 },
  { "least squared", G_MININT64, G_MININT64, 1, FALSE, 0, 0 },
  { "too large", G_MAXINT64, 2, 1, FALSE, 0, 0 },
};

static void
scaled (void **state)
{
  const ScaleRow *row = *state;
  static const SwRounding roundings[] = { SW_ROUND_HALF_UP, SW_ROUND_HALF_EVEN };
  for (gsize i = 0; i < G_N_ELEMENTS (roundings); i++)
    {
      g_autoptr (GError) error = NULL;
      SwMoney result = { -77 };
      gint64 expected = roundings[i] == SW_ROUND_HALF_UP ? row->half_up : row->half_even;
      assert_true (
          sw_money_scale (sw_money (row->amount), row->num, row->den, roundings[i], &result, &error)
          == row->fits);
      assert_money_equal (result, row->fits ? expected : -77);
      if (!row->fits)
        assert_sw_error (error, SW_ERROR_BAD_INPUT);
    }
}

typedef struct
{
  const char *label;
  gint64 total;
  gsize n;
  gint64 weights[4], parts[4];
} SplitRow;

static const SplitRow split_rows[] = {
  { "alone", 999, 1, { 0 }, { 999 } },
  { "no weights: equally", 100, 3, { 0, 0, 0 }, { 34, 33, 33 } },
  { "negative mirrors positive", -100, 3, { 0, 0, 0 }, { -34, -33, -33 } },
  { "ties to the lower index", 2, 4, { 1, 1, 1, 1 }, { 1, 1, 0, 0 } },
  { "zero weight gets nothing", 101, 3, { 0, 1, 1 }, { 0, 51, 50 } },
  { "nothing to split", 0, 2, { 3, 4 }, { 0, 0 } },
  { "weights past 64 bits together",
    4,
    4,
    { G_MAXINT64, G_MAXINT64, G_MAXINT64, G_MAXINT64 },
    { 1, 1, 1, 1 } },
  { "all extremes", G_MININT64, 2, { G_MAXINT64, G_MAXINT64 }, { G_MININT64 / 2, G_MININT64 / 2 } },
  { "largest remainder, not largest weight", 10, 3, { 65, 21, 14 }, { 7, 2, 1 } },
};

static void
split (void **state)
{
  const SplitRow *row = *state;
  SwMoney parts[4];
  sw_money_split (sw_money (row->total), row->weights, row->n, parts);
  for (gsize i = 0; i < row->n; i++)
    assert_money_equal (parts[i], row->parts[i]);
}

/* What holds of every split: the sum, the sign, the quota rule (each part within one of its exact
 * share). */
static void
split_keeps_its_rules (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4217);
  for (int round = 0; round < 2000; round++)
    {
      gint64 weights[12];
      SwMoney parts[12], mirrored[12];
      gsize n = (gsize)g_rand_int_range (rand, 1, 13);
      gint64 total = g_rand_int_range (rand, 0, 2000000), weight_sum = 0, sum = 0;
      for (gsize i = 0; i < n; i++)
        weight_sum += weights[i]
            = g_rand_int_range (rand, 0, 3) * g_rand_int_range (rand, 0, 50000);
      sw_money_split (sw_money (total), weights, n, parts);
      sw_money_split (sw_money (-total), weights, n, mirrored);
      for (gsize i = 0; i < n; i++)
        {
          sum += parts[i].minor;
          assert_money_equal (mirrored[i], -parts[i].minor);
          gint64 weight = weight_sum > 0 ? weights[i] : 1,
                 of = weight_sum > 0 ? weight_sum : (gint64)n;
          assert_true (ABS (parts[i].minor * of - total * weight) < of);
        }
      assert_i64_equal (sum, total);
    }
}

typedef struct
{
  const char *label;
  SwCurrency currency;
  gint64 minor;
  const char *text;
} PlainRow;

static const PlainRow plain_rows[] = {
  { "two digits", { "EUR", 2 }, 123450, "1234.50" },
  { "cents alone", { "EUR", 2 }, 5, "0.05" },
  { "negative cents", { "EUR", 2 }, -5, "-0.05" },
  { "no digits", { "JPY", 0 }, 12, "12" },
  { "three digits", { "KWD", 3 }, 1005, "1.005" },
  { "zero", { "EUR", 2 }, 0, "0.00" },
  { "largest", { "EUR", 2 }, G_MAXINT64, "92233720368547758.07" },
  { "least", { "EUR", 2 }, G_MININT64, "-92233720368547758.08" },
  { "least, three digits", { "KWD", 3 }, G_MININT64, "-9223372036854775.808" },
};

static void
plain_both_ways (void **state)
{
  const PlainRow *row = *state;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sw_money_to_plain (sw_money (row->minor), row->currency);
  assert_string_equal (text, row->text);
  SwMoney back = { -77 };
  assert_true (sw_money_parse_plain (text, row->currency, TRUE, &back, &error));
  assert_no_error (error);
  assert_money_equal (back, row->minor);
}

typedef struct
{
  const char *label;
  const char *text;
  const SwCurrency *currency;
  gboolean allow_negative;
  gboolean taken;
  gint64 minor;
} ParseRow;

static const ParseRow parse_rows[] = {
  { "one decimal", "1234.5", &eur, FALSE, TRUE, 123450 },
  { "no decimal", "1234", &eur, FALSE, TRUE, 123400 },
  { "leading zeros", "007.10", &eur, FALSE, TRUE, 710 },
  { "negative where allowed", "-3", &eur, TRUE, TRUE, -300 },
  { "minus zero", "-0", &eur, TRUE, TRUE, 0 },
  { "long zeros", "000000000000000000000000000001", &jpy, FALSE, TRUE, 1 },
  { "negative", "-3", &eur, FALSE, FALSE, 0 },
  { "plus", "+3", &eur, TRUE, FALSE, 0 },
  { "too many decimals", "1.005", &eur, FALSE, FALSE, 0 },
  { "decimals in yen", "1.0", &jpy, FALSE, FALSE, 0 },
  { "four in dinars", "1.0000", &kwd, FALSE, FALSE, 0 },
  { "comma", "1,50", &eur, FALSE, FALSE, 0 },
  { "grouped", "1 234.50", &eur, FALSE, FALSE, 0 },
  { "no whole", ".50", &eur, FALSE, FALSE, 0 },
  { "nothing after the point", "1.", &eur, FALSE, FALSE, 0 },
  { "point alone", ".", &eur, FALSE, FALSE, 0 },
  { "minus alone", "-", &eur, TRUE, FALSE, 0 },
  { "two points", "1.2.3", &eur, FALSE, FALSE, 0 },
  { "exponent", "1e3", &eur, FALSE, FALSE, 0 },
  { "hexadecimal", "0x10", &eur, FALSE, FALSE, 0 },
  { "not a number", "nan", &eur, FALSE, FALSE, 0 },
  { "blank before", " 1", &eur, FALSE, FALSE, 0 },
  { "currency sign", "1.00 EUR", &eur, FALSE, FALSE, 0 },
  { "digits of another script", "\xd9\xa1\xd9\xa2", &eur, FALSE, FALSE, 0 },
  { "empty", "", &eur, FALSE, FALSE, 0 },
  { "missing", NULL, &eur, FALSE, FALSE, 0 },
  { "one past the largest", "92233720368547758.08", &eur, TRUE, FALSE, 0 },
  { "one past the least", "-92233720368547758.09", &eur, TRUE, FALSE, 0 },
  { "whole that overflows by its decimals", "92233720368547759", &eur, FALSE, FALSE, 0 },
  { "past 128 bits", "999999999999999999999999999999999999999999", &jpy, FALSE, FALSE, 0 },
};

static void
parse_plain (void **state)
{
  const ParseRow *row = *state;
  g_autoptr (GError) error = NULL;
  SwMoney out = { -77 };
  assert_true (sw_money_parse_plain (row->text, *row->currency, row->allow_negative, &out, &error)
               == row->taken);
  assert_money_equal (out, row->taken ? row->minor : -77);
  if (!row->taken)
    assert_sw_error (error, SW_ERROR_BAD_INPUT);
  else
    assert_no_error (error);
}

#define NBSP "\xc2\xa0"
#define NNBSP "\xe2\x80\xaf"
#define CURLY "\xe2\x80\x99"

/* How locales write: decimal mark, grouping mark. */
#define POINT_COMMA                                                                                \
  {                                                                                                \
    ".", ","                                                                                       \
  }
#define COMMA_POINT                                                                                \
  {                                                                                                \
    ",", "."                                                                                       \
  }
#define COMMA_SPACE                                                                                \
  {                                                                                                \
    ",", NNBSP                                                                                     \
  }
#define POINT_CURLY                                                                                \
  {                                                                                                \
    ".", CURLY                                                                                     \
  }
#define POINT_ALONE                                                                                \
  {                                                                                                \
    ".", ""                                                                                        \
  }

typedef struct
{
  const char *label;
  const char *text;
  const SwCurrency *currency;
  SwNumberStyle style;
  gboolean taken;
  gint64 minor;
} LocalRow;

static const LocalRow local_rows[] = {
  { "plain digits", "1234", &eur, COMMA_POINT, TRUE, 123400 },
  { "space and comma", "1 234,50", &eur, COMMA_SPACE, TRUE, 123450 },
  { "no-break space", "1" NBSP "234,50", &eur, COMMA_SPACE, TRUE, 123450 },
  { "narrow no-break space", "1" NNBSP "234,50", &eur, COMMA_SPACE, TRUE, 123450 },
  { "two widths of space", "1 234" NBSP "567,50", &eur, COMMA_SPACE, TRUE, 123456750 },
  { "comma and point", "1,234.50", &eur, POINT_COMMA, TRUE, 123450 },
  { "point and comma", "1.234,50", &eur, COMMA_POINT, TRUE, 123450 },
  { "the other way round has one meaning", "1,234.50", &eur, COMMA_POINT, TRUE, 123450 },
  { "apostrophe", "1'234.50", &eur, POINT_CURLY, TRUE, 123450 },
  { "curly apostrophe", "1" CURLY "234.50", &eur, POINT_COMMA, TRUE, 123450 },
  { "one decimal", "12,5", &eur, COMMA_POINT, TRUE, 1250 },
  { "two decimals after the grouping mark", "12.50", &eur, COMMA_POINT, TRUE, 1250 },
  { "two decimals after an unused mark", "12,50", &eur, POINT_CURLY, TRUE, 1250 },
  { "grouping mark before three digits", "1,234", &eur, POINT_COMMA, TRUE, 123400 },
  { "decimal mark before three digits", "1,234", &eur, COMMA_POINT, FALSE, 0 },
  { "point before three digits where it is decimal", "1.234", &eur, POINT_COMMA, FALSE, 0 },
  { "mark that the locale does not have", "1,234", &eur, POINT_ALONE, FALSE, 0 },
  { "dinars by the decimal mark", "1,234", &kwd, COMMA_POINT, TRUE, 1234 },
  { "dinars by the grouping mark", "1,234", &kwd, POINT_COMMA, TRUE, 1234000 },
  { "dinars unclear", "1,234", &kwd, POINT_CURLY, FALSE, 0 },
  { "dinars with both", "1.234,567", &kwd, POINT_COMMA, TRUE, 1234567 },
  { "leading zero cannot group", "0,123", &kwd, POINT_COMMA, TRUE, 123 },
  { "yen grouped", "1.234", &jpy, COMMA_POINT, TRUE, 1234 },
  { "yen with a decimal mark", "1,234", &jpy, COMMA_POINT, FALSE, 0 },
  { "mark twice groups", "1.234.567", &eur, POINT_COMMA, TRUE, 123456700 },
  { "blanks around", "  12,50 ", &eur, COMMA_POINT, TRUE, 1250 },
  { "tab around", "\t12\n", &eur, COMMA_POINT, TRUE, 1200 },
  { "group of two", "12,34,567.00", &eur, POINT_COMMA, FALSE, 0 },
  { "group of two at the end", "1 234 56", &eur, COMMA_SPACE, FALSE, 0 },
  { "first group of four", "1234 567", &eur, COMMA_SPACE, FALSE, 0 },
  { "group begins with zero", "0 234", &eur, COMMA_SPACE, FALSE, 0 },
  { "two kinds of grouping", "1 234'567", &eur, COMMA_SPACE, FALSE, 0 },
  { "decimal mark twice", "1,234,56", &eur, COMMA_POINT, FALSE, 0 },
  { "mark at the end", "12,", &eur, COMMA_POINT, FALSE, 0 },
  { "mark at the start", ",50", &eur, COMMA_POINT, FALSE, 0 },
  { "two marks together", "1,.5", &eur, COMMA_POINT, FALSE, 0 },
  { "three decimals", "12,505", &eur, POINT_ALONE, FALSE, 0 },
  { "negative", "-12", &eur, COMMA_POINT, FALSE, 0 },
  { "minus sign of typesetters",
    "\xe2\x88\x92"
    "12",
    &eur, COMMA_POINT, FALSE, 0 },
  { "letters", "12 EUROS", &eur, COMMA_POINT, FALSE, 0 },
  { "its own code", "12 EUR", &eur, COMMA_POINT, TRUE, 1200 },
  { "empty", " ", &eur, COMMA_POINT, FALSE, 0 },
  { "missing", NULL, &eur, COMMA_POINT, FALSE, 0 },
  { "broken UTF-8", "12\xc3", &eur, COMMA_POINT, FALSE, 0 },
  { "more groups than an amount has",
    "1 111 111 111 111 111 111 111 111 111 111 111 111 111 111 111 111 111", &jpy, COMMA_SPACE,
    FALSE, 0 },
  { "too large", "99.999.999.999.999.999.999", &eur, COMMA_POINT, FALSE, 0 },
  { "decimal mark of another script",
    "1234\xd9\xab"
    "5",
    &eur,
    { "\xd9\xab", "\xd9\xac" },
    TRUE,
    123450 },
  { "grouping of another script",
    "1\xd9\xac"
    "234\xd9\xab"
    "50",
    &eur,
    { "\xd9\xab", "\xd9\xac" },
    TRUE,
    123450 },
};

static void
parse_local (void **state)
{
  const LocalRow *row = *state;
  g_autoptr (GError) error = NULL;
  SwMoney out = { -77 };
  gboolean taken = sw_money_parse_local (row->text, *row->currency, row->style, &out, &error);
  if (row->taken)
    assert_no_error (error);
  assert_true (taken == row->taken);
  assert_money_equal (out, row->taken ? row->minor : -77);
  if (!row->taken)
    assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

typedef struct
{
  const char *label;
  SwCurrency currency;
  SwNumberStyle style;
  gint64 minor;
  const char *text;
} LocalText;

static const LocalText local_texts[] = {
  { "point and comma", { "EUR", 2 }, POINT_COMMA, 123456789, "1,234,567.89" },
  { "comma and point", { "EUR", 2 }, COMMA_POINT, 123456789, "1.234.567,89" },
  { "narrow space", { "EUR", 2 }, COMMA_SPACE, 100000, "1" NNBSP "000,00" },
  { "no grouping", { "EUR", 2 }, POINT_ALONE, 123456789, "1234567.89" },
  { "three digits stay together", { "EUR", 2 }, POINT_COMMA, 99999, "999.99" },
  { "yen", { "JPY", 0 }, COMMA_POINT, 1234, "1.234" },
  { "dinars", { "KWD", 3 }, POINT_CURLY, 1234567, "1" CURLY "234.567" },
};

static void
local_both_ways (void **state)
{
  const LocalText *row = *state;
  g_autoptr (GError) error = NULL;
  g_autofree char *text = sw_money_to_local (sw_money (row->minor), row->currency, row->style);
  g_autofree char *negative = sw_money_to_local (sw_money (-row->minor), row->currency, row->style);
  g_autofree char *expected_negative = g_strconcat ("-", row->text, NULL);
  assert_string_equal (text, row->text);
  assert_string_equal (negative, expected_negative);
  SwMoney back = { -77 };
  assert_true (sw_money_parse_local (text, row->currency, row->style, &back, &error));
  assert_money_equal (back, row->minor);
}

/* Whatever is printed in any style reads back as the same amount. */
static void
local_round_trip (void **state)
{
  static const SwNumberStyle styles[]
      = { POINT_COMMA, COMMA_POINT, COMMA_SPACE, POINT_CURLY, POINT_ALONE };
  static const SwCurrency *const currencies[] = { &eur, &jpy, &kwd };
  g_autoptr (GRand) rand = g_rand_new_with_seed (80000);
  for (int round = 0; round < 3000; round++)
    {
      gint64 minor = (gint64)(((guint64)g_rand_int (rand) << 32 | g_rand_int (rand))
                              >> g_rand_int_range (rand, 1, 64));
      const SwNumberStyle *style = &styles[round % (int)G_N_ELEMENTS (styles)];
      const SwCurrency *currency = currencies[round % (int)G_N_ELEMENTS (currencies)];
      g_autofree char *text = sw_money_to_local (sw_money (minor), *currency, *style);
      g_autoptr (GError) error = NULL;
      SwMoney back = { -1 };
      sw_money_parse_local (text, *currency, *style, &back, &error);
      assert_no_error (error);
      assert_money_equal (back, minor);
    }
}

static void
ambiguity_says_how_to_type_it (void **state)
{
  static const SwNumberStyle styles[] = { POINT_CURLY, COMMA_POINT };
  static const char *const examples[] = { "1234.00", "1234,00" };
  for (gsize i = 0; i < G_N_ELEMENTS (styles); i++)
    {
      g_autoptr (GError) error = NULL;
      SwMoney out;
      assert_false (sw_money_parse_local ("1,234", eur, styles[i], &out, &error));
      assert_contains (error->message, "two amounts");
      assert_contains (error->message, examples[i]);
    }
}

static void
style_of_the_c_locale (void **state)
{
  setlocale (LC_ALL, "C");
  SwNumberStyle style = sw_number_style_from_locale ();
  assert_string_equal (style.decimal, ".");
  assert_string_equal (style.grouping, "");
}

/* What was typed of another country's money is named, not guessed at. */
static void
another_currency (void **state)
{
  static const char *const foreign[] = { "120 EUR", "EUR 120", "120EUR", "1,250.50 USD" };
  const SwNumberStyle style = { ".", "," };
  SwCurrency nzd;
  SwMoney amount = sw_money (-7);
  g_autoptr (GError) error = NULL;
  assert_true (sw_currency_find ("NZD", &nzd, &error));
  for (gsize i = 0; i < G_N_ELEMENTS (foreign); i++)
    {
      assert_false (sw_money_parse_local (foreign[i], nzd, style, &amount, &error));
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_contains (error->message, "keeps its money in NZD");
      g_clear_error (&error);
      assert_false (sw_money_parse_plain (foreign[i], nzd, FALSE, &amount, &error));
      assert_contains (error->message, "keeps its money in NZD");
      g_clear_error (&error);
      assert_money_equal (amount, -7);
    }
  assert_true (sw_money_parse_local ("120.50 NZD", nzd, style, &amount, &error));
  assert_money_equal (amount, 12050);
  assert_true (sw_money_parse_local ("NZD 7", nzd, style, &amount, &error));
  assert_money_equal (amount, 700);
  assert_false (sw_money_parse_local ("120 QQQ", nzd, style, &amount, &error));
  assert_contains (error->message, "write it like");
}

/* For a list to choose from: each is found by its code, none stands twice. */
static void
currencies_are_listed (void **state)
{
  gsize n = 0;
  const SwCurrency *all = sw_currency_list (&n);

  assert_true (n > 20);
  for (gsize i = 0; i < n; i++)
    {
      SwCurrency found = { 0 };

      assert_true (sw_currency_find (all[i].code, &found, NULL));
      assert_i64_equal (found.digits, all[i].digits);
      assert_in_range (all[i].digits, 0, 3); /* ISO 4217: 0, 2 or 3 */
      for (gsize k = 0; k < i; k++)
        assert_string_not_equal (all[k].code, all[i].code);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, known_currencies);
  SW_TEST_ROWS (tests, refused_currency, refused_codes);
  SW_TEST_ROWS (tests, sums, sum_rows);
  SW_TEST (tests, sum_into_operand);
  SW_TEST_ROWS (tests, scaled, scale_rows);
  SW_TEST_ROWS (tests, split, split_rows);
  SW_TEST (tests, split_keeps_its_rules);
  SW_TEST_ROWS (tests, plain_both_ways, plain_rows);
  SW_TEST_ROWS (tests, parse_plain, parse_rows);
  SW_TEST_ROWS (tests, parse_local, local_rows);
  SW_TEST_ROWS (tests, local_both_ways, local_texts);
  SW_TEST (tests, local_round_trip);
  SW_TEST (tests, ambiguity_says_how_to_type_it);
  SW_TEST (tests, style_of_the_c_locale);
  SW_TEST (tests, another_currency);
  SW_TEST (tests, currencies_are_listed);
  return sw_tests_run (tests, "money");
}
