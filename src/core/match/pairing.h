/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pairing a trip of the catalogue: reads photos, notes, items and what was decided, runs the model,
 * stores what it proposes. Match layer. */
#pragma once

#include "core/catalogue/catalogue.h"
#include "core/catalogue/proposals.h"
#include "core/intake/thumbs.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 camera; /* 0: photos that name no camera */
  char *label;
  gboolean known; /* FALSE: no evidence; shift 0, spread meaningless */
  double shift_s, spread_s;
  int evidence;
  gboolean set_by_person;
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
  GPtrArray *also; /* char *: names of other items these photos are known to show */
} SwPairingStop;

/* A code on a photo that was ignored, and why. */
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
  GPtrArray *remarks; /* SwPairingRemark, by photo */
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

/* Runs the model on the trip and stores clocks found and stops, as one act (none where nothing
 * changed). Changes nothing that a person decided. A read-only catalogue is read and nothing
 * stored. options may be NULL. A trip without photos gives no stops. Errors: NOT_FOUND (trip, photo
 * to explain), those of the database. Transfer full. */
SwPairing *sw_pairing_run (SwCatalogue *catalogue, gint64 trip, const SwPairingOptions *options,
                           GError **error);

/* Makes stored proposals of that band hold: new things become items with their neutral names,
 * photos that nobody decided go to their items. One act. *out_stops: how many stops were accepted
 * now (may be NULL). */
gboolean sw_pairing_accept (SwCatalogue *catalogue, gint64 trip, SwBand band, int *out_stops,
                            GError **error);
/* The same for one stop by its number. NOT_FOUND where it is not stored. *out_item: the item (0 for
 * none). */
gboolean sw_pairing_accept_stop (SwCatalogue *catalogue, gint64 trip, int position,
                                 gint64 *out_item, GError **error);

/* A person sets the camera's clock shift on the trip, or (shift_s NULL) leaves it to the machine
 * again, which then pairs anew. camera: label or number. Proposals are not made again by setting:
 * run the pairing after it. */
gboolean sw_clock_set (SwCatalogue *catalogue, const char *camera, gint64 trip,
                       const double *shift_s, GError **error);

/* Where new things go whose place nothing tells. */
#define SW_PLACE_UNKNOWN "Unplaced"

G_END_DECLS
