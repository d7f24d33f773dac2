/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Side evidence of the chain: positions against their own error, the ways between them, what the
 * pictures look like, which camera was in hand, where cards and tags cut. Each gives a likelihood
 * ratio, 1 where nothing is known. Must not decide anything. */
#include "core/base/distance.h"
#include "core/match/model-private.h"

#include <math.h>

/* Fixes under a tin roof are off by more than they say, and now and then wholly wrong. */
#define POSITION_FLOOR_M 10.0
#define PLACE_SIZE_M 12.0
#define POSITION_WRONG 0.05
#define POSITION_AREA_M2 (400.0 * 400.0)
/* Share of a place before it is named by position alone. */
#define POSITION_MOST 0.45

gboolean
sw_walk_place_in (const SwWalk *walk, int place, int in)
{
  for (int depth = 0; place >= 0 && depth < 64; depth++)
    {
      if (place == in)
        return TRUE;
      place = walk->places[place].parent;
    }
  return FALSE;
}

static double
position_density (const SwWalkPlace *place, const SwWalkPhoto *photo)
{
  double sd = hypot (MAX (photo->error_m, POSITION_FLOOR_M), PLACE_SIZE_M);
  double away
      = sw_distance_m (place->latitude, place->longitude, photo->latitude, photo->longitude);

  return (1 - POSITION_WRONG) * exp (-away * away / (2 * sd * sd)) / (2 * G_PI * sd * sd)
         + POSITION_WRONG / POSITION_AREA_M2;
}

void
sw_place_position_fits (const SwWalk *walk, const SwWalkPhoto *photo, const int *places, gsize n,
                        double *out_fits)
{
  double sum = 0;
  int known = 0;

  for (gsize k = 0; k < walk->n_places && photo->has_position; k++)
    if (walk->places[k].has_position)
      {
        sum += position_density (&walk->places[k], photo);
        known++;
      }
  for (gsize k = 0; k < n; k++)
    out_fits[k] = known > 0 && places[k] >= 0 && walk->places[places[k]].has_position
                      ? position_density (&walk->places[places[k]], photo) / (sum / known)
                      : 1;
}

double
sw_place_position_fit (const SwWalk *walk, const SwWalkPhoto *photo, int place)
{
  double fit;

  sw_place_position_fits (walk, photo, &place, 1, &fit);
  return fit;
}

/* Fixes of one stop are hardly independent: together they count as the best of them. */
int
sw_place_by_position (const SwWalk *walk, const guint *photos, gsize n)
{
  const SwWalkPhoto *best_photo = NULL;
  double sum = 0, best = 0;
  int place = -1;

  for (gsize k = 0; k < n; k++)
    {
      const SwWalkPhoto *photo = &walk->photos[photos[k]];

      if (photo->has_position && (best_photo == NULL || photo->error_m < best_photo->error_m))
        best_photo = photo;
    }
  for (gsize k = 0; k < walk->n_places && best_photo != NULL; k++)
    if (walk->places[k].has_position)
      {
        double density = position_density (&walk->places[k], best_photo);

        sum += density;
        if (density > best)
          {
            best = density;
            place = (int)k;
          }
      }
  /* Near nothing known: all the mass is that of wholly wrong fixes. */
  if (best < 3 * POSITION_WRONG / POSITION_AREA_M2 || best < POSITION_MOST * sum)
    return -1;
  return place;
}

/* Shares of differing bits, in classes; the tables are a first guess about hand-held views, worth
 * ALIKE_STRENGTH pairs each, and the walk's own pairs overrule them. */
enum
{
  N_ALIKE = 5,
};
static const int alike_limit[N_ALIKE] = { 4, 10, 18, 26, 64 };
static const double alike_same[N_ALIKE] = { 0.20, 0.18, 0.25, 0.21, 0.16 };
static const double alike_other[N_ALIKE] = { 0.01, 0.03, 0.16, 0.38, 0.42 };
#define ALIKE_STRENGTH 30.0
/* Pairs taken within this time are of one thing, pairs this far apart are not. */
#define ALIKE_NEAR_US (10 * SW_US_PER_SECOND)
#define ALIKE_FAR_US (600 * SW_US_PER_SECOND)
/* One picture pair says no more than this, either way. */
#define ALIKE_MOST 12.0

static int
alike_class (guint64 a, guint64 b)
{
  int bits = __builtin_popcountll (a ^ b), k = 0;

  while (bits > alike_limit[k])
    k++;
  return k;
}

void
sw_likeness_weigh (SwModel *model)
{
  double same[N_ALIKE], other[N_ALIKE], n_same = ALIKE_STRENGTH, n_other = ALIKE_STRENGTH;
  gsize far = 0;

  for (int k = 0; k < N_ALIKE; k++)
    {
      same[k] = alike_same[k] * ALIKE_STRENGTH;
      other[k] = alike_other[k] * ALIKE_STRENGTH;
    }
  for (gsize i = 0; i + 1 < model->n; i++)
    {
      const ModelPhoto *a = &model->photos[i], *b = &model->photos[i + 1];

      if (!a->source->has_likeness)
        continue;
      if (b->source->has_likeness && b->t_us - a->t_us < ALIKE_NEAR_US)
        {
          same[alike_class (a->source->dhash, b->source->dhash)]++;
          n_same++;
        }
      far = MAX (far, i + 1);
      while (far < model->n && model->photos[far].t_us - a->t_us < ALIKE_FAR_US)
        far++;
      if (far < model->n && model->photos[far].source->has_likeness)
        {
          other[alike_class (a->source->dhash, model->photos[far].source->dhash)]++;
          n_other++;
        }
    }
  for (gsize i = 0; i + 1 < model->n; i++)
    {
      const SwWalkPhoto *a = model->photos[i].source, *b = model->photos[i + 1].source;

      if (a->has_likeness && b->has_likeness)
        {
          int k = alike_class (a->dhash, b->dhash);
          double ratio = (same[k] / n_same) / (other[k] / n_other);

          model->photos[i].alike = CLAMP (ratio, 1 / ALIKE_MOST, ALIKE_MOST);
        }
    }
}

/* So many photos each way tell how much each camera is in use, within so long. */
#define IN_USE_AROUND 60
#define IN_USE_NEAR_US (3 * 3600 * SW_US_PER_SECOND)

static gboolean
is_named (const SwModel *model, gsize i)
{
  return !model->walk->cameras[model->photos[i].source->camera].nameless;
}

/* Photos without a camera's name may be of any. */
void
sw_cameras_weigh (SwModel *model)
{
  g_autofree guint *used = g_new0 (guint, model->walk->n_cameras + 1);
  gsize from = 0, upto = 0;
  guint sum = 0;
  int since = SW_SINCE_LONG;

  for (gsize i = 0; i + 1 < model->n; i++)
    {
      ModelPhoto *photo = &model->photos[i];
      int camera = photo->source->camera;

      for (; upto < MIN (i + IN_USE_AROUND + 1, model->n)
             && model->photos[upto].t_us - photo->t_us <= IN_USE_NEAR_US;
           upto++)
        if (is_named (model, upto))
          {
            used[model->photos[upto].source->camera]++;
            sum++;
          }
      for (; from + IN_USE_AROUND < i || photo->t_us - model->photos[from].t_us > IN_USE_NEAR_US;
           from++)
        if (is_named (model, from))
          {
            used[model->photos[from].source->camera]--;
            sum--;
          }
      photo->changes = FALSE;
      photo->since = since;
      photo->share = 1;
      if (!is_named (model, i) || !is_named (model, i + 1))
        continue;
      photo->changes = camera != photo[1].source->camera;
      photo->share = (double)used[camera] / sum;
      since = sw_since_next (since, photo->changes);
    }
}

/* A fix that says it is off by more tells of no step; nor does one so long after the last. */
#define MOTION_ERROR_M 30.0
#define MOTION_LAST_US (300 * SW_US_PER_SECOND)
/* Nearer than this it is the last fix once more. */
#define SAME_FIX_M 0.05
#define WAY_LEAST_S 0.5

static gboolean
tells_motion (const ModelPhoto *photo)
{
  return photo->source->has_position && photo->source->error_m <= MOTION_ERROR_M;
}

static gsize
longest_pause (const SwModel *model, gsize from, gsize upto)
{
  gsize longest = from;

  for (gsize i = from; i < upto; i++)
    if (model->photos[i].z > model->photos[longest].z)
      longest = i;
  return longest;
}

void
sw_motion_measure (SwModel *model)
{
  gsize last = model->n;
  gint64 new_us = 0; /* when the last fix was new: one that serves again says nothing */

  for (gsize i = 0; i < model->n; i++)
    {
      ModelPhoto *photo = &model->photos[i], *walked;
      const SwWalkPhoto *here = photo->source, *there;
      double way_m;

      photo->way_m = -1;
      photo->still = 1;
      if (!tells_motion (photo))
        continue;
      there = last < model->n ? model->photos[last].source : NULL;
      if (there == NULL || there->camera != here->camera || photo->t_us - new_us > MOTION_LAST_US)
        {
          last = i;
          new_us = photo->t_us;
          continue;
        }
      way_m = sw_distance_m (there->latitude, there->longitude, here->latitude, here->longitude);
      if (way_m > SAME_FIX_M)
        {
          walked = &model->photos[longest_pause (model, last, i)];
          walked->way_m = way_m;
          walked->way_s = MAX (sw_model_seconds (photo->t_us - new_us), WAY_LEAST_S);
          new_us = photo->t_us;
        }
      last = i;
    }
}

/* A tag comes first in its stop, nearly always. */
#define TAG_LATE 0.02
/* A pause in which another thing may have begun before its tag was photographed. */
#define TAG_PAUSE_S 20.0

/* A card is a stop of its own; a tag that was not seen just before begins one. Between two tags a
 * stop ends: where no pause says where, right before the second. */
void
sw_signs_cut (SwModel *model)
{
  gboolean paused = TRUE;
  int tag = 0;

  for (gsize i = 0; i < model->n; i++)
    {
      ModelPhoto *photo = &model->photos[i];
      const SwWalkPhoto *here = photo->source, *next;

      photo->join = 1;
      if (here->is_card)
        tag = 0;
      if (here->tag != 0)
        {
          tag = here->tag;
          paused = FALSE;
        }
      if (i + 1 == model->n)
        break;
      next = model->photos[i + 1].source;
      if (here->is_card != next->is_card || (here->is_card && here->place != next->place))
        photo->join = 0;
      else if (next->tag != 0 && next->tag != tag)
        photo->join = tag != 0 && !paused ? 0 : TAG_LATE;
      paused |= photo->z > log (TAG_PAUSE_S);
    }
}
