/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mass of simple solids by the handbook formulas: volume of the shape times density. For masses
 * that are worked out, not weighed; rounded to the gram. Base layer. */
#pragma once

#include "core/base/language.h"
#include "core/base/mass.h"

G_BEGIN_DECLS

/* X (tag, word, measures in order). Rolled sections are taken with sharp inner corners, so a
 * section with root radii comes out some 1 to 5 % light. Corners of the square tube are round as in
 * EN 10219-2:2006 for walls up to 6 mm: outside radius twice the wall. A drum is a closed shell
 * with flat ends. */
#define SW_SHAPES(X)                                                                               \
  X (BLOCK, N_ ("block or plate"), N_ ("length"), N_ ("width"), N_ ("height"), NULL, NULL)         \
  X (ROUND, N_ ("round bar"), N_ ("diameter"), N_ ("length"), NULL, NULL, NULL)                    \
  X (HEXAGON, N_ ("hexagon bar"), N_ ("across flats"), N_ ("length"), NULL, NULL, NULL)            \
  X (TUBE, N_ ("tube"), N_ ("outside diameter"), N_ ("wall"), N_ ("length"), NULL, NULL)           \
  X (HOLLOW, N_ ("square tube"), N_ ("height"), N_ ("width"), N_ ("wall"), N_ ("length"), NULL)    \
  X (ANGLE, N_ ("angle"), N_ ("one leg"), N_ ("other leg"), N_ ("thickness"), N_ ("length"), NULL) \
  X (I_SECTION, N_ ("I section"), N_ ("height"), N_ ("width"), N_ ("web"), N_ ("flange"),          \
     N_ ("length"))                                                                                \
  X (DRUM, N_ ("empty drum"), N_ ("diameter"), N_ ("wall"), N_ ("length"), NULL, NULL)

#define SW_SHAPE_AS_ENUM(tag, word, a, b, c, d, e) SW_SHAPE_##tag,
typedef enum
{
  SW_SHAPES (SW_SHAPE_AS_ENUM) SW_N_SHAPES
} SwShape;
#define SW_SHAPE_MEASURES 5

/* "block", "tube": as a person names it, to be translated. Static. */
const char *sw_shape_word (SwShape shape);
/* The names of its measures, NULL-terminated. Static. */
const char *const *sw_shape_measures (SwShape shape);

typedef struct
{
  const char *word;
  int kg_m3;
} SwMaterial;
/* Static, *out_n of them. Metals: usual handbook values (steel 7850 as EN 10025 products are
 * reckoned; the others within EN 1991-1-1:2002, annex A, table A.4, from memory). Timber: means of
 * EN 338 classes C24 and D30. */
const SwMaterial *sw_materials (gsize *out_n);

/* mm: the measures in the shape's order, millimetres; pieces >= 1. Errors: BAD_INPUT naming the
 * measure that is missing or cannot be (a wall thicker than half the tube). */
gboolean sw_solid_mass (SwShape shape, const SwMaterial *material, const double *mm, gint64 pieces,
                        SwMass *out_mass, GError **error);
/* "round bar 40 x 2500 mm, steel, 3 pieces": how it was worked out. Transfer full. */
char *sw_solid_words (SwShape shape, const SwMaterial *material, const double *mm, gint64 pieces);

G_END_DECLS
