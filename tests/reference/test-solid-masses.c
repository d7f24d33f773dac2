/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Masses worked out from shape, material and measures, against published section tables. */
#include "../unit/sw-test.h"

#include "core/base/solid.h"

#include <math.h>

typedef struct
{
  const char *label;
  SwShape shape;
  double mm[SW_SHAPE_MEASURES];
  double kg;        /* as printed, for one metre */
  double tolerance; /* in kg: half of the last printed digit, or what the sharp corners leave out */
} Row;

/* Bars: EN 10060:2003 and BS 4449:2005, table of nominal masses. Hexagons and plate: products of
 * the density 7850 kg/m3 that EN 10025 products are reckoned with. Pipes: ASME B36.10M-2018,
 * table of plain end masses. Square tubes: EN 10219-2:2006, annex B. Angles: EN 10056-1:2017,
 * table 1; I sections: EN 10365:2017, IPE series: both have root radii, which are left out here
 * (1.5 % of an angle, 5 % of an I section at most). Values of ASME, EN 10056-1 and EN 10365 partly
 * from memory. */
static const Row rows[] = {
  { "bar of 6", SW_SHAPE_ROUND, { 6, 1000 }, 0.222, 0.0005 },
  { "bar of 10", SW_SHAPE_ROUND, { 10, 1000 }, 0.617, 0.0005 },
  { "bar of 16", SW_SHAPE_ROUND, { 16, 1000 }, 1.578, 0.0005 },
  { "bar of 25", SW_SHAPE_ROUND, { 25, 1000 }, 3.853, 0.0005 },
  { "bar of 32", SW_SHAPE_ROUND, { 32, 1000 }, 6.313, 0.0005 },
  { "plate of 6, a square metre", SW_SHAPE_BLOCK, { 1000, 1000, 6 }, 47.10, 0.0005 },
  { "hexagon of 20", SW_SHAPE_HEXAGON, { 20, 1000 }, 2.719, 0.0005 },
  { "NPS 1/2 schedule 40", SW_SHAPE_TUBE, { 21.3, 2.77, 1000 }, 1.27, 0.005 },
  { "NPS 2 schedule 40", SW_SHAPE_TUBE, { 60.3, 3.91, 1000 }, 5.44, 0.005 },
  { "NPS 2 schedule 80", SW_SHAPE_TUBE, { 60.3, 5.54, 1000 }, 7.48, 0.005 },
  { "NPS 3 schedule 40", SW_SHAPE_TUBE, { 88.9, 5.49, 1000 }, 11.29, 0.005 },
  { "NPS 3 extra strong", SW_SHAPE_TUBE, { 88.9, 7.62, 1000 }, 15.27, 0.005 },
  { "NPS 6 schedule 40", SW_SHAPE_TUBE, { 168.3, 7.11, 1000 }, 28.26, 0.005 },
  { "40 x 20 x 2", SW_SHAPE_HOLLOW, { 40, 20, 2, 1000 }, 1.68, 0.005 },
  { "50 x 30 x 3", SW_SHAPE_HOLLOW, { 50, 30, 3, 1000 }, 3.30, 0.005 },
  { "60 x 40 x 4", SW_SHAPE_HOLLOW, { 60, 40, 4, 1000 }, 5.45, 0.005 },
  { "angle 50 x 50 x 5", SW_SHAPE_ANGLE, { 50, 50, 5, 1000 }, 3.77, 0.057 },
  { "angle 100 x 100 x 10", SW_SHAPE_ANGLE, { 100, 100, 10, 1000 }, 15.0, 0.225 },
  { "angle 60 x 40 x 5", SW_SHAPE_ANGLE, { 60, 40, 5, 1000 }, 3.76, 0.057 },
  { "IPE 100", SW_SHAPE_I_SECTION, { 100, 55, 4.1, 5.7, 1000 }, 8.1, 0.405 },
  { "IPE 200", SW_SHAPE_I_SECTION, { 200, 100, 5.6, 8.5, 1000 }, 22.4, 1.12 },
  { "IPE 300", SW_SHAPE_I_SECTION, { 300, 150, 7.1, 10.7, 1000 }, 42.2, 2.11 },
};

static const SwMaterial *
material (const char *word)
{
  gsize n = 0;
  const SwMaterial *all = sw_materials (&n);
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (all[i].word, word))
      return &all[i];
  fail ();
  return NULL;
}

static void
published (void **state)
{
  const Row *row = *state;
  SwMass mass = { -1 };
  g_autoptr (GError) error = NULL;
  assert_true (sw_solid_mass (row->shape, material ("steel"), row->mm, 1, &mass, &error));
  double kg = (double)mass.ug / (double)SW_UG_PER_KG;
  /* to the gram, so half a gram on top */
  if (fabs (kg - row->kg) > row->tolerance + 0.0005)
    {
      print_error ("%s: %f, printed %f\n", row->label, kg, row->kg);
      fail ();
    }
}

/* Densities within EN 1991-1-1:2002, annex A, table A.4 (kN/m3; from memory) at 9.81 m/s2, timber
 * the mean of EN 338:2016, table 1. */
static void
densities (void **state)
{
  static const struct
  {
    const char *word;
    double least, most; /* kN/m3 */
  } printed[] = {
    { "steel", 77.0, 78.5 },  { "cast iron", 71.0, 72.5 }, { "brass", 83.0, 85.0 },
    { "bronze", 83.0, 85.5 }, { "copper", 87.0, 89.0 },    { "lead", 111.0, 114.0 },
    { "zinc", 69.9, 72.0 },   { "aluminium", 26.0, 27.0 }, { "softwood", 4.1, 4.2 },
    { "hardwood", 6.2, 6.4 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (printed); i++)
    {
      double weight = material (printed[i].word)->kg_m3 * 9.81 / 1000;
      assert_true (weight >= printed[i].least - 0.05 && weight <= printed[i].most + 0.05);
    }
}

typedef struct
{
  const char *label;
  SwShape shape;
  double mm[SW_SHAPE_MEASURES];
  const char *says;
} Refused;

static const Refused refused[] = {
  { "no length", SW_SHAPE_ROUND, { 10, 0 }, "length is missing" },
  { "below zero", SW_SHAPE_BLOCK, { 10, -1, 5 }, "width is missing" },
  { "no number", SW_SHAPE_ROUND, { NAN, 5 }, "diameter is missing" },
  { "beyond a kilometre", SW_SHAPE_ROUND, { 10, 2e6 }, "length is missing" },
  { "a tube all wall", SW_SHAPE_TUBE, { 10, 6, 100 }, "thicker than half" },
  { "a square tube all wall", SW_SHAPE_HOLLOW, { 10, 10, 4, 100 }, "too thick" },
  { "a drum all wall", SW_SHAPE_DRUM, { 10, 6, 100 }, "thicker than half" },
  { "an angle all wall", SW_SHAPE_ANGLE, { 10, 20, 11, 100 }, "thicker than its legs" },
  { "a mountain", SW_SHAPE_BLOCK, { 1e6, 1e6, 1e6 }, "heavier than anything" },
  { "a flange above the section", SW_SHAPE_I_SECTION, { 10, 10, 1, 6, 100 }, "thicker than the" },
};

static void
refusal (void **state)
{
  const Refused *row = *state;
  SwMass mass = { -1 };
  g_autoptr (GError) error = NULL;
  assert_false (sw_solid_mass (row->shape, material ("steel"), row->mm, 1, &mass, &error));
  assert_error (error, SW_ERROR, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, row->says);
  assert_i64_equal (mass.ug, -1);
}

static double
steel_kg (SwShape shape, double a, double b, double c)
{
  const double mm[SW_SHAPE_MEASURES] = { a, b, c };
  SwMass mass = { -1 };

  assert_true (sw_solid_mass (shape, material ("steel"), mm, 1, &mass, NULL));
  return (double)mass.ug / (double)SW_UG_PER_KG;
}

/* A drum is the round bar of its size less the one inside its wall, and two round ends. */
static void
drum (void **state)
{
  double outside = steel_kg (SW_SHAPE_ROUND, 585, 880, 0);
  double inside = steel_kg (SW_SHAPE_ROUND, 585 - 2 * 1.2, 880, 0);
  double end = steel_kg (SW_SHAPE_ROUND, 585, 1.2, 0);
  double kg = steel_kg (SW_SHAPE_DRUM, 585, 1.2, 880);

  assert_true (fabs (kg - (outside - inside + 2 * end)) < 0.0025);
}

static void
words (void **state)
{
  const double mm[SW_SHAPE_MEASURES] = { 33.4, 3.38, 2500 };
  g_autofree char *text = sw_solid_words (SW_SHAPE_TUBE, material ("steel"), mm, 3);
  assert_string_equal (text, "tube 33.4 x 3.38 x 2500 mm, steel, 3 pieces");
  SwMass one = { 0 }, three = { 0 };
  assert_true (sw_solid_mass (SW_SHAPE_TUBE, material ("steel"), mm, 1, &one, NULL));
  assert_true (sw_solid_mass (SW_SHAPE_TUBE, material ("steel"), mm, 3, &three, NULL));
  assert_true (ABS (three.ug - 3 * one.ug) <= 2 * 1000000);
}

/* A form asks for as many measures as the sum takes: each that is left out is missed by its name.
 */
static void
measures_are_named (void **state)
{
  for (int shape = 0; shape < SW_N_SHAPES; shape++)
    {
      const char *const *names = sw_shape_measures ((SwShape)shape);

      assert_true (*sw_shape_word ((SwShape)shape) != '\0' && names[0] != NULL);
      for (int i = 0; names[i] != NULL; i++)
        {
          double mm[SW_SHAPE_MEASURES] = { 90, 80, 7, 6, 1000 };
          SwMass mass = { -1 };
          g_autoptr (GError) error = NULL;

          mm[i] = 0;
          assert_false (sw_solid_mass ((SwShape)shape, material ("steel"), mm, 1, &mass, &error));
          assert_contains (error->message, names[i]);
        }
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, published, rows);
  SW_TEST (tests, densities);
  SW_TEST_ROWS (tests, refusal, refused);
  SW_TEST (tests, drum);
  SW_TEST (tests, words);
  SW_TEST (tests, measures_are_named);
  return sw_tests_run (tests, "solid masses");
}
