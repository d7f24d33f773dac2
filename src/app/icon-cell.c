/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws a kept icon in the colour of its row. */
#include "app/icon-cell.h"

#include "app/widgets.h"

#define PAD 4

struct _SwIconCell
{
  GtkCellRenderer parent;
  const char *name;
};

G_DEFINE_TYPE (SwIconCell, sw_icon_cell, GTK_TYPE_CELL_RENDERER)

static void
sw_icon_cell_render (GtkCellRenderer *cell, cairo_t *cr, GtkWidget *widget,
                     const GdkRectangle *background, const GdkRectangle *area,
                     GtkCellRendererState state)
{
  SwIconCell *self = SW_ICON_CELL (cell);

  if (self->name != NULL)
    sw_draw_icon (widget, cr, self->name, area->x + (area->width - SW_ICON_SIDE) / 2,
                  area->y + (area->height - SW_ICON_SIDE) / 2);
}

static void
sw_icon_cell_preferred (GtkCellRenderer *cell, GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = *natural = SW_ICON_SIDE + 2 * PAD;
}

static void
sw_icon_cell_class_init (SwIconCellClass *klass)
{
  GtkCellRendererClass *cell = GTK_CELL_RENDERER_CLASS (klass);

  cell->render = sw_icon_cell_render;
  cell->get_preferred_width = sw_icon_cell_preferred;
  cell->get_preferred_height = sw_icon_cell_preferred;
}

static void
sw_icon_cell_init (SwIconCell *self)
{
}

GtkCellRenderer *
sw_icon_cell_new (void)
{
  return g_object_new (SW_TYPE_ICON_CELL, NULL);
}

void
sw_icon_cell_set_icon (SwIconCell *self, const char *name)
{
  self->name = name;
}
