/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tells how well the pairing does on walks with a known truth, as a table for people; fits the
 * curves of calibrate.c on the tune set. No test: nothing here fails. */
#include "groups.h"
#include "oracle.h"
#include "score.h"

#include "core/match/calibrate.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define N_GROUPS G_N_ELEMENTS (walk_groups)
#define RESAMPLES 1000

static int walks = 200;
static int only = -1;
static gboolean tune;
static gboolean fit;
static gboolean plain;
static gboolean set_clocks;
static char *out_file;

static const GOptionEntry entries[] = {
  { "walks", 0, 0, G_OPTION_ARG_INT, &walks, "Walks a group (200)", "N" },
  { "group", 0, 0, G_OPTION_ARG_INT, &only, "This group alone, from 0", "N" },
  { "tune", 0, 0, G_OPTION_ARG_NONE, &tune, "The tune set, for trying constants", NULL },
  { "fit", 0, 0, G_OPTION_ARG_NONE, &fit, "Fit the curves of calibrate.c (tune set)", NULL },
  { "no-best", 0, 0, G_OPTION_ARG_NONE, &plain, "Leave out the best possible", NULL },
  { "set-clocks", 0, 0, G_OPTION_ARG_NONE, &set_clocks, "Clocks set right by hand", NULL },
  { "out", 0, 0, G_OPTION_ARG_FILENAME, &out_file, "Write the table there", "FILE" },
  { NULL },
};

static guint64
seed_of (gboolean of_tune, gsize group, int walk)
{
  return (of_tune ? WALKS_TUNE_SEED : WALKS_HOLD_SEED) + WALKS_GROUP_STEP * (guint64)group
         + (guint64)walk;
}

/* --- the fixed gap that is best on the tune set --- */

static const int gaps_s[] = { 15, 20, 25, 30, 35, 40, 45, 50, 60, 75, 90, 120 };

typedef struct
{
  double hits[G_N_ELEMENTS (gaps_s)], ours[G_N_ELEMENTS (gaps_s)], truly;
} Fixed;

typedef struct
{
  gint64 t_us;
  int visit;
} Moment;

static int
compare_moments (gconstpointer a, gconstpointer b)
{
  const Moment *x = a, *y = b;

  return (x->t_us > y->t_us) - (x->t_us < y->t_us);
}

/* By the true clocks: the best that a fixed gap can be given. */
static void
fixed_add (Fixed *fixed, const TrueWalk *truth)
{
  gsize n = truth->walk.n_photos;
  g_autofree Moment *moments = g_new0 (Moment, n);

  for (gsize i = 0; i < n; i++)
    moments[i] = (Moment){
      truth->photos[i].clock_us + (gint64)llrint (truth->lacks_s[i] * 1e6),
      truth->visit[i],
    };
  qsort (moments, n, sizeof (Moment), compare_moments);
  for (gsize i = 0; i + 1 < n; i++)
    {
      gboolean truly = moments[i].visit != moments[i + 1].visit;

      fixed->truly += truly;
      for (gsize k = 0; k < G_N_ELEMENTS (gaps_s); k++)
        {
          gboolean cut = moments[i + 1].t_us - moments[i].t_us > gaps_s[k] * SW_US_PER_SECOND;

          fixed->ours[k] += cut;
          fixed->hits[k] += cut && truly;
        }
    }
}

static Fixed
fixed_of (gboolean of_tune, gsize group)
{
  Fixed fixed = { 0 };

  for (int k = 0; k < walks; k++)
    {
      g_autoptr (TrueWalk) truth
          = true_walk_new (seed_of (of_tune, group, k), &walk_groups[group].kind);

      fixed_add (&fixed, truth);
    }
  return fixed;
}

static double
fixed_f1 (const Fixed *fixed, gsize k)
{
  return score_f1 (fixed->hits[k], fixed->ours[k], fixed->truly);
}

static gsize
best_gap (const Fixed *fixed)
{
  gsize best = 0;

  for (gsize k = 1; k < G_N_ELEMENTS (gaps_s); k++)
    if (fixed_f1 (fixed, k) > fixed_f1 (fixed, best))
      best = k;
  return best;
}

/* --- scores --- */

static void
add_scores (Score *sum, const Score *one)
{
  double *to = (double *)sum;
  const double *from = (const double *)one;

  /* A score is sums and nothing else. */
  for (gsize k = 0; k < sizeof (Score) / sizeof (double); k++)
    to[k] += from[k];
}

/* The share of 'sure' that held, exceeded by 97.5% of resamplings of whole walks. */
static double
sure_lower_bound (const Score *scores, int n)
{
  Dice dice = { 20261125 };
  double shares[RESAMPLES];

  for (int r = 0; r < RESAMPLES; r++)
    {
      double sure = 0, right = 0;

      for (int k = 0; k < n; k++)
        {
          const Score *score = &scores[dice_range (&dice, 0, n - 1)];

          sure += score->sure;
          right += score->sure_right;
        }
      shares[r] = sure > 0 ? right / sure : 1;
    }
  for (int i = 1; i < RESAMPLES; i++)
    for (int j = i; j > 0 && shares[j] < shares[j - 1]; j--)
      {
        double swap = shares[j];

        shares[j] = shares[j - 1];
        shares[j - 1] = swap;
      }
  return shares[RESAMPLES / 40];
}

/* --- the curves of calibrate.c --- */

typedef struct
{
  double x, y, weight;
} Point;

static GArray *points[SW_N_SITUATIONS];

static void
keep_points (const TrueWalk *truth, const SwProposal *proposal)
{
  for (gsize k = 0; k < proposal->n_stops; k++)
    {
      const SwStop *stop = &proposal->stops[k];
      SwSituation situation = sw_situation_of (&truth->walk, stop->label >= 0);
      Point point = { sw_logit (stop->raw), 0, (double)stop->n_photos };
      int meant = stop->label == SW_LABEL_NEW ? -1 : stop->label;

      for (gsize i = 0; i < stop->n_photos; i++)
        point.y += meant == truth->item[stop->photos[i]]
                   && (meant >= 0 || score_in_its_stop (truth, proposal, stop->photos[i]));
      point.y /= point.weight;
      g_array_append_val (points[situation], point);
    }
}

static double
curve_at (double ceiling, double a, double b, double x)
{
  return ceiling / (1 + exp (-a - b * x));
}

/* Fisher scoring of the likelihood of ceiling x logistic curve (for a ceiling of 1: Hosmer, D. W.,
 * Lemeshow, S., 2000, Applied logistic regression, 2nd ed., section 2.2). */
static void
fit_curve (const GArray *data, double ceiling, double *out_a, double *out_b)
{
  double a = 0, b = 1;

  for (int round = 0; round < 50; round++)
    {
      double ga = 0, gb = 0, haa = 1e-6, hab = 0, hbb = 1e-6, det;

      for (guint i = 0; i < data->len; i++)
        {
          const Point *point = &g_array_index (data, Point, i);
          double p = curve_at (ceiling, a, b, point->x), s = p / ceiling;
          double rest = point->weight * (point->y - p) * (1 - s) / (1 - p);
          double slope = point->weight * p * (1 - s) * (1 - s) / (1 - p);

          ga += rest;
          gb += rest * point->x;
          haa += slope;
          hab += slope * point->x;
          hbb += slope * point->x * point->x;
        }
      det = haa * hbb - hab * hab;
      a += CLAMP ((hbb * ga - hab * gb) / det, -1, 1);
      b += CLAMP ((haa * gb - hab * ga) / det, -1, 1);
    }
  *out_a = a;
  *out_b = b;
}

static int
compare_points (gconstpointer a, gconstpointer b)
{
  const Point *x = a, *y = b;

  return (x->x < y->x) - (x->x > y->x);
}

/* Greatest share of photos that could be called sure with 99% of them held, and where it ends. */
static void
print_reach (GArray *data)
{
  double sum = 0, held = 0, reach = 0, from = 0, all = 0;

  g_array_sort (data, compare_points);
  for (guint i = 0; i < data->len; i++)
    all += g_array_index (data, Point, i).weight;
  for (guint i = 0; i < data->len; i++)
    {
      const Point *point = &g_array_index (data, Point, i);

      sum += point->weight;
      held += point->weight * point->y;
      if (held >= 0.99 * sum)
        {
          reach = sum / all;
          from = point->x;
        }
    }
  printf ("    99%% hold over %.3f of these photos, from logit %.2f\n", reach, from);
}

/* Mean loss of the fitted curve, in nats. */
static double
log_loss (const GArray *data, double ceiling, double a, double b)
{
  double loss = 0, sum = 0;

  for (guint i = 0; i < data->len; i++)
    {
      const Point *point = &g_array_index (data, Point, i);
      double p = curve_at (ceiling, a, b, point->x);

      loss -= point->weight * (point->y * log (p) + (1 - point->y) * log (1 - p));
      sum += point->weight;
    }
  return loss / MAX (sum, 1);
}

static void
print_curves (void)
{
  static const char *const names[] = { "NOTED", "UNNOTED", "BARE" };

  for (int k = 0; k < SW_N_SITUATIONS; k++)
    {
      double a = 0, b = 1, low = 0, high = 0, ceiling = sw_calibrate_ceiling ((SwSituation)k);

      if (points[k]->len > 0)
        fit_curve (points[k], ceiling, &a, &b);
      for (guint i = 0; i < points[k]->len; i++)
        {
          const Point *point = &g_array_index (points[k], Point, i);

          low += point->weight;
          high += point->weight * point->y;
        }
      printf ("  [SW_SITUATION_%s] = { %.3f, %.3f, %.3f }, (%.0f photos, %.3f held)\n", names[k],
              ceiling, a, b, low, low > 0 ? high / low : 0);
      printf ("    loss %.4f\n", log_loss (points[k], ceiling, a, b));
      print_reach (points[k]);
      for (int bin = 0; bin < 14; bin++)
        {
          double from = -3 + bin * 0.6, sum = 0, held = 0, p = 0;

          for (guint i = 0; i < points[k]->len; i++)
            {
              const Point *point = &g_array_index (points[k], Point, i);

              if (point->x < from || point->x >= from + 0.6)
                continue;
              sum += point->weight;
              held += point->weight * point->y;
              p += point->weight * curve_at (ceiling, a, b, point->x);
            }
          if (sum > 0)
            printf ("    logit %5.1f: %7.0f photos, %.4f held, %.4f said\n", from + 0.3, sum,
                    held / sum, p / sum);
        }
    }
}

/* --- the table --- */

static void
tell_group (FILE *out, gsize group)
{
  g_autofree Score *scores = g_new0 (Score, (gsize)walks);
  Score all = { 0 }, best = { 0 };
  Fixed tuned = fixed_of (TRUE, group), told = fixed_of (tune, group);
  gsize gap = best_gap (&tuned);
  double n;

  for (int k = 0; k < walks; k++)
    {
      g_autoptr (TrueWalk) truth
          = true_walk_new (seed_of (tune, group, k), &walk_groups[group].kind);
      g_autoptr (SwProposal) proposal = NULL;

      for (gsize c = 0; c < truth->walk.n_cameras && set_clocks; c++)
        {
          truth->cameras[c].fixed = TRUE;
          truth->cameras[c].shift_s = truth->shift_s[c];
        }
      proposal = sw_stops_propose (&truth->walk);
      score_add (&scores[k], truth, proposal);
      add_scores (&all, &scores[k]);
      if (fit)
        keep_points (truth, proposal);
      if (!plain)
        {
          g_autoptr (SwProposal) ideal = oracle_propose (truth);

          score_add (&best, truth, ideal);
        }
    }
  n = MAX (all.photos, 1);
  fprintf (out, "| %s | %.3f | %.3f | %.3f | %.3f ", walk_groups[group].label,
           all.nearest_right / n, all.right / n, all.held / n, best.right / MAX (best.photos, 1));
  fprintf (out, "| %.3f (%d s) | %.3f | %.3f ", fixed_f1 (&told, gap), gaps_s[gap],
           score_f1 (all.hits, all.ours, all.truly), score_f1 (best.hits, best.ours, best.truly));
  fprintf (out, "| %.3f | %.4f (%.4f) | %.3f | %.3f (%.3f) ", all.sure / n,
           all.sure > 0 ? all.sure_right / all.sure : 1, sure_lower_bound (scores, walks),
           score_calibration_error (&all), all.square / n, best.square / MAX (best.photos, 1));
  fprintf (out, "| %.0f, %.0f of %.0f | %.0f |\n", all.clocks_near, all.clocks_spread, all.clocks,
           all.clocks_wrong);
  fflush (out);
}

static void
tell_head (FILE *out)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();
  g_autofree char *date = g_date_time_format (now, "%Y-%m-%d");

  fprintf (out, "# How photos find their things: measured on invented walks\n\n");
  fprintf (out, "%s set, %d walks a group, %s. ", tune ? "Tune" : "Hold", walks, date);
  fprintf (out,
           "Made by `meson compile walk-results`.\n"
           "No constant was chosen on the hold set. The walks are drawn (walkgen.c): pictures and "
           "positions that are drawn\nprove little of real ones.\n\n"
           "- right: photos with their true item, or with 'new' where the thing has no note; "
           "nearest: by the nearest note, given our clocks.\n"
           "- held: the same, and a new thing's photo in the stop that is most of its thing.\n"
           "- best: the same model with true clocks and habits counted from the truth, nothing "
           "pruned.\n"
           "- F1: of boundaries between things; fixed: the gap that was best on the tune set, "
           "given true clocks.\n"
           "- sure: photos called sure, and how many of them held (in brackets what 97.5%% of "
           "bootstraps over walks exceed).\n"
           "- clocks: within 5 s of the truth, within the greater of 5 s and twice the spread "
           "claimed; wrong: a minute off while claiming a spread under 10 s.\n\n");
  fprintf (out, "| walks | nearest | right | held | best | F1 fixed | F1 | F1 best | sure | sure "
                "held | calibration error | Brier (best) | clocks | wrong |\n");
  fprintf (out, "|---|---|---|---|---|---|---|---|---|---|---|---|---|---|\n");
}

int
main (int argc, char **argv)
{
  g_autoptr (GOptionContext) context = g_option_context_new ("- how well photos find their items");
  g_autoptr (GError) error = NULL;
  FILE *out = stdout;

  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      fprintf (stderr, "%s\n", error->message);
      return 2;
    }
  if (out_file != NULL && (out = fopen (out_file, "w")) == NULL)
    {
      fprintf (stderr, "%s cannot be written\n", out_file);
      return 1;
    }
  tune = tune || fit;
  for (int k = 0; k < SW_N_SITUATIONS; k++)
    points[k] = g_array_new (FALSE, FALSE, sizeof (Point));
  tell_head (out);
  for (gsize k = 0; k < N_GROUPS; k++)
    if (only < 0 || only == (int)k)
      tell_group (out, k);
  if (fit)
    print_curves ();
  for (int k = 0; k < SW_N_SITUATIONS; k++)
    g_array_unref (points[k]);
  if (out != stdout)
    fclose (out);
  g_free (out_file);
  return 0;
}
