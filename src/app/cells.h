/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a drawn widget tells of its cells, so that one accessible side serves all of them
 * (cells-accessible.c). A cell is a row of a list or a box of the plan: selectable, activatable,
 * with a sentence as its name. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_CELLS (sw_cells_get_type ())
G_DECLARE_INTERFACE (SwCells, sw_cells, SW, CELLS, GtkWidget)

struct _SwCellsInterface
{
  GTypeInterface parent;
  int (*count) (SwCells *self);
  /* What a screen reader says; transfer full. */
  char *(*name) (SwCells *self, int i);
  /* In widget coordinates, also when scrolled out of view. */
  void (*extents) (SwCells *self, int i, GdkRectangle *out_area);
  /* The chosen cell, -1 for none. */
  int (*selected) (SwCells *self);
  /* Chooses the cell (-1: none) and brings it into view. */
  void (*select) (SwCells *self, int i);
  void (*activate) (SwCells *self, int i);
};

/* Calls of the interface above. */
int sw_cells_count (SwCells *self);
char *sw_cells_name (SwCells *self, int i);
void sw_cells_extents (SwCells *self, int i, GdkRectangle *out_area);
int sw_cells_selected (SwCells *self);
void sw_cells_select (SwCells *self, int i);
void sw_cells_activate (SwCells *self, int i);
/* The cell under a point of the widget, -1 for none. Later cells lie on top. */
int sw_cells_at (SwCells *self, int x, int y);

G_END_DECLS
