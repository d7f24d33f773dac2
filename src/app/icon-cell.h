/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A cell of a table with a symbolic icon, loaded once and kept: GTK's own cell looks it up in the
 * theme each time it is drawn. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_ICON_CELL (sw_icon_cell_get_type ())
G_DECLARE_FINAL_TYPE (SwIconCell, sw_icon_cell, SW, ICON_CELL, GtkCellRenderer)

/* Transfer floating. */
GtkCellRenderer *sw_icon_cell_new (void);
/* The icon that the next rendering shows; a string that stays, NULL for none. */
void sw_icon_cell_set_icon (SwIconCell *self, const char *name);

G_END_DECLS
