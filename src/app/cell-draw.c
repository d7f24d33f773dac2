/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What rows, strips and the like draw with. Places nothing. */
#include "app/cell-draw.h"

PangoLayout *
sw_cell_text_layout (GtkWidget *widget, const char *text, int width, gboolean bold)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);

  pango_layout_set_single_paragraph_mode (layout, TRUE);
  if (width >= 0)
    {
      pango_layout_set_width (layout, width * PANGO_SCALE);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  if (bold)
    {
      g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
      pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD));
      pango_layout_set_attributes (layout, attributes);
    }
  return layout;
}

void
sw_cell_align (PangoLayout *layout)
{
  PangoLayoutLine *line = pango_layout_get_line_readonly (layout, 0);
  PangoDirection words = pango_layout_line_get_resolved_direction (line);

  /* Pango turns the two around where the words run against the widget's way. */
  pango_layout_set_alignment (layout,
                              words == PANGO_DIRECTION_RTL ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
}

int
sw_cell_text_width (GtkWidget *widget, const char *text)
{
  g_autoptr (PangoLayout) layout = sw_cell_text_layout (widget, text, -1, FALSE);
  int width = 0;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width;
}

void
sw_cell_draw_layout (GtkWidget *widget, cairo_t *cr, PangoLayout *layout, const char *class, int x,
                     int y)
{
  GtkStyleContext *style = gtk_widget_get_style_context (widget);

  gtk_style_context_save (style);
  if (class != NULL)
    gtk_style_context_add_class (style, class);
  gtk_render_layout (style, cr, x, y, layout);
  gtk_style_context_restore (style);
}

int
sw_cell_draw_text (GtkWidget *widget, cairo_t *cr, const char *text, const char *class, int x,
                   int y, int width, gboolean bold)
{
  g_autoptr (PangoLayout) layout = sw_cell_text_layout (widget, text, width, bold);
  int used = 0;

  pango_layout_get_pixel_size (layout, &used, NULL);
  sw_cell_draw_layout (widget, cr, layout, class, x, y);
  return used;
}
