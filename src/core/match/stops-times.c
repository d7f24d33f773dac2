/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times put right before anything is asked of them: a photo that says no time of its own, or a weak
 * one, stands between its neighbours of one camera in the order taken in. */
#include "core/match/stops-private.h"

/* A photo without a time is placed between neighbours no farther apart than this. */
#define REPAIR_MOST_US (30 * 60 * SW_US_PER_SECOND)

/* Photos with a time of their own around photo i in the order taken in; FALSE unless both are of
 * one camera. */
static gboolean
find_neighbours (const SwWalk *walk, const guint *before, const guint *after, guint i, guint *out_a,
                 guint *out_b)
{
  if (before[i] == G_MAXUINT || after[i] == G_MAXUINT)
    return FALSE;
  if (walk->photos[before[i]].camera != walk->photos[after[i]].camera)
    return FALSE;
  *out_a = before[i];
  *out_b = after[i];
  return TRUE;
}

static void
repair_photo (SwStopsWork *work, guint i, guint a, guint b)
{
  const SwWalkPhoto *photo = &work->walk->photos[i];
  gint64 from = work->walk->photos[a].clock_us, upto = work->walk->photos[b].clock_us;

  if (photo->time_kind == SW_WALK_TIME_WEAK && from <= photo->clock_us && photo->clock_us <= upto)
    {
      work->vague[i] = FALSE;
      work->camera[i] = work->walk->photos[a].camera;
      return;
    }
  if (from > upto || upto - from > REPAIR_MOST_US)
    return;
  /* Spread between the neighbours by its place in the order. */
  work->clock_us[i] = from + (upto - from) / (gint64)(b - a) * (gint64)(i - a);
  work->camera[i] = work->walk->photos[a].camera;
  work->usable[i] = TRUE;
  work->vague[i] = FALSE;
  work->proposal->views[i].repaired = TRUE;
}

void
sw_stops_repair_times (SwStopsWork *work)
{
  const SwWalk *walk = work->walk;
  g_autofree guint *before = g_new (guint, walk->n_photos + 1);
  g_autofree guint *after = g_new (guint, walk->n_photos + 1);
  guint last = G_MAXUINT;

  for (guint i = 0; i < walk->n_photos; i++)
    {
      before[i] = last;
      if (walk->photos[i].time_kind == SW_WALK_TIME_OWN)
        last = i;
    }
  last = G_MAXUINT;
  for (guint i = (guint)walk->n_photos; i-- > 0;)
    {
      after[i] = last;
      if (walk->photos[i].time_kind == SW_WALK_TIME_OWN)
        last = i;
    }
  for (guint i = 0; i < walk->n_photos; i++)
    {
      const SwWalkPhoto *photo = &walk->photos[i];
      guint a, b;

      work->clock_us[i] = photo->clock_us;
      work->camera[i] = photo->camera;
      work->usable[i] = photo->time_kind != SW_WALK_TIME_NONE;
      work->vague[i] = photo->time_kind == SW_WALK_TIME_WEAK;
      if (photo->time_kind != SW_WALK_TIME_OWN && find_neighbours (walk, before, after, i, &a, &b))
        repair_photo (work, i, a, b);
    }
}
