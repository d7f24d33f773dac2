/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts on items as the window sends them: each packs its arguments and goes to the catalogue
 * thread. What may be done and how it is said is core's business; the answer comes with the store's
 * "told". */
#pragma once

#include "app/store.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* One field of an item. revision: what the person saw. owner and done as in sw_store_act. */
void sw_act_item_name (SwStore *store, gint64 item, gint64 revision, const char *name,
                       GObject *owner, SwActDone done);
void sw_act_item_count (SwStore *store, gint64 item, gint64 revision, gint64 count, GObject *owner,
                        SwActDone done);
/* asking NULL: no price any more. */
void sw_act_item_asking (SwStore *store, gint64 item, gint64 revision, const SwMoney *asking,
                         GObject *owner, SwActDone done);
void sw_act_item_place (SwStore *store, gint64 item, gint64 revision, gint64 place, GObject *owner,
                        SwActDone done);
/* photo 0: as proposed again; revision 0: whatever it is. */
void sw_act_item_cover (SwStore *store, gint64 item, gint64 revision, gint64 photo);

/* Its place among the item's photos, from 1. */
void sw_act_item_photo_move (SwStore *store, gint64 item, gint64 photo, gint64 to);
/* Quarter turns clockwise of a photo, as it is shown. */
void sw_act_photo_turn (SwStore *store, gint64 photo, int quarters);

/* Marks it never to be offered before it is cleared, or clears it. */
void sw_act_item_never_offer (SwStore *store, gint64 item, gboolean never);
/* The second item becomes part of the first. */
void sw_act_item_join (SwStore *store, gint64 item, gint64 other);
void sw_act_item_leave_lot (SwStore *store, gint64 item);
/* The photo shows another thing, or one of the count: it goes to an item of its own. */
void sw_act_item_split_photo (SwStore *store, gint64 item, gint64 photo);
void sw_act_job_done (SwStore *store, gint64 job, gboolean done);
void sw_act_job_withdraw (SwStore *store, gint64 job);

/* A step; count 0: all. until_text (as sw_typed_day reads it) and hold_for only for On hold, else NULL. */
void sw_act_item_move (SwStore *store, gint64 item, SwState to, gint64 count,
                       const char *until_text, const char *hold_for);
/* Sold for cash or through an outlet without an offer, as a row of the money table. outlet, buyer:
 * "" for none. */
void sw_act_item_sold (SwStore *store, gint64 item, gint64 count, SwMoney amount,
                       const char *outlet, const char *buyer);

G_END_DECLS
