/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks of a group proposed for and scored, several at a time; the fixed gap for comparison. */
#pragma once

#include "groups.h"
#include "score.h"

G_BEGIN_DECLS

typedef struct
{
  const WalkKind *kind;
  guint64 seed;        /* of the first walk; the others follow */
  int walks, jobs;     /* jobs: threads */
  gboolean set_clocks; /* clocks set right by hand */
  gboolean best;       /* the best possible too, and how well it could tell the clocks */
  gboolean fit;        /* keep what calibrate.c is fitted to (one thread) */
} RunSpec;

typedef struct
{
  Score ours, best;
  Score bare_best; /* the best possible from times and notes alone, on a walk with more */
} Run;

/* One for each walk, the same however many threads there are. Transfer full. */
Run *runs_new (const RunSpec *spec);
/* Whether the kind tells more than times and notes of places do. */
gboolean runs_have_senses (const WalkKind *kind);

/* Boundaries by a gap longer than so many seconds, by the true clocks: the best a fixed gap can be
 * given. */
typedef struct
{
  int gap_s;
  double f1;
} FixedGap;
/* The gap that does best on walks from seed_of_tune on, and how it does from seed on. */
FixedGap runs_fixed_gap (const WalkKind *kind, guint64 tune_seed, guint64 seed, int walks);

G_END_DECLS
