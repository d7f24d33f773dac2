/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a camera's clock changes are looked for in: its photos run by run, the pieces of evidence in
 * property time, and the shifts to choose from. Private to clock-parts.c and clock-stretches.c. */
#pragma once

#include "core/match/clock-gather.h"

G_BEGIN_DECLS

#define PART_MAX_SHIFTS 16
/* Fewer pieces than this bear nothing out. */
#define PART_LEAST_PIECES 3
/* Candidate shifts this close are one. */
#define PART_SAME_S 25.0
/* A clock that goes on by this between two photos was reset. */
#define PART_ON_US (G_GINT64_CONSTANT (30) * 86400 * SW_US_PER_SECOND)

typedef struct
{
  GArray *photos; /* SwModelPhoto by its clock, in time order */
  SwClockGathered own;
  SwClockTables *tables;
  gboolean leapt; /* its clock begins more than PART_ON_US from where the run before ended */
} PartRun;

typedef enum
{
  PIECE_NOTE,
  PIECE_FACE,
  PIECE_FIX,
} PartPieceKind;

typedef struct
{
  gint64 t_us; /* property time */
  PartPieceKind kind;
  gsize index; /* in walk->notes, or among the run's faces or fixes */
  guint run;   /* of faces and fixes */
} PartPiece;

typedef struct
{
  SwStopsWork *work;
  int camera;
  GPtrArray *runs; /* PartRun */
  GArray *pieces;  /* PartPiece, in time order */
  double shifts[PART_MAX_SHIFTS];
  gsize n_shifts;
} PartSearch;

/* Run k of the search. Transfer none. */
static inline PartRun *
sw_part_run (const PartSearch *search, guint k)
{
  return g_ptr_array_index (search->runs, k);
}

/* By how many half hours a clock was set on (or back, below 0), as zones and seasons have it; 0
 * where the step is none of that: a flat battery leaps by anything, near whole hours too. */
int sw_part_half_hours (double step_s);
/* Fills an empty search; FALSE where there is nothing to choose between. Clear it either way. */
gboolean sw_part_search_begin (PartSearch *search, SwStopsWork *work, int camera);
void sw_part_search_clear (PartSearch *search);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PartSearch, sw_part_search_clear)

G_END_DECLS
