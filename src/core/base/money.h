/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Money: integers in the currency's minor unit (ISO 4217). No floating point.
 * Base layer: amounts in, amounts out; knows no fee, offer or database. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* An amount in minor units. A struct, so that cents are never added to minutes. */
typedef struct
{
  gint64 minor;
} SwMoney;

#define SW_MONEY_ZERO ((SwMoney){ 0 })
#define sw_money(m) ((SwMoney){ (m) })

/* A currency of ISO 4217: three letters and 0, 2 or 3 decimal digits. */
typedef struct
{
  char code[4];
  int digits;
} SwCurrency;

typedef enum
{
  SW_ROUND_HALF_UP,   /* ties away from zero: ISO 80000-1:2009 Annex B, rule B */
  SW_ROUND_HALF_EVEN, /* ties to the even multiple: rule A */
} SwRounding;

/* Looks the code up in the ISO 4217 table (case as written: capitals). Codes with 4 digits or
 * without a decimal minor unit are refused. Error: SW_ERROR_BAD_INPUT. */
gboolean sw_currency_find (const char *code, SwCurrency *out_currency, GError **error);

/* All that can be found, by code. Transfer none. */
const SwCurrency *sw_currency_list (gsize *out_n);

/* Checked sums; on overflow SW_ERROR_BAD_INPUT and *out untouched. out may alias an operand. */
gboolean sw_money_add (SwMoney a, SwMoney b, SwMoney *out, GError **error);
gboolean sw_money_sub (SwMoney a, SwMoney b, SwMoney *out, GError **error);

/* amount * num / den, rounded once; den > 0. 128-bit inside. Error: overflow of the result. */
gboolean sw_money_scale (SwMoney amount, gint64 num, gint64 den, SwRounding rounding, SwMoney *out,
                         GError **error);

/* Splits 'total' (any sign) over n parts in proportion to weights (>= 0, not all zero: then
 * equally) by largest remainder (Hamilton's method); ties go to the lower index. The parts sum to
 * 'total' exactly. n >= 1. Each |part| <= |total|. */
void sw_money_split (SwMoney total, const gint64 *weights, gsize n, SwMoney *out_parts);

/* Plain decimal for tables, commands and JSON arguments: "1234.50", "-3.00", "12" for JPY.
 * Transfer full. */
char *sw_money_to_plain (SwMoney amount, SwCurrency currency);

/* Reads plain decimal ("1234.5", "0.05", "-3" only when allow_negative). Refuses other signs,
 * grouping, more decimals than the currency has, overflow, anything else. Error: SW_ERROR_BAD_INPUT
 * with a sentence. */
gboolean sw_money_parse_plain (const char *text, SwCurrency currency, gboolean allow_negative,
                               SwMoney *out, GError **error);

/* How a person's locale writes numbers. */
typedef struct
{
  char decimal[8];  /* UTF-8, never empty */
  char grouping[8]; /* UTF-8, may be empty */
} SwNumberStyle;

/* Reads the process's locale (LC_MONETARY, else LC_NUMERIC). */
SwNumberStyle sw_number_style_from_locale (void);
/* The same as it stood when this was first asked for, on any thread. */
SwNumberStyle sw_number_style (void);

/* For the window: "1 234,50" "1,234.50" "1'234.50" "1234". Takes blanks of any width, apostrophes,
 * commas and points between groups of three digits, whatever the locale has, as long as the text
 * can mean one amount only. "1,234" can mean two: where the comma is the locale's grouping mark it
 * groups, where it is the decimal mark it parts decimals if the currency has three, else it is
 * refused with a sentence that shows how to type it. The currency's own code before or behind is
 * taken, another one is refused by name. Negative amounts are refused. Error: BAD_INPUT. */
gboolean sw_money_parse_local (const char *text, SwCurrency currency, SwNumberStyle style,
                               SwMoney *out, GError **error);

/* Grouped by the style, with the decimals of the currency, no currency sign. Transfer full. */
char *sw_money_to_local (SwMoney amount, SwCurrency currency, SwNumberStyle style);

/* As sentences and sheets for a person write it: by sw_number_style (). A command keeps the C
 * locale for figures, so there it is plain. Transfer full. */
char *sw_money_to_person (SwMoney amount, SwCurrency currency);

G_END_DECLS
