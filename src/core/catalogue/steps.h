/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of an item from state to state: the rules around the table of states.h. Catalogue layer. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 count;       /* 0: the whole count; below it the part splits off with its own number */
  const SwDay *day;   /* NULL: today in the catalogue's zone */
  const SwDay *until; /* On hold: until when, for whom (both needed) */
  const char *hold_for;
  gboolean by_books; /* the step is told by the money table: On offer, Sold, No sale, Handed over,
                      * Scrapped are allowed, and blocks are passed on as *out_remark instead of
                      * refused */
} SwStepOptions;

/* Takes the step; options NULL: the whole count, today. To the state it is in already: nothing
 * happens (On hold takes the new hold; by the books it is refused). *out_number (may be NULL): the
 * item that took it (the part's number after a split). *out_remark (may be NULL, transfer full or
 * NULL): what by_books let pass. Errors: REFUSED with a sentence saying what is possible. */
gboolean sw_item_move (SwCatalogue *catalogue, gint64 number, SwState to,
                       const SwStepOptions *options, gint64 *out_number, char **out_remark,
                       GError **error);

/* Splits 'count' (0 < count < item's) off: its own number, the same photos and facts, a link to its
 * origin; asking and mass in proportion (largest remainder, ties to the origin). */
gboolean sw_item_split (SwCatalogue *catalogue, gint64 number, gint64 count, gint64 *out_number,
                        GError **error);

/* By the books: takes 'target' by the shortest legal way through the table of states, the steps in
 * between by themselves on the same day (Found to Ready to On offer, asking price or not). In
 * between only what a told fact implies: Ready (and Found for something missing that turned up), On
 * offer before No sale, Sold before Handed over, For scrap before Scrapped, No sale between Sold
 * and Missing. A sold thing is never put up, scrapped or sold again that way: its sale must fall
 * through first. Already there: On offer and No sale stay, On hold takes the new hold, all others
 * are REFUSED. options->by_books is taken as TRUE, options may be NULL. Out pointers as in
 * sw_item_move; *out_remark joins the remarks of all steps. */
gboolean sw_item_walk_to (SwCatalogue *catalogue, gint64 number, SwState target,
                          const SwStepOptions *options, gint64 *out_number, char **out_remark,
                          GError **error);

/* Why the item may not take the step now: NULL if it may; transfer full. What the window greys out
 * and says. by_person: as sw_item_move without by_books judges; FALSE: as the window's booking
 * does, where On offer, Sold and the like are allowed. */
char *sw_item_why_not (SwCatalogue *catalogue, const SwItem *item, SwState to, gboolean by_person);

G_END_DECLS
