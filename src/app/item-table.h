/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items as a table with sortable columns; several rows may be chosen. Rows are recycled by the tree
 * view (fixed height); their text is made when it is drawn. */
#pragma once

#include <gtk/gtk.h>

#include "app/item-rows.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ITEM_TABLE (sw_item_table_get_type ())
G_DECLARE_FINAL_TYPE (SwItemTable, sw_item_table, SW, ITEM_TABLE, GtkTreeView)

/* Signals: "chosen" (): other rows are chosen; "order" (int SwItemOrder, gboolean descending): a
 * column's head was pressed; GtkTreeView's "row-activated" opens. */

/* The rows in their order; what was chosen stays chosen by number. */
void sw_item_table_show (SwItemTable *self, SwStore *store, SwItemList *list, SwItemOrder order,
                         gboolean descending);
/* These rows of the list that is shown were read and say something else now. */
void sw_item_table_told (SwItemTable *self, guint first, guint n);
/* Numbers of the chosen items: GArray of gint64, transfer full. */
GArray *sw_item_table_chosen (SwItemTable *self);
/* The item of a row, 0 for none. */
gint64 sw_item_table_item_at (SwItemTable *self, GtkTreePath *path);

G_END_DECLS
