/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chain of one walk: which notes are near each photo, the factors of every step, the learning.
 * Decoding stands in decode.c. Must not know cameras' clocks: its photos come with property times.
 */
#include "core/match/model-private.h"

#include <math.h>
#include <string.h>

/* Most notes that one photo is weighed against; more within the window are cut to the nearest. */
#define BAND_MAX 80
/* A boundary into a thing decided by hand, beside the chances of noted and new. */
#define DECIDED_CHANCE 0.5
/* What 'here now' says is not always so. */
#define PLACE_LEAK 0.10
#define PIN_LEAK 0.03
/* A detour against a match in walk order. */
#define DETOUR_SHARE 0.7

static double
seconds (gint64 us)
{
  return (double)us / 1e6;
}

void
sw_model_free (SwModel *model)
{
  if (model == NULL)
    return;
  g_clear_pointer (&model->chain, sw_chain_free);
  g_free (model->photos);
  g_free (model->notes);
  g_free (model->visits);
  g_free (model->lo);
  g_free (model->hi);
  g_free (model->cell);
  g_free (model->sizes);
  g_free (model->lag);
  g_free (model->fit);
  g_free (model->detour);
  g_free (model->matched);
  g_free (model->boundary);
  g_free (model->stay);
  g_free (model->step);
  g_free (model->lookup);
  g_free (model->start);
  g_free (model->finish);
  g_free (model->label_weight);
  g_free (model);
}

int
sw_model_here (const SwModel *model, gint64 t_us)
{
  gsize low = 0, high = model->n_visits;

  while (low < high)
    {
      gsize mid = (low + high) / 2;

      if (model->visits[mid].t_us <= t_us)
        low = mid + 1;
      else
        high = mid;
    }
  if (low == 0 || t_us - model->visits[low - 1].t_us > 3 * 3600 * SW_US_PER_SECOND)
    return -1;
  return model->visits[low - 1].place;
}

static int
compare_notes (gconstpointer a, gconstpointer b)
{
  const ModelNote *x = a, *y = b;

  if (x->tau_us != y->tau_us)
    return x->tau_us < y->tau_us ? -1 : 1;
  return (x->source > y->source) - (x->source < y->source);
}

static int
compare_visits (gconstpointer a, gconstpointer b)
{
  const ModelVisit *x = a, *y = b;

  if (x->t_us != y->t_us)
    return x->t_us < y->t_us ? -1 : 1;
  return (x->source > y->source) - (x->source < y->source);
}

static void
read_notes (SwModel *model)
{
  const SwWalk *walk = model->walk;

  model->notes = g_new0 (ModelNote, walk->n_notes + 1);
  model->visits = g_new0 (ModelVisit, walk->n_notes + 1);
  for (gsize k = 0; k < walk->n_notes; k++)
    {
      const SwWalkNote *note = &walk->notes[k];
      int place = note->place >= 0 || note->item < 0 ? note->place : walk->items[note->item].place;

      if (note->item < 0)
        model->visits[model->n_visits++] = (ModelVisit){ note->time_us, note->place, k };
      else
        model->notes[model->n_notes++]
            = (ModelNote){ note->time_us, MAX (seconds (note->resolution_us), 1.0), note->item,
                           place, k };
    }
  qsort (model->notes, model->n_notes, sizeof (ModelNote), compare_notes);
  qsort (model->visits, model->n_visits, sizeof (ModelVisit), compare_visits);
}

/* A joined run has one label; where two decided ones meet in it, what was decided of the photos
 * goes before the join. */
static void
drop_contradictions (SwModel *model)
{
  int run = SW_WALK_OPEN;

  for (gsize i = 0; i < model->n; i++)
    {
      ModelPhoto *photo = &model->photos[i];

      if (i == 0 || photo->cut != -1
          || (run != SW_WALK_OPEN && photo->decided != SW_WALK_OPEN && photo->decided != run))
        {
          photo->cut = i > 0 && photo->cut == 1 ? 1 : 0;
          run = SW_WALK_OPEN;
        }
      if (photo->decided != SW_WALK_OPEN)
        run = photo->decided;
    }
}

static void
read_photos (SwModel *model, const SwModelPhoto *photos)
{
  const SwWalk *walk = model->walk;
  int before = NO_LABEL, after = NO_LABEL;
  gint64 before_us = 0, after_us = 0, window = (gint64)(SW_WALK_WINDOW_S * 1e6);

  for (gsize i = 0; i < model->n; i++)
    {
      const SwWalkPhoto *source = &walk->photos[photos[i].photo];
      ModelPhoto *photo = &model->photos[i];

      photo->source = source;
      photo->index = photos[i].photo;
      photo->t_us = photos[i].t_us;
      photo->decided = sw_walk_photo_fixed (source);
      photo->pin = source->place >= 0 ? source->place : -1;
      photo->cut = source->cut;
    }
  drop_contradictions (model);
  for (gsize i = 0; i < model->n; i++)
    {
      ModelPhoto *photo = &model->photos[i];

      if (photo->decided != SW_WALK_OPEN)
        before = photo->decided;
      /* a join carries the label on however long the gap */
      if (photo->decided != SW_WALK_OPEN
          || (photo->cut == -1 && photo[-1].label_before != NO_LABEL))
        before_us = photo->t_us;
      photo->label_before
          = before != NO_LABEL && photo->t_us - before_us <= window ? before : NO_LABEL;
    }
  for (gsize i = model->n; i-- > 0;)
    {
      ModelPhoto *photo = &model->photos[i];

      if (i + 1 < model->n && photo[1].cut == -1
          && (photo[1].label_after != NO_LABEL || photo[1].decided != SW_WALK_OPEN))
        after_us = photo->t_us;
      photo->label_after = after != NO_LABEL && after_us - photo->t_us <= window ? after : NO_LABEL;
      if (photo->decided != SW_WALK_OPEN)
        {
          after = photo->decided;
          after_us = photo->t_us;
        }
    }
}

/* Gaps are floored at half the clock's step: a burst within one second has no gap of zero. */
static void
measure_gaps (SwModel *model)
{
  for (gsize i = 0; i + 1 < model->n; i++)
    {
      const SwWalkPhoto *a = model->photos[i].source, *b = model->photos[i + 1].source;
      gint64 step = MAX (MAX (a->resolution_us, b->resolution_us), 10000);
      gint64 gap = MAX (model->photos[i + 1].t_us - model->photos[i].t_us, step / 2);

      model->photos[i].z = log (seconds (gap));
      model->photos[i].alike = 1;
    }
}

/* The notes within the window of each photo; both ends only move forward. */
static void
find_bands (SwModel *model)
{
  gint64 window = (gint64)(SW_WALK_WINDOW_S * 1e6);
  gsize lo = 0, hi = 0, cells = 0;

  for (gsize i = 0; i < model->n; i++)
    {
      gint64 t = model->photos[i].t_us;

      while (lo < model->n_notes && model->notes[lo].tau_us < t - window)
        lo++;
      hi = MAX (hi, lo);
      while (hi < model->n_notes && model->notes[hi].tau_us <= t + window)
        hi++;
      while (hi - lo > BAND_MAX)
        {
          if (t - model->notes[lo].tau_us > model->notes[hi - 1].tau_us - t)
            lo++;
          else
            break;
        }
      model->lo[i] = (int)lo;
      model->hi[i] = (int)MIN (hi, lo + BAND_MAX);
      model->cell[i] = cells;
      cells += (gsize)(model->hi[i] - model->lo[i]);
      model->sizes[i] = (guint)(model->hi[i] - model->lo[i] + 1) * SW_N_PHASES;
    }
  model->cell[model->n] = cells;
}

/* How well a thing of that place fits where photo i was taken. */
static double
place_fit (const SwModel *model, gsize i, int place)
{
  const ModelPhoto *photo = &model->photos[i];
  int here = sw_model_here (model, photo->t_us);
  double fit = 1;

  if (place < 0)
    return 1;
  if (photo->pin >= 0)
    fit *= sw_walk_place_in (model->walk, place, photo->pin)
                   || sw_walk_place_in (model->walk, photo->pin, place)
               ? 1
               : PIN_LEAK;
  else if (here >= 0)
    fit *= sw_walk_place_in (model->walk, place, here)
                   || sw_walk_place_in (model->walk, here, place)
               ? 1
               : PLACE_LEAK;
  return fit * sw_place_position_fit (model->walk, photo->source, place);
}

static void
fill_fits (SwModel *model)
{
  for (gsize i = 0; i < model->n; i++)
    {
      int known = G_MININT;
      double fit = 1;

      for (int k = model->lo[i]; k < model->hi[i]; k++)
        {
          if (model->notes[k].place != known)
            fit = place_fit (model, i, model->notes[k].place);
          known = model->notes[k].place;
          model->fit[model->cell[i] + (gsize)(k - model->lo[i])] = fit;
        }
    }
}

/* Time in which notes could have been written and photos taken: long pauses count as one window. */
static double
active_seconds (const SwModel *model)
{
  gsize i = 0, k = 0;
  gint64 last = G_MININT64;
  double sum = 0;

  while (i < model->n || k < model->n_notes)
    {
      gint64 t;

      if (k >= model->n_notes || (i < model->n && model->photos[i].t_us <= model->notes[k].tau_us))
        t = model->photos[i++].t_us;
      else
        t = model->notes[k++].tau_us;
      if (last != G_MININT64)
        sum += MIN (seconds (t - last), SW_WALK_WINDOW_S);
      last = t;
    }
  return MAX (sum, 60);
}

SwModel *
sw_model_new (const SwWalk *walk, const SwModelPhoto *photos, gsize n)
{
  SwModel *model;
  gsize cells;

  g_return_val_if_fail (walk != NULL && photos != NULL && n >= 1, NULL);
  model = g_new0 (SwModel, 1);
  model->walk = walk;
  model->n = n;
  model->params = sw_walk_params_default ();
  model->photos = g_new0 (ModelPhoto, n);
  model->lo = g_new0 (int, n);
  model->hi = g_new0 (int, n);
  model->cell = g_new0 (gsize, n + 1);
  model->sizes = g_new0 (guint, n);
  model->detour = g_new0 (double, n);
  model->stay = g_new0 (double, n);
  model->step = g_new0 (double, n *SW_N_STEPS);
  model->boundary = g_new0 (double, n);
  model->label_weight = g_new0 (double, walk->n_items + 3);
  read_notes (model);
  model->matched = g_new0 (double, model->n_notes + 1);
  model->lookup = g_new0 (double, walk->n_notes + 1);
  read_photos (model, photos);
  measure_gaps (model);
  sw_likeness_weigh (model);
  sw_signs_cut (model);
  find_bands (model);
  cells = model->cell[n];
  model->lag = g_new0 (LagCell, cells + 1);
  model->fit = g_new0 (double, cells + 1);
  model->start = g_new0 (double, model->sizes[0]);
  model->finish = g_new0 (double, model->sizes[n - 1]);
  fill_fits (model);
  model->active_s = active_seconds (model);
  model->params.stray = MAX (0.08 * (double)model->n_notes + 0.7, 0.7) / (model->active_s + 300);
  for (gsize k = 0; k < model->n_notes; k++)
    model->matched[k] = 0.9;
  g_autofree double *z = g_new0 (double, n);
  for (gsize i = 0; i + 1 < n; i++)
    z[i] = model->photos[i].z;
  sw_walk_params_guess (&model->params, z, n - 1);
  return model;
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
          double before_s = seconds (t - note->tau_us);
          double mid_s = before_s - note->res_s / 2;

          cell->before = sw_lag_density (params, SW_LAG_BEFORE, before_s, note->res_s);
          cell->after = sw_lag_density (params, SW_LAG_AFTER, -before_s, note->res_s);
          cell->off = sw_lag_off_density (mid_s);
          cell->during = 0;
          if (i + 1 < model->n)
            {
              double from = MAX (0, -before_s), gap_s = seconds (model->photos[i + 1].t_us - t);
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

static gboolean
allowed (const SwModel *model, gsize i, SwPhase phase, int p)
{
  const ModelPhoto *photo = &model->photos[i];

  if (photo->decided != SW_WALK_OPEN)
    return phase == SW_PHASE_DECIDED
           || ((phase == SW_PHASE_PAID || phase == SW_PHASE_PENDING)
               && model->notes[p].item == photo->decided);
  if (phase == SW_PHASE_DECIDED)
    return photo->label_before != NO_LABEL;
  if (phase == SW_PHASE_TO_COME)
    return photo->label_after != NO_LABEL;
  return TRUE;
}

/* Weight of leaving a stop at photo i: a pending note must be paid. */
static double
leave_weight (const SwModel *model, gsize i, int p, SwPhase phase)
{
  if (phase == SW_PHASE_TO_COME)
    return 0;
  if (phase != SW_PHASE_PENDING)
    return 1;
  return model->params.lag_share[SW_LAG_AFTER]
         * model->lag[model->cell[i] + (gsize)(p - model->lo[i])].after;
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
add_stays (const SwModel *model, gsize i, int p, SwPhase phase, EdgeList *list)
{
  const ModelPhoto *here = &model->photos[i], *next = &model->photos[i + 1];
  double stay = model->stay[i];

  switch (phase)
    {
    case SW_PHASE_PAID:
    case SW_PHASE_PENDING:
      /* A stop that outlasts its note's window loses it; it can only go on as another. */
      if (p < model->lo[i + 1] || !allowed (model, i + 1, phase, p))
        return;
      add_edge (list, state_of (model, i + 1, p, phase), SW_EDGE_STAY, stay);
      if (phase == SW_PHASE_PENDING)
        add_edge (list, state_of (model, i + 1, p, SW_PHASE_PAID), SW_EDGE_STAY_NOTED,
                  stay * model->params.lag_share[SW_LAG_DURING]
                      * model->lag[model->cell[i] + (gsize)(p - model->lo[i])].during);
      return;
    case SW_PHASE_DECIDED:
      if (next->label_before != here->label_before)
        return;
      break;
    case SW_PHASE_TO_COME:
      if (next->decided != SW_WALK_OPEN)
        phase = SW_PHASE_DECIDED;
      break;
    default:
      break;
    }
  if (allowed (model, i + 1, phase, p))
    add_edge (list, state_of (model, i + 1, p, phase), SW_EDGE_STAY, stay);
}

/* What may begin at photo i, after note p: 'step' gives the weight of the boundary by kind of step.
 */
static void
add_starts (const SwModel *model, gsize i, int p, int place, const double *step, EdgeList *list)
{
  const SwWalkParams *params = &model->params;
  double odds = params->noted / params->stray;

  if (allowed (model, i, SW_PHASE_NEW, p))
    add_edge (list, state_of (model, i, p, SW_PHASE_NEW), SW_EDGE_NEXT,
              step[SW_STEP_ANY] * (model->n_notes > 0 ? 1 - params->noted : 1));
  if (allowed (model, i, SW_PHASE_DETOUR, p))
    add_edge (list, state_of (model, i, p, SW_PHASE_DETOUR), SW_EDGE_NEXT,
              step[SW_STEP_ANY] * model->detour[i]);
  if (model->photos[i].decided != SW_WALK_OPEN)
    add_edge (list, state_of (model, i, p, SW_PHASE_DECIDED), SW_EDGE_NEXT,
              step[SW_STEP_ANY] * DECIDED_CHANCE);
  else if (allowed (model, i, SW_PHASE_TO_COME, p))
    add_edge (list, state_of (model, i, p, SW_PHASE_TO_COME), SW_EDGE_NEXT,
              step[SW_STEP_ANY] * DECIDED_CHANCE);
  for (int k = MAX (p + 1, model->lo[i]); k < model->hi[i]; k++)
    {
      const ModelNote *note = &model->notes[k];
      gsize at = model->cell[i] + (gsize)(k - model->lo[i]);
      const LagCell *lag = &model->lag[at];
      SwStep kind = place < 0 || note->place < 0 ? SW_STEP_ANY
                    : place == note->place       ? SW_STEP_SAME
                                                 : SW_STEP_OTHER;
      double weight = step[kind] * odds * model->fit[at];

      if (!allowed (model, i, SW_PHASE_PAID, k))
        continue;
      add_edge (list, state_of (model, i, k, SW_PHASE_PAID), SW_EDGE_NEXT,
                weight
                    * (params->lag_share[SW_LAG_BEFORE] * lag->before
                       + params->lag_share[SW_LAG_OFF] * lag->off));
      add_edge (list, state_of (model, i, k, SW_PHASE_PENDING), SW_EDGE_NEXT, weight);
    }
}

gsize
sw_model_edges (SwModel *model, gsize t, guint from, SwChainEdge *out)
{
  EdgeList list = { out, 0 };
  int p = model->lo[t] - 1 + (int)(from / SW_N_PHASES);
  SwPhase phase = from % SW_N_PHASES;
  double leave = leave_weight (model, t, p, phase);
  int place = phase <= SW_PHASE_PENDING ? model->notes[p].place : -1;
  double step[SW_N_STEPS];

  add_stays (model, t, p, phase, &list);
  if (leave > 0)
    {
      for (int k = 0; k < SW_N_STEPS; k++)
        step[k] = leave * model->step[t * SW_N_STEPS + (gsize)k];
      add_starts (model, t + 1, p, place, step, &list);
    }
  return list.n;
}

static gsize
chain_edges (gpointer data, gsize t, guint from, SwChainEdge *out)
{
  return sw_model_edges (data, t, from, out);
}

guint
sw_model_n_states (const SwModel *model, gsize t)
{
  return model->sizes[t];
}

guint
sw_model_max_edges (const SwModel *model)
{
  return 2 * BAND_MAX + 8;
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
  const double ones[SW_N_STEPS] = { 1, 1, 1 };
  g_autofree SwChainEdge *edges = g_new0 (SwChainEdge, sw_model_max_edges (model));
  EdgeList list = { edges, 0 };
  gsize last = model->n - 1;

  add_starts (model, 0, model->lo[0] - 1, -1, ones, &list);
  memset (model->start, 0, sizeof (double) * model->sizes[0]);
  for (gsize e = 0; e < list.n; e++)
    model->start[edges[e].to] += edges[e].weight;
  for (guint s = 0; s < model->sizes[last]; s++)
    {
      int p = model->lo[last] - 1 + (int)(s / SW_N_PHASES);
      SwPhase phase = s % SW_N_PHASES;

      model->finish[s] = phase <= SW_PHASE_PENDING && p < model->lo[last]
                             ? 0
                             : leave_weight (model, last, p, phase);
    }
}

/* Weight of a boundary where a person joined, should no other path be left. */
#define JOIN_LEAK 1e-9

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
      const ModelPhoto *photo = &model->photos[i];

      model->stay[i]
          = (1 - params->boundary) * sw_gap_within (params, photo->z) * photo->alike * photo->join;
      for (int k = 0; k < SW_N_STEPS; k++)
        model->step[i * SW_N_STEPS + (gsize)k]
            = params->boundary * sw_gap_between (params, (SwStep)k, photo->z);
      obey_cut (model, i, leak);
    }
}

static void
run_chain (SwModel *model, double beam)
{
  SwChainSpec spec = {
    .length = model->n,
    .sizes = model->sizes,
    .max_edges = sw_model_max_edges (model),
    .start = model->start,
    .finish = model->finish,
    .edges = chain_edges,
    .data = model,
    .beam = beam,
  };

  fill_lags (model);
  fill_steps (model, 0);
  fill_ends (model);
  g_clear_pointer (&model->chain, sw_chain_free);
  model->chain = sw_chain_run (&spec);
  /* A new thing, or the decided one, can begin at every photo: there is always a path. The beam
   * could only cut it where all that is left is a run towards a decided photo that never comes. */
  if (model->chain == NULL && beam > 0)
    {
      spec.beam = 0;
      model->chain = sw_chain_run (&spec);
    }
  if (model->chain == NULL)
    {
      fill_steps (model, JOIN_LEAK);
      model->chain = sw_chain_run (&spec);
    }
  g_assert (model->chain != NULL);
}

typedef struct
{
  SwModel *model;
  SwWalkCounts counts;
  gsize column; /* whose shares these are; G_MAXSIZE: none */
  double main_share, share[SW_N_STEPS][SW_N_GAPS];
} Learning;

/* Edges too unlikely to teach anything. */
#define LEARN_LEAST 1e-9

static void
learn_start (Learning *learning, gsize i, guint to, double posterior)
{
  SwModel *model = learning->model;
  const SwWalkParams *params = &model->params;
  int p = model->lo[i] - 1 + (int)(to / SW_N_PHASES);
  SwPhase phase = to % SW_N_PHASES;
  const LagCell *lag;
  double before, off, share;

  if (phase == SW_PHASE_NEW)
    learning->counts.unnoted += posterior;
  if (phase == SW_PHASE_DETOUR)
    {
      learning->counts.noted += posterior;
      learning->counts.lag_count[SW_LAG_OFF] += posterior;
    }
  if (phase > SW_PHASE_PENDING)
    return;
  learning->counts.noted += posterior;
  model->matched[p] += posterior;
  if (phase == SW_PHASE_PENDING)
    return;
  lag = &model->lag[model->cell[i] + (gsize)(p - model->lo[i])];
  before = params->lag_share[SW_LAG_BEFORE] * lag->before;
  off = params->lag_share[SW_LAG_OFF] * lag->off;
  share = before / (before + off);
  learning->counts.lag_count[SW_LAG_BEFORE] += posterior * share;
  learning->counts.lag_count[SW_LAG_OFF] += posterior * (1 - share);
  sw_normal_sums_add (&learning->counts.lag[0],
                      sw_lag_value (seconds (model->photos[i].t_us - model->notes[p].tau_us)
                                    - model->notes[p].res_s / 2),
                      posterior * share);
}

/* A stop ends at photo i in state 'from'. */
static void
learn_leave (Learning *learning, gsize i, guint from, double posterior)
{
  SwModel *model = learning->model;
  int p = model->lo[i] - 1 + (int)(from / SW_N_PHASES);

  if (from % SW_N_PHASES != SW_PHASE_PENDING)
    return;
  learning->counts.lag_count[SW_LAG_AFTER] += posterior;
  sw_normal_sums_add (&learning->counts.lag[1],
                      sw_lag_value (seconds (model->notes[p].tau_us - model->photos[i].t_us)
                                    + model->notes[p].res_s / 2),
                      posterior);
}

/* The same for all edges of a column: worked out once. */
static void
share_column (Learning *learning, gsize t)
{
  const SwWalkParams *params = &learning->model->params;
  double z = learning->model->photos[t].z;

  if (learning->column == t)
    return;
  learning->column = t;
  learning->main_share = sw_gap_within_main (params, z);
  for (int step = 0; step < SW_N_STEPS; step++)
    sw_gap_between_shares (params, (SwStep)step, z, learning->share[step]);
}

static void
learn_edge (gpointer data, gsize t, guint from, const SwChainEdge *edge, double posterior)
{
  Learning *learning = data;
  SwModel *model = learning->model;
  double z = model->photos[t].z;
  int place_from = -1, place_to = -1;
  SwStep step = SW_STEP_ANY;

  if (posterior < LEARN_LEAST)
    return;
  share_column (learning, t);
  if (edge->kind != SW_EDGE_NEXT)
    {
      learning->counts.stays += posterior;
      sw_normal_sums_add (&learning->counts.within, z, posterior * learning->main_share);
      if (edge->kind == SW_EDGE_STAY_NOTED)
        learning->counts.lag_count[SW_LAG_DURING] += posterior;
      return;
    }
  if (from % SW_N_PHASES <= SW_PHASE_PENDING)
    place_from = model->notes[model->lo[t] - 1 + (int)(from / SW_N_PHASES)].place;
  if (edge->to % SW_N_PHASES <= SW_PHASE_PENDING)
    place_to = model->notes[model->lo[t + 1] - 1 + (int)(edge->to / SW_N_PHASES)].place;
  if (place_from >= 0 && place_to >= 0)
    step = place_from == place_to ? SW_STEP_SAME : SW_STEP_OTHER;
  learning->counts.boundaries += posterior;
  model->boundary[t] += posterior;
  for (int k = 0; k < SW_N_GAPS; k++)
    sw_normal_sums_add (&learning->counts.between[k], z, posterior * learning->share[step][k]);
  learn_leave (learning, t, from, posterior);
  learn_start (learning, t + 1, edge->to, posterior);
}

/* Expected counts under the present parameters; boundary and matched as by-products. */
static void
expect (SwModel *model, SwWalkCounts *out_counts)
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

void
sw_model_run (SwModel *model, int rounds, double beam)
{
  SwWalkCounts counts;

  /* Under eight gaps nothing can be learned of a person: the priors stand. */
  if (model->n < 9)
    rounds = 0;
  run_chain (model, beam);
  for (int round = 0; round < rounds; round++)
    {
      expect (model, &counts);
      sw_walk_params_learn (&model->params, &counts);
      run_chain (model, beam);
    }
  model->log_evidence = sw_chain_log_evidence (model->chain);
  expect (model, &counts);
  for (gsize k = 0; k < model->n_notes; k++)
    model->lookup[model->notes[k].source] = model->matched[k];
}

double
sw_model_log_evidence (const SwModel *model)
{
  return model->log_evidence;
}

const SwWalkParams *
sw_model_params (const SwModel *model)
{
  return &model->params;
}

void
sw_model_set_params (SwModel *model, const SwWalkParams *params)
{
  model->params = *params;
}

double
sw_model_boundary (const SwModel *model, gsize i)
{
  return MIN (model->boundary[i], 1);
}

double
sw_model_note_matched (const SwModel *model, gsize k)
{
  return model->lookup[k];
}
