/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Forward-backward over columns of states. Each column is rescaled to sum to 1, so that thousands
 * of densities do not underflow; the scales' logarithms add up to the evidence. Must not know what
 * a state means. */
#include "core/match/chain.h"

#include <math.h>

struct _SwChain
{
  SwChainSpec spec;
  gsize *offset; /* where each column begins in alpha and beta */
  double *alpha; /* scaled forward messages */
  double *beta;  /* sum over a column of alpha x beta is 1 */
  double *scale; /* what the column was divided by */
  SwChainEdge *edges;
  double log_evidence;
};

void
sw_chain_free (SwChain *chain)
{
  if (chain == NULL)
    return;
  g_free (chain->offset);
  g_free (chain->alpha);
  g_free (chain->beta);
  g_free (chain->scale);
  g_free (chain->edges);
  g_free (chain);
}

/* Drops what lies below the beam, then rescales; FALSE where nothing is left. */
static gboolean
settle_column (SwChain *chain, gsize t)
{
  double *alpha = chain->alpha + chain->offset[t];
  guint n = chain->spec.sizes[t];
  double best = 0, sum = 0;

  for (guint s = 0; s < n; s++)
    best = MAX (best, alpha[s]);
  for (guint s = 0; s < n; s++)
    {
      if (alpha[s] < best * chain->spec.beam)
        alpha[s] = 0;
      sum += alpha[s];
    }
  if (!(sum > 0) || !isfinite (sum))
    return FALSE;
  for (guint s = 0; s < n; s++)
    alpha[s] /= sum;
  chain->scale[t] = sum;
  chain->log_evidence += log (sum);
  return TRUE;
}

static gsize
edges_of (const SwChain *chain, gsize t, guint from)
{
  gsize n = chain->spec.edges (chain->spec.data, t, from, chain->edges);

  g_assert (n <= chain->spec.max_edges);
  return n;
}

static gboolean
run_forward (SwChain *chain)
{
  const SwChainSpec *spec = &chain->spec;

  for (guint s = 0; s < spec->sizes[0]; s++)
    chain->alpha[s] = spec->start[s];
  if (!settle_column (chain, 0))
    return FALSE;
  for (gsize t = 0; t + 1 < spec->length; t++)
    {
      const double *here = chain->alpha + chain->offset[t];
      double *next = chain->alpha + chain->offset[t + 1];

      for (guint s = 0; s < spec->sizes[t]; s++)
        {
          if (here[s] == 0)
            continue;
          gsize n = edges_of (chain, t, s);
          for (gsize e = 0; e < n; e++)
            next[chain->edges[e].to] += here[s] * chain->edges[e].weight;
        }
      if (!settle_column (chain, t + 1))
        return FALSE;
    }
  return TRUE;
}

static gboolean
run_backward (SwChain *chain)
{
  const SwChainSpec *spec = &chain->spec;
  gsize last = spec->length - 1;
  double *end = chain->beta + chain->offset[last];
  const double *end_alpha = chain->alpha + chain->offset[last];
  double sum = 0;

  for (guint s = 0; s < spec->sizes[last]; s++)
    {
      end[s] = spec->finish ? spec->finish[s] : 1;
      sum += end_alpha[s] * end[s];
    }
  if (!(sum > 0) || !isfinite (sum))
    return FALSE;
  chain->log_evidence += log (sum);
  for (guint s = 0; s < spec->sizes[last]; s++)
    end[s] /= sum;
  for (gsize t = last; t-- > 0;)
    {
      const double *here = chain->alpha + chain->offset[t];
      const double *next_alpha = chain->alpha + chain->offset[t + 1];
      const double *next = chain->beta + chain->offset[t + 1];
      double *beta = chain->beta + chain->offset[t];

      for (guint s = 0; s < spec->sizes[t]; s++)
        {
          if (here[s] == 0)
            continue;
          gsize n = edges_of (chain, t, s);
          for (gsize e = 0; e < n; e++)
            if (next_alpha[chain->edges[e].to] > 0)
              beta[s] += chain->edges[e].weight * next[chain->edges[e].to];
          beta[s] /= chain->scale[t + 1];
        }
    }
  return TRUE;
}

static SwChain *
chain_new (const SwChainSpec *spec)
{
  SwChain *chain = g_new0 (SwChain, 1);
  gsize total = 0;

  chain->spec = *spec;
  chain->offset = g_new (gsize, spec->length);
  for (gsize t = 0; t < spec->length; t++)
    {
      chain->offset[t] = total;
      total += spec->sizes[t];
    }
  chain->alpha = g_new0 (double, total);
  chain->scale = g_new0 (double, spec->length);
  chain->edges = g_new0 (SwChainEdge, spec->max_edges);
  return chain;
}

SwChain *
sw_chain_run (const SwChainSpec *spec)
{
  g_autoptr (SwChain) chain = NULL;
  gsize last;

  g_return_val_if_fail (spec != NULL && spec->length >= 1 && spec->edges != NULL, NULL);
  chain = chain_new (spec);
  last = spec->length - 1;
  chain->beta = g_new0 (double, chain->offset[last] + spec->sizes[last]);
  if (!run_forward (chain) || !run_backward (chain))
    return NULL;
  return g_steal_pointer (&chain);
}

gboolean
sw_chain_weigh (const SwChainSpec *spec, double *out_log_evidence)
{
  g_autoptr (SwChain) chain = NULL;
  const double *end;
  double sum = 0;

  g_return_val_if_fail (spec != NULL && spec->length >= 1 && spec->edges != NULL, FALSE);
  chain = chain_new (spec);
  if (!run_forward (chain))
    return FALSE;
  end = chain->alpha + chain->offset[spec->length - 1];
  for (guint s = 0; s < spec->sizes[spec->length - 1]; s++)
    sum += end[s] * (spec->finish ? spec->finish[s] : 1);
  if (!(sum > 0) || !isfinite (sum))
    return FALSE;
  *out_log_evidence = chain->log_evidence + log (sum);
  return TRUE;
}

double
sw_chain_log_evidence (const SwChain *chain)
{
  return chain->log_evidence;
}

double
sw_chain_marginal (const SwChain *chain, gsize t, guint state)
{
  gsize at = chain->offset[t] + state;

  return chain->alpha[at] * chain->beta[at];
}

void
sw_chain_each_edge (const SwChain *chain, SwChainVisit visit, gpointer data)
{
  const SwChainSpec *spec = &chain->spec;

  for (gsize t = 0; t + 1 < spec->length; t++)
    {
      const double *alpha = chain->alpha + chain->offset[t];
      const double *next_alpha = chain->alpha + chain->offset[t + 1];
      const double *next = chain->beta + chain->offset[t + 1];

      for (guint s = 0; s < spec->sizes[t]; s++)
        {
          if (alpha[s] == 0)
            continue;
          gsize n = edges_of (chain, t, s);
          for (gsize e = 0; e < n; e++)
            {
              const SwChainEdge *edge = &chain->edges[e];

              if (next_alpha[edge->to] > 0)
                visit (data, t, s, edge,
                       alpha[s] * edge->weight * next[edge->to] / chain->scale[t + 1]);
            }
        }
    }
}

typedef struct
{
  double *score; /* of the best path up to each state; -inf: none */
  guint *from;   /* where it came from */
  guint *kind;   /* by which edge */
} BestTable;

static void
best_step (const SwChain *chain, gsize t, SwChainNodeScore node, SwChainEdgeScore edge,
           gpointer data, BestTable *best)
{
  const SwChainSpec *spec = &chain->spec;
  const double *alpha = chain->alpha + chain->offset[t];
  const double *next_alpha = chain->alpha + chain->offset[t + 1];
  gsize here = chain->offset[t], there = chain->offset[t + 1];

  for (guint s = 0; s < spec->sizes[t]; s++)
    {
      if (alpha[s] == 0 || isinf (best->score[here + s]))
        continue;
      gsize n = edges_of (chain, t, s);
      for (gsize e = 0; e < n; e++)
        {
          const SwChainEdge *way = &chain->edges[e];
          double sum;

          if (next_alpha[way->to] == 0 || way->weight == 0)
            continue;
          sum = best->score[here + s] + (edge ? edge (data, t, s, way) : 0);
          if (sum > best->score[there + way->to])
            {
              best->score[there + way->to] = sum;
              best->from[there + way->to] = s;
              best->kind[there + way->to] = way->kind;
            }
        }
    }
  for (guint s = 0; node && s < spec->sizes[t + 1]; s++)
    if (!isinf (best->score[there + s]))
      best->score[there + s] += node (data, t + 1, s);
}

/* Walks back from the best state of the last column. */
static double
trace_back (const SwChain *chain, const BestTable *best, guint *out_states, guint *out_kinds)
{
  const SwChainSpec *spec = &chain->spec;
  gsize last = spec->length - 1, at = chain->offset[last];
  guint state = 0;
  double sum = -INFINITY;

  for (guint s = 0; s < spec->sizes[last]; s++)
    if ((spec->finish == NULL || spec->finish[s] > 0) && best->score[at + s] > sum)
      {
        state = s;
        sum = best->score[at + s];
      }
  out_states[last] = state;
  for (gsize t = last; t > 0; t--)
    {
      out_kinds[t - 1] = best->kind[chain->offset[t] + state];
      state = best->from[chain->offset[t] + state];
      out_states[t - 1] = state;
    }
  return sum;
}

double
sw_chain_best (const SwChain *chain, SwChainNodeScore node, SwChainEdgeScore edge, gpointer data,
               guint *out_states, guint *out_kinds)
{
  const SwChainSpec *spec = &chain->spec;
  gsize last = spec->length - 1;
  gsize total = chain->offset[last] + spec->sizes[last];
  g_autofree double *score = g_new (double, total);
  g_autofree guint *from = g_new0 (guint, total);
  g_autofree guint *kind = g_new0 (guint, total);
  BestTable best = { score, from, kind };

  for (gsize k = 0; k < total; k++)
    score[k] = -INFINITY;
  for (guint s = 0; s < spec->sizes[0]; s++)
    if (chain->alpha[s] > 0)
      score[s] = node ? node (data, 0, s) : 0;
  for (gsize t = 0; t + 1 < spec->length; t++)
    best_step (chain, t, node, edge, data, &best);
  return trace_back (chain, &best, out_states, out_kinds);
}
