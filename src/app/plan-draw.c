/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws the plan: the ground, each box with its text, what is being drawn, the scale. Changes
 * nothing. */
#include "app/plan-private.h"

#include "app/text.h"
#include "app/widgets.h"
#include "core/base/length.h"

#define PAD SW_PLAN_PAD
#define BAR 5

/* ---- text ---- */

static PangoLayout *
line_layout (SwPlan *self, const char *text, int width)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);

  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_width (layout, width * PANGO_SCALE);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  return layout;
}

static int
draw_line (SwPlan *self, cairo_t *cr, const char *text, const char *class, int x, int y, int width)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  g_autoptr (PangoLayout) layout = line_layout (self, text, width);
  int height = 0;

  pango_layout_get_pixel_size (layout, NULL, &height);
  gtk_style_context_save (style);
  if (class != NULL)
    gtk_style_context_add_class (style, class);
  gtk_render_layout (style, cr, x, y, layout);
  gtk_style_context_restore (style);
  return height;
}

/* The symbol stands before the words, whichever way one reads. */
static int
draw_standing (SwPlan *self, cairo_t *cr, const SwPlanBox *box, int x, int y, int width)
{
  GtkWidget *widget = GTK_WIDGET (self);
  gboolean mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  int room = SW_ICON_SIDE + 4;
  int height = draw_line (self, cr, box->standing, GTK_STYLE_CLASS_DIM_LABEL,
                          mirrored ? x : x + room, y, width - room);

  gtk_style_context_save (style);
  gtk_style_context_add_class (style, GTK_STYLE_CLASS_DIM_LABEL);
  sw_draw_icon (widget, cr, box->icon, mirrored ? x + width - SW_ICON_SIDE : x,
                y + (height - SW_ICON_SIDE) / 2);
  gtk_style_context_restore (style);
  return height;
}

/* The name in as many lines as there is room for; where it is cut then, in smaller letters, but
 * none that are hard to read. */
static PangoLayout *
name_layout (SwPlan *self, const char *name, int width, int room)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), name);
  double least = 0.86 / sw_widget_text_scale (GTK_WIDGET (self));
  int w = 0, h = 0;

  pango_layout_set_width (layout, width * PANGO_SCALE);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD);
  for (double scale = 1; scale >= least; scale *= 0.93)
    {
      g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();

      pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD));
      pango_attr_list_insert (attributes, pango_attr_scale_new (scale));
      pango_layout_set_attributes (layout, attributes);
      pango_layout_get_pixel_size (layout, &w, &h);
      if (w <= width && h <= room)
        return layout;
    }
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  return layout;
}

static int
draw_name (SwPlan *self, cairo_t *cr, const char *name, int x, int y, int width, int room)
{
  g_autoptr (PangoLayout) layout = name_layout (self, name, width, room);
  int height = 0;

  pango_layout_get_pixel_size (layout, NULL, &height);
  gtk_render_layout (gtk_widget_get_style_context (GTK_WIDGET (self)), cr, x, y, layout);
  return height;
}

/* Where the text of a box has to end: above its foot, and above the places drawn inside it. */
static int
text_bottom (SwPlan *self, const SwPlanBox *box, const GdkRectangle *area)
{
  int bottom = area->y + area->height - (box->left < 0 ? 2 : BAR + 5);

  for (int i = 0; i < sw_plan_n_boxes (self); i++)
    if (sw_plan_box (self, i)->parent == box->id)
      {
        GdkRectangle inside;
        sw_plan_area (self, sw_plan_box (self, i), &inside);
        if (gdk_rectangle_intersect (&inside, area, NULL))
          bottom = MIN (bottom, inside.y);
      }
  return bottom;
}

/* As many lines as fit: the name first, then what stands, what waits, what it is worth. */
static void
draw_lines (SwPlan *self, cairo_t *cr, const SwPlanBox *box, const GdkRectangle *area)
{
  const char *more[] = { box->waits, box->worth };
  int x = area->x + PAD, y = area->y + PAD - 1, width = area->width - 2 * PAD;
  int bottom = text_bottom (self, box, area), line;

  if (width < 16 || y + 12 > bottom)
    return;
  y += draw_name (self, cr, box->name, x, y, width, bottom - y) + 1;
  {
    g_autoptr (PangoLayout) sample = line_layout (self, box->standing, width);
    pango_layout_get_pixel_size (sample, NULL, &line);
  }
  if (y + line > bottom)
    return;
  y += draw_standing (self, cr, box, x, y, width) + 1;
  for (guint i = 0; i < G_N_ELEMENTS (more); i++)
    if (more[i] != NULL && y + line <= bottom)
      y += draw_line (self, cr, more[i], NULL, x, y, width) + 1;
}

/* ---- boxes ---- */

/* The bar at the foot of the box is as long as the part that still stands. */
static void
draw_bar (SwPlan *self, cairo_t *cr, const SwPlanBox *box, const GdkRectangle *area)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  int width = area->width - 2 * PAD, y = area->y + area->height - BAR - 5;
  int left = MAX (BAR, (int)(width * box->left));
  gboolean mirrored = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;

  if (box->left < 0 || area->height < 40)
    return;
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-bar");
  gtk_render_background (style, cr, area->x + PAD, y, width, BAR);
  gtk_render_frame (style, cr, area->x + PAD, y, width, BAR);
  gtk_style_context_add_class (style, "sw-left");
  if (box->left > 0)
    gtk_render_background (style, cr, area->x + PAD + (mirrored ? width - left : 0), y, left, BAR);
  gtk_style_context_restore (style);
}

/* A state of one box from that of the widget, which may be chosen or pointed at as a whole. */
static GtkStateFlags
state_of (SwPlan *self, int i)
{
  GtkStateFlags state
      = gtk_widget_get_state_flags (GTK_WIDGET (self))
        & ~(GTK_STATE_FLAG_SELECTED | GTK_STATE_FLAG_PRELIGHT | GTK_STATE_FLAG_FOCUSED);

  if (i >= 0 && i == self->chosen)
    state |= GTK_STATE_FLAG_SELECTED;
  if (i >= 0 && i == self->hover)
    state |= GTK_STATE_FLAG_PRELIGHT;
  return state;
}

static void
draw_box (SwPlan *self, cairo_t *cr, int i)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  const SwPlanBox *box = sw_plan_box (self, i);
  GdkRectangle area;

  sw_plan_area (self, box, &area);
  gtk_style_context_save (style);
  gtk_style_context_set_state (style, state_of (self, i));
  gtk_style_context_add_class (style, "sw-box");
  if (box->parent != 0)
    gtk_style_context_add_class (style, "sw-inside");
  if (box->off_property)
    gtk_style_context_add_class (style, "sw-off");
  if (self->into != 0 && box->id == self->into)
    gtk_style_context_add_class (style, "sw-into");
  gtk_render_background (style, cr, area.x, area.y, area.width, area.height);
  gtk_render_frame (style, cr, area.x, area.y, area.width, area.height);
  draw_lines (self, cr, box, &area);
  draw_bar (self, cr, box, &area);
  if (i == self->chosen && gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, area.x - 3, area.y - 3, area.width + 6, area.height + 6);
  gtk_style_context_restore (style);
}

static void
draw_sketch (SwPlan *self, cairo_t *cr)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  GdkRectangle area;

  if (!sw_plan_get_sketch_area (self, &area))
    return;
  gtk_style_context_save (style);
  gtk_style_context_set_state (style, state_of (self, -1) | GTK_STATE_FLAG_SELECTED);
  gtk_style_context_add_class (style, "sw-box");
  gtk_style_context_add_class (style, "sw-sketch");
  gtk_render_background (style, cr, area.x, area.y, area.width, area.height);
  gtk_render_frame (style, cr, area.x, area.y, area.width, area.height);
  gtk_style_context_restore (style);
}

/* ---- the ground ---- */

static void
draw_aside (SwPlan *self, cairo_t *cr)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int units
      = sw_plan_n_boxes (self) > 0 ? sw_plan_aside (sw_plan_box (self, 0), self->boxes->len) : 0;
  double x, scale = sw_plan_pixels (self, &x);
  int width = gtk_widget_get_allocated_width (widget), y = (int)(units * scale) + 2;

  if (units == 0)
    return;
  gtk_render_line (gtk_widget_get_style_context (widget), cr, PAD, y, width - PAD, y);
  draw_line (self, cr, _ ("Off the property"), GTK_STYLE_CLASS_DIM_LABEL, PAD, y + 1,
             width - 2 * PAD);
}

/* 1, 2 or 5 times a power of ten, at most a quarter of the plan's width. */
static gint64
round_length (gint64 most_mm)
{
  static const int steps[] = { 5, 2, 1 };

  for (gint64 power = G_GINT64_CONSTANT (100000000); power > 0; power /= 10)
    for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
      if (steps[i] * power <= most_mm)
        return steps[i] * power;
  return 0;
}

/* "10 m" over a bar of that length, at the foot of the ground. */
static void
draw_scale (SwPlan *self, cairo_t *cr)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  double left, scale = sw_plan_pixels (self, &left);
  gint64 mm = round_length (self->um_per_unit * (SW_PLAN_WIDTH / 4) / 1000);
  g_autofree char *text = mm > 0 ? sw_length_to_text (mm) : NULL;
  double width = mm > 0 ? (double)mm * 1000 / (double)self->um_per_unit * scale : 0;
  double y = gtk_widget_get_allocated_height (GTK_WIDGET (self)) - 6.5;
  double x = gtk_widget_get_allocated_width (GTK_WIDGET (self)) - PAD - width;
  GdkRGBA colour;

  if (mm == 0)
    return;
  gtk_style_context_get_color (style, gtk_style_context_get_state (style), &colour);
  gdk_cairo_set_source_rgba (cr, &colour);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, x, y - 4);
  cairo_line_to (cr, x, y);
  cairo_line_to (cr, x + width, y);
  cairo_line_to (cr, x + width, y - 4);
  cairo_stroke (cr);
  {
    g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
    int w, h;
    pango_layout_get_pixel_size (layout, &w, &h);
    gtk_render_layout (style, cr, x + (width - w) / 2, y - h - 1, layout);
  }
}

static void
draw_hint (SwPlan *self, cairo_t *cr)
{
  if (sw_plan_n_boxes (self) == 0 && !self->has_sketch)
    draw_line (self, cr, _ ("Drag a box for the first building."), GTK_STYLE_CLASS_DIM_LABEL, PAD,
               PAD, gtk_widget_get_allocated_width (GTK_WIDGET (self)) - 2 * PAD);
}

gboolean
sw_plan_draw (GtkWidget *widget, cairo_t *cr)
{
  SwPlan *self = SW_PLAN (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  int width = gtk_widget_get_allocated_width (widget);
  int height = gtk_widget_get_allocated_height (widget);

  gtk_render_background (style, cr, 0, 0, width, height);
  draw_hint (self, cr);
  draw_aside (self, cr);
  if (self->um_per_unit > 0)
    draw_scale (self, cr);
  /* each lies on top of the place it is inside of, which comes before it */
  for (int i = 0; i < sw_plan_n_boxes (self); i++)
    draw_box (self, cr, i);
  sw_plan_draw_walk (self, cr);
  draw_sketch (self, cr);
  if (self->chosen < 0 && gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, 1, 1, width - 2, height - 2);
  return FALSE;
}
