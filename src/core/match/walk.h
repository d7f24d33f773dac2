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
  int cut; /* what a person said of the gap before it: -1 one stop goes on, 1 a stop begins, 0
              nothing */
  int place;     /* where a person or a card put it, or -1 */
  guint card;    /* the photo of the card that 'place' comes from, as its index + 1; 0: no card */
  gboolean is_card; /* is itself the photo of a card: it shows no thing, and is a stop of its own */
  int tag;          /* number of the tag it shows; 0: none */
  int bearer;       /* the item that bears this tag, as its index + 1; 0: none yet */
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

typedef struct
{
  gboolean fixed; /* the person set the shift: it wins over all evidence */
  double shift_s; /* read when fixed */
  /* Photos that name no camera (stripped on the way): no clock of their own, they go by the one
   * with most photos. */
  gboolean nameless;
} SwWalkCamera;

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
} SwWalk;

typedef enum
{
  SW_BAND_SURE,
  SW_BAND_DOUBTFUL,
  SW_BAND_UNKNOWN,
} SwBand;

/* "sure", "doubtful", "unknown". Transfer none. */
const char *sw_band_word (SwBand band);

/* What is known of one camera's clock: add shift_s to its time to get property time. */
typedef struct
{
  double shift_s;
  double spread_s;    /* standard deviation, over all modes; meaningless where !known */
  int evidence;       /* notes and decided photos that speak for this shift */
  gboolean known;     /* FALSE: no evidence, shift_s is 0 */
  double other_s;     /* the next best shift, where its share is above 5% */
  double other_share; /* 0 to 1 */
} SwClockResult;

G_END_DECLS
