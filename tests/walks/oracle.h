/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The best that the model could do: the same factors with every clock right and the person's habits
 * counted from the truth of other walks, nothing pruned. */
#pragma once

#include "core/match/stops.h"
#include "walkgen.h"

G_BEGIN_DECLS

/* A proposal made with knowledge that no one has. Transfer full. */
SwProposal *oracle_propose (const TrueWalk *truth);

/* How closely that camera's clock could be told from the walk at best: the standard deviation in
 * seconds of its shift's posterior under a flat prior, all else known. */
double oracle_clock_spread (const TrueWalk *truth, int camera);

/* What pruning loses on that walk, all else the same. */
typedef struct
{
  double evidence; /* log evidence given up */
  double label;    /* most that any photo's chance of its label changes */
  double boundary; /* most that any boundary's chance changes */
} OracleLoss;
OracleLoss oracle_pruning_loss (const TrueWalk *truth);

G_END_DECLS
