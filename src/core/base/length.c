/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading and printing of lengths on the ground. Integers only: thousandths of the typed unit, then
 * tenths of a millimetre. */
#include "core/base/length.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

/* Tenths of a millimetre in one. Inch and foot: NIST Special Publication 811, 2008, appendix B.8
 * (from memory): 2.54 cm and 0.3048 m exactly. */
static const struct
{
  const char *word;
  gint64 tenths;
} units[] = {
  { "m", 10000 }, { "cm", 100 }, { "mm", 10 }, { "ft", 3048 }, { "in", 254 },
};

#define MOST_MM G_GINT64_CONSTANT (100000000)
#define MOST_DIGITS 9
#define DECIMALS 3

static gboolean
fail (const char *text, const char *why, GError **error)
{
  g_autofree char *shown = sw_text_quote (text);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("The length %s cannot be read: %s."), shown,
               why);
  return FALSE;
}

static gint64
tenths_of (const char *word)
{
  if (*word == '\0')
    return units[0].tenths;
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_ascii_strcasecmp (units[i].word, word) == 0)
      return units[i].tenths;
  return 0;
}

/* The digits of 'text' as thousandths. */
static gint64
thousandths (const char *whole, gsize n_whole, const char *decimals, gsize n_decimals)
{
  gint64 value = 0;

  for (gsize i = 0; i < n_whole; i++)
    value = value * 10 + (whole[i] - '0');
  for (gsize i = 0; i < DECIMALS; i++)
    value = value * 10 + (i < n_decimals ? decimals[i] - '0' : 0);
  return value;
}

gboolean
sw_length_parse (const char *text, gint64 *out_mm, GError **error)
{
  static const char shape[] = N_ ("write a number and m, cm, mm, ft or in, such as 24 m");
  g_autofree char *tidy = sw_text_tidy (text);
  gsize n_whole = strspn (tidy, "0123456789");
  gboolean has_mark = tidy[n_whole] == '.' || tidy[n_whole] == ',';
  const char *decimals = tidy + n_whole + has_mark;
  gsize n_decimals = has_mark ? strspn (decimals, "0123456789") : 0;
  const char *word = decimals + n_decimals;
  gint64 tenths = tenths_of (*word == ' ' ? word + 1 : word), mm;

  if (n_whole == 0 || tenths == 0 || (has_mark && n_decimals == 0))
    return fail (text, _ (shape), error);
  if (has_mark && tidy[n_whole] == ',' && n_decimals == DECIMALS)
    return fail (text, _ ("the comma could part thousands or decimals; write a point for decimals"),
                 error);
  if (n_decimals > DECIMALS)
    return fail (text, _ ("it has more than three decimals; write fewer"), error);
  if (n_whole > MOST_DIGITS)
    return fail (text, _ ("it is longer than 100 km"), error);
  mm = (thousandths (tidy, n_whole, decimals, n_decimals) * tenths + 5000) / 10000;
  if (mm < 1 || mm > MOST_MM)
    return fail (text, _ ("a length on the plan is from 1 mm to 100 km"), error);
  *out_mm = mm;
  return TRUE;
}

char *
sw_length_to_text (gint64 mm)
{
  gint64 cm = (mm + 5) / 10;

  if (cm % 100 == 0)
    return g_strdup_printf ("%" G_GINT64_FORMAT " m", cm / 100);
  if (cm % 10 == 0)
    return g_strdup_printf ("%" G_GINT64_FORMAT ".%" G_GINT64_FORMAT " m", cm / 100, cm % 100 / 10);
  return g_strdup_printf ("%" G_GINT64_FORMAT ".%02" G_GINT64_FORMAT " m", cm / 100, cm % 100);
}
