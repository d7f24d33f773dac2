/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clock shift by histogram, prior and summing over a grid. Cost: bounded by PAIRS_MAX for the
 * histogram; each trial is linear in the evidence. Must not know cameras' order (camera-clocks.c).
 */
#include "core/match/clock.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define BIN_US (10 * SW_US_PER_SECOND)
/* Differences beyond this are no clock fault that notes could show. */
#define REACH_US (G_GINT64_CONSTANT (20000) * 86400 * SW_US_PER_SECOND)
#define PAIRS_MAX 400000
/* Bins of so wide a span are counted in place: a year and more. */
#define BINS_COUNTED (1 << 22)
/* Peaks of a histogram that are tried. */
#define PEAKS 30
/* Beside another camera the right shift is a needle of a second or two: bins are gone through in
 * such steps, for so much work, and the best of them tried. */
#define SCAN_STEP_S 2
#define SCAN_WORK 3000000
#define SCANNED 24
#define NEEDLE_S 12
#define DAY_S 86400.0
/* The likelihoods take pieces as independent, which one walk makes untrue: toned down. */
#define TEMPER_NOTES 0.7
#define TEMPER_AMONG 0.4
/* Modes this close are one clock; it is known when they hold that share of all, or when all that it
 * may be lies within some minutes, which is nearer than none; and the evidence gains so much (in
 * nats) over telling nothing. */
#define NEAR_MODE_S 60.0
#define KNOWN_SHARE 0.7
#define KNOWN_SPREAD_S 600.0
#define KNOWN_GAIN 2.0
/* A mode of less is not handed on. */
#define LEAST_SHARE 0.002
/* Seconds to each side of a mode's top that are summed over. */
#define GRID_S (SW_CLOCK_GRID / 2)
/* A try that far behind the best (in nats) holds nothing of the posterior to the last digit. */
#define HOPELESS 60.0
/* How wide a mode is taken to be by a first look. */
#define ROUGH_SPREAD_S 15.0
/* Modes whose grids cover each other are one. */
#define SAME_S 35
/* What is called near: the mode's shift is the middle of the heaviest so many seconds each way. */
#define SETTLE_S 4

static double
normal_log_density (double x, double sd)
{
  return -0.5 * (x / sd) * (x / sd) - log (sd * sqrt (2 * G_PI));
}

double
sw_clock_log_prior (double shift_s)
{
  double hours = rint (shift_s / SW_CLOCK_HOUR_S), days = rint (shift_s / DAY_S);
  double density = 0.55 * exp (normal_log_density (shift_s, 1.5));

  if (hours != 0 && fabs (hours) <= 14)
    density += 0.16 / 28 * exp (normal_log_density (shift_s - hours * SW_CLOCK_HOUR_S, 2.0))
               + 0.05 / 28 * exp (normal_log_density (shift_s - hours * SW_CLOCK_HOUR_S, 60.0));
  if (days != 0)
    density += 0.06 * exp (normal_log_density (shift_s - days * DAY_S, 2.0)) / (4 * days * days);
  /* Minutes wrong, then anything. */
  density += 0.14 * exp (-fabs (shift_s) / 400) / 800;
  density += 0.04 / (4 * DAY_S) / (1 + pow (shift_s / (2 * DAY_S), 2));
  return log (density);
}

typedef struct
{
  const SwClockEvidence *evidence;
  SwClockTables *tables;
} Clock;

double
sw_clock_anchors_likelihood (const SwClockEvidence *evidence, double shift_s)
{
  double sum = 0;

  for (gsize k = 0; k < evidence->n_faces; k++)
    sum += sw_clock_face_likelihood (&evidence->faces[k], shift_s);
  for (gsize k = 0; k < evidence->n_fixes; k++)
    sum += sw_clock_fix_likelihood (&evidence->fixes[k], shift_s);
  return sum;
}

static double
log_likelihood (const Clock *clock, double shift_s)
{
  return TEMPER_NOTES * sw_clock_notes_likelihood (clock->tables, shift_s)
         + sw_clock_anchors_likelihood (clock->evidence, shift_s)
         + TEMPER_AMONG * sw_clock_among_likelihood (clock->tables, shift_s);
}

double
sw_clock_log_prior_of (const SwClockEvidence *evidence, double shift_s)
{
  double sum = evidence->n_bases == 0 ? sw_clock_log_prior (shift_s) : 0;

  for (gsize k = 0; k < evidence->n_bases; k++)
    sum += sw_clock_log_prior (evidence->bases[k] + shift_s);
  return sum;
}

static double
log_posterior (const Clock *clock, double shift_s)
{
  return log_likelihood (clock, shift_s) + sw_clock_log_prior_of (clock->evidence, shift_s);
}

/* --- where to look --- */

/* Clocks are wrong by these more than by others: a change of season, a zone, a day mistyped. */
static const int whole_hours[] = { 0, -1, 1, -24, 24, -2, 2, -12, 12, -48, 48, -3,  3,  -4,  4, -5,
                                   5, -6, 6, -7,  7,  -8, 8, -9,  9,  -10, 10, -11, 11, -13, 13 };

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

static void
add_difference (GArray *bins, gint64 difference)
{
  gint64 bin = difference >= 0 ? difference / BIN_US : -((-difference + BIN_US - 1) / BIN_US);

  if (ABS (difference) <= REACH_US)
    g_array_append_val (bins, bin);
}

/* All differences note - stop, both ends of it; every so many stops where there are too many. */
static GArray *
note_differences (const SwClockEvidence *evidence)
{
  GArray *bins = g_array_new (FALSE, FALSE, sizeof (gint64));
  gsize stride = 1 + 2 * evidence->n_stops * evidence->n_notes / PAIRS_MAX;

  for (gsize s = 0; s < evidence->n_stops; s += stride)
    for (gsize k = 0; k < evidence->n_notes; k++)
      if (evidence->notes[k].item >= 0)
        {
          add_difference (bins, evidence->notes[k].time_us - evidence->stops[s].first_us);
          add_difference (bins, evidence->notes[k].time_us - evidence->stops[s].last_us);
        }
  return bins;
}

/* The same of all photos against the other cameras': those of one thing are seconds apart. */
static GArray *
other_differences (const SwClockEvidence *evidence)
{
  GArray *bins = g_array_new (FALSE, FALSE, sizeof (gint64));
  gsize stride = 1 + evidence->n_photos * evidence->n_others / PAIRS_MAX;

  for (gsize j = 0; j < evidence->n_others; j++)
    for (gsize i = 0; i < evidence->n_photos; i += stride)
      add_difference (bins, evidence->others[j] - evidence->photos[i]);
  return bins;
}

static void
add_count (GArray *counts, gint64 bin, guint n)
{
  Peak peak = { bin, n };

  if (n > 0)
    g_array_append_val (counts, peak);
}

/* How many differences fall into each bin, by bin: counted where they lie within some months, else
 * in order. */
static GArray *
count_bins (GArray *bins)
{
  GArray *counts = g_array_new (FALSE, FALSE, sizeof (Peak));
  gint64 least = G_MAXINT64, most = G_MININT64;

  for (guint i = 0; i < bins->len; i++)
    {
      least = MIN (least, g_array_index (bins, gint64, i));
      most = MAX (most, g_array_index (bins, gint64, i));
    }
  if (bins->len > 0 && most - least < BINS_COUNTED)
    {
      g_autofree guint *count = g_new0 (guint, (gsize)(most - least + 1));

      for (guint i = 0; i < bins->len; i++)
        count[g_array_index (bins, gint64, i) - least]++;
      for (gint64 bin = least; bin <= most; bin++)
        add_count (counts, bin, count[bin - least]);
      return counts;
    }
  g_array_sort (bins, compare_bins);
  for (guint i = 0, end; i < bins->len; i = end)
    {
      for (end = i;
           end < bins->len && g_array_index (bins, gint64, end) == g_array_index (bins, gint64, i);)
        end++;
      add_count (counts, g_array_index (bins, gint64, i), end - i);
    }
  return counts;
}

/* Bins with their counts, each with half its neighbours', the fullest first. */
static GArray *
find_peaks (GArray *bins)
{
  g_autoptr (GArray) counts = count_bins (bins);
  GArray *peaks = g_array_sized_new (FALSE, FALSE, sizeof (Peak), counts->len);

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

/* --- the modes --- */

static int
compare_modes (gconstpointer a, gconstpointer b)
{
  const SwClockMode *x = a, *y = b;

  if (x->log_weight != y->log_weight)
    return x->log_weight > y->log_weight ? -1 : 1;
  return (x->shift_s > y->shift_s) - (x->shift_s < y->shift_s);
}

gsize
sw_clock_sort_modes (SwClockMode *modes, gsize n)
{
  gsize kept = 0;

  qsort (modes, n, sizeof (SwClockMode), compare_modes);
  for (gsize k = 0; k < n; k++)
    {
      gboolean same = FALSE;

      for (gsize j = 0; j < kept; j++)
        same |= fabs (modes[j].shift_s - modes[k].shift_s) < SAME_S;
      if (!same)
        modes[kept++] = modes[k];
    }
  return kept;
}

/* A first look at one candidate, kept with those found already: the higher of two that are close.
 */
static void
try_shift (const Clock *clock, double shift_s, double step, GArray *tries)
{
  SwClockMode best = { .shift_s = shift_s,
                       .spread_s = ROUGH_SPREAD_S,
                       .log_weight = log_posterior (clock, shift_s) };
  gboolean beside = clock->evidence->n_others > 0;
  double least = beside ? 1 : 4, close_s = beside ? NEEDLE_S : GRID_S;

  for (; step >= least; step /= 2)
    for (int side = -1; side <= 1; side += 2)
      {
        double value = log_posterior (clock, best.shift_s + side * step);

        if (value > best.log_weight)
          {
            best.shift_s += side * step;
            best.log_weight = value;
          }
      }
  best.gain = best.log_weight - sw_clock_log_prior_of (clock->evidence, best.shift_s);
  for (guint k = 0; k < tries->len; k++)
    {
      SwClockMode *other = &g_array_index (tries, SwClockMode, k);

      if (fabs (other->shift_s - best.shift_s) < close_s)
        {
          if (best.log_weight > other->log_weight)
            *other = best;
          return;
        }
    }
  g_array_append_val (tries, best);
}

static void
try_peaks (const Clock *clock, GArray *bins, GArray *tries)
{
  g_autoptr (GArray) peaks = find_peaks (bins);

  for (guint k = 0; k < MIN (peaks->len, PEAKS); k++)
    try_shift (clock, (double)g_array_index (peaks, Peak, k).bin * (BIN_US / 1e6) + BIN_US / 2e6,
               16, tries);
  g_array_unref (bins);
}

/* The other cameras' photos alone, bin by bin, those with most differences first. */
static void
try_scan (const Clock *clock, GArray *bins, GArray *tries)
{
  const SwClockEvidence *evidence = clock->evidence;
  g_autoptr (GArray) peaks = find_peaks (bins);
  g_autoptr (GArray) seen = g_array_new (FALSE, FALSE, sizeof (SwClockMode));
  gsize most = SCAN_WORK * SCAN_STEP_S / 10 / (evidence->n_photos + evidence->n_others + 1);

  for (guint k = 0; k < MIN (peaks->len, most); k++)
    {
      double from_s = (double)g_array_index (peaks, Peak, k).bin * (BIN_US / 1e6);
      SwClockMode best = { .log_weight = -INFINITY };

      for (double s = from_s; s < from_s + BIN_US / 1e6; s += SCAN_STEP_S)
        {
          double weight = TEMPER_AMONG * sw_clock_among_likelihood (clock->tables, s)
                          + sw_clock_log_prior_of (evidence, s);

          if (weight > best.log_weight)
            best = (SwClockMode){ .shift_s = s, .log_weight = weight };
        }
      g_array_append_val (seen, best);
    }
  g_array_sort (seen, compare_modes);
  for (guint k = 0; k < MIN (seen->len, SCANNED); k++)
    try_shift (clock, g_array_index (seen, SwClockMode, k).shift_s, 1, tries);
  g_array_unref (bins);
}

static void
try_anchors (const Clock *clock, const SwClockAnchor *anchors, gsize n, GArray *tries)
{
  gsize stride = 1 + n / 40;

  for (gsize k = 0; k < n; k += stride)
    {
      double shift_s
          = (double)(anchors[k].true_us - anchors[k].clock_us + anchors[k].resolution_us / 2) / 1e6;

      try_shift (clock, shift_s, 8, tries);
      if (anchors[k].dateless)
        try_shift (clock, remainder (shift_s, DAY_S), 8, tries);
    }
}

/* The first shift of the evidence's prior, to which the one sought is added. */
static double
first_base (const SwClockEvidence *evidence)
{
  return evidence->n_bases > 0 ? evidence->bases[0] : 0;
}

double
sw_clock_whole_near (const SwClockEvidence *evidence, double shift_s)
{
  return shift_s - remainder (shift_s + first_base (evidence), SW_CLOCK_HOUR_S);
}

double
sw_clock_grid_base (const SwClockEvidence *evidence, double top)
{
  double whole = remainder (top + first_base (evidence), SW_CLOCK_HOUR_S);

  return (fabs (whole) < SW_CLOCK_GRID ? top - whole + rint (whole) : top) - GRID_S;
}

SwClockMode
sw_clock_sum_mode (const double *log_value, double base)
{
  double value[SW_CLOCK_GRID], peak = -INFINITY, mass = 0, mean = 0, square = 0;
  double near = 0, best = -1;
  int at = 0;

  for (int k = 0; k < SW_CLOCK_GRID; k++)
    peak = MAX (peak, log_value[k]);
  for (int k = 0; k < SW_CLOCK_GRID; k++)
    {
      value[k] = exp (log_value[k] - peak);
      mass += value[k];
      mean += value[k] * k;
      square += value[k] * k * k;
    }
  for (int k = -SETTLE_S; k < SW_CLOCK_GRID + SETTLE_S; k++)
    {
      near += k + SETTLE_S < SW_CLOCK_GRID ? value[k + SETTLE_S] : 0;
      near -= k - SETTLE_S - 1 >= 0 ? value[k - SETTLE_S - 1] : 0;
      if (near > best * (1 + 1e-9))
        {
          best = near;
          at = k;
        }
    }
  mean /= mass;
  near = 0;
  best = 0;
  for (int k = MAX (0, at - SETTLE_S); k <= MIN (SW_CLOCK_GRID - 1, at + SETTLE_S); k++)
    {
      near += value[k];
      best += value[k] * k;
    }
  return (SwClockMode){ .shift_s = base + best / near,
                        .spread_s = sqrt (MAX (square / mass - mean * mean, 0.25)),
                        .log_weight = peak + log (mass) };
}

static SwClockMode
weigh_mode (const Clock *clock, double top)
{
  double value[SW_CLOCK_GRID], gain = -INFINITY;
  double base = sw_clock_grid_base (clock->evidence, top);
  SwClockMode mode;

  for (int k = 0; k < SW_CLOCK_GRID; k++)
    {
      double likelihood = log_likelihood (clock, base + k);

      value[k] = likelihood + sw_clock_log_prior_of (clock->evidence, base + k);
      gain = MAX (gain, likelihood);
    }
  mode = sw_clock_sum_mode (value, base);
  mode.gain = gain;
  return mode;
}

/* First looks at all that the camera's own evidence may mean, the likeliest first. */
static GArray *
find_tries (const Clock *clock)
{
  const SwClockEvidence *evidence = clock->evidence;
  GArray *tries = g_array_new (FALSE, FALSE, sizeof (SwClockMode));
  gsize items = 0;

  for (gsize k = 0; k < evidence->n_notes; k++)
    items += evidence->notes[k].item >= 0;
  if (evidence->n_stops == 0 || items + evidence->n_faces + evidence->n_fixes == 0)
    return tries;
  for (gsize k = 0; k < G_N_ELEMENTS (whole_hours); k++)
    try_shift (clock, whole_hours[k] * SW_CLOCK_HOUR_S, k == 0 ? 16 : 4, tries);
  try_anchors (clock, evidence->faces, evidence->n_faces, tries);
  try_anchors (clock, evidence->fixes, evidence->n_fixes, tries);
  try_peaks (clock, note_differences (evidence), tries);
  g_array_sort (tries, compare_modes);
  return tries;
}

static gsize
hand_out (const GArray *tries, SwClockMode *out_tries, gsize most)
{
  gsize n = MIN (tries->len, most);

  if (n > 0)
    memcpy (out_tries, tries->data, n * sizeof (SwClockMode));
  return n;
}

gsize
sw_clock_tries (const SwClockEvidence *evidence, SwClockMode *out_tries, gsize most)
{
  g_autoptr (SwClockTables) tables = sw_clock_tables_new (evidence);
  Clock clock = { evidence, tables };
  g_autoptr (GArray) tries = find_tries (&clock);

  return hand_out (tries, out_tries, most);
}

gsize
sw_clock_tries_beside (const SwClockEvidence *evidence, SwClockMode *out_tries, gsize most)
{
  g_autoptr (SwClockTables) tables = sw_clock_tables_new (evidence);
  Clock clock = { evidence, tables };
  g_autoptr (GArray) tries = g_array_new (FALSE, FALSE, sizeof (SwClockMode));

  if (evidence->n_photos > 0 && evidence->n_others > 0)
    {
      try_scan (&clock, other_differences (evidence), tries);
      for (gsize k = 0; k < G_N_ELEMENTS (whole_hours); k++)
        try_shift (&clock, whole_hours[k] * SW_CLOCK_HOUR_S, 1, tries);
    }
  g_array_sort (tries, compare_modes);
  return hand_out (tries, out_tries, most);
}

static gsize
weigh_tries (const Clock *clock, const SwClockMode *tries, gsize n, SwClockMode *out_modes)
{
  gsize kept = 0;

  for (gsize k = 0; k < n; k++)
    if (tries[k].log_weight > tries[0].log_weight - HOPELESS)
      out_modes[kept++] = weigh_mode (clock, tries[k].shift_s);
  return sw_clock_sort_modes (out_modes, kept);
}

gsize
sw_clock_modes (const SwClockEvidence *evidence, SwClockMode *out_modes, gsize most)
{
  g_autoptr (SwClockTables) tables = sw_clock_tables_new (evidence);
  Clock clock = { evidence, tables };
  g_autoptr (GArray) tries = find_tries (&clock);

  return weigh_tries (&clock, (const SwClockMode *)(void *)tries->data, MIN (tries->len, most),
                      out_modes);
}

gsize
sw_clock_modes_of (const SwClockEvidence *evidence, const SwClockMode *tries, gsize n,
                   SwClockMode *out_modes)
{
  g_autoptr (SwClockTables) tables = sw_clock_tables_new (evidence);
  Clock clock = { evidence, tables };

  return weigh_tries (&clock, tries, n, out_modes);
}

/* Seconds between the shifts of a glance: notes alone tell no clock closer than a second or so. */
#define GLANCE_STEP_S 3
#define GLANCE_TURNS 5

double
sw_clock_glance (const SwClockEvidence *evidence, double top, double least)
{
  g_autoptr (SwClockTables) tables = sw_clock_tables_new (evidence);
  Clock clock = { evidence, tables };
  double value[2 * (GRID_S / GLANCE_STEP_S) + 1], peak = -INFINITY, mass = 0;

  /* Every fifth first: where those are far below, the others are not near. */
  for (gsize turn = 0; turn < GLANCE_TURNS; turn++)
    {
      for (gsize k = turn; k < G_N_ELEMENTS (value); k += GLANCE_TURNS)
        {
          value[k] = log_posterior (&clock, top + (double)k * GLANCE_STEP_S - GRID_S);
          peak = MAX (peak, value[k]);
        }
      if (turn == 0 && peak < least)
        return peak;
    }
  for (gsize k = 0; k < G_N_ELEMENTS (value); k++)
    mass += exp (value[k] - peak);
  return peak + log (mass * GLANCE_STEP_S);
}

SwClockMode
sw_clock_weigh (const SwClockEvidence *evidence, double top)
{
  g_autoptr (SwClockTables) tables = sw_clock_tables_new (evidence);
  Clock clock = { evidence, tables };

  return weigh_mode (&clock, top);
}

/* --- the result --- */

/* A clock that is wrong by hours is wrong by whole ones, and most are right: what is that within
 * its own spread is that. */
static double
snap (const SwClockMode *mode)
{
  double whole = rint (mode->shift_s / SW_CLOCK_HOUR_S) * SW_CLOCK_HOUR_S;

  return fabs (mode->shift_s - whole) <= MIN (mode->spread_s, 2.5) ? whole : mode->shift_s;
}

double
sw_clock_mode_share (const SwClockMode *modes, gsize n, gsize k)
{
  double mass = 0;

  for (gsize j = 0; j < n; j++)
    mass += exp (modes[j].log_weight - modes[0].log_weight);
  return exp (modes[k].log_weight - modes[0].log_weight) / mass;
}

SwClockResult
sw_clock_settle (const SwClockMode *modes, gsize n)
{
  SwClockResult result = { 0 };
  double mean = 0, square = 0, near = 0;

  for (gsize k = 0; k < n; k++)
    {
      double share = sw_clock_mode_share (modes, n, k);
      double away = modes[k].shift_s - modes[0].shift_s;

      near += fabs (away) <= NEAR_MODE_S ? share : 0;
      if (k < SW_WALK_CLOCK_MODES && share > LEAST_SHARE)
        {
          result.n_modes = (int)k + 1;
          result.modes[k].share = share;
          result.modes[k].shift_s = modes[k].shift_s;
          result.modes[k].spread_s = modes[k].spread_s;
        }
      mean += share * away;
      square += share * (away * away + modes[k].spread_s * modes[k].spread_s);
      if (k > 0 && share > result.other_share)
        {
          result.other_share = share;
          result.other_s = modes[k].shift_s;
        }
    }
  if (n == 0)
    return result;
  result.shift_s = snap (&modes[0]);
  result.spread_s = sqrt (MAX (square - mean * mean, 0));
  result.known
      = (near >= KNOWN_SHARE || result.spread_s <= KNOWN_SPREAD_S) && modes[0].gain >= KNOWN_GAIN;
  if (result.other_share < 0.05)
    result.other_s = result.other_share = 0;
  return result;
}
