/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The walk past the buildings where there is something to do: the person's own order, and the
 * shortest one from the same start. It proposes; only sw_walk_take changes the order. Trip layer.
 */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/places.h"

G_BEGIN_DECLS

/* X (tag, words). Where the ways between the buildings come from. */
#define SW_WALK_BASES(X)                                                                           \
  X (NOTHING, NULL)                                                                                \
  X (PLAN, N_ ("by the plan"))                                                                     \
  X (POSITIONS, N_ ("by the positions"))
#define SW_WALK_BASIS_AS_ENUM(tag, words) SW_WALK_BY_##tag,
typedef enum
{
  SW_WALK_BASES (SW_WALK_BASIS_AS_ENUM) SW_N_WALK_BASES
} SwWalkBasis;
/* Static; NULL for NOTHING. */
const char *sw_walk_basis_words (SwWalkBasis basis);

typedef struct
{
  gint64 place; /* a building: a place in no other */
  char *name;
  int lines; /* things to do there, and in the places inside it */
  gboolean has_spot;
  double x, y; /* of the plan in plan units; or latitude and longitude */
} SwWalkStop;

typedef struct
{
  SwWalkBasis basis;
  gboolean has_metres;        /* FALSE: the plan has no scale, so lengths only compare */
  GPtrArray *own;             /* SwWalkStop in the person's order; those without a spot too */
  GPtrArray *shortest;        /* the same with a spot, not owned; from the same first one */
  gint64 own_mm, shortest_mm; /* of those with a spot; without a scale thousandths of plan units */
} SwWalk;
void sw_walk_free (SwWalk *walk);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwWalk, sw_walk_free)

/* places: as sw_place_list has them; at: gint64, a place for each thing to do. The plan counts
 * where as many buildings are drawn as have a position; distances run from middle to middle, on
 * foot no way is that straight. Off the property nothing is walked. */
SwWalk *sw_walk_plan (SwCatalogue *catalogue, const GPtrArray *places, const GArray *at,
                      GError **error);

/* The shortest is really shorter than the own order. */
gboolean sw_walk_is_shorter (const SwWalk *walk);

/* "Press house, Cooperage, Glasshouse": names in that order. Transfer full. */
char *sw_walk_names (const GPtrArray *stops);

/* "Your walk: A, B, C (240 m). Shortest by the plan: A, C, B (180 m)." or the own walk alone where
 * it is as short; NULL where there is no way to go, or nobody knows where the buildings stand.
 * Transfer full. */
char *sw_walk_sentence (const SwWalk *walk);

/* Walked so from now on: the buildings of the walk change places among each other in the person's
 * order, all others keep theirs. One act. REFUSED where the own order is as short. */
gboolean sw_walk_take (SwCatalogue *catalogue, const SwWalk *walk, GError **error);

G_END_DECLS
