/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person decides of a trip's stops: accepted, cut, joined, given to an item, of no item. Match layer; the one set of functions
 * behind the window and the commands. Each is one act, changes the stored stops at once as far as it can be seen without thinking, and
 * leaves proposing the rest to the pairing. Stops are named by their key, the number of their first photo. Photos are those of the trip.
 * Common errors: NOT_FOUND (the trip has no such stop any more: it was sorted anew meanwhile), those of an act. */
#pragma once

#include "core/base/money.h"
#include "core/catalogue/catalogue.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

/* Makes stored proposals of that band hold: new things become items with their neutral names, photos that nobody decided go to their
 * items. *out_stops (may be NULL): how many stops were accepted now. */
gboolean sw_sorting_accept_band (SwCatalogue *catalogue, gint64 trip, SwBand band, int *out_stops,
                                 GError **error);
/* The same for one stop, whose ends hold from then on. *out_item (may be NULL): the item, 0 for none. */
gboolean sw_sorting_accept (SwCatalogue *catalogue, gint64 trip, gint64 stop, gint64 *out_item,
                            GError **error);

/* A stop begins with that photo. REFUSED where one does already. */
gboolean sw_sorting_cut (SwCatalogue *catalogue, gint64 trip, gint64 photo, GError **error);
/* The stop goes on the one before it. Where one of the two is decided, so is the other then; where both are, the earlier one's holds.
 * REFUSED for the first stop. */
gboolean sw_sorting_join (SwCatalogue *catalogue, gint64 trip, gint64 stop, GError **error);
/* Photos of one stop become a stop of their own, whose ends hold (photos before and after them stay together apart). */
gboolean sw_sorting_set_apart (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n,
                               GError **error);
/* Photos go to another stop. Neighbours that nobody decided are joined and stay open; else the photos get what that stop shows, which
 * is accepted with it. */
gboolean sw_sorting_move (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n,
                          gint64 stop, GError **error);

/* The photos show that item. Where they are whole stops, their ends hold; where they are a part of one, it is cut there. */
gboolean sw_sorting_give (SwCatalogue *catalogue, gint64 trip, gint64 item, const gint64 *photos,
                          gsize n, GError **error);
/* They show one more of the item: its count goes up by one. */
gboolean sw_sorting_give_another (SwCatalogue *catalogue, gint64 trip, gint64 item,
                                  const gint64 *photos, gsize n, GError **error);
/* They show a new item. name NULL or blank: a neutral one, to be named later. place 0: of the stop, else SW_PLACE_UNKNOWN. *out_item
 * (may be NULL): its number. BAD_INPUT for a name that cannot be one. */
gboolean sw_sorting_give_new (SwCatalogue *catalogue, gint64 trip, const char *name, gint64 place,
                              const gint64 *photos, gsize n, gint64 *out_item, GError **error);
/* They show no item: kind is building, paper, receipt, mistake, or "" for none of these. The stop they were taken in goes on around them. */
gboolean sw_sorting_no_item (SwCatalogue *catalogue, gint64 trip, const char *kind,
                             const gint64 *photos, gsize n, GError **error);
/* They show a receipt, and its cost is entered with them: see sw_receipt_enter for the amount, the remark and the errors. */
gboolean sw_sorting_receipt (SwCatalogue *catalogue, gint64 trip, const gint64 *photos, gsize n,
                             SwMoney amount, const char *remark, GError **error);

G_END_DECLS
