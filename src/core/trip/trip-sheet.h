/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is to do on a trip, as numbered lines to tick: hand-overs, what to load, the scrap run, jobs
 * place by place, places not walked, and what to ask whom. The window shows it, paper prints it.
 * Trip layer; read only. */
#pragma once

#include <gio/gio.h>

#include "core/base/language.h"
#include "core/catalogue/trips.h"
#include "core/trade/scrap-pile.h"
#include "core/trip/last-day.h"
#include "core/trip/load-sheet.h"
#include "core/trip/packing.h"
#include "core/trip/walk.h"

G_BEGIN_DECLS

/* X (tag, word in the database, heading). In this order. */
#define SW_TRIP_PARTS(X)                                                                           \
  X (HAND_OVER, N_ ("hand over"), N_ ("Hand-overs"))                                               \
  X (LOAD, "load", N_ ("To load"))                                                                 \
  X (SCRAP, "scrap", N_ ("Scrap run"))                                                             \
  X (JOB, "job", N_ ("Jobs"))                                                                      \
  X (LOOK, "look", N_ ("Not walked yet"))                                                          \
  X (ASK, "ask", N_ ("To ask"))
#define SW_TRIP_PART_AS_ENUM(tag, word, heading) SW_TRIP_##tag,
typedef enum
{
  SW_TRIP_PARTS (SW_TRIP_PART_AS_ENUM) SW_N_TRIP_PARTS
} SwTripPart;
/* Static. */
const char *sw_trip_part_heading (SwTripPart part);
const char *sw_trip_part_word (SwTripPart part);

typedef struct
{
  int number; /* 1, 2, 3 over all parts: what is ticked by number */
  SwTripPart part;
  gint64 subject; /* deal (hand-over), item (load, scrap), job, place or question */
  gint64 item;    /* 0: none */
  gint64 pieces;  /* of the item, that are meant; 0: no item, or all */
  char *what;     /* the thing or place */
  gint64 at;      /* the place to go to; 0: none, or nobody knows */
  char *place;    /* where it stands; NULL: said already, or nowhere */
  char *detail;   /* what there is to know: who, how much, with what; NULL: nothing */
  char *caution;  /* NULL: none */
} SwTripLine;

typedef struct
{
  SwTrip *trip;
  GPtrArray *lines; /* SwTripLine by number */
  GPtrArray *held;  /* SwItem On hold, see held.h */
  SwDay today;
  SwLoadSheet *load;
  SwScrapPile pile; /* what is marked for scrap, class by class */
  SwLastDay *last;  /* as seen today */
  SwWalk *walk;     /* past the buildings where there is something to do */
  SwPacking *pack;  /* what the jobs need */
  SwMoney due;      /* of all hand-overs */
} SwTripSheet;
void sw_trip_sheet_free (SwTripSheet *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwTripSheet, sw_trip_sheet_free)

/* Jobs and places stand in the order of the walk. Errors: as sw_load_sheet. */
SwTripSheet *sw_trip_sheet (SwCatalogue *catalogue, gint64 trip, int milliseconds,
                            GCancellable *cancellable, GError **error);

G_END_DECLS
