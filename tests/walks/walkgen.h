/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented walks with a known truth, from a seed: the same seed gives the same walk on every
 * machine. */
#pragma once

#include "core/match/walk.h"

G_BEGIN_DECLS

typedef struct
{
  double noted;          /* share of things with a note */
  int cameras;           /* 1 or more; the second is off by its own shift */
  int things;            /* on the walk */
  gboolean clock_faults; /* clocks off by 0, minutes, an hour or a day; else right */
  gboolean note_faults;  /* 4% of notes off by 2 to 15 minutes, 0.3% swapped with a neighbour */
  gboolean pictures;     /* difference hashes: drawn, so they prove little of real pictures */
  gboolean positions;    /* photos and places have them, photos with an error */
} WalkKind;

/* A walk and what is true of it. walk's arrays belong to the struct. */
typedef struct
{
  SwWalk walk;
  SwWalkPhoto *photos;
  SwWalkNote *notes;
  SwWalkItem *items;
  SwWalkPlace *places;
  SwWalkCamera *cameras;
  int *thing;      /* of each photo: which stop it was taken in */
  int *item;       /* of each photo: its item, or -1 where the thing has no note */
  double *shift_s; /* of each camera: what its clock lacks */
} TrueWalk;

TrueWalk *true_walk_new (guint64 seed, const WalkKind *kind);
void true_walk_free (TrueWalk *walk);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrueWalk, true_walk_free)

/* SplitMix64 (Steele, Lea, Flood 2014, Fast splittable pseudorandom number generators), so that no
 * library decides. */
typedef struct
{
  guint64 state;
} Dice;
guint64 dice_next (Dice *dice);
double dice_uniform (Dice *dice);
double dice_normal (Dice *dice);
int dice_range (Dice *dice, int low, int high); /* both inclusive */

G_END_DECLS
