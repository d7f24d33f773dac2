/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws a bar in a table. The table beside it holds the figures; the bar only shows their lengths.
 */
#include "app/bar-cell.h"

#define BAR_H 12

struct _SwBarCell
{
  GtkCellRenderer parent;
  double whole, solid;
};

enum
{
  PROP_0,
  PROP_WHOLE,
  PROP_SOLID,
  N_PROPS
};
static GParamSpec *props[N_PROPS];

G_DEFINE_TYPE (SwBarCell, sw_bar_cell, GTK_TYPE_CELL_RENDERER)

static void
sw_bar_cell_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  SwBarCell *self = SW_BAR_CELL (object);

  if (id == PROP_WHOLE)
    self->whole = g_value_get_double (value);
  else if (id == PROP_SOLID)
    self->solid = g_value_get_double (value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
sw_bar_cell_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  SwBarCell *self = SW_BAR_CELL (object);

  g_value_set_double (value, id == PROP_WHOLE ? self->whole : self->solid);
}

static void
render_part (GtkStyleContext *style, cairo_t *cr, const char *class, const GdkRectangle *area,
             double part)
{
  int width = (int)(area->width * CLAMP (part, 0, 1) + 0.5);
  int y = area->y + (area->height - BAR_H) / 2;

  if (width < 1)
    return;
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, class);
  gtk_render_background (style, cr, area->x, y, width, BAR_H);
  gtk_render_frame (style, cr, area->x, y, width, BAR_H);
  gtk_style_context_restore (style);
}

static void
sw_bar_cell_render (GtkCellRenderer *cell, cairo_t *cr, GtkWidget *widget,
                    const GdkRectangle *background, const GdkRectangle *area,
                    GtkCellRendererState state)
{
  SwBarCell *self = SW_BAR_CELL (cell);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  GdkRectangle inner = { area->x + 8, area->y, MAX (0, area->width - 16), area->height };

  render_part (style, cr, "sw-bar-whole", &inner, self->whole);
  render_part (style, cr, "sw-bar-solid", &inner, self->solid);
}

static void
sw_bar_cell_preferred_width (GtkCellRenderer *cell, GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 40;
  *natural = 120;
}

static void
sw_bar_cell_preferred_height (GtkCellRenderer *cell, GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = *natural = BAR_H + 4;
}

static void
sw_bar_cell_class_init (SwBarCellClass *klass)
{
  GtkCellRendererClass *cell = GTK_CELL_RENDERER_CLASS (klass);
  GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS;

  G_OBJECT_CLASS (klass)->set_property = sw_bar_cell_set_property;
  G_OBJECT_CLASS (klass)->get_property = sw_bar_cell_get_property;
  cell->render = sw_bar_cell_render;
  cell->get_preferred_width = sw_bar_cell_preferred_width;
  cell->get_preferred_height = sw_bar_cell_preferred_height;
  props[PROP_WHOLE] = g_param_spec_double ("whole", NULL, NULL, 0, 1, 0, flags);
  props[PROP_SOLID] = g_param_spec_double ("solid", NULL, NULL, 0, 1, 0, flags);
  g_object_class_install_properties (G_OBJECT_CLASS (klass), N_PROPS, props);
}

static void
sw_bar_cell_init (SwBarCell *self)
{
}

GtkCellRenderer *
sw_bar_cell_new (void)
{
  return g_object_new (SW_TYPE_BAR_CELL, NULL);
}
