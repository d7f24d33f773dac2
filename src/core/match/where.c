/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the person was at each photo: a hidden chain over the places, cards, 'here now' notes, what
 * was said by hand and position fixes being its evidence. A card that was not photographed at a
 * door, or a fix under a tin roof, is so outvoted by what stands around it. Must not know stops:
 * how likely a place is left between two photos it takes from the pause alone. */
#include "core/match/model-private.h"

#include <math.h>

/* Steps between stops that lead to another place. */
#define OTHER_SHARE 0.12
/* After a pause this long the next photo is as likely elsewhere. */
#define AWAY_Z 7.5 /* ln of half an hour in seconds */
#define AWAY_CHANGE 0.5
/* Where cards or notes tell of places entered, so many are entered untold. */
#define UNTOLD 0.2
/* What is said is so seldom of another place: by hand, by a card, by a note 'here now'. */
#define HAND_WRONG 1e-6
#define CARD_WRONG 0.01
#define HERE_WRONG 0.03
/* Fixes that follow each other are off by the same: each counts for so much of one. */
#define FIX_SHARE 0.4
/* What lies elsewhere by all evidence may be there all the same. */
#define FIT_LEAST 0.02

typedef struct
{
  SwModel *model;
  int *number; /* of each place among those that matter, or -1 */
  int *places; /* those */
  gsize n;
  gboolean *within;  /* n x n: one lies in the other, either way, or they are the same */
  double *evidence;  /* photos x n: what each photo says of each place */
  double *away;      /* photos: chance that another place was gone to before the next */
  double *alpha;     /* photos x n: forward, each row sums to 1 */
  gboolean told;     /* cards or notes 'here now' tell of places entered */
  gboolean anything; /* something beside the notes' own places is known */
} Where;

static void
add_place (Where *where, int place)
{
  if (place < 0 || where->number[place] >= 0)
    return;
  where->number[place] = (int)where->n;
  where->places[where->n++] = place;
}

static void
find_places (Where *where)
{
  const SwModel *model = where->model;
  const SwWalk *walk = model->walk;

  for (gsize k = 0; k < model->n_notes; k++)
    add_place (where, model->notes[k].place);
  for (gsize k = 0; k < model->n_visits; k++)
    add_place (where, model->visits[k].place);
  where->told = where->anything = model->n_visits > 0;
  for (gsize i = 0; i < model->n; i++)
    {
      add_place (where, model->photos[i].source->place);
      where->told |= model->photos[i].source->card != 0;
      where->anything
          |= model->photos[i].source->place >= 0 || model->photos[i].source->has_position;
    }
  where->within = g_new0 (gboolean, where->n * where->n + 1);
  for (gsize a = 0; a < where->n; a++)
    for (gsize b = 0; b < where->n; b++)
      where->within[a * where->n + b]
          = sw_walk_place_in (walk, where->places[a], where->places[b])
            || sw_walk_place_in (walk, where->places[b], where->places[a]);
}

/* Something says that a photo was taken in that place. */
static void
say (const Where *where, int place, double wrong, double *evidence)
{
  int said = place >= 0 ? where->number[place] : -1;

  for (gsize p = 0; p < where->n && said >= 0; p++)
    if (!where->within[p * where->n + (gsize)said])
      evidence[p] *= wrong;
}

/* The last 'here now' between the photo before and this one; those passed over were left again. */
static int
here_before (const SwModel *model, gsize i)
{
  int visit = sw_model_visit (model, model->photos[i].t_us);

  if (visit < 0 || (i > 0 && model->visits[visit].t_us <= model->photos[i - 1].t_us))
    return -1;
  return model->visits[visit].place;
}

/* What a card says holds on: it speaks once, at the first photo that it holds for. */
static gboolean
is_news (const SwModel *model, gsize i)
{
  for (gsize k = i; k-- > 0;)
    if (model->photos[k].source->camera == model->photos[i].source->camera)
      return model->photos[k].source->card != model->photos[i].source->card;
  return TRUE;
}

static void
weigh_photo (const Where *where, gsize i)
{
  const SwModel *model = where->model;
  const SwWalkPhoto *photo = model->photos[i].source;
  double *evidence = where->evidence + i * where->n;

  sw_place_position_fits (model->walk, photo, where->places, where->n, evidence);
  for (gsize p = 0; p < where->n && photo->has_position; p++)
    evidence[p] = pow (evidence[p], FIX_SHARE);
  say (where, here_before (model, i), HERE_WRONG, evidence);
  if (photo->place >= 0 && photo->card == 0)
    say (where, photo->place, HAND_WRONG, evidence);
  else if (photo->place >= 0 && is_news (model, i))
    say (where, photo->place, CARD_WRONG, evidence);
}

/* Whether something begins to be said of where photo i was taken. */
static gboolean
is_told (const SwModel *model, gsize i)
{
  const SwWalkPhoto *photo = model->photos[i].source;

  return here_before (model, i) >= 0
         || (photo->place >= 0 && (photo->card == 0 || is_news (model, i)));
}

/* Chance that another place was gone to between photo i and the next, by the pause, and by whether
 * that is told where it mostly is. */
static double
change (const Where *where, gsize i)
{
  const SwModel *model = where->model;
  const SwWalkParams *params = &model->params;
  double z = model->photos[i].z;
  double other = OTHER_SHARE * sw_gap_between (params, SW_STEP_OTHER, z);
  double same = (1 - OTHER_SHARE) * sw_gap_between (params, SW_STEP_SAME, z);
  double stay = (1 - params->boundary) * sw_gap_within (params, z);

  other *= params->boundary;
  same *= params->boundary;
  if (z > AWAY_Z)
    return AWAY_CHANGE;
  if (where->told && !is_told (model, i + 1))
    other *= UNTOLD;
  return other / (other + same + stay);
}

static void
scale (double *row, gsize n)
{
  double sum = 0;

  for (gsize p = 0; p < n; p++)
    sum += row[p];
  for (gsize p = 0; p < n; p++)
    row[p] = sum > 0 ? row[p] / sum : 1.0 / (double)n;
}

/* One step along the chain, the same both ways: stay, or go to any other place. */
static void
step (const Where *where, double away, const double *from, double *to)
{
  gsize n = where->n;
  double sum = 0;

  for (gsize p = 0; p < n; p++)
    sum += from[p];
  for (gsize p = 0; p < n; p++)
    to[p] = n > 1 ? (1 - away) * from[p] + away * (sum - from[p]) / (double)(n - 1) : from[p];
}

static void
go_forward (Where *where)
{
  gsize n = where->n;

  for (gsize i = 0; i < where->model->n; i++)
    {
      double *row = where->alpha + i * n;

      for (gsize p = 0; p < n; p++)
        row[p] = 1;
      if (i > 0)
        {
          where->away[i - 1] = change (where, i - 1);
          step (where, where->away[i - 1], row - n, row);
        }
      weigh_photo (where, i);
      for (gsize p = 0; p < n; p++)
        row[p] *= where->evidence[i * n + p];
      scale (row, n);
    }
}

/* What both passes say of each place for photo i, against any place. */
static void
fill_photo (Where *where, gsize i, const double *beta, double *chance)
{
  SwModel *model = where->model;
  gsize n = where->n;

  for (gsize p = 0; p < n; p++)
    chance[p] = where->alpha[i * n + p] * beta[p];
  scale (chance, n);
  for (int k = model->lo[i]; k < model->hi[i]; k++)
    {
      int place = model->notes[k].place;
      double best = 0;

      if (place < 0)
        continue;
      for (gsize p = 0; p < n; p++)
        if (where->within[p * n + (gsize)where->number[place]])
          best = MAX (best, chance[p]);
      model->fit[model->cell[i] + (gsize)(k - model->lo[i])]
          = FIT_LEAST + (1 - FIT_LEAST) * best * (double)n;
    }
}

static void
go_backward (Where *where)
{
  gsize n = where->n;
  g_autofree double *beta = g_new (double, n + 1);
  g_autofree double *before = g_new (double, n + 1);
  g_autofree double *chance = g_new (double, n + 1);

  for (gsize p = 0; p < n; p++)
    beta[p] = 1;
  for (gsize i = where->model->n; i-- > 0;)
    {
      fill_photo (where, i, beta, chance);
      if (i == 0)
        break;
      for (gsize p = 0; p < n; p++)
        before[p] = beta[p] * where->evidence[i * n + p];
      step (where, where->away[i - 1], before, beta);
      scale (beta, n);
    }
}

void
sw_where_fill (SwModel *model)
{
  Where where = { .model = model };
  g_autofree int *number = g_new (int, model->walk->n_places + 1);
  g_autofree int *places = g_new (int, model->walk->n_places + 1);
  g_autofree gboolean *within = NULL;
  g_autofree double *alpha = NULL, *evidence = NULL, *away = NULL;

  for (gsize k = 0; k < model->cell[model->n]; k++)
    model->fit[k] = 1;
  for (gsize k = 0; k <= model->walk->n_places; k++)
    number[k] = -1;
  where.number = number;
  where.places = places;
  find_places (&where);
  within = where.within;
  if (!where.anything || where.n == 0)
    return;
  away = where.away = g_new (double, model->n);
  alpha = where.alpha = g_new (double, model->n *where.n);
  evidence = where.evidence = g_new (double, model->n *where.n);
  go_forward (&where);
  go_backward (&where);
}
