/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clocks of a proposal's cameras: each by its own evidence, doubts weighed by the whole model,
 * the surest first and the others beside it, at last all that walk along as one. Must not cut or
 * name stops. */
#include "core/match/clock-drift-beside.h"
#include "core/match/clock-gather.h"
#include "core/match/clock-judge.h"
#include "core/match/clock-parts.h"
#include "core/match/clock-stretches.h"

#include <math.h>
#include <string.h>

/* Of more photos than the model judges, the quick look at the only camera leaves no doubt above
 * that share and gain: it asks all of many notes, and they are seldom wrong together. */
#define CLEAR_SHARE 0.995
#define CLEAR_GAIN 6.0
/* Where the model and the quick look at the only camera are that near, the latter's seconds are
 * taken: the habits that it sums over tell them better. */
#define SAME_MODE_S 18.0
/* What a doubtful clock must gain to be shown as one of several. */
#define OPEN_GAIN 2.0
/* Shifts that the model glances at: by the camera's own evidence, and beside other cameras. */
#define OWN_TRIES 10
#define BESIDE_TRIES 18
#define TOGETHER_TRIES 4
/* Rounds in which each camera is asked again beside the others, and what ends them. */
#define SWEEPS 2
#define STILL_S 1.5
/* A shift this close to whole hours is that. */
#define SNAP_S 2.0
/* How little a clock is known that nothing tells of: phones are right, cameras some minutes off. */
#define UNTOLD_SPREAD_S 600.0

int
sw_stops_compare_photos (gconstpointer a, gconstpointer b)
{
  const SwModelPhoto *x = a, *y = b;

  if (x->t_us != y->t_us)
    return x->t_us < y->t_us ? -1 : 1;
  return (x->photo > y->photo) - (x->photo < y->photo);
}

GArray *
sw_stops_photos_of (const SwStopsWork *work, int camera, gboolean vague, double shift_s)
{
  GArray *photos = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (guint i = 0; i < work->walk->n_photos; i++)
    {
      SwModelPhoto photo
          = { i, work->clock_us[i] + work->lean_us[i] + (gint64)llrint (shift_s * 1e6) };

      if (work->usable[i] && work->vague[i] == vague && work->camera[i] == camera
          && work->set[i] < 0)
        g_array_append_val (photos, photo);
    }
  g_array_sort (photos, sw_stops_compare_photos);
  return photos;
}

gint64
sw_stops_place (const SwStopsWork *work, guint i)
{
  int camera = work->camera[i];
  double shift_s = work->set[i] >= 0 ? work->walk->cameras[camera].sets[work->set[i]].shift_s
                                     : work->proposal->clocks[camera].shift_s;

  return work->clock_us[i] + (work->set[i] >= 0 ? 0 : work->lean_us[i])
         + (gint64)llrint (shift_s * 1e6);
}

GArray *
sw_stops_placed_photos (const SwStopsWork *work, int camera, gboolean vague)
{
  GArray *photos = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (guint i = 0; i < work->walk->n_photos; i++)
    if (work->usable[i] && work->vague[i] == vague && work->camera[i] == camera)
      {
        SwModelPhoto photo = { i, sw_stops_place (work, i) };

        g_array_append_val (photos, photo);
      }
  g_array_sort (photos, sw_stops_compare_photos);
  return photos;
}

/* What goes with the shift; a clock that only other cameras speak for is as vague as theirs. */
static void
finish_clock (const SwClockGathered *own, gboolean lead_known, SwClockResult *clock)
{
  clock->counts = sw_clock_count (&own->evidence, clock->shift_s);
  clock->evidence = sw_clock_counts_sum (&clock->counts);
  if (clock->evidence - clock->counts.beside == 0 && !lead_known && clock->n_modes > 0)
    {
      clock->beside_s = clock->spread_s;
      clock->spread_s = hypot (clock->spread_s, UNTOLD_SPREAD_S);
    }
  if (clock->evidence == 0)
    *clock = (SwClockResult){ 0 };
}

/* A shift that is not known, but for one that the evidence speaks of beside others. */
static void
leave_open (const SwClockMode *modes, gsize n, SwClockResult *clock)
{
  SwClockResult open = *clock;

  *clock = (SwClockResult){ 0 };
  if (n < 2 || modes[0].gain < OPEN_GAIN)
    return;
  clock->n_modes = open.n_modes;
  memcpy (clock->modes, open.modes, sizeof open.modes);
  clock->other_s = modes[0].shift_s;
  clock->other_share = sw_clock_mode_share (modes, n, 0);
}

/* --- the search --- */

/* How a camera's clock stands in the search. */
typedef struct
{
  int camera;
  gboolean fixed, known;
  gboolean alone; /* no other camera walks along */
  guint photos;
  SwClockMode own[OWN_TRIES]; /* what it may be by its own evidence */
  gsize n_own;
  SwClockMode modes[SW_CLOCK_MODES];
  gsize n;
  guint seen; /* one more than the moves when it was looked at last; 0: never */
} Turn;

/* The surest has the first turn. */
static int
compare_turns (gconstpointer a, gconstpointer b)
{
  const Turn *x = a, *y = b;

  if (x->fixed != y->fixed)
    return x->fixed ? -1 : 1;
  if (x->known != y->known)
    return x->known ? -1 : 1;
  if (x->photos != y->photos)
    return x->photos > y->photos ? -1 : 1;
  return x->camera - y->camera;
}

static double
snapped (double shift_s)
{
  double away = remainder (shift_s, SW_CLOCK_HOUR_S);

  return fabs (away) < SNAP_S ? shift_s - away : shift_s;
}

/* The camera's photos stand by its likeliest shift from now on. */
static void
place_by (const SwStopsWork *work, const Turn *turn)
{
  if (!turn->fixed)
    work->proposal->clocks[turn->camera].shift_s
        = turn->n > 0 ? snapped (turn->modes[0].shift_s) : 0;
}

/* The judge of a camera's shifts beside those that stand. others: for the judge to borrow. */
static SwClockJudge *
judge_beside (const SwStopsWork *work, const gboolean *standing, const Turn *turn, GArray **others)
{
  g_autoptr (GArray) moved = sw_stops_photos_of (work, turn->camera, FALSE, 0);

  *others = sw_clock_standing_photos (work, standing);
  return sw_clock_judge_new (work->walk, moved, *others, turn->alone);
}

/* The mode's weight stays the model's, its seconds are those of the quick mode that is the same. */
static void
take_seconds (SwClockMode *mode, const SwClockMode *quick, gsize n_quick)
{
  for (gsize k = 0; k < n_quick; k++)
    if (fabs (quick[k].shift_s - mode->shift_s) < SAME_MODE_S)
      {
        mode->shift_s = quick[k].shift_s;
        mode->spread_s = MAX (mode->spread_s, quick[k].spread_s);
        return;
      }
}

static gboolean
is_clear (const Turn *turn, const SwClockMode *quick, gsize n_quick)
{
  return turn->photos > SW_CLOCK_JUDGED && n_quick > 0
         && sw_clock_mode_share (quick, n_quick, 0) > CLEAR_SHARE && quick[0].gain > CLEAR_GAIN;
}

/* Has the camera judged beside those that stand (none: by itself), and placed; TRUE where it moved.
 */
static gboolean
look (const SwStopsWork *work, const gboolean *standing, Turn *turn)
{
  double before = work->proposal->clocks[turn->camera].shift_s;
  SwClockMode tries[OWN_TRIES + BESIDE_TRIES];
  SwClockMode quick[SW_CLOCK_MODES] = { 0 };
  gsize n = turn->n_own, n_quick = 0;
  g_auto (SwClockGathered) own = { 0 };
  g_autoptr (GArray) others = NULL;
  g_autoptr (SwClockJudge) judge = NULL;

  if (turn->fixed)
    return FALSE;
  sw_clock_gather (work, turn->camera, standing, &own);
  if (turn->alone)
    n_quick
        = sw_clock_modes_of (&own.evidence, turn->own, MIN (turn->n_own, SW_CLOCK_MODES), quick);
  if (is_clear (turn, quick, n_quick))
    {
      turn->n = n_quick;
      memcpy (turn->modes, quick, sizeof quick);
      place_by (work, turn);
      return TRUE;
    }
  memcpy (tries, turn->own, n * sizeof (SwClockMode));
  n += sw_clock_tries_beside (&own.evidence, tries + n, BESIDE_TRIES);
  judge = judge_beside (work, standing, turn, &others);
  turn->n = sw_clock_judge_tries (judge, &own.evidence, tries, n, turn->modes);
  for (gsize k = 0; k < turn->n; k++)
    take_seconds (&turn->modes[k], quick, n_quick);
  place_by (work, turn);
  return fabs (work->proposal->clocks[turn->camera].shift_s - before) > STILL_S;
}

/* --- all cameras --- */

/* All cameras that stand as one: what is wrong with one is wrong with all, and what speaks for one
 * speaks for all. The modes of one shift more; none where a person set one of them, or nothing
 * speaks for any. */
static void
look_together (const SwStopsWork *work, const gboolean *standing, Turn *all)
{
  gsize n_cameras = work->walk->n_cameras, n = 0;
  g_autofree double *bases = g_new0 (double, n_cameras + 1);
  g_autoptr (GArray) moved = NULL;
  g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  g_autoptr (SwClockJudge) judge = NULL;
  g_auto (SwClockGathered) own = { 0 };

  all->n = 0;
  for (gsize c = 0; c < n_cameras; c++)
    {
      if (standing[c] && work->walk->cameras[c].fixed)
        return;
      if (standing[c])
        bases[n++] = work->proposal->clocks[c].shift_s;
    }
  sw_clock_gather_together (work, standing, bases, n, &own);
  all->n = sw_clock_tries (&own.evidence, all->modes, TOGETHER_TRIES);
  moved = sw_clock_standing_photos (work, standing);
  judge = sw_clock_judge_new (work->walk, moved, none, FALSE);
  all->n = sw_clock_judge_modes (judge, &own.evidence, all->modes, all->n);
}

/* Moves all that stand by the likeliest shift of all; TRUE where that is any. */
static gboolean
move_together (const SwStopsWork *work, const gboolean *standing, Turn *all, GArray *turns)
{
  double by = all->n > 0 ? all->modes[0].shift_s : 0;

  for (guint k = 0; k < turns->len; k++)
    {
      Turn *turn = &g_array_index (turns, Turn, k);

      if (!standing[turn->camera])
        continue;
      for (gsize m = 0; m < turn->n; m++)
        turn->modes[m].shift_s += by;
      if (turn->n > 0)
        place_by (work, turn);
      else
        work->proposal->clocks[turn->camera].shift_s += by;
    }
  for (gsize m = 0; m < all->n; m++)
    all->modes[m].shift_s -= by;
  return fabs (by) > STILL_S;
}

/* A camera's own modes and what all may be wrong by. */
static void
add_common (const Turn *all, Turn *turn)
{
  SwClockMode sums[2 * SW_CLOCK_MODES];
  gsize n = turn->n;

  if (turn->n == 0 || all->n == 0)
    return;
  memcpy (sums, turn->modes, turn->n * sizeof (SwClockMode));
  for (gsize k = 0; k < n; k++)
    sums[k].spread_s = hypot (sums[k].spread_s, all->modes[0].spread_s);
  for (gsize k = 1; k < all->n; k++)
    {
      sums[n] = turn->modes[0];
      sums[n].shift_s += all->modes[k].shift_s;
      sums[n].spread_s = hypot (sums[n].spread_s, all->modes[k].spread_s);
      sums[n].log_weight += all->modes[k].log_weight - all->modes[0].log_weight;
      n++;
    }
  n = MIN (sw_clock_sort_modes (sums, n), SW_CLOCK_MODES);
  memcpy (turn->modes, sums, n * sizeof (SwClockMode));
  turn->n = n;
}

/* Photos after one from which on a person set the clock. */
static void
read_sets (SwStopsWork *work)
{
  for (guint i = 0; i < work->walk->n_photos; i++)
    {
      const SwWalkCamera *camera = &work->walk->cameras[work->camera[i]];

      work->set[i] = -1;
      for (gsize k = 0; k < camera->n_sets && camera->sets[k].from <= i; k++)
        work->set[i] = (int)k;
    }
}

/* The quick look at each camera by itself. */
static GArray *
take_turns (SwStopsWork *work)
{
  GArray *turns = g_array_new (FALSE, FALSE, sizeof (Turn));

  for (gsize c = 0; c < work->walk->n_cameras; c++)
    {
      const SwWalkCamera *camera = &work->walk->cameras[c];
      g_autoptr (GArray) photos = NULL;
      g_auto (SwClockGathered) own = { 0 };
      Turn turn = { .camera = (int)c, .fixed = camera->fixed };
      SwClockResult quick;

      if (camera->nameless && !camera->fixed)
        continue;
      if (camera->fixed)
        work->proposal->clocks[c].shift_s = camera->shift_s;
      else
        sw_clock_find_parts (work, (int)c);
      photos = sw_stops_photos_of (work, (int)c, FALSE, 0);
      sw_clock_gather (work, (int)c, NULL, &own);
      if (!camera->fixed)
        turn.n_own = sw_clock_tries (&own.evidence, turn.own, OWN_TRIES);
      quick = sw_clock_settle (turn.own, turn.n_own);
      turn.known = quick.known || turn.fixed;
      turn.photos = photos->len;
      g_array_append_val (turns, turn);
    }
  g_array_sort (turns, compare_turns);
  for (guint k = 0; k < turns->len; k++)
    g_array_index (turns, Turn, k).alone = turns->len == 1;
  return turns;
}

/* Looks at one camera beside all others that stand, unless all is as it was when it was looked at
 * last. 'moves' counts what has moved or stood up so far. */
static void
take_turn (const SwStopsWork *work, gboolean *standing, Turn *turn, guint *moves)
{
  gboolean stood = standing[turn->camera];

  if (turn->seen == *moves + 1)
    return;
  standing[turn->camera] = FALSE;
  if (look (work, standing, turn) || !stood)
    (*moves)++;
  /* The first is what the others go by, whatever is known of it. */
  standing[turn->camera] = stood || turn->fixed || turn->n > 0 || *moves == 1;
  turn->seen = *moves + 1;
}

/* One after the other, then each again beside all others and all as one, until they stay. */
static void
search (const SwStopsWork *work, GArray *turns, gboolean *standing, Turn *all)
{
  guint moves = 0;

  for (int round = 0; round <= SWEEPS && turns->len > 0; round++)
    {
      guint before = moves;

      for (guint k = 0; k < turns->len; k++)
        {
          Turn *turn = &g_array_index (turns, Turn, k);

          /* Nothing but the others speaks of the first: they go by it, it cannot go by them. */
          if (k > 0 || turn->n_own > 0 || !standing[turn->camera])
            take_turn (work, standing, turn, &moves);
        }
      if (turns->len == 1)
        return;
      if (round == 0)
        continue;
      if (round > 1 && moves == before)
        break;
      look_together (work, standing, all);
      if (move_together (work, standing, all, turns))
        moves++;
      if (moves == before)
        break;
    }
}

/* Whatever was seen before. */
static void
ask_again (GArray *turns)
{
  for (guint k = 0; k < turns->len; k++)
    g_array_index (turns, Turn, k).seen = 0;
}

/* Clocks that drift against the others', by nothing but the others; TRUE where any does: all are
 * to be asked again. */
static gboolean
find_drift_beside (SwStopsWork *work, GArray *turns, gboolean *standing)
{
  gboolean found = FALSE;

  for (guint k = 1; k < turns->len; k++)
    {
      Turn *turn = &g_array_index (turns, Turn, k);

      if (turn->fixed || !standing[turn->camera]
          || work->proposal->clocks[turn->camera].drift_s_day != 0)
        continue;
      standing[turn->camera] = FALSE;
      found |= sw_clock_find_drift_beside (work, turn->camera, standing);
      standing[turn->camera] = TRUE;
    }
  ask_again (turns);
  return found;
}

static void
settle (const SwStopsWork *work, const Turn *turn, const gboolean *standing, gboolean lead_known)
{
  SwClockResult *clock = &work->proposal->clocks[turn->camera];
  const SwWalkCamera *given = &work->walk->cameras[turn->camera];
  g_auto (SwClockGathered) own = { 0 };
  g_autofree gboolean *others = g_memdup2 (standing, work->walk->n_cameras * sizeof (gboolean));
  SwClockResult before = *clock;

  others[turn->camera] = FALSE;
  sw_clock_gather (work, turn->camera, others, &own);
  if (given->fixed)
    {
      *clock = (SwClockResult){ .shift_s = given->shift_s, .known = TRUE };
      finish_clock (&own, TRUE, clock);
      clock->shift_s = given->shift_s;
      clock->known = TRUE;
      return;
    }
  *clock = sw_clock_settle (turn->modes, turn->n);
  if (clock->known)
    finish_clock (&own, lead_known, clock);
  else
    leave_open (turn->modes, turn->n, clock);
  clock->spread_s = hypot (clock->spread_s, clock->known ? work->doubt_s[turn->camera] : 0);
  /* Drift was found before, and the photos lean by it. */
  clock->drift_s_day = clock->known ? before.drift_s_day : 0;
  clock->drift_from_us = clock->known ? before.drift_from_us : 0;
}

static void
settle_all (const SwStopsWork *work, GArray *turns, const gboolean *standing, const Turn *all)
{
  gboolean lead_known = FALSE;

  for (guint k = 0; k < turns->len; k++)
    {
      Turn *turn = &g_array_index (turns, Turn, k);

      if (standing[turn->camera])
        add_common (all, turn);
      turn->n = sw_clock_add_doubt (turn->modes, turn->n, turn->own, turn->n_own);
      lead_known |= k == 0 && (turn->fixed || sw_clock_settle (turn->modes, turn->n).known);
    }
  for (guint k = 0; k < turns->len; k++)
    settle (work, &g_array_index (turns, Turn, k), standing, lead_known);
}

static double
value_of (const SwStopsWork *work, const gboolean *standing)
{
  g_autoptr (GArray) photos = sw_clock_standing_photos (work, standing);

  return sw_clock_judge_photos (work->walk, photos);
}

/* The others went by stretches that stood elsewhere: all are asked once more. Where the whole is no
 * likelier by it, all stays. */
static void
search_again (SwStopsWork *work, GArray *turns, gboolean *standing, Turn *all)
{
  gsize n = work->walk->n_cameras, n_photos = work->walk->n_photos;
  g_autofree SwClockResult *clocks = g_memdup2 (work->proposal->clocks, n * sizeof *clocks);
  g_autofree gint64 *lean_us = g_memdup2 (work->lean_us, n_photos * sizeof *lean_us);
  g_autoptr (GArray) parts = g_array_copy (work->parts);
  g_autofree gboolean *stood = g_memdup2 (standing, n * sizeof *stood);
  double value = value_of (work, standing);

  ask_again (turns);
  search (work, turns, standing, all);
  settle_all (work, turns, standing, all);
  sw_clock_judge_stretches (work, standing);
  if (value_of (work, stood) >= value)
    return;
  memcpy (work->proposal->clocks, clocks, n * sizeof *clocks);
  memcpy (work->lean_us, lean_us, n_photos * sizeof *lean_us);
  memcpy (work->parts->data, parts->data, parts->len * sizeof (SwClockPart));
}

void
sw_stops_find_clocks (SwStopsWork *work)
{
  g_autofree gboolean *standing = g_new0 (gboolean, work->walk->n_cameras + 1);
  g_autoptr (GArray) turns = NULL;
  Turn all = { 0 };

  read_sets (work);
  turns = take_turns (work);
  search (work, turns, standing, &all);
  if (find_drift_beside (work, turns, standing))
    search (work, turns, standing, &all);
  settle_all (work, turns, standing, &all);
  if (sw_clock_judge_stretches (work, standing) && turns->len > 1)
    search_again (work, turns, standing, &all);
  sw_clock_finish_parts (work);
}
