/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Likelihoods of a clock shift by kind of evidence. Notes are taken one by one, each to belong to
 * some stop or to none, so that a third of wrong ones moves nothing; what ties them is the person's
 * habit, which is summed over. Knows nothing of where shifts to try come from (clock.c). */
#include "core/match/clock-likelihood.h"

#include <math.h>
#include <string.h>

/* Share of notes that belong to no stop of this camera, or bear a wrong time. */
#define STRAY_SHARE 0.12
/* Share of notes with no photo of this camera anywhere near. */
#define ALONE_SHARE 0.02
/* More notes than this add no certainty, only work: every so many are asked. */
#define NOTES_ENOUGH 300
/* Notes farther from a stop than this tell nothing. */
#define NEAR_S 240
#define NEAR_US (NEAR_S * SW_US_PER_SECOND)
/* A note is written between a stop's ends this often. */
#define DURING_SHARE 0.12
/* A note up to so many seconds inside its stop still counts as before or after. */
#define SLACK_S 2.0
/* Steps a second in the table of lags. */
#define PER_SECOND 4
#define TABLE ((NEAR_S + 70) * PER_SECOND)

/* A person's habits: usual lag in seconds and its spread (of its logarithm), and share of notes
 * written before. What is usual of people at work, no more: all are likely. */
static const struct
{
  double usual_s, spread;
} lags[] = { { 5, 0.6 },  { 9, 0.6 },   { 15, 0.6 },  { 25, 0.6 },
             { 42, 0.6 }, { 10, 0.25 }, { 17, 0.25 }, { 28, 0.25 } };
static const double before_share[] = { 0.05, 0.275, 0.5, 0.725, 0.95 };
#define N_LAGS G_N_ELEMENTS (lags)
#define N_SHARES G_N_ELEMENTS (before_share)
#define N_HABITS (N_LAGS * N_SHARES)

/* Table of gaps: from half a second to three months, by their logarithms. */
#define GAP_LEAST_S 0.5
#define GAP_STEP 0.02
#define GAPS 840

struct _SwClockTables
{
  const SwClockEvidence *evidence;
  gsize stride;      /* every so many notes are asked */
  double background; /* density of a note anywhere on the walk, per second */
  /* Log densities of a gap by how long ago the camera was changed and by the gap's logarithm:
   * between two of the camera's own photos, two of the others', and one of each. */
  double own[SW_N_SINCE][GAPS + 1], other[SW_N_SINCE][GAPS + 1], change[SW_N_SINCE][GAPS + 1];
  double apart; /* of own and other photos, each by themselves */
};

/* P(lag <= table step), by step and lag: the same for all walks, made on first use. */
static double lag_below[TABLE + 1][N_LAGS];

static gpointer
fill_lags (gpointer unused)
{
  for (gsize l = 0; l < N_LAGS; l++)
    {
      SwNormal lag = { 1, log (lags[l].usual_s + SLACK_S), lags[l].spread };

      for (int k = 1; k <= TABLE; k++)
        lag_below[k][l] = sw_normal_below (&lag, log ((double)k / PER_SECOND));
    }
  return NULL;
}

/* P(lag <= lag_s), of all lags at once: this is what the search for a clock spends its time on. */
static void
below (double lag_s, double *restrict out)
{
  double at = CLAMP ((lag_s + SLACK_S) * PER_SECOND, 0, TABLE);
  int step = MIN ((int)at, TABLE - 1);
  const double *low = lag_below[step], *high = lag_below[step + 1];
  double part = at - step;

  for (gsize l = 0; l < N_LAGS; l++)
    out[l] = low[l] + part * (high[l] - low[l]);
}

/* Adds the density of a note's time by each lag: the note was written that long after lag_s, or up
 * to res_s later. */
static void
add_lag (double lag_s, double res_s, double weight, double *restrict sum)
{
  double from[N_LAGS], upto[N_LAGS], each = weight / res_s;

  below (lag_s, from);
  below (lag_s + res_s, upto);
  for (gsize l = 0; l < N_LAGS; l++)
    sum[l] += each * (upto[l] - from[l]);
}

/* Densities of a note's time given one stop, or the sum over several. */
typedef struct
{
  double before[N_LAGS], after[N_LAGS], during;
} Densities;

static void
add_stop (const SwClockStop *stop, const SwWalkNote *note, gint64 shift_us, double weight,
          Densities *sum)
{
  double res_s = MAX ((double)note->resolution_us / 1e6, 1.0);
  double before_s = (double)(stop->first_us + shift_us - note->time_us) / 1e6;
  double after_s = (double)(note->time_us - stop->last_us - shift_us) / 1e6;
  double from = MAX (0, -before_s), upto;

  if (before_s > -SLACK_S)
    add_lag (before_s - res_s, res_s, weight, sum->before);
  if (after_s + res_s > -SLACK_S)
    add_lag (after_s, res_s, weight, sum->after);
  /* The part of the note's own span that lies within the stop. */
  upto = MIN ((double)(stop->last_us - stop->first_us) / 1e6 + 2, res_s - before_s);
  if (upto > from)
    sum->during
        += weight * (upto - from) / res_s / ((double)(stop->last_us - stop->first_us) / 1e6 + 2);
}

/* First stop that ends at or after t. */
static gsize
first_ending (const SwClockEvidence *evidence, gint64 t)
{
  gsize low = 0, high = evidence->n_stops;

  while (low < high)
    {
      gsize mid = (low + high) / 2;

      if (evidence->stops[mid].last_us < t)
        low = mid + 1;
      else
        high = mid;
    }
  return low;
}

/* Sums over the near stops; FALSE where there is none. A stop that a person gave to this very item
 * speaks for all stops. */
static gboolean
sum_stops (const SwClockTables *tables, const SwWalkNote *note, gint64 shift_us, gsize from,
           gsize upto, Densities *sum)
{
  const SwClockEvidence *evidence = tables->evidence;
  gint64 t = note->time_us - shift_us;
  double each = 1.0 / (double)evidence->n_stops;
  gboolean any = FALSE;

  memset (sum, 0, sizeof *sum);
  for (gsize k = MAX (from, first_ending (evidence, t - NEAR_US)); k < upto; k++)
    {
      const SwClockStop *stop = &evidence->stops[k];

      if (stop->first_us > t + NEAR_US)
        break;
      any = TRUE;
      add_stop (stop, note, shift_us,
                stop->item >= 0 ? (stop->item == note->item ? 0.5 : 0.1 * each) : each, sum);
    }
  return any;
}

/* Multiplies the ratio of each habit by that of one note. */
static void
multiply_ratios (const SwClockTables *tables, const Densities *sum, gboolean any,
                 double *restrict product)
{
  double scale = (1 - STRAY_SHARE) / tables->background;
  double least = (any ? STRAY_SHARE : ALONE_SHARE) + scale * DURING_SHARE * sum->during;
  double after[N_LAGS], more[N_LAGS];

  for (gsize l = 0; l < N_LAGS; l++)
    {
      after[l] = least + scale * (1 - DURING_SHARE) * sum->after[l];
      more[l] = scale * (1 - DURING_SHARE) * (sum->before[l] - sum->after[l]);
    }
  for (gsize s = 0; s < N_SHARES; s++)
    for (gsize l = 0; l < N_LAGS; l++)
      product[s * N_LAGS + l] *= after[l] + before_share[s] * more[l];
}

/* Logarithms are dear: one for so many notes. No note weighs less than ALONE_SHARE nor more than a
 * note to the second at the one stop of a long walk, 1e6: products stay in range. */
#define NOTES_A_LOGARITHM 16

/* Log likelihood by habit of all notes asked. */
static void
by_habit (const SwClockTables *tables, double shift_s, double *out)
{
  const SwClockEvidence *evidence = tables->evidence;
  gint64 shift_us = (gint64)llrint (shift_s * 1e6);
  double product[N_HABITS];
  gsize held = 0;

  for (gsize h = 0; h < N_HABITS; h++)
    {
      out[h] = 0;
      product[h] = 1;
    }
  for (gsize k = 0; k < evidence->n_notes; k += tables->stride)
    {
      Densities sum;
      gboolean any;

      if (evidence->notes[k].item < 0)
        continue;
      any = sum_stops (tables, &evidence->notes[k], shift_us, 0, evidence->n_stops, &sum);
      multiply_ratios (tables, &sum, any, product);
      if (++held % NOTES_A_LOGARITHM != 0)
        continue;
      for (gsize h = 0; h < N_HABITS; h++)
        {
          out[h] += log (product[h]);
          product[h] = 1;
        }
    }
  for (gsize h = 0; h < N_HABITS; h++)
    out[h] += log (product[h]);
}

double
sw_clock_notes_likelihood (const SwClockTables *tables, double shift_s)
{
  double each[N_HABITS], top = -INFINITY, sum = 0;

  if (tables->evidence->n_stops == 0)
    return 0;
  by_habit (tables, shift_s, each);
  for (gsize h = 0; h < N_HABITS; h++)
    top = MAX (top, each[h]);
  for (gsize h = 0; h < N_HABITS; h++)
    sum += exp (each[h] - top) / N_HABITS;
  return top + log (sum);
}

double
sw_clock_note_likelihood (const SwClockTables *tables, gsize k, double shift_s, gsize from,
                          gsize upto)
{
  gint64 shift_us = (gint64)llrint (shift_s * 1e6);
  Densities sum;
  gboolean any;
  double ratio[N_HABITS], mean = 0;

  if (tables->evidence->notes[k].item < 0 || upto <= from)
    return 0;
  any = sum_stops (tables, &tables->evidence->notes[k], shift_us, from, upto, &sum);
  for (gsize h = 0; h < N_HABITS; h++)
    ratio[h] = 1;
  multiply_ratios (tables, &sum, any, ratio);
  for (gsize h = 0; h < N_HABITS; h++)
    mean += ratio[h] / N_HABITS;
  return log (mean);
}

/* --- faces and fixes --- */

/* Typed wrong, or a clock that itself goes wrong. */
#define FACE_WRONG 0.002
/* Reading a dial, and the moment between looking and pressing. */
#define FACE_SD_S 2.0
#define OTHER_DAY 0.1
/* A fix of the same second, an old one, one from nowhere. */
#define FIX_FRESH 0.55
#define FIX_WRONG 0.05
#define FIX_SD_S 1.2
#define FIX_LAG_S 0.7
#define FIX_AGE_S 400.0
/* What a clock could be off by if nothing were known, in seconds: the measure of the ratios. */
#define ANY_S 86400.0

double
sw_clock_face_away (const SwClockAnchor *face, double shift_s)
{
  double away = shift_s - (double)(face->true_us - face->clock_us) / 1e6;
  double res_s = MAX ((double)face->resolution_us / 1e6, 0);

  if (face->dateless)
    away = remainder (away - res_s / 2, ANY_S) + res_s / 2;
  return away < 0 ? away : MAX (0, away - res_s);
}

double
sw_clock_face_likelihood (const SwClockAnchor *face, double shift_s)
{
  double away = sw_clock_face_away (face, shift_s) / FACE_SD_S;
  double width = MAX ((double)face->resolution_us / 1e6, 0) + FACE_SD_S * sqrt (2 * G_PI);

  /* A face without a day goes with any; the camera's own is the likeliest. */
  if (face->dateless && fabs (shift_s) > ANY_S / 2)
    width /= OTHER_DAY;
  return log (FACE_WRONG + (1 - FACE_WRONG) * exp (-0.5 * away * away) * ANY_S / width);
}

double
sw_clock_fix_age (const SwClockAnchor *fix, double shift_s)
{
  return shift_s - (double)(fix->true_us - fix->clock_us) / 1e6;
}

double
sw_clock_fix_likelihood (const SwClockAnchor *fix, double shift_s)
{
  double age = sw_clock_fix_age (fix, shift_s);
  double fresh = (age - FIX_LAG_S) / FIX_SD_S;
  double density = FIX_FRESH * exp (-0.5 * fresh * fresh) / (FIX_SD_S * sqrt (2 * G_PI));

  if (age > 0)
    density += (1 - FIX_FRESH - FIX_WRONG) * exp (-age / FIX_AGE_S) / FIX_AGE_S;
  return log (FIX_WRONG + density * ANY_S);
}

/* --- among the others --- */

static double
gap_log_density (const double *gap, gint64 gap_us)
{
  double at = (log (MAX ((double)gap_us / 1e6, GAP_LEAST_S)) - log (GAP_LEAST_S)) / GAP_STEP;
  int step = MIN ((int)at, GAPS - 1);

  return gap[step] + (at - step) * (gap[step + 1] - gap[step]);
}

/* Of seconds, not of their logarithm: a shift moves times. */
static void
fill_gaps (SwClockTables *tables)
{
  const SwClockEvidence *evidence = tables->evidence;
  const SwWalkParams *params = evidence->params;
  double share = (double)evidence->n_photos / (double)(evidence->n_photos + evidence->n_others);

  for (int k = 0; k <= GAPS; k++)
    {
      double z = log (GAP_LEAST_S) + k * GAP_STEP;
      double between = params->boundary * sw_gap_between (params, SW_STEP_ANY, z);
      double between_two = between * sw_change_weight (z);
      double within = (1 - params->boundary) * sw_gap_within (params, z);
      double within_two = (1 - params->boundary) * sw_gap_change (params, z);

      for (int since = 0; since < SW_N_SINCE; since++)
        {
          double own = sw_camera_in_hand (params, since, FALSE, share);
          double other = sw_camera_in_hand (params, since, FALSE, 1 - share);
          double change = sw_camera_in_hand (params, since, TRUE, share);

          tables->own[since][k] = log (own * within + between) - z;
          tables->other[since][k] = log (other * within + between) - z;
          tables->change[since][k] = log (change * within_two + between_two) - z;
        }
    }
}

static double
run_log_density (const double *gap, const gint64 *t, gsize n)
{
  double sum = 0;

  for (gsize i = 1; i < n; i++)
    sum += gap_log_density (gap, t[i] - t[i - 1]);
  return sum;
}

double
sw_clock_among_likelihood (const SwClockTables *tables, double shift_s)
{
  const SwClockEvidence *evidence = tables->evidence;
  gint64 shift_us = (gint64)llrint (shift_s * 1e6), last = 0;
  gsize i = 0, j = 0, n = 0;
  gboolean last_own = FALSE;
  int since = SW_SINCE_LONG;
  double sum = 0;

  if (evidence->n_others == 0 || evidence->n_photos == 0)
    return 0;
  while (i < evidence->n_photos || j < evidence->n_others)
    {
      gboolean own
          = j >= evidence->n_others
            || (i < evidence->n_photos && evidence->photos[i] + shift_us <= evidence->others[j]);
      gint64 t = own ? evidence->photos[i++] + shift_us : evidence->others[j++];

      if (n++ > 0)
        {
          const double *gap = own != last_own ? tables->change[since]
                              : own           ? tables->own[since]
                                              : tables->other[since];

          sum += gap_log_density (gap, t - last);
          since = sw_since_next (since, own != last_own);
        }
      last = t;
      last_own = own;
    }
  return sum - tables->apart;
}

/* --- the tables --- */

SwClockTables *
sw_clock_tables_new (const SwClockEvidence *evidence)
{
  static GOnce lags_filled = G_ONCE_INIT;
  SwClockTables *tables = g_new0 (SwClockTables, 1);
  double span_s = 0;

  tables->evidence = evidence;
  /* Long pauses hold no notes: a stop accounts for some two minutes of the walk. */
  if (evidence->n_stops > 0)
    span_s = (double)(evidence->stops[evidence->n_stops - 1].last_us - evidence->stops[0].first_us)
             / 1e6;
  span_s = CLAMP (span_s, 0, (double)evidence->n_stops * 150) + 120;
  tables->background = 1 / span_s;
  tables->stride = 1 + evidence->n_notes / NOTES_ENOUGH;
  g_once (&lags_filled, fill_lags, NULL);
  if (evidence->n_others == 0 || evidence->n_photos == 0)
    return tables;
  fill_gaps (tables);
  tables->apart
      = run_log_density (tables->own[SW_SINCE_LONG], evidence->photos, evidence->n_photos)
        + run_log_density (tables->other[SW_SINCE_LONG], evidence->others, evidence->n_others);
  return tables;
}

void
sw_clock_tables_free (SwClockTables *tables)
{
  g_free (tables);
}
