/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Volumes of simple solids times density. Knows no item. Floating point: a worked-out mass is never
 * better than its measures, and is rounded to the gram at the end. */
#include "core/base/solid.h"

#include <math.h>

#include "core/base/error.h"
#include "core/base/language.h"

#define UG_PER_G 1e6
/* A kilometre of anything; beyond it the figure was mistyped. */
#define MM_MAX 1e6

typedef struct
{
  const char *word;
  const char *measures[SW_SHAPE_MEASURES + 1];
} ShapeRow;

#define SW_SHAPE_AS_ROW(tag, word, a, b, c, d, e) { word, { a, b, c, d, e, NULL } },
static const ShapeRow shapes[] = { SW_SHAPES (SW_SHAPE_AS_ROW) };
G_STATIC_ASSERT (G_N_ELEMENTS (shapes) == SW_N_SHAPES);

static const SwMaterial materials[] = {
  { N_ ("steel"), 7850 },     { N_ ("stainless steel"), 7900 }, { N_ ("cast iron"), 7250 },
  { N_ ("aluminium"), 2700 }, { N_ ("brass"), 8500 },           { N_ ("bronze"), 8700 },
  { N_ ("copper"), 8900 },    { N_ ("lead"), 11340 },           { N_ ("zinc"), 7135 },
  { N_ ("softwood"), 420 },   { N_ ("hardwood"), 640 },         { N_ ("glass"), 2500 },
  { N_ ("concrete"), 2400 },  { N_ ("water"), 1000 },
};

const char *
sw_shape_word (SwShape shape)
{
  g_return_val_if_fail (shape < SW_N_SHAPES, NULL);
  return shapes[shape].word;
}

const char *const *
sw_shape_measures (SwShape shape)
{
  g_return_val_if_fail (shape < SW_N_SHAPES, NULL);
  return shapes[shape].measures;
}

const SwMaterial *
sw_materials (gsize *out_n)
{
  *out_n = G_N_ELEMENTS (materials);
  return materials;
}

/* Area of the ring between a circle and one a wall's thickness inside. */
static double
ring (double diameter, double wall)
{
  return G_PI * (diameter - wall) * wall;
}

static double
square_tube (double height, double width, double wall)
{
  double outside = 2 * wall;
  return 2 * wall * (height + width - 2 * wall) - (4 - G_PI) * (outside * outside - wall * wall);
}

/* Cubic millimetres. */
static double
volume (SwShape shape, const double *mm)
{
  switch (shape)
    {
    case SW_SHAPE_BLOCK:
      return mm[0] * mm[1] * mm[2];
    case SW_SHAPE_ROUND:
      return G_PI / 4 * mm[0] * mm[0] * mm[1];
    case SW_SHAPE_HEXAGON:
      return sqrt (3) / 2 * mm[0] * mm[0] * mm[1];
    case SW_SHAPE_TUBE:
      return ring (mm[0], mm[1]) * mm[2];
    case SW_SHAPE_HOLLOW:
      return square_tube (mm[0], mm[1], mm[2]) * mm[3];
    case SW_SHAPE_ANGLE:
      return mm[2] * (mm[0] + mm[1] - mm[2]) * mm[3];
    case SW_SHAPE_I_SECTION:
      return (2 * mm[1] * mm[3] + (mm[0] - 2 * mm[3]) * mm[2]) * mm[4];
    default: /* a drum */
      return ring (mm[0], mm[1]) * mm[2] + 2 * G_PI / 4 * mm[0] * mm[0] * mm[1];
    }
}

/* What leaves no room inside itself; NULL where it can be. */
static const char *
why_impossible (SwShape shape, const double *mm)
{
  if ((shape == SW_SHAPE_TUBE || shape == SW_SHAPE_DRUM) && 2 * mm[1] > mm[0])
    return _ ("the wall is thicker than half the diameter");
  if (shape == SW_SHAPE_HOLLOW && 4 * mm[2] > MIN (mm[0], mm[1]))
    return _ ("the wall is too thick for a tube so small");
  if (shape == SW_SHAPE_ANGLE && mm[2] > MIN (mm[0], mm[1]))
    return _ ("it is thicker than its legs are long");
  if (shape == SW_SHAPE_I_SECTION && (2 * mm[3] > mm[0] || mm[2] > mm[1]))
    return _ ("web or flange is thicker than the section");
  return NULL;
}

gboolean
sw_solid_mass (SwShape shape, const SwMaterial *material, const double *mm, gint64 pieces,
               SwMass *out_mass, GError **error)
{
  g_return_val_if_fail (shape < SW_N_SHAPES && material != NULL && pieces >= 1, FALSE);
  const char *const *names = shapes[shape].measures;
  for (int i = 0; names[i] != NULL; i++)
    if (!(mm[i] > 0) || mm[i] > MM_MAX)
      {
        g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                     _ ("The %s is missing: give millimetres above 0, up to a kilometre."),
                     _ (names[i]));
        return FALSE;
      }
  const char *why = why_impossible (shape, mm);
  if (why != NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("Such a %s cannot be: %s."),
                   _ (shapes[shape].word), why);
      return FALSE;
    }
  /* mm3 x kg/m3 is micrograms: 1e-9 m3 x 1e9 ug */
  double ug = volume (shape, mm) * material->kg_m3 * (double)pieces;
  double grams = floor (ug / UG_PER_G + 0.5);
  if (grams * UG_PER_G > 9e18)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("That is heavier than anything that can be kept here; look at the measures."));
      return FALSE;
    }
  *out_mass = (SwMass){ (gint64)grams * (gint64)UG_PER_G };
  return TRUE;
}

char *
sw_solid_words (SwShape shape, const SwMaterial *material, const double *mm, gint64 pieces)
{
  g_autoptr (GString) text = g_string_new (_ (shapes[shape].word));
  for (int i = 0; shapes[shape].measures[i] != NULL; i++)
    {
      char figure[G_ASCII_DTOSTR_BUF_SIZE];
      g_ascii_formatd (figure, sizeof figure, "%.6g", mm[i]);
      g_string_append_printf (text, "%s%s", i == 0 ? " " : _ (" x "), figure);
    }
  g_string_append_printf (text, " mm, %s", _ (material->word));
  if (pieces > 1)
    g_string_append_printf (text, _ (", %" PRId64 " pieces"), pieces);
  return g_string_free (g_steal_pointer (&text), FALSE);
}
