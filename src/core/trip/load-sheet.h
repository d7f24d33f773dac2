/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What to bring home on a trip: the things that may go, the load that is expected to leave most,
 * and how much of that rests on guesses. Trip layer; read only. It proposes: nothing is decided. */
#pragma once

#include <gio/gio.h>

#include "core/base/language.h"
#include "core/catalogue/items.h"
#include "core/catalogue/van.h"

G_BEGIN_DECLS

/* Where a figure comes from. */
typedef enum
{
  SW_BASIS_KNOWN,   /* weighed, measured, worked out, or typed */
  SW_BASIS_GUESSED, /* by the person, or by its size class */
  SW_BASIS_ASSUMED, /* nothing is known: taken like a thing for two people */
} SwBasis;

/* X (tag, words). Why a thing is left out whatever it would leave; without words of its own it is
 * said as its misfit is (van-fit.h). */
#define SW_LOAD_OBSTACLES(X)                                                                       \
  X (NONE, NULL)                                                                                   \
  X (NOT_THIS_TIME, N_ ("not this time"))                                                          \
  X (TRAILER, NULL)                                                                                \
  X (DOOR, NULL)                                                                                   \
  X (SPACE, NULL)                                                                                  \
  X (PAYLOAD, NULL)                                                                                \
  X (DANGER, N_ ("must be cleared before it is moved"))
#define SW_LOAD_OBSTACLE_AS_ENUM(tag, words) SW_OBSTACLE_##tag,
typedef enum
{
  SW_LOAD_OBSTACLES (SW_LOAD_OBSTACLE_AS_ENUM) SW_N_OBSTACLES
} SwLoadObstacle;
/* Static; NULL for NONE. */
const char *sw_load_obstacle_words (SwLoadObstacle obstacle);

typedef struct
{
  SwItem *item;
  SwWish wish;
  SwLoadObstacle obstacle;
  SwMass each; /* of one piece */
  SwBasis mass_basis;
  gint64 floor_cm2; /* of one piece; 0: rides on a shelf or the roof */
  SwBasis floor_basis;
  SwMoney leaves; /* expected of the whole count at its best outlet, after fees and cartage */
  SwBasis
      money_basis; /* GUESSED: the asking price, no outlet to tell; ASSUMED: no price: nothing */
  char *outlet;    /* that outlet; NULL: none */
  gint64 *taken;   /* pieces on each run */
  gint64 pieces;   /* on all of them */
  gboolean heavy;  /* one piece is above what the usual guideline lets one person lift */
} SwLoadThing;

typedef struct
{
  gint64 pieces;
  SwMass mass;
  gint64 floor_cm2;
} SwLoadRunSum;

typedef struct
{
  gint64 trip;
  gboolean has_van;
  SwVan van;
  SwTripLoad load;
  GPtrArray *things;       /* SwLoadThing: must first, then loaded ones, the most expected first */
  GArray *runs;            /* SwLoadRunSum; empty without a van */
  SwMoney leaves;          /* expected of the load */
  gboolean best;           /* no load is expected to leave more */
  SwMoney may_leave;       /* none more than this */
  SwMass guessed, assumed; /* of the load's mass, what rests on a guess / on nothing */
  SwMass unsure;           /* both together */
  GPtrArray *weigh;        /* SwLoadThing of things, not owned: the few to weigh first */
  char *refused;           /* why what must go cannot; a sentence; NULL: it can */
} SwLoadSheet;
void sw_load_sheet_free (SwLoadSheet *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwLoadSheet, sw_load_sheet_free)

#define SW_LOAD_WEIGH_MOST 5

/* Candidates: what is to be brought home, what must go by the person's wish, and what is sold with
 * money for delivery. The floor that a
 * thing takes is its length by its width as it stands. At most so many milliseconds are spent on
 * the plan. Errors: NOT_FOUND (the trip), CANCELLED, those of the database; a load that cannot be
 * planned is no error, but said in 'refused'. */
SwLoadSheet *sw_load_sheet (SwCatalogue *catalogue, gint64 trip, int milliseconds,
                            GCancellable *cancellable, GError **error);

/* Cautions for whoever loads, each a sentence with its source; NULL-terminated, static. They give
 * way to the rules of the road and the van's own papers. */
const char *const *sw_load_cautions (void);

G_END_DECLS
