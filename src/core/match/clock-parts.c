/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of a clock as a hidden chain over the pieces of evidence in property time: which run of
 * photos a piece speaks of, and which of some candidate shifts holds there; a change pays a
 * penalty, less where one is to be expected. (Viterbi's path: Rabiner, L. R., 1989, Proc. IEEE
 * 77(2), section III B.) Where the chain over the evidence is in doubt, the whole model is asked.
 */
#include "core/match/clock-parts.h"

#include "core/match/clock-drift.h"
#include "core/match/clock-judge.h"
#include "core/match/clock-pieces.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define NOTE_TEMPER 0.7
/* A note without a photo is nothing that a change must explain. */
#define NOTE_LEAST -1.5

/* A change somewhere in a run; at the start of a run that stepped; at a change of the zone. */
#define LOG_CHANGE -6.0
#define LOG_RUN_CHANGE -1.2
#define LOG_ZONE_CHANGE -1.0
/* By whole hours, to a right clock, by anything. */
#define LOG_HOUR -1.5
#define LOG_HALF_HOUR -4.0
#define LOG_RIGHT -2.0
#define LOG_ANY -8.0
/* A change must gain so much over none, or else so much by the whole model's word, and its part be
 * borne out by so many pieces. */
#define LEAST_GAIN 10.0
#define LEAST_MODEL_GAIN 20.0
/* How much wider a clock's spread is where a change was found: on 200 walks with a reset 95 % of
 * the errors lay within 2.5 (before) and 3.3 (after it) of the spreads without. */
#define FOUND_SPREAD 1.5
/* How little a clock is known that may have changed. */
#define CHANGE_DOUBT_S 900.0
/* A run that leapt over weeks is put so much after the one before it where nothing tells more. */
#define AFTER_LEAP_S 60.0
#define BORNE_OUT 0.7
/* Notes and photos lie apart by this at most around a change. */
#define AROUND_US (150 * SW_US_PER_SECOND)

/* --- the chain --- */

static double
piece_weight (const PartSearch *search, const PartPiece *piece, guint r, double shift_s)
{
  const PartRun *run = sw_part_run (search, r);
  const SwClockEvidence *evidence = &run->own.evidence;

  switch (piece->kind)
    {
    case PIECE_FACE:
      return piece->run == r ? sw_clock_face_likelihood (&evidence->faces[piece->index], shift_s)
                             : -100;
    case PIECE_FIX:
      return piece->run == r ? sw_clock_fix_likelihood (&evidence->fixes[piece->index], shift_s)
                             : -100;
    default:
      return MAX (NOTE_LEAST, NOTE_TEMPER
                                  * sw_clock_note_likelihood (run->tables, piece->index, shift_s, 0,
                                                              evidence->n_stops));
    }
}

/* The zone's own change between two moments, by which the shift may have stepped; NULL: none. */
static const SwWalkZoneStep *
zone_step_between (const SwWalk *walk, gint64 from_us, gint64 upto_us, double step_s)
{
  for (gsize z = 0; z < walk->n_zone_steps; z++)
    if (walk->zone_steps[z].from_us >= from_us - AROUND_US
        && walk->zone_steps[z].from_us <= upto_us + AROUND_US
        && fabs (walk->zone_steps[z].step_s - step_s) < PART_SAME_S)
      return &walk->zone_steps[z];
  return NULL;
}

static double
step_penalty (const PartSearch *search, guint k, guint r, guint next_r, double from_s, double to_s)
{
  gint64 before = g_array_index (search->pieces, PartPiece, k - 1).t_us;
  gint64 now = g_array_index (search->pieces, PartPiece, k).t_us;
  double step_s = to_s - from_s;
  int half_hours = sw_part_half_hours (step_s);
  double way = LOG_ANY;

  if (fabs (step_s) < 1e-6)
    return 0;
  if (zone_step_between (search->work->walk, before, now, step_s) != NULL)
    return LOG_ZONE_CHANGE;
  if (half_hours != 0)
    way = half_hours % 2 == 0 ? LOG_HOUR - log (abs (half_hours) / 2.0) : LOG_HALF_HOUR;
  if (fabs (to_s) < PART_SAME_S)
    way = MAX (way, LOG_RIGHT);
  return (next_r > r ? LOG_RUN_CHANGE : LOG_CHANGE) + way;
}

/* Where the shift may change. */
typedef enum
{
  CHANGES_NOWHERE,
  CHANGES_BETWEEN_RUNS,
  CHANGES_ANYWHERE,
} Changes;

static gboolean
may_change (Changes changes, guint r, guint next_r)
{
  return changes == CHANGES_ANYWHERE || (changes == CHANGES_BETWEEN_RUNS && next_r != r);
}

/* The best path over the pieces; state = run x shifts + shift. out_path holds a state a piece.
 * Returns its score. */
static double
best_path (const PartSearch *search, Changes changes, guint *out_path)
{
  guint n = search->pieces->len, width = search->runs->len * (guint)search->n_shifts;
  g_autofree double *score = g_new (double, width), *next = g_new (double, width);
  g_autofree guint *from = g_new0 (guint, (gsize)n * width);
  guint best = 0;

  for (guint s = 0; s < width; s++)
    score[s] = sw_clock_log_prior (search->shifts[s % search->n_shifts])
               + piece_weight (search, &g_array_index (search->pieces, PartPiece, 0),
                               s / (guint)search->n_shifts, search->shifts[s % search->n_shifts]);
  for (guint k = 1; k < n; k++)
    {
      for (guint s = 0; s < width; s++)
        {
          guint r = s / (guint)search->n_shifts, j = s % (guint)search->n_shifts;

          next[s] = -INFINITY;
          for (guint p = 0; p < width; p++)
            {
              guint pr = p / (guint)search->n_shifts, pj = p % (guint)search->n_shifts;
              double value;

              if (pr > r || (pj != j && !may_change (changes, pr, r)))
                continue;
              value = score[p]
                      + step_penalty (search, k, pr, r, search->shifts[pj], search->shifts[j]);
              if (value > next[s])
                {
                  next[s] = value;
                  from[(gsize)k * width + s] = p;
                }
            }
          next[s] += piece_weight (search, &g_array_index (search->pieces, PartPiece, k), r,
                                   search->shifts[j]);
        }
      memcpy (score, next, sizeof (double) * width);
    }
  for (guint s = 1; s < width; s++)
    if (score[s] > score[best])
      best = s;
  for (guint k = n, s = best; k-- > 0;)
    {
      out_path[k] = s;
      s = from[(gsize)k * width + s];
    }
  return score[best];
}

/* --- from a path to parts --- */

/* The photo of the run with which the change from shift to shift begins, between the two pieces: at
 * the zone's own change, else where the photos pause longest. */
static guint
first_after (const PartSearch *search, const PartRun *run, gint64 before_us, gint64 after_us,
             double from_s, double to_s)
{
  const SwWalkZoneStep *zone
      = zone_step_between (search->work->walk, before_us, after_us, to_s - from_s);
  gint64 from = (gint64)(from_s * 1e6), to = (gint64)(to_s * 1e6), longest = G_MININT64;
  guint best = 0;

  for (guint p = 1; p < run->photos->len; p++)
    {
      gint64 last = g_array_index (run->photos, SwModelPhoto, p - 1).t_us + from;
      gint64 first = g_array_index (run->photos, SwModelPhoto, p).t_us + to;

      if (zone != NULL && last >= zone->from_us)
        break;
      if (zone != NULL && first >= zone->from_us)
        return p;
      if (first < before_us - AROUND_US || last > after_us + AROUND_US)
        continue;
      if (first - last > longest)
        {
          longest = first - last;
          best = p;
        }
    }
  return best;
}

static gboolean
borne_out (const PartSearch *search, const guint *path, guint from, guint upto, double other_s)
{
  int count = 0;

  for (guint k = from; k < upto; k++)
    {
      const PartPiece *piece = &g_array_index (search->pieces, PartPiece, k);
      guint r = path[k] / (guint)search->n_shifts;
      double own_s = search->shifts[path[k] % search->n_shifts];

      if (piece_weight (search, piece, r, own_s) - piece_weight (search, piece, r, other_s)
          > BORNE_OUT)
        count += piece->kind == PIECE_FACE ? PART_LEAST_PIECES : 1;
    }
  return count >= PART_LEAST_PIECES;
}

static void
add_part (PartSearch *search, guint photo, double step_s)
{
  SwClockPart part = { .camera = search->camera, .from = photo, .step_s = step_s };
  int half_hours = sw_part_half_hours (step_s);

  if (half_hours != 0)
    part.step_s = half_hours * SW_CLOCK_HOUR_S / 2;
  g_array_append_val (search->work->parts, part);
}

/* Lowest index of the walk in the run from its photo p on: where its order begins. */
static guint
lowest_photo (const PartRun *run, guint p)
{
  guint lowest = G_MAXUINT;

  for (; p < run->photos->len; p++)
    lowest = MIN (lowest, g_array_index (run->photos, SwModelPhoto, p).photo);
  return lowest;
}

static void
read_path (PartSearch *search, const guint *path)
{
  guint n = search->pieces->len, width = (guint)search->n_shifts, begun = 0;

  for (guint k = 1; k < n; k++)
    {
      guint r = path[k] / width, end = k + 1;
      double from_s = search->shifts[path[k - 1] % width], to_s = search->shifts[path[k] % width];
      const PartRun *run = sw_part_run (search, r);
      guint p = 0;

      if (path[k] % width == path[k - 1] % width)
        continue;
      while (end < n && path[end] % width == path[k] % width)
        end++;
      if (!borne_out (search, path, begun, k, to_s) || !borne_out (search, path, k, end, from_s))
        continue;
      if (path[k - 1] / width == r)
        p = first_after (search, run, g_array_index (search->pieces, PartPiece, k - 1).t_us,
                         g_array_index (search->pieces, PartPiece, k).t_us, from_s, to_s);
      add_part (search, lowest_photo (run, p), to_s - from_s);
      begun = k;
    }
}

/* What each photo leans by the parts of its camera. */
static void
lean_by_parts (SwStopsWork *work, int camera, guint first_part)
{
  for (guint k = first_part; k < work->parts->len; k++)
    {
      const SwClockPart *part = &g_array_index (work->parts, SwClockPart, k);

      for (guint i = part->from; i < work->walk->n_photos; i++)
        if (work->camera[i] == camera)
          work->lean_us[i] += (gint64)llrint (part->step_s * 1e6);
    }
}

static int
compare_parts (gconstpointer a, gconstpointer b)
{
  const SwClockPart *x = a, *y = b;

  if (x->camera != y->camera)
    return x->camera < y->camera ? -1 : 1;
  return (x->from > y->from) - (x->from < y->from);
}

/* How the whole model likes the camera's photos as the path puts them. out_changes: how many
 * changes of it are borne out. */
static double
model_value (PartSearch *search, const guint *path, guint *out_changes)
{
  SwStopsWork *work = search->work;
  guint first_part = work->parts->len;
  double begin_s = search->shifts[path[0] % search->n_shifts];
  g_autoptr (GArray) photos = sw_stops_photos_of (work, search->camera, FALSE, begin_s);

  read_path (search, path);
  *out_changes = work->parts->len - first_part;
  for (guint i = 0; i < photos->len; i++)
    for (guint k = first_part; k < work->parts->len; k++)
      {
        const SwClockPart *part = &g_array_index (work->parts, SwClockPart, k);
        SwModelPhoto *photo = &g_array_index (photos, SwModelPhoto, i);

        if (photo->photo >= part->from)
          photo->t_us += (gint64)llrint (part->step_s * 1e6);
      }
  g_array_sort (photos, sw_stops_compare_photos);
  g_array_set_size (work->parts, first_part);
  return sw_clock_judge_photos (work->walk, photos);
}

/* Whether the model bears out that the clock changes more than the lesser path has it. */
static gboolean
model_agrees (PartSearch *search, const guint *path, const guint *less)
{
  guint changes, lesser_changes;
  double value = model_value (search, path, &changes);
  double lesser = model_value (search, less, &lesser_changes);

  return changes > lesser_changes && value - lesser >= LEAST_MODEL_GAIN;
}

/* Whether the clock is known to change at the run's beginning or later on. */
static gboolean
has_part_from (const SwStopsWork *work, guint first_part, const PartRun *run)
{
  guint first = lowest_photo (run, 0);

  for (guint k = first_part; k < work->parts->len; k++)
    if (g_array_index (work->parts, SwClockPart, k).from >= first)
      return TRUE;
  return FALSE;
}

/* A clock that leaps over weeks between two photos was reset, whether or not a shift for what
 * follows was found; that it follows is known at least. */
static void
add_leaps (PartSearch *search, guint first_part)
{
  for (guint r = 1; r < search->runs->len; r++)
    {
      const PartRun *run = sw_part_run (search, r), *before = sw_part_run (search, r - 1);
      gint64 first = g_array_index (run->photos, SwModelPhoto, 0).t_us;
      gint64 last = g_array_index (before->photos, SwModelPhoto, before->photos->len - 1).t_us;
      double step_s = (double)(last - first) / 1e6 + AFTER_LEAP_S;

      if (run->leapt && !has_part_from (search->work, first_part, run))
        add_part (search, lowest_photo (run, 0), step_s);
    }
}

/* The path to believe. A clock that leapt was reset; that it changed elsewhere too must pay for
 * itself. Transfer full. */
static guint *
find_path (PartSearch *search)
{
  gsize size = sizeof (guint) * search->pieces->len;
  g_autofree guint *path = g_malloc0 (size);
  guint *less = g_malloc0 (size);
  double score = best_path (search, CHANGES_NOWHERE, less);

  for (Changes changes = CHANGES_BETWEEN_RUNS; changes <= CHANGES_ANYWHERE; changes++)
    {
      double more = best_path (search, changes, path), gain = more - score;

      if (gain <= 0)
        continue;
      if (gain < LEAST_GAIN && !model_agrees (search, path, less))
        {
          search->work->doubt_s[search->camera] = CHANGE_DOUBT_S;
          continue;
        }
      memcpy (less, path, size);
      score = more;
      search->work->doubt_s[search->camera] = 0;
    }
  return less;
}

static void
find_changes (SwStopsWork *work, int camera)
{
  g_auto (PartSearch) search = { 0 };
  g_autofree guint *path = NULL;
  guint first_part = work->parts->len;

  if (!sw_part_search_begin (&search, work, camera))
    return;
  path = find_path (&search);
  read_path (&search, path);
  add_leaps (&search, first_part);
  g_array_sort (work->parts, compare_parts);
  lean_by_parts (work, camera, first_part);
}

/* --- changes and drift --- */

/* Whether the camera's clock shows one stretch of days: a flat battery leaps over years. */
static gboolean
is_one_stretch (const SwStopsWork *work, int camera)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, 0);

  return photos->len > 0
         && g_array_index (photos, SwModelPhoto, photos->len - 1).t_us
                    - g_array_index (photos, SwModelPhoto, 0).t_us
                < PART_ON_US;
}

/* Drift first where it can be told: else it would pass for many small changes. */
void
sw_clock_find_parts (SwStopsWork *work, int camera)
{
  guint first_part = work->parts->len;
  gboolean drift_first = is_one_stretch (work, camera);

  if (drift_first)
    sw_clock_find_drift (work, camera);
  find_changes (work, camera);
  if (!drift_first)
    sw_clock_find_drift (work, camera);
  for (guint k = first_part; k < work->parts->len; k++)
    g_array_index (work->parts, SwClockPart, k).drift_first = drift_first;
}

/* --- once shifts are known --- */

static void
add_sets (SwStopsWork *work)
{
  for (gsize c = 0; c < work->walk->n_cameras; c++)
    for (gsize k = 0; k < work->walk->cameras[c].n_sets; k++)
      {
        const SwWalkClockSet *set = &work->walk->cameras[c].sets[k];
        SwClockPart part = { .camera = (int)c, .from = set->from, .set = TRUE };

        part.clock = (SwClockResult){ .shift_s = set->shift_s, .known = TRUE };
        g_array_append_val (work->parts, part);
      }
}

/* Where a change was found by itself, the change too may be another. */
static void
widen_found (SwStopsWork *work)
{
  int widened = -1;

  for (guint k = 0; k < work->parts->len; k++)
    {
      SwClockPart *part = &g_array_index (work->parts, SwClockPart, k);

      if (part->set)
        continue;
      part->clock.spread_s *= FOUND_SPREAD;
      if (part->camera != widened)
        work->proposal->clocks[part->camera].spread_s *= FOUND_SPREAD;
      widened = part->camera;
    }
}

void
sw_clock_finish_parts (SwStopsWork *work)
{
  guint kept = 0;

  /* A clock that is unknown after all has no parts. */
  for (guint k = 0; k < work->parts->len; k++)
    {
      SwClockPart part = g_array_index (work->parts, SwClockPart, k);

      if (work->proposal->clocks[part.camera].known)
        g_array_index (work->parts, SwClockPart, kept++) = part;
    }
  g_array_set_size (work->parts, kept);
  for (guint i = 0; i < work->walk->n_photos; i++)
    if (!work->proposal->clocks[work->camera[i]].known)
      work->lean_us[i] = 0;
  add_sets (work);
  g_array_sort (work->parts, compare_parts);
  for (guint k = 0; k < work->parts->len; k++)
    {
      SwClockPart *part = &g_array_index (work->parts, SwClockPart, k);
      const SwClockPart *last = k > 0 && part[-1].camera == part->camera ? &part[-1] : NULL;
      const SwClockResult *before = last ? &last->clock : &work->proposal->clocks[part->camera];

      if (part->set)
        {
          part->step_s = part->clock.shift_s - before->shift_s;
          continue;
        }
      /* A stretch that was judged has a clock of its own, but for the drift of all. */
      if (part->clock.known)
        {
          part->clock.drift_s_day = before->drift_s_day;
          part->clock.drift_from_us = before->drift_from_us;
        }
      else
        {
          part->clock = *before;
          part->clock.shift_s += part->step_s;
          part->clock.other_s += part->step_s;
        }
      if (!part->drift_first)
        part->clock.drift_from_us -= (gint64)llrint (part->step_s * 1e6);
    }
  widen_found (work);
}
