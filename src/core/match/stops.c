/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From photos and notes to a proposal: the chain run, stops named and graded. Photos of cameras
 * whose clock is known share one chain; a camera nobody knows the clock of is kept apart, so that
 * it cannot cut the others' stops. Must not touch a catalogue, must not change what a person
 * decided. */
#include "core/match/stops.h"

#include "core/match/calibrate.h"
#include "core/match/stops-private.h"
#include "core/match/wide.h"

#include <math.h>

#define LEARN_ROUNDS 3
/* A clock vaguer than this would cut the stops of the other cameras. */
#define ALONG_SPREAD_S 20.0
/* A second shift this far off would pair with other things; one nearer, mostly with the same. */
#define OTHER_HURTS_S 45.0
/* A weak time is true as often as not. */
#define WEAK_TRUST 0.5
/* Photos without an item that are this far apart are two stops. */
#define NONE_APART_US (120 * SW_US_PER_SECOND)
/* Share of stops of so few photos that go back to a thing seen before, and of longer ones. */
#define BACK_FEW_PHOTOS 3
#define BACK_SHARE_FEW 0.04
#define BACK_SHARE 0.005

void
sw_proposal_free (SwProposal *proposal)
{
  if (proposal == NULL)
    return;
  for (gsize k = 0; k < proposal->n_stops; k++)
    {
      g_free (proposal->stops[k].photos);
      g_free (proposal->stops[k].reason);
    }
  g_free (proposal->stops);
  g_free (proposal->views);
  g_free (proposal->clocks);
  g_free (proposal->parts);
  g_free (proposal->also);
  g_free (proposal);
}

typedef struct
{
  SwPhotoView *view;
} TopLabels;

static void
keep_top (gpointer data, int label, double probability)
{
  SwPhotoView *view = ((TopLabels *)data)->view;

  for (int k = 0; k < 3; k++)
    if (probability > view->label_p[k])
      {
        for (int j = 2; j > k; j--)
          {
            view->labels[j] = view->labels[j - 1];
            view->label_p[j] = view->label_p[j - 1];
          }
        view->labels[k] = label;
        view->label_p[k] = probability;
        return;
      }
}

static void
fill_views (SwStopsWork *work, SwModel *model, const GArray *photos)
{
  for (guint i = 0; i < photos->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (photos, SwModelPhoto, i);
      SwPhotoView *view = &work->proposal->views[photo->photo];
      TopLabels top = { view };

      view->timed = TRUE;
      view->t_us = photo->t_us;
      view->shift_s = (double)(photo->t_us - work->clock_us[photo->photo]) / 1e6;
      view->gap_before_s = view->gap_after_s = -1;
      view->boundary_before = view->boundary_after = 1;
      if (i > 0)
        {
          view->gap_before_s = (double)(photo->t_us - photo[-1].t_us) / 1e6;
          view->boundary_before = sw_model_boundary (model, i - 1);
          sw_model_gap_weights (model, i - 1, &view->before);
        }
      if (i + 1 < photos->len)
        {
          view->gap_after_s = (double)(photo[1].t_us - photo->t_us) / 1e6;
          view->boundary_after = sw_model_boundary (model, i);
          sw_model_gap_weights (model, i, &view->after);
        }
      view->joined = sw_model_joined (model, i);
      sw_model_labels (model, i, keep_top, &top);
    }
}

/* Chance that the stop's ends are where they were put. */
static double
ends_right (SwModel *model, const SwModelStop *stop, gsize n)
{
  double chance = 1;

  if (stop->first > 0)
    chance *= sw_model_boundary (model, stop->first - 1);
  if (stop->last + 1 < n)
    chance *= sw_model_boundary (model, stop->last);
  for (gsize i = stop->first; i < stop->last; i++)
    chance *= 1 - sw_model_boundary (model, i);
  return chance;
}

/* What seems a new thing may be one gone back to: the fewer things lack a note, the likelier. */
static double
truly_new (const SwStopsWork *work, const SwModel *model, const SwStop *stop)
{
  double unnoted = work->walk->n_notes > 0 ? 1 - sw_model_params (model)->noted : 1;
  double back = stop->n_photos <= BACK_FEW_PHOTOS ? BACK_SHARE_FEW : BACK_SHARE;

  return unnoted / (unnoted + back);
}

static double
stop_probability (SwStopsWork *work, SwModel *model, const SwModelStop *found, const SwStop *stop,
                  const GArray *photos)
{
  double sum = 0, joined = 0;
  const SwClockResult *clock
      = &work->proposal
             ->clocks[work->camera[g_array_index (photos, SwModelPhoto, found->first).photo]];

  for (gsize i = found->first; i <= found->last; i++)
    {
      sum += sw_model_label (model, i, found->label);
      joined += sw_model_joined (model, i);
    }
  sum /= (double)stop->n_photos;
  /* A new thing has nothing but its ends to be known by; that it might go on a decided stop beside
   * it is a matter of those ends, and counts once. */
  if (found->label == SW_LABEL_NEW)
    sum = MIN (1, sum + joined / (double)stop->n_photos)
          * sqrt (ends_right (model, found, photos->len)) * truly_new (work, model, stop);
  else if (found->note >= 0)
    sum *= fabs (clock->other_s - clock->shift_s) > OTHER_HURTS_S ? 1 - clock->other_share : 1;
  return CLAMP (sum, 0, 1);
}

/* What the notes of a photo's likeliest things weigh for its stop. */
static void
weigh_notes (const SwModel *model, const SwModelStop *found, SwPhotoView *view)
{
  for (gsize k = 0; k < G_N_ELEMENTS (view->labels); k++)
    view->noted[k] = view->label_p[k] > 0 && view->labels[k] >= 0
                     && sw_model_note_weights (model, found->first, found->last, view->labels[k],
                                               &view->note_weights[k]);
}

/* The stop's photo k may show a tag; the first one names the stop. */
static void
note_tag (const SwWalk *walk, SwStop *stop, gsize k)
{
  int tag = walk->photos[stop->photos[k]].tag;

  if (stop->tag != 0 || tag == 0)
    return;
  stop->tag = tag;
  stop->tag_at = k;
}

static void
add_stop (SwStopsWork *work, SwModel *model, const SwModelStop *found, const GArray *photos,
          gboolean vague)
{
  const SwModelPhoto *first = &g_array_index (photos, SwModelPhoto, found->first);
  SwStop stop = { .label = found->label, .note = found->note, .place = -1, .timed = TRUE };

  stop.n_photos = found->last - found->first + 1;
  stop.photos = g_new (guint, stop.n_photos);
  stop.first_us = first->t_us;
  stop.last_us = g_array_index (photos, SwModelPhoto, found->last).t_us;
  for (gsize k = 0; k < stop.n_photos; k++)
    {
      stop.photos[k] = first[k].photo;
      weigh_notes (model, found, &work->proposal->views[first[k].photo]);
      stop.decided |= work->walk->photos[first[k].photo].decided != SW_WALK_OPEN;
      note_tag (work->walk, &stop, k);
    }
  stop.raw = stop_probability (work, model, found, &stop, photos);
  stop.probability = stop.decided
                         ? stop.raw
                         : sw_calibrate (sw_situation_of (work->walk, stop.label >= 0), stop.raw);
  if (vague)
    stop.probability *= WEAK_TRUST;
  if (stop.label >= 0)
    stop.place = work->walk->items[stop.label].place;
  if (stop.place < 0 && stop.note >= 0)
    stop.place = work->walk->notes[stop.note].place;
  if (stop.place < 0)
    stop.place = sw_model_here (model, stop.first_us);
  for (gsize k = 0; k < stop.n_photos && stop.label < 0; k++)
    if (work->walk->photos[stop.photos[k]].place >= 0)
      stop.place = work->walk->photos[stop.photos[k]].place;
  if (stop.place < 0)
    stop.place = sw_place_by_position (work->walk, stop.photos, stop.n_photos);
  g_array_append_val (work->stops, stop);
}

static void
run_model (const SwStopsWork *work, SwModel *model)
{
  if (work->known == NULL)
    {
      sw_model_run (model, LEARN_ROUNDS, SW_STOPS_BEAM);
      return;
    }
  sw_model_set_params (model, work->known);
  /* What a note's match is worth to detours is known after the first. */
  sw_model_run (model, 0, 0);
  sw_model_run (model, 0, 0);
}

/* Photos that a person said show no item, next to each other: a stop. */
static void
add_none (SwStopsWork *work, const GArray *photos, guint from, guint end)
{
  const SwModelPhoto *first = &g_array_index (photos, SwModelPhoto, from);
  SwStop stop = { .label = SW_LABEL_NONE,
                  .note = -1,
                  .place = -1,
                  .timed = TRUE,
                  .decided = TRUE,
                  .probability = 1,
                  .raw = 1,
                  .first_us = first->t_us,
                  .last_us = first[end - from - 1].t_us };

  stop.n_photos = end - from;
  stop.photos = g_new (guint, stop.n_photos);
  for (guint i = 0; i < stop.n_photos; i++)
    {
      SwPhotoView *view = &work->proposal->views[first[i].photo];

      stop.photos[i] = first[i].photo;
      if (stop.place < 0)
        stop.place = work->walk->photos[first[i].photo].place;
      view->timed = TRUE;
      view->t_us = first[i].t_us;
      view->gap_before_s = view->gap_after_s = -1;
      view->boundary_before = view->boundary_after = 1;
      view->labels[0] = SW_LABEL_NONE;
      view->label_p[0] = 1;
    }
  g_array_append_val (work->stops, stop);
}

/* What shows no item stands aside: it is no part of the stop it was taken in, and says nothing of
 * the photos around it. Returns the others. */
static GArray *
set_none_aside (SwStopsWork *work, const GArray *photos)
{
  const SwWalkPhoto *all = work->walk->photos;
  GArray *others = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (guint i = 0; i < photos->len;)
    {
      guint end = i;

      while (end < photos->len
             && all[g_array_index (photos, SwModelPhoto, end).photo].decided == SW_WALK_NONE
             && (end == i
                 || (all[g_array_index (photos, SwModelPhoto, end).photo].cut <= 0
                     && g_array_index (photos, SwModelPhoto, end).t_us
                                - g_array_index (photos, SwModelPhoto, end - 1).t_us
                            < NONE_APART_US)))
        end++;
      if (end > i)
        add_none (work, photos, i, end);
      else
        g_array_append_val (others, g_array_index (photos, SwModelPhoto, end++));
      i = end;
    }
  return others;
}

static void
run_photos (SwStopsWork *work, const GArray *all, gboolean vague, gboolean apart)
{
  g_autoptr (GArray) photos = set_none_aside (work, all);
  g_autoptr (SwModel) model = NULL;
  g_autoptr (GArray) found = NULL;

  if (photos->len == 0)
    return;
  model = sw_model_new (work->walk, (const SwModelPhoto *)(void *)photos->data, photos->len);
  run_model (work, model);
  fill_views (work, model, photos);
  for (guint i = 0; i < photos->len; i++)
    work->proposal->views[g_array_index (photos, SwModelPhoto, i).photo].apart = apart;
  found = sw_model_decode (model);
  for (guint k = 0; k < found->len; k++)
    add_stop (work, model, &g_array_index (found, SwModelStop, k), photos, vague);
}

/* The camera with most photos of a good time; -1: none. */
static int
main_camera (const SwStopsWork *work)
{
  g_autofree gsize *count = g_new0 (gsize, work->walk->n_cameras + 1);
  int best = -1;

  for (gsize i = 0; i < work->walk->n_photos; i++)
    count[work->camera[i]] += work->usable[i] && !work->vague[i];
  for (gsize c = 0; c < work->walk->n_cameras; c++)
    if (!work->walk->cameras[c].nameless && count[c] > 0 && (best < 0 || count[c] > count[best]))
      best = (int)c;
  return best;
}

/* Photos without a camera's name take the main camera's clock for theirs. */
static void
lend_clock (SwStopsWork *work)
{
  int lender = work->lead;

  for (gsize c = 0; c < work->walk->n_cameras && lender >= 0; c++)
    if (work->walk->cameras[c].nameless && !work->walk->cameras[c].fixed)
      {
        work->proposal->clocks[c] = work->proposal->clocks[lender];
        work->proposal->clocks[c].evidence = 0;
      }
}

/* Whether the camera's photos can stand among the others' without cutting their stops. */
static gboolean
walks_along (const SwStopsWork *work, int camera)
{
  const SwClockResult *clock = &work->proposal->clocks[camera];

  if (camera == work->lead || work->walk->cameras[camera].nameless
      || work->walk->cameras[camera].fixed)
    return TRUE;
  /* Another mode that may be is no reason to walk apart: the likeliest holds most. */
  return clock->known && clock->modes[0].spread_s <= ALONG_SPREAD_S;
}

/* The main camera and those whose clocks are known well walk together; the others, and weak times,
 * each apart. */
static void
run_chains (SwStopsWork *work)
{
  const SwWalk *walk = work->walk;
  g_autoptr (GArray) common = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (gsize c = 0; c < walk->n_cameras; c++)
    {
      g_autoptr (GArray) photos = sw_stops_placed_photos (work, (int)c, FALSE);
      g_autoptr (GArray) weak = sw_stops_placed_photos (work, (int)c, TRUE);

      if (walks_along (work, (int)c))
        g_array_append_vals (common, photos->data, photos->len);
      else
        run_photos (work, photos, FALSE, TRUE);
      run_photos (work, weak, TRUE, TRUE);
    }
  g_array_sort (common, sw_stops_compare_photos);
  run_photos (work, common, FALSE, FALSE);
}

/* A card stands alone, and a tag begins another stop. */
static gboolean
parts_untimed (const SwWalkPhoto *before, const SwWalkPhoto *photo)
{
  if (photo->cut != 0)
    return photo->cut > 0;
  return before->is_card || photo->is_card || (photo->tag != 0 && photo->tag != before->tag);
}

/* Photos without any time: neighbours in the order taken in that a person decided alike, or did not
 * decide, share a stop; nothing more can be said of them. */
static void
add_untimed (SwStopsWork *work)
{
  const SwWalk *walk = work->walk;

  for (guint i = 0; i < walk->n_photos;)
    {
      SwStop stop = { .label = SW_LABEL_NEW, .note = -1, .place = -1 };
      guint end = i;

      if (work->usable[i])
        {
          i++;
          continue;
        }
      while (end < walk->n_photos && !work->usable[end] && work->camera[end] == work->camera[i]
             && walk->photos[end].decided == walk->photos[i].decided
             && (end == i || !parts_untimed (&walk->photos[end - 1], &walk->photos[end])))
        end++;
      stop.n_photos = end - i;
      stop.photos = g_new (guint, stop.n_photos);
      for (guint k = i; k < end; k++)
        {
          stop.photos[k - i] = k;
          note_tag (walk, &stop, k - i);
        }
      stop.decided = walk->photos[i].decided != SW_WALK_OPEN;
      if (sw_walk_photo_fixed (&walk->photos[i]) != SW_WALK_OPEN)
        {
          stop.label = sw_walk_photo_fixed (&walk->photos[i]);
          stop.probability = 1;
        }
      stop.place = stop.label >= 0 ? walk->items[stop.label].place : walk->photos[i].place;
      g_array_append_val (work->stops, stop);
      i = end;
    }
}

static void
finish_stops (SwStopsWork *work)
{
  SwProposal *proposal = work->proposal;

  sw_stops_join (work);
  proposal->n_stops = work->stops->len;
  proposal->stops = (SwStop *)(void *)g_array_free (g_steal_pointer (&work->stops), FALSE);
  sw_stops_place_new (proposal);
  for (gsize k = 0; k < proposal->n_stops; k++)
    {
      SwStop *stop = &proposal->stops[k];

      stop->band = sw_stops_band (work, stop);
      for (gsize i = 0; i < stop->n_photos; i++)
        proposal->views[stop->photos[i]].stop = (guint)k;
      stop->reason = sw_stops_reason (work->walk, proposal, stop);
    }
}

static SwProposal *
propose (const SwWalk *walk, const SwWalkParams *known)
{
  SwProposal *proposal;
  gsize n = walk->n_photos;

  proposal = g_new0 (SwProposal, 1);
  proposal->n_photos = n;
  proposal->n_cameras = walk->n_cameras;
  proposal->views = g_new0 (SwPhotoView, n + 1);
  proposal->clocks = g_new0 (SwClockResult, walk->n_cameras + 1);
  g_autofree gint64 *clock_us = g_new0 (gint64, n + 1);
  g_autofree int *camera = g_new0 (int, n + 1);
  g_autofree gboolean *usable = g_new0 (gboolean, n + 1);
  g_autofree gboolean *vague = g_new0 (gboolean, n + 1);
  g_autofree gint64 *lean_us = g_new0 (gint64, n + 1);
  g_autofree int *set = g_new0 (int, n + 1);
  g_autofree double *doubt_s = g_new0 (double, walk->n_cameras + 1);
  SwStopsWork work = { walk,
                       proposal,
                       g_array_new (FALSE, FALSE, sizeof (SwStop)),
                       clock_us,
                       camera,
                       usable,
                       vague,
                       lean_us,
                       set,
                       g_array_new (FALSE, FALSE, sizeof (SwClockPart)),
                       doubt_s };

  work.known = known;
  sw_stops_repair_times (&work);
  work.lead = main_camera (&work);
  work.alone = TRUE;
  for (gsize i = 1; i < n; i++)
    work.alone = work.alone && camera[i] == camera[0];
  sw_stops_find_clocks (&work);
  proposal->n_parts = work.parts->len;
  proposal->parts = (SwClockPart *)(void *)g_array_free (work.parts, FALSE);
  lend_clock (&work);
  run_chains (&work);
  add_untimed (&work);
  finish_stops (&work);
  sw_wide_propose (walk, proposal);
  return proposal;
}

SwProposal *
sw_stops_propose (const SwWalk *walk)
{
  g_return_val_if_fail (walk != NULL, NULL);
  return propose (walk, NULL);
}

SwProposal *
sw_stops_propose_known (const SwWalk *walk, const SwWalkParams *params)
{
  g_return_val_if_fail (walk != NULL && params != NULL, NULL);
  return propose (walk, params);
}
