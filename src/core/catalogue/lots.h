/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lots: a named group of items that are to be offered together. Records of the catalogue layer;
 * what a lot brings is split by core/trade. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* Puts the items together under that name: one act. Where some of them are in a lot of that name, the
 * others join it. REFUSED where an item is in another lot, has come to its end or is sold, or where
 * the lot to be joined is on offer; BAD_INPUT for fewer than two or a name without letters. *out_lot
 * (may be NULL): its number. */
gboolean sw_lot_make (SwCatalogue *catalogue, const char *name, const gint64 *items, gsize n,
                      gint64 *out_lot, GError **error);
/* The item leaves its lot; a lot of one is left to the last item. That it is in none is fine. */
gboolean sw_lot_leave (SwCatalogue *catalogue, gint64 item, GError **error);

G_END_DECLS
