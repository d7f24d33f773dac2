/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs walks on several threads: each writes into its own place, so nothing depends on their order.
 */
#include "runs.h"

#include "fit.h"
#include "oracle.h"

#include <math.h>

gboolean
runs_have_senses (const WalkKind *kind)
{
  return kind->pictures || kind->positions;
}

static void
score_best (const RunSpec *spec, guint64 seed, const TrueWalk *truth, Run *run)
{
  g_autoptr (SwProposal) ideal = oracle_propose (truth);

  score_add (&run->best, truth, ideal, NULL);
  if (runs_have_senses (spec->kind))
    {
      WalkKind bare = *spec->kind;
      g_autoptr (TrueWalk) same = NULL;
      g_autoptr (SwProposal) from_times = NULL;

      bare.pictures = bare.positions = FALSE;
      same = true_walk_new (seed, &bare);
      from_times = oracle_propose (same);
      score_add (&run->bare_best, same, from_times, NULL);
    }
}

static void
run_walk (const RunSpec *spec, guint64 seed, Run *run)
{
  g_autoptr (TrueWalk) truth = true_walk_new (seed, spec->kind);
  g_autofree double *spread_s = g_new0 (double, truth->walk.n_cameras);
  g_autoptr (SwProposal) proposal = NULL;

  for (gsize c = 0; c < truth->walk.n_cameras && spec->set_clocks; c++)
    {
      truth->cameras[c].fixed = TRUE;
      truth->cameras[c].shift_s = truth->shift_s[c];
    }
  for (gsize c = 0; c < truth->walk.n_cameras && spec->best && truth->walk.n_notes > 0; c++)
    spread_s[c] = oracle_clock_spread (truth, (int)c);
  proposal = sw_stops_propose (&truth->walk);
  score_add (&run->ours, truth, proposal, spec->best ? spread_s : NULL);
  if (spec->fit)
    fit_add (truth, proposal);
  if (spec->best)
    score_best (spec, seed, truth, run);
}

typedef struct
{
  const RunSpec *spec;
  Run *runs;
} Batch;

static void
run_one (gpointer item, gpointer data)
{
  const Batch *batch = data;
  guint k = GPOINTER_TO_UINT (item) - 1;

  run_walk (batch->spec, batch->spec->seed + k, &batch->runs[k]);
}

Run *
runs_new (const RunSpec *spec)
{
  Batch batch = { spec, g_new0 (Run, (gsize)spec->walks) };
  int jobs = spec->fit ? 1 : MAX (spec->jobs, 1);
  GThreadPool *pool = g_thread_pool_new (run_one, &batch, jobs, TRUE, NULL);

  for (int k = 0; k < spec->walks; k++)
    g_thread_pool_push (pool, GUINT_TO_POINTER ((guint)k + 1), NULL);
  g_thread_pool_free (pool, FALSE, TRUE);
  return batch.runs;
}

/* --- the fixed gap --- */

static const int gaps_s[] = { 15, 20, 25, 30, 35, 40, 45, 50, 60, 75, 90, 120 };

typedef struct
{
  double hits[G_N_ELEMENTS (gaps_s)], ours[G_N_ELEMENTS (gaps_s)], truly;
} Fixed;

static void
fixed_add (Fixed *fixed, const TrueWalk *truth)
{
  gsize before = G_MAXSIZE;

  /* Photos stand in true order. */
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    {
      if (truth->item[i] == SW_WALK_NONE)
        continue;
      if (before != G_MAXSIZE)
        {
          double gap_s = (double)(truth->true_us[i] - truth->true_us[before]) / 1e6;
          gboolean truly = truth->visit[i] != truth->visit[before];

          fixed->truly += truly;
          for (gsize k = 0; k < G_N_ELEMENTS (gaps_s); k++)
            {
              fixed->ours[k] += gap_s > gaps_s[k];
              fixed->hits[k] += gap_s > gaps_s[k] && truly;
            }
        }
      before = i;
    }
}

static Fixed
fixed_of (const WalkKind *kind, guint64 seed, int walks)
{
  Fixed fixed = { 0 };

  for (int k = 0; k < walks; k++)
    {
      g_autoptr (TrueWalk) truth = true_walk_new (seed + (guint64)k, kind);

      fixed_add (&fixed, truth);
    }
  return fixed;
}

static double
fixed_f1 (const Fixed *fixed, gsize k)
{
  return score_f1 (fixed->hits[k], fixed->ours[k], fixed->truly);
}

FixedGap
runs_fixed_gap (const WalkKind *kind, guint64 tune_seed, guint64 seed, int walks)
{
  WalkKind times = *kind;
  Fixed tuned, told;
  gsize best = 0;

  /* Nothing but times matters to it. */
  times.pictures = times.positions = FALSE;
  tuned = fixed_of (&times, tune_seed, walks);
  told = fixed_of (&times, seed, walks);
  for (gsize k = 1; k < G_N_ELEMENTS (gaps_s); k++)
    if (fixed_f1 (&tuned, k) > fixed_f1 (&tuned, best))
      best = k;
  return (FixedGap){ gaps_s[best], fixed_f1 (&told, best) };
}
