/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The interface of drawn widgets with cells. Dispatch only; draws nothing and holds nothing. */
#include "app/cells.h"

G_DEFINE_INTERFACE (SwCells, sw_cells, GTK_TYPE_WIDGET)

static void
sw_cells_default_init (SwCellsInterface *iface)
{
}

int
sw_cells_count (SwCells *self)
{
  return SW_CELLS_GET_IFACE (self)->count (self);
}

char *
sw_cells_name (SwCells *self, int i)
{
  return SW_CELLS_GET_IFACE (self)->name (self, i);
}

void
sw_cells_extents (SwCells *self, int i, GdkRectangle *out_area)
{
  SW_CELLS_GET_IFACE (self)->extents (self, i, out_area);
}

int
sw_cells_selected (SwCells *self)
{
  return SW_CELLS_GET_IFACE (self)->selected (self);
}

void
sw_cells_select (SwCells *self, int i)
{
  SW_CELLS_GET_IFACE (self)->select (self, i);
}

void
sw_cells_activate (SwCells *self, int i)
{
  SW_CELLS_GET_IFACE (self)->activate (self, i);
}

int
sw_cells_at (SwCells *self, int x, int y)
{
  for (int i = sw_cells_count (self) - 1; i >= 0; i--)
    {
      GdkRectangle area;
      sw_cells_extents (self, i, &area);
      if (x >= area.x && x < area.x + area.width && y >= area.y && y < area.y + area.height)
        return i;
    }
  return -1;
}
