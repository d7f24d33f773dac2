/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stretches of a clock between its changes. The search for changes (clock-parts.c) knows shifts
 * only as well as its few candidates; here each stretch has the whole model's word. */
#include "core/match/clock-stretches.h"

#include "core/match/clock-gather.h"
#include "core/match/clock-judge.h"
#include "core/match/clock-pieces.h"

#include <math.h>

/* A stretch of fewer photos stays where it was put. */
#define LEAST_PHOTOS 4
#define OWN_TRIES 10
/* By so much one stretch may seem to begin before another ends. */
#define OVERLAP_US (60 * SW_US_PER_SECOND)
/* How little a stretch is known that cannot be judged. */
#define UNJUDGED_SPREAD_S 120.0

typedef struct
{
  int camera;
  guint from, upto; /* indices into walk->photos */
} Stretch;

static gboolean
is_in (const SwStopsWork *work, const Stretch *stretch, guint photo)
{
  return work->camera[photo] == stretch->camera && photo >= stretch->from && photo < stretch->upto;
}

/* The photos of the stretch where they stand, or all others that do. */
static GArray *
take_photos (const SwStopsWork *work, const gboolean *standing, const Stretch *stretch,
             gboolean inside)
{
  g_autoptr (GArray) all = sw_clock_standing_photos (work, standing);
  GArray *photos = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (guint i = 0; i < all->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (all, SwModelPhoto, i);

      if (is_in (work, stretch, photo->photo) == inside && (!inside || work->set[photo->photo] < 0))
        g_array_append_val (photos, *photo);
    }
  return photos;
}

/* A camera takes its photos one after the other: drops the tries by which the stretch would lie
 * among the camera's photos before or after it. Returns how many stay. */
static gsize
drop_overlaps (const SwStopsWork *work, const Stretch *stretch, const GArray *moved,
               const GArray *others, SwClockMode *tries, gsize n)
{
  gint64 first = g_array_index (moved, SwModelPhoto, 0).t_us;
  gint64 last = g_array_index (moved, SwModelPhoto, moved->len - 1).t_us;
  gint64 least = G_MININT64, most = G_MAXINT64;
  gsize kept = 0;

  for (guint i = 0; i < others->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (others, SwModelPhoto, i);

      if (work->camera[photo->photo] != stretch->camera)
        continue;
      if (photo->photo < stretch->from)
        least = MAX (least, photo->t_us - first - OVERLAP_US);
      else
        most = MIN (most, photo->t_us - last + OVERLAP_US);
    }
  for (gsize k = 0; k < n; k++)
    {
      gint64 by = (gint64)llrint (tries[k].shift_s * 1e6);

      if (by >= least && by <= most)
        tries[kept++] = tries[k];
    }
  return kept;
}

/* What the stretch's shift is beyond the base it has, with the shift itself. */
static SwClockResult
judge_stretch (const SwStopsWork *work, const gboolean *standing, const Stretch *stretch,
               double base_s, double *out_by_s)
{
  g_autoptr (GArray) moved = take_photos (work, standing, stretch, TRUE);
  g_autoptr (GArray) others = take_photos (work, standing, stretch, FALSE);
  g_autoptr (SwClockJudge) judge = NULL;
  g_auto (SwClockGathered) own = { 0 };
  SwClockMode tries[OWN_TRIES], modes[SW_CLOCK_MODES];
  SwClockResult result = { .spread_s = UNJUDGED_SPREAD_S };
  gsize n_tries, n;

  *out_by_s = 0;
  if (moved->len >= LEAST_PHOTOS)
    {
      sw_clock_gather_photos (work, moved, &own);
      own.evidence.bases = &base_s;
      own.evidence.n_bases = 1;
      n_tries = sw_clock_tries (&own.evidence, tries, OWN_TRIES);
      n_tries = drop_overlaps (work, stretch, moved, others, tries, n_tries);
      judge = sw_clock_judge_new (work->walk, moved, others, work->alone);
      n = sw_clock_judge_tries (judge, &own.evidence, tries, n_tries, modes);
      n = sw_clock_add_doubt (modes, n, tries, n_tries);
      result = sw_clock_settle (modes, n);
    }
  if (result.known)
    *out_by_s = result.shift_s;
  else
    result = (SwClockResult){ .spread_s = MAX (result.spread_s, UNJUDGED_SPREAD_S) };
  result.known = TRUE;
  result.shift_s = base_s + *out_by_s;
  result.other_s += result.other_share > 0 ? base_s : 0;
  for (int k = 0; k < result.n_modes; k++)
    result.modes[k].shift_s += base_s;
  if (own.stops != NULL)
    result.counts = sw_clock_count (&own.evidence, *out_by_s);
  result.evidence = sw_clock_counts_sum (&result.counts);
  return result;
}

static void
move_stretch (SwStopsWork *work, const Stretch *stretch, double by_s)
{
  for (guint i = stretch->from; i < MIN (stretch->upto, work->walk->n_photos); i++)
    if (is_in (work, stretch, i))
      work->lean_us[i] += (gint64)llrint (by_s * 1e6);
}

/* A clock that was set on or back by whole hours was left as wrong as it was: all such stretches
 * are judged as one, where they lean. */
static gboolean
is_tied (const SwClockPart *part)
{
  return sw_part_half_hours (part->step_s) != 0
         && fabs (remainder (part->step_s, SW_CLOCK_HOUR_S)) < 0.5;
}

/* Part k or the first after it that is not tied to what is before it; n for none. */
static guint
next_loose (const SwClockPart *parts, guint k, guint n)
{
  while (k < n && is_tied (&parts[k]))
    k++;
  return k;
}

/* By how much the clock changes from part 'from' up to, not with, part 'upto'. */
static double
steps_between (const SwClockPart *parts, guint from, guint upto)
{
  double sum = 0;

  for (guint k = from; k < upto; k++)
    sum += parts[k].step_s;
  return sum;
}

/* The camera's stretches; first: its first part. */
static void
judge_camera (SwStopsWork *work, const gboolean *standing, guint first, guint n)
{
  SwClockPart *parts = &g_array_index (work->parts, SwClockPart, first);
  SwClockResult *clock = &work->proposal->clocks[parts[0].camera];
  guint k = next_loose (parts, 0, n), next;
  Stretch stretch = { parts[0].camera, 0, k < n ? parts[k].from : G_MAXUINT };
  double base_s = clock->shift_s, begin_by_s, by_s = 0, before_s, tied_s;
  SwClockResult begin;

  /* The look at the whole camera judged it as one. */
  if (k == n)
    return;
  begin = judge_stretch (work, standing, &stretch, base_s, &begin_by_s);
  begin.drift_s_day = clock->drift_s_day;
  begin.drift_from_us = clock->drift_from_us;
  move_stretch (work, &stretch, begin_by_s);
  tied_s = steps_between (parts, 0, k);
  before_s = begin.shift_s + tied_s;
  base_s += tied_s;
  for (; k < n; k = next)
    {
      next = next_loose (parts, k + 1, n);
      base_s += parts[k].step_s;
      stretch.from = parts[k].from;
      stretch.upto = next < n ? parts[next].from : G_MAXUINT;
      parts[k].clock = judge_stretch (work, standing, &stretch, base_s, &by_s);
      move_stretch (work, &stretch, by_s);
      parts[k].step_s = parts[k].clock.shift_s - before_s;
      tied_s = steps_between (parts, k + 1, next);
      before_s = parts[k].clock.shift_s + tied_s;
      base_s += tied_s;
    }
  /* What the first stretch moved by is the camera's own shift. */
  stretch = (Stretch){ parts[0].camera, 0, G_MAXUINT };
  move_stretch (work, &stretch, -begin_by_s);
  begin.beside_s = clock->beside_s;
  *clock = begin;
}

void
sw_clock_judge_stretches (SwStopsWork *work, const gboolean *standing)
{
  for (guint k = 0, n; k < work->parts->len; k += n)
    {
      int camera = g_array_index (work->parts, SwClockPart, k).camera;

      n = 1;
      while (k + n < work->parts->len
             && g_array_index (work->parts, SwClockPart, k + n).camera == camera)
        n++;
      if (standing[camera] && work->proposal->clocks[camera].known)
        judge_camera (work, standing, k, n);
    }
}
