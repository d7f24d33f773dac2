/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is done to stops when the chains have been run: copies go with what they look like, stops
 * that a person joined become one, and a new thing gets its place by those around it. */
#include "core/match/stops-private.h"
#include "core/match/wide.h"

#include <string.h>

/* As the catalogue lists them. */
static int
compare_stops (gconstpointer a, gconstpointer b, gpointer data)
{
  const SwWalk *walk = data;
  const SwStop *x = a, *y = b;
  gint64 first_x = walk->photos[x->photos[0]].id, first_y = walk->photos[y->photos[0]].id;

  if (x->timed != y->timed)
    return x->timed ? -1 : 1;
  if (x->first_us != y->first_us)
    return x->first_us < y->first_us ? -1 : 1;
  return (first_x > first_y) - (first_x < first_y);
}

/* A new thing lies where the nearer of the stops around it does. */
void
sw_stops_place_new (SwProposal *proposal)
{
  for (gsize k = 0; k < proposal->n_stops; k++)
    {
      SwStop *stop = &proposal->stops[k];
      const SwStop *before = NULL, *after = NULL;

      if (stop->place >= 0 || stop->label != SW_LABEL_NEW || !stop->timed)
        continue;
      for (gsize j = k; j-- > 0 && before == NULL && k - j < 20;)
        if (proposal->stops[j].place >= 0 && proposal->stops[j].label >= 0)
          before = &proposal->stops[j];
      for (gsize j = k + 1; j < proposal->n_stops && after == NULL && j - k < 20; j++)
        if (proposal->stops[j].place >= 0 && proposal->stops[j].timed
            && proposal->stops[j].label >= 0)
          after = &proposal->stops[j];
      if (before && stop->first_us - before->last_us > 2 * 3600 * SW_US_PER_SECOND)
        before = NULL;
      if (after && after->first_us - stop->last_us > 2 * 3600 * SW_US_PER_SECOND)
        after = NULL;
      if (before
          && (after == NULL || stop->first_us - before->last_us <= after->first_us - stop->last_us))
        stop->place = before->place;
      else if (after)
        stop->place = after->place;
    }
}

/* Photos whose time does not join them to the others': what they look like may. */
static gboolean
goes_by_likeness (const SwStopsWork *work, guint i)
{
  const SwWalkPhoto *photo = &work->walk->photos[i];

  return photo->has_likeness && photo->decided == SW_WALK_OPEN && photo->tag == 0 && !photo->is_card
         && photo->cut == 0
         && (!work->usable[i] || work->vague[i] || work->proposal->views[i].apart
             || (work->walk->cameras[photo->camera].nameless && !work->alone));
}

/* The stop of the photo that i looks the same as; -1 where none does, or photos of two stops do. */
static int
stop_of_double (const SwStopsWork *work, guint i, const GArray *steady, const int *stop_of)
{
  const SwWalk *walk = work->walk;
  int best = SW_SAME_PICTURE_BITS + 1, found = -1;

  for (guint k = 0; k < steady->len; k++)
    {
      guint j = g_array_index (steady, guint, k);
      int bits = __builtin_popcountll (walk->photos[i].dhash ^ walk->photos[j].dhash);
      if (bits < best)
        {
          best = bits;
          found = stop_of[j];
        }
      else if (bits == best && bits <= SW_SAME_PICTURE_BITS && stop_of[j] != found)
        found = -1;
    }
  return found;
}

static void
remove_photo (SwStop *stop, guint photo)
{
  gsize kept = 0;

  for (gsize k = 0; k < stop->n_photos; k++)
    if (stop->photos[k] != photo)
      stop->photos[kept++] = stop->photos[k];
  stop->n_photos = kept;
}

/* A copy sent on, or one without a time, goes with the photo it looks like. */
static void
join_doubles (SwStopsWork *work)
{
  g_autofree int *stop_of = g_new0 (int, work->walk->n_photos + 1);
  g_autoptr (GArray) steady = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint k = 0; k < work->stops->len; k++)
    {
      const SwStop *stop = &g_array_index (work->stops, SwStop, k);

      for (gsize i = 0; i < stop->n_photos; i++)
        stop_of[stop->photos[i]] = (int)k;
    }
  for (guint i = 0; i < work->walk->n_photos; i++)
    if (work->walk->photos[i].has_likeness && !work->walk->photos[i].is_card
        && !goes_by_likeness (work, i))
      g_array_append_val (steady, i);
  for (guint i = 0; i < work->walk->n_photos && steady->len > 0; i++)
    {
      SwStop *from = &g_array_index (work->stops, SwStop, stop_of[i]), *to;
      int with = goes_by_likeness (work, i) && !from->decided
                     ? stop_of_double (work, i, steady, stop_of)
                     : -1;

      if (with < 0 || with == stop_of[i])
        continue;
      to = &g_array_index (work->stops, SwStop, with);
      remove_photo (from, i);
      to->photos = g_renew (guint, to->photos, to->n_photos + 1);
      to->photos[to->n_photos++] = i;
      work->proposal->views[i].by_likeness = TRUE;
    }
  for (guint k = work->stops->len; k-- > 0;)
    if (g_array_index (work->stops, SwStop, k).n_photos == 0)
      {
        g_free (g_array_index (work->stops, SwStop, k).photos);
        g_array_remove_index (work->stops, k);
      }
}

/* What kind of thing the stop was decided as; NO_LABEL where it was not. */
static int
decided_label (const SwStop *stop)
{
  return stop->decided ? stop->label : NO_LABEL;
}

static gboolean
holds_photo (const SwStop *stop, guint photo)
{
  for (gsize i = 0; i < stop->n_photos; i++)
    if (stop->photos[i] == photo)
      return TRUE;
  return FALSE;
}

/* Whether the two were decided as different things. */
static gboolean
contradict (const SwStop *a, const SwStop *b)
{
  int label = decided_label (a), other = decided_label (b);

  return label != NO_LABEL && other != NO_LABEL && label != other;
}

/* The stop of the photo that a person joined photo i of stop k to; -1: none, or k itself. */
static int
joined_by (const SwStopsWork *work, guint k, gsize i)
{
  const SwStop *stop = &g_array_index (work->stops, SwStop, k);
  const SwWalkPhoto *photo = &work->walk->photos[stop->photos[i]];

  if (photo->cut != -1)
    return -1;
  if (photo->beside == 0)
    return i == 0 ? (int)k - 1 : -1;
  for (guint other = 0; other < work->stops->len; other++)
    if (other != k && holds_photo (&g_array_index (work->stops, SwStop, other), photo->beside - 1))
      return (int)other;
  return -1;
}

/* A stop that a person joined stop k to and that was not decided as another thing; -1: none. */
static int
joined_to (const SwStopsWork *work, guint k)
{
  const SwStop *stop = &g_array_index (work->stops, SwStop, k);

  for (gsize i = 0; i < stop->n_photos; i++)
    {
      int other = joined_by (work, k, i);

      if (other >= 0 && !contradict (stop, &g_array_index (work->stops, SwStop, other)))
        return other;
    }
  return -1;
}

static void
take_photos (SwStop *to, const SwStop *from)
{
  to->photos = g_renew (guint, to->photos, to->n_photos + from->n_photos);
  memcpy (to->photos + to->n_photos, from->photos, from->n_photos * sizeof (guint));
  to->n_photos += from->n_photos;
  to->last_us = MAX (to->last_us, from->last_us);
}

/* Stops that a person joined, where the chain could not: the two come from cameras that walk apart,
 * or a clock put right set other things between them. The earlier one takes the later. */
static void
join_by_hand (SwStopsWork *work)
{
  for (guint k = 0; k < work->stops->len; k++)
    {
      int other = joined_to (work, k);
      guint later = MAX (k, (guint)MAX (other, 0));
      SwStop *before = &g_array_index (work->stops, SwStop, MIN ((int)k, MAX (other, 0)));
      SwStop *stop = &g_array_index (work->stops, SwStop, later);
      int label = decided_label (stop);

      if (other < 0)
        continue;
      if (label != NO_LABEL && !before->decided)
        {
          before->label = label;
          before->decided = TRUE;
          before->place = stop->place;
        }
      take_photos (before, stop);
      g_free (stop->photos);
      g_array_remove_index (work->stops, later);
      k = MIN (k, (guint)other) - 1; /* what stands there now may be joined to more */
    }
}

void
sw_stops_join (SwStopsWork *work)
{
  join_doubles (work);
  g_array_sort_with_data (work->stops, compare_stops, (gpointer)work->walk);
  join_by_hand (work);
}
