/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the chain's marginals to labels and to one consistent whole. The path with the greatest sum
 * of marginals puts more photos right than the most probable path: it cares for each photo, not for
 * the whole being exact. */
#include "core/match/model-private.h"

#include <math.h>
#include <string.h>

/* Weight of a boundary being right against a photo's label being right. */
#define BOUNDARY_SCORE 0.5

static double
detour_share (const SwModel *model, gsize i, int k)
{
  gsize at = model->cell[i] + (gsize)(k - model->lo[i]);

  return model->lag[at].off * (1 - model->matched[k]) * model->fit[at];
}

/* Adds each state's marginal to its label's weight in the scratch array; label + 3 is the index. */
static void
gather_labels (SwModel *model, gsize i, double *weight)
{
  double detour = 0, all = 0;

  for (guint s = 0; s < model->sizes[i]; s++)
    {
      double p = sw_chain_marginal (model->chain, i, s);
      const ModelPhoto *photo = &model->photos[i];
      StateParts parts;

      if (p <= 0)
        continue;
      parts = sw_model_parts (model, i, s);
      switch (parts.phase)
        {
        case SW_PHASE_NEW:
          weight[SW_LABEL_NEW + 3] += p;
          break;
        case SW_PHASE_DETOUR:
          detour += p;
          break;
        case SW_PHASE_DECIDED:
          weight[photo->label_before + 3] += p;
          break;
        case SW_PHASE_TO_COME:
          weight[photo->label_after + 3] += p;
          break;
        default:
          weight[model->notes[parts.note].item + 3] += p;
          break;
        }
    }
  for (int k = model->lo[i]; k < model->hi[i] && detour > 0; k++)
    all += detour_share (model, i, k);
  for (int k = model->lo[i]; k < model->hi[i] && all > 0; k++)
    weight[model->notes[k].item + 3] += detour * detour_share (model, i, k) / all;
}

/* Sets the weights of all labels that photo i can have back to nothing. */
static void
clear_labels (SwModel *model, gsize i, double *weight)
{
  const ModelPhoto *photo = &model->photos[i];

  weight[SW_LABEL_NEW + 3] = weight[SW_LABEL_NONE + 3] = 0;
  for (int k = model->lo[i]; k < model->hi[i]; k++)
    weight[model->notes[k].item + 3] = 0;
  if (photo->label_before != NO_LABEL)
    weight[photo->label_before + 3] = 0;
  if (photo->label_after != NO_LABEL)
    weight[photo->label_after + 3] = 0;
}

static void
visit_once (SwModel *model, int label, SwLabelVisit visit, gpointer data)
{
  double p = model->label_weight[label + 3];

  if (p <= 0)
    return;
  model->label_weight[label + 3] = 0;
  visit (data, label, MIN (p, 1));
}

void
sw_model_labels (SwModel *model, gsize i, SwLabelVisit visit, gpointer data)
{
  const ModelPhoto *photo = &model->photos[i];

  clear_labels (model, i, model->label_weight);
  gather_labels (model, i, model->label_weight);
  visit_once (model, SW_LABEL_NEW, visit, data);
  visit_once (model, SW_LABEL_NONE, visit, data);
  for (int k = model->lo[i]; k < model->hi[i]; k++)
    visit_once (model, model->notes[k].item, visit, data);
  if (photo->label_before != NO_LABEL)
    visit_once (model, photo->label_before, visit, data);
  if (photo->label_after != NO_LABEL)
    visit_once (model, photo->label_after, visit, data);
}

double
sw_model_label (SwModel *model, gsize i, int label)
{
  double p;

  clear_labels (model, i, model->label_weight);
  gather_labels (model, i, model->label_weight);
  p = MIN (model->label_weight[label + 3], 1);
  clear_labels (model, i, model->label_weight);
  return p;
}

double
sw_model_joined (const SwModel *model, gsize i)
{
  double sum = 0;

  for (guint s = 0; s < model->sizes[i]; s += SW_N_PHASES)
    sum += sw_chain_marginal (model->chain, i, s + SW_PHASE_DECIDED)
           + sw_chain_marginal (model->chain, i, s + SW_PHASE_TO_COME);
  return MIN (sum, 1);
}

typedef struct
{
  SwModel *model;
  gsize column; /* whose labels are in the scratch array; G_MAXSIZE: none */
} Scores;

/* Marginal of a detour at photo i to its likeliest note alone. The label's whole weight would let
 * detours borrow what matches in walk order have earned. */
static double
best_detour (const SwModel *model, gsize i)
{
  double best = 0, all = 0, detour = 0;

  for (guint s = SW_PHASE_DETOUR; s < model->sizes[i]; s += SW_N_PHASES)
    detour += sw_chain_marginal (model->chain, i, s);
  for (int k = model->lo[i]; k < model->hi[i]; k++)
    {
      double share = detour_share (model, i, k);

      all += share;
      best = MAX (best, share);
    }
  return all > 0 ? detour * best / all : 0;
}

static double
score_state (gpointer data, gsize t, guint state)
{
  Scores *scores = data;
  SwModel *model = scores->model;
  const double *weight = model->label_weight;

  if (scores->column != t)
    {
      if (scores->column != G_MAXSIZE)
        clear_labels (model, scores->column, model->label_weight);
      clear_labels (model, t, model->label_weight);
      gather_labels (model, t, model->label_weight);
      scores->column = t;
    }
  switch ((SwPhase)(state % SW_N_PHASES))
    {
    case SW_PHASE_NEW:
      return weight[SW_LABEL_NEW + 3];
    case SW_PHASE_DETOUR:
      return best_detour (model, t);
    case SW_PHASE_DECIDED:
      return weight[model->photos[t].label_before + 3];
    case SW_PHASE_TO_COME:
      return weight[model->photos[t].label_after + 3];
    default:
      return weight[model->notes[sw_model_parts (model, t, state).note].item + 3];
    }
}

static double
score_edge (gpointer data, gsize t, guint from, const SwChainEdge *edge)
{
  const Scores *scores = data;
  double boundary = sw_model_boundary (scores->model, t);

  return BOUNDARY_SCORE * (edge->kind == SW_EDGE_NEXT ? boundary : 1 - boundary);
}

static void
label_stop (SwModel *model, guint state, gsize t, SwModelStop *stop)
{
  StateParts parts = sw_model_parts (model, t, state);

  stop->note = -1;
  stop->label = SW_LABEL_NEW;
  if (parts.phase == SW_PHASE_DECIDED)
    stop->label = model->photos[t].label_before;
  else if (parts.phase == SW_PHASE_TO_COME)
    stop->label = model->photos[t].label_after;
  else if (parts.note >= 0)
    {
      stop->label = model->notes[parts.note].item;
      stop->note = (int)model->notes[parts.note].source;
    }
}

/* Gives a detour the likeliest note that is still free; none left: a new thing. */
static void
settle_detour (SwModel *model, SwModelStop *stop, gboolean *used)
{
  double best = 0;
  int chosen = -1;

  for (int k = model->lo[stop->first]; k < model->hi[stop->first]; k++)
    {
      double sum = 0;

      for (gsize i = stop->first; i <= stop->last; i++)
        if (k >= model->lo[i] && k < model->hi[i])
          sum += detour_share (model, i, k);
      if (!used[k] && sum > best)
        {
          best = sum;
          chosen = k;
        }
    }
  if (chosen < 0)
    return;
  used[chosen] = TRUE;
  stop->label = model->notes[chosen].item;
  stop->note = (int)model->notes[chosen].source;
}

static GArray *
cut_stops (SwModel *model, const guint *states, const guint *kinds, gboolean *used)
{
  GArray *stops = g_array_new (FALSE, TRUE, sizeof (SwModelStop));
  g_autoptr (GArray) detours = g_array_new (FALSE, FALSE, sizeof (guint));

  for (gsize i = 0; i < model->n; i++)
    {
      SwModelStop stop = { i, i };
      StateParts parts;

      if (i > 0 && kinds[i - 1] != SW_EDGE_NEXT)
        {
          SwModelStop *open = &g_array_index (stops, SwModelStop, stops->len - 1);

          open->last = i;
          continue;
        }
      label_stop (model, states[i], i, &stop);
      parts = sw_model_parts (model, i, states[i]);
      if (parts.note >= 0)
        used[parts.note] = TRUE;
      if (parts.phase == SW_PHASE_DETOUR)
        g_array_append_val (detours, stops->len);
      g_array_append_val (stops, stop);
    }
  for (guint k = 0; k < detours->len; k++)
    settle_detour (model, &g_array_index (stops, SwModelStop, g_array_index (detours, guint, k)),
                   used);
  return stops;
}

GArray *
sw_model_decode (SwModel *model)
{
  g_autofree guint *states = g_new0 (guint, model->n);
  g_autofree guint *kinds = g_new0 (guint, model->n);
  g_autofree gboolean *used = g_new0 (gboolean, model->n_notes + 1);
  Scores scores = { model, G_MAXSIZE };

  g_return_val_if_fail (model->chain != NULL, NULL);
  memset (model->label_weight, 0, sizeof (double) * (model->walk->n_items + 3));
  sw_chain_best (model->chain, score_state, score_edge, &scores, states, kinds);
  memset (model->label_weight, 0, sizeof (double) * (model->walk->n_items + 3));
  return cut_stops (model, states, kinds, used);
}
