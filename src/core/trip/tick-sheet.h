/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trip's sheet back home: its lines as they were numbered, what may be ticked of each, what was,
 * and the cash against what was due. Trip layer; read only. The ticks themselves are ticks.h. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/trip-lines.h"
#include "core/trip/trip-sheet.h"

G_BEGIN_DECLS

/* X (tag, word in database and window). BROKEN says what is wrong and settles nothing. */
#define SW_TICKS(X)                                                                                \
  X (HANDED_OVER, N_ ("handed over"))                                                              \
  X (LOADED, N_ ("brought home"))                                                                  \
  X (SCRAPPED, N_ ("scrapped"))                                                                    \
  X (DONE, N_ ("done"))                                                                            \
  X (NOT_FOUND, N_ ("not found"))                                                                  \
  X (BROKEN, N_ ("broken"))
#define SW_TICK_AS_ENUM(tag, word) SW_TICK_##tag,
typedef enum
{
  SW_TICKS (SW_TICK_AS_ENUM) SW_N_TICKS
} SwTick;
const char *sw_tick_word (SwTick tick);
/* By word, without case, hyphens as blanks. BAD_INPUT with the words there are. */
gboolean sw_tick_parse (const char *word, SwTick *out_tick, GError **error);

typedef struct
{
  SwTripLineRow row; /* number, subject, what was ticked; due: of a sale, as it is owed now until it
                      * is ticked */
  SwTripPart part;
  guint may;   /* bits of 1 << SwTick */
  char *what;  /* the thing or place */
  char *place; /* where it stands; NULL: nowhere */
  char *who;   /* buyer, kind of job, person asked: what else there is to know; NULL: nothing */
  char *state; /* of the thing, its word; NULL: no thing */
  gboolean settled; /* ticked, or seen to otherwise */
} SwTickLine;

typedef struct
{
  SwTrip *trip;
  gboolean kept;      /* the lines are those of the sheet that was written; else of today */
  GPtrArray *lines;   /* SwTickLine by number */
  guint open;         /* lines that are not settled */
  SwMoney due, taken; /* of the lines ticked as handed over; taken: less what of it was given back
                         out of the cash box */
  gboolean has_counted;
  SwMoney counted; /* the cash box */
  guint dockets;   /* lines ticked as scrapped whose thing waits for its docket */
} SwTickSheet;
void sw_tick_sheet_free (SwTickSheet *sheet);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwTickSheet, sw_tick_sheet_free)

/* At most so many milliseconds plan the load, where no sheet was kept. Errors: as sw_trip_sheet. */
SwTickSheet *sw_tick_sheet (SwCatalogue *catalogue, gint64 trip, int milliseconds,
                            GCancellable *cancellable, GError **error);

/* The trip to tick: of those begun by that day the latest; 0: none began yet. */
gboolean sw_tick_trip (SwCatalogue *catalogue, SwDay day, gint64 *out_trip, GError **error);

/* The sheet's lines as rows to keep. GArray of SwTripLineRow, transfer full. */
GArray *sw_trip_sheet_rows (const SwTripSheet *sheet);
/* What was ticked of the trip's earlier sheet (GArrays of SwTripLineRow) goes into the rows of the
 * new one: 'scrapped' and 'broken' where the line comes again; what else was ticked stands after
 * the new lines, with numbers that follow theirs, so that neither a tick nor its cash is lost. */
void sw_trip_rows_carry_over (GArray *rows, const GArray *earlier);

G_END_DECLS
