/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A cell of a table that draws money as a bar: the whole length is the proceeds, its solid part
 * what is left after fees. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_BAR_CELL (sw_bar_cell_get_type ())
G_DECLARE_FINAL_TYPE (SwBarCell, sw_bar_cell, SW, BAR_CELL, GtkCellRenderer)

/* Properties "whole" and "solid": 0 to 1 of the cell's width. */
GtkCellRenderer *sw_bar_cell_new (void);

G_END_DECLS
