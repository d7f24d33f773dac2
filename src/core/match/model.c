/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chain of one walk: its photos and notes read and measured, which notes are near each photo,
 * the runs. Factors stand in factors.c, learning in learn.c, decoding in decode.c. Must not know
 * cameras' clocks: its photos come with property times. */
#include "core/match/model-private.h"

#include <math.h>
#include <string.h>

/* Share of things with a note, before anything is learned. */
#define NOTED_LEAST 0.05
#define NOTED_MOST 0.95
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
  g_free (model->reach_us);
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
sw_model_visit (const SwModel *model, gint64 t_us)
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
  return (int)low - 1;
}

int
sw_model_here (const SwModel *model, gint64 t_us)
{
  int visit = sw_model_visit (model, t_us);

  return visit >= 0 ? model->visits[visit].place : -1;
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
            = (ModelNote){ note->time_us, MAX (sw_model_seconds (note->resolution_us), 1.0),
                           note->item, place, k };
    }
  qsort (model->notes, model->n_notes, sizeof (ModelNote), compare_notes);
  qsort (model->visits, model->n_visits, sizeof (ModelVisit), compare_visits);
}

/* What a person said of the gap between two photos that do not follow each other any more: a clock
 * put right set others between them, or them the other way round. */
typedef struct
{
  gsize low, high; /* places in the chain */
  int cut;
} FarGap;

/* Whether what was said of the photo was said of it and the one before it in the chain. */
static gboolean
follows (const SwModel *model, gsize i)
{
  guint beside = model->photos[i].source->beside;

  return beside == 0 || (i > 0 && model->photos[i - 1].index + 1 == beside);
}

/* Gaps whose other photo is in this chain, but not just before. Where it is in none of this chain,
 * a stop begins all the same, and what is joined is joined as stops. Transfer full. */
static GArray *
far_gaps (SwModel *model)
{
  GArray *gaps = g_array_new (FALSE, FALSE, sizeof (FarGap));
  g_autoptr (GHashTable) place = g_hash_table_new (NULL, NULL); /* in the chain, of a photo + 1 */

  for (gsize i = 0; i < model->n; i++)
    g_hash_table_insert (place, GUINT_TO_POINTER (model->photos[i].index + 1),
                         GSIZE_TO_POINTER (i));
  for (gsize i = 0; i < model->n; i++)
    {
      const SwWalkPhoto *source = model->photos[i].source;
      gpointer found;

      if (source->cut == 0 || follows (model, i))
        continue;
      if (g_hash_table_lookup_extended (place, GUINT_TO_POINTER (source->beside), NULL, &found))
        {
          gsize other = GPOINTER_TO_SIZE (found);
          FarGap gap = { MIN (i, other), MAX (i, other), source->cut };

          g_array_append_val (gaps, gap);
        }
      else
        model->photos[i].cut = MAX (source->cut, 0);
    }
  return gaps;
}

/* One stop from the earlier to the later, where nothing is known of what lies between. What cannot
 * be joined here is joined as stops (stops.c). */
static void
join_far (SwModel *model, const FarGap *gap)
{
  gint64 apart_us = model->photos[gap->high].t_us - model->photos[gap->low].t_us;
  gboolean open = apart_us <= (gint64)(SW_WALK_WINDOW_S * 1e6);

  for (gsize k = gap->low + 1; k < gap->high && open; k++)
    open = model->photos[k].decided == SW_WALK_OPEN && model->photos[k].source->cut == 0
           && !model->photos[k].source->is_card;
  for (gsize k = gap->low + 1; k <= gap->high && open; k++)
    model->photos[k].cut = -1;
}

/* A stop begins between the two: after the longest pause that nobody joined over. */
static void
part_far (SwModel *model, const FarGap *gap)
{
  gint64 longest = -1;
  gsize at = gap->high;

  for (gsize k = gap->low + 1; k <= gap->high; k++)
    {
      gint64 pause = model->photos[k].t_us - model->photos[k - 1].t_us;

      if (model->photos[k].cut != -1 && pause > longest)
        {
          longest = pause;
          at = k;
        }
    }
  model->photos[at].cut = 1;
}

/* What a person said of gaps. */
static void
read_cuts (SwModel *model)
{
  gboolean any_far = FALSE;

  for (gsize i = 0; i < model->n; i++)
    {
      int cut = model->photos[i].source->cut;

      model->photos[i].cut = follows (model, i) ? cut : 0;
      any_far |= cut != 0 && !follows (model, i);
    }
  if (!any_far)
    return;
  g_autoptr (GArray) gaps = far_gaps (model);
  for (guint k = 0; k < gaps->len; k++)
    if (g_array_index (gaps, FarGap, k).cut == -1)
      join_far (model, &g_array_index (gaps, FarGap, k));
  for (guint k = 0; k < gaps->len; k++)
    if (g_array_index (gaps, FarGap, k).cut == 1)
      part_far (model, &g_array_index (gaps, FarGap, k));
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
    }
  read_cuts (model);
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

      model->photos[i].z = log (sw_model_seconds (gap));
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
        sum += MIN (sw_model_seconds (t - last), SW_WALK_WINDOW_S);
      last = t;
    }
  return MAX (sum, 60);
}

/* Notes that any of the photos could belong to. */
static gsize
notes_near (const SwModel *model)
{
  gsize count = 0;
  int from = 0;

  for (gsize i = 0; i < model->n; i++)
    {
      count += (gsize)MAX (0, model->hi[i] - MAX (model->lo[i], from));
      from = MAX (from, model->hi[i]);
    }
  return count;
}

/* Where learning starts: gaps by themselves tell how many stops there are, and those against the
 * notes how many of them are noted. */
static void
guess_habits (SwModel *model)
{
  SwWalkParams *params = &model->params;
  g_autofree double *z = g_new0 (double, model->n);
  double notes = (double)notes_near (model);

  for (gsize i = 0; i + 1 < model->n; i++)
    z[i] = model->photos[i].z;
  sw_walk_params_guess (params, z, model->n - 1);
  params->noted
      = CLAMP (notes / (params->boundary * (double)(model->n - 1) + 1), NOTED_LEAST, NOTED_MOST);
  model->active_s = active_seconds (model);
  params->stray = (0.04 * notes + 0.7) / (model->active_s + 300);
  for (gsize k = 0; k < model->n_notes; k++)
    model->matched[k] = 0.9;
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
  model->reach_us = g_new0 (gint64, n);
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
  sw_cameras_weigh (model);
  sw_motion_measure (model);
  sw_signs_cut (model);
  find_bands (model);
  cells = model->cell[n];
  model->lag = g_new0 (LagCell, cells + 1);
  model->fit = g_new0 (double, cells + 1);
  model->start = g_new0 (double, model->sizes[0]);
  model->finish = g_new0 (double, model->sizes[n - 1]);
  guess_habits (model);
  sw_where_fill (model);
  return model;
}

static gsize
chain_edges (gpointer data, gsize t, guint from, SwChainEdge *out)
{
  return sw_model_edges (data, t, from, out);
}

/* Weight of a boundary where a person joined, should no other path be left. */
#define JOIN_LEAK 1e-9

static SwChainSpec
chain_spec (SwModel *model, double beam)
{
  return (SwChainSpec){
    .length = model->n,
    .sizes = model->sizes,
    .max_edges = sw_model_max_edges (model),
    .start = model->start,
    .finish = model->finish,
    .edges = chain_edges,
    .data = model,
    .beam = beam,
  };
}

static void
run_chain (SwModel *model, double beam)
{
  SwChainSpec spec = chain_spec (model, beam);

  model->pruned = beam > 0;
  sw_model_fill_factors (model, 0);
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
      sw_model_fill_factors (model, JOIN_LEAK);
      model->chain = sw_chain_run (&spec);
    }
  g_assert (model->chain != NULL);
}

void
sw_model_learn (SwModel *model, int rounds, double beam)
{
  SwWalkCounts counts;

  /* Under eight gaps nothing can be learned of a person: the priors stand. */
  if (model->n < 9)
    rounds = 0;
  for (int round = 0; round < rounds; round++)
    {
      run_chain (model, beam);
      sw_model_expect (model, &counts);
      sw_walk_params_learn (&model->params, &counts);
    }
}

void
sw_model_run (SwModel *model, int rounds, double beam)
{
  SwWalkCounts counts;

  sw_model_learn (model, rounds, beam);
  run_chain (model, beam);
  model->log_evidence = sw_chain_log_evidence (model->chain);
  sw_model_expect (model, &counts);
  for (gsize k = 0; k < model->n_notes; k++)
    model->lookup[model->notes[k].source] = model->matched[k];
}

double
sw_model_weigh (SwModel *model, double beam)
{
  SwChainSpec spec = chain_spec (model, beam);
  double log_evidence;

  model->pruned = beam > 0;
  sw_model_fill_factors (model, 0);
  if (sw_chain_weigh (&spec, &log_evidence))
    return log_evidence;
  run_chain (model, beam);
  return sw_chain_log_evidence (model->chain);
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
