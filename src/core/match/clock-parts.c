/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of a clock as a hidden chain over the pieces of evidence in property time: which run of
 * photos a piece speaks of, and which of some candidate shifts holds there; a change pays a
 * penalty, less where one is to be expected. (Viterbi's path: Rabiner, L. R., 1989, Proc. IEEE
 * 77(2), section III B.) Where the chain over the evidence is in doubt, the whole model is asked.
 */
#include "core/match/clock-parts.h"

#include "core/match/clock-drift.h"
#include "core/match/clock-gather.h"
#include "core/match/clock-judge.h"

#include <math.h>
#include <string.h>

/* A clock that steps back by this between two photos, or on by that, began another run. */
#define BACK_US (60 * SW_US_PER_SECOND)
#define ON_US (G_GINT64_CONSTANT (30) * 86400 * SW_US_PER_SECOND)
/* More runs than this: names do not tell the order, and time alone does. */
#define MAX_RUNS 5
#define MAX_SHIFTS 16
#define PIECES_ENOUGH 400
/* Candidate shifts this close are one. */
#define SAME_S 25.0
/* Thirds of the evidence are asked for shifts of their own where there are so many pieces. */
#define THIRDS_FROM 9
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
/* How little a clock is known that may have changed. */
#define CHANGE_DOUBT_S 900.0
/* A run that leapt over weeks is put so much after the one before it where nothing tells more. */
#define AFTER_LEAP_S 60.0
#define LEAST_PIECES 3
#define BORNE_OUT 0.7
/* Notes and photos lie apart by this at most around a change. */
#define AROUND_US (150 * SW_US_PER_SECOND)
#define HALF_HOUR_S 1800.0
#define HOUR_S 3600.0
#define DAY_S 86400.0

typedef struct
{
  GArray *photos; /* SwModelPhoto by its clock, in time order */
  SwClockGathered own;
  SwClockTables *tables;
  gboolean leapt; /* its clock begins more than ON_US from where the run before ended */
} Run;

typedef enum
{
  PIECE_NOTE,
  PIECE_FACE,
  PIECE_FIX,
} PieceKind;

typedef struct
{
  gint64 t_us; /* property time */
  PieceKind kind;
  gsize index; /* in walk->notes, or among the run's faces or fixes */
  guint run;   /* of faces and fixes */
} Piece;

typedef struct
{
  SwStopsWork *work;
  int camera;
  GPtrArray *runs; /* Run */
  GArray *pieces;  /* Piece, in time order */
  double shifts[MAX_SHIFTS];
  gsize n_shifts;
} Search;

static void
run_free (gpointer data)
{
  Run *run = data;

  g_clear_pointer (&run->photos, g_array_unref);
  g_clear_pointer (&run->tables, sw_clock_tables_free);
  sw_clock_gathered_clear (&run->own);
  g_free (run);
}

static void
search_clear (Search *search)
{
  g_clear_pointer (&search->runs, g_ptr_array_unref);
  g_clear_pointer (&search->pieces, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Search, search_clear)

static Run *
run_at (const Search *search, guint k)
{
  return g_ptr_array_index (search->runs, k);
}

/* --- runs --- */

static Run *
run_new (void)
{
  Run *run = g_new0 (Run, 1);

  run->photos = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  return run;
}

static int
compare_order (gconstpointer a, gconstpointer b)
{
  const SwModelPhoto *x = a, *y = b;

  return (x->photo > y->photo) - (x->photo < y->photo);
}

/* The camera's photos, cut where its clock steps in the order that they were taken in. */
static void
cut_runs (Search *search)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (search->work, search->camera, FALSE, 0);
  g_autoptr (GArray) order = g_array_copy (photos);
  Run *run = NULL;

  g_array_sort (order, compare_order);
  for (guint i = 0; i < order->len; i++)
    {
      SwModelPhoto photo = g_array_index (order, SwModelPhoto, i);
      gint64 gap = i > 0 ? photo.t_us - g_array_index (order, SwModelPhoto, i - 1).t_us : 0;

      if (run == NULL || gap < -BACK_US || gap > ON_US)
        {
          run = run_new ();
          run->leapt = ABS (gap) > ON_US;
          g_ptr_array_add (search->runs, run);
        }
      g_array_append_val (run->photos, photo);
    }
  if (search->runs->len > MAX_RUNS)
    {
      g_ptr_array_set_size (search->runs, 0);
      run = run_new ();
      g_array_append_vals (run->photos, photos->data, photos->len);
      g_ptr_array_add (search->runs, run);
    }
  for (guint k = 0; k < search->runs->len; k++)
    {
      run = run_at (search, k);
      g_array_sort (run->photos, sw_stops_compare_photos);
      sw_clock_gather_photos (search->work, run->photos, &run->own);
      run->tables = sw_clock_tables_new (&run->own.evidence);
    }
}

/* --- pieces --- */

static int
compare_pieces (gconstpointer a, gconstpointer b)
{
  const Piece *x = a, *y = b;

  if (x->t_us != y->t_us)
    return x->t_us < y->t_us ? -1 : 1;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  return (x->index > y->index) - (x->index < y->index);
}

/* A face without a day gets the one nearest to its camera's clock. */
static gint64
face_time (const SwClockAnchor *face)
{
  double away_s = (double)(face->true_us - face->clock_us) / 1e6;

  return face->dateless
             ? face->clock_us + (gint64)llrint (remainder (away_s, DAY_S) * SW_US_PER_SECOND)
             : face->true_us;
}

static void
add_pieces (Search *search)
{
  const SwWalk *walk = search->work->walk;
  gsize stride = 1 + walk->n_notes / PIECES_ENOUGH;

  for (gsize k = 0; k < walk->n_notes; k += stride)
    if (walk->notes[k].item >= 0)
      {
        Piece piece = { walk->notes[k].time_us, PIECE_NOTE, k, 0 };

        g_array_append_val (search->pieces, piece);
      }
  for (guint r = 0; r < search->runs->len; r++)
    {
      const SwClockEvidence *evidence = &run_at (search, r)->own.evidence;

      for (gsize k = 0; k < evidence->n_faces; k++)
        {
          Piece piece = { face_time (&evidence->faces[k]), PIECE_FACE, k, r };

          g_array_append_val (search->pieces, piece);
        }
      for (gsize k = 0; k < evidence->n_fixes; k++)
        {
          Piece piece = { evidence->fixes[k].true_us, PIECE_FIX, k, r };

          g_array_append_val (search->pieces, piece);
        }
    }
  g_array_sort (search->pieces, compare_pieces);
}

/* --- shifts to choose from --- */

static void
add_shift (Search *search, double shift_s)
{
  for (gsize k = 0; k < search->n_shifts; k++)
    if (fabs (search->shifts[k] - shift_s) < SAME_S)
      return;
  if (search->n_shifts < MAX_SHIFTS)
    search->shifts[search->n_shifts++] = shift_s;
}

static void
add_modes (Search *search, const SwClockEvidence *evidence, gsize most)
{
  SwClockMode modes[SW_CLOCK_MODES];
  gsize n = sw_clock_modes (evidence, modes, most + 1);

  for (gsize k = 0; k < MIN (n, most); k++)
    if (k == 0 || sw_clock_mode_share (modes, n, k) > 0.02)
      add_shift (search, modes[k].shift_s);
}

/* What the pieces [from, upto) say of a run alone. */
static void
add_modes_between (Search *search, const Run *run, guint from, guint upto)
{
  SwClockEvidence evidence = run->own.evidence;
  g_autoptr (GArray) notes = g_array_new (FALSE, FALSE, sizeof (SwWalkNote));
  g_autoptr (GArray) faces = g_array_new (FALSE, FALSE, sizeof (SwClockAnchor));
  g_autoptr (GArray) fixes = g_array_new (FALSE, FALSE, sizeof (SwClockAnchor));

  for (guint k = from; k < upto; k++)
    {
      const Piece *piece = &g_array_index (search->pieces, Piece, k);

      if (piece->kind == PIECE_NOTE)
        g_array_append_val (notes, search->work->walk->notes[piece->index]);
      else if (run_at (search, piece->run) == run && piece->kind == PIECE_FACE)
        g_array_append_val (faces, evidence.faces[piece->index]);
      else if (run_at (search, piece->run) == run)
        g_array_append_val (fixes, evidence.fixes[piece->index]);
    }
  evidence.notes = (const SwWalkNote *)(void *)notes->data;
  evidence.n_notes = notes->len;
  evidence.faces = (const SwClockAnchor *)(void *)faces->data;
  evidence.n_faces = faces->len;
  evidence.fixes = (const SwClockAnchor *)(void *)fixes->data;
  evidence.n_fixes = fixes->len;
  add_modes (search, &evidence, 2);
}

/* A run comes after the one before it: what the notes written since then say of it. */
static void
add_modes_after (Search *search, guint r)
{
  const Run *run = run_at (search, r), *before = run_at (search, r - 1);
  SwClockMode mode;
  gint64 end;
  guint from = 0;

  if (sw_clock_modes (&before->own.evidence, &mode, 1) == 0)
    return;
  end = g_array_index (before->photos, SwModelPhoto, before->photos->len - 1).t_us
        + (gint64)llrint (mode.shift_s * 1e6);
  while (from < search->pieces->len && g_array_index (search->pieces, Piece, from).t_us < end)
    from++;
  if (from + LEAST_PIECES <= search->pieces->len)
    add_modes_between (search, run, from, search->pieces->len);
}

static void
find_shifts (Search *search)
{
  const SwWalk *walk = search->work->walk;
  guint n = search->pieces->len;
  gsize found;

  for (guint r = 0; r < search->runs->len; r++)
    {
      add_modes (search, &run_at (search, r)->own.evidence, 2);
      for (guint third = 0; third < 3 && n >= THIRDS_FROM; third++)
        add_modes_between (search, run_at (search, r), n * third / 3, n * (third + 1) / 3);
    }
  for (guint r = 1; r < search->runs->len; r++)
    add_modes_after (search, r);
  found = search->n_shifts;
  for (int side = -1; side <= 1 && found > 0; side += 2)
    add_shift (search, search->shifts[0] + side * HOUR_S);
  for (gsize z = 0; z < walk->n_zone_steps; z++)
    for (gsize k = 0; k < MIN (found, 2); k++)
      {
        add_shift (search, search->shifts[k] + walk->zone_steps[z].step_s);
        add_shift (search, search->shifts[k] - walk->zone_steps[z].step_s);
      }
}

/* --- the chain --- */

static double
piece_weight (const Search *search, const Piece *piece, guint r, double shift_s)
{
  const Run *run = run_at (search, r);
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
        && fabs (walk->zone_steps[z].step_s - step_s) < SAME_S)
      return &walk->zone_steps[z];
  return NULL;
}

static double
step_penalty (const Search *search, guint k, guint r, guint next_r, double from_s, double to_s)
{
  gint64 before = g_array_index (search->pieces, Piece, k - 1).t_us;
  gint64 now = g_array_index (search->pieces, Piece, k).t_us;
  double step_s = to_s - from_s, half_hours = rint (step_s / HALF_HOUR_S);
  double way = LOG_ANY;

  if (fabs (step_s) < 1e-6)
    return 0;
  if (zone_step_between (search->work->walk, before, now, step_s) != NULL)
    return LOG_ZONE_CHANGE;
  if (half_hours != 0 && fabs (half_hours) <= 28
      && fabs (step_s - half_hours * HALF_HOUR_S) < SAME_S)
    way = remainder (half_hours, 2) == 0 ? LOG_HOUR - log (fabs (half_hours) / 2) : LOG_HALF_HOUR;
  if (fabs (to_s) < SAME_S)
    way = MAX (way, LOG_RIGHT);
  return (next_r > r ? LOG_RUN_CHANGE : LOG_CHANGE) + way;
}

/* The best path over the pieces; state = run x shifts + shift. out_path holds a state a piece.
 * changes: whether the shift may change at all. Returns its score. */
static double
best_path (const Search *search, gboolean changes, guint *out_path)
{
  guint n = search->pieces->len, width = search->runs->len * (guint)search->n_shifts;
  g_autofree double *score = g_new (double, width), *next = g_new (double, width);
  g_autofree guint *from = g_new0 (guint, (gsize)n * width);
  guint best = 0;

  for (guint s = 0; s < width; s++)
    score[s] = sw_clock_log_prior (search->shifts[s % search->n_shifts])
               + piece_weight (search, &g_array_index (search->pieces, Piece, 0),
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

              if (pr > r || (!changes && pj != j))
                continue;
              value = score[p]
                      + step_penalty (search, k, pr, r, search->shifts[pj], search->shifts[j]);
              if (value > next[s])
                {
                  next[s] = value;
                  from[(gsize)k * width + s] = p;
                }
            }
          next[s] += piece_weight (search, &g_array_index (search->pieces, Piece, k), r,
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
first_after (const Search *search, const Run *run, gint64 before_us, gint64 after_us, double from_s,
             double to_s)
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
borne_out (const Search *search, const guint *path, guint from, guint upto, double other_s)
{
  int count = 0;

  for (guint k = from; k < upto; k++)
    {
      const Piece *piece = &g_array_index (search->pieces, Piece, k);
      guint r = path[k] / (guint)search->n_shifts;
      double own_s = search->shifts[path[k] % search->n_shifts];

      if (piece_weight (search, piece, r, own_s) - piece_weight (search, piece, r, other_s)
          > BORNE_OUT)
        count += piece->kind == PIECE_FACE ? LEAST_PIECES : 1;
    }
  return count >= LEAST_PIECES;
}

static void
add_part (Search *search, guint photo, double step_s)
{
  SwClockPart part = { .camera = search->camera, .from = photo, .step_s = step_s };
  double half_hours = rint (step_s / HALF_HOUR_S) * HALF_HOUR_S;

  if (half_hours != 0 && fabs (step_s - half_hours) < SAME_S)
    part.step_s = half_hours;
  g_array_append_val (search->work->parts, part);
}

/* Lowest index of the walk in the run from its photo p on: where its order begins. */
static guint
lowest_photo (const Run *run, guint p)
{
  guint lowest = G_MAXUINT;

  for (; p < run->photos->len; p++)
    lowest = MIN (lowest, g_array_index (run->photos, SwModelPhoto, p).photo);
  return lowest;
}

static void
read_path (Search *search, const guint *path)
{
  guint n = search->pieces->len, width = (guint)search->n_shifts, begun = 0;

  for (guint k = 1; k < n; k++)
    {
      guint r = path[k] / width, end = k + 1;
      double from_s = search->shifts[path[k - 1] % width], to_s = search->shifts[path[k] % width];
      const Run *run = run_at (search, r);
      guint p = 0;

      if (path[k] % width == path[k - 1] % width)
        continue;
      while (end < n && path[end] % width == path[k] % width)
        end++;
      if (!borne_out (search, path, begun, k, to_s) || !borne_out (search, path, k, end, from_s))
        continue;
      if (path[k - 1] / width == r)
        p = first_after (search, run, g_array_index (search->pieces, Piece, k - 1).t_us,
                         g_array_index (search->pieces, Piece, k).t_us, from_s, to_s);
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

/* By how much the whole model likes the camera's photos better as the path puts them than all by
 * one shift. */
static double
model_gain (Search *search, const guint *path, double steady_s)
{
  SwStopsWork *work = search->work;
  guint first_part = work->parts->len;
  double begin_s = search->shifts[path[0] % search->n_shifts];
  g_autoptr (GArray) steady = sw_stops_photos_of (work, search->camera, FALSE, steady_s);
  g_autoptr (GArray) changed = NULL;

  read_path (search, path);
  if (work->parts->len == first_part)
    return -INFINITY;
  changed = sw_stops_photos_of (work, search->camera, FALSE, begin_s);
  for (guint i = 0; i < changed->len; i++)
    for (guint k = first_part; k < work->parts->len; k++)
      {
        const SwClockPart *part = &g_array_index (work->parts, SwClockPart, k);
        SwModelPhoto *photo = &g_array_index (changed, SwModelPhoto, i);

        if (photo->photo >= part->from)
          photo->t_us += (gint64)llrint (part->step_s * 1e6);
      }
  g_array_sort (changed, sw_stops_compare_photos);
  g_array_set_size (work->parts, first_part);
  return sw_clock_judge_photos (work->walk, changed) - sw_clock_judge_photos (work->walk, steady);
}

/* Whether the clock is known to change at the run's beginning or later on. */
static gboolean
has_part_from (const SwStopsWork *work, guint first_part, const Run *run)
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
add_leaps (Search *search, guint first_part)
{
  for (guint r = 1; r < search->runs->len; r++)
    {
      const Run *run = run_at (search, r), *before = run_at (search, r - 1);
      gint64 first = g_array_index (run->photos, SwModelPhoto, 0).t_us;
      gint64 last = g_array_index (before->photos, SwModelPhoto, before->photos->len - 1).t_us;
      double step_s = (double)(last - first) / 1e6 + AFTER_LEAP_S;

      if (run->leapt && !has_part_from (search->work, first_part, run))
        add_part (search, lowest_photo (run, 0), step_s);
    }
}

static void
find_changes (SwStopsWork *work, int camera)
{
  g_auto (Search) search = { .work = work,
                             .camera = camera,
                             .runs = g_ptr_array_new_with_free_func (run_free),
                             .pieces = g_array_new (FALSE, FALSE, sizeof (Piece)) };
  g_autofree guint *path = NULL;
  guint first_part = work->parts->len;
  double steady, steady_s, gain;

  cut_runs (&search);
  if (search.runs->len == 0)
    return;
  add_pieces (&search);
  if (search.pieces->len < 2)
    return;
  find_shifts (&search);
  if (search.n_shifts < 2)
    return;
  path = g_new0 (guint, search.pieces->len);
  steady = best_path (&search, FALSE, path);
  steady_s = search.shifts[path[0] % search.n_shifts];
  gain = best_path (&search, TRUE, path) - steady;
  if (gain > 0 && gain < LEAST_GAIN && model_gain (&search, path, steady_s) < LEAST_MODEL_GAIN)
    {
      work->doubt_s[camera] = CHANGE_DOUBT_S;
      gain = 0;
    }
  if (gain > 0)
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
                < ON_US;
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
}
