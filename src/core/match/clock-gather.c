/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers a camera's evidence: a first cut into stops, faces and fixes, the others' photos. Weighs
 * nothing (clock.c does). */
#include "core/match/clock-gather.h"

#include <math.h>

/* A note this far from a stop still goes with it; a photo this close to another camera's. */
#define NOTE_NEAR_US (90 * SW_US_PER_SECOND)
#define BESIDE_US (30 * SW_US_PER_SECOND)
/* A face goes with a shift that is off by less; a fix is fresh up to that age. */
#define FACE_NEAR_S 10.0
#define FIX_NEAR_S 10.0
/* More fixes than this add no certainty, only work: every so many are asked. */
#define FIXES_ENOUGH 60

void
sw_clock_gathered_clear (SwClockGathered *gathered)
{
  g_clear_pointer (&gathered->stops, g_array_unref);
  g_clear_pointer (&gathered->photos, g_array_unref);
  g_clear_pointer (&gathered->others, g_array_unref);
  g_clear_pointer (&gathered->faces, g_array_unref);
  g_clear_pointer (&gathered->fixes, g_array_unref);
}

/* What times alone tell of the person's gaps. */
static SwWalkParams
guess_gaps (const gint64 *times, gsize n)
{
  SwWalkParams params = sw_walk_params_default ();
  g_autofree double *z = g_new0 (double, n + 1);

  for (gsize i = 0; i + 1 < n; i++)
    z[i] = log (MAX ((double)(times[i + 1] - times[i]) / 1e6, 0.5));
  sw_walk_params_guess (&params, z, n > 0 ? n - 1 : 0);
  return params;
}

/* A first cut by gaps alone: a boundary where the densities say so. */
static GArray *
rough_stops (const SwStopsWork *work, const GArray *photos, const SwWalkParams *params)
{
  GArray *stops = g_array_new (FALSE, FALSE, sizeof (SwClockStop));

  for (guint i = 0; i < photos->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (photos, SwModelPhoto, i);
      SwClockStop stop = { photo->t_us, photo->t_us, work->walk->photos[photo->photo].decided };
      double z = i > 0 ? log (MAX ((double)(photo->t_us - photo[-1].t_us) / 1e6, 0.5)) : 0;

      if (i > 0
          && params->boundary * sw_gap_between (params, SW_STEP_ANY, z)
                 <= (1 - params->boundary) * sw_gap_within (params, z))
        {
          SwClockStop *open = &g_array_index (stops, SwClockStop, stops->len - 1);

          open->last_us = photo->t_us;
          if (open->item < 0)
            open->item = stop.item;
          continue;
        }
      g_array_append_val (stops, stop);
    }
  return stops;
}

static GArray *
times_of (const GArray *photos)
{
  GArray *times = g_array_sized_new (FALSE, FALSE, sizeof (gint64), photos->len);

  for (guint i = 0; i < photos->len; i++)
    g_array_append_val (times, g_array_index (photos, SwModelPhoto, i).t_us);
  return times;
}

static int
compare_times (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *)a, y = *(const gint64 *)b;

  return (x > y) - (x < y);
}

static int
compare_anchors (gconstpointer a, gconstpointer b)
{
  const SwClockAnchor *x = a, *y = b;

  if (x->true_us != y->true_us)
    return x->true_us < y->true_us ? -1 : 1;
  return (x->clock_us > y->clock_us) - (x->clock_us < y->clock_us);
}

/* A fix that an earlier photo bears too is older than the later one: no clock. */
static void
keep_fresh (GArray *fixes)
{
  guint kept = 0, stride;

  g_array_sort (fixes, compare_anchors);
  for (guint k = 0; k < fixes->len; k++)
    {
      SwClockAnchor fix = g_array_index (fixes, SwClockAnchor, k);

      if (kept > 0 && g_array_index (fixes, SwClockAnchor, kept - 1).true_us == fix.true_us)
        continue;
      g_array_index (fixes, SwClockAnchor, kept++) = fix;
    }
  stride = 1 + kept / FIXES_ENOUGH;
  for (guint k = 0; k * stride < kept; k++)
    g_array_index (fixes, SwClockAnchor, k) = g_array_index (fixes, SwClockAnchor, k * stride);
  g_array_set_size (fixes, (kept + stride - 1) / stride);
}

static void
fill (const SwStopsWork *work, const GArray *photos, SwClockGathered *out)
{
  out->photos = times_of (photos);
  out->params = guess_gaps ((const gint64 *)(void *)out->photos->data, out->photos->len);
  out->stops = rough_stops (work, photos, &out->params);
  out->faces = g_array_new (FALSE, FALSE, sizeof (SwClockAnchor));
  out->fixes = g_array_new (FALSE, FALSE, sizeof (SwClockAnchor));
  if (out->others == NULL)
    out->others = g_array_new (FALSE, FALSE, sizeof (gint64));
  /* A camera that is used now and then shows pauses of its own: the others' tell more. */
  if (out->others->len > out->photos->len)
    out->params = guess_gaps ((const gint64 *)(void *)out->others->data, out->others->len);
  for (guint i = 0; i < photos->len; i++)
    {
      const SwModelPhoto *at = &g_array_index (photos, SwModelPhoto, i);
      const SwWalkPhoto *photo = &work->walk->photos[at->photo];

      if (photo->has_seen)
        {
          SwClockAnchor face
              = { at->t_us, photo->seen_us, photo->seen_resolution_us, photo->seen_dateless };

          g_array_append_val (out->faces, face);
        }
      if (photo->has_fix)
        {
          SwClockAnchor fix = { at->t_us, photo->fix_us, 0, FALSE };

          g_array_append_val (out->fixes, fix);
        }
    }
  keep_fresh (out->fixes);
  out->evidence = (SwClockEvidence){
    .stops = (const SwClockStop *)(void *)out->stops->data,
    .n_stops = out->stops->len,
    .notes = work->walk->notes,
    .n_notes = work->walk->n_notes,
    .faces = (const SwClockAnchor *)(void *)out->faces->data,
    .n_faces = out->faces->len,
    .fixes = (const SwClockAnchor *)(void *)out->fixes->data,
    .n_fixes = out->fixes->len,
    .photos = (const gint64 *)(void *)out->photos->data,
    .n_photos = out->photos->len,
    .others = (const gint64 *)(void *)out->others->data,
    .n_others = out->others->len,
    .params = &out->params,
  };
}

/* Photos of all those cameras in property time by the clocks as they stand. */
GArray *
sw_clock_standing_photos (const SwStopsWork *work, const gboolean *cameras)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (gsize c = 0; c < work->walk->n_cameras; c++)
    if (cameras[c])
      {
        g_autoptr (GArray) photos = sw_stops_placed_photos (work, (int)c, FALSE);

        g_array_append_vals (all, photos->data, photos->len);
      }
  g_array_sort (all, sw_stops_compare_photos);
  return all;
}

/* Photos of the cameras settled already, in property time. */
static GArray *
settled_times (const SwStopsWork *work, const gboolean *settled)
{
  GArray *all = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (gsize c = 0; c < work->walk->n_cameras; c++)
    if (settled[c])
      {
        g_autoptr (GArray) photos = sw_stops_placed_photos (work, (int)c, FALSE);
        g_autoptr (GArray) times = times_of (photos);

        g_array_append_vals (all, times->data, times->len);
      }
  g_array_sort (all, compare_times);
  return all;
}

void
sw_clock_gather (const SwStopsWork *work, int camera, const gboolean *settled, SwClockGathered *out)
{
  g_autoptr (GArray) photos = sw_stops_photos_of (work, camera, FALSE, 0);

  out->others = settled != NULL ? settled_times (work, settled) : NULL;
  fill (work, photos, out);
}

void
sw_clock_gather_photos (const SwStopsWork *work, const GArray *photos, SwClockGathered *out)
{
  out->others = NULL;
  fill (work, photos, out);
}

void
sw_clock_gather_together (const SwStopsWork *work, const gboolean *cameras, const double *bases,
                          gsize n_bases, SwClockGathered *out)
{
  g_autoptr (GArray) photos = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));

  for (gsize c = 0; c < work->walk->n_cameras; c++)
    if (cameras[c])
      {
        g_autoptr (GArray) part
            = sw_stops_photos_of (work, (int)c, FALSE, work->proposal->clocks[c].shift_s);

        g_array_append_vals (photos, part->data, part->len);
      }
  g_array_sort (photos, sw_stops_compare_photos);
  out->others = NULL;
  fill (work, photos, out);
  out->evidence.bases = bases;
  out->evidence.n_bases = n_bases;
}

/* --- counting --- */

/* First of n times at or after t. */
static gsize
first_from (const gint64 *times, gsize n, gint64 t)
{
  gsize low = 0, high = n;

  while (low < high)
    {
      gsize mid = (low + high) / 2;

      if (times[mid] < t)
        low = mid + 1;
      else
        high = mid;
    }
  return low;
}

static void
count_notes (const SwClockEvidence *evidence, gint64 shift, SwClockCounts *counts)
{
  for (gsize k = 0; k < evidence->n_notes; k++)
    {
      const SwWalkNote *note = &evidence->notes[k];
      gsize low = 0, high = evidence->n_stops;
      gint64 upto = note->time_us + note->resolution_us + NOTE_NEAR_US;
      gboolean near = FALSE, decided = FALSE;

      if (note->item < 0)
        continue;
      while (low < high)
        {
          gsize mid = (low + high) / 2;

          if (evidence->stops[mid].last_us + shift < note->time_us - NOTE_NEAR_US)
            low = mid + 1;
          else
            high = mid;
        }
      for (; low < evidence->n_stops && evidence->stops[low].first_us + shift <= upto; low++)
        {
          near = TRUE;
          decided |= evidence->stops[low].item == note->item;
        }
      counts->notes += near;
      counts->decided += decided;
    }
}

SwClockCounts
sw_clock_count (const SwClockEvidence *evidence, double shift_s)
{
  gint64 shift = (gint64)llrint (shift_s * 1e6);
  SwClockCounts counts = { 0 };

  count_notes (evidence, shift, &counts);
  for (gsize k = 0; k < evidence->n_faces; k++)
    counts.faces += fabs (sw_clock_face_away (&evidence->faces[k], shift_s)) <= FACE_NEAR_S;
  for (gsize k = 0; k < evidence->n_fixes; k++)
    {
      double age_s = sw_clock_fix_age (&evidence->fixes[k], shift_s);

      counts.fixes += age_s >= -FIX_NEAR_S / 2 && age_s <= FIX_NEAR_S;
    }
  for (gsize k = 0; k < evidence->n_photos && evidence->n_others > 0; k++)
    {
      gint64 t = evidence->photos[k] + shift;
      gsize at = first_from (evidence->others, evidence->n_others, t - BESIDE_US);

      counts.beside += at < evidence->n_others && evidence->others[at] <= t + BESIDE_US;
    }
  return counts;
}

int
sw_clock_counts_sum (const SwClockCounts *counts)
{
  return counts->notes + counts->faces + counts->fixes + counts->beside;
}
