/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A walk in the drawing: the property, the person, what was done when. What walkgen.c and the
 * files that add one side of it share; for no one else. */
#pragma once

#include "walkgen.h"

G_BEGIN_DECLS

typedef enum
{
  PERSON_QUICK,    /* a few photos, at once on to the next thing */
  PERSON_CAREFUL,  /* many, each with a look before it */
  PERSON_OVERVIEW, /* the whole thing from afar, then up close */
  PERSON_CIRCLER,  /* steps round it */
  N_PERSONS,
} PersonKind;

/* How this person works; drawn once a walk. */
typedef struct
{
  PersonKind kind;
  double within_s, within_sd; /* usual pause between photos of a thing */
  double look_s, look_sd;     /* and before the next thing, beside the way there */
  double speed;               /* metres a second */
  double note_before;         /* share of notes written before photographing */
  double lag_s;               /* usual time between note and photos */
  int step_s;                 /* clock step of the notes: 1 or 60 s */
} Person;

typedef struct
{
  double east_m, north_m;
} Spot;

typedef struct
{
  Spot middle;
  double size_m; /* things lie within half of this of the middle */
  gboolean roof; /* metal overhead: fixes are old or missing */
} Ground;

/* One stop: what is done at one thing. */
typedef struct
{
  int thing, place;
  Spot spot;
  double arrive_s;          /* where it is the first in its place: when that was entered; else 0 */
  double start_s, end_s;    /* first and last photo */
  gboolean again, overview; /* gone back to; a view of the place, of no thing */
  gboolean card;            /* the photo of a place card */
} Visit;

typedef struct
{
  double t_s;
  int visit;
  int camera;
  int also;           /* another thing in view, or -1 */
  double zoom, angle; /* how near, and from which side */
  double x, y;        /* where on the thing the view's middle lies */
} Shot;

typedef struct
{
  guint64 seed, person_seed; /* the walk's, and the one that the person is drawn by */
  const WalkKind *kind;
  Person person;
  Ground *grounds; /* of each place */
  int n_places;
  GArray *visits; /* Visit, in time order */
  GArray *shots;  /* Shot, in time order */
  int n_things;
  TrueWalk *truth;
} Scene;

/* Sides of the walk that have dice of their own. */
enum
{
  SIDE_WALK = 1,
  SIDE_NOTES,
  SIDE_SWAPS,
  SIDE_CLOCKS,
  SIDE_PICTURES,
  SIDE_POSITIONS,
  SIDE_CARDS,
  SIDE_READING,
  SIDE_TAGS,
  SIDE_HERE,
  SIDE_WIDE,
  SIDE_HANDS,
};

/* walk-path.c: fills grounds, visits and shots. */
void scene_walk (Scene *scene);
/* walk-notes.c: notes and items; 'here now' notes; both before the photos are laid out. */
void scene_note (Scene *scene);
/* walk-clocks.c: what the cameras' clocks showed. */
void scene_clocks (Scene *scene);
/* walk-senses.c */
void scene_pictures (Scene *scene);
void scene_positions (Scene *scene);
/* walk-signs.c: adds the cards' photos to visits and shots; then marks photos. */
void scene_add_cards (Scene *scene);
void scene_mark_cards (Scene *scene);
void scene_tags (Scene *scene);

G_END_DECLS
