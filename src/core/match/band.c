/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which stops are sure: so few of them may be wrong that nobody need look. The lines were drawn on
 * the tune set of tests/walks, where 99% hold in each group of walks that has enough of them; what
 * held on the hold set stands in tests/walks/RESULTS.md. Must not change what is proposed. */
#include "core/match/stops-private.h"

/* A stop that a person or a tag speaks for. */
#define SURE_FROM 0.96
/* One that its note alone speaks for: two notes swapped, or one minutes late beside a thing without
 * any, look like all others, and are most of what is left to be wrong. */
#define SURE_NOTED_FROM 0.985
/* Its note must fit it so many times better than chance would have it. */
#define SURE_NOTE_WEIGHT 60.0
/* Beside other cameras a clock vaguer than this may be a thing off. */
#define SURE_SPREAD_S 8.0
/* A new thing on a walk without notes. Pauses alone tell too little: pictures must bear it out. */
#define SURE_NEW_FROM 0.97
/* Of fewer photos it may be a second look at another. */
#define SURE_NEW_PHOTOS 4
/* Nor is a stop sure where one of its photos, or one of the gaps it goes on over, is less so. */
#define SURE_EACH 0.98
#define SURE_EACH_NEW 0.995
#define DOUBTFUL_FROM 0.50

const char *
sw_band_word (SwBand band)
{
  static const char *const words[] = { "sure", "doubtful", "unknown" };

  return words[band];
}

/* Chance that the photo shows what its stop is proposed to. */
static double
label_p (const SwPhotoView *view, const SwStop *stop)
{
  double label = stop->label == SW_LABEL_NEW ? view->joined : 0;

  for (gsize k = 0; k < G_N_ELEMENTS (view->labels); k++)
    if (view->label_p[k] > 0 && view->labels[k] == stop->label)
      label += view->label_p[k];
  return label;
}

/* A photo that may well be another thing's than its stop's, or have its stop end behind it. */
static gboolean
is_loose (const SwPhotoView *view, const SwStop *stop, gboolean last)
{
  double gap = stop->label == SW_LABEL_NEW ? SURE_EACH_NEW : SURE_EACH;

  if (!view->timed)
    return FALSE;
  return label_p (view, stop) < SURE_EACH || (!last && view->boundary_after > 1 - gap);
}

/* The clock that photo i was placed by. */
static const SwClockResult *
clock_of (const SwStopsWork *work, guint i)
{
  const SwProposal *proposal = work->proposal;
  const SwClockResult *clock = &proposal->clocks[work->camera[i]];

  for (gsize k = 0; k < proposal->n_parts; k++)
    if (proposal->parts[k].camera == work->camera[i] && proposal->parts[k].from <= i)
      clock = &proposal->parts[k].clock;
  return clock;
}

/* Whether the photo's time or its stop's note might as well be another's. */
static gboolean
fits_loosely (const SwStopsWork *work, const SwStop *stop, guint photo)
{
  const SwPhotoView *view = &work->proposal->views[photo];
  const SwClockResult *clock = clock_of (work, photo);

  if (clock->other_share > 0 || (!work->alone && clock->spread_s > SURE_SPREAD_S))
    return TRUE;
  for (gsize k = 0; k < G_N_ELEMENTS (view->labels); k++)
    if (view->noted[k] && view->labels[k] == stop->label)
      return view->note_weights[k].time < SURE_NOTE_WEIGHT;
  return FALSE;
}

static gboolean
has_noted_things (const SwWalk *walk)
{
  for (gsize k = 0; k < walk->n_notes; k++)
    if (walk->notes[k].item >= 0)
      return TRUE;
  return FALSE;
}

/* Whether a person or a tag says what the stop shows. A tag on no item yet says that it is one
 * thing, not that no note speaks of it. */
static gboolean
is_told (const SwStopsWork *work, const SwStop *stop)
{
  if (stop->decided || stop->tag == 0 || stop->note >= 0)
    return stop->decided;
  return stop->label != SW_LABEL_NEW || !has_noted_things (work->walk);
}

/* Whether a new thing might be none: it may be that of a note at a wrong time, a few photos may be
 * a wide view or a second look. */
static gboolean
new_by_times_alone (const SwStopsWork *work, const SwStop *stop)
{
  if (stop->n_photos < SURE_NEW_PHOTOS || has_noted_things (work->walk))
    return TRUE;
  for (gsize k = 0; k < stop->n_photos; k++)
    if (!work->walk->photos[stop->photos[k]].has_likeness)
      return TRUE;
  return FALSE;
}

/* What keeps a stop from being called sure, however likely it is by its times: what fits it but
 * loosely; photos apart from the others may show what those show already; a photo that names no
 * camera lies by a borrowed clock. */
static gboolean
wants_a_look (const SwStopsWork *work, const SwStop *stop)
{
  if (is_told (work, stop))
    return FALSE;
  if (stop->label == SW_LABEL_NEW && new_by_times_alone (work, stop))
    return TRUE;
  for (gsize k = 0; k < stop->n_photos; k++)
    {
      guint photo = stop->photos[k];
      const SwPhotoView *view = &work->proposal->views[photo];

      if (view->by_likeness || (view->apart && stop->note < 0 && !work->alone)
          || (!work->alone && work->walk->cameras[work->walk->photos[photo].camera].nameless)
          || is_loose (view, stop, k + 1 == stop->n_photos)
          || (stop->note >= 0 && fits_loosely (work, stop, photo)))
        return TRUE;
    }
  return FALSE;
}

static double
sure_from (const SwStopsWork *work, const SwStop *stop)
{
  if (is_told (work, stop))
    return SURE_FROM;
  return stop->label == SW_LABEL_NEW ? SURE_NEW_FROM : SURE_NOTED_FROM;
}

SwBand
sw_stops_band (const SwStopsWork *work, const SwStop *stop)
{
  if (stop->probability >= sure_from (work, stop) && !wants_a_look (work, stop))
    return SW_BAND_SURE;
  return stop->probability >= DOUBTFUL_FROM ? SW_BAND_DOUBTFUL : SW_BAND_UNKNOWN;
}
