/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which pieces to load: a knapsack problem over one or several runs of the van, each with a payload
 * and a floor, solved exactly by branch and cut (GLPK) while there is time. Trip layer, pure: it
 * knows nothing of the catalogue. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

typedef enum
{
  SW_LOAD_FREE,
  SW_LOAD_MUST,
  SW_LOAD_NOT_NOW,
} SwLoadWish;

/* So many pieces alike. */
typedef struct
{
  gint64 count;     /* 1 to SW_LOAD_PIECES_MOST */
  gint64 grams;     /* of one piece, >= 0 */
  gint64 floor_cm2; /* of one piece, >= 0; 0 where it rides on something else */
  gint64 value; /* of one piece in minor units: what bringing it is expected to leave; may be < 0 */
  SwLoadWish wish; /* MUST: all its pieces */
} SwLoadPiece;

typedef struct
{
  gint64 grams, floor_cm2; /* what the van may still carry on this run, >= 0 */
} SwLoadRun;

#define SW_LOAD_PIECES_MOST 10000
#define SW_LOAD_RUNS_MOST 20
/* 100 t and 1,000 m2: no van takes more, and sums stay exact in the solver. */
#define SW_LOAD_GRAMS_MOST G_GINT64_CONSTANT (100000000)
#define SW_LOAD_CM2_MOST G_GINT64_CONSTANT (10000000)

typedef struct
{
  gsize n, n_runs;
  gint64 *taken; /* pieces of i on run r: taken[r * n + i] */
  gint64 value;  /* of all that is taken */
  gboolean best; /* proven: no load leaves more */
  gint64 bound;  /* none leaves more than this; equals value where 'best' */
} SwLoadPlan;
void sw_load_plan_free (SwLoadPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwLoadPlan, sw_load_plan_free)

/* The load of the greatest value that fits; of pieces that are worth nothing (or less) only those
 * that must go. Heavier first where two loads leave the same is not promised. At most so many
 * milliseconds, after which the best load found is given with its bound. It calculates on the
 * calling thread. Errors: BAD_INPUT (numbers beyond their bounds; no run), REFUSED (what must go
 * does not fit; the sentence says how much is too much), CANCELLED.
 *
 * The model: choose integers x[i,r] >= 0; maximise sum value[i] x[i,r] under
 * sum_r x[i,r] <= count[i] (= for MUST), sum_i grams[i] x[i,r] <= grams[r] and the same of the
 * floor (Martello, S. & Toth, P., 1990, Knapsack Problems, chapters 3 and 6: the bounded and the
 * multiple knapsack problem). */
SwLoadPlan *sw_load_solve (const SwLoadPiece *pieces, gsize n, const SwLoadRun *runs, gsize n_runs,
                           int milliseconds, GCancellable *cancellable, GError **error);

G_END_DECLS
