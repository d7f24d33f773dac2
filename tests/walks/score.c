/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scores proposals. The simpler ways get the clock shift that the proposal found, so that only the
 * pairing is compared. */
#include "score.h"

#include <math.h>
#include <stdlib.h>

#define RESAMPLES 1000

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *)a, y = *(const double *)b;

  return (x > y) - (x < y);
}

static int
nearest_item (const SwWalk *walk, gint64 t_us)
{
  gint64 best = G_MAXINT64;
  int item = -1;

  for (gsize k = 0; k < walk->n_notes; k++)
    {
      gint64 away = ABS (walk->notes[k].time_us + walk->notes[k].resolution_us / 2 - t_us);

      if (walk->notes[k].item >= 0 && away < best)
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

/* What the proposal takes the photo's thing for: an item, or else a thing of its stop's own. */
static int
proposed_thing (const TrueWalk *truth, const SwProposal *proposal, gsize i)
{
  guint stop = proposal->views[i].stop;
  int label = proposal->stops[stop].label;

  return label >= 0 ? label : (int)truth->walk.n_items + (int)stop;
}

static void
score_photos (Score *score, const TrueWalk *truth, const SwProposal *proposal)
{
  for (guint i = 0; i < truth->walk.n_photos; i++)
    {
      const SwStop *stop = &proposal->stops[proposal->views[i].stop];
      int meant = stop->label == SW_LABEL_NEW ? -1 : stop->label;
      gboolean right = meant == truth->item[i];
      gboolean held = right && (meant >= 0 || score_in_its_stop (truth, proposal, i));
      int bin = CLAMP ((int)(stop->probability * 10), 0, 9);

      if (truth->item[i] == SW_WALK_NONE)
        continue;
      score->photos++;
      score->right += right;
      score->held += held;
      score->nearest_right
          += nearest_item (&truth->walk, proposal->views[i].t_us) == truth->item[i];
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

/* Photos stand in true order: a camera put among others at a wrong time cuts what it should not,
 * and is made to pay for it. */
static void
score_boundaries (Score *score, const TrueWalk *truth, const SwProposal *proposal)
{
  int before = -1;

  for (int i = 0; i < (int)truth->walk.n_photos; i++)
    {
      if (truth->item[i] == SW_WALK_NONE)
        continue;
      if (before >= 0)
        {
          gboolean ours = proposed_thing (truth, proposal, (gsize)before)
                          != proposed_thing (truth, proposal, (gsize)i);
          gboolean truly = truth->visit[before] != truth->visit[i];
          gboolean fixed = ABS (proposal->views[i].t_us - proposal->views[before].t_us)
                           > 60 * SW_US_PER_SECOND;

          score->ours += ours;
          score->truly += truly;
          score->hits += ours && truly;
          score->fixed_ours += fixed;
          score->fixed_hits += fixed && truly;
        }
      before = i;
    }
}

/* Pairs of photos said to show one thing that is new, and pairs that do. */
static void
score_pairs (Score *score, const TrueWalk *truth, const SwProposal *proposal)
{
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    for (gsize j = 0; j < i; j++)
      {
        gboolean truly = truth->thing[i] == truth->thing[j] && truth->item[i] == -1;
        gboolean ours
            = proposal->stops[proposal->views[i].stop].label == SW_LABEL_NEW
              && proposed_thing (truth, proposal, i) == proposed_thing (truth, proposal, j);

        score->pair_truly += truly;
        score->pair_ours += ours;
        score->pair_hits += ours && truly;
      }
}

/* Whether the photo is put with its thing's first visit. */
static gboolean
joins_its_thing (const TrueWalk *truth, const SwProposal *proposal, gsize i)
{
  int thing = proposed_thing (truth, proposal, i);

  if (truth->item[i] >= 0)
    return thing == truth->item[i];
  for (gsize j = 0; j < i; j++)
    if (truth->thing[j] == truth->thing[i] && !truth->again[j]
        && proposed_thing (truth, proposal, j) == thing)
      return TRUE;
  return FALSE;
}

static void
score_returns (Score *score, const TrueWalk *truth, const SwProposal *proposal)
{
  gsize n = truth->walk.n_photos;

  for (gsize i = 0; i < n;)
    {
      gsize end = i, found = 0;

      while (end < n && truth->visit[end] == truth->visit[i])
        found += joins_its_thing (truth, proposal, end++);
      if (truth->again[i])
        {
          score->returns++;
          score->returns_found += 2 * found > end - i;
        }
      i = end;
    }
}

/* What the proposal claims of the clock of photo i. */
static const SwClockResult *
clock_of (const SwWalk *walk, const SwProposal *proposal, gsize i)
{
  const SwClockResult *clock = &proposal->clocks[walk->photos[i].camera];

  for (gsize k = 0; k < proposal->n_parts; k++)
    if (proposal->parts[k].camera == walk->photos[i].camera && proposal->parts[k].from <= i)
      clock = &proposal->parts[k].clock;
  return clock;
}

/* One camera's photos between two jumps of its clock. */
typedef struct
{
  gsize n;
  gboolean known; /* most of them are said to have a known clock */
  double away_s;  /* median distance of the times they were given from the true ones: one photo
                     taken for the wrong side of a jump is no wrong clock */
  double claim_s; /* mean of the spread claimed where it is known */
} Stretch;

static Stretch
measure_stretch (const TrueWalk *truth, const SwProposal *proposal, int camera, int number)
{
  Stretch stretch = { 0 };
  g_autofree double *away_s = g_new (double, truth->walk.n_photos);
  gsize known = 0;

  for (gsize i = 0; i < truth->walk.n_photos; i++)
    {
      const SwClockResult *clock = clock_of (&truth->walk, proposal, i);
      double put_s = (double)(proposal->views[i].t_us - truth->photos[i].clock_us) / 1e6;

      if (truth->photos[i].camera != camera || truth->stretch[i] != number)
        continue;
      away_s[stretch.n++] = fabs (put_s - truth->lacks_s[i]);
      known += clock->known;
      stretch.claim_s += clock->known ? clock->spread_s : 0;
    }
  qsort (away_s, stretch.n, sizeof (double), compare_doubles);
  stretch.away_s = stretch.n > 0 ? away_s[stretch.n / 2] : 0;
  if (known > 0)
    stretch.claim_s /= (double)known;
  stretch.known = 2 * known > stretch.n;
  return stretch;
}

/* A camera whose clock jumped counts by the worse side of the jump. */
static void
score_clocks (Score *score, const TrueWalk *truth, const SwProposal *proposal,
              const double *best_spread_s)
{
  for (gsize c = 0; c < truth->walk.n_cameras; c++)
    {
      gboolean known = TRUE, near = TRUE, best = TRUE, own = TRUE, wrong = FALSE;

      for (int number = 0; number < 2; number++)
        {
          Stretch stretch = measure_stretch (truth, proposal, (int)c, number);

          if (stretch.n == 0)
            continue;
          known &= stretch.known;
          near &= stretch.away_s <= 5;
          own &= stretch.away_s <= MAX (5, 2 * stretch.claim_s);
          best &= best_spread_s != NULL && stretch.away_s <= MAX (5, 2 * best_spread_s[c]);
          wrong |= stretch.known && stretch.away_s > 60 && stretch.claim_s < 10;
        }
      score->cameras++;
      score->clocks += known;
      score->clocks_near += known && near;
      score->clocks_spread += known && own;
      score->clocks_best += known && best;
      score->clocks_wrong += wrong;
    }
}

void
score_add (Score *score, const TrueWalk *truth, const SwProposal *proposal,
           const double *best_spread_s)
{
  score_photos (score, truth, proposal);
  score_boundaries (score, truth, proposal);
  score_pairs (score, truth, proposal);
  score_returns (score, truth, proposal);
  score_clocks (score, truth, proposal, best_spread_s);
}

void
score_sum (Score *sum, const Score *one)
{
  double *to = (double *)sum;
  const double *from = (const double *)one;

  for (gsize k = 0; k < sizeof (Score) / sizeof (double); k++)
    to[k] += from[k];
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

double
score_sure_bound (const Score *scores, int n)
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
  qsort (shares, RESAMPLES, sizeof (double), compare_doubles);
  return shares[RESAMPLES / 40];
}
