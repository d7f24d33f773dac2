/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading and printing of masses: our own promises. Published factors stand in tests/reference. */
#include "sw-test.h"

#include "core/base/mass.h"

typedef struct
{
  const char *label;
  const char *text;
  gint64 ug; /* -1: refused */
  const char *printed;
} MassRow;

static const MassRow rows[] = {
  { "kilograms", "12 kg", 12000000000, "12 kg" },
  { "without a blank", "12.5kg", 12500000000, "12.5 kg" },
  { "bare number", "12", 12000000000, "12 kg" },
  { "grams", "800 g", 800000000, "0.8 kg" },
  { "tonnes", "1.2 t", 1200000000000, "1200 kg" },
  { "capitals", "3 KG", 3000000000, "3 kg" },
  { "blanks around", "  3   kg ", 3000000000, "3 kg" },
  { "decimal comma", "12,5 kg", 12500000000, "12.5 kg" },
  { "four decimals after a comma", "0,1234 kg", 123400000, "0.1234 kg" },
  { "zero", "0 kg", 0, "0 kg" },
  { "one microgram", "0.000001 g", 1, "0.000000001 kg" },
  { "one microgram in tonnes", "0.000000000001 t", 1, "0.000000001 kg" },
  { "zeros behind a microgram", "0.000000001000 kg", 1, "0.000000001 kg" },
  { "pound", "1 lb", 453592370, "0.45359237 kg" },
  { "pounds", "40 lbs", 18143694800, "18.1436948 kg" },
  { "quarter pound rounds half up", "0.25 lb", 113398093, "0.113398093 kg" },
  { "hundredweights", "3 cwt", 152407036320, "152.40703632 kg" },
  { "largest", "9223372036.854775807 kg", G_MAXINT64, "9223372036.854775807 kg" },
  { "one more", "9223372036.854775808 kg", -1, NULL },
  { "too many tonnes", "10000000 t", -1, NULL },
  { "past 128 bits", "99999999999999999999999999999999999999999999 t", -1, NULL },
  { "finer than a microgram", "0.0000000001 kg", -1, NULL },
  { "half a microgram", "0.0000005 g", -1, NULL },
  { "comma before three digits", "1,234 kg", -1, NULL },
  { "negative", "-1 kg", -1, NULL },
  { "plus", "+1 kg", -1, NULL },
  { "unknown unit", "3 st", -1, NULL },
  { "unit alone", "kg", -1, NULL },
  { "two units", "3 kg 200 g", -1, NULL },
  { "no whole", ".5 kg", -1, NULL },
  { "no decimals", "5. kg", -1, NULL },
  { "two points", "1.2.3 kg", -1, NULL },
  { "grouped", "1 200 kg", -1, NULL },
  { "empty", "", -1, NULL },
  { "blank", "  ", -1, NULL },
  { "missing", NULL, -1, NULL },
  { "broken UTF-8", "12 k\xc3", -1, NULL },
};

static void
mass (void **state)
{
  const MassRow *row = *state;
  g_autoptr (GError) error = NULL;
  SwMass out = { -77 };
  gboolean taken = sw_mass_parse (row->text, &out, &error);
  if (row->ug < 0)
    {
      assert_false (taken);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_i64_equal (out.ug, -77);
      return;
    }
  assert_no_error (error);
  assert_i64_equal (out.ug, row->ug);
  g_autofree char *text = sw_mass_to_text (out);
  assert_string_equal (text, row->printed);
  SwMass back = { -1 };
  assert_true (sw_mass_parse (text, &back, NULL));
  assert_i64_equal (back.ug, row->ug);
}

static void
negative_prints (void **state)
{
  g_autofree char *text = sw_mass_to_text ((SwMass){ -1500000000 });
  assert_string_equal (text, "-1.5 kg");
  g_autofree char *least = sw_mass_to_text ((SwMass){ G_MININT64 });
  assert_string_equal (least, "-9223372036.854775808 kg");
}

static void
test_rough (void **state)
{
  static const struct
  {
    const char *mass, *words;
  } rough[] = { { "0", "0 kg" },        { "2.45 kg", "2.5 kg" }, { "3 kg", "3 kg" },
               { "80.4 kg", "80 kg" }, { "80.5 kg", "81 kg" },  { "999.4 kg", "999 kg" },
               { "999.5 kg", "1 t" },  { "1.25 t", "1.3 t" },   { "12.04 t", "12 t" },
               { "9.96 kg", "10 kg" } };
  for (gsize i = 0; i < G_N_ELEMENTS (rough); i++)
    {
      SwMass mass;
      GError *error = NULL;
      assert_true (sw_mass_parse (rough[i].mass, &mass, &error));
      g_autofree char *text = sw_mass_to_rough_text (mass);
      assert_string_equal (text, rough[i].words);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, mass, rows);
  SW_TEST (tests, negative_prints);
  SW_TEST (tests, test_rough);
  return sw_tests_run (tests, "mass");
}
