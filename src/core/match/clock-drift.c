/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drift as a rate that must outweigh none: by the notes, faces and fixes one by one, and where they
 * leave it open by the whole model, which knows that notes and things come in one order. */
#include "core/match/clock-drift.h"

#include "core/match/clock-gather.h"
#include "core/match/clock-judge.h"

#include <math.h>
#include <string.h>

#define DAY_S 86400.0
/* Notes and photos lie apart by this at most. */
#define AROUND_US (150 * SW_US_PER_SECOND)
/* Evidence over less than this shows no drift; the rates that are tried, in seconds a day. */
#define DRIFT_SPAN_S (1.1 * DAY_S)
#define DRIFT_PIECES 8
#define DRIFT_NONE 0.8
#define DRIFT_SCALE 35.0
#define DRIFT_SURE 0.85
/* Weight of all drifts against none by a glance, below which a closer look cannot make it sure. */
#define DRIFT_GLANCE 0.5
/* Weight from which on the model is asked, of so many photos; how far its word goes, and the odds
 * from which on it is the last. */
#define DRIFT_ASKED 0.02
#define DRIFT_PHOTOS 1000
#define DRIFT_TEMPER 0.6
#define DRIFT_CERTAIN 1e3
/* Of what a glance saw and the model did not so much stays. */
#define DRIFT_GLANCE_KEPT 0.25
/* The doubt that a clock may drift grows for so many days; then it would have been noticed. */
#define MOST_DRIFT_DAYS 3.0
/* How little a rate is known, in seconds a day. */
#define RATE_DOUBT 2.5
/* Nats behind none from which on a rate need not be known closely. */
#define HOPELESS 60.0
/* How far about a rough shift the model is asked, in what steps; a beginning this close to whole
 * hours may be that. */
#define ROUGH_REACH_S 64
#define ROUGH_STEP_S 8
#define WHOLE_NEAR_S 120.0
/* What a rate changes by at most at once, in seconds a day: the quick look was not that wrong. */
#define MOST_TURN 20.0
/* Above this one day's shift is not in the grid about another's. */
#define WIDE_RATE 15.0
static const double rates[]
    = { 0.5, 1,  1.5, 2,  2.5, 3,  3.5, 4,  4.5, 5,  6,  7,  8,  9,  10, 12,  14,  16,  18,
        20,  23, 26,  30, 34,  38, 42,  47, 52,  58, 64, 70, 77, 84, 92, 100, 110, 120, 130 };

gint64
sw_clock_leaned (gint64 t_us, gint64 from_us, double rate)
{
  return t_us + (gint64)llrint (rate * (double)(t_us - from_us) / DAY_S);
}

void
sw_clock_lean (SwStopsWork *work, int camera, gint64 from_us, double rate)
{
  for (guint i = 0; i < work->walk->n_photos; i++)
    if (work->camera[i] == camera && work->usable[i])
      work->lean_us[i] = sw_clock_leaned (work->clock_us[i] + work->lean_us[i], from_us, rate)
                         - work->clock_us[i];
  work->proposal->clocks[camera].drift_s_day = rate;
  work->proposal->clocks[camera].drift_from_us = from_us;
}

/* Log mass of the mode when the clock gains 'rate' seconds a day, and where it lies: near top, or
 * near what top would be had it been found on the day before or after; rough where it is below
 * 'least'. */
static double
weigh_rate (const SwClockEvidence *evidence, double top, gint64 from_us, double rate,
            gboolean glance, double least, double *out_shift_s)
{
  SwClockEvidence moved = *evidence;
  double best = -INFINITY;
  int days = fabs (rate) > WIDE_RATE ? 1 : 0;
  double begin_s = rate * (double)(evidence->stops[0].first_us - from_us) / 1e6 / DAY_S;
  g_autofree SwClockStop *stops = g_memdup2 (evidence->stops, evidence->n_stops * sizeof *stops);
  g_autofree SwClockAnchor *faces = g_memdup2 (evidence->faces, evidence->n_faces * sizeof *faces);
  g_autofree SwClockAnchor *fixes = g_memdup2 (evidence->fixes, evidence->n_fixes * sizeof *fixes);

  for (gsize k = 0; k < evidence->n_stops; k++)
    {
      stops[k].first_us = sw_clock_leaned (stops[k].first_us, from_us, rate);
      stops[k].last_us = sw_clock_leaned (stops[k].last_us, from_us, rate);
    }
  for (gsize k = 0; k < evidence->n_faces; k++)
    faces[k].clock_us = sw_clock_leaned (faces[k].clock_us, from_us, rate);
  for (gsize k = 0; k < evidence->n_fixes; k++)
    fixes[k].clock_us = sw_clock_leaned (fixes[k].clock_us, from_us, rate);
  moved.stops = stops;
  moved.faces = faces;
  moved.fixes = fixes;
  /* Clocks are set before a trip: the prior speaks of its beginning. */
  moved.bases = &begin_s;
  moved.n_bases = 1;
  for (int day = -days; day <= days; day++)
    {
      double at = top + day * rate;
      double weight
          = glance ? sw_clock_glance (&moved, at, least) : sw_clock_weigh (&moved, at).log_weight;

      if (weight > best)
        {
          best = weight;
          *out_shift_s = at;
        }
    }
  return best;
}

/* The stretch of the camera's clock from the first to the last piece that goes with the shift. */
static gboolean
evidence_span (const SwClockEvidence *evidence, double shift_s, gint64 *out_from, gint64 *out_upto)
{
  SwClockCounts counts = sw_clock_count (evidence, shift_s);
  gint64 shift = (gint64)llrint (shift_s * 1e6), from = G_MAXINT64, upto = G_MININT64;
  gint64 first = evidence->stops[0].first_us, last = evidence->stops[evidence->n_stops - 1].last_us;

  if (sw_clock_counts_sum (&counts) < DRIFT_PIECES)
    return FALSE;
  for (gsize k = 0; k < evidence->n_notes; k++)
    if (evidence->notes[k].item >= 0 && evidence->notes[k].time_us - shift >= first - AROUND_US
        && evidence->notes[k].time_us - shift <= last + AROUND_US)
      {
        from = MIN (from, evidence->notes[k].time_us - shift);
        upto = MAX (upto, evidence->notes[k].time_us - shift);
      }
  for (gsize k = 0; k < evidence->n_faces; k++)
    {
      from = MIN (from, evidence->faces[k].clock_us);
      upto = MAX (upto, evidence->faces[k].clock_us);
    }
  for (gsize k = 0; k < evidence->n_fixes; k++)
    {
      from = MIN (from, evidence->fixes[k].clock_us);
      upto = MAX (upto, evidence->fixes[k].clock_us);
    }
  *out_from = from;
  *out_upto = upto;
  return upto > from && (double)(upto - from) / 1e6 >= DRIFT_SPAN_S;
}

double
sw_clock_rate_log_prior (double rate)
{
  if (rate == 0)
    return log (DRIFT_NONE);
  return log ((1 - DRIFT_NONE) / (2 * DRIFT_SCALE)) - fabs (rate) / DRIFT_SCALE;
}

/* Rates that the whole model is asked about. */
#define DRIFT_TRIES 8
#define DRIFT_APART 13.0

/* A rate that may be, and the shift that goes with it in the middle of the stretch. */
typedef struct
{
  double rate, shift_s;
  double weight;
} DriftTry;

typedef struct
{
  double mass; /* of all rates, against no drift */
  double best, mean;
  gboolean asked;              /* the whole model was */
  double best_s;               /* the shift in the middle of the stretch that goes with the best */
  double square;               /* mean of the rates' squares */
  DriftTry tries[DRIFT_TRIES]; /* the likeliest, some way apart */
  gsize n_tries;
} Drift;

static void
keep_try (Drift *drift, DriftTry try)
{
  gsize k = 0;

  while (k < drift->n_tries && fabs (drift->tries[k].rate - try.rate) >= DRIFT_APART)
    k++;
  if (k == drift->n_tries && k < DRIFT_TRIES)
    drift->tries[drift->n_tries++] = try;
  else
    {
      if (k == drift->n_tries)
        for (k = 0; k + 1 < drift->n_tries && drift->tries[k].weight > try.weight; k++)
          ;
      if (drift->tries[k].weight < try.weight)
        drift->tries[k] = try;
    }
}

static Drift
weigh_drift (const SwClockEvidence *evidence, double top, gint64 from_us, gboolean glance)
{
  double shift_s = top;
  double none
      = weigh_rate (evidence, top, from_us, 0, glance, -INFINITY, &shift_s) + log (DRIFT_NONE);
  double best_weight = -INFINITY;
  gsize step = glance ? 2 : 1; /* every second rate is enough for a glance */
  Drift drift = { 0 };

  for (gsize k = step - 1; k < G_N_ELEMENTS (rates); k += step)
    for (int side = -1; side <= 1; side += 2)
      {
        double rate = side * rates[k];
        double width = k < step ? rates[k] : rates[k] - rates[k - step];
        double weight = weigh_rate (evidence, top, from_us, rate, glance, none - HOPELESS, &shift_s)
                        + sw_clock_rate_log_prior (rate) + log (width);
        DriftTry try = { rate, shift_s, weight - log (width) };

        keep_try (&drift, try);
        drift.mass += exp (CLAMP (weight - none, -500, 500));
        drift.mean += rate * exp (CLAMP (weight - none, -500, 500));
        drift.square += rate * rate * exp (CLAMP (weight - none, -500, 500));
        if (weight > best_weight)
          {
            best_weight = weight;
            drift.best = rate;
            drift.best_s = shift_s;
          }
      }
  drift.mean /= drift.mass;
  drift.square /= drift.mass;
  return drift;
}

/* Log evidence that the model finds in the camera's photos when its clock drifts so. */
static double
drift_evidence (const SwStopsWork *work, int camera, gint64 from_us, const DriftTry *try)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, 0);

  for (guint i = 0; i < photos->len; i++)
    {
      gint64 *t_us = &g_array_index (photos, SwModelPhoto, i).t_us;

      *t_us = sw_clock_leaned (*t_us, from_us, try->rate) + (gint64)llrint (try->shift_s * 1e6);
    }
  return sw_clock_judge_photos (work->walk, photos);
}

/* A clock's course: what it lacked when its photos begin, in seconds, and what it loses a day. */
typedef struct
{
  double begin_s, rate;
} Course;

/* Log posterior of a course by the whole model: clocks are set before a trip. */
static double
weigh_course (const SwStopsWork *work, int camera, gint64 begin_us, const Course *course)
{
  DriftTry try = { course->rate, course->begin_s, 0 };

  return DRIFT_TEMPER * drift_evidence (work, camera, begin_us, &try)
         + sw_clock_log_prior (course->begin_s) + sw_clock_rate_log_prior (course->rate);
}

/* Takes the other course where the model likes it better. */
static void
prefer (const SwStopsWork *work, int camera, gint64 begin_us, Course other, Course *course,
        double *most)
{
  double value;

  if (fabs (other.rate - course->rate) > MOST_TURN)
    return;
  value = weigh_course (work, camera, begin_us, &other);

  if (value <= *most)
    return;
  *most = value;
  *course = other;
}

/* The course near this one that the model likes best. First it is moved as a whole, as a quick look
 * tells no shift closer than that, and to whole hours, as most clocks were right but for those;
 * then the rate is turned about the beginning, the whole moved, and the beginning moved while the
 * middle stays. days: from the beginning to the middle. */
static Course
refine_course (const SwStopsWork *work, int camera, gint64 begin_us, double days,
               const Course *rough)
{
  static const double steps_s[] = { 8, 4, 2, 1 };
  Course course = *rough;
  double most = weigh_course (work, camera, begin_us, rough), whole;

  for (int away = -ROUGH_REACH_S; away <= ROUGH_REACH_S; away += ROUGH_STEP_S)
    prefer (work, camera, begin_us, (Course){ rough->begin_s + away, rough->rate }, &course, &most);
  whole = rint (course.begin_s / SW_CLOCK_HOUR_S) * SW_CLOCK_HOUR_S;
  if (fabs (whole - course.begin_s) < WHOLE_NEAR_S)
    prefer (work, camera, begin_us,
            (Course){ whole, course.rate + (course.begin_s - whole) / days }, &course, &most);
  for (gsize k = 0; k < G_N_ELEMENTS (steps_s); k++)
    {
      const Course middle = course;
      double step = steps_s[k], turn = steps_s[k] / days;

      for (int side = -1; side <= 1; side += 2)
        {
          prefer (work, camera, begin_us, (Course){ middle.begin_s, middle.rate + side * turn },
                  &course, &most);
          prefer (work, camera, begin_us, (Course){ middle.begin_s + side * step, middle.rate },
                  &course, &most);
          prefer (work, camera, begin_us,
                  (Course){ middle.begin_s + side * step, middle.rate - side * turn }, &course,
                  &most);
        }
    }
  return course;
}

/* Asks the model about the tries beside no drift: it knows that notes and things come in one order,
 * so that a shift by one thing on the second day is none. Sets the mass anew, and the best. */
static void
ask_drift (const SwStopsWork *work, int camera, double top, gint64 from_us, Drift *drift)
{
  const DriftTry still = { 0, top, 0 };
  DriftTry likeliest = still;
  double none = drift_evidence (work, camera, from_us, &still), best = -INFINITY;
  double mass = drift->mass, most = 0, mean = 0, square = 0;

  for (gsize k = 0; k < drift->n_tries; k++)
    {
      const DriftTry *try = &drift->tries[k];
      double gain = DRIFT_TEMPER * (drift_evidence (work, camera, from_us, try) - none);
      double odds = exp (CLAMP (gain, -50, 50)) * (1 - DRIFT_NONE) / DRIFT_NONE / DRIFT_TRIES;

      most += odds;
      mean += odds * try->rate;
      square += odds * try->rate * try->rate;
      if (odds > best)
        {
          best = odds;
          likeliest = *try;
        }
    }
  if (drift->n_tries > 0)
    {
      drift->asked = TRUE;
      drift->best = likeliest.rate;
      drift->best_s = likeliest.shift_s;
    }
  /* Either may be mistaken. */
  drift->mass
      = most > DRIFT_CERTAIN || drift->n_tries == 0 ? most : MAX (most, DRIFT_GLANCE_KEPT * mass);
  if (most >= DRIFT_GLANCE_KEPT * mass)
    {
      drift->mean = mean / most;
      drift->square = square / most;
    }
}

/* The best rate by the whole model. from_us: the middle of the stretch that was looked at. */
static double
refine_drift (const SwStopsWork *work, int camera, gint64 from_us, gint64 begin_us,
              const Drift *drift)
{
  double days = MAX ((double)(from_us - begin_us) / 1e6 / DAY_S, 0.25);
  Course course = { drift->best_s - drift->best * days, drift->best };

  return refine_course (work, camera, begin_us, days, &course).rate;
}

/* How little the rate is known once this one is taken, in seconds a day: what else it may be, and
 * none. */
static double
rate_doubt (const Drift *drift, double taken)
{
  double other = drift->square - 2 * taken * drift->mean + taken * taken;

  return sqrt ((drift->mass * MAX (other, 0) + taken * taken) / (1 + drift->mass));
}

/* What the clock may drift by over its photos, before any evidence. */
static double
untold_drift (const SwStopsWork *work, int camera)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, 0);
  double days = 0;

  if (photos->len > 1)
    days = (double)(g_array_index (photos, SwModelPhoto, photos->len - 1).t_us
                    - g_array_index (photos, SwModelPhoto, 0).t_us)
           / 1e6 / DAY_S;
  return sqrt (2 * (1 - DRIFT_NONE) / 3) * DRIFT_SCALE * MIN (days, MOST_DRIFT_DAYS);
}

void
sw_clock_find_drift (SwStopsWork *work, int camera)
{
  g_auto (SwClockGathered) own = { 0 };
  SwClockMode modes[SW_CLOCK_MODES];
  gint64 from = 0, upto = 0;
  double span_s;
  Drift drift;
  gsize n;

  sw_clock_gather (work, camera, NULL, &own);
  n = sw_clock_modes (&own.evidence, modes, 2);
  if (n == 0 || !evidence_span (&own.evidence, modes[0].shift_s, &from, &upto))
    {
      work->doubt_s[camera] = MAX (work->doubt_s[camera], untold_drift (work, camera));
      return;
    }
  span_s = (double)(upto - from) / 1e6;
  from += (upto - from) / 2;
  drift = weigh_drift (&own.evidence, modes[0].shift_s, from, TRUE);
  if (own.evidence.n_faces > 0 || own.evidence.n_fixes > 0 || drift.mass > DRIFT_GLANCE)
    drift = weigh_drift (&own.evidence, modes[0].shift_s, from, FALSE);
  if (drift.mass / (1 + drift.mass) < DRIFT_SURE && drift.mass > DRIFT_ASKED
      && own.evidence.n_photos <= DRIFT_PHOTOS)
    ask_drift (work, camera, modes[0].shift_s, from, &drift);
  if (drift.mass / (1 + drift.mass) < DRIFT_SURE)
    {
      /* Over the stretch, were it to drift after all. */
      work->doubt_s[camera]
          = MAX (work->doubt_s[camera], rate_doubt (&drift, 0) * span_s / DAY_S / sqrt (3));
      return;
    }
  /* Faces and fixes tell a rate better than the model does; beside other cameras it sees but part
   * of each stop. */
  if (own.evidence.n_photos <= DRIFT_PHOTOS && own.evidence.n_faces + own.evidence.n_fixes == 0
      && (drift.asked || work->walk->n_cameras == 1))
    drift.best = refine_drift (work, camera, from, own.evidence.stops[0].first_us, &drift);
  else if (fabs (drift.mean - drift.best) < 5)
    drift.best = drift.mean;
  /* A clock is set before a trip: from its beginning on, the usual shifts are the likely ones. */
  from = own.evidence.stops[0].first_us;
  sw_clock_lean (work, camera, from, drift.best);
  work->doubt_s[camera]
      = MAX (work->doubt_s[camera],
             MAX (RATE_DOUBT, rate_doubt (&drift, drift.best)) * span_s / DAY_S / sqrt (3));
}
