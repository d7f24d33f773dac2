/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented walks with a known truth, from a seed: the same seed gives the same walk on every
 * machine, with and without notes, pictures, positions, cards, tags and clock faults. No density of
 * the pairing model is used: what is drawn is not what it expects. */
#pragma once

#include "core/match/walk.h"
#include "dice.h"

G_BEGIN_DECLS

typedef struct
{
  double noted;          /* share of things with a note */
  int cameras;           /* 1 or more; the first is a phone */
  int things;            /* on the walk; some are gone back to */
  int days;              /* 0: one, now and then two */
  gboolean clock_faults; /* whole hours, days, minutes, drift, now and then a reset; else right */
  gboolean drift;        /* every clock drifts by seconds to two minutes a day */
  gboolean reset;        /* the first camera's clock jumps during the walk */
  gboolean note_faults;  /* 4% of notes off by 2 to 15 minutes, 0.3% swapped with a neighbour */
  gboolean pictures;     /* difference hashes: drawn, so they prove little of real pictures */
  gboolean positions;    /* places have them, the phone's photos with an error that wanders */
  gboolean gps_time;     /* those fixes say when they were made; old ones are old */
  gboolean cards;        /* a card photographed at most arrivals in a place */
  gboolean tags;         /* on half of the things */
  gboolean here_notes;   /* 'I am here now' at most arrivals */
} WalkKind;

/* A walk and what is true of it. walk's arrays belong to the struct. Things are counted from 0; a
 * card, or a view of a whole place, counts as a thing of its own. */
typedef struct
{
  guint64 seed;
  WalkKind kind;
  SwWalk walk;
  SwWalkPhoto *photos;
  SwWalkNote *notes;
  SwWalkItem *items;
  SwWalkPlace *places;
  SwWalkCamera *cameras;
  /* Of each photo: */
  int *visit;      /* which stop it was taken in; they grow with time */
  int *thing;      /* what it shows; a thing gone back to has several visits */
  int *item;       /* that thing's item, -1 where it has no note, SW_WALK_NONE for a card */
  int *also;       /* the item of another thing that a wide view shows; -1: none */
  gboolean *again; /* taken when gone back to its thing */
  int *place;      /* where it was taken */
  gint64 *true_us; /* when it was taken, property time */
  double *lacks_s; /* what its camera's clock lacked just then */
  int *stretch;    /* which stretch of its camera's clock between jumps, from 0 */
  gint64 *gps_us;  /* when its fix was made, property time; 0: not said */
  /* Of each camera, at the walk's first photo: */
  double *shift_s;
  gboolean *jumps;      /* its clock was reset during the walk */
  gboolean *note_wrong; /* of each note: its time is off, or its thing another's */
  int n_things, n_visits;
  int *thing_place; /* of each thing */
  int *thing_item;  /* or -1 */
} TrueWalk;

TrueWalk *true_walk_new (guint64 seed, const WalkKind *kind);
/* The k-th other walk of the same person, from 1: the same habits, all else drawn anew. */
TrueWalk *true_walk_of_same_person (const TrueWalk *walk, int k);
void true_walk_free (TrueWalk *walk);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrueWalk, true_walk_free)

G_END_DECLS
