/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clocks of a proposal's cameras: each by its own evidence, doubts weighed by the whole model,
 * the surest first and the others beside it, at last all that walk along as one. Must not cut or
 * name stops. */
#include "core/match/clock-gather.h"
#include "core/match/clock-parts.h"

#include <math.h>
#include <string.h>

/* Photos that a doubtful clock is judged by, and rounds of learning for each trial. */
#define JUDGED_PHOTOS 300
#define JUDGE_ROUNDS 1
#define JUDGE_ROUNDS_BESIDE 3
/* Photos of other cameras count within this time. */
#define LEAD_NEAR_US (600 * SW_US_PER_SECOND)
/* No doubt is left above that share; modes so far (in nats) behind the best are not judged. */
#define CLEAR_SHARE 0.995
#define QUICK_REACH 14.0
#define BESIDE_REACH 40.0
#define CLEAR_GAIN 6.0
#define OPEN_GAIN 2.0
/* A shift under which no note is near any photo. */
#define NOWHERE_S 3e9
/* A shift this close to whole hours is that. */
#define SNAP_S 2.0
/* Clocks vaguer than this are not refined as one. */
#define TOGETHER_SPREAD_S 60.0
/* The model knows nobody's habits exactly: its word is toned down. */
#define TEMPER_MODES 0.85
#define TEMPER_BESIDE 0.4
/* A whole shift is asked about this far from the heaviest mode. */
#define WHOLE_LEAST_S 3.0
#define WHOLE_MOST_S 60.0
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

/* --- one camera --- */

/* The other cameras' photos within LEAD_NEAR_US of these. */
static GArray *
photos_near (const SwStopsWork *work, const gboolean *settled, const GArray *photos)
{
  GArray *near = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (gsize c = 0; settled != NULL && c < work->walk->n_cameras; c++)
    {
      g_autoptr (GArray) all = settled[c] ? sw_stops_placed_photos (work, (int)c, FALSE) : NULL;
      guint at = 0;

      for (guint i = 0; all != NULL && i < all->len; i++)
        {
          const SwModelPhoto *photo = &g_array_index (all, SwModelPhoto, i);

          while (at < photos->len
                 && g_array_index (photos, SwModelPhoto, at).t_us < photo->t_us - LEAD_NEAR_US)
            at++;
          if (at < photos->len
              && g_array_index (photos, SwModelPhoto, at).t_us <= photo->t_us + LEAD_NEAR_US)
            g_array_append_val (near, *photo);
        }
    }
  g_array_sort (near, sw_stops_compare_photos);
  return near;
}

/* Log evidence of the whole model for those photos, parameters learned anew; as a density of
 * seconds, not of their logarithms: a shift moves times. */
static double
chain_evidence (const SwStopsWork *work, const GArray *photos, int rounds)
{
  g_autoptr (SwModel) model = NULL;
  double logs = 0;

  if (photos->len == 0)
    return 0;
  for (guint i = 1; i < photos->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (photos, SwModelPhoto, i);

      logs += log (MAX ((double)(photo->t_us - photo[-1].t_us) / 1e6, 0.5));
    }
  model = sw_model_new (work->walk, &g_array_index (photos, SwModelPhoto, 0), photos->len);
  sw_model_run (model, rounds, SW_STOPS_BEAM);
  return sw_model_log_evidence (model) - logs;
}

/* What the camera's photos add to the settled ones under that shift; long series are judged by
 * their middle. */
static double
judge_shift (const SwStopsWork *work, int camera, const gboolean *settled, double shift_s)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, shift_s);
  g_autoptr (GArray) near = NULL;
  guint n = MIN (photos->len, JUDGED_PHOTOS);
  int rounds = settled != NULL ? JUDGE_ROUNDS_BESIDE : JUDGE_ROUNDS;
  double alone;

  g_array_remove_range (photos, 0, (photos->len - n) / 2);
  g_array_set_size (photos, n);
  near = photos_near (work, settled, photos);
  alone = chain_evidence (work, near, rounds);
  g_array_append_vals (near, photos->data, photos->len);
  g_array_sort (near, sw_stops_compare_photos);
  return chain_evidence (work, near, rounds) - alone;
}

/* Beside another camera the quick look likes photos laid on each other. Clocks that are wrong by
 * hours are wrong by whole ones: that shift, near the heaviest mode, has the whole model's word
 * too.
 */
static gsize
try_whole (const SwStopsWork *work, int camera, const gboolean *settled, SwClockMode *modes,
           gsize n)
{
  double whole = rint (modes[0].shift_s / 3600) * 3600, away = fabs (modes[0].shift_s - whole),
         gain;
  SwClockMode mode = modes[0];

  if (away < WHOLE_LEAST_S || away > WHOLE_MOST_S)
    return n;
  gain = judge_shift (work, camera, settled, whole)
         - judge_shift (work, camera, settled, modes[0].shift_s);
  mode.shift_s = whole;
  mode.log_weight
      += TEMPER_BESIDE * gain + sw_clock_log_prior (whole) - sw_clock_log_prior (modes[0].shift_s);
  mode.gain += gain;
  n = MIN (n + 1, SW_CLOCK_MODES);
  modes[n - 1] = mode;
  return sw_clock_sort_modes (modes, n);
}

/* The quick look takes notes one by one, and other cameras' photos without stops; where it leaves a
 * doubt, the whole model speaks for both: it knows that a thing has one note, that notes and things
 * come in one order, and what the gaps of this walk are. */
static gsize
weigh_by_model (const SwStopsWork *work, int camera, const gboolean *settled, SwClockMode *modes,
                gsize n)
{
  double top = n > 0 ? modes[0].log_weight : 0, nothing;
  double temper = settled != NULL ? TEMPER_BESIDE : TEMPER_MODES;

  if (n == 0 || (work->walk->n_notes == 0 && settled == NULL)
      || (settled == NULL && sw_clock_mode_share (modes, n, 0) > CLEAR_SHARE
          && modes[0].gain > CLEAR_GAIN))
    return n;
  nothing = judge_shift (work, camera, settled, NOWHERE_S);
  for (gsize k = 0; k < n; k++)
    if (modes[k].log_weight < top - (settled != NULL ? BESIDE_REACH : QUICK_REACH))
      modes[k].log_weight = -INFINITY;
    else
      {
        double gain = judge_shift (work, camera, settled, modes[k].shift_s) - nothing;
        double quick = modes[k].by_notes + modes[k].by_others;

        modes[k].log_weight += temper * gain - quick;
        modes[k].gain += gain - quick;
      }
  n = sw_clock_sort_modes (modes, n);
  return settled != NULL ? try_whole (work, camera, settled, modes, n) : n;
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

/* settled: cameras whose photos are its others; NULL: by itself. */
static void
find_clock (const SwStopsWork *work, int camera, const gboolean *settled, gboolean lead_known)
{
  SwClockResult *clock = &work->proposal->clocks[camera];
  const SwWalkCamera *given = &work->walk->cameras[camera];
  g_auto (SwClockGathered) own = { 0 };
  SwClockMode modes[SW_CLOCK_MODES];
  SwClockResult before = *clock;
  gsize n;

  sw_clock_gather (work, camera, settled, &own);
  if (given->fixed)
    {
      *clock = (SwClockResult){ .shift_s = given->shift_s, .known = TRUE };
      finish_clock (&own, TRUE, clock);
      clock->shift_s = given->shift_s;
      clock->known = TRUE;
      return;
    }
  n = sw_clock_modes (&own.evidence, modes);
  n = weigh_by_model (work, camera, settled, modes, n);
  *clock = sw_clock_settle (modes, n);
  if (clock->known)
    finish_clock (&own, lead_known, clock);
  else
    leave_open (modes, n, clock);
  /* Drift was found before, and the photos lean by it. */
  clock->drift_s_day = clock->known ? before.drift_s_day : 0;
  clock->drift_from_us = clock->known ? before.drift_from_us : 0;
}

/* --- all cameras --- */

/* How a camera's clock stands by itself: the surest has the first turn. */
typedef struct
{
  int camera;
  gboolean fixed, known;
  guint photos;
} Turn;

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
  double away = remainder (shift_s, 3600);

  return fabs (away) < SNAP_S ? shift_s - away : shift_s;
}

static void
move_clock (SwClockResult *clock, const SwClockMode *mode)
{
  clock->shift_s = snapped (clock->shift_s + mode->shift_s);
  /* Another mode stays one. */
  clock->spread_s = clock->other_share > 0 ? MAX (clock->spread_s, mode->spread_s) : mode->spread_s;
  if (clock->n_modes > 0)
    {
      clock->modes[0].shift_s = clock->shift_s;
      clock->modes[0].spread_s = mode->spread_s;
    }
}

/* The shifts of cameras that walk along as one: what is wrong with one is wrong with all, and what
 * speaks for one speaks for all. */
static void
refine_together (const SwStopsWork *work, const gboolean *settled)
{
  gsize n_cameras = work->walk->n_cameras, n = 0;
  g_auto (SwClockGathered) own = { 0 };
  g_autofree double *bases = g_new0 (double, n_cameras + 1);
  g_autofree gboolean *along = g_new0 (gboolean, n_cameras + 1);
  SwClockMode mode;

  for (gsize c = 0; c < n_cameras; c++)
    {
      const SwClockResult *clock = &work->proposal->clocks[c];

      along[c] = settled[c] && clock->known && clock->spread_s <= TOGETHER_SPREAD_S;
      if (along[c] && work->walk->cameras[c].fixed)
        return;
      if (along[c])
        bases[n++] = clock->shift_s;
    }
  if (n < 2)
    return;
  sw_clock_gather_together (work, along, bases, n, &own);
  mode = sw_clock_weigh (&own.evidence, 0);
  for (gsize c = 0; c < n_cameras; c++)
    if (along[c])
      move_clock (&work->proposal->clocks[c], &mode);
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

static GArray *
take_turns (SwStopsWork *work)
{
  GArray *turns = g_array_new (FALSE, FALSE, sizeof (Turn));

  for (gsize c = 0; c < work->walk->n_cameras; c++)
    {
      const SwWalkCamera *camera = &work->walk->cameras[c];
      g_autoptr (GArray) photos = NULL;
      Turn turn = { .camera = (int)c, .fixed = camera->fixed };

      if (camera->nameless && !camera->fixed)
        continue;
      if (!camera->fixed)
        sw_clock_find_parts (work, (int)c);
      photos = sw_stops_photos_of (work, (int)c, FALSE, 0);
      find_clock (work, (int)c, NULL, TRUE);
      turn.known = work->proposal->clocks[c].known;
      turn.photos = photos->len;
      g_array_append_val (turns, turn);
    }
  g_array_sort (turns, compare_turns);
  return turns;
}

void
sw_stops_find_clocks (SwStopsWork *work)
{
  g_autofree gboolean *settled = g_new0 (gboolean, work->walk->n_cameras + 1);
  g_autoptr (GArray) turns = NULL;
  gboolean lead_known;

  read_sets (work);
  turns = take_turns (work);
  lead_known = turns->len > 0 && g_array_index (turns, Turn, 0).known;
  for (guint k = 0; k < turns->len; k++)
    {
      int camera = g_array_index (turns, Turn, k).camera;

      if (k > 0)
        find_clock (work, camera, settled, lead_known);
      settled[camera] = work->proposal->clocks[camera].known || k == 0;
    }
  if (turns->len > 1)
    refine_together (work, settled);
  sw_clock_finish_parts (work);
}
