/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pairing a trip of the catalogue: reads photos, notes, items and what was decided, runs the model,
 * stores what it proposes. Match layer. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/catalogue.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/proposals.h"
#include "core/intake/thumbs.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

/* From that photo on the camera's clock goes otherwise. */
typedef struct
{
  gint64 from_photo;
  gint64 from_us; /* property time of it, civil as if in UTC */
  double shift_s, step_s;
  gboolean set_by_person;
} SwPairingClockPart;

typedef struct
{
  gint64 camera; /* 0: photos that name no camera */
  char *label;
  gboolean known; /* FALSE: no evidence; shift 0, spread meaningless */
  double shift_s, spread_s;
  int evidence;
  gboolean set_by_person;
  double other_s, other_share; /* the next likely shift; share 0: none above 5% */
  SwClockCounts counts;        /* what the evidence is */
  gboolean beside;             /* goes with another camera, whose own clock nothing tells of */
  double drift_s_day;
  GArray *parts; /* SwPairingClockPart: where the clock changes within the trip */
  GArray *faces; /* SwClockFace: clocks that a person read in its pictures */
} SwPairingClock;

typedef struct
{
  int position;     /* the stop's number on the trip, from 1 */
  GArray *photos;   /* gint64 numbers, in time order */
  GPtrArray *files; /* char *, same order */
  char *place;      /* path, NULL where unknown */
  char *
      item; /* the item's name, the neutral name of a new one, NULL where a person said 'no item' */
  gint64 item_number; /* 0: none yet */
  gboolean is_new;
  double probability;
  SwBand band;
  char *reason;
  GPtrArray *also; /* char *: names of other items these photos show, known and proposed */
} SwPairingStop;

/* A code on a photo that was ignored, and why; or two cameras that cannot be told apart. */
typedef struct
{
  gint64 photo;
  char *file;
  char *text;
} SwPairingRemark;

typedef struct
{
  GPtrArray *clocks;  /* SwPairingClock, by camera number */
  GPtrArray *stops;   /* SwPairingStop, in time order; each photo of the trip in exactly one */
  GPtrArray *remarks; /* SwPairingRemark: of codes by photo, then of cameras */
  char *explanation;  /* several lines; only where asked for */
} SwPairing;
void sw_pairing_free (SwPairing *pairing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPairing, sw_pairing_free)

typedef struct
{
  SwThumbs *thumbs; /* to make missing likenesses first; NULL: go by those that are there */
  GCancellable *cancellable; /* for that part; may be NULL */
  gint64 explain;            /* a photo whose evidence is wanted, or 0 */
} SwPairingOptions;

/* Runs the model on the trip and stores clocks found and stops; what is stored so is nobody's act
 * and not for undo. Changes nothing that a person decided. A read-only catalogue is read and
 * nothing stored. options may be NULL. A trip without photos gives no stops. Errors: NOT_FOUND
 * (trip, photo to explain), those of the database. Transfer full. */
SwPairing *sw_pairing_run (SwCatalogue *catalogue, gint64 trip, const SwPairingOptions *options,
                           GError **error);

/* The same in three steps, so that the thinking need not hold up the catalogue thread: read there,
 * think on any thread, store there again. */
typedef struct _SwPairingDraft SwPairingDraft;
void sw_pairing_draft_free (SwPairingDraft *draft);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPairingDraft, sw_pairing_draft_free)
/* Errors: NOT_FOUND (the trip), those of the database. Transfer full. */
SwPairingDraft *sw_pairing_draft_new (SwCatalogue *catalogue, gint64 trip, GError **error);
/* Once. Touches no catalogue. */
void sw_pairing_draft_think (SwPairingDraft *draft);
/* What a stop shows next likeliest, where it is an item and has at least a twentieth of the chance.
 */
typedef struct
{
  gint64 stop, item; /* the stop's first photo; the item's number */
  char *name;        /* of the item */
} SwPairingOther;
void sw_pairing_other_free (SwPairingOther *other);
/* Of the stops thought out that nobody decided: gint64 stop -> SwPairingOther. Transfer full. */
GHashTable *sw_pairing_draft_others (const SwPairingDraft *draft);
/* *out_stored FALSE: an act was made meanwhile, so that the draft is out of date and was left; or
 * the catalogue is read-only. */
gboolean sw_pairing_draft_store (SwPairingDraft *draft, SwCatalogue *catalogue,
                                 gboolean *out_stored, GError **error);

/* The N of the neutral names "thing N" and "thing N in Loft", 0 for another name. */
int sw_neutral_number (const char *name);

/* A person sets the camera's clock shift on the trip, from its photo 'from' on (0: all of them), or
 * (shift_s NULL) leaves it to the machine again, which then pairs anew. camera: label or number.
 * Proposals are not made again by setting: run the pairing after it. */
gboolean sw_clock_set (SwCatalogue *catalogue, const char *camera, gint64 trip, gint64 from,
                       const double *shift_s, GError **error);
/* A person reads a clock in one of the camera's pictures: property time as "14:05", "14:05:30" or
 * with its day "2026-04-03T14:05:30"; "none" forgets it. Pairs anew. BAD_INPUT for another text,
 * NOT_FOUND for a photo that is not one of the camera's on the trip. */
gboolean sw_clock_see (SwCatalogue *catalogue, const char *camera, gint64 trip, gint64 photo,
                       const char *time, GError **error);
/* Where new things go whose place nothing tells. */
#define SW_PLACE_UNKNOWN N_ ("Unplaced")

G_END_DECLS
