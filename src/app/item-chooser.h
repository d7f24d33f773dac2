/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A popover to name an item by typing part of its name: for giving photos to it, or joining it. Enter
 * takes what fits all that was typed, however quickly it came. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ITEM_CHOOSER (sw_item_chooser_get_type ())
G_DECLARE_FINAL_TYPE (SwItemChooser, sw_item_chooser, SW, ITEM_CHOOSER, GtkPopover)

/* Signal "chosen" (gint64 item number). Closes by itself then. */
GtkWidget *sw_item_chooser_new (GtkWidget *relative_to, SwStore *store, SwPictures *pictures);
/* Empties the search and opens. likely: items to list first (gint64, copied; NULL for none), before
 * those of that place and all others. leave_out: the one that is no answer; 0: all are. */
void sw_item_chooser_ask (SwItemChooser *self, const GArray *likely, gint64 place,
                          gint64 leave_out);

G_END_DECLS
