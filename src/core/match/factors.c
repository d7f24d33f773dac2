/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chain's factors: what each step from photo to photo weighs. Must not learn, must not read the
 * walk: all evidence comes measured in the model. */
#include "core/match/model-private.h"

#include <math.h>
#include <string.h>

/* A boundary into a thing decided by hand, beside the chances of noted and new. */
#define DECIDED_CHANCE 0.5
/* A detour against a match in walk order. */
#define DETOUR_SHARE 0.7
/* Two notes the other way round against two in walk order, and how close they must lie. */
#define CROSSED_SHARE 0.3
#define CROSSED_WITHIN_US (180 * SW_US_PER_SECOND)
/* Chance of lasting on below which a stop is taken to have ended, and the longest lag after that.
 */
#define REACH_LEAST 1e-5
#define REACH_LAG_US (300 * SW_US_PER_SECOND)

double
sw_model_pause_s (const SwModel *model, gsize i, int side)
{
  if (side < 0 ? i == 0 : i + 1 == model->n)
    return SW_WALK_WINDOW_S;
  return sw_model_seconds (side < 0 ? model->photos[i].t_us - model->photos[i - 1].t_us
                                    : model->photos[i + 1].t_us - model->photos[i].t_us);
}

/* The densities of each near note under the present parameters. */
static void
fill_lags (SwModel *model)
{
  const SwWalkParams *params = &model->params;
  /* A note in the midst falls into one of the stop's gaps, wherever in it: one over their usual
   * number, so that a long stop does not earn a note by its length alone. */
  double during = params->boundary / (1 - params->boundary);

  for (gsize i = 0; i < model->n; i++)
    {
      gint64 t = model->photos[i].t_us;

      model->detour[i] = 0;
      for (int k = model->lo[i]; k < model->hi[i]; k++)
        {
          const ModelNote *note = &model->notes[k];
          LagCell *cell = &model->lag[model->cell[i] + (gsize)(k - model->lo[i])];
          double before_s = sw_model_seconds (t - note->tau_us);
          double mid_s = before_s - note->res_s / 2;

          cell->before = sw_lag_in_room (params, SW_LAG_BEFORE, before_s, note->res_s,
                                         sw_model_pause_s (model, i, -1), &cell->usual_before);
          cell->after = sw_lag_in_room (params, SW_LAG_AFTER, -before_s, note->res_s,
                                        sw_model_pause_s (model, i, 1), &cell->usual_after);
          cell->off = sw_lag_off_density (mid_s);
          cell->during = 0;
          if (i + 1 < model->n)
            {
              double from = MAX (0, -before_s),
                     gap_s = sw_model_seconds (model->photos[i + 1].t_us - t);
              double upto = MIN (gap_s, note->res_s - before_s);

              if (upto > from)
                cell->during = (upto - from) / note->res_s * during / MAX (gap_s, 1);
            }
          model->detour[i] += cell->off * (1 - model->matched[k])
                              * model->fit[model->cell[i] + (gsize)(k - model->lo[i])];
        }
      model->detour[i]
          *= DETOUR_SHARE * params->lag_share[SW_LAG_OFF] * params->noted / params->stray;
    }
}

static guint
state_of (const SwModel *model, gsize i, int p, SwPhase phase)
{
  int floor = model->lo[i] - 1;

  return (guint)(MAX (p, floor) - floor) * SW_N_PHASES + (guint)phase;
}

/* note: whose thing the stop is to show, where the phase tells it by a note. */
static gboolean
allowed (const SwModel *model, gsize i, SwPhase phase, int note)
{
  const ModelPhoto *photo = &model->photos[i];

  if (phase < SW_PHASE_NEW)
    return note >= model->lo[i]
           && (photo->decided == SW_WALK_OPEN || model->notes[note].item == photo->decided);
  if (photo->decided != SW_WALK_OPEN)
    return phase == SW_PHASE_DECIDED;
  if (phase == SW_PHASE_DECIDED)
    return photo->label_before != NO_LABEL;
  if (phase == SW_PHASE_TO_COME)
    return photo->label_after != NO_LABEL;
  return TRUE;
}

/* Weight of leaving a stop at photo i: a pending note must be paid. */
static double
leave_weight (const SwModel *model, gsize i, const StateParts *from)
{
  if (from->phase == SW_PHASE_TO_COME || (from->phase < SW_PHASE_NEW && from->note < model->lo[i]))
    return 0;
  if (!from->pending)
    return 1;
  return model->params.lag_share[SW_LAG_AFTER]
         * model->lag[model->cell[i] + (gsize)(from->note - model->lo[i])].after;
}

typedef struct
{
  SwChainEdge *out;
  gsize n;
} EdgeList;

static void
add_edge (EdgeList *list, guint to, SwEdgeKind kind, double weight)
{
  if (weight > 0)
    list->out[list->n++] = (SwChainEdge){ to, kind, weight };
}

static void
add_stays (const SwModel *model, gsize i, const StateParts *from, EdgeList *list)
{
  const ModelPhoto *here = &model->photos[i], *next = &model->photos[i + 1];
  double stay = model->stay[i];
  SwPhase phase = from->phase;

  if (phase == SW_PHASE_DECIDED && next->label_before != here->label_before)
    return;
  if (phase == SW_PHASE_TO_COME && next->decided != SW_WALK_OPEN)
    phase = SW_PHASE_DECIDED;
  /* A stop that outlasts its note's window loses it; it can only go on as another. */
  if (!allowed (model, i + 1, phase, from->note))
    return;
  add_edge (list, state_of (model, i + 1, from->p, phase), SW_EDGE_STAY, stay);
  if (phase == SW_PHASE_PENDING)
    add_edge (list, state_of (model, i + 1, from->p, SW_PHASE_PAID), SW_EDGE_STAY_NOTED,
              stay * model->params.lag_share[SW_LAG_DURING]
                  * model->lag[model->cell[i] + (gsize)(from->note - model->lo[i])].during);
}

/* Where a step begins: the place of the stop it leaves, and the weight of the boundary by kind of
 * step. */
typedef struct
{
  int place;
  double weight[SW_N_STEPS];
} Step;

/* Weight of the thing of note k beginning at photo i, its time left out. */
static double
noted_weight (const SwModel *model, gsize i, int k, const Step *step)
{
  const ModelNote *note = &model->notes[k];
  SwStep kind = step->place < 0 || note->place < 0 ? SW_STEP_ANY
                : step->place == note->place       ? SW_STEP_SAME
                                                   : SW_STEP_OTHER;

  return step->weight[kind] * model->params.noted / model->params.stray
         * model->fit[model->cell[i] + (gsize)(k - model->lo[i])];
}

/* Note k is next in walk order, or the one before it is held for the next stop. */
static void
add_noted (const SwModel *model, gsize i, int p, int k, const Step *step, EdgeList *list)
{
  const SwWalkParams *params = &model->params;
  const LagCell *lag = &model->lag[model->cell[i] + (gsize)(k - model->lo[i])];
  double weight = noted_weight (model, i, k, step);
  gint64 tau_us = model->notes[k].tau_us;

  add_edge (list, state_of (model, i, k, SW_PHASE_PAID), SW_EDGE_NEXT,
            weight
                * (params->lag_share[SW_LAG_BEFORE] * lag->before
                   + params->lag_share[SW_LAG_OFF] * lag->off));
  if (tau_us > model->reach_us[i])
    return;
  add_edge (list, state_of (model, i, k, SW_PHASE_PENDING), SW_EDGE_NEXT, weight);
  if (k > p + 1 && k > model->lo[i] && tau_us - model->notes[k - 1].tau_us < CROSSED_WITHIN_US)
    add_edge (list, state_of (model, i, k, SW_PHASE_HELD), SW_EDGE_NEXT, weight * CROSSED_SHARE);
}

/* The note that was held has its stop at photo i. */
static void
add_late (const SwModel *model, gsize i, int p, const Step *step, EdgeList *list)
{
  if (!allowed (model, i, SW_PHASE_LATE, p - 1))
    return;
  add_edge (list, state_of (model, i, p, SW_PHASE_LATE), SW_EDGE_NEXT,
            noted_weight (model, i, p - 1, step) * model->params.lag_share[SW_LAG_BEFORE]
                * model->lag[model->cell[i] + (gsize)(p - 1 - model->lo[i])].before);
}

/* What may begin at photo i, after note p. */
static void
add_starts (const SwModel *model, gsize i, int p, const Step *step, EdgeList *list)
{
  double any = step->weight[SW_STEP_ANY];

  if (allowed (model, i, SW_PHASE_NEW, -1))
    add_edge (list, state_of (model, i, p, SW_PHASE_NEW), SW_EDGE_NEXT,
              any * (model->n_notes > 0 ? 1 - model->params.noted : 1));
  if (allowed (model, i, SW_PHASE_DETOUR, -1))
    add_edge (list, state_of (model, i, p, SW_PHASE_DETOUR), SW_EDGE_NEXT, any * model->detour[i]);
  if (model->photos[i].decided != SW_WALK_OPEN)
    add_edge (list, state_of (model, i, p, SW_PHASE_DECIDED), SW_EDGE_NEXT, any * DECIDED_CHANCE);
  else if (allowed (model, i, SW_PHASE_TO_COME, -1))
    add_edge (list, state_of (model, i, p, SW_PHASE_TO_COME), SW_EDGE_NEXT, any * DECIDED_CHANCE);
  for (int k = MAX (p + 1, model->lo[i]); k < model->hi[i]; k++)
    if (allowed (model, i, SW_PHASE_PAID, k))
      add_noted (model, i, p, k, step, list);
}

gsize
sw_model_edges (SwModel *model, gsize t, guint from, SwChainEdge *out)
{
  EdgeList list = { out, 0 };
  StateParts parts = sw_model_parts (model, t, from);
  double leave = leave_weight (model, t, &parts);
  Step step = { .place = parts.note >= 0 ? model->notes[parts.note].place : -1 };

  add_stays (model, t, &parts, &list);
  if (leave <= 0)
    return list.n;
  for (int k = 0; k < SW_N_STEPS; k++)
    step.weight[k] = leave * model->step[t * SW_N_STEPS + (gsize)k];
  if (parts.phase == SW_PHASE_HELD)
    add_late (model, t + 1, parts.p, &step, &list);
  else
    add_starts (model, t + 1, parts.p, &step, &list);
  return list.n;
}

guint
sw_model_n_states (const SwModel *model, gsize t)
{
  return model->sizes[t];
}

guint
sw_model_max_edges (const SwModel *model)
{
  return 3 * BAND_MAX + 8;
}

double
sw_model_start_weight (SwModel *model, guint state)
{
  return model->start[state];
}

double
sw_model_finish_weight (SwModel *model, guint state)
{
  return model->finish[state];
}

static void
fill_ends (SwModel *model)
{
  const Step any = { -1, { 1, 1, 1 } };
  g_autofree SwChainEdge *edges = g_new0 (SwChainEdge, sw_model_max_edges (model));
  EdgeList list = { edges, 0 };
  gsize last = model->n - 1;

  add_starts (model, 0, model->lo[0] - 1, &any, &list);
  memset (model->start, 0, sizeof (double) * model->sizes[0]);
  for (gsize e = 0; e < list.n; e++)
    model->start[edges[e].to] += edges[e].weight;
  for (guint s = 0; s < model->sizes[last]; s++)
    {
      StateParts parts = sw_model_parts (model, last, s);

      model->finish[s] = parts.phase == SW_PHASE_HELD ? 0 : leave_weight (model, last, &parts);
    }
}

/* What a person said of the gap goes before all evidence. */
static void
obey_cut (SwModel *model, gsize i, double leak)
{
  int cut = model->photos[i + 1].cut;

  if (cut == 1)
    model->stay[i] = 0;
  if (cut != -1)
    return;
  model->stay[i] = 1;
  for (int k = 0; k < SW_N_STEPS; k++)
    model->step[i * SW_N_STEPS + (gsize)k] = leak;
}

static void
fill_steps (SwModel *model, double leak)
{
  const SwWalkParams *params = &model->params;

  for (gsize i = 0; i + 1 < model->n; i++)
    {
      ModelPhoto *photo = &model->photos[i];
      double within
          = photo->changes ? sw_gap_change (params, photo->z) : sw_gap_within (params, photo->z);

      photo->hand = sw_camera_in_hand (params, photo->since, photo->changes, photo->share);
      photo->still
          = photo->way_m >= 0 ? sw_motion_still (&params->motion, photo->way_m, photo->way_s) : 1;
      model->stay[i] = (1 - params->boundary) * within * photo->hand * photo->alike * photo->still
                       * photo->join;
      for (int k = 0; k < SW_N_STEPS; k++)
        model->step[i * SW_N_STEPS + (gsize)k]
            = params->boundary * sw_gap_between (params, (SwStep)k, photo->z)
              * (photo->changes ? sw_change_weight (photo->z) : 1);
      obey_cut (model, i, leak);
    }
}

/* How late the note of a stop that begins at each photo may come: what is later is a note at a
 * wrong time. Keeps the states few. */
static void
fill_reach (SwModel *model)
{
  for (gsize i = 0; i < model->n; i++)
    {
      double lasts = 1;
      gsize j = i;

      model->reach_us[i] = G_MAXINT64;
      if (!model->pruned)
        continue;
      for (; j + 1 < model->n && lasts >= REACH_LEAST; j++)
        {
          double go_on = model->stay[j], end = model->step[j * SW_N_STEPS + SW_STEP_ANY];

          lasts *= go_on / MAX (go_on + end, 1e-300);
        }
      model->reach_us[i] = model->photos[j].t_us + REACH_LAG_US;
    }
}

void
sw_model_fill_factors (SwModel *model, double leak)
{
  fill_lags (model);
  fill_steps (model, leak);
  fill_reach (model);
  fill_ends (model);
}
