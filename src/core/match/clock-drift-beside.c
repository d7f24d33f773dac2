/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drift that nothing but other cameras tells: rates and shifts are gone through together by the
 * gaps of one person's walk, and the best is taken where the whole model likes it better than no
 * drift. Over one day a drift of seconds blurs what tells the shift; over a night it parts the
 * days. Must not look at notes (clock-drift.c does). */
#include "core/match/clock-drift-beside.h"

#include "core/match/clock-drift.h"
#include "core/match/clock-gather.h"
#include "core/match/clock-judge.h"

#include <math.h>
#include <string.h>

#define DAY_S 86400.0
/* Fewer photos tell no drift. */
#define LEAST_PHOTOS 12
/* Photos beyond which the model is not asked. */
#define MOST_PHOTOS 1000
/* Rates up to this, in seconds a day. */
#define MOST_RATE 130.0
/* By how much a rate must move the first photo against the last to be another, in seconds, and the
 * steps and reach of the shifts that it is tried with. */
#define RATE_STEP_S 3.0
#define SHIFT_STEP_S 2
#define SHIFT_REACH_S 80
/* Shifts without drift about which is looked. */
#define TOPS 4
/* Courses that the model is asked about, and how far apart they are. */
#define ASKED 6
#define APART_S 6.0
/* The quick likelihood and the model's word, toned down as elsewhere. */
#define TEMPER_QUICK 0.4
#define TEMPER 0.6
/* Nats by which drift must be likelier than none: the model's word is not the last. */
#define LEAST_GAIN 2.5
/* Work that the scan may take, in photos passed. */
#define SCAN_WORK 40000000.0

/* What the clock lacked in the middle of its photos, and what it loses a day. */
typedef struct
{
  double shift_s, rate;
  double weight;
} Course;

typedef struct
{
  const SwStopsWork *work;
  int camera;
  SwClockGathered own;
  gint64 middle_us, begin_us;
  double half_days; /* from the beginning to the middle */
  GArray *moved;    /* SwModelPhoto, by its own clock */
  GArray *standing; /* of the other cameras, in property time */
} Search;

static double
log_prior (const Search *search, double shift_s, double rate)
{
  /* Clocks are set before a trip. */
  return sw_clock_rate_log_prior (rate) + sw_clock_log_prior (shift_s - rate * search->half_days);
}

static gboolean
are_near (const Search *search, const Course *a, const Course *b)
{
  return fabs (a->shift_s - b->shift_s) < APART_S
         && fabs (a->rate - b->rate) * search->half_days < APART_S;
}

/* Of courses that are near each other the likelier stays, of all others the likeliest. */
static void
keep (const Search *search, const Course *course, Course *best, gsize *n)
{
  gsize at = *n;

  for (gsize k = 0; k < *n && at == *n; k++)
    if (are_near (search, &best[k], course))
      at = k;
  if (at == ASKED)
    {
      at = 0;
      for (gsize k = 1; k < ASKED; k++)
        if (best[k].weight < best[at].weight)
          at = k;
    }
  if (at < *n && best[at].weight >= course->weight)
    return;
  best[at] = *course;
  *n = MAX (*n, at + 1);
}

/* All shifts about those tops under one rate. */
static void
scan_rate (const Search *search, const double *tops, gsize n_tops, double rate, Course *best,
           gsize *n)
{
  SwClockEvidence moved = search->own.evidence;
  g_autofree gint64 *photos = g_memdup2 (moved.photos, moved.n_photos * sizeof *photos);
  g_autoptr (SwClockTables) tables = NULL;

  for (gsize i = 0; i < moved.n_photos; i++)
    photos[i] = sw_clock_leaned (photos[i], search->middle_us, rate);
  moved.photos = photos;
  tables = sw_clock_tables_new (&moved);
  for (gsize k = 0; k < n_tops; k++)
    for (int away = -SHIFT_REACH_S; away <= SHIFT_REACH_S; away += SHIFT_STEP_S)
      {
        Course course = { tops[k] + away, rate, 0 };

        course.weight = TEMPER_QUICK * sw_clock_among_likelihood (tables, course.shift_s)
                        + log_prior (search, course.shift_s, rate);
        keep (search, &course, best, n);
      }
}

/* Log posterior of a course by the whole model. */
static double
ask (const Search *search, double shift_s, double rate)
{
  g_autoptr (GArray) photos = g_array_copy (search->moved);

  for (guint i = 0; i < photos->len; i++)
    {
      gint64 *t_us = &g_array_index (photos, SwModelPhoto, i).t_us;

      *t_us = sw_clock_leaned (*t_us, search->middle_us, rate) + (gint64)llrint (shift_s * 1e6);
    }
  g_array_append_vals (photos, search->standing->data, search->standing->len);
  g_array_sort (photos, sw_stops_compare_photos);
  return TEMPER * sw_clock_judge_photos (search->work->walk, photos)
         + log_prior (search, shift_s, rate);
}

/* The course near this one that the model likes best. */
static void
refine (const Search *search, Course *course)
{
  static const double steps_s[] = { 2, 1 };

  for (gsize k = 0; k < G_N_ELEMENTS (steps_s); k++)
    {
      const Course middle = *course;
      double turn = steps_s[k] / search->half_days;

      for (int j = 0; j < 4; j++)
        {
          Course other = middle;

          *(j < 2 ? &other.shift_s : &other.rate)
              += (j % 2 == 0 ? -1 : 1) * (j < 2 ? steps_s[k] : turn);
          other.weight = ask (search, other.shift_s, other.rate);
          if (other.weight > course->weight)
            *course = other;
        }
    }
}

static void
search_clear (Search *search)
{
  sw_clock_gathered_clear (&search->own);
  g_clear_pointer (&search->moved, g_array_unref);
  g_clear_pointer (&search->standing, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Search, search_clear)

/* FALSE where there is too little, or too much, to look at. */
static gboolean
begin (Search *search, const gboolean *standing)
{
  const SwClockEvidence *evidence = &search->own.evidence;

  sw_clock_gather (search->work, search->camera, standing, &search->own);
  if (evidence->n_photos < LEAST_PHOTOS || evidence->n_others < LEAST_PHOTOS
      || evidence->n_photos + evidence->n_others > MOST_PHOTOS)
    return FALSE;
  search->begin_us = evidence->photos[0];
  search->middle_us
      = search->begin_us + (evidence->photos[evidence->n_photos - 1] - search->begin_us) / 2;
  search->half_days = (double)(search->middle_us - search->begin_us) / 1e6 / DAY_S;
  search->moved = sw_stops_photos_of (search->work, search->camera, FALSE, 0);
  search->standing = sw_clock_standing_photos (search->work, standing);
  /* What no rate moves by a step cannot be told. */
  return MOST_RATE * search->half_days >= RATE_STEP_S;
}

/* The likeliest courses by a first look. */
static gsize
scan (const Search *search, Course *best)
{
  SwClockMode tries[TOPS];
  double tops[TOPS + 1], step = RATE_STEP_S / search->half_days, per_rate;
  gsize n_tops = 0, n = 0, n_tries;
  const SwClockEvidence *evidence = &search->own.evidence;

  tops[n_tops++] = search->work->proposal->clocks[search->camera].shift_s;
  n_tries = sw_clock_tries_beside (evidence, tries, TOPS);
  for (gsize k = 0; k < n_tries; k++)
    if (fabs (tries[k].shift_s - tops[0]) > SHIFT_REACH_S)
      tops[n_tops++] = tries[k].shift_s;
  per_rate = (double)(evidence->n_photos + evidence->n_others) * (double)n_tops
             * (2 * SHIFT_REACH_S / SHIFT_STEP_S + 1);
  step = MAX (step, 2 * MOST_RATE * per_rate / SCAN_WORK);
  for (double rate = step; rate <= MOST_RATE; rate += step)
    for (int side = -1; side <= 1; side += 2)
      scan_rate (search, tops, n_tops, side * rate, best, &n);
  return n;
}

gboolean
sw_clock_find_drift_beside (SwStopsWork *work, int camera, const gboolean *standing)
{
  g_auto (Search) search = { .work = work, .camera = camera };
  SwClockResult *clock = &work->proposal->clocks[camera];
  Course best[ASKED], taken = { .weight = -INFINITY };
  gsize n;

  if (!begin (&search, standing))
    return FALSE;
  n = scan (&search, best);
  for (gsize k = 0; k < n; k++)
    {
      best[k].weight = ask (&search, best[k].shift_s, best[k].rate);
      if (best[k].weight > taken.weight)
        taken = best[k];
    }
  /* A rate stands for all within a step of it. */
  if (n == 0
      || taken.weight + log (2 * RATE_STEP_S / search.half_days)
             < ask (&search, clock->shift_s, 0) + LEAST_GAIN)
    return FALSE;
  refine (&search, &taken);
  sw_clock_lean (work, camera, search.begin_us, taken.rate);
  clock->shift_s = taken.shift_s - taken.rate * search.half_days;
  work->doubt_s[camera] = MAX (work->doubt_s[camera], RATE_STEP_S);
  return TRUE;
}
