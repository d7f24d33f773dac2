/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The interest that offers drew, as people bring it: a line typed for one offer, or a table copied
 * from an outlet's page. What is read is shown before it is taken. Trade layer. */
#pragma once

#include "core/base/money.h"
#include "core/catalogue/deals.h"

G_BEGIN_DECLS

/* "120 8 3 45.50": looks, followers, bids and the price so far, in that order; "-" or nothing at
 * the end: not known. 'at' stays unset. Error: BAD_INPUT. */
gboolean sw_interest_parse (const char *line, SwCurrency currency, SwNumberStyle style,
                            SwInterest *out_interest, GError **error);

/* A row of a pasted table, matched or not. */
typedef struct
{
  int line;      /* in the text, from 1 */
  char *own_ref; /* as it stands in the table */
  gint64 deal;   /* the running offer of that reference; 0: none, or several */
  char *items;   /* its items' names; NULL without a match */
  SwInterest interest;
  char *problem; /* why the row is not taken; NULL: it can be */
} SwInterestRow;
void sw_interest_row_free (SwInterestRow *row);

/* Columns by their headings, in any order, without case: reference (also ref, number, lot), looks
 * (seen, views), followers (following), bids, price (amount, bid so far); others are not read, and
 * *out_unread names those that have a heading, with commas between; NULL for none (may be NULL
 * itself, else transfer full). Rows are matched by the outlet's own reference, else by the ref.
 * GPtrArray of SwInterestRow in the table's order. BAD_INPUT where no heading names a reference or
 * none names a figure. */
GPtrArray *sw_interest_table_read (SwCatalogue *catalogue, const char *text, SwNumberStyle style,
                                   char **out_unread, GError **error);

typedef struct
{
  gint64 deal;
  SwInterest interest;
} SwDealInterest;
/* Books them as seen now, one act; by the rules of the money table. */
gboolean sw_interest_take (SwCatalogue *catalogue, const SwDealInterest *rows, gsize n,
                           GError **error);

G_END_DECLS
