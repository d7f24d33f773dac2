/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The model under true clocks and true habits. Habits are counted stop by stop from the truth and
 * put through the model's own M-step, so that its family of densities stays; what it is told beyond
 * a real run is who belongs together, never which photo shows what. */
#include "oracle.h"

#include <math.h>

/* The M-step's shares depend on what it finds: so often is it repeated. */
#define ROUNDS 6
/* Lags of the generator end far below this. */
#define LAG_MOST_S 100.0

typedef struct
{
  const TrueWalk *truth;
  const SwModelPhoto *photos;
  gsize n;
  gint64 *first, *last; /* of each visit, property time */
} Oracle;

static int
compare_photos (gconstpointer a, gconstpointer b)
{
  const SwModelPhoto *x = a, *y = b;

  if (x->t_us != y->t_us)
    return x->t_us < y->t_us ? -1 : 1;
  return (x->photo > y->photo) - (x->photo < y->photo);
}

/* The first. */
static int
visit_of_item (const TrueWalk *truth, int item)
{
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    if (truth->item[i] == item)
      return truth->visit[i];
  return -1;
}

static int
place_of (const TrueWalk *truth, guint photo)
{
  int item = truth->item[photo];

  return item >= 0 ? truth->items[item].place : -1;
}

static void
count_gap (const Oracle *oracle, const SwWalkParams *params, gsize i, SwWalkCounts *counts)
{
  guint a = oracle->photos[i].photo, b = oracle->photos[i + 1].photo;
  double gap_s = MAX ((double)(oracle->photos[i + 1].t_us - oracle->photos[i].t_us) / 1e6, 0.5);
  double z = log (gap_s), share[SW_N_GAPS];
  int from = place_of (oracle->truth, a), to = place_of (oracle->truth, b);

  if (oracle->truth->visit[a] == oracle->truth->visit[b])
    {
      counts->stays++;
      sw_normal_sums_add (&counts->within, z, sw_gap_within_main (params, z));
      return;
    }
  counts->boundaries++;
  sw_gap_between_shares (params,
                         from < 0 || to < 0 ? SW_STEP_ANY
                         : from == to       ? SW_STEP_SAME
                                            : SW_STEP_OTHER,
                         z, share);
  for (int k = 0; k < SW_N_GAPS; k++)
    sw_normal_sums_add (&counts->between[k], z, share[k]);
}

static void
count_note (const Oracle *oracle, const SwWalkNote *note, SwWalkCounts *counts)
{
  int visit = visit_of_item (oracle->truth, note->item);
  double before_s, after_s, half_s = (double)note->resolution_us / 2e6;

  if (visit < 0)
    return;
  before_s = (double)(oracle->first[visit] - note->time_us) / 1e6 - half_s;
  after_s = (double)(note->time_us - oracle->last[visit]) / 1e6 + half_s;
  if (MAX (before_s, after_s) > LAG_MOST_S)
    counts->lag_count[SW_LAG_OFF]++;
  else if (before_s >= 0 || after_s >= 0)
    {
      gboolean after = after_s >= 0;

      counts->lag_count[after ? SW_LAG_AFTER : SW_LAG_BEFORE]++;
      sw_normal_sums_add (&counts->lag[after], sw_lag_value (after ? after_s : before_s), 1);
    }
  else
    counts->lag_count[SW_LAG_DURING]++;
}

static SwWalkParams
true_params (const Oracle *oracle, const SwWalkParams *guess)
{
  const TrueWalk *truth = oracle->truth;
  SwWalkParams params = *guess;
  double stray = guess->stray;

  for (int round = 0; round < ROUNDS; round++)
    {
      SwWalkCounts counts = { 0 };

      for (gsize i = 0; i + 1 < oracle->n; i++)
        count_gap (oracle, &params, i, &counts);
      for (gsize k = 0; k < truth->walk.n_notes; k++)
        if (truth->notes[k].item >= 0)
          count_note (oracle, &truth->notes[k], &counts);
      counts.noted = (double)truth->walk.n_items;
      counts.unnoted = counts.boundaries + 1 - counts.noted;
      counts.unnoted = MAX (counts.unnoted, 0);
      sw_walk_params_learn (&params, &counts);
    }
  params.stray = stray;
  return params;
}

static SwProposal *
proposal_of (const Oracle *oracle, SwModel *model)
{
  g_autoptr (GArray) found = sw_model_decode (model);
  const TrueWalk *truth = oracle->truth;
  SwProposal *proposal = g_new0 (SwProposal, 1);

  proposal->n_photos = oracle->n;
  proposal->n_stops = found->len;
  proposal->n_cameras = truth->walk.n_cameras;
  proposal->views = g_new0 (SwPhotoView, oracle->n + 1);
  proposal->clocks = g_new0 (SwClockResult, truth->walk.n_cameras + 1);
  proposal->stops = g_new0 (SwStop, found->len + 1);
  for (gsize c = 0; c < truth->walk.n_cameras; c++)
    proposal->clocks[c] = (SwClockResult){ .shift_s = truth->shift_s[c], .known = TRUE };
  for (guint k = 0; k < found->len; k++)
    {
      const SwModelStop *from = &g_array_index (found, SwModelStop, k);
      SwStop *stop = &proposal->stops[k];

      stop->label = from->label;
      stop->n_photos = from->last - from->first + 1;
      stop->photos = g_new0 (guint, stop->n_photos);
      stop->band = SW_BAND_UNKNOWN;
      for (gsize i = from->first; i <= from->last; i++)
        {
          stop->photos[i - from->first] = oracle->photos[i].photo;
          proposal->views[oracle->photos[i].photo]
              = (SwPhotoView){ .stop = k, .timed = TRUE, .t_us = oracle->photos[i].t_us };
          stop->probability += sw_model_label (model, i, from->label) / (double)stop->n_photos;
        }
    }
  return proposal;
}

SwProposal *
oracle_propose (const TrueWalk *truth)
{
  gsize n = truth->walk.n_photos;
  g_autofree SwModelPhoto *photos = g_new0 (SwModelPhoto, n);
  g_autofree gint64 *first = g_new0 (gint64, n), *last = g_new0 (gint64, n);
  Oracle oracle = { truth, photos, n, first, last };
  g_autoptr (SwModel) model = NULL;
  SwWalkParams params;

  for (guint i = 0; i < n; i++)
    photos[i]
        = (SwModelPhoto){ i, truth->photos[i].clock_us + (gint64)llrint (truth->lacks_s[i] * 1e6) };
  qsort (photos, n, sizeof (SwModelPhoto), compare_photos);
  for (gsize i = n; i-- > 0;)
    first[truth->visit[photos[i].photo]] = photos[i].t_us;
  for (gsize i = 0; i < n; i++)
    last[truth->visit[photos[i].photo]] = photos[i].t_us;
  model = sw_model_new (&truth->walk, photos, n);
  params = true_params (&oracle, sw_model_params (model));
  sw_model_set_params (model, &params);
  /* Twice: what a note's match is worth to detours is known after the first. */
  sw_model_run (model, 0, 0);
  sw_model_run (model, 0, 0);
  return proposal_of (&oracle, model);
}
