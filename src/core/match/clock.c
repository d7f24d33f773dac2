/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clock shift by histogram, prior and refinement. Every note is taken to belong to some stop or to
 * none, whichever, so a third of wrong notes moves nothing. Cost: bounded by PAIRS_MAX for the
 * histogram, notes x log stops for each trial. */
#include "core/match/clock.h"

#include <math.h>
#include <string.h>

#define BIN_US (10 * SW_US_PER_SECOND)
/* Differences beyond this are no clock fault that notes could show. */
#define REACH_US (G_GINT64_CONSTANT (400) * 86400 * SW_US_PER_SECOND)
#define PAIRS_MAX 2000000
/* More notes than this add no certainty, only work: every so many are asked. */
#define NOTES_ENOUGH 300
#define HOUR_S 3600.0
#define DAY_S 86400.0
/* Share of notes that belong to no stop of this camera, or bear a wrong time. */
#define STRAY_SHARE 0.15
/* Share of notes with no photo of this camera anywhere near. */
#define ALONE_SHARE 0.02
/* The likelihood takes notes as independent, which order makes untrue: it is toned down. */
#define TEMPER 0.6
/* Modes this close are one clock; it is known when they hold that share of all. */
#define NEAR_MODE_S 60.0
#define KNOWN_SHARE 0.7
/* Seconds within which a shift is taken for a whole number of hours. */
#define SNAP_S 3.0
/* Notes farther from a stop than this tell nothing. */
#define NEAR_US (240 * SW_US_PER_SECOND)

static double
normal_log_density (double x, double sd)
{
  return -0.5 * (x / sd) * (x / sd) - log (sd * sqrt (2 * G_PI));
}

double
sw_clock_log_prior (double shift_s)
{
  double hours = rint (shift_s / HOUR_S), days = rint (shift_s / DAY_S);
  double density = 0.55 * exp (normal_log_density (shift_s, 1.5));

  if (hours != 0 && fabs (hours) <= 14)
    density += 0.16 / 28 * exp (normal_log_density (shift_s - hours * HOUR_S, 2.0))
               + 0.05 / 28 * exp (normal_log_density (shift_s - hours * HOUR_S, 60.0));
  if (days != 0)
    density += 0.06 * exp (normal_log_density (shift_s - days * DAY_S, 2.0)) / (4 * days * days);
  /* Minutes wrong, then anything. */
  density += 0.14 * exp (-fabs (shift_s) / 400) / 800;
  density += 0.04 / (4 * DAY_S) / (1 + pow (shift_s / (2 * DAY_S), 2));
  return log (density);
}

typedef struct
{
  const SwClockStop *stops;
  gsize n_stops;
  const SwWalkNote *notes;
  gsize n_notes;
  const SwWalkParams *params;
  double background; /* density of a note anywhere on the walk, per second */
  double span_s;
  gsize stride; /* every so many notes are asked */
} Clock;

/* Density of the note's time given one stop, the stop moved by shift. */
static double
stop_density (const Clock *clock, const SwClockStop *stop, const SwWalkNote *note, gint64 shift_us)
{
  const SwWalkParams *params = clock->params;
  double res_s = MAX ((double)note->resolution_us / 1e6, 1.0);
  double before_s = (double)(stop->first_us + shift_us - note->time_us) / 1e6;
  double after_s = (double)(note->time_us - stop->last_us - shift_us) / 1e6;
  double sum = 0;

  sum += params->lag_share[SW_LAG_BEFORE] * sw_lag_density (params, SW_LAG_BEFORE, before_s, res_s);
  sum += params->lag_share[SW_LAG_AFTER] * sw_lag_density (params, SW_LAG_AFTER, after_s, res_s);
  if (before_s <= 0 && after_s <= 0)
    sum += params->lag_share[SW_LAG_DURING] / MAX (-before_s - after_s, 25);
  return sum;
}

/* First stop that ends at or after t. */
static gsize
first_ending (const Clock *clock, gint64 t)
{
  gsize low = 0, high = clock->n_stops;

  while (low < high)
    {
      gsize mid = (low + high) / 2;

      if (clock->stops[mid].last_us < t)
        low = mid + 1;
      else
        high = mid;
    }
  return low;
}

static double
note_log_likelihood (const Clock *clock, const SwWalkNote *note, gint64 shift_us)
{
  gint64 t = note->time_us - shift_us;
  double sum = 0, decided = 0, stray;

  for (gsize k = first_ending (clock, t - NEAR_US); k < clock->n_stops; k++)
    {
      const SwClockStop *stop = &clock->stops[k];
      double density;

      if (stop->first_us > t + NEAR_US)
        break;
      density = stop_density (clock, stop, note, shift_us);
      sum += density;
      if (stop->item >= 0 && stop->item == note->item)
        decided += density;
    }
  /* A stop that a person gave to this very item speaks for all stops. */
  if (decided > 0)
    sum = MAX (sum, decided * (double)clock->n_stops * 0.5);
  stray = sum > 0 ? STRAY_SHARE : ALONE_SHARE;
  return log (stray * clock->background + (1 - STRAY_SHARE) * sum / (double)clock->n_stops);
}

static double
log_likelihood (const Clock *clock, double shift_s)
{
  gint64 shift_us = (gint64)llrint (shift_s * 1e6);
  double sum = 0;

  for (gsize k = 0; k < clock->n_notes; k += clock->stride)
    if (clock->notes[k].item >= 0)
      sum += note_log_likelihood (clock, &clock->notes[k], shift_us) - log (clock->background);
  return TEMPER * sum + sw_clock_log_prior (shift_s);
}

/* Clocks are wrong by these more than by others: a change of season, a zone, a day mistyped. */
static const int whole_hours[]
    = { -1, 1,  -24, 24, -2, 2,  -12, 12, -48, 48,  -3, 3,   -4, 4,   -5,
        5,  -6, 6,   -7, 7,  -8, 8,   -9, 9,   -10, 10, -11, 11, -13, 13 };

typedef struct
{
  gint64 bin;
  double score;
} Peak;

static int
compare_bins (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *)a, y = *(const gint64 *)b;

  return (x > y) - (x < y);
}

static int
compare_peaks (gconstpointer a, gconstpointer b)
{
  const Peak *x = a, *y = b;

  if (x->score != y->score)
    return x->score > y->score ? -1 : 1;
  return (x->bin > y->bin) - (x->bin < y->bin);
}

/* All differences note - stop start, in bins, sorted; every stride-th stop where there are too
 * many. */
static GArray *
difference_bins (const Clock *clock)
{
  GArray *bins = g_array_new (FALSE, FALSE, sizeof (gint64));
  gsize stride = MAX (1, clock->n_stops * clock->n_notes / PAIRS_MAX);

  for (gsize s = 0; s < clock->n_stops; s += stride)
    for (gsize k = 0; k < clock->n_notes; k++)
      {
        gint64 difference = clock->notes[k].time_us - clock->stops[s].first_us;

        if (clock->notes[k].item < 0 || ABS (difference) > REACH_US)
          continue;
        gint64 bin = difference >= 0 ? difference / BIN_US : -((-difference + BIN_US - 1) / BIN_US);
        g_array_append_val (bins, bin);
      }
  g_array_sort (bins, compare_bins);
  return bins;
}

/* Bins with their counts, each with half its neighbours', weighed by the prior at their middle. */
static GArray *
find_peaks (const Clock *clock)
{
  g_autoptr (GArray) bins = difference_bins (clock);
  g_autoptr (GArray) counts = g_array_new (FALSE, FALSE, sizeof (Peak));
  GArray *peaks = g_array_new (FALSE, FALSE, sizeof (Peak));

  for (guint i = 0; i < bins->len;)
    {
      Peak peak = { g_array_index (bins, gint64, i), 0 };

      while (i < bins->len && g_array_index (bins, gint64, i) == peak.bin)
        {
          peak.score++;
          i++;
        }
      g_array_append_val (counts, peak);
    }
  for (guint i = 0; i < counts->len; i++)
    {
      Peak peak = g_array_index (counts, Peak, i);

      if (i > 0 && g_array_index (counts, Peak, i - 1).bin == peak.bin - 1)
        peak.score += 0.5 * g_array_index (counts, Peak, i - 1).score;
      if (i + 1 < counts->len && g_array_index (counts, Peak, i + 1).bin == peak.bin + 1)
        peak.score += 0.5 * g_array_index (counts, Peak, i + 1).score;
      g_array_append_val (peaks, peak);
    }
  g_array_sort (peaks, compare_peaks);
  return peaks;
}

/* Climbs to the best shift near 'start' in ever smaller steps. */
static double
climb (const Clock *clock, double start, double step)
{
  double best = start, score = log_likelihood (clock, start);

  for (; step >= 0.5; step /= 2)
    for (gboolean moved = TRUE; moved;)
      {
        moved = FALSE;
        for (int side = -1; side <= 1; side += 2)
          {
            double trial = best + side * step;
            double value = log_likelihood (clock, trial);

            if (value > score + 1e-9)
              {
                best = trial;
                score = value;
                moved = TRUE;
              }
          }
      }
  return best;
}

/* Mass and spread of a mode, summed over a grid about its top. */
static SwClockMode
weigh_mode (const Clock *clock, double top)
{
  double peak = log_likelihood (clock, top), mass = 0, first = 0, second = 0;

  for (double away = -40; away <= 40; away += fabs (away) < 12 ? 1 : 4)
    {
      double width = fabs (away) < 12 ? 1 : 4;
      double weight = width * exp (log_likelihood (clock, top + away) - peak);

      mass += weight;
      first += weight * away;
      second += weight * away * away;
    }
  first /= mass;
  return (SwClockMode){
    .shift_s = top,
    .spread_s = sqrt (MAX (second / mass - first * first, 0.25)),
    .log_weight = peak + log (mass),
  };
}

static int
compare_modes (gconstpointer a, gconstpointer b)
{
  const SwClockMode *x = a, *y = b;

  if (x->log_weight != y->log_weight)
    return x->log_weight > y->log_weight ? -1 : 1;
  return (x->shift_s > y->shift_s) - (x->shift_s < y->shift_s);
}

static gsize
add_mode (const Clock *clock, double start, double step, SwClockMode *modes, gsize n)
{
  double top = climb (clock, start, step);

  for (gsize k = 0; k < n; k++)
    if (fabs (modes[k].shift_s - top) < 20)
      {
        /* The same hill, climbed from another side: the higher top stands. */
        if (log_likelihood (clock, top) > log_likelihood (clock, modes[k].shift_s))
          modes[k] = weigh_mode (clock, top);
        return n;
      }
  modes[n] = weigh_mode (clock, top);
  return n + 1;
}

gsize
sw_clock_modes (const SwClockStop *stops, gsize n_stops, const SwWalkNote *notes, gsize n_notes,
                const SwWalkParams *params, SwClockMode *out_modes)
{
  Clock clock = { stops, n_stops, notes, n_notes, params, 0, 0, 1 };
  SwClockMode modes[40];
  g_autoptr (GArray) peaks = NULL;
  gsize n = 0, items = 0;

  for (gsize k = 0; k < n_notes; k++)
    items += notes[k].item >= 0;
  if (n_stops == 0 || items == 0)
    return 0;
  /* Long pauses hold no notes: a stop accounts for some two minutes of the walk. */
  clock.span_s = MIN ((double)(stops[n_stops - 1].last_us - stops[0].first_us) / 1e6 + 120,
                      (double)n_stops * 150 + 120);
  clock.background = 1 / clock.span_s;
  clock.stride = 1 + items / NOTES_ENOUGH;
  peaks = find_peaks (&clock);
  n = add_mode (&clock, 0, 1, modes, n);
  for (gsize k = 0; k < G_N_ELEMENTS (whole_hours) && n < 30; k++)
    if (log_likelihood (&clock, whole_hours[k] * HOUR_S) > log_likelihood (&clock, 0) - 5)
      n = add_mode (&clock, whole_hours[k] * HOUR_S, 2, modes, n);
  for (guint k = 0; k < MIN (peaks->len, 24) && n < G_N_ELEMENTS (modes); k++)
    n = add_mode (&clock,
                  (double)g_array_index (peaks, Peak, k).bin * (BIN_US / 1e6) + BIN_US / 2e6, 16,
                  modes, n);
  qsort (modes, n, sizeof (SwClockMode), compare_modes);
  n = MIN (n, SW_CLOCK_MODES);
  memcpy (out_modes, modes, n * sizeof (SwClockMode));
  return n;
}

/* A clock that is wrong by hours is wrong by whole ones, and most are right: what is that within
 * its own spread is that. */
static double
snap (const SwClockMode *mode)
{
  double whole = rint (mode->shift_s / HOUR_S) * HOUR_S;

  return fabs (mode->shift_s - whole) <= MIN (mode->spread_s, SNAP_S) ? whole : mode->shift_s;
}

SwClockResult
sw_clock_settle (const SwClockMode *modes, gsize n)
{
  SwClockResult result = { 0 };
  double mass = 0, mean = 0, square = 0, near = 0;

  if (n == 0)
    return result;
  for (gsize k = 0; k < n; k++)
    mass += exp (modes[k].log_weight - modes[0].log_weight);
  for (gsize k = 0; k < n; k++)
    {
      double share = exp (modes[k].log_weight - modes[0].log_weight) / mass;
      double away = modes[k].shift_s - modes[0].shift_s;

      if (fabs (away) <= NEAR_MODE_S)
        near += share;
      mean += share * away;
      square += share * (away * away + modes[k].spread_s * modes[k].spread_s);
    }
  result.shift_s = snap (&modes[0]);
  result.spread_s = sqrt (MAX (square - mean * mean, 0));
  result.known = near >= KNOWN_SHARE;
  if (n > 1)
    {
      result.other_share = exp (modes[1].log_weight - modes[0].log_weight) / mass;
      result.other_s = modes[1].shift_s;
    }
  if (result.other_share < 0.05)
    result.other_s = result.other_share = 0;
  return result;
}
