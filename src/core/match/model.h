/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Boundaries and pairing as one hidden Markov chain over the photos of one walk. Match layer, pure;
 * private to it and to its tests.
 *
 * A state is (p, phase): p the note matched last in walk order, phase what the present stop is.
 * Staying in a stop costs a gap within; a boundary costs a gap between, and what comes next: the
 * thing of a later note (its time weighed against the stop's start or, once it is over, its end), a
 * new thing, a note written at a wrong time out of order (detour), or what a person decided. Two
 * notes that follow each other may belong to two stops the other way round. Notes
 * passed over cost nothing beyond the rate of stray notes, against which each match is weighed. */
#pragma once

#include "core/match/chain.h"
#include "core/match/params.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

typedef enum
{
  SW_PHASE_PAID,    /* thing of note p; the note's time is accounted for */
  SW_PHASE_PENDING, /* thing of note p; the note comes during or after the stop */
  SW_PHASE_HELD,    /* the same, and the note before it is held for the next stop: two notes jotted
                       down the other way round in the pause between */
  SW_PHASE_LATE,    /* thing of the note that was held, p - 1, whose time is accounted for */
  SW_PHASE_NEW,     /* a thing without a note */
  SW_PHASE_DETOUR,  /* thing of a note whose time is wrong, out of walk order */
  SW_PHASE_DECIDED, /* what a person decided of this photo or of one before it */
  SW_PHASE_TO_COME, /* what a person decided of a photo still to come in this stop */
  SW_N_PHASES,
} SwPhase;

typedef enum
{
  SW_EDGE_STAY,
  SW_EDGE_STAY_NOTED, /* the note was written in this gap */
  SW_EDGE_NEXT,       /* a boundary */
} SwEdgeKind;

/* Labels beside item indices. */
enum
{
  SW_LABEL_NONE = SW_WALK_NONE, /* a person said: no item */
  SW_LABEL_NEW = -3,
};

typedef struct
{
  guint photo; /* index into walk->photos */
  gint64 t_us; /* property time */
} SwModelPhoto;

typedef struct _SwModel SwModel;

/* photos: in time order, at least one. The walk and photos are borrowed. Item notes only are
 * matched; 'here now' notes tell places. Transfer full. */
SwModel *sw_model_new (const SwWalk *walk, const SwModelPhoto *photos, gsize n);
void sw_model_free (SwModel *model);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwModel, sw_model_free)

/* Runs the chain, learning for up to 'rounds' rounds (0: the present parameters stand). beam as in
 * SwChainSpec. */
void sw_model_run (SwModel *model, int rounds, double beam);
double sw_model_log_evidence (const SwModel *model);
/* The learning of a run alone. */
void sw_model_learn (SwModel *model, int rounds, double beam);
/* The log evidence under the present parameters without anything else of a run; a third of its
 * work. */
double sw_model_weigh (SwModel *model, double beam);
const SwWalkParams *sw_model_params (const SwModel *model);
void sw_model_set_params (SwModel *model, const SwWalkParams *params);

/* After a run: */
/* P(a boundary lies between photo i and i + 1). */
double sw_model_boundary (const SwModel *model, gsize i);
/* Calls back with each label of photo i that has weight, and its probability. */
typedef void (*SwLabelVisit) (gpointer data, int label, double probability);
void sw_model_labels (SwModel *model, gsize i, SwLabelVisit visit, gpointer data);
/* P(photo i is of that label). */
double sw_model_label (SwModel *model, gsize i, int label);
/* P(photo i goes on a stop of another photo that a person decided). */
double sw_model_joined (const SwModel *model, gsize i);

/* What the chain's own factors weigh, as odds (2: two to one for, 0.5: two to one against, 1:
 * nothing); their product with what lies around is the marginals. */
typedef struct
{
  double pause; /* for another thing beginning after photo i: the gap's length, and how often one
                   does */
  double alike; /* for the same thing going on: the two pictures */
  double hand;  /* for the same thing going on: which cameras took the two */
  double still; /* for the same thing going on: the way between the fixes */
  double signs; /* for the same thing going on: cards and tags; 0 where they rule it out */
  int cut;      /* what a person said of the gap: -1, 0, 1; it goes before all others */
  double way_m; /* that way; -1: not known */
  int bits;     /* of 64 in which the two pictures differ; -1: one has no likeness */
} SwGapWeights;
/* Of the gap between photo i and i + 1. */
void sw_model_gap_weights (const SwModel *model, gsize i, SwGapWeights *out);
typedef struct
{
  int note;     /* index into walk->notes */
  double time;  /* for its thing, by when it was written: against a note of no photo */
  double place; /* and by where the photos were taken: against any place */
} SwNoteWeights;
/* Of the item's note that speaks most for the photos first to last being one stop of it. FALSE:
 * none is near. */
gboolean sw_model_note_weights (const SwModel *model, gsize first, gsize last, int item,
                                SwNoteWeights *out);

typedef struct
{
  gsize first, last; /* photos of the chain, inclusive */
  int label;
  int note; /* index into walk->notes, or -1 */
} SwModelStop;

/* The consistent path with the greatest sum of marginals (labels and boundaries): stops in time
 * order, each note used at most once. Transfer full (SwModelStop array). */
GArray *sw_model_decode (SwModel *model);

/* Place in which the notes 'here now' put that moment, or -1. */
int sw_model_here (const SwModel *model, gint64 t_us);
/* Whether place is 'in', or lies within it. */
gboolean sw_walk_place_in (const SwWalk *walk, int place, int in);

/* The factors, for the exactness check: product over a labelling's steps. */
double sw_model_start_weight (SwModel *model, guint state);
gsize sw_model_edges (SwModel *model, gsize t, guint from, SwChainEdge *out);
guint sw_model_n_states (const SwModel *model, gsize t);
double sw_model_finish_weight (SwModel *model, guint state);
guint sw_model_max_edges (const SwModel *model);

G_END_DECLS
