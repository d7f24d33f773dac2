/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a run of the chain teaches of the person: expected counts for the M-step of params.c. Must
 * not change parameters. */
#include "core/match/model-private.h"

#include <string.h>

/* Edges too unlikely to teach anything. */
#define LEARN_LEAST 1e-9

typedef struct
{
  SwModel *model;
  SwWalkCounts counts;
  gsize column;            /* whose sums these are; G_MAXSIZE: none yet */
  double stay;             /* P(no boundary) so far */
  double step[SW_N_STEPS]; /* P(a boundary of that kind) so far */
} Learning;

/* All edges of a column cross one gap: it is learned from once. */
static void
close_column (Learning *learning)
{
  SwModel *model = learning->model;
  const ModelPhoto *photo;
  double z;

  if (learning->column == G_MAXSIZE)
    return;
  photo = &model->photos[learning->column];
  z = photo->z;
  sw_walk_counts_stay (&learning->counts, &model->params, z, learning->stay);
  sw_walk_counts_camera (&learning->counts, &model->params, photo->since, photo->changes,
                         photo->share, learning->stay);
  if (photo->way_m >= 0)
    sw_motion_sums_add (&learning->counts.motion, &model->params.motion, photo->way_m, photo->way_s,
                        learning->stay);
  for (int k = 0; k < SW_N_STEPS; k++)
    {
      sw_walk_counts_boundary (&learning->counts, &model->params, (SwStep)k, z, learning->step[k]);
      model->boundary[learning->column] += learning->step[k];
    }
}

static void
open_column (Learning *learning, gsize t)
{
  if (learning->column == t)
    return;
  close_column (learning);
  learning->column = t;
  learning->stay = 0;
  memset (learning->step, 0, sizeof learning->step);
}

static void
learn_start (Learning *learning, gsize i, guint to, double posterior)
{
  SwModel *model = learning->model;
  const SwWalkParams *params = &model->params;
  StateParts parts = sw_model_parts (model, i, to);
  const LagCell *lag;
  double before, off, share;

  if (parts.phase == SW_PHASE_NEW)
    learning->counts.unnoted += posterior;
  if (parts.phase == SW_PHASE_DETOUR)
    {
      learning->counts.noted += posterior;
      learning->counts.lag_count[SW_LAG_OFF] += posterior;
    }
  if (parts.note < 0)
    return;
  learning->counts.noted += posterior;
  model->matched[parts.note] += posterior;
  if (parts.pending)
    return;
  lag = &model->lag[model->cell[i] + (gsize)(parts.note - model->lo[i])];
  before = params->lag_share[SW_LAG_BEFORE] * lag->before;
  off = parts.phase == SW_PHASE_PAID ? params->lag_share[SW_LAG_OFF] * lag->off : 0;
  share = before / MAX (before + off, 1e-300);
  learning->counts.lag_count[SW_LAG_BEFORE] += posterior * share;
  learning->counts.lag_count[SW_LAG_OFF] += posterior * (1 - share);
  sw_walk_counts_lag (&learning->counts, params, SW_LAG_BEFORE,
                      sw_model_seconds (model->photos[i].t_us - model->notes[parts.note].tau_us),
                      model->notes[parts.note].res_s, sw_model_pause_s (model, i, -1),
                      posterior * share * lag->usual_before / MAX (lag->before, 1e-300));
}

/* A stop ends at photo i in state 'from'. */
static void
learn_leave (Learning *learning, gsize i, guint from, double posterior)
{
  SwModel *model = learning->model;
  StateParts parts = sw_model_parts (model, i, from);
  const LagCell *lag;

  if (!parts.pending)
    return;
  lag = &model->lag[model->cell[i] + (gsize)(parts.note - model->lo[i])];
  learning->counts.lag_count[SW_LAG_AFTER] += posterior;
  sw_walk_counts_lag (&learning->counts, &model->params, SW_LAG_AFTER,
                      sw_model_seconds (model->notes[parts.note].tau_us - model->photos[i].t_us),
                      model->notes[parts.note].res_s, sw_model_pause_s (model, i, 1),
                      posterior * lag->usual_after / MAX (lag->after, 1e-300));
}

static void
learn_edge (gpointer data, gsize t, guint from, const SwChainEdge *edge, double posterior)
{
  Learning *learning = data;
  const SwModel *model = learning->model;
  int note_from, note_to, place_from = -1, place_to = -1;
  SwStep step = SW_STEP_ANY;

  open_column (learning, t);
  if (edge->kind != SW_EDGE_NEXT)
    {
      learning->stay += posterior;
      if (edge->kind == SW_EDGE_STAY_NOTED)
        learning->counts.lag_count[SW_LAG_DURING] += posterior;
      return;
    }
  note_from = sw_model_parts (model, t, from).note;
  note_to = sw_model_parts (model, t + 1, edge->to).note;
  if (note_from >= 0)
    place_from = model->notes[note_from].place;
  if (note_to >= 0)
    place_to = model->notes[note_to].place;
  if (place_from >= 0 && place_to >= 0)
    step = place_from == place_to ? SW_STEP_SAME : SW_STEP_OTHER;
  /* Boundaries are told of as well as learned from: they want all of it. */
  learning->step[step] += posterior;
  if (posterior < LEARN_LEAST)
    return;
  learn_leave (learning, t, from, posterior);
  learn_start (learning, t + 1, edge->to, posterior);
}

void
sw_model_expect (SwModel *model, SwWalkCounts *out_counts)
{
  Learning learning = { .model = model, .column = G_MAXSIZE };
  gsize last = model->n - 1;

  memset (model->boundary, 0, sizeof (double) * model->n);
  memset (model->matched, 0, sizeof (double) * (model->n_notes + 1));
  for (guint s = 0; s < model->sizes[0]; s++)
    {
      double posterior = sw_chain_marginal (model->chain, 0, s);

      if (posterior > 0)
        learn_start (&learning, 0, s, posterior);
    }
  sw_chain_each_edge (model->chain, learn_edge, &learning);
  close_column (&learning);
  for (guint s = 0; s < model->sizes[last]; s++)
    {
      double posterior = sw_chain_marginal (model->chain, last, s);

      if (posterior > 0)
        learn_leave (&learning, last, s, posterior);
    }
  learning.counts.seconds = model->active_s;
  for (gsize k = 0; k < model->n_notes; k++)
    {
      model->matched[k] = MIN (model->matched[k], 1);
      learning.counts.strays += 1 - model->matched[k];
    }
  /* A detour uses up a note that is counted as stray above. */
  learning.counts.strays
      = MAX (learning.counts.strays
                 - MIN (learning.counts.lag_count[SW_LAG_OFF], 0.7 * learning.counts.strays),
             0);
  *out_counts = learning.counts;
}
