/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scores proposals. The simpler ways get the clock shift that the proposal found, so that only the
 * pairing is compared. */
#include "score.h"

#include <math.h>
#include <stdlib.h>

typedef struct
{
  gint64 t_us;
  guint photo;
} Timed;

static int
compare_timed (gconstpointer a, gconstpointer b)
{
  const Timed *x = a, *y = b;

  if (x->t_us != y->t_us)
    return x->t_us < y->t_us ? -1 : 1;
  return (x->photo > y->photo) - (x->photo < y->photo);
}

static int
nearest_item (const SwWalk *walk, gint64 t_us)
{
  gint64 best = G_MAXINT64;
  int item = -1;

  for (gsize k = 0; k < walk->n_notes; k++)
    {
      if (walk->notes[k].item < 0)
        continue;
      gint64 away = ABS (walk->notes[k].time_us + walk->notes[k].resolution_us / 2 - t_us);

      if (away < best)
        {
          best = away;
          item = walk->notes[k].item;
        }
    }
  return item;
}

/* Photos of that thing in that stop. */
static int
shared (const TrueWalk *truth, const SwStop *stop, int thing)
{
  int count = 0;

  for (gsize k = 0; k < stop->n_photos; k++)
    count += truth->thing[stop->photos[k]] == thing;
  return count;
}

/* Whether most of the photo's stop is its thing, and most of its thing is in that stop: what a
 * person would keep of a new thing. */
gboolean
score_in_its_stop (const TrueWalk *truth, const SwProposal *proposal, guint i)
{
  const SwStop *stop = &proposal->stops[proposal->views[i].stop];
  int ours = shared (truth, stop, truth->thing[i]), all = 0;

  for (gsize k = 0; k < truth->walk.n_photos; k++)
    all += truth->thing[k] == truth->thing[i];
  return 2 * ours > (int)stop->n_photos && 2 * ours > all;
}

static void
score_photos (Score *score, const TrueWalk *truth, const SwProposal *proposal, const Timed *timed)
{
  for (gsize k = 0; k < truth->walk.n_photos; k++)
    {
      guint i = timed[k].photo;
      const SwStop *stop = &proposal->stops[proposal->views[i].stop];
      int meant = stop->label == SW_LABEL_NEW ? -1 : stop->label;
      gboolean right = meant == truth->item[i];
      gboolean held = right && (meant >= 0 || score_in_its_stop (truth, proposal, i));
      int bin = CLAMP ((int)(stop->probability * 10), 0, 9);

      score->photos++;
      score->right += right;
      score->held += held;
      score->nearest_right += nearest_item (&truth->walk, timed[k].t_us) == truth->item[i];
      if (stop->band == SW_BAND_SURE)
        {
          score->sure++;
          score->sure_right += held;
        }
      score->square += (stop->probability - held) * (stop->probability - held);
      score->bin_p[bin] += stop->probability;
      score->bin_right[bin] += held;
      score->bin_n[bin]++;
    }
}

static void
score_boundaries (Score *score, const TrueWalk *truth, const SwProposal *proposal,
                  const Timed *timed)
{
  for (gsize k = 0; k + 1 < truth->walk.n_photos; k++)
    {
      guint a = timed[k].photo, b = timed[k + 1].photo;
      gboolean ours = proposal->views[a].stop != proposal->views[b].stop;
      gboolean truly = truth->visit[a] != truth->visit[b];
      gboolean fixed = timed[k + 1].t_us - timed[k].t_us > 60 * SW_US_PER_SECOND;

      score->ours += ours;
      score->truly += truly;
      score->hits += ours && truly;
      score->fixed_ours += fixed;
      score->fixed_hits += fixed && truly;
    }
}

/* How far the times that a camera's photos were given lie from the true ones: the mean over each
 * stretch between two jumps of its clock, the worst of them. */
static double
clock_away (const TrueWalk *truth, const SwProposal *proposal, int camera)
{
  double worst = 0;

  for (int stretch = 0; stretch < 2; stretch++)
    {
      double sum = 0;
      gsize n = 0;

      for (gsize i = 0; i < truth->walk.n_photos; i++)
        if (truth->photos[i].camera == camera && truth->stretch[i] == stretch
            && proposal->views[i].timed)
          {
            double put_s = (double)(proposal->views[i].t_us - truth->photos[i].clock_us) / 1e6;

            sum += fabs (put_s - truth->lacks_s[i]);
            n++;
          }
      if (n > 0)
        worst = MAX (worst, sum / (double)n);
    }
  return worst;
}

void
score_add (Score *score, const TrueWalk *truth, const SwProposal *proposal)
{
  g_autofree Timed *timed = g_new0 (Timed, truth->walk.n_photos + 1);

  for (guint i = 0; i < truth->walk.n_photos; i++)
    timed[i] = (Timed){ proposal->views[i].t_us, i };
  qsort (timed, truth->walk.n_photos, sizeof (Timed), compare_timed);
  score_photos (score, truth, proposal, timed);
  score_boundaries (score, truth, proposal, timed);
  for (gsize c = 0; c < truth->walk.n_cameras; c++)
    {
      const SwClockResult *clock = &proposal->clocks[c];
      double away = clock_away (truth, proposal, (int)c);

      if (!clock->known)
        continue;
      score->clocks++;
      score->clocks_near += away <= 5;
      score->clocks_spread += away <= MAX (5, 2 * clock->spread_s);
      score->clocks_wrong += away > 60 && clock->spread_s < 10;
    }
}

double
score_f1 (double hits, double ours, double truly)
{
  return ours + truly > 0 ? 2 * hits / (ours + truly) : 1;
}

double
score_calibration_error (const Score *score)
{
  double sum = 0;

  for (int k = 0; k < 10; k++)
    sum += fabs (score->bin_p[k] - score->bin_right[k]);
  return score->photos > 0 ? sum / score->photos : 0;
}
