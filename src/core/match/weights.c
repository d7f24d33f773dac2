/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the factors of a chain that ran weigh, for telling a person. Reads the very numbers that the
 * chain was run with; must not work out any of its own. */
#include "core/match/model-private.h"

#include <math.h>

void
sw_model_gap_weights (const SwModel *model, gsize i, SwGapWeights *out)
{
  const ModelPhoto *photo = &model->photos[i], *next = &model->photos[i + 1];
  const SwWalkParams *params = &model->params;

  double between = sw_gap_between (params, SW_STEP_ANY, photo->z), within;

  *out = (SwGapWeights){
    .alike = photo->alike,
    .hand = photo->hand,
    .still = photo->still,
    .signs = photo->join,
    .cut = next->cut,
    .way_m = photo->way_m,
    .bits = -1,
  };
  if (photo->changes)
    between *= sw_change_weight (photo->z);
  within = photo->changes ? sw_gap_change (params, photo->z) : sw_gap_within (params, photo->z);
  out->pause = params->boundary * between / ((1 - params->boundary) * within);
  if (photo->source->has_likeness && next->source->has_likeness)
    out->bits = __builtin_popcountll (photo->source->dhash ^ next->source->dhash);
}

static const LagCell *
lag_of (const SwModel *model, gsize i, int k)
{
  return k >= model->lo[i] && k < model->hi[i]
             ? &model->lag[model->cell[i] + (gsize)(k - model->lo[i])]
             : NULL;
}

/* Density of note k's time, were it that of the stop: before its first photo, after its last, in
 * one of its gaps, or at a wrong time. */
static double
time_density (const SwModel *model, gsize first, gsize last, int k)
{
  const double *share = model->params.lag_share;
  const LagCell *begin = lag_of (model, first, k), *end = lag_of (model, last, k);
  double sum = 0;

  if (begin != NULL)
    sum += share[SW_LAG_BEFORE] * begin->before + share[SW_LAG_OFF] * begin->off;
  if (end != NULL)
    sum += share[SW_LAG_AFTER] * end->after;
  for (gsize i = first; i < last; i++)
    {
      const LagCell *within = lag_of (model, i, k);

      sum += within != NULL ? share[SW_LAG_DURING] * within->during : 0;
    }
  return sum;
}

gboolean
sw_model_note_weights (const SwModel *model, gsize first, gsize last, int item, SwNoteWeights *out)
{
  gboolean any = FALSE;

  for (int k = model->lo[first]; k < model->hi[first]; k++)
    {
      SwNoteWeights weights = { .note = (int)model->notes[k].source };

      if (model->notes[k].item != item)
        continue;
      weights.time = time_density (model, first, last, k) / model->params.stray;
      weights.place = model->fit[model->cell[first] + (gsize)(k - model->lo[first])];
      if (any && weights.time * weights.place <= out->time * out->place)
        continue;
      *out = weights;
      any = TRUE;
    }
  return any;
}
