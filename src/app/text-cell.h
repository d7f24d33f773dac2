/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A text cell of a long table: one line, cut at its end. What was laid out is kept, so that a frame
 * of scrolling lays out only the rows that came into view. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_TEXT_CELL (sw_text_cell_get_type ())
G_DECLARE_FINAL_TYPE (SwTextCell, sw_text_cell, SW, TEXT_CELL, GtkCellRendererText)

/* Transfer floating. */
GtkCellRenderer *sw_text_cell_new (void);

G_END_DECLS
