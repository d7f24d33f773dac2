/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The groups of walks that the results are told by, and the seeds of the two sets: constants are
 * chosen on the tune set alone, figures are told of the hold set. */
#pragma once

#include "walkgen.h"

#define WALKS_TUNE_SEED 1000000
#define WALKS_HOLD_SEED 5000000
/* Seeds between two groups of one set. */
#define WALKS_GROUP_STEP 10000

typedef struct
{
  const char *label;
  WalkKind kind;
} WalkGroup;

#define WALKS_FAULTS .things = 45, .clock_faults = TRUE, .note_faults = TRUE
static const WalkGroup walk_groups[] = {
  { "90% noted", { .noted = 0.9, .cameras = 1, WALKS_FAULTS } },
  { "100% noted", { .noted = 1, .cameras = 1, WALKS_FAULTS } },
  { "60% noted", { .noted = 0.6, .cameras = 1, WALKS_FAULTS } },
  { "30% noted", { .noted = 0.3, .cameras = 1, WALKS_FAULTS } },
  { "no notes", { .cameras = 1, .things = 45 } },
  { "two cameras, 90% noted", { .noted = 0.9, .cameras = 2, WALKS_FAULTS } },
  { "pictures, 90% noted", { .noted = 0.9, .cameras = 1, .pictures = TRUE, WALKS_FAULTS } },
  { "positions, 90% noted", { .noted = 0.9, .cameras = 1, .positions = TRUE, WALKS_FAULTS } },
  { "pictures, no notes", { .cameras = 1, .things = 45, .pictures = TRUE } },
};
