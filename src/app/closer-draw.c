/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lays out and draws what is looked at closely. What is drawn is cut to the view before it is
 * scaled, so that a frame costs the same whatever the photo's size. */
#include "app/closer-canvas-private.h"

#include <math.h>

#include "app/text.h"
#include "app/widgets.h"

#define GAP 6
#define PAD 8
#define ICON SW_ICON_SIDE

/* ---- where things are ---- */

int
sw_closer_n_sides (SwCloserCanvas *self)
{
  return self->sides[0].photo == 0 ? 0 : self->sides[1].photo == 0 ? 1 : 2;
}

void
sw_closer_side_area (SwCloserCanvas *self, int side, GdkRectangle *out)
{
  int width = gtk_widget_get_allocated_width (GTK_WIDGET (self));
  int height = gtk_widget_get_allocated_height (GTK_WIDGET (self));
  int n = MAX (sw_closer_n_sides (self), 1), each = (width - (n - 1) * GAP) / n;
  gboolean mirrored = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  int column = mirrored ? n - 1 - side : side;

  *out = (GdkRectangle){ column * (each + GAP), 0, MAX (each, 1), MAX (height, 1) };
}

static PangoLayout *
word_layout (SwCloserCanvas *self, const SwCloserSide *side)
{
  PangoLayout *word = gtk_widget_create_pango_layout (GTK_WIDGET (self), side->word);
  g_autoptr (PangoAttrList) bold = pango_attr_list_new ();

  pango_attr_list_insert (bold, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  pango_layout_set_attributes (word, bold);
  return word;
}

/* Pixels that icon and word take before the text. */
static int
word_width (SwCloserCanvas *self, const SwCloserSide *side)
{
  g_autoptr (PangoLayout) word = side->word != NULL ? word_layout (self, side) : NULL;
  int width = 0;

  if (word == NULL)
    return 0;
  pango_layout_get_pixel_size (word, &width, NULL);
  return ICON + PAD + width + 2 * PAD;
}

/* In as many lines as it needs, but never more than three. */
static PangoLayout *
text_layout (SwCloserCanvas *self, const SwCloserSide *side, int width)
{
  PangoLayout *layout
      = gtk_widget_create_pango_layout (GTK_WIDGET (self), side->text != NULL ? side->text : "");

  pango_layout_set_width (layout, MAX (width, 1) * PANGO_SCALE);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_height (layout, -3);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  return layout;
}

/* The same for both sides, so that the photos stand level. */
static int
title_height (SwCloserCanvas *self)
{
  int most = ICON;

  for (int i = 0; i < MAX (sw_closer_n_sides (self), 1); i++)
    {
      const SwCloserSide *side = &self->sides[i];
      g_autoptr (PangoLayout) layout = NULL;
      GdkRectangle area;
      int height;

      sw_closer_side_area (self, i, &area);
      layout = text_layout (self, side, area.width - 2 * PAD - word_width (self, side));
      pango_layout_get_pixel_size (layout, NULL, &height);
      most = MAX (most, height);
    }
  return most + 2 * PAD;
}

/* The view below the title, in logical pixels. */
void
sw_closer_photo_area (SwCloserCanvas *self, int side, GdkRectangle *out)
{
  int title = title_height (self);

  sw_closer_side_area (self, side, out);
  out->y += title;
  out->height = MAX (out->height - title, 1);
}

gboolean
sw_closer_view_of (SwCloserCanvas *self, int side, SwCloserSeen *out)
{
  const SwCloserPart *whole = self->pixels != NULL
                                  ? sw_closer_pixels_whole (self->pixels, self->sides[side].photo)
                                  : NULL;
  GdkRectangle area;
  SwCloserSeen v;

  if (whole == NULL)
    return FALSE;
  sw_closer_photo_area (self, side, &area);
  v.scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));
  v.full_width = whole->full_width;
  v.full_height = whole->full_height;
  v.zoom = self->zoom;
  if (v.zoom <= 0)
    v.zoom
        = MIN (1, MIN (area.width * v.scale / v.full_width, area.height * v.scale / v.full_height));
  v.width = area.width * v.scale / v.zoom;
  v.height = area.height * v.scale / v.zoom;
  v.x = v.width >= v.full_width
            ? (v.full_width - v.width) / 2
            : CLAMP (self->x * v.full_width - v.width / 2, 0, v.full_width - v.width);
  v.y = v.height >= v.full_height
            ? (v.full_height - v.height) / 2
            : CLAMP (self->y * v.full_height - v.height / 2, 0, v.full_height - v.height);
  *out = v;
  return TRUE;
}

/* ---- drawing ---- */

static void
paint_part (cairo_t *cr, const SwCloserSeen *v, const SwCloserPart *part)
{
  double s = v->zoom * v->full_width / part->scaled_width;
  double x = -v->x * v->zoom, y = -v->y * v->zoom;
  gboolean even = fabs (s - 1) < 1e-9;

  cairo_save (cr);
  cairo_translate (cr, even ? round (x) : x, even ? round (y) : y);
  cairo_scale (cr, s, s);
  cairo_set_source_surface (cr, part->surface, part->x, part->y);
  /* pixels are shown as such; between them nothing is made up */
  cairo_pattern_set_filter (cairo_get_source (cr),
                            even || s >= 1.9 ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_BILINEAR);
  cairo_paint (cr);
  cairo_restore (cr);
}

/* Cut to the view in memory: a surface of the screen would first take in the whole photo. */
static void
draw_photo (SwCloserCanvas *self, cairo_t *cr, int side, const GdkRectangle *area)
{
  GtkWidget *widget = GTK_WIDGET (self);
  gint64 photo = self->sides[side].photo;
  const SwCloserPart *part = sw_closer_pixels_part (self->pixels, photo);
  cairo_surface_t *seen;
  cairo_t *pen;
  SwCloserSeen v;

  if (!sw_closer_view_of (self, side, &v))
    {
      sw_pictures_draw (self->pictures, cr, gtk_widget_get_style_context (widget), photo,
                        SW_PICTURE_LARGE, area, TRUE);
      return;
    }
  seen = gdk_window_create_similar_image_surface (gtk_widget_get_window (widget),
                                                  CAIRO_FORMAT_ARGB32, area->width * (int)v.scale,
                                                  area->height * (int)v.scale, 1);
  pen = cairo_create (seen);
  paint_part (pen, &v, sw_closer_pixels_whole (self->pixels, photo));
  if (part != NULL)
    paint_part (pen, &v, part);
  cairo_destroy (pen);
  cairo_surface_set_device_scale (seen, v.scale, v.scale);
  cairo_set_source_surface (cr, seen, area->x, area->y);
  cairo_paint (cr);
  cairo_surface_destroy (seen);
}

static void
draw_title (SwCloserCanvas *self, cairo_t *cr, int side, const GdkRectangle *area)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  const SwCloserSide *s = &self->sides[side];
  gboolean mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  int taken = word_width (self, s), left = area->x + PAD, right = area->x + area->width - PAD;
  g_autoptr (PangoLayout) text = text_layout (self, s, right - left - taken);

  gtk_render_layout (style, cr, mirrored ? left : left + taken, area->y + PAD, text);
  if (s->word != NULL)
    {
      g_autoptr (PangoLayout) word = word_layout (self, s);
      int width, height;

      pango_layout_get_pixel_size (word, &width, &height);
      sw_draw_icon (widget, cr, s->icon, mirrored ? right - ICON : left,
                    area->y + PAD + (height - ICON) / 2);
      gtk_render_layout (style, cr, mirrored ? right - ICON - PAD - width : left + ICON + PAD,
                         area->y + PAD, word);
    }
}

static void
draw_failed (SwCloserCanvas *self, cairo_t *cr, const GdkRectangle *area)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (
      GTK_WIDGET (self), _ ("No picture can be made of this file. It is kept as it is."));
  int width, height;

  pango_layout_set_width (layout, MAX (area->width - 2 * PAD, 1) * PANGO_SCALE);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  pango_layout_get_pixel_size (layout, &width, &height);
  gtk_render_layout (gtk_widget_get_style_context (GTK_WIDGET (self)), cr, area->x + PAD,
                     area->y + (area->height - height) / 2.0, layout);
}

static void
draw_side (SwCloserCanvas *self, cairo_t *cr, int side)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  gint64 photo = self->sides[side].photo;
  GdkRectangle all, area;

  sw_closer_side_area (self, side, &all);
  sw_closer_photo_area (self, side, &area);
  if (sw_closer_pixels_failed (self->pixels, photo)
      && sw_closer_pixels_whole (self->pixels, photo) == NULL)
    draw_failed (self, cr, &area);
  else
    draw_photo (self, cr, side, &area);
  draw_title (self, cr, side, &all);
  if (sw_closer_n_sides (self) < 2 || side != self->chosen)
    return;
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-chosen");
  gtk_render_frame (style, cr, all.x, all.y, all.width, all.height);
  gtk_style_context_restore (style);
}

gboolean
sw_closer_canvas_draw (GtkWidget *widget, cairo_t *cr)
{
  SwCloserCanvas *self = SW_CLOSER_CANVAS (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  int width = gtk_widget_get_allocated_width (widget);
  int height = gtk_widget_get_allocated_height (widget);

  gtk_render_background (style, cr, 0, 0, width, height);
  for (int i = 0; self->pixels != NULL && i < sw_closer_n_sides (self); i++)
    draw_side (self, cr, i);
  if (gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, 1, 1, width - 2, height - 2);
  return FALSE;
}
