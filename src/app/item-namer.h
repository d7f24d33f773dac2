/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A popover that asks a new item's name: completed from the trades' words and from the names that
 * the catalogue has, or left for later. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ITEM_NAMER (sw_item_namer_get_type ())
G_DECLARE_FINAL_TYPE (SwItemNamer, sw_item_namer, SW, ITEM_NAMER, GtkPopover)

/* Signal "named" (const char *name, "" for later). Closes by itself then. */
GtkWidget *sw_item_namer_new (GtkWidget *relative_to, SwStore *store);
/* Empties the entry and opens; place: where the new item is put, NULL for unknown. */
void sw_item_namer_ask (SwItemNamer *self, const char *place);

G_END_DECLS
