/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/load.h"

#include <glpk.h>
#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"

/* Columns and rows of GLPK count from 1: column 1 + r * n + i holds the pieces of i on run r. Rows:
 * one a thing, then mass and floor of each run. */
typedef struct
{
  const SwLoadPiece *pieces;
  gsize n;
  const SwLoadRun *runs;
  gsize n_runs;
  GCancellable *cancellable;
  const SwLoadPlan *greedy; /* a load to begin with */
} Problem;

void
sw_load_plan_free (SwLoadPlan *plan)
{
  if (plan == NULL)
    return;
  g_free (plan->taken);
  g_free (plan);
}

static SwLoadPlan *
plan_new (const Problem *problem)
{
  SwLoadPlan *plan = g_new0 (SwLoadPlan, 1);

  plan->n = problem->n;
  plan->n_runs = problem->n_runs;
  plan->taken = g_new0 (gint64, MAX (problem->n * problem->n_runs, 1));
  return plan;
}

/* ---- what cannot be planned ---- */

static gboolean
check_numbers (const Problem *problem, GError **error)
{
  if (problem->n_runs < 1 || problem->n_runs > SW_LOAD_RUNS_MOST)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A load is planned for 1 to %d runs of the van; say how many."),
                   SW_LOAD_RUNS_MOST);
      return FALSE;
    }
  for (gsize r = 0; r < problem->n_runs; r++)
    if (problem->runs[r].grams < 0 || problem->runs[r].grams > SW_LOAD_GRAMS_MOST
        || problem->runs[r].floor_cm2 < 0 || problem->runs[r].floor_cm2 > SW_LOAD_CM2_MOST)
      {
        g_set_error (
            error, SW_ERROR, SW_ERROR_BAD_INPUT,
            _ ("A run takes up to 100 t and 1000 m2 of floor; put the van's payload right."));
        return FALSE;
      }
  for (gsize i = 0; i < problem->n; i++)
    {
      const SwLoadPiece *piece = &problem->pieces[i];

      if (piece->count < 1 || piece->count > SW_LOAD_PIECES_MOST || piece->grams < 0
          || piece->grams > SW_LOAD_GRAMS_MOST || piece->floor_cm2 < 0
          || piece->floor_cm2 > SW_LOAD_CM2_MOST
          || piece->value > G_MAXINT32 * G_GINT64_CONSTANT (1000)
          || piece->value < -G_MAXINT32 * G_GINT64_CONSTANT (1000))
        {
          g_set_error (
              error, SW_ERROR, SW_ERROR_BAD_INPUT,
              _ ("Thing %d of the load has a count, mass, size or value beyond what can be "
                 "planned; put it right on its sheet."),
              (int)i + 1);
          return FALSE;
        }
    }
  return TRUE;
}

/* Why what must go does not fit, as far as sums alone can tell. */
static void
refuse_must (const Problem *problem, GError **error)
{
  g_autofree char *words = NULL;
  gint64 grams = 0, cm2 = 0, may_grams = 0, may_cm2 = 0;

  for (gsize r = 0; r < problem->n_runs; r++)
    {
      may_grams += problem->runs[r].grams;
      may_cm2 += problem->runs[r].floor_cm2;
    }
  for (gsize i = 0; i < problem->n; i++)
    if (problem->pieces[i].wish == SW_LOAD_MUST)
      {
        grams += problem->pieces[i].count * problem->pieces[i].grams;
        cm2 += problem->pieces[i].count * problem->pieces[i].floor_cm2;
      }
  if (grams > may_grams)
    words = sw_text_counted (
        (gint64)problem->n_runs,
        "What must go weighs %.0f kg and the van takes %.0f kg in %d run: plan "
        "another run, or let something wait.",
        "What must go weighs %.0f kg and the van takes %.0f kg in %d runs: plan "
        "another run, or let something wait.",
        ceil ((double)grams / 1000), floor ((double)may_grams / 1000), (int)problem->n_runs);
  else if (cm2 > may_cm2)
    words
        = sw_text_counted ((gint64)problem->n_runs,
                           "What must go needs %.1f m2 of floor and the van has %.1f m2 in %d run: "
                           "plan another run, or let something wait.",
                           "What must go needs %.1f m2 of floor and the van has %.1f m2 in %d "
                           "runs: plan another run, or let something wait.",
                           (double)cm2 / 10000, (double)may_cm2 / 10000, (int)problem->n_runs);
  else
    words
        = sw_text_count (problem->n_runs,
                         "What must go cannot be carried in %d run: plan another run, or let "
                         "something wait.",
                         "What must go cannot be parted over %d runs so that each carries it: plan "
                         "another run, or let something wait.");
  g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED, words);
}

/* ---- a load to begin with ---- */

/* Value for the share of the van that a piece takes. */
static double
worth (const Problem *problem, gsize i)
{
  const SwLoadPiece *piece = &problem->pieces[i];
  double share = 1e-9;

  if (problem->runs[0].grams > 0)
    share += (double)piece->grams / (double)problem->runs[0].grams;
  if (problem->runs[0].floor_cm2 > 0)
    share += (double)piece->floor_cm2 / (double)problem->runs[0].floor_cm2;
  return (double)piece->value / share;
}

typedef struct
{
  gsize piece;
  gboolean must;
  double worth;
} Turn;

static int
compare_turns (gconstpointer a, gconstpointer b)
{
  const Turn *one = a, *other = b;

  if (one->must != other->must)
    return one->must ? -1 : 1;
  if (one->worth != other->worth)
    return one->worth > other->worth ? -1 : 1;
  return one->piece < other->piece ? -1 : one->piece > other->piece;
}

static gint64
how_many (gint64 left, gint64 room, gint64 each)
{
  return each > 0 ? MIN (left, room / each) : left;
}

/* What must go first, then the densest; NULL where what must go finds no room this way. */
static SwLoadPlan *
load_greedily (const Problem *problem)
{
  g_autoptr (SwLoadPlan) plan = plan_new (problem);
  g_autofree Turn *turns = g_new (Turn, problem->n + 1);
  g_autofree SwLoadRun *room = g_memdup2 (problem->runs, problem->n_runs * sizeof *room);

  for (gsize i = 0; i < problem->n; i++)
    turns[i] = (Turn){ i, problem->pieces[i].wish == SW_LOAD_MUST, worth (problem, i) };
  qsort (turns, problem->n, sizeof *turns, compare_turns);
  for (gsize t = 0; t < problem->n; t++)
    {
      const SwLoadPiece *piece = &problem->pieces[turns[t].piece];
      gint64 left = piece->count;

      if (piece->wish == SW_LOAD_NOT_NOW || (piece->wish == SW_LOAD_FREE && piece->value <= 0))
        continue;
      for (gsize r = 0; r < problem->n_runs && left > 0; r++)
        {
          gint64 here = how_many (how_many (left, room[r].grams, piece->grams), room[r].floor_cm2,
                                  piece->floor_cm2);

          plan->taken[r * problem->n + turns[t].piece] = here;
          plan->value += here * piece->value;
          room[r].grams -= here * piece->grams;
          room[r].floor_cm2 -= here * piece->floor_cm2;
          left -= here;
        }
      if (left > 0 && piece->wish == SW_LOAD_MUST)
        return NULL;
    }
  return g_steal_pointer (&plan);
}

/* ---- the exact one ---- */

static void
add_columns (glp_prob *lp, const Problem *problem)
{
  if (problem->n == 0)
    return;
  glp_add_cols (lp, (int)(problem->n * problem->n_runs));
  for (gsize r = 0; r < problem->n_runs; r++)
    for (gsize i = 0; i < problem->n; i++)
      {
        const SwLoadPiece *piece = &problem->pieces[i];
        int column = (int)(1 + r * problem->n + i);
        gint64 most = how_many (how_many (piece->count, problem->runs[r].grams, piece->grams),
                                problem->runs[r].floor_cm2, piece->floor_cm2);

        if (piece->wish == SW_LOAD_NOT_NOW || (piece->wish == SW_LOAD_FREE && piece->value <= 0))
          most = 0;
        glp_set_col_kind (lp, column, GLP_IV);
        glp_set_col_bnds (lp, column, most > 0 ? GLP_DB : GLP_FX, 0, (double)most);
        glp_set_obj_coef (lp, column, (double)piece->value);
      }
}

static void
add_count_row (glp_prob *lp, const Problem *problem, gsize i, int *index, double *factor)
{
  int row = glp_add_rows (lp, 1);
  double count = (double)problem->pieces[i].count;

  for (gsize r = 0; r < problem->n_runs; r++)
    {
      index[1 + r] = (int)(1 + r * problem->n + i);
      factor[1 + r] = 1;
    }
  glp_set_row_bnds (lp, row, problem->pieces[i].wish == SW_LOAD_MUST ? GLP_FX : GLP_UP, count,
                    count);
  glp_set_mat_row (lp, row, (int)problem->n_runs, index, factor);
}

static void
add_room_row (glp_prob *lp, const Problem *problem, gsize r, gboolean mass, int *index,
              double *factor)
{
  int row = glp_add_rows (lp, 1);
  int used = 0;

  for (gsize i = 0; i < problem->n; i++)
    {
      gint64 each = mass ? problem->pieces[i].grams : problem->pieces[i].floor_cm2;

      if (each == 0)
        continue;
      index[++used] = (int)(1 + r * problem->n + i);
      factor[used] = (double)each;
    }
  glp_set_row_bnds (lp, row, GLP_UP, 0,
                    (double)(mass ? problem->runs[r].grams : problem->runs[r].floor_cm2));
  glp_set_mat_row (lp, row, used, index, factor);
}

static glp_prob *
problem_to_lp (const Problem *problem)
{
  glp_prob *lp = glp_create_prob ();
  gsize most = MAX (problem->n, problem->n_runs) + 1;
  g_autofree int *index = g_new (int, most);
  g_autofree double *factor = g_new (double, most);

  glp_set_obj_dir (lp, GLP_MAX);
  add_columns (lp, problem);
  for (gsize i = 0; i < problem->n; i++)
    add_count_row (lp, problem, i, index, factor);
  for (gsize r = 0; r < problem->n_runs; r++)
    {
      add_room_row (lp, problem, r, TRUE, index, factor);
      add_room_row (lp, problem, r, FALSE, index, factor);
    }
  return lp;
}

static void
give_greedy (glp_tree *tree, const Problem *problem)
{
  gsize n = problem->n * problem->n_runs;
  g_autofree double *x = NULL;

  if (problem->greedy == NULL || glp_ios_curr_node (tree) != 1)
    return;
  x = g_new (double, n + 1);
  for (gsize k = 0; k < n; k++)
    x[k + 1] = (double)problem->greedy->taken[k];
  glp_ios_heur_sol (tree, x);
}

static void
on_branching (glp_tree *tree, void *data)
{
  const Problem *problem = data;

  if (g_cancellable_is_cancelled (problem->cancellable))
    glp_ios_terminate (tree);
  else if (glp_ios_reason (tree) == GLP_IHEUR)
    give_greedy (tree, problem);
}

static SwLoadPlan *
plan_from_lp (glp_prob *lp, const Problem *problem)
{
  SwLoadPlan *plan = plan_new (problem);

  for (gsize k = 0; k < problem->n * problem->n_runs; k++)
    {
      plan->taken[k] = llround (glp_mip_col_val (lp, (int)k + 1));
      plan->value += plan->taken[k] * problem->pieces[k % problem->n].value;
    }
  return plan;
}

/* In whole numbers: the solver's are rounded ones. */
static gboolean
fits (const SwLoadPlan *plan, const Problem *problem)
{
  for (gsize r = 0; r < problem->n_runs; r++)
    {
      gint64 grams = 0, cm2 = 0;

      for (gsize i = 0; i < problem->n; i++)
        {
          gint64 taken = plan->taken[r * problem->n + i];

          grams += taken * problem->pieces[i].grams;
          cm2 += taken * problem->pieces[i].floor_cm2;
          if (taken < 0 || taken > problem->pieces[i].count)
            return FALSE;
        }
      if (grams > problem->runs[r].grams || cm2 > problem->runs[r].floor_cm2)
        return FALSE;
    }
  return TRUE;
}

/* No load leaves more than if pieces could be cut: the relaxation's value, which lp holds. */
static gint64
relaxed_bound (glp_prob *lp)
{
  return (gint64)floor (glp_get_obj_val (lp) + 1e-6 * (1 + fabs (glp_get_obj_val (lp))));
}

static int
branch_and_cut (glp_prob *lp, Problem *problem, int milliseconds)
{
  glp_iocp how;

  glp_init_iocp (&how);
  how.msg_lev = GLP_MSG_OFF;
  how.cb_func = on_branching;
  how.cb_info = problem;
  how.tm_lim = milliseconds;
  how.mir_cuts = GLP_ON;
  how.cov_cuts = GLP_ON;
  how.tol_obj = 1e-12; /* values are whole numbers: nothing is cut off that is better by one */
  return glp_intopt (lp, &how);
}

static SwLoadPlan *
solve (glp_prob *lp, Problem *problem, int milliseconds, GError **error)
{
  g_autoptr (SwLoadPlan) greedy = load_greedily (problem);
  g_autoptr (SwLoadPlan) plan = NULL;
  glp_smcp simplex;
  gint64 bound;
  int ended;

  glp_init_smcp (&simplex);
  simplex.msg_lev = GLP_MSG_OFF;
  if (glp_simplex (lp, &simplex) != 0 || glp_get_status (lp) != GLP_OPT)
    {
      refuse_must (problem, error);
      return NULL;
    }
  bound = relaxed_bound (lp);
  problem->greedy = greedy;
  ended = branch_and_cut (lp, problem, milliseconds);
  problem->greedy = NULL;
  if (g_cancellable_is_cancelled (problem->cancellable))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_CANCELLED,
                   _ ("The load was not planned: it was stopped."));
      return NULL;
    }
  if (ended == 0 && glp_mip_status (lp) == GLP_NOFEAS)
    {
      refuse_must (problem, error);
      return NULL;
    }
  if (glp_mip_status (lp) == GLP_OPT || glp_mip_status (lp) == GLP_FEAS)
    plan = plan_from_lp (lp, problem);
  if (plan != NULL && !fits (plan, problem))
    g_clear_pointer (&plan, sw_load_plan_free);
  else if (plan != NULL)
    plan->best = glp_mip_status (lp) == GLP_OPT;
  if (greedy != NULL && (plan == NULL || plan->value < greedy->value))
    {
      sw_load_plan_free (plan);
      plan = g_steal_pointer (&greedy);
    }
  if (plan == NULL)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_REFUSED,
          _ ("No load was found in the time given; plan another run, or let something wait."));
      return NULL;
    }
  plan->bound = plan->best ? plan->value : MAX (bound, plan->value);
  plan->best = plan->bound == plan->value;
  return g_steal_pointer (&plan);
}

SwLoadPlan *
sw_load_solve (const SwLoadPiece *pieces, gsize n, const SwLoadRun *runs, gsize n_runs,
               int milliseconds, GCancellable *cancellable, GError **error)
{
  Problem problem = { pieces, n, runs, n_runs, cancellable, NULL };
  SwLoadPlan *plan;
  glp_prob *lp;

  if (!check_numbers (&problem, error))
    return NULL;
  if (n == 0)
    {
      plan = plan_new (&problem);
      plan->best = TRUE;
      return plan;
    }
  glp_term_out (GLP_OFF);
  lp = problem_to_lp (&problem);
  plan = solve (lp, &problem, milliseconds, error);
  glp_delete_prob (lp);
  glp_free_env (); /* it is the thread's own */
  return plan;
}
