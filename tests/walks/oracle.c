/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The model under true clocks and true habits. Habits are counted stop by stop from the truth of
 * twenty other walks of the same person and put through the model's own M-step, so that its family
 * of densities stays. */
#include "oracle.h"

#include "core/match/stops-private.h"

#include <math.h>

/* The M-step's shares depend on what it finds: so often is it repeated. */
#define ROUNDS 6
/* Of the same person, that the habits are counted on: some 900 things. */
#define OTHER_WALKS 20

typedef struct
{
  const TrueWalk *truth;
  const SwModelPhoto *photos;
  gsize n;
  gint64 *first, *last; /* of each visit, property time */
  const SwModel *model; /* has measured the ways between fixes; NULL: there are none */
} Oracle;

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

/* Share of photo i's camera in all. */
static double
camera_share (const Oracle *oracle, guint photo)
{
  const SwWalkPhoto *photos = oracle->truth->photos;
  double same = 0;

  for (gsize i = 0; i < oracle->n; i++)
    same += photos[i].camera == photos[photo].camera;
  return same / (double)oracle->n;
}

static void
count_cameras (const Oracle *oracle, const SwWalkParams *params, SwWalkCounts *counts)
{
  const TrueWalk *truth = oracle->truth;
  int since = SW_SINCE_LONG;

  if (truth->walk.n_cameras < 2)
    return;
  for (gsize i = 0; i + 1 < oracle->n; i++)
    {
      guint a = oracle->photos[i].photo, b = oracle->photos[i + 1].photo;
      gboolean changes = truth->photos[a].camera != truth->photos[b].camera;

      if (truth->visit[a] == truth->visit[b])
        sw_walk_counts_camera (counts, params, since, changes, camera_share (oracle, a), 1);
      since = sw_since_next (since, changes);
    }
}

static void
count_motion (const Oracle *oracle, const SwWalkParams *params, SwWalkCounts *counts)
{
  const int *visit = oracle->truth->visit;

  for (gsize i = 0; i + 1 < oracle->n && oracle->model != NULL; i++)
    {
      const ModelPhoto *photo = &oracle->model->photos[i];

      if (photo->way_m >= 0 && visit[oracle->photos[i].photo] == visit[oracle->photos[i + 1].photo])
        sw_motion_sums_add (&counts->motion, &params->motion, photo->way_m, photo->way_s, 1);
    }
}

static void
count_gap (const Oracle *oracle, const SwWalkParams *params, gsize i, SwWalkCounts *counts)
{
  guint a = oracle->photos[i].photo, b = oracle->photos[i + 1].photo;
  double gap_s = MAX ((double)(oracle->photos[i + 1].t_us - oracle->photos[i].t_us) / 1e6, 0.5);
  double z = log (gap_s);
  int from = place_of (oracle->truth, a), to = place_of (oracle->truth, b);

  if (oracle->truth->visit[a] == oracle->truth->visit[b])
    sw_walk_counts_stay (counts, params, z, 1);
  else
    sw_walk_counts_boundary (counts, params,
                             from < 0 || to < 0 ? SW_STEP_ANY
                             : from == to       ? SW_STEP_SAME
                                                : SW_STEP_OTHER,
                             z, 1);
}

static void
count_note (const Oracle *oracle, gsize k, SwWalkCounts *counts)
{
  const SwWalkNote *note = &oracle->truth->notes[k];
  int visit = visit_of_item (oracle->truth, note->item);
  double before_s, after_s, half_s = (double)note->resolution_us / 2e6;

  if (visit < 0)
    return;
  before_s = (double)(oracle->first[visit] - note->time_us) / 1e6 - half_s;
  after_s = (double)(note->time_us - oracle->last[visit]) / 1e6 + half_s;
  if (oracle->truth->note_wrong[k])
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

/* Visits to things that no note speaks of then: those never noted, and those gone back to. */
static double
count_unnoted (const TrueWalk *truth)
{
  double count = 0;

  for (gsize i = 0; i < truth->walk.n_photos; i++)
    if (i == 0 || truth->visit[i] != truth->visit[i - 1])
      count += truth->item[i] == -1 || (truth->item[i] >= 0 && truth->again[i]);
  return count;
}

/* Time in which notes could have been written. */
static double
count_seconds (const Oracle *oracle)
{
  double sum = 0;

  for (gsize i = 0; i + 1 < oracle->n; i++)
    sum += MIN ((double)(oracle->photos[i + 1].t_us - oracle->photos[i].t_us) / 1e6,
                SW_WALK_WINDOW_S);
  return MAX (sum, 1);
}

/* The walk as it would be with every clock right. */
typedef struct
{
  SwWalk walk;
  SwWalkPhoto *photos;
  SwWalkCamera *cameras;
  SwModelPhoto *order; /* in time order */
  gint64 *first, *last;
  SwModel *model; /* of a walk with positions, else NULL */
  SwWalkParams params;
} Ideal;

static void
ideal_clear (Ideal *ideal)
{
  g_clear_pointer (&ideal->model, sw_model_free);
  g_free (ideal->photos);
  g_free (ideal->cameras);
  g_free (ideal->order);
  g_free (ideal->first);
  g_free (ideal->last);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Ideal, ideal_clear)

static void
set_clocks (Ideal *ideal, const TrueWalk *truth)
{
  gsize n = truth->walk.n_photos;

  ideal->walk = truth->walk;
  ideal->photos = g_memdup2 (truth->photos, sizeof (SwWalkPhoto) * n);
  ideal->cameras = g_new0 (SwWalkCamera, truth->walk.n_cameras);
  ideal->order = g_new0 (SwModelPhoto, n);
  ideal->first = g_new0 (gint64, (gsize)truth->n_visits);
  ideal->last = g_new0 (gint64, (gsize)truth->n_visits);
  ideal->walk.photos = ideal->photos;
  ideal->walk.cameras = ideal->cameras;
  for (gsize c = 0; c < truth->walk.n_cameras; c++)
    ideal->cameras[c].fixed = TRUE;
  for (guint i = 0; i < n; i++)
    {
      ideal->photos[i].clock_us += (gint64)llrint (truth->lacks_s[i] * 1e6);
      ideal->order[i] = (SwModelPhoto){ i, ideal->photos[i].clock_us };
    }
  qsort (ideal->order, n, sizeof (SwModelPhoto), sw_stops_compare_photos);
}

static void
count_walk (const Oracle *oracle, const SwWalkParams *params, SwWalkCounts *counts)
{
  const TrueWalk *truth = oracle->truth;

  for (gsize i = 0; i + 1 < oracle->n; i++)
    count_gap (oracle, params, i, counts);
  count_cameras (oracle, params, counts);
  count_motion (oracle, params, counts);
  for (gsize k = 0; k < truth->walk.n_notes; k++)
    if (truth->notes[k].item >= 0)
      count_note (oracle, k, counts);
  counts->noted += (double)truth->walk.n_items;
  counts->unnoted += count_unnoted (truth);
  counts->seconds += count_seconds (oracle);
}

static Oracle
oracle_of (const TrueWalk *truth, Ideal *ideal)
{
  gsize n = truth->walk.n_photos;

  set_clocks (ideal, truth);
  for (gsize i = n; i-- > 0;)
    ideal->first[truth->visit[ideal->order[i].photo]] = ideal->order[i].t_us;
  for (gsize i = 0; i < n; i++)
    ideal->last[truth->visit[ideal->order[i].photo]] = ideal->order[i].t_us;
  if (truth->kind.positions)
    ideal->model = sw_model_new (&ideal->walk, ideal->order, n);
  return (Oracle){ truth, ideal->order, n, ideal->first, ideal->last, ideal->model };
}

/* The person's habits: what other walks of the same person come to. One walk alone would
 * tell more of itself than of the person, and what it tells no one can know who has it to sort. */
static SwWalkParams
true_params (const TrueWalk *truth, const SwWalkParams *guess)
{
  TrueWalk *others[OTHER_WALKS];
  Ideal ideals[OTHER_WALKS] = { 0 };
  Oracle oracles[OTHER_WALKS];
  SwWalkParams params = *guess;

  for (int k = 0; k < OTHER_WALKS; k++)
    {
      others[k] = true_walk_of_same_person (truth, k + 1);
      oracles[k] = oracle_of (others[k], &ideals[k]);
    }
  for (int round = 0; round < ROUNDS; round++)
    {
      SwWalkCounts counts = { 0 };

      for (int k = 0; k < OTHER_WALKS; k++)
        count_walk (&oracles[k], &params, &counts);
      sw_walk_params_learn (&params, &counts);
    }
  for (int k = 0; k < OTHER_WALKS; k++)
    {
      ideal_clear (&ideals[k]);
      true_walk_free (others[k]);
    }
  return params;
}

static void
find_ideal (Ideal *ideal, const TrueWalk *truth)
{
  g_autoptr (SwModel) model = NULL;

  oracle_of (truth, ideal);
  model = sw_model_new (&ideal->walk, ideal->order, truth->walk.n_photos);
  ideal->params = true_params (truth, sw_model_params (model));
}

SwProposal *
oracle_propose (const TrueWalk *truth)
{
  g_auto (Ideal) ideal = { 0 };

  find_ideal (&ideal, truth);
  return sw_stops_propose_known (&ideal.walk, &ideal.params);
}

/* A chain of the walk's photos, those of one camera moved by away_us. */
static SwModel *
make_ideal (const Ideal *ideal, int camera, gint64 away_us)
{
  gsize n = ideal->walk.n_photos;
  g_autofree SwModelPhoto *photos = g_memdup2 (ideal->order, sizeof (SwModelPhoto) * n);
  SwModel *model;

  for (gsize i = 0; i < n; i++)
    if (ideal->photos[photos[i].photo].camera == camera)
      photos[i].t_us += away_us;
  qsort (photos, n, sizeof (SwModelPhoto), sw_stops_compare_photos);
  model = sw_model_new (&ideal->walk, photos, n);
  sw_model_set_params (model, &ideal->params);
  return model;
}

static SwModel *
run_ideal (const Ideal *ideal, double beam)
{
  SwModel *model = make_ideal (ideal, -1, 0);

  sw_model_run (model, 0, beam);
  return model;
}

double
oracle_clock_spread (const TrueWalk *truth, int camera)
{
  static const int grid_s[] = { -60, -45, -33, -24, -17, -12, -8, -6, -4, -3, -2, -1, 0,
                                1,   2,   3,   4,   6,   8,   12, 17, 24, 33, 45, 60 };
  double evidence[G_N_ELEMENTS (grid_s)], top = -INFINITY, mass = 0, first = 0, second = 0;
  g_auto (Ideal) ideal = { 0 };

  find_ideal (&ideal, truth);
  for (gsize k = 0; k < G_N_ELEMENTS (grid_s); k++)
    {
      g_autoptr (SwModel) model = make_ideal (&ideal, camera, grid_s[k] * SW_US_PER_SECOND);

      evidence[k] = sw_model_weigh (model, SW_STOPS_BEAM);
      top = MAX (top, evidence[k]);
    }
  for (gsize k = 0; k < G_N_ELEMENTS (grid_s); k++)
    {
      int from = grid_s[k > 0 ? k - 1 : 0], upto = grid_s[MIN (k + 1, G_N_ELEMENTS (grid_s) - 1)];
      double weight = (upto - from) / 2.0 * exp (evidence[k] - top);

      mass += weight;
      first += weight * grid_s[k];
      second += weight * grid_s[k] * grid_s[k];
    }
  return sqrt (MAX (0, second / mass - first / mass * first / mass));
}

typedef struct
{
  SwModel *other;
  gsize i;
  double most;
} Compared;

static void
compare_label (gpointer data, int label, double probability)
{
  Compared *compared = data;

  compared->most = MAX (compared->most,
                        fabs (probability - sw_model_label (compared->other, compared->i, label)));
}

OracleLoss
oracle_pruning_loss (const TrueWalk *truth)
{
  g_auto (Ideal) ideal = { 0 };
  g_autoptr (SwModel) whole = NULL, pruned = NULL;
  Compared compared = { 0 };
  OracleLoss loss = { 0 };

  find_ideal (&ideal, truth);
  whole = run_ideal (&ideal, 0);
  pruned = run_ideal (&ideal, SW_STOPS_BEAM);
  loss.evidence = sw_model_log_evidence (whole) - sw_model_log_evidence (pruned);
  compared.other = pruned;
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    {
      compared.i = i;
      sw_model_labels (whole, i, compare_label, &compared);
      if (i + 1 < truth->walk.n_photos)
        loss.boundary = MAX (loss.boundary,
                             fabs (sw_model_boundary (whole, i) - sw_model_boundary (pruned, i)));
    }
  loss.label = compared.most;
  return loss;
}
