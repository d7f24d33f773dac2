/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines of a trip's sheet as they were numbered when it was written, what was ticked of each,
 * and the cash counted. Records of the catalogue layer; what a tick does to the thing is
 * core/trip's. */
#pragma once

#include "core/base/money.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* A line names its subject and no more, so that no buyer's name is kept a second time. */
typedef struct
{
  int number;       /* 1, 2, 3 */
  const char *part; /* "hand over", "load", "scrap", "job", "look" or "ask"; static */
  gint64 subject;   /* deal, item, item, job, place, question */
  gint64 item;      /* 0: none */
  gint64 pieces;    /* of its count that were meant; 0: it has none */
  const char *tick; /* "handed over", "brought home", "scrapped", "done", "not found"; NULL: none;
                     * static */
  gboolean broken;
  SwMoney due, taken; /* of the sale, when it was handed over */
} SwTripLineRow;

/* These are the lines of the trip's sheet from now on, with what is ticked of them; earlier ones
 * go. An act. NOT_FOUND (the trip). */
gboolean sw_trip_lines_keep (SwCatalogue *catalogue, gint64 trip, const SwTripLineRow *rows,
                             gsize n, GError **error);
/* GArray of SwTripLineRow by number; empty where no sheet was kept. Transfer full. */
GArray *sw_trip_lines_list (SwCatalogue *catalogue, gint64 trip, GError **error);
/* Keeps tick, broken, due and taken of the line with row->number. Part of a larger act: it tells
 * nothing by itself. NOT_FOUND. */
gboolean sw_trip_line_set (SwCatalogue *catalogue, gint64 trip, const SwTripLineRow *row,
                           GError **error);

/* What lay in the cash box after the trip. An act. BAD_INPUT below zero; NOT_FOUND (the trip). */
gboolean sw_trip_cash_set (SwCatalogue *catalogue, gint64 trip, SwMoney counted, GError **error);
gboolean sw_trip_cash_get (SwCatalogue *catalogue, gint64 trip, gboolean *out_found,
                           SwMoney *out_counted, GError **error);

G_END_DECLS
