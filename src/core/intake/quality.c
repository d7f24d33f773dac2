/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures of one picture by fields. Plain sums over pixels; knows no file, no catalogue row. */
#include "core/intake/quality.h"

#include <stdlib.h>
#include <string.h>

#define COLUMNS 12
#define ROWS 9
#define FIELDS (COLUMNS * ROWS)

/* A field whose luma varies less (in squared levels) shows nothing that could be in focus. */
#define SOMETHING 60.0
/* Focus of a picture that shows nothing anywhere: neither blurred nor a good choice. */
#define FOCUS_OF_NOTHING 0.03

/* What rounding to whole levels alone gives the Laplacian: 20 twelfths. */
#define ROUNDING (20.0 / 12)

#define BLACK 12
#define BURNT 250

/* What hides a field from the lens: smooth, and lit through by blood. A dark thing is not told from
 * the dark corner of a shed, so it does not count. */
#define SMOOTH 120.0
#define SMOOTH_SHARPNESS 2.0
#define RED_OVER_OTHERS 1.35
/* Around it red passes into the scene without an edge, since it is far out of focus; that is seen
 * in the red alone, whatever pattern the scene has there. */
#define BORDER_CONTRAST 15.0
#define BORDER_FOCUS 0.02
#define BORDER_SHARE 0.6

typedef struct
{
  double n, sum, squares, lap, lap_squares;
} Sums;

typedef struct
{
  Sums luma, redness; /* redness: red minus green */
  double red, green, blue;
  double spread, focus; /* variance of the luma; of its Laplacian over that */
  double red_spread, red_focus;
} Field;

typedef struct
{
  guint width, height;
  guint8 *luma;
  Field fields[FIELDS];
} Work;

static void
add (Sums *sums, int here, int lap)
{
  sums->n++;
  sums->sum += here;
  sums->squares += (double)here * here;
  sums->lap += lap;
  sums->lap_squares += (double)lap * lap;
}

static int
redness (const guint8 *rgb)
{
  return rgb[0] - rgb[1];
}

static void
add_pixel (Work *work, const SwPixels *pixels, guint x, guint y, gint64 totals[3])
{
  Field *f = &work->fields[y * ROWS / work->height * COLUMNS + x * COLUMNS / work->width];
  gssize line = (gssize)work->width;
  const guint8 *p = work->luma + y * line + x;
  const guint8 *rgb = pixels->rgb + (y * line + x) * 3;

  add (&f->luma, p[0], p[-1] + p[1] + p[-line] + p[line] - 4 * p[0]);
  add (&f->redness, redness (rgb),
       redness (rgb - 3) + redness (rgb + 3) + redness (rgb - 3 * line) + redness (rgb + 3 * line)
           - 4 * redness (rgb));
  f->red += rgb[0];
  f->green += rgb[1];
  f->blue += rgb[2];
  totals[0] += p[0];
  totals[1] += p[0] <= BLACK;
  totals[2] += p[0] >= BURNT;
}

static double
variance (double sum, double squares, double n)
{
  return n > 0 ? MAX (squares / n - sum / n * (sum / n), 0) : 0;
}

static void
settle (const Sums *sums, double rounding, double *out_spread, double *out_focus)
{
  double lap = variance (sums->lap, sums->lap_squares, sums->n);

  *out_spread = variance (sums->sum, sums->squares, sums->n);
  *out_focus = MAX (lap - rounding, 0) / (*out_spread + 1);
}

static void
add_up (Work *work, SwPhotoQuality *out)
{
  Sums all = { 0 };

  for (int i = 0; i < FIELDS; i++)
    {
      Field *f = &work->fields[i];

      settle (&f->luma, ROUNDING, &f->spread, &f->focus);
      settle (&f->redness, 2 * ROUNDING, &f->red_spread, &f->red_focus);
      all.n += f->luma.n;
      all.lap += f->luma.lap;
      all.lap_squares += f->luma.lap_squares;
    }
  out->sharpness = variance (all.lap, all.lap_squares, all.n);
}

static int
compare_falling (const void *a, const void *b)
{
  double left = *(const double *)a, right = *(const double *)b;
  return left < right ? 1 : left > right ? -1 : 0;
}

/* Mean of the best quarter of those fields that show anything. */
static double
focus_of (const Work *work)
{
  double shown[FIELDS], sum = 0;
  int n = 0, best;

  for (int i = 0; i < FIELDS; i++)
    if (work->fields[i].spread >= SOMETHING)
      shown[n++] = work->fields[i].focus;
  if (n == 0)
    return FOCUS_OF_NOTHING;
  qsort (shown, (gsize)n, sizeof *shown, compare_falling);
  best = (n + 3) / 4;
  for (int i = 0; i < best; i++)
    sum += shown[i];
  return sum / best;
}

/* --- what lies over the lens --- */

static gboolean
is_hidden (const Field *f)
{
  return f->spread < SMOOTH && f->focus * (f->spread + 1) < SMOOTH_SHARPNESS
         && f->red > RED_OVER_OTHERS * f->green && f->red > RED_OVER_OTHERS * f->blue;
}

static gboolean
is_at_edge (int i)
{
  int x = i % COLUMNS, y = i / COLUMNS;
  return x == 0 || y == 0 || x == COLUMNS - 1 || y == ROWS - 1;
}

static int
neighbours (int i, int out[4])
{
  int x = i % COLUMNS, y = i / COLUMNS, n = 0;

  if (x > 0)
    out[n++] = i - 1;
  if (x < COLUMNS - 1)
    out[n++] = i + 1;
  if (y > 0)
    out[n++] = i - COLUMNS;
  if (y < ROWS - 1)
    out[n++] = i + COLUMNS;
  return n;
}

/* Spreads from the field at the edge over its hidden neighbours; *out_soft of *out_border fields
 * around show a border far out of focus. */
static int
spread_from (const Work *work, int start, gboolean taken[FIELDS], int *out_border, int *out_soft)
{
  int stack[FIELDS], n = 0, size = 0;
  gboolean seen[FIELDS] = { FALSE };

  *out_border = *out_soft = 0;
  stack[n++] = start;
  taken[start] = TRUE;
  while (n > 0)
    {
      int at = stack[--n], next[4], m = neighbours (at, next);

      size++;
      for (int k = 0; k < m; k++)
        {
          const Field *f = &work->fields[next[k]];

          if (taken[next[k]] || seen[next[k]])
            continue;
          if (is_hidden (f))
            {
              taken[next[k]] = TRUE;
              stack[n++] = next[k];
              continue;
            }
          seen[next[k]] = TRUE;
          (*out_border)++;
          *out_soft += f->red_spread >= BORDER_CONTRAST && f->red_focus < BORDER_FOCUS;
        }
    }
  return size;
}

/* Thousandths under the largest such blob; all of them where the whole lens is covered. */
static int
covered_share (const Work *work)
{
  gboolean taken[FIELDS] = { FALSE };
  int most = 0;

  for (int i = 0; i < FIELDS; i++)
    {
      int border, soft, size;

      if (taken[i] || !is_at_edge (i) || !is_hidden (&work->fields[i]))
        continue;
      size = spread_from (work, i, taken, &border, &soft);
      if (size == FIELDS || (border >= 3 && soft >= BORDER_SHARE * border))
        most = MAX (most, size);
    }
  return most * 1000 / FIELDS;
}

void
sw_quality_measure (const SwPixels *pixels, SwPhotoQuality *out)
{
  g_autofree Work *work = g_new0 (Work, 1);
  g_autofree guint8 *luma = sw_pixels_luma (pixels);
  gint64 totals[3] = { 0 };
  double n;

  work->width = pixels->width;
  work->height = pixels->height;
  work->luma = luma;
  for (guint y = 1; y + 1 < pixels->height; y++)
    for (guint x = 1; x + 1 < pixels->width; x++)
      add_pixel (work, pixels, x, y, totals);
  add_up (work, out);
  n = MAX (((double)pixels->width - 2) * ((double)pixels->height - 2), 1);
  out->focus = focus_of (work);
  out->mean = (int)((double)totals[0] / n);
  out->dark = (int)((double)totals[1] * 1000 / n);
  out->bright = (int)((double)totals[2] * 1000 / n);
  out->covered = covered_share (work);
}
