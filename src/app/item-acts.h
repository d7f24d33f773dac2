/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts on items as the window sends them: each packs its arguments and goes to the catalogue
 * thread. What may be done and how it is said is core's business; the answer comes with the store's
 * "told". */
#pragma once

#include "app/store.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* One field of an item. revision: what the person saw. */
void sw_act_item_name (SwStore *store, gint64 item, gint64 revision, const char *name);
void sw_act_item_count (SwStore *store, gint64 item, gint64 revision, gint64 count);
/* asking NULL: no price any more. */
void sw_act_item_asking (SwStore *store, gint64 item, gint64 revision, const SwMoney *asking);
void sw_act_item_place (SwStore *store, gint64 item, gint64 revision, gint64 place);
/* photo 0: as proposed again; revision 0: whatever it is. */
void sw_act_item_cover (SwStore *store, gint64 item, gint64 revision, gint64 photo);

/* Quarter turns clockwise of a photo, as it is shown. */
void sw_act_photo_turn (SwStore *store, gint64 photo, int quarters);

/* A step; count 0: all. until_text ("YYYY-MM-DD") and hold_for only for On hold, else NULL. */
void sw_act_item_move (SwStore *store, gint64 item, SwState to, gint64 count,
                       const char *until_text, const char *hold_for);
/* Sold for cash or through an outlet without an offer, as a row of the money table. outlet, buyer:
 * "" for none. */
void sw_act_item_sold (SwStore *store, gint64 item, gint64 count, SwMoney amount,
                       const char *outlet, const char *buyer);

/* The box of a place; those drawn inside it move along. */
void sw_act_place_box (SwStore *store, gint64 place, int x, int y, int w, int h);

G_END_DECLS
