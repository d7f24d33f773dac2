/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pairing model reads and answers: plain arrays, no catalogue. Match layer, pure.
 * All times are microseconds of a civil clock counted as if in UTC (sw_civil_to_us): a photo's is
 * what its camera's clock showed, a note's is property time. photo time + clock shift = property
 * time. */
#pragma once

#include "core/base/civil.h"

G_BEGIN_DECLS

/* What a person said of a photo; 0 and above is an index into SwWalk.items. */
enum
{
  SW_WALK_OPEN = -1, /* nothing yet */
  SW_WALK_NONE = -2, /* belongs to no item */
};

typedef enum
{
  SW_WALK_TIME_OWN,  /* written by the camera */
  SW_WALK_TIME_WEAK, /* the file's own time: believed only where the photos around it agree */
  SW_WALK_TIME_NONE, /* no time at all */
} SwWalkTimeKind;

/* One photo. Photos are given in the order they were taken in (by id): a photo without a time is
 * placed between its neighbours of the same camera in that order. */
typedef struct
{
  gint64 id;
  int camera; /* index into SwWalk.cameras */
  SwWalkTimeKind time_kind;
  gint64 clock_us;      /* unused with TIME_NONE */
  gint64 resolution_us; /* step of that clock: 1 s without subseconds; 0 counts as 1 s */
  gboolean has_position;
  double latitude, longitude; /* degrees, WGS 84 */
  double error_m;             /* what the file says of its fix; 0 when it says nothing */
  gboolean has_likeness;
  guint64 dhash; /* 64-bit difference hash */
  int decided;   /* SW_WALK_OPEN, SW_WALK_NONE or an item */
  int cut;       /* what a person said of the gap before it: -1 one stop goes on, 1 a stop begins, 0
                    nothing */
  guint beside;  /* of the gap between it and which photo that was said, as its index + 1; 0:
                    whichever comes before it */
  int place;     /* where a person or a card put it, or -1 */
  guint card; /* the photo that 'place' comes from, of a card or of the place itself, as its index +
                 1; 0: none */
  gboolean of_place; /* a person said that it shows the place itself */
  gboolean is_card; /* is itself the photo of a card: it shows no thing, and is a stop of its own */
  int tag;          /* number of the tag it shows; 0: none */
  int bearer;       /* the item that bears this tag, as its index + 1; 0: none yet */
  gboolean has_fix; /* when its position was fixed, property time: never after the photo */
  gint64 fix_us;
  gboolean has_seen; /* a clock face in the picture, read by a person: property time */
  gint64 seen_us;
  gint64 seen_resolution_us; /* 60 s for a time to the minute */
  gboolean seen_dateless;    /* the day was not said: whole days are left out */
} SwWalkPhoto;

typedef struct
{
  gint64 time_us;
  gint64 resolution_us; /* 60 s for a note to the minute: it was written somewhere in that minute */
  int place;            /* index into places, or -1 */
  int item;             /* index into items, or -1: 'I am here now' */
} SwWalkNote;

typedef struct
{
  const char *name; /* for reasons; may be NULL */
  int place;        /* index into places, or -1 */
} SwWalkItem;

typedef struct
{
  const char *name; /* for reasons; may be NULL */
  int parent;       /* index of the place it lies in, or -1 */
  gboolean has_position;
  double latitude, longitude;
} SwWalkPlace;

/* What a photo shows beside the thing of its stop, as far as it is known before anything is
 * proposed: a tag that can be read in it, or what a person said. */
typedef struct
{
  guint photo; /* index into SwWalk.photos */
  int tag;     /* 0: a person said so */
  int item;    /* index into items, -1: the tag hangs on nothing known yet */
} SwWalkSight;

/* A shift that a person set from one of the camera's photos on, in the order of the walk. */
typedef struct
{
  guint from; /* index into SwWalk.photos */
  double shift_s;
} SwWalkClockSet;

typedef struct
{
  gboolean fixed; /* the person set the shift: it wins over all evidence */
  double shift_s; /* read when fixed */
  /* Photos that name no camera (stripped on the way): no clock of their own, they go by the one
   * with most photos. */
  gboolean nameless;
  const SwWalkClockSet *sets; /* by 'from'; each holds until the next */
  gsize n_sets;
} SwWalkCamera;

/* A change of the property's own civil time on the trip: from_us on, civil time counted as if in
 * UTC, it goes step_s ahead of before (3600 at the start of summer time). */
typedef struct
{
  gint64 from_us;
  double step_s;
} SwWalkZoneStep;

/* Borrowed arrays; the caller keeps them for as long as the call runs. Any count may be 0. */
typedef struct
{
  const SwWalkPhoto *photos;
  gsize n_photos;
  const SwWalkNote *notes;
  gsize n_notes;
  const SwWalkItem *items;
  gsize n_items;
  const SwWalkPlace *places;
  gsize n_places;
  const SwWalkCamera *cameras;
  gsize n_cameras;
  const SwWalkZoneStep *zone_steps;
  gsize n_zone_steps;
  const SwWalkSight *sights; /* by photo */
  gsize n_sights;
} SwWalk;

typedef enum
{
  SW_BAND_SURE,
  SW_BAND_DOUBTFUL,
  SW_BAND_UNKNOWN,
} SwBand;

/* "sure", "doubtful", "unknown". Transfer none. */
const char *sw_band_word (SwBand band);

/* Modes of a clock's posterior that are handed on. */
#define SW_WALK_CLOCK_MODES 4

/* Pieces of evidence that go with a shift, by what they are. */
typedef struct
{
  int notes;   /* field notes that lie by a stop of the camera */
  int decided; /* those of them whose stop a person gave to the note's item */
  int faces;   /* pictures of a clock whose time a person typed */
  int fixes;   /* position fixes */
  int beside;  /* photos taken where another camera took some */
} SwClockCounts;

/* What is known of one camera's clock: add shift_s to its time to get property time. */
typedef struct
{
  double shift_s;
  double spread_s;    /* standard deviation, over all modes; meaningless where !known */
  int evidence;       /* pieces that speak for this shift: the sum of counts without 'decided' */
  gboolean known;     /* FALSE: no evidence, shift_s is 0 */
  double other_s;     /* the next best shift, where its share is above 5%; !known: the best */
  double other_share; /* 0 to 1 */
  SwClockCounts counts;
  /* Found beside another camera alone, whose own clock nothing tells of: how well the two go
   * together (spread_s says how little the shift itself is known). 0 elsewhere. */
  double beside_s;
  /* Gains that much more a day, counted from that moment of the camera's clock on. */
  double drift_s_day;
  gint64 drift_from_us;
  /* The whole posterior, heaviest first: a normal each. None where a person set the clock. */
  int n_modes;
  struct
  {
    double share, shift_s, spread_s;
  } modes[SW_WALK_CLOCK_MODES];
} SwClockResult;

/* From one of its photos on the camera's clock goes otherwise: put right or wrong on site, a flat
 * battery, a change of season. */
typedef struct
{
  int camera;
  guint from;           /* index into SwWalk.photos */
  gboolean set;         /* by the person */
  gboolean drift_first; /* drift counts on the clock as it was before the step */
  double step_s;        /* against the shift before */
  SwClockResult clock;
} SwClockPart;

G_END_DECLS
