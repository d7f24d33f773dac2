/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading and printing of masses, in integers of a microgram.
 * Knows no item and no price; no floating point. */
#include "core/base/mass.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#include <string.h>

typedef unsigned __int128 Wide;

typedef struct
{
  const char *word;
  guint64 ug;
  gboolean exact; /* a metric part finer than a microgram is refused, one of a pound is rounded */
} UnitRow;

/* SI prefixes and the tonne: BIPM, SI Brochure, 9th ed. 2019, section 3 and table 8. Pound:
 * 0.45359237 kg exactly, and 112 of them in a long hundredweight: NIST Special Publication 811,
 * 2008, appendix B.8 (from memory). */
static const UnitRow units[] = {
  { "kg", 1000000000, TRUE },   { "g", 1000000, TRUE },
  { "t", 1000000000000, TRUE }, { "lb", 453592370, FALSE },
  { "lbs", 453592370, FALSE },  { "cwt", G_GUINT64_CONSTANT (50802345440), FALSE },
};

/* Twelve decimals of a tonne are a microgram. */
#define MAX_DECIMALS 12

static gboolean
fail_mass (const char *text, const char *why, GError **error)
{
  g_autofree char *shown = sw_text_quote (text);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("The mass %s cannot be read: %s."), shown,
               why);
  return FALSE;
}

static const UnitRow *
find_unit (const char *word)
{
  if (*word == '\0')
    return &units[0];
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_ascii_strcasecmp (units[i].word, word) == 0)
      return &units[i];
  return NULL;
}

/* Adds the digits to *size; FALSE once it is past any mass that fits. */
static gboolean
add_digits (const char *digits, gsize n, Wide *size)
{
  for (gsize i = 0; i < n; i++)
    {
      *size = *size * 10 + (Wide)(digits[i] - '0');
      /* 2^64 times the largest unit (below 2^40) still fits into 128 bits. */
      if (*size > (Wide)G_MAXUINT64)
        return FALSE;
    }
  return TRUE;
}

static const char shape[] = N_ ("write a number and kg, g, t, lb or cwt, such as 12.5 kg");
static const char too_large[] = N_ ("it is too large to be kept");
static const char too_fine[] = N_ ("it has decimals beyond a microgram; write fewer");

/* Digits before and after the mark, as they stand in the text. */
typedef struct
{
  const char *whole, *decimals;
  gsize n_whole, n_decimals;
} Figures;

/* Zeros behind the last decimal say nothing and would count against the limit. */
static gboolean
figures_to_ug (const char *text, Figures figures, const UnitRow *unit, SwMass *out, GError **error)
{
  while (figures.n_decimals > 0 && figures.decimals[figures.n_decimals - 1] == '0')
    figures.n_decimals--;
  Wide size = 0, part = 1;
  if (!add_digits (figures.whole, figures.n_whole, &size))
    return fail_mass (text, _ (too_large), error);
  if (figures.n_decimals > MAX_DECIMALS)
    return fail_mass (text, _ (too_fine), error);
  if (!add_digits (figures.decimals, figures.n_decimals, &size))
    return fail_mass (text, _ (too_large), error);
  for (gsize i = 0; i < figures.n_decimals; i++)
    part *= 10;
  Wide product = size * unit->ug;
  if (unit->exact && product % part != 0)
    return fail_mass (text, _ (too_fine), error);
  Wide ug = (product + part / 2) / part;
  if (ug > (Wide)G_MAXINT64)
    return fail_mass (text, _ (too_large), error);
  out->ug = (gint64)ug;
  return TRUE;
}

gboolean
sw_mass_parse (const char *text, SwMass *out, GError **error)
{
  g_return_val_if_fail (out != NULL, FALSE);
  g_autofree char *tidy = sw_text_tidy (text);
  gsize n_whole = strspn (tidy, "0123456789");
  const char *mark = tidy + n_whole;
  gboolean has_mark = *mark == '.' || *mark == ',';
  const char *decimals = has_mark ? mark + 1 : mark;
  gsize n_decimals = has_mark ? strspn (decimals, "0123456789") : 0;
  if (*tidy == '-')
    return fail_mass (text, _ ("a mass is not negative; write it without the minus"), error);
  if (n_whole == 0 || (has_mark && n_decimals == 0))
    return fail_mass (text, _ (shape), error);
  if (*mark == ',' && n_decimals == 3)
    return fail_mass (
        text, _ ("the comma could part thousands or decimals; write a point for decimals"), error);
  const char *word = decimals + n_decimals;
  const UnitRow *unit = find_unit (*word == ' ' ? word + 1 : word);
  if (unit == NULL)
    return fail_mass (text, _ (shape), error);
  return figures_to_ug (text, (Figures){ tidy, decimals, n_whole, n_decimals }, unit, out, error);
}

char *
sw_mass_to_text (SwMass mass)
{
  guint64 size = mass.ug < 0 ? 0 - (guint64)mass.ug : (guint64)mass.ug;
  char decimals[16];
  g_snprintf (decimals, sizeof decimals, "%09" G_GUINT64_FORMAT, size % SW_UG_PER_KG);
  for (gsize n = strlen (decimals); n > 0 && decimals[n - 1] == '0'; n--)
    decimals[n - 1] = '\0';
  return g_strdup_printf ("%s%" G_GUINT64_FORMAT "%s%s kg", mass.ug < 0 ? "-" : "",
                          size / SW_UG_PER_KG, *decimals != '\0' ? "." : "", decimals);
}

/* Tenths of a unit, rounded half up. */
static gint64
tenths (SwMass mass, gint64 unit_ug)
{
  return mass.ug / (unit_ug / 10) + (mass.ug % (unit_ug / 10) >= unit_ug / 20);
}

char *
sw_mass_to_rough_text (SwMass mass)
{
  gint64 kg = tenths (mass, SW_UG_PER_KG);
  gint64 unit = kg >= 9995 ? 1000 * SW_UG_PER_KG : SW_UG_PER_KG;
  gint64 n = tenths (mass, unit);
  const char *word = kg >= 9995 ? "t" : "kg";

  if (kg >= 100 && kg < 9995)
    return g_strdup_printf ("%" G_GINT64_FORMAT " kg", (kg + 5) / 10);
  if (n % 10 == 0)
    return g_strdup_printf ("%" G_GINT64_FORMAT " %s", n / 10, word);
  return g_strdup_printf ("%" G_GINT64_FORMAT ".%" G_GINT64_FORMAT " %s", n / 10, n % 10, word);
}

gint64
sw_mass_to_grams_up (SwMass mass)
{
  return mass.ug / SW_UG_PER_GRAM + (mass.ug % SW_UG_PER_GRAM > 0);
}
