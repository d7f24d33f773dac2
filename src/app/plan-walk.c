/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The walk of a trip as a line over the plan: from place to place in time order, a dot where it
 * began, an arrow along each way. The same in words stands in the list of places. */
#include <math.h>

#include "app/plan-private.h"

#define ARROW 9.0
#define DOT 5.0
/* Ways there and back would cover each other. */
#define ASIDE 5.0

/* Text of a box is at its top: the line runs through the lower part. */
static void
point_of (SwPlan *self, const SwPlanBox *box, double *out_x, double *out_y)
{
  GdkRectangle area;

  sw_plan_area (self, box, &area);
  *out_x = area.x + area.width / 2.0;
  *out_y = area.y + area.height * 0.78;
}

static void
draw_arrow (cairo_t *cr, double x, double y, double angle)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_rotate (cr, angle);
  cairo_move_to (cr, ARROW / 2, 0);
  cairo_line_to (cr, -ARROW / 2, -ARROW / 2);
  cairo_line_to (cr, -ARROW / 2, ARROW / 2);
  cairo_close_path (cr);
  cairo_fill (cr);
  cairo_restore (cr);
}

/* One way, a little to the right of the straight one. */
static void
draw_way (SwPlan *self, cairo_t *cr, const SwPlanBox *from, const SwPlanBox *to)
{
  double x, y, to_x, to_y, angle;

  point_of (self, from, &x, &y);
  point_of (self, to, &to_x, &to_y);
  if (hypot (to_x - x, to_y - y) < 2 * ARROW)
    return;
  angle = atan2 (to_y - y, to_x - x);
  x -= sin (angle) * ASIDE;
  to_x -= sin (angle) * ASIDE;
  y += cos (angle) * ASIDE;
  to_y += cos (angle) * ASIDE;
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, to_x, to_y);
  cairo_stroke (cr);
  draw_arrow (cr, (x + to_x) / 2, (y + to_y) / 2, angle);
}

void
sw_plan_draw_walk (SwPlan *self, cairo_t *cr)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  const SwPlanBox *last = NULL;
  GdkRGBA colour;

  if (self->walk == NULL)
    return;
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-walk");
  gtk_style_context_get_color (style, gtk_style_context_get_state (style), &colour);
  gtk_style_context_restore (style);
  gdk_cairo_set_source_rgba (cr, &colour);
  cairo_set_line_width (cr, 2);
  for (guint i = 0; i < self->walk->len; i++)
    {
      const SwPlanBox *box = sw_plan_get_box (self, g_array_index (self->walk, gint64, i));
      double x, y;
      if (box == NULL)
        continue;
      if (last != NULL)
        draw_way (self, cr, last, box);
      else
        {
          point_of (self, box, &x, &y);
          cairo_arc (cr, x, y, DOT, 0, 2 * G_PI);
          cairo_fill (cr);
        }
      last = box;
    }
}
