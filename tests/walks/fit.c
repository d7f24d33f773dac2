/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fits the curves of calibrate.c to proposals on the tune set, and prints them. */
#include "fit.h"

#include "core/match/calibrate.h"
#include "score.h"

#include <math.h>
#include <stdio.h>

typedef struct
{
  double x, y, weight;
} Point;

static GArray *points[SW_N_SITUATIONS];

void
fit_begin (void)
{
  for (int k = 0; k < SW_N_SITUATIONS; k++)
    points[k] = g_array_new (FALSE, FALSE, sizeof (Point));
}

void
fit_end (void)
{
  for (int k = 0; k < SW_N_SITUATIONS; k++)
    g_array_unref (points[k]);
}

void
fit_add (const TrueWalk *truth, const SwProposal *proposal)
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

void
fit_print (void)
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
