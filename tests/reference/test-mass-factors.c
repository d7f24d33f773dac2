/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units of mass against published factors. */
#include "../unit/sw-test.h"

#include "core/base/mass.h"

typedef struct
{
  const char *label;
  const char *text, *kg;
} Row;

/* The yard and the pound by international agreement, 1 July 1959; NIST Special Publication 811
 * (Thompson and Taylor, 2008), appendix B.8 and B.9; BIPM, SI Brochure, 9th edition 2019, table 8
 * (tonne). Long ton, short ton and stone are sums of pounds. */
static const Row rows[] = {
  { "pound", "1 lb", "0.45359237 kg" },
  { "long hundredweight, 112 lb", "1 cwt", "50.80234544 kg" },
  { "112 lb", "112 lb", "50.80234544 kg" },
  { "long ton, 2240 lb", "2240 lb", "1016.0469088 kg" },
  { "long ton, 20 cwt", "20 cwt", "1016.0469088 kg" },
  { "short ton, 2000 lb", "2000 lb", "907.18474 kg" },
  { "short hundredweight, 100 lb", "100 lb", "45.359237 kg" },
  { "stone, 14 lb", "14 lb", "6.35029318 kg" },
  { "tonne", "1 t", "1000 kg" },
  { "gram", "1 g", "0.001 kg" },
  /* an ounce is 28.349523125 g, an eighth of a microgram more than can be kept */
  { "ounce, a sixteenth of a pound", "0.0625 lb", "0.028349523 kg" },
};

static void
factor (void **state)
{
  const Row *row = *state;
  SwMass mass = { -1 };
  g_autoptr (GError) error = NULL;
  assert_true (sw_mass_parse (row->text, &mass, &error));
  assert_no_error (error);
  g_autofree char *text = sw_mass_to_text (mass);
  assert_string_equal (text, row->kg);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, factor, rows);
  return sw_tests_run (tests, "mass factors");
}
