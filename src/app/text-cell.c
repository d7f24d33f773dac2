/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws by itself and leaves all else (size, text for assistive technology) to GTK's text cell. */
#include "app/text-cell.h"

/* A screen has some hundred cells; beyond that nothing is worth keeping. */
#define MOST_KEPT 2000

struct _SwTextCell
{
  GtkCellRendererText parent;
  GHashTable *kept; /* text -> PangoLayout */
  guint serial;     /* of the Pango context they were made in */
};

G_DEFINE_TYPE (SwTextCell, sw_text_cell, GTK_TYPE_CELL_RENDERER_TEXT)

/* Transfer none. */
static PangoLayout *
layout_of (SwTextCell *self, GtkWidget *widget, const char *text, int width)
{
  guint serial = pango_context_get_serial (gtk_widget_get_pango_context (widget));
  PangoLayout *layout;

  if (serial != self->serial || g_hash_table_size (self->kept) > MOST_KEPT)
    g_hash_table_remove_all (self->kept);
  self->serial = serial;
  layout = g_hash_table_lookup (self->kept, text);
  if (layout == NULL)
    {
      layout = gtk_widget_create_pango_layout (widget, text);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      pango_layout_set_single_paragraph_mode (layout, TRUE);
      g_hash_table_insert (self->kept, g_strdup (text), layout);
    }
  pango_layout_set_width (layout, width * PANGO_SCALE); /* nothing is done where it is the same */
  return layout;
}

static void
sw_text_cell_render (GtkCellRenderer *cell, cairo_t *cr, GtkWidget *widget,
                     const GdkRectangle *background, const GdkRectangle *area,
                     GtkCellRendererState state)
{
  g_autofree char *text = NULL;
  PangoRectangle drawn;
  PangoLayout *layout;
  int xpad, ypad, room;
  float xalign, yalign;

  g_object_get (cell, "text", &text, NULL);
  gtk_cell_renderer_get_padding (cell, &xpad, &ypad);
  gtk_cell_renderer_get_alignment (cell, &xalign, &yalign);
  room = area->width - 2 * xpad;
  if (text == NULL || *text == '\0' || room <= 0)
    return;
  if (gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL)
    xalign = 1 - xalign;
  layout = layout_of (SW_TEXT_CELL (cell), widget, text, room);
  pango_layout_get_pixel_extents (layout, NULL, &drawn);
  gtk_render_layout (gtk_widget_get_style_context (widget), cr,
                     area->x + xpad + (int)(xalign * (float)(room - drawn.width)) - drawn.x,
                     area->y + (area->height - drawn.height) / 2, layout);
}

static void
sw_text_cell_finalize (GObject *object)
{
  g_hash_table_unref (SW_TEXT_CELL (object)->kept);
  G_OBJECT_CLASS (sw_text_cell_parent_class)->finalize (object);
}

static void
sw_text_cell_class_init (SwTextCellClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = sw_text_cell_finalize;
  GTK_CELL_RENDERER_CLASS (klass)->render = sw_text_cell_render;
}

static void
sw_text_cell_init (SwTextCell *self)
{
  self->kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
}

GtkCellRenderer *
sw_text_cell_new (void)
{
  return g_object_new (SW_TYPE_TEXT_CELL, NULL);
}
