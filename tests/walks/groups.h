/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The groups of walks that the results are told by, and the seeds of the sets: constants are
 * chosen on the tune set alone, figures are told of the hold set (clocks over many walks: of a third
 * set). */
#pragma once

#include "walkgen.h"

#define WALKS_TUNE_SEED 1000000
#define WALKS_HOLD_SEED 5000000
#define WALKS_CLOCK_SEED 9000000
/* Seeds between two groups of one set. */
#define WALKS_GROUP_STEP 10000

typedef struct
{
  const char *label;
  WalkKind kind;
} WalkGroup;

/* New groups go to the end: a group's place gives its seeds. */
#define WALKS_FAULTS .things = 45, .clock_faults = TRUE, .note_faults = TRUE
static const WalkGroup walk_groups[] = {
  { "90% noted", { .noted = 0.9, .cameras = 1, WALKS_FAULTS } },
  { "100% noted", { .noted = 1, .cameras = 1, WALKS_FAULTS } },
  { "60% noted", { .noted = 0.6, .cameras = 1, WALKS_FAULTS } },
  { "30% noted", { .noted = 0.3, .cameras = 1, WALKS_FAULTS } },
  { "no notes", { .cameras = 1, WALKS_FAULTS } },
  { "two cameras, 90% noted", { .noted = 0.9, .cameras = 2, WALKS_FAULTS } },
  { "pictures, 90% noted", { .noted = 0.9, .cameras = 1, .pictures = TRUE, WALKS_FAULTS } },
  { "positions, 90% noted", { .noted = 0.9, .cameras = 1, .positions = TRUE, WALKS_FAULTS } },
  { "pictures, no notes", { .cameras = 1, .pictures = TRUE, WALKS_FAULTS } },
  { "positions, no notes", { .cameras = 1, .positions = TRUE, WALKS_FAULTS } },
  { "two cameras, no notes", { .cameras = 2, WALKS_FAULTS } },
  { "three cameras, 60% noted", { .noted = 0.6, .cameras = 3, WALKS_FAULTS } },
  { "cards and 'here now', 60% noted",
    { .noted = 0.6, .cameras = 1, .cards = TRUE, .here_notes = TRUE, WALKS_FAULTS } },
  { "drift over 3 days, 90% noted",
    { .noted = 0.9, .cameras = 1, .days = 3, .drift = TRUE, WALKS_FAULTS } },
  { "reset on the walk, 90% noted", { .noted = 0.9, .cameras = 1, .reset = TRUE, WALKS_FAULTS } },
  { "everything, 60% noted",
    { .noted = 0.6,
      .cameras = 2,
      .pictures = TRUE,
      .positions = TRUE,
      .gps_time = TRUE,
      .cards = TRUE,
      .tags = TRUE,
      .here_notes = TRUE,
      WALKS_FAULTS } },
};
