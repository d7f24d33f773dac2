/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the list of items is narrowed to: a button with a popover to choose, and a row of buttons
 * that each take one narrowing off. */
#pragma once

#include <gtk/gtk.h>

#include "app/item-rows.h"

G_BEGIN_DECLS

#define SW_TYPE_ITEM_FILTER (sw_item_filter_get_type ())
G_DECLARE_FINAL_TYPE (SwItemFilterBox, sw_item_filter, SW, ITEM_FILTER, GtkBox)

/* Signal "changed" (). */

/* Once, before anything is shown. */
void sw_item_filter_set_store (SwItemFilterBox *self, SwStore *store);
/* Its button, for the row the page has for it; owned by whoever adds it. Transfer floating. */
GtkWidget *sw_item_filter_button (SwItemFilterBox *self);
/* The trips to choose from are those of the store's overview. */
void sw_item_filter_fill (SwItemFilterBox *self);
/* Puts what was chosen into the query. */
void sw_item_filter_apply (SwItemFilterBox *self, SwItemQuery *query);
/* TRUE while anything is chosen. */
gboolean sw_item_filter_is_set (SwItemFilterBox *self);

G_END_DECLS
