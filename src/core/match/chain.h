/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hidden Markov chains: forward-backward, edge posteriors and best consistent paths over columns of
 * states joined by weighted edges. Match layer; knows nothing of photos. An edge's weight is
 * transition times emission of where it leads, so columns may differ in size and steps in kind.
 * Rabiner, L. R. (1989), A tutorial on hidden Markov models, Proc. IEEE 77(2), sections III and V
 * (scaling). */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  guint to;      /* state of the next column */
  guint kind;    /* the caller's own mark; edges that differ only in kind are kept apart */
  double weight; /* >= 0 */
} SwChainEdge;

typedef struct
{
  gsize length;         /* columns, >= 1 */
  const guint *sizes;   /* states in each column */
  guint max_edges;      /* most edges that leave one state */
  const double *start;  /* weights of the first column, emission included */
  const double *finish; /* weights of leaving the last column; NULL: all 1 */
  /* Writes the edges that leave state 'from' of column t (t + 1 < length); returns how many. */
  gsize (*edges) (gpointer data, gsize t, guint from, SwChainEdge *out);
  gpointer data;
  double beam; /* states below beam x the column's best are dropped; 0 drops none */
} SwChainSpec;

typedef struct _SwChain SwChain;

/* Forward and backward pass. NULL where no path has weight. The arrays of spec are borrowed and
 * must outlive the chain. Transfer full. */
SwChain *sw_chain_run (const SwChainSpec *spec);
void sw_chain_free (SwChain *chain);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwChain, sw_chain_free)

/* The forward pass alone, for the evidence: FALSE where no path has weight. */
gboolean sw_chain_weigh (const SwChainSpec *spec, double *out_log_evidence);
/* Natural logarithm of the sum of all paths' weights. */
double sw_chain_log_evidence (const SwChain *chain);
/* Probability of a state given everything. */
double sw_chain_marginal (const SwChain *chain, gsize t, guint state);
/* Calls 'visit' with the posterior of each live edge, columns ascending. */
typedef void (*SwChainVisit) (gpointer data, gsize t, guint from, const SwChainEdge *edge,
                              double posterior);
void sw_chain_each_edge (const SwChain *chain, SwChainVisit visit, gpointer data);

/* The path with the greatest sum of scores over its states and edges, among paths of non-zero
 * weight. */
typedef double (*SwChainNodeScore) (gpointer data, gsize t, guint state);
typedef double (*SwChainEdgeScore) (gpointer data, gsize t, guint from, const SwChainEdge *edge);
/* out_states holds length states, out_kinds the kinds of the length - 1 edges taken; both given by
 * the caller. node or edge may be NULL. Returns the sum. Ties go to the lower state, so that the
 * path is the same each time. */
double sw_chain_best (const SwChain *chain, SwChainNodeScore node, SwChainEdgeScore edge,
                      gpointer data, guint *out_states, guint *out_kinds);

G_END_DECLS
