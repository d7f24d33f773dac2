/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The chain against enumeration, on thousands of small walks. Once by its own edges: every path is
 * walked and its weight summed, which holds the forward and backward passes. Once with no edge and
 * no state: every cut of the photos into stops, every choice of notes for them and every moment a
 * note may have been written in is weighed from the factors as model.h tells them, which holds the
 * making of states and edges too. */
#include "../unit/sw-test.h"

#include "core/match/model-private.h"
#include "core/match/stops-private.h"
#include "dice.h"

#include <math.h>
#include <string.h>

enum
{
  MOST_PHOTOS = 8,
  MOST_NOTES = 4,
  N_PLACES = 3,
  N_CAMERAS = 3,
  N_LABELS = MOST_NOTES + 3, /* by label + 3, as in the model */
};
#define EXACT 1e-9

/* --- small walks --- */

typedef struct
{
  gboolean pictures, positions, visits, decided, signs, cameras;
} Sides;

typedef struct
{
  SwWalk walk;
  SwWalkPhoto photos[MOST_PHOTOS];
  SwModelPhoto order[MOST_PHOTOS];
  SwWalkNote notes[MOST_NOTES + 2];
  SwWalkItem items[MOST_NOTES];
  SwWalkPlace places[N_PLACES];
  SwWalkCamera cameras[N_CAMERAS]; /* the last bears no name */
} SmallWalk;

static void
draw_places (SmallWalk *small, Dice *dice, const Sides *sides)
{
  for (int k = 0; k < N_PLACES; k++)
    {
      small->places[k].parent = k == 2 ? 1 : -1;
      small->places[k].has_position = sides->positions && k != 1;
      small->places[k].latitude = 52 + 0.001 * dice_uniform (dice);
      small->places[k].longitude = 5 + 0.001 * dice_uniform (dice);
    }
}

static void
draw_photo (SmallWalk *small, Dice *dice, const Sides *sides, int i, double t_s)
{
  SwWalkPhoto *photo = &small->photos[i];
  guint64 thing = (guint64)dice_range (dice, 0, 2) * G_GUINT64_CONSTANT (0x123456789abcdef);

  *photo = (SwWalkPhoto){ .id = i + 1,
                          .clock_us = (gint64)(t_s * 1e6),
                          .resolution_us = SW_US_PER_SECOND,
                          .decided = SW_WALK_OPEN,
                          .place = -1 };
  photo->has_likeness = sides->pictures && dice_chance (dice, 0.8);
  photo->dhash = thing ^ (dice_next (dice) & dice_next (dice) & dice_next (dice));
  photo->has_position = sides->positions && dice_chance (dice, 0.7);
  photo->latitude = 52 + 0.001 * dice_uniform (dice);
  photo->longitude = 5 + 0.001 * dice_uniform (dice);
  photo->error_m = dice_between (dice, 0, 20);
  if (sides->decided && dice_chance (dice, 0.25))
    photo->decided = dice_chance (dice, 0.2) || small->walk.n_items == 0
                         ? SW_WALK_NONE
                         : dice_range (dice, 0, (int)small->walk.n_items - 1);
  if (sides->signs && dice_chance (dice, 0.2))
    photo->tag = dice_range (dice, 1, 3);
  else if (sides->signs && dice_chance (dice, 0.1))
    photo->place = dice_range (dice, 0, N_PLACES - 1);
  if (sides->cameras)
    photo->camera = dice_range (dice, 0, N_CAMERAS - 1);
}

static void
draw_small (SmallWalk *small, Dice *dice, const Sides *sides)
{
  double t = 1781946000;
  int n = dice_range (dice, 1, MOST_PHOTOS), notes = dice_range (dice, 0, MOST_NOTES);

  memset (small, 0, sizeof *small);
  draw_places (small, dice, sides);
  small->walk.n_items = (gsize)notes;
  for (int k = 0; k < notes; k++)
    {
      int place = dice_range (dice, -1, N_PLACES - 1), res = dice_chance (dice, 0.3) ? 60 : 1;
      gint64 at = (gint64)t + dice_range (dice, -60, 400);

      small->items[k] = (SwWalkItem){ NULL, place };
      small->notes[k] = (SwWalkNote){ at / res * res * SW_US_PER_SECOND, res * SW_US_PER_SECOND,
                                      dice_chance (dice, 0.5) ? place : -1, k };
    }
  small->walk.n_notes = (gsize)notes;
  for (int k = 0; k < 2 && sides->visits; k++)
    {
      gint64 at = (gint64)t + dice_range (dice, -60, 300);
      int place = dice_range (dice, 0, N_PLACES - 1);

      small->notes[small->walk.n_notes++]
          = (SwWalkNote){ at * SW_US_PER_SECOND, SW_US_PER_SECOND, place, -1 };
    }
  for (int i = 0; i < n; i++)
    {
      t += dice_chance (dice, 0.03)  ? 2000
           : dice_chance (dice, 0.1) ? 0
           : dice_chance (dice, 0.4) ? dice_between (dice, 25, 150)
                                     : dice_between (dice, 1, 15);
      draw_photo (small, dice, sides, i, floor (t));
      small->order[i] = (SwModelPhoto){ (guint)i, (gint64)floor (t) * SW_US_PER_SECOND };
    }
  small->walk.photos = small->photos;
  small->walk.n_photos = (gsize)n;
  small->walk.notes = small->notes;
  small->walk.items = small->items;
  small->walk.places = small->places;
  small->walk.n_places = N_PLACES;
  small->cameras[N_CAMERAS - 1].nameless = TRUE;
  small->walk.cameras = small->cameras;
  small->walk.n_cameras = N_CAMERAS;
}

/* A person of some other habits than the usual one. */
static SwModel *
model_of (const SmallWalk *small, Dice *dice)
{
  SwModel *model = sw_model_new (&small->walk, small->order, small->walk.n_photos);
  SwWalkParams params = *sw_model_params (model);

  params.boundary = dice_between (dice, 0.1, 0.6);
  params.noted = dice_between (dice, 0.3, 0.95);
  params.within.mean += dice_between (dice, -0.5, 0.5);
  params.lag[0].mean += dice_between (dice, -0.5, 0.5);
  sw_model_set_params (model, &params);
  return model;
}

/* --- what enumeration finds --- */

typedef struct
{
  double total;
  double boundary[MOST_PHOTOS];
  double label[MOST_PHOTOS][N_LABELS];
  double detour[MOST_PHOTOS]; /* weight of stops that go to a note out of order */
} Found;

static void
divide (Found *found)
{
  for (int i = 0; i < MOST_PHOTOS; i++)
    {
      found->boundary[i] /= found->total;
      found->detour[i] /= found->total;
      for (int k = 0; k < N_LABELS; k++)
        found->label[i][k] /= found->total;
    }
}

/* A detour's weight goes to the near notes by how far each is off and how free it is. */
static void
spread_detours (Found *found, const SwModel *model)
{
  for (gsize i = 0; i < model->n; i++)
    {
      double share[MOST_NOTES], all = 0;

      for (int k = model->lo[i]; k < model->hi[i]; k++)
        {
          const ModelNote *note = &model->notes[k];
          double away_s = (double)(model->photos[i].t_us - note->tau_us) / 1e6 - note->res_s / 2;

          share[k] = sw_lag_off_density (away_s) * (1 - model->matched[k])
                     * model->fit[model->cell[i] + (gsize)(k - model->lo[i])];
          all += share[k];
        }
      for (int k = model->lo[i]; k < model->hi[i] && all > 0; k++)
        found->label[i][model->notes[k].item + 3] += found->detour[i] * share[k] / all;
    }
}

static void
compare (SwModel *model, const Found *found)
{
  assert_true (fabs (sw_model_log_evidence (model) - log (found->total))
               <= EXACT * MAX (1, fabs (log (found->total))));
  for (gsize i = 0; i < model->n; i++)
    {
      if (i + 1 < model->n)
        assert_true (fabs (sw_model_boundary (model, i) - found->boundary[i]) <= EXACT);
      for (int label = -3; label < MOST_NOTES; label++)
        {
          if (label == -1 || label >= (int)model->walk->n_items)
            continue;
          assert_true (fabs (sw_model_label (model, i, label) - found->label[i][label + 3])
                       <= EXACT);
        }
    }
}

/* --- by the chain's own edges --- */

typedef struct
{
  SwModel *model;
  guint state[MOST_PHOTOS];
  gboolean cut[MOST_PHOTOS];
  Found *found;
} Paths;

static void
count_path (Paths *paths, double weight)
{
  const SwModel *model = paths->model;

  paths->found->total += weight;
  for (gsize i = 0; i < model->n; i++)
    {
      StateParts parts = sw_model_parts (model, i, paths->state[i]);
      int label = parts.note >= 0 ? model->notes[parts.note].item : SW_LABEL_NEW;

      if (paths->cut[i])
        paths->found->boundary[i] += weight;
      switch (parts.phase)
        {
        case SW_PHASE_DECIDED:
          label = model->photos[i].label_before;
          break;
        case SW_PHASE_TO_COME:
          label = model->photos[i].label_after;
          break;
        case SW_PHASE_DETOUR:
          paths->found->detour[i] += weight;
          continue;
        default:
          break;
        }
      paths->found->label[i][label + 3] += weight;
    }
}

static void
walk_on (Paths *paths, gsize t, double weight)
{
  g_autofree SwChainEdge *edges = NULL;
  gsize n;

  if (t + 1 == paths->model->n)
    {
      weight *= sw_model_finish_weight (paths->model, paths->state[t]);
      if (weight > 0)
        count_path (paths, weight);
      return;
    }
  edges = g_new (SwChainEdge, sw_model_max_edges (paths->model));
  n = sw_model_edges (paths->model, t, paths->state[t], edges);
  for (gsize e = 0; e < n; e++)
    {
      paths->state[t + 1] = edges[e].to;
      paths->cut[t] = edges[e].kind == SW_EDGE_NEXT;
      walk_on (paths, t + 1, weight * edges[e].weight);
    }
}

static void
check_paths (const Sides *sides, guint64 seed, int walks)
{
  Dice dice = dice_new (seed, 1);

  for (int k = 0; k < walks; k++)
    {
      g_autoptr (SwModel) model = NULL;
      SmallWalk small;
      Found found = { 0 };
      Paths paths = { .found = &found };

      draw_small (&small, &dice, sides);
      model = model_of (&small, &dice);
      sw_model_run (model, 0, 0);
      paths.model = model;
      for (guint s = 0; s < sw_model_n_states (model, 0); s++)
        if (sw_model_start_weight (model, s) > 0)
          {
            paths.state[0] = s;
            walk_on (&paths, 0, sw_model_start_weight (model, s));
          }
      divide (&found);
      spread_detours (&found, model);
      compare (model, &found);
    }
}

/* --- by stops and notes --- */

/* How a stop came by its note. */
typedef enum
{
  IN_ORDER,
  HELD, /* past the one before it, which the next stop gets */
  LATE, /* the one that was held */
} Turn;

typedef struct
{
  gsize first, last;
  int note; /* in time order; -1: a new thing, -2: a detour */
  Turn turn;
} Piece;

typedef struct
{
  SwModel *model;
  double free_share[MOST_NOTES]; /* what each note was matched before this run */
  Piece pieces[MOST_PHOTOS];
  int n_pieces;
  Found *found;
} Cuts;

/* Whether note k lies within the window of photo i. */
static gboolean
is_near (const SwModel *model, gsize i, int k)
{
  return fabs ((double)(model->photos[i].t_us - model->notes[k].tau_us)) / 1e6 <= SW_WALK_WINDOW_S;
}

static double
fit_at (const SwModel *model, gsize i, int k)
{
  return model->fit[model->cell[i] + (gsize)(k - model->lo[i])];
}

static gboolean
changes_camera (const SwModel *model, gsize i)
{
  int here = model->photos[i].source->camera, next = model->photos[i + 1].source->camera;

  return here != next && here != N_CAMERAS - 1 && next != N_CAMERAS - 1;
}

/* All photos of one stop together. */
static double
inside_weight (const SwModel *model, const Piece *piece)
{
  const SwWalkParams *params = &model->params;
  double weight = 1;

  for (gsize i = piece->first; i < piece->last; i++)
    {
      const ModelPhoto *photo = &model->photos[i];

      weight *= (1 - params->boundary)
                * (changes_camera (model, i) ? sw_gap_change (params, photo->z)
                                             : sw_gap_within (params, photo->z))
                * photo->hand * photo->alike * photo->still * photo->join;
    }
  return weight;
}

/* Seconds between photos i and i + 1; far more than any lag where one is missing. */
static double
pause_s (const SwModel *model, gsize i)
{
  return i + 1 >= model->n ? SW_WALK_WINDOW_S
                           : (double)(model->photos[i + 1].t_us - model->photos[i].t_us) / 1e6;
}

/* Density of the note's time given its stop: before it, during it, after it, or off by minutes; a
 * note that was held comes before, the one it was held for after. */
static double
note_density (const SwModel *model, const Piece *piece)
{
  const SwWalkParams *params = &model->params;
  const ModelNote *note = &model->notes[piece->note];
  double before_s = (double)(model->photos[piece->first].t_us - note->tau_us) / 1e6;
  double after_s = (double)(note->tau_us - model->photos[piece->last].t_us) / 1e6;
  double room_s = piece->first > 0 ? pause_s (model, piece->first - 1) : SW_WALK_WINDOW_S;
  double usual, before, after, sum;

  before = params->lag_share[SW_LAG_BEFORE]
           * sw_lag_in_room (params, SW_LAG_BEFORE, before_s, note->res_s, room_s, &usual);
  after = params->lag_share[SW_LAG_AFTER]
          * sw_lag_in_room (params, SW_LAG_AFTER, after_s, note->res_s,
                            pause_s (model, piece->last), &usual);
  if (piece->turn != IN_ORDER)
    return piece->turn == HELD ? after : before;
  sum = before + after
        + params->lag_share[SW_LAG_OFF] * sw_lag_off_density (before_s - note->res_s / 2);
  for (gsize i = piece->first; i < piece->last; i++)
    {
      double from_s = (double)(model->photos[i].t_us - note->tau_us) / 1e6;
      double upto_s = (double)(model->photos[i + 1].t_us - note->tau_us) / 1e6;
      double inside_s = MIN (upto_s, note->res_s) - MAX (from_s, 0);

      if (inside_s > 0)
        sum += params->lag_share[SW_LAG_DURING] * inside_s / note->res_s / MAX (upto_s - from_s, 1)
               * params->boundary / (1 - params->boundary);
    }
  return sum;
}

static double
detour_weight (const Cuts *cuts, const Piece *piece)
{
  const SwModel *model = cuts->model;
  const SwWalkParams *params = &model->params;
  double sum = 0;

  for (int k = 0; k < (int)model->n_notes; k++)
    if (is_near (model, piece->first, k))
      {
        const ModelNote *note = &model->notes[k];
        double away_s
            = (double)(model->photos[piece->first].t_us - note->tau_us) / 1e6 - note->res_s / 2;

        sum += sw_lag_off_density (away_s) * (1 - cuts->free_share[k])
               * fit_at (model, piece->first, k);
      }
  return 0.7 * params->lag_share[SW_LAG_OFF] * params->noted / params->stray * sum;
}

static double
piece_weight (const Cuts *cuts, const Piece *piece)
{
  const SwModel *model = cuts->model;
  const SwWalkParams *params = &model->params;

  switch (piece->note)
    {
    case -1:
      return inside_weight (model, piece) * (model->n_notes > 0 ? 1 - params->noted : 1);
    case -2:
      return inside_weight (model, piece) * detour_weight (cuts, piece);
    default:
      return inside_weight (model, piece) * params->noted / params->stray
             * fit_at (model, piece->first, piece->note) * note_density (model, piece)
             * (piece->turn == HELD ? 0.3 : 1);
    }
}

static double
between_weight (const SwModel *model, const Piece *from, const Piece *to)
{
  int a = from->note >= 0 ? model->notes[from->note].place : -1;
  int b = to->note >= 0 ? model->notes[to->note].place : -1;
  SwStep step = a < 0 || b < 0 ? SW_STEP_ANY : a == b ? SW_STEP_SAME : SW_STEP_OTHER;

  return model->params.boundary * sw_gap_between (&model->params, step, model->photos[from->last].z)
         * (changes_camera (model, from->last) ? sw_change_weight (model->photos[from->last].z)
                                               : 1);
}

static void
count_cuts (Cuts *cuts, double weight)
{
  cuts->found->total += weight;
  for (int k = 0; k < cuts->n_pieces; k++)
    {
      const Piece *piece = &cuts->pieces[k];

      if (piece->last + 1 < cuts->model->n)
        cuts->found->boundary[piece->last] += weight;
      for (gsize i = piece->first; i <= piece->last; i++)
        if (piece->note == -2)
          cuts->found->detour[i] += weight;
        else
          cuts->found
              ->label[i]
                     [(piece->note < 0 ? SW_LABEL_NEW : cuts->model->notes[piece->note].item) + 3]
              += weight;
    }
}

/* Each note once, in walk order but for two that lie close; it must be in reach all along the stop.
 */
static gboolean
may_stand (const Cuts *cuts, const Piece *piece, int used)
{
  const SwModel *model = cuts->model;
  const Piece *before = cuts->n_pieces > 0 ? piece - 1 : NULL;
  int note = piece->note;

  if ((before != NULL && before->turn == HELD) != (piece->turn == LATE))
    return FALSE;
  if (note < 0)
    return piece->turn == IN_ORDER;
  if (!is_near (model, piece->first, note) || !is_near (model, piece->last, note))
    return FALSE;
  if (piece->turn == LATE)
    return note == used - 1;
  if (piece->turn == IN_ORDER)
    return note > used;
  return note > used + 1 && piece->last + 1 < model->n && is_near (model, piece->first, note - 1)
         && model->notes[note].tau_us - model->notes[note - 1].tau_us < 180 * SW_US_PER_SECOND;
}

static void cut_on (Cuts *cuts, gsize first, int used, double weight);

static void
try_piece (Cuts *cuts, const Piece *piece, int used, double weight)
{
  weight *= piece_weight (cuts, piece);
  if (cuts->n_pieces > 0)
    weight *= between_weight (cuts->model, piece - 1, piece);
  if (weight <= 0)
    return;
  cuts->n_pieces++;
  cut_on (cuts, piece->last + 1, MAX (used, piece->note), weight);
  cuts->n_pieces--;
}

/* Stops from photo 'first' on; notes up to 'used' lie behind. */
static void
cut_on (Cuts *cuts, gsize first, int used, double weight)
{
  const SwModel *model = cuts->model;

  if (first == model->n)
    {
      count_cuts (cuts, weight);
      return;
    }
  for (gsize last = first; last < model->n; last++)
    for (int note = -2; note < (int)model->n_notes; note++)
      for (int turn = IN_ORDER; turn <= LATE; turn++)
        {
          Piece *piece = &cuts->pieces[cuts->n_pieces];

          *piece = (Piece){ first, last, note, (Turn)turn };
          if (may_stand (cuts, piece, used))
            try_piece (cuts, piece, used, weight);
        }
}

static void
check_cuts (const Sides *sides, guint64 seed, int walks)
{
  Dice dice = dice_new (seed, 1);

  for (int k = 0; k < walks; k++)
    {
      g_autoptr (SwModel) model = NULL;
      SmallWalk small;
      Found found = { 0 };
      Cuts cuts = { .found = &found };

      draw_small (&small, &dice, sides);
      model = model_of (&small, &dice);
      /* What a note's match is worth to detours is known after the first run. */
      sw_model_run (model, 0, 0);
      for (gsize note = 0; note < model->n_notes; note++)
        cuts.free_share[note] = model->matched[note];
      sw_model_run (model, 0, 0);
      cuts.model = model;
      cut_on (&cuts, 0, -1, 1);
      divide (&found);
      spread_detours (&found, model);
      compare (model, &found);
    }
}

/* --- tests --- */

static void
test_paths (void **state)
{
  const Sides all
      = { .pictures = TRUE, .positions = TRUE, .visits = TRUE, .decided = TRUE, .signs = TRUE };
  const Sides decided = { .decided = TRUE };

  check_paths (&all, 11, 300);
  check_paths (&decided, 12, 300);
}

static void
test_cuts (void **state)
{
  const Sides times = { 0 }, pictures = { .pictures = TRUE },
              places = { .positions = TRUE, .visits = TRUE },
              signs = { .pictures = TRUE, .signs = TRUE }, cameras = { .cameras = TRUE };

  check_cuts (&times, 21, 1000);
  check_cuts (&pictures, 22, 500);
  check_cuts (&places, 23, 500);
  check_cuts (&signs, 24, 500);
  check_cuts (&cameras, 25, 500);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_paths);
  SW_TEST (tests, test_cuts);
  return sw_tests_run (tests, "exact");
}
