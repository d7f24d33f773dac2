/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Columns of a page, from the whole to the part (plan, items, item): as many side by side as the
 * width holds, the deepest that was opened always among them. Folds to one column beside a browser.
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_COLUMNS (sw_columns_get_type ())
G_DECLARE_FINAL_TYPE (SwColumns, sw_columns, SW, COLUMNS, GtkContainer)

/* Property "can-go-back": columns are folded away at the left. Children in order of
 * gtk_container_add. */

/* Least width and share of the rest of the child added as number i. */
void sw_columns_set_share (SwColumns *self, guint i, int least_width, int share);
/* How deep the person went: the column of that number (from 1) is seen; deeper ones only where
 * there is room to spare. */
void sw_columns_set_depth (SwColumns *self, guint depth);
guint sw_columns_get_depth (SwColumns *self);
gboolean sw_columns_get_can_go_back (SwColumns *self);
/* Closes the deepest column where one is folded away for it. */
void sw_columns_go_back (SwColumns *self);

G_END_DECLS
