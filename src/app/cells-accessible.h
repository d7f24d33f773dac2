/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The accessible side of a widget that draws cells: a list whose children are made on demand. */
#pragma once

#include <gtk/gtk-a11y.h>
#include <gtk/gtk.h>

#include "app/cells.h"

G_BEGIN_DECLS

#define SW_TYPE_CELLS_ACCESSIBLE (sw_cells_accessible_get_type ())
G_DECLARE_FINAL_TYPE (SwCellsAccessible, sw_cells_accessible, SW, CELLS_ACCESSIBLE,
                      GtkWidgetAccessible)

#define SW_TYPE_CELL_ACCESSIBLE (sw_cell_accessible_get_type ())
G_DECLARE_FINAL_TYPE (SwCellAccessible, sw_cell_accessible, SW, CELL_ACCESSIBLE, AtkObject)

/* Called by the widget. All cells are others now: children held by a reader become defunct. */
void sw_cells_accessible_reset (GtkWidget *widget);
/* These cells have another name now: tells readers that hold one. */
void sw_cells_accessible_told (GtkWidget *widget, int first, int n);
/* Another cell is chosen (or focus came in): tells readers which. */
void sw_cells_accessible_selected (GtkWidget *widget);

G_END_DECLS
