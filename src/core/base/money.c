/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums, splits, reading and printing of money, all in integers of the minor unit.
 * No floating point here, and no knowledge of what an amount is for. */
#include "core/base/money.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#include <locale.h>
#include <string.h>

typedef unsigned __int128 Wide;

/* ISO 4217:2015, list one as it stands in January 2026 (from memory, digits checked in
 * tests/reference). Sorted by code. Left out, and so refused: codes with 4 digits (CLF, UYW) and
 * those without a minor unit (metals, bond units, drawing rights, test and no-currency codes). MGA
 * and MRU are divided by five in daily life; the list gives them 2 digits, which is how amounts are
 * written. */
static const SwCurrency currencies[] = {
  { "AED", 2 }, { "AFN", 2 }, { "ALL", 2 }, { "AMD", 2 }, { "AOA", 2 }, { "ARS", 2 }, { "AUD", 2 },
  { "AWG", 2 }, { "AZN", 2 }, { "BAM", 2 }, { "BBD", 2 }, { "BDT", 2 }, { "BHD", 3 }, { "BIF", 0 },
  { "BMD", 2 }, { "BND", 2 }, { "BOB", 2 }, { "BOV", 2 }, { "BRL", 2 }, { "BSD", 2 }, { "BTN", 2 },
  { "BWP", 2 }, { "BYN", 2 }, { "BZD", 2 }, { "CAD", 2 }, { "CDF", 2 }, { "CHE", 2 }, { "CHF", 2 },
  { "CHW", 2 }, { "CLP", 0 }, { "CNY", 2 }, { "COP", 2 }, { "COU", 2 }, { "CRC", 2 }, { "CUP", 2 },
  { "CVE", 2 }, { "CZK", 2 }, { "DJF", 0 }, { "DKK", 2 }, { "DOP", 2 }, { "DZD", 2 }, { "EGP", 2 },
  { "ERN", 2 }, { "ETB", 2 }, { "EUR", 2 }, { "FJD", 2 }, { "FKP", 2 }, { "GBP", 2 }, { "GEL", 2 },
  { "GHS", 2 }, { "GIP", 2 }, { "GMD", 2 }, { "GNF", 0 }, { "GTQ", 2 }, { "GYD", 2 }, { "HKD", 2 },
  { "HNL", 2 }, { "HTG", 2 }, { "HUF", 2 }, { "IDR", 2 }, { "ILS", 2 }, { "INR", 2 }, { "IQD", 3 },
  { "IRR", 2 }, { "ISK", 0 }, { "JMD", 2 }, { "JOD", 3 }, { "JPY", 0 }, { "KES", 2 }, { "KGS", 2 },
  { "KHR", 2 }, { "KMF", 0 }, { "KPW", 2 }, { "KRW", 0 }, { "KWD", 3 }, { "KYD", 2 }, { "KZT", 2 },
  { "LAK", 2 }, { "LBP", 2 }, { "LKR", 2 }, { "LRD", 2 }, { "LSL", 2 }, { "LYD", 3 }, { "MAD", 2 },
  { "MDL", 2 }, { "MGA", 2 }, { "MKD", 2 }, { "MMK", 2 }, { "MNT", 2 }, { "MOP", 2 }, { "MRU", 2 },
  { "MUR", 2 }, { "MVR", 2 }, { "MWK", 2 }, { "MXN", 2 }, { "MXV", 2 }, { "MYR", 2 }, { "MZN", 2 },
  { "NAD", 2 }, { "NGN", 2 }, { "NIO", 2 }, { "NOK", 2 }, { "NPR", 2 }, { "NZD", 2 }, { "OMR", 3 },
  { "PAB", 2 }, { "PEN", 2 }, { "PGK", 2 }, { "PHP", 2 }, { "PKR", 2 }, { "PLN", 2 }, { "PYG", 0 },
  { "QAR", 2 }, { "RON", 2 }, { "RSD", 2 }, { "RUB", 2 }, { "RWF", 0 }, { "SAR", 2 }, { "SBD", 2 },
  { "SCR", 2 }, { "SDG", 2 }, { "SEK", 2 }, { "SGD", 2 }, { "SHP", 2 }, { "SLE", 2 }, { "SOS", 2 },
  { "SRD", 2 }, { "SSP", 2 }, { "STN", 2 }, { "SVC", 2 }, { "SYP", 2 }, { "SZL", 2 }, { "THB", 2 },
  { "TJS", 2 }, { "TMT", 2 }, { "TND", 3 }, { "TOP", 2 }, { "TRY", 2 }, { "TTD", 2 }, { "TWD", 2 },
  { "TZS", 2 }, { "UAH", 2 }, { "UGX", 0 }, { "USD", 2 }, { "USN", 2 }, { "UYI", 0 }, { "UYU", 2 },
  { "UZS", 2 }, { "VED", 2 }, { "VES", 2 }, { "VND", 0 }, { "VUV", 0 }, { "WST", 2 }, { "XAF", 0 },
  { "XCD", 2 }, { "XCG", 2 }, { "XOF", 0 }, { "XPF", 0 }, { "YER", 2 }, { "ZAR", 2 }, { "ZMW", 2 },
  { "ZWG", 2 },
};

gboolean
sw_currency_find (const char *code, SwCurrency *out_currency, GError **error)
{
  g_return_val_if_fail (out_currency != NULL, FALSE);
  for (gsize i = 0; code != NULL && i < G_N_ELEMENTS (currencies); i++)
    if (strcmp (currencies[i].code, code) == 0)
      {
        *out_currency = currencies[i];
        return TRUE;
      }
  g_autofree char *shown = sw_text_quote (code);
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("The currency %s is not known; give its three capital letters, such as EUR, NZD or JPY."),
      shown);
  return FALSE;
}

const SwCurrency *
sw_currency_list (gsize *out_n)
{
  *out_n = G_N_ELEMENTS (currencies);
  return currencies;
}

static gboolean
fail_too_large (GError **error)
{
  g_set_error_literal (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("The amount grows too large to be kept; look for a figure with too many digits."));
  return FALSE;
}

gboolean
sw_money_add (SwMoney a, SwMoney b, SwMoney *out, GError **error)
{
  gint64 sum;
  if (__builtin_add_overflow (a.minor, b.minor, &sum))
    return fail_too_large (error);
  out->minor = sum;
  return TRUE;
}

gboolean
sw_money_sub (SwMoney a, SwMoney b, SwMoney *out, GError **error)
{
  gint64 difference;
  if (__builtin_sub_overflow (a.minor, b.minor, &difference))
    return fail_too_large (error);
  out->minor = difference;
  return TRUE;
}

/* |v|, also of the least value there is. */
static guint64
magnitude (gint64 v)
{
  return v < 0 ? 0 - (guint64)v : (guint64)v;
}

/* Puts a sign back; FALSE where it does not fit. */
static gboolean
signed_from (Wide value, gboolean negative, gint64 *out)
{
  Wide limit = (Wide)G_MAXINT64 + (negative ? 1 : 0);
  if (value > limit)
    return FALSE;
  *out = negative ? (gint64)(0 - (guint64)value) : (gint64)value;
  return TRUE;
}

gboolean
sw_money_scale (SwMoney amount, gint64 num, gint64 den, SwRounding rounding, SwMoney *out,
                GError **error)
{
  g_return_val_if_fail (den > 0, FALSE);
  gboolean negative = (amount.minor < 0) != (num < 0);
  /* Both factors are at most 2^63, so the product stays within 2^126. */
  Wide product = (Wide)magnitude (amount.minor) * magnitude (num);
  Wide quotient = product / (Wide)den;
  Wide rest = product % (Wide)den;
  Wide missing = (Wide)den - rest;
  if (rest > missing || (rest == missing && (rounding == SW_ROUND_HALF_UP || quotient % 2 == 1)))
    quotient++;
  gint64 value;
  if (!signed_from (quotient, negative, &value))
    return fail_too_large (error);
  out->minor = value;
  return TRUE;
}

typedef struct
{
  Wide rest;
  gsize index;
} Remainder;

static int
compare_remainders (const void *a, const void *b)
{
  const Remainder *x = a, *y = b;
  if (x->rest != y->rest)
    return x->rest > y->rest ? -1 : 1;
  return x->index < y->index ? -1 : x->index > y->index;
}

void
sw_money_split (SwMoney total, const gint64 *weights, gsize n, SwMoney *out_parts)
{
  g_return_if_fail (n >= 1 && weights != NULL && out_parts != NULL);
  Wide sum = 0;
  for (gsize i = 0; i < n; i++)
    {
      g_return_if_fail (weights[i] >= 0);
      sum += (Wide)weights[i];
    }
  gboolean equal = sum == 0;
  if (equal)
    sum = n;

  /* The size is split and the sign put back, so that a reversal mirrors its sale cent by cent. */
  gboolean negative = total.minor < 0;
  guint64 left = magnitude (total.minor);
  Wide size = left;
  g_autofree guint64 *parts = g_new (guint64, n);
  g_autofree Remainder *rests = g_new (Remainder, n);
  for (gsize i = 0; i < n; i++)
    {
      Wide share = size * (equal ? 1 : (Wide)weights[i]);
      parts[i] = (guint64)(share / sum);
      rests[i] = (Remainder){ share % sum, i };
      left -= parts[i];
    }
  qsort (rests, n, sizeof *rests, compare_remainders);
  /* Each rest is below 'sum' and together they make 'left' times 'sum': left < n, and none goes to
   * a rest of 0. */
  for (gsize i = 0; i < left; i++)
    parts[rests[i].index]++;
  for (gsize i = 0; i < n; i++)
    out_parts[i].minor = negative ? (gint64)(0 - parts[i]) : (gint64)parts[i];
}

static guint64
power_of_ten (int digits)
{
  guint64 p = 1;
  while (digits-- > 0)
    p *= 10;
  return p;
}

/* The digits with the marks given; grouping may be "". */
static char *
format_amount (SwMoney amount, SwCurrency currency, const char *decimal, const char *grouping)
{
  guint64 size = magnitude (amount.minor);
  guint64 unit = power_of_ten (currency.digits);
  g_autofree char *whole = g_strdup_printf ("%" G_GUINT64_FORMAT, size / unit);
  gsize length = strlen (whole);
  GString *text = g_string_new (amount.minor < 0 ? "-" : "");
  for (gsize i = 0; i < length; i++)
    {
      if (i > 0 && (length - i) % 3 == 0)
        g_string_append (text, grouping);
      g_string_append_c (text, whole[i]);
    }
  if (currency.digits > 0)
    g_string_append_printf (text, "%s%0*" G_GUINT64_FORMAT, decimal, currency.digits, size % unit);
  return g_string_free (text, FALSE);
}

char *
sw_money_to_plain (SwMoney amount, SwCurrency currency)
{
  return format_amount (amount, currency, ".", "");
}

char *
sw_money_to_local (SwMoney amount, SwCurrency currency, SwNumberStyle style)
{
  return format_amount (amount, currency, style.decimal, style.grouping);
}

char *
sw_money_to_person (SwMoney amount, SwCurrency currency)
{
  return sw_money_to_local (amount, currency, sw_number_style ());
}

static gboolean
fail_amount (const char *text, const char *why, GError **error)
{
  g_autofree char *shown = sw_text_quote (text);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("The amount %s cannot be read: %s."), shown,
               why);
  return FALSE;
}

static const char no_minus[]
    = N_ ("a negative amount is not taken here; write it without the minus");

static gboolean
fail_decimals (const char *text, SwCurrency currency, GError **error)
{
  if (currency.digits == 0)
    {
      g_autofree char *none
          = g_strdup_printf (_ ("%s has no decimals; write a whole number"), currency.code);
      return fail_amount (text, none, error);
    }
  g_autofree char *why = g_strdup_printf (_ ("%s has %d decimals; write at most so many"),
                                          currency.code, currency.digits);
  return fail_amount (text, why, error);
}

/* Digits before and after the decimal mark, marks already gone. The caller has checked that there
 * are at most currency.digits decimals. */
static gboolean
amount_from_digits (const char *text, const char *whole, const char *decimals, gboolean negative,
                    SwCurrency currency, SwMoney *out, GError **error)
{
  Wide size = 0;
  int missing = currency.digits - (int)strlen (decimals);
  for (const char *part = whole; part != NULL; part = part == whole ? decimals : NULL)
    for (const char *p = part; *p != '\0'; p++)
      {
        size = size * 10 + (Wide)(*p - '0');
        if (size > (Wide)G_MAXINT64 + 1)
          return fail_amount (text, _ ("it is too large to be kept"), error);
      }
  size *= power_of_ten (missing);
  gint64 value;
  if (!signed_from (size, negative, &value))
    return fail_amount (text, _ ("it is too large to be kept"), error);
  out->minor = value;
  return TRUE;
}

/* The code of ISO 4217 before or behind the amount, where it is cut off; FALSE where there is none.
 */
static gboolean
cut_code (char *tidy, char code[4])
{
  gsize n = strlen (tidy);
  const char *at = n >= 4 && g_ascii_isupper (tidy[0]) ? tidy : n >= 4 ? tidy + n - 3 : NULL;
  SwCurrency found;
  if (at == NULL)
    return FALSE;
  g_strlcpy (code, at, 4);
  if (!sw_currency_find (code, &found, NULL))
    return FALSE;
  if (at == tidy)
    memmove (tidy, tidy + 3, n - 2);
  else
    tidy[n - 3] = '\0';
  g_strstrip (tidy);
  return TRUE;
}

static gboolean
fail_currency (const char *text, const char *code, SwCurrency currency, GError **error)
{
  g_autofree char *why = g_strdup_printf (
      _ ("this catalogue keeps its money in %s; turn %s into it and write the amount alone"),
      currency.code, code);
  return fail_amount (text, why, error);
}

gboolean
sw_money_parse_plain (const char *text, SwCurrency currency, gboolean allow_negative, SwMoney *out,
                      GError **error)
{
  g_return_val_if_fail (out != NULL, FALSE);
  const char *shape = currency.digits > 0
                          ? _ ("write digits with a decimal point and no grouping, such as 1234.50")
                          : _ ("write digits without grouping, such as 1234");
  if (text == NULL || *text == '\0')
    return fail_amount (text, shape, error);
  g_autofree char *tidy = sw_text_tidy (text);
  char code[4];
  if (cut_code (tidy, code) && strcmp (code, currency.code) != 0)
    return fail_currency (text, code, currency, error);
  const char *p = text;
  gboolean negative = *p == '-';
  if (negative && !allow_negative)
    return fail_amount (text, _ (no_minus), error);
  p += negative ? 1 : 0;
  gsize n_whole = strspn (p, "0123456789");
  const char *after = p + n_whole;
  gsize n_decimals = *after == '.' ? strspn (after + 1, "0123456789") : 0;
  const char *end = *after == '.' ? after + 1 + n_decimals : after;
  if (n_whole == 0 || *end != '\0' || (*after == '.' && n_decimals == 0))
    return fail_amount (text, shape, error);
  if (n_decimals > (gsize)currency.digits)
    return fail_decimals (text, currency, error);
  g_autofree char *whole = g_strndup (p, n_whole);
  g_autofree char *decimals = g_strndup (*after == '.' ? after + 1 : after, n_decimals);
  return amount_from_digits (text, whole, decimals, negative, currency, out, error);
}

static void
copy_mark (char *to, gsize size, const char *mark)
{
  g_autofree char *utf8 = g_locale_to_utf8 (mark, -1, NULL, NULL, NULL);
  if (utf8 != NULL && strlen (utf8) < size)
    g_strlcpy (to, utf8, size);
}

SwNumberStyle
sw_number_style_from_locale (void)
{
  const struct lconv *lc = localeconv ();
  SwNumberStyle style = { ".", "" };
  gboolean monetary = lc->mon_decimal_point != NULL && *lc->mon_decimal_point != '\0';
  copy_mark (style.decimal, sizeof style.decimal,
             monetary ? lc->mon_decimal_point : lc->decimal_point);
  copy_mark (style.grouping, sizeof style.grouping,
             monetary ? lc->mon_thousands_sep : lc->thousands_sep);
  if (*style.decimal == '\0')
    g_strlcpy (style.decimal, ".", sizeof style.decimal);
  if (strcmp (style.decimal, style.grouping) == 0)
    *style.grouping = '\0';
  return style;
}

static gpointer
read_style (gpointer data)
{
  SwNumberStyle style = sw_number_style_from_locale ();
  return g_memdup2 (&style, sizeof style);
}

SwNumberStyle
sw_number_style (void)
{
  static GOnce once = G_ONCE_INIT;
  return *(const SwNumberStyle *)g_once (&once, read_style, NULL);
}

/* What may stand between digits. Kinds, not characters: people mix the three widths of a space. */
typedef enum
{
  MARK_NONE,
  MARK_DOT,
  MARK_COMMA,
  MARK_SPACE,
  MARK_APOSTROPHE,
  MARK_OWN_DECIMAL,  /* of a locale that uses none of the above */
  MARK_OWN_GROUPING, /* likewise */
} Mark;

typedef struct
{
  const char *text;
  Mark mark;
} MarkRow;

static const MarkRow mark_rows[] = {
  { ".", MARK_DOT },
  { ",", MARK_COMMA },
  { " ", MARK_SPACE },
  { "\xc2\xa0", MARK_SPACE },     /* U+00A0 no-break space */
  { "\xe2\x80\x89", MARK_SPACE }, /* U+2009 thin space */
  { "\xe2\x80\xaf", MARK_SPACE }, /* U+202F narrow no-break space */
  { "'", MARK_APOSTROPHE },
  { "\xe2\x80\x99", MARK_APOSTROPHE }, /* U+2019 right single quotation mark */
};

static Mark
mark_at (const char *p, const SwNumberStyle *style, gsize *out_length)
{
  for (gsize i = 0; i < G_N_ELEMENTS (mark_rows); i++)
    if (g_str_has_prefix (p, mark_rows[i].text))
      {
        *out_length = strlen (mark_rows[i].text);
        return mark_rows[i].mark;
      }
  if (*style->decimal != '\0' && g_str_has_prefix (p, style->decimal))
    {
      *out_length = strlen (style->decimal);
      return MARK_OWN_DECIMAL;
    }
  if (*style->grouping != '\0' && g_str_has_prefix (p, style->grouping))
    {
      *out_length = strlen (style->grouping);
      return MARK_OWN_GROUPING;
    }
  return MARK_NONE;
}

/* Runs of digits with a mark between each two: "1 234,50" is 1, 234, 50 with SPACE, COMMA. */
#define MAX_RUNS 16
typedef struct
{
  char *runs[MAX_RUNS];
  Mark marks[MAX_RUNS]; /* marks[i] stands before runs[i]; marks[0] is NONE */
  gsize n;
} Pieces;

static void
pieces_clear (Pieces *pieces)
{
  for (gsize i = 0; i < pieces->n; i++)
    g_free (pieces->runs[i]);
  pieces->n = 0;
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Pieces, pieces_clear)

static gboolean
pieces_read (const char *text, const SwNumberStyle *style, Pieces *pieces)
{
  Mark mark = MARK_NONE;
  for (const char *p = text;;)
    {
      gsize digits = strspn (p, "0123456789");
      if (digits == 0 || pieces->n == MAX_RUNS)
        return FALSE;
      pieces->marks[pieces->n] = mark;
      pieces->runs[pieces->n++] = g_strndup (p, digits);
      p += digits;
      if (*p == '\0')
        return TRUE;
      gsize length = 0;
      mark = mark_at (p, style, &length);
      if (mark == MARK_NONE)
        return FALSE;
      p += length;
    }
}

/* Whether the first n runs are one number in groups of three, by one kind of mark that can group.
 */
static gboolean
pieces_grouped (const Pieces *pieces, gsize n)
{
  if (n == 1)
    return TRUE;
  gsize first = strlen (pieces->runs[0]);
  if (first > 3 || *pieces->runs[0] == '0' || pieces->marks[1] == MARK_OWN_DECIMAL)
    return FALSE;
  for (gsize i = 1; i < n; i++)
    if (pieces->marks[i] != pieces->marks[1] || strlen (pieces->runs[i]) != 3)
      return FALSE;
  return TRUE;
}

static Mark
mark_of (const char *text, const SwNumberStyle *style)
{
  gsize length = 0;
  return *text == '\0' ? MARK_NONE : mark_at (text, style, &length);
}

typedef enum
{
  LAST_GROUPS,
  LAST_DECIDES, /* the last mark is the decimal mark */
  LAST_UNCLEAR,
} LastMark;

/* What the last mark means. A mark that stands twice groups; one after another kind parts off the
 * decimals; one that stands alone before three digits could be either, and only the locale can
 * tell. */
static LastMark
judge_last_mark (const Pieces *pieces, const SwNumberStyle *style)
{
  Mark last = pieces->marks[pieces->n - 1];
  if (last == MARK_NONE || last == MARK_SPACE || last == MARK_APOSTROPHE
      || last == MARK_OWN_GROUPING)
    return LAST_GROUPS;
  if (last == MARK_OWN_DECIMAL)
    return LAST_DECIDES;
  if (pieces->n > 2)
    return pieces->marks[pieces->n - 2] == last ? LAST_GROUPS : LAST_DECIDES;
  if (!pieces_grouped (pieces, 2) || last == mark_of (style->decimal, style))
    return LAST_DECIDES;
  return last == mark_of (style->grouping, style) ? LAST_GROUPS : LAST_UNCLEAR;
}

static char *
example_amount (SwCurrency currency, const SwNumberStyle *style)
{
  SwNumberStyle plain = *style;
  *plain.grouping = '\0';
  return sw_money_to_local (sw_money (1234 * (gint64)power_of_ten (currency.digits)), currency,
                            plain);
}

/* "1,234" where the locale cannot tell, or where it says decimals and the currency has fewer. */
static gboolean
is_unclear (const Pieces *pieces, LastMark last, SwCurrency currency)
{
  return last == LAST_UNCLEAR
         || (last == LAST_DECIDES && pieces->n == 2 && currency.digits < 3
             && pieces_grouped (pieces, 2));
}

gboolean
sw_money_parse_local (const char *text, SwCurrency currency, SwNumberStyle style, SwMoney *out,
                      GError **error)
{
  g_return_val_if_fail (out != NULL, FALSE);
  g_autofree char *tidy = sw_text_tidy (text);
  g_autofree char *example = example_amount (currency, &style);
  g_autofree char *shape = g_strdup_printf (_ ("write it like %s"), example);
  if (*tidy == '-' || g_str_has_prefix (tidy, "\xe2\x88\x92"))
    return fail_amount (text, _ (no_minus), error);
  char code[4];
  if (cut_code (tidy, code) && strcmp (code, currency.code) != 0)
    return fail_currency (text, code, currency, error);
  g_auto (Pieces) pieces = { 0 };
  if (!pieces_read (tidy, &style, &pieces))
    return fail_amount (text, shape, error);
  LastMark last = judge_last_mark (&pieces, &style);
  if (is_unclear (&pieces, last, currency))
    {
      g_autofree char *why = g_strdup_printf (
          _ ("it could mean two amounts; %s, with no mark between the thousands"), shape);
      return fail_amount (text, why, error);
    }
  gsize n_whole = last == LAST_DECIDES ? pieces.n - 1 : pieces.n;
  Mark decides = last == LAST_DECIDES ? pieces.marks[n_whole] : MARK_NONE;
  if (!pieces_grouped (&pieces, n_whole) || (n_whole > 1 && pieces.marks[1] == decides))
    return fail_amount (text, shape, error);
  const char *decimals = last == LAST_DECIDES ? pieces.runs[n_whole] : "";
  if (strlen (decimals) > (gsize)currency.digits)
    return fail_decimals (text, currency, error);
  g_autoptr (GString) whole = g_string_new (NULL);
  for (gsize i = 0; i < n_whole; i++)
    g_string_append (whole, pieces.runs[i]);
  return amount_from_digits (text, whole->str, decimals, FALSE, currency, out, error);
}
