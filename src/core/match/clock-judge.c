/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shifts judged by the evidence of the chain. Beside other cameras habits are learned once a mode
 * and held while its seconds are gone through: else each second would find habits to excuse it.
 * The only camera's are learned anew at each shift: how late its notes are written and how late its
 * clock goes are told by the same differences, and habits that are held hold on to the shift that
 * they were learned at. Must not look for modes (clock.c does). */
#include "core/match/clock-judge.h"

#include <math.h>
#include <string.h>

/* Rounds of learning at each mode, or shift. */
#define JUDGE_ROUNDS 1
/* What is hardly possible need not be told exactly: the evidence is what counts. */
#define JUDGE_BEAM 1e-6
/* Standing photos count within this time. */
#define STANDING_NEAR_US (1800 * SW_US_PER_SECOND)
/* The model knows nobody's habits exactly: its word is toned down, the more the more photos there
 * are that are all taken for what they are not quite. Of a few photos it stands nearly whole. */
#define TEMPER 0.6
#define FEW_PHOTOS 10.0
/* A shift under which no note is near any photo. */
#define NOWHERE_S 3e9
/* Seconds each way of a mode's middle at which it is first asked, then step by step. */
#define FIRST_STEP_S 20
#define COARSE_STEP_S 10
#define COARSE_REACH_S 40
static const double fine_steps_s[] = { 5, 2.5, 1.2 };
/* Modes that are refined, and how far behind the best (in nats) none is. */
#define REFINED 3
#define REFINED_REACH 15.0
/* How much of the posterior is kept for what the quick look alone made of the evidence. */
#define DOUBT 0.06
/* Seconds that a mode is wide which was not refined. */
#define ROUGH_WIDTH_S 15.0
#define MAX_KNOTS 64
/* Modes so far behind are not asked again. */
#define ASKED_REACH 25.0

struct _SwClockJudge
{
  const SwWalk *walk;
  GArray *moved;
  const GArray *standing;
  gboolean alone; /* the photos moved are of the only camera */
  GArray *near;   /* those that stand near the mode at hand */
  GArray *scratch;
  double near_alone; /* the near ones' evidence without the moved */
  double nowhere;    /* the moved ones' evidence away from everything */
  gboolean nowhere_known;
};

/* One mode in the asking. */
typedef struct
{
  double top;
  SwWalkParams params;
  struct
  {
    double shift_s, evidence;
  } knots[MAX_KNOTS]; /* by shift */
  int n_knots;
  double weight; /* the best knot's, with prior and anchors */
} Asked;

SwClockJudge *
sw_clock_judge_new (const SwWalk *walk, const GArray *moved, const GArray *standing, gboolean alone)
{
  SwClockJudge *judge = g_new0 (SwClockJudge, 1);
  guint n = MIN (moved->len, SW_CLOCK_JUDGED), from = (moved->len - n) / 2;

  judge->walk = walk;
  judge->standing = standing;
  judge->alone = alone;
  judge->moved = g_array_sized_new (FALSE, FALSE, sizeof (SwModelPhoto), n);
  if (n > 0)
    g_array_append_vals (judge->moved, &g_array_index (moved, SwModelPhoto, from), n);
  judge->near = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  judge->scratch = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  return judge;
}

void
sw_clock_judge_free (SwClockJudge *judge)
{
  if (judge == NULL)
    return;
  g_array_unref (judge->moved);
  g_array_unref (judge->near);
  g_array_unref (judge->scratch);
  g_free (judge);
}

/* Log evidence as a density of seconds, not of their logarithms: a shift moves times. params: in,
 * the habits to go by, with rounds = 0; out, those learned; NULL: what the gaps alone tell. */
static double
chain_evidence (const SwWalk *walk, const GArray *photos, int rounds, SwWalkParams *params)
{
  g_autoptr (SwModel) model = NULL;
  double logs = 0;

  if (photos->len == 0)
    return 0;
  for (guint i = 1; i < photos->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (photos, SwModelPhoto, i);

      logs += log (MAX ((double)(photo->t_us - photo[-1].t_us) / 1e6, 0.5));
    }
  model = sw_model_new (walk, &g_array_index (photos, SwModelPhoto, 0), photos->len);
  if (params != NULL && rounds == 0)
    sw_model_set_params (model, params);
  else
    sw_model_learn (model, rounds, JUDGE_BEAM);
  if (params != NULL)
    *params = *sw_model_params (model);
  return sw_model_weigh (model, JUDGE_BEAM) - logs;
}

double
sw_clock_judge_photos (const SwWalk *walk, const GArray *photos)
{
  return chain_evidence (walk, photos, JUDGE_ROUNDS, NULL);
}

static gboolean
are_same (const GArray *a, const GArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint i = 0; i < a->len; i++)
    {
      const SwModelPhoto *x = &g_array_index (a, SwModelPhoto, i);
      const SwModelPhoto *y = &g_array_index (b, SwModelPhoto, i);

      if (x->photo != y->photo || x->t_us != y->t_us)
        return FALSE;
    }
  return TRUE;
}

static void
gather_near (SwClockJudge *judge, double shift_s)
{
  gint64 shift = (gint64)llrint (shift_s * 1e6);
  g_autoptr (GArray) near = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  guint at = 0;

  for (guint i = 0; i < judge->standing->len; i++)
    {
      const SwModelPhoto *photo = &g_array_index (judge->standing, SwModelPhoto, i);

      while (at < judge->moved->len
             && g_array_index (judge->moved, SwModelPhoto, at).t_us + shift
                    < photo->t_us - STANDING_NEAR_US)
        at++;
      if (at < judge->moved->len
          && g_array_index (judge->moved, SwModelPhoto, at).t_us + shift
                 <= photo->t_us + STANDING_NEAR_US)
        g_array_append_val (near, *photo);
    }
  if (are_same (near, judge->near))
    return;
  g_array_set_size (judge->near, 0);
  g_array_append_vals (judge->near, near->data, near->len);
  judge->near_alone = chain_evidence (judge->walk, judge->near, JUDGE_ROUNDS, NULL);
}

/* The moved photos by that shift among the near ones, in time order. */
static const GArray *
merge (SwClockJudge *judge, double shift_s)
{
  gint64 shift = (gint64)llrint (shift_s * 1e6);
  guint i = 0, j = 0;

  g_array_set_size (judge->scratch, 0);
  while (i < judge->moved->len || j < judge->near->len)
    {
      SwModelPhoto own = { 0 };

      if (i < judge->moved->len)
        own = g_array_index (judge->moved, SwModelPhoto, i);
      own.t_us += shift;
      if (i < judge->moved->len
          && (j >= judge->near->len
              || sw_stops_compare_photos (&own, &g_array_index (judge->near, SwModelPhoto, j))
                     <= 0))
        {
          g_array_append_val (judge->scratch, own);
          i++;
        }
      else
        g_array_append_val (judge->scratch, g_array_index (judge->near, SwModelPhoto, j++));
    }
  return judge->scratch;
}

/* --- one mode --- */

double
sw_clock_judge_toned (double log_evidence, gsize n_photos)
{
  double few = FEW_PHOTOS / (FEW_PHOTOS + (double)n_photos);

  return (TEMPER + (1 - TEMPER) * few) * log_evidence;
}

static double
weight_at (const SwClockEvidence *evidence, double shift_s, double log_evidence)
{
  return sw_clock_judge_toned (log_evidence, evidence->n_photos)
         + sw_clock_anchors_likelihood (evidence, shift_s)
         + sw_clock_log_prior_of (evidence, shift_s);
}

static void
add_knot (Asked *asked, double shift_s, double log_evidence)
{
  int k = asked->n_knots;

  if (k == MAX_KNOTS)
    return;
  for (; k > 0 && asked->knots[k - 1].shift_s > shift_s; k--)
    asked->knots[k] = asked->knots[k - 1];
  asked->knots[k].shift_s = shift_s;
  asked->knots[k].evidence = log_evidence;
  asked->n_knots++;
}

static void
ask (SwClockJudge *judge, const SwClockEvidence *evidence, Asked *asked, double shift_s)
{
  SwWalkParams params = asked->params;
  int rounds = judge->alone ? JUDGE_ROUNDS : 0;
  double log_evidence;

  for (int k = 0; k < asked->n_knots; k++)
    if (fabs (asked->knots[k].shift_s - shift_s) < 0.5)
      return;
  log_evidence
      = chain_evidence (judge->walk, merge (judge, shift_s), rounds, &params) - judge->near_alone;
  add_knot (asked, shift_s, log_evidence);
  asked->weight = MAX (asked->weight, weight_at (evidence, shift_s, log_evidence));
}

static void
ask_first (SwClockJudge *judge, const SwClockEvidence *evidence, Asked *asked)
{
  gather_near (judge, asked->top);
  if (!judge->alone)
    chain_evidence (judge->walk, merge (judge, asked->top), JUDGE_ROUNDS, &asked->params);
  asked->weight = -INFINITY;
  for (int side = -1; side <= 1; side++)
    ask (judge, evidence, asked, asked->top + side * FIRST_STEP_S);
}

static double
best_knot (const SwClockEvidence *evidence, const Asked *asked)
{
  double best = -INFINITY, at = asked->top;

  for (int k = 0; k < asked->n_knots; k++)
    {
      double weight = weight_at (evidence, asked->knots[k].shift_s, asked->knots[k].evidence);

      if (weight > best)
        {
          best = weight;
          at = asked->knots[k].shift_s;
        }
    }
  return at;
}

/* The evidence between two knots, on a straight line. */
static double
evidence_at (const Asked *asked, double shift_s)
{
  int k = 1;
  double share;

  while (k + 1 < asked->n_knots && asked->knots[k].shift_s < shift_s)
    k++;
  share = (shift_s - asked->knots[k - 1].shift_s)
          / (asked->knots[k].shift_s - asked->knots[k - 1].shift_s);
  share = CLAMP (share, 0, 1);
  return (1 - share) * asked->knots[k - 1].evidence + share * asked->knots[k].evidence;
}

static SwClockMode
refine (SwClockJudge *judge, const SwClockEvidence *evidence, Asked *asked)
{
  double value[SW_CLOCK_GRID], base, gain = -INFINITY, whole;
  SwClockMode mode;

  gather_near (judge, asked->top);
  for (int turn = 0; turn < 3; turn++)
    {
      double middle = best_knot (evidence, asked);

      for (int away = -COARSE_REACH_S; away <= COARSE_REACH_S; away += COARSE_STEP_S)
        if (turn == 0 || fabs (middle + away - asked->top) > COARSE_REACH_S)
          ask (judge, evidence, asked, asked->top + rint ((middle + away - asked->top) / 10) * 10);
      if (fabs (best_knot (evidence, asked) - middle) < COARSE_REACH_S / 2)
        break;
    }
  /* A clock is mostly right to the hour: that very shift is asked for. */
  whole = sw_clock_whole_near (evidence, best_knot (evidence, asked));
  if (fabs (whole - best_knot (evidence, asked)) < COARSE_REACH_S)
    ask (judge, evidence, asked, whole);
  for (gsize k = 0; k < G_N_ELEMENTS (fine_steps_s); k++)
    {
      double middle = best_knot (evidence, asked);

      ask (judge, evidence, asked, middle - fine_steps_s[k]);
      ask (judge, evidence, asked, middle + fine_steps_s[k]);
    }
  base = sw_clock_grid_base (evidence, best_knot (evidence, asked));
  for (int k = 0; k < SW_CLOCK_GRID; k++)
    {
      double log_evidence = evidence_at (asked, base + k);

      gain = MAX (gain, log_evidence);
      value[k] = weight_at (evidence, base + k, log_evidence);
    }
  mode = sw_clock_sum_mode (value, base);
  mode.gain = gain;
  return mode;
}

/* --- all modes --- */

static int
compare_asked (gconstpointer a, gconstpointer b)
{
  const Asked *x = a, *y = b;

  if (x->weight != y->weight)
    return x->weight > y->weight ? -1 : 1;
  return (x->top > y->top) - (x->top < y->top);
}

static double
nowhere (SwClockJudge *judge)
{
  SwWalkParams params;
  g_autoptr (GArray) near = NULL;

  if (judge->nowhere_known)
    return judge->nowhere;
  near = g_steal_pointer (&judge->near);
  judge->near = g_array_new (FALSE, FALSE, sizeof (SwModelPhoto));
  judge->nowhere = chain_evidence (judge->walk, merge (judge, NOWHERE_S), JUDGE_ROUNDS, &params);
  g_array_unref (judge->near);
  judge->near = g_steal_pointer (&near);
  judge->nowhere_known = TRUE;
  return judge->nowhere;
}

static int
compare_weights (gconstpointer a, gconstpointer b)
{
  const SwClockMode *x = a, *y = b;

  if (x->log_weight != y->log_weight)
    return x->log_weight > y->log_weight ? -1 : 1;
  return (x->shift_s > y->shift_s) - (x->shift_s < y->shift_s);
}

gsize
sw_clock_judge_tries (SwClockJudge *judge, const SwClockEvidence *evidence,
                      const SwClockMode *tries, gsize n, SwClockMode *out_modes)
{
  g_autofree SwClockMode *seen = g_new0 (SwClockMode, n + 1);

  memcpy (seen, tries, n * sizeof (SwClockMode));
  for (gsize k = 0; k < n && n > SW_CLOCK_MODES; k++)
    {
      double log_evidence;

      gather_near (judge, tries[k].shift_s);
      log_evidence = chain_evidence (judge->walk, merge (judge, tries[k].shift_s), 0, NULL)
                     - judge->near_alone;
      seen[k].log_weight = weight_at (evidence, tries[k].shift_s, log_evidence);
    }
  qsort (seen, n, sizeof (SwClockMode), compare_weights);
  n = MIN (n, SW_CLOCK_MODES);
  memcpy (out_modes, seen, n * sizeof (SwClockMode));
  return sw_clock_judge_modes (judge, evidence, out_modes, n);
}

gsize
sw_clock_judge_modes (SwClockJudge *judge, const SwClockEvidence *evidence, SwClockMode *modes,
                      gsize n)
{
  g_autofree Asked *asked = g_new0 (Asked, n + 1);

  if (judge->moved->len == 0)
    return n;
  while (n > 1 && modes[n - 1].log_weight < modes[0].log_weight - ASKED_REACH)
    n--;
  for (gsize k = 0; k < n; k++)
    {
      asked[k].top = modes[k].shift_s;
      ask_first (judge, evidence, &asked[k]);
    }
  qsort (asked, n, sizeof (Asked), compare_asked);
  for (gsize k = 0; k < n; k++)
    {
      if (k < REFINED && asked[k].weight > asked[0].weight - REFINED_REACH)
        modes[k] = refine (judge, evidence, &asked[k]);
      else
        modes[k] = (SwClockMode){ .shift_s = asked[k].top,
                                  .spread_s = ROUGH_WIDTH_S,
                                  .log_weight = asked[k].weight + log (ROUGH_WIDTH_S),
                                  .gain = evidence_at (&asked[k], asked[k].top) };
      modes[k].gain += sw_clock_anchors_likelihood (evidence, modes[k].shift_s) - nowhere (judge);
    }
  return sw_clock_sort_modes (modes, n);
}

gsize
sw_clock_add_doubt (SwClockMode *modes, gsize n, const SwClockMode *own, gsize n_own)
{
  g_autofree SwClockMode *sums = g_new0 (SwClockMode, n + n_own + 1);
  double mass = 0;

  if (n == 0 || n_own == 0)
    return n;
  memcpy (sums, modes, n * sizeof (SwClockMode));
  for (gsize k = 0; k < n; k++)
    mass += exp (modes[k].log_weight - modes[0].log_weight);
  for (gsize k = 0; k < n_own; k++)
    {
      double share = sw_clock_mode_share (own, n_own, k);

      sums[n + k] = own[k];
      sums[n + k].log_weight = modes[0].log_weight + log (mass * DOUBT * MAX (share, 1e-9));
    }
  n = MIN (sw_clock_sort_modes (sums, n + n_own), SW_CLOCK_MODES);
  memcpy (modes, sums, n * sizeof (SwClockMode));
  return n;
}
