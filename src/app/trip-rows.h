/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of the page Next trip: parts, their lines, what stays, what to weigh, scrap by class. */
#pragma once

#include <gtk/gtk.h>

#include "core/trip/trip-sheet.h"

G_BEGIN_DECLS

enum
{
  SW_TRIP_COLUMN_NUMBER,
  SW_TRIP_COLUMN_WHAT,
  SW_TRIP_COLUMN_DETAIL,
  SW_TRIP_COLUMN_WHERE,
  SW_TRIP_COLUMN_LINE,   /* SwTripLine, of the sheet; NULL: a part, or what has no line */
  SW_TRIP_COLUMN_THING,  /* SwLoadThing, of the sheet; NULL: none */
  SW_TRIP_COLUMN_WORDS,  /* what is said of a row that has neither; NULL: nothing */
  SW_TRIP_COLUMN_WEIGHT, /* of the letters */
  SW_TRIP_N_COLUMNS
};

/* Gives the table its columns and an empty GtkTreeStore. */
void sw_trip_rows_set_up (GtkTreeView *table);
/* The rows point into the sheet: it must last as long as they do. */
void sw_trip_rows_fill (GtkTreeStore *rows, const SwTripSheet *sheet, SwCurrency currency);

/* A candidate that is not in the load, and why. Static. */
gboolean sw_trip_thing_stays (const SwTripSheet *sheet, const SwLoadThing *thing);
const char *sw_trip_stays_words (const SwLoadThing *thing);

G_END_DECLS
