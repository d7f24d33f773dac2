/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lots: a named group of items that are to be offered together. Records of the catalogue layer;
 * what a lot brings is split by core/trade. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id;
  char *name;
  gint64 n_items;
} SwLot;
void sw_lot_free (SwLot *lot);

/* Puts the items together under that name: one act. REFUSED where an item is in another lot, has
 * come to its end or is sold; BAD_INPUT for fewer than two or a name without letters. */
gboolean sw_lot_make (SwCatalogue *catalogue, const char *name, const gint64 *items, gsize n,
                      gint64 *out_lot, GError **error);
/* One more item; that it is in the lot already is fine. */
gboolean sw_lot_add (SwCatalogue *catalogue, gint64 lot, gint64 item, GError **error);
/* The item leaves its lot; a lot of one is left to the last item. That it is in none is fine. */
gboolean sw_lot_leave (SwCatalogue *catalogue, gint64 item, GError **error);
/* Lots that have items: GPtrArray of SwLot by name, as the locale sorts; transfer full. */
GPtrArray *sw_lot_list (SwCatalogue *catalogue, GError **error);

G_END_DECLS
