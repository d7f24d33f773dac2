/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The clocks of a proposal's cameras: the quick look's modes (clock.c) weighed by the whole model,
 * a second camera's beside the first one's photos. Must not cut or name stops. */
#include "core/match/stops-private.h"

#include "core/match/clock.h"

#include <math.h>

/* Photos that a clock is judged by, and rounds of learning for each trial. */
#define JUDGED_PHOTOS 300
/* Seconds to each side at which a top's fall is measured. */
#define SIDE_S 6.0
/* Photos of the lead camera count beside another's within this time. */
#define LEAD_NEAR_US (600 * SW_US_PER_SECOND)
/* Two cameras on one thing: usual distance of their photos, share that stands apart, and how far
 * from the notes' word that is looked for. */
#define AMONG_SCALE_US (8.0 * SW_US_PER_SECOND)
#define AMONG_MOST_US (600 * SW_US_PER_SECOND)
#define AMONG_CHANCE 0.05
#define AMONG_REACH_S 75
#define JUDGE_ROUNDS 1
/* A whole shift is asked about this close to the heaviest mode; how exact such a clock is. */
#define WHOLE_NEAR_S 60.0
#define WHOLE_SPREAD_S 1.5
/* The model knows nobody's habits exactly: its word is toned down, on seconds more than on hours.
 */
#define TEMPER_SECONDS 0.5
#define TEMPER_MODES 0.85
#define TEMPER_WHOLE 0.3
/* Tops this close are one mode. */
#define SAME_MODE_S 8.0
/* Modes this far (in nats) behind the quick look's best are not looked at again. */
#define QUICK_REACH 6.0
/* The same for none and whole hours, which deserve a second look. */
#define WHOLE_REACH 14.0

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
      SwModelPhoto photo = { i, work->clock_us[i] + (gint64)llrint (shift_s * 1e6) };

      if (work->usable[i] && work->vague[i] == vague && work->camera[i] == camera)
        g_array_append_val (photos, photo);
    }
  g_array_sort (photos, sw_stops_compare_photos);
  return photos;
}

/* A first cut by gaps alone: a boundary where the densities say so. */
static GArray *
rough_stops (const SwStopsWork *work, const GArray *photos, SwWalkParams *params)
{
  GArray *stops = g_array_new (FALSE, FALSE, sizeof (SwClockStop));
  g_autofree double *z = g_new0 (double, photos->len);

  for (guint i = 0; i + 1 < photos->len; i++)
    {
      gint64 gap = g_array_index (photos, SwModelPhoto, i + 1).t_us
                   - g_array_index (photos, SwModelPhoto, i).t_us;

      z[i] = log (MAX ((double)gap / 1e6, 0.5));
    }
  *params = sw_walk_params_default ();
  sw_walk_params_guess (params, z, photos->len > 0 ? photos->len - 1 : 0);
  for (guint i = 0; i < photos->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (photos, SwModelPhoto, i);
      SwClockStop stop = { photo->t_us, photo->t_us, work->walk->photos[photo->photo].decided };

      if (i > 0
          && params->boundary * sw_gap_between (params, SW_STEP_ANY, z[i - 1])
                 <= (1 - params->boundary) * sw_gap_within (params, z[i - 1]))
        {
          SwClockStop *open = &g_array_index (stops, SwClockStop, stops->len - 1);

          open->last_us = photo->t_us;
          if (open->item < 0)
            open->item = stop.item;
          continue;
        }
      g_array_append_val (stops, stop);
    }
  return stops;
}

/* Log evidence of a chain of these photos; 0 for none. */
static double
chain_evidence (const SwStopsWork *work, const GArray *photos)
{
  g_autoptr (SwModel) model = NULL;

  if (photos->len == 0)
    return 0;
  model = sw_model_new (work->walk, &g_array_index (photos, SwModelPhoto, 0), photos->len);
  sw_model_run (model, JUDGE_ROUNDS, SW_STOPS_BEAM);
  return sw_model_log_evidence (model);
}

/* Photos of the lead camera that were taken while these were, give or take. */
static GArray *
lead_photos (const SwStopsWork *work, const GArray *photos)
{
  double shift_s = work->proposal->clocks[work->lead].shift_s;
  g_autoptr (GArray) all = sw_stops_photos_of (work, work->lead, FALSE, shift_s);
  GArray *near = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  guint at = 0;

  for (guint i = 0; i < all->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (all, SwModelPhoto, i);

      while (at < photos->len
             && g_array_index (photos, SwModelPhoto, at).t_us < photo->t_us - LEAD_NEAR_US)
        at++;
      if (at < photos->len
          && g_array_index (photos, SwModelPhoto, at).t_us <= photo->t_us + LEAD_NEAR_US)
        g_array_append_val (near, *photo);
    }
  return near;
}

/* Whether the camera's shift is judged against the lead camera's photos. */
static gboolean
goes_by_lead (const SwStopsWork *work, int camera)
{
  return work->lead >= 0 && camera != work->lead && work->proposal->clocks[work->lead].known;
}

/* The whole model's word on a shift: the evidence of the camera's photos under it, given those of
 * the lead camera (whose clock is settled first), parameters learned anew, and the prior. Long
 * series are judged by their middle. */
static double
judge_shift (const SwStopsWork *work, int camera, double shift_s, double temper)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, shift_s);
  guint n = MIN (photos->len, JUDGED_PHOTOS);
  double evidence;

  g_array_remove_range (photos, 0, (photos->len - n) / 2);
  g_array_set_size (photos, n);
  if (!goes_by_lead (work, camera))
    evidence = chain_evidence (work, photos);
  else
    {
      g_autoptr (GArray) lead = lead_photos (work, photos);
      double alone = chain_evidence (work, lead);

      g_array_append_vals (lead, photos->data, photos->len);
      g_array_sort (lead, sw_stops_compare_photos);
      evidence = chain_evidence (work, lead) - alone;
    }
  return temper * evidence + sw_clock_log_prior (shift_s);
}

/* Climbs from the quick look's shift to the model's own best. */
static double
climb_shift (const SwStopsWork *work, int camera, double start)
{
  double best = start, score = judge_shift (work, camera, start, TEMPER_SECONDS);

  for (double step = 8; step >= 1; step /= 2)
    for (int side = -1; side <= 1; side += 2)
      for (int moves = 0; moves < 3; moves++)
        {
          double value = judge_shift (work, camera, best + side * step, TEMPER_SECONDS);

          if (value <= score)
            break;
          best += side * step;
          score = value;
        }
  return best;
}

/* How well the camera's photos stand among the lead camera's under that shift: two that look at one
 * thing are seconds apart. */
static double
stand_among (const GArray *lead, const GArray *photos, double shift_s)
{
  gint64 shift = (gint64)llrint (shift_s * 1e6);
  guint at = 0;
  double sum = 0;

  for (guint i = 0; i < photos->len; i++)
    {
      gint64 t = g_array_index (photos, SwModelPhoto, i).t_us + shift, away = AMONG_MOST_US;

      while (at < lead->len && g_array_index (lead, SwModelPhoto, at).t_us < t)
        at++;
      if (at < lead->len)
        away = MIN (away, g_array_index (lead, SwModelPhoto, at).t_us - t);
      if (at > 0)
        away = MIN (away, t - g_array_index (lead, SwModelPhoto, at - 1).t_us);
      sum += log (AMONG_CHANCE + exp (-(double)away / AMONG_SCALE_US));
    }
  return sum;
}

/* The shift within AMONG_REACH_S of start under which the camera's photos stand best. */
static double
shift_by_lead (const SwStopsWork *work, int camera, double start)
{
  g_autoptr (GArray) lead
      = sw_stops_photos_of (work, work->lead, FALSE, work->proposal->clocks[work->lead].shift_s);
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, 0);
  double best = start, score = stand_among (lead, photos, start);

  for (int away = -AMONG_REACH_S; away <= AMONG_REACH_S; away++)
    {
      double value = stand_among (lead, photos, start + away);

      if (value > score)
        {
          best = start + away;
          score = value;
        }
    }
  return best;
}

/* Spread of a shift that was judged against the lead camera: from the fall of the score to both
 * sides, and the lead's own. */
static double
judged_spread (const SwStopsWork *work, int camera, const SwClockMode *mode)
{
  double lead_s = work->proposal->clocks[work->lead].spread_s;
  double top = judge_shift (work, camera, mode->shift_s, TEMPER_SECONDS);
  double fall = top
                - (judge_shift (work, camera, mode->shift_s - SIDE_S, TEMPER_SECONDS)
                   + judge_shift (work, camera, mode->shift_s + SIDE_S, TEMPER_SECONDS))
                      / 2;
  double own_s = fall > 0 ? SIDE_S / sqrt (2 * fall) : mode->spread_s;

  return hypot (CLAMP (own_s, mode->spread_s * 0.4, mode->spread_s), lead_s);
}

/* The model's best near start; beside a lead camera also near where its photos stand best among
 * that camera's. */
static double
find_top (const SwStopsWork *work, int camera, double start)
{
  double top = climb_shift (work, camera, start), other;

  if (!goes_by_lead (work, camera))
    return top;
  other = climb_shift (work, camera, shift_by_lead (work, camera, start));
  return judge_shift (work, camera, other, TEMPER_SECONDS)
                 > judge_shift (work, camera, top, TEMPER_SECONDS)
             ? other
             : top;
}

static void
sort_modes (SwClockMode *modes, gsize n)
{
  for (gsize k = 1; k < n; k++)
    for (gsize j = k; j > 0 && modes[j].log_weight > modes[j - 1].log_weight; j--)
      {
        SwClockMode swap = modes[j];

        modes[j] = modes[j - 1];
        modes[j - 1] = swap;
      }
}

/* A person's lag and a clock's shift of seconds look much alike, and the model prefers notes that
 * lie close; a right clock, or one that is wrong by whole hours, is much the commoner thing. The
 * whole shift beside the heaviest mode is weighed against it with the evidence toned down, each
 * with its own width. Returns how many modes there are now. */
static gsize
add_whole (const SwStopsWork *work, int camera, SwClockMode *modes, gsize n)
{
  double whole, gain;
  SwClockMode mode;

  if (n == 0)
    return n;
  whole = rint (modes[0].shift_s / 3600) * 3600;
  if (fabs (modes[0].shift_s - whole) > WHOLE_NEAR_S || fabs (modes[0].shift_s - whole) < 0.25)
    return n;
  gain = judge_shift (work, camera, whole, TEMPER_WHOLE)
         - judge_shift (work, camera, modes[0].shift_s, TEMPER_WHOLE)
         + log (WHOLE_SPREAD_S / MAX (modes[0].spread_s, WHOLE_SPREAD_S));
  /* One hill: only where its top is said to lie changes. */
  if (fabs (modes[0].shift_s - whole) < SAME_MODE_S)
    {
      modes[0].shift_s = gain > 0 ? whole : modes[0].shift_s;
      return n;
    }
  mode = (SwClockMode){ whole, WHOLE_SPREAD_S, modes[0].log_weight + gain };
  n = MIN (n + 1, SW_CLOCK_MODES);
  modes[n - 1] = mode;
  sort_modes (modes, n);
  return n;
}

/* The quick look's modes weighed by the model; those it leaves far behind stay so. */
static gsize
weigh_modes (const SwStopsWork *work, int camera, SwClockMode *modes, gsize n)
{
  double top = n > 0 ? modes[0].log_weight : 0;

  for (gsize k = 0; k < n; k++)
    {
      gboolean whole = fabs (remainder (modes[k].shift_s, 3600)) < 10;

      if (modes[k].log_weight < top - (whole ? WHOLE_REACH : QUICK_REACH))
        {
          modes[k].log_weight = -INFINITY;
          continue;
        }
      modes[k].shift_s = find_top (work, camera, modes[k].shift_s);
      modes[k].log_weight
          = judge_shift (work, camera, modes[k].shift_s, TEMPER_MODES) + log (modes[k].spread_s);
      if (goes_by_lead (work, camera))
        modes[k].spread_s = judged_spread (work, camera, &modes[k]);
      /* Two that climbed to one top are one. */
      for (gsize j = 0; j < k; j++)
        if (fabs (modes[j].shift_s - modes[k].shift_s) < SAME_MODE_S)
          {
            if (modes[k].log_weight > modes[j].log_weight)
              modes[j] = modes[k];
            modes[k].log_weight = -INFINITY;
          }
    }
  sort_modes (modes, n);
  return add_whole (work, camera, modes, n);
}

/* Notes that lie by a stop under that shift: what speaks for it. */
static int
count_evidence (const SwStopsWork *work, const GArray *stops, double shift_s)
{
  gint64 shift = (gint64)llrint (shift_s * 1e6), near = 90 * SW_US_PER_SECOND;
  int count = 0;

  for (gsize k = 0; k < work->walk->n_notes; k++)
    {
      const SwWalkNote *note = &work->walk->notes[k];
      guint low = 0, high = stops->len;

      if (note->item < 0)
        continue;
      while (low < high)
        {
          guint mid = (low + high) / 2;

          if (g_array_index (stops, SwClockStop, mid).last_us + shift < note->time_us - near)
            low = mid + 1;
          else
            high = mid;
        }
      if (low < stops->len
          && g_array_index (stops, SwClockStop, low).first_us + shift
                 <= note->time_us + note->resolution_us + near)
        count++;
    }
  return count;
}

void
sw_stops_find_clock (SwStopsWork *work, int camera)
{
  SwClockResult *clock = &work->proposal->clocks[camera];
  const SwWalkCamera *given = &work->walk->cameras[camera];
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, 0);
  g_autoptr (GArray) stops = NULL;
  SwWalkParams params;
  SwClockMode modes[SW_CLOCK_MODES];
  gsize n;

  stops = rough_stops (work, photos, &params);
  if (given->fixed)
    {
      clock->shift_s = given->shift_s;
      clock->known = TRUE;
      clock->evidence = count_evidence (work, stops, given->shift_s);
      return;
    }
  n = sw_clock_modes ((const SwClockStop *)(void *)stops->data, stops->len, work->walk->notes,
                      work->walk->n_notes, &params, modes);
  n = weigh_modes (work, camera, modes, n);
  *clock = sw_clock_settle (modes, n);
  clock->evidence = clock->known ? count_evidence (work, stops, clock->shift_s) : 0;
  /* A note or two near some photo is chance; so is a shift that nothing pins down. */
  if (clock->evidence < 1)
    *clock = (SwClockResult){ .evidence = 0, .known = FALSE };
}
