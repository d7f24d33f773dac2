/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws the chart in the theme's colours. No sums: heights are parts of the greatest figure. */
#include "app/takings-chart.h"

#include "app/takings-table.h"
#include "app/text.h"
#include "app/widgets.h"

#define HEIGHT 130
#define LEAST_HEIGHT 84 /* where the rows below need the room */
#define PAD 12
#define GAP 14
#define BAR_MOST 64
#define DOT 3.5
/* More bars than this say nothing any more; the last ones are drawn. */
#define BARS_MOST 24

typedef struct
{
  char *name, *takings, *running; /* as text */
  double whole, solid, line;      /* parts of the greatest figure, -1 to 1 */
} Bar;

struct _SwTakingsChart
{
  GtkDrawingArea parent;
  GArray *bars; /* Bar */
  int first;    /* row of the first bar */
  int chosen;
  double low; /* part of the height that lies below zero */
};

G_DEFINE_TYPE (SwTakingsChart, sw_takings_chart, GTK_TYPE_DRAWING_AREA)

static void
bar_clear (gpointer data)
{
  Bar *bar = data;

  g_free (bar->name);
  g_free (bar->takings);
  g_free (bar->running);
}

/* ---- drawing ---- */

typedef struct
{
  double left, width, top, zero, unit; /* unit: pixels of a part of 1 */
  double each;                         /* width given to one bar */
} Frame;

static PangoLayout *
layout_of (GtkWidget *widget, const char *text, int width)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (widget, text);

  if (width > 0)
    {
      pango_layout_set_width (layout, width * PANGO_SCALE);
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
      pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
    }
  return layout;
}

static int
line_height (GtkWidget *widget)
{
  g_autoptr (PangoLayout) layout = layout_of (widget, "0", 0);
  int height;

  pango_layout_get_pixel_size (layout, NULL, &height);
  return height;
}

static Frame
frame_of (SwTakingsChart *self)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int text = line_height (widget);
  double width = gtk_widget_get_allocated_width (widget) - 2 * PAD;
  double height = gtk_widget_get_allocated_height (widget) - 2 * text - 2 * PAD;
  Frame frame = { .left = PAD, .width = width, .top = PAD + text };

  frame.unit = MAX (height, 1) / (1 + self->low);
  frame.zero = frame.top + frame.unit;
  frame.each = width / MAX (1, self->bars->len);
  return frame;
}

static void
draw_bar (GtkStyleContext *style, cairo_t *cr, const char *class, const Frame *frame, double middle,
          double part)
{
  double width = MIN (BAR_MOST, frame->each - GAP);
  double height = ABS (part) * frame->unit;
  double y = part >= 0 ? frame->zero - height : frame->zero;

  if (height < 1 || width < 1)
    return;
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, class);
  gtk_render_background (style, cr, middle - width / 2, y, width, height);
  gtk_render_frame (style, cr, middle - width / 2, y, width, height);
  gtk_style_context_restore (style);
}

/* The x of a bar's middle; from the right where the script runs so. */
static double
middle_of (SwTakingsChart *self, const Frame *frame, guint i)
{
  gboolean mirrored = gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
  guint at = mirrored ? self->bars->len - 1 - i : i;

  return frame->left + (at + 0.5) * frame->each;
}

static void
draw_text (SwTakingsChart *self, cairo_t *cr, const char *text, double middle, double y,
           const Frame *frame, const char *class)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  g_autoptr (PangoLayout) layout = layout_of (GTK_WIDGET (self), text, (int)frame->each - 6);

  gtk_style_context_save (style);
  if (class != NULL)
    gtk_style_context_add_class (style, class);
  gtk_render_layout (style, cr, middle - frame->each / 2 + 3, y, layout);
  gtk_style_context_restore (style);
}

/* A figure that the line runs through is read all the same. */
static void
draw_figure (SwTakingsChart *self, cairo_t *cr, const char *text, double middle, double y,
             const Frame *frame)
{
  g_autoptr (PangoLayout) layout = layout_of (GTK_WIDGET (self), text, (int)frame->each - 6);
  PangoRectangle ink;

  pango_layout_get_pixel_extents (layout, &ink, NULL);
  gtk_render_background (gtk_widget_get_style_context (GTK_WIDGET (self)), cr,
                         middle - frame->each / 2 + 3 + ink.x - 2, y + ink.y - 1, ink.width + 4,
                         ink.height + 2);
  draw_text (self, cr, text, middle, y, frame, NULL);
}

static void
draw_bars (SwTakingsChart *self, cairo_t *cr, const Frame *frame)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  int text = line_height (GTK_WIDGET (self));

  for (guint i = 0; i < self->bars->len; i++)
    {
      const Bar *bar = &g_array_index (self->bars, Bar, i);
      double middle = middle_of (self, frame, i);
      if (self->first + (int)i == self->chosen)
        draw_bar (style, cr, "sw-chosen",
                  &(Frame){ .zero = frame->zero + frame->unit * self->low,
                            .unit = frame->unit * (1 + self->low),
                            .each = frame->each },
                  middle, 1);
      draw_bar (style, cr, "sw-bar-whole", frame, middle, bar->whole);
      draw_bar (style, cr, "sw-bar-solid", frame, middle, bar->solid);
      draw_text (self, cr, bar->name, middle,
                 gtk_widget_get_allocated_height (GTK_WIDGET (self)) - text - PAD / 2.0, frame,
                 "dim-label");
    }
}

static void
draw_figures (SwTakingsChart *self, cairo_t *cr, const Frame *frame)
{
  int text = line_height (GTK_WIDGET (self));

  for (guint i = 0; i < self->bars->len; i++)
    {
      const Bar *bar = &g_array_index (self->bars, Bar, i);
      double above = frame->zero - MAX (MAX (bar->whole, bar->solid), 0) * frame->unit;
      draw_figure (self, cr, bar->takings, middle_of (self, frame, i), above - text, frame);
    }
}

static void
draw_line (SwTakingsChart *self, cairo_t *cr, const Frame *frame)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  GdkRGBA colour;

  gtk_style_context_get_color (style, gtk_style_context_get_state (style), &colour);
  gdk_cairo_set_source_rgba (cr, &colour);
  cairo_set_line_width (cr, 2);
  for (guint i = 0; i < self->bars->len; i++)
    cairo_line_to (cr, middle_of (self, frame, i),
                   frame->zero - g_array_index (self->bars, Bar, i).line * frame->unit);
  cairo_stroke (cr);
  for (guint i = 0; i < self->bars->len; i++)
    {
      cairo_arc (cr, middle_of (self, frame, i),
                 frame->zero - g_array_index (self->bars, Bar, i).line * frame->unit, DOT, 0,
                 2 * G_PI);
      cairo_fill (cr);
    }
}

/* At the line's end stands what it has come to, unless a bar's own figure stands there. */
static void
draw_end (SwTakingsChart *self, cairo_t *cr, const Frame *frame)
{
  guint last = self->bars->len - 1;
  const Bar *bar = &g_array_index (self->bars, Bar, last);
  int text = line_height (GTK_WIDGET (self));
  double at = frame->zero - bar->line * frame->unit;
  double of_bar = frame->zero - MAX (MAX (bar->whole, bar->solid), 0) * frame->unit - text;

  if (at < of_bar)
    draw_text (self, cr, bar->running, middle_of (self, frame, last), at - DOT - text, frame, NULL);
}

static void
draw_zero (SwTakingsChart *self, cairo_t *cr, const Frame *frame)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  GdkRGBA colour;

  gtk_style_context_get_color (style, gtk_style_context_get_state (style), &colour);
  colour.alpha = 0.55;
  gdk_cairo_set_source_rgba (cr, &colour);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, frame->left, (int)frame->zero + 0.5);
  cairo_line_to (cr, frame->left + frame->width, (int)frame->zero + 0.5);
  cairo_stroke (cr);
}

static gboolean
sw_takings_chart_draw (GtkWidget *widget, cairo_t *cr)
{
  SwTakingsChart *self = SW_TAKINGS_CHART (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  Frame frame = frame_of (self);

  gtk_render_background (style, cr, 0, 0, gtk_widget_get_allocated_width (widget),
                         gtk_widget_get_allocated_height (widget));
  if (self->bars->len == 0)
    return TRUE;
  draw_bars (self, cr, &frame);
  draw_zero (self, cr, &frame);
  draw_line (self, cr, &frame);
  draw_figures (self, cr, &frame);
  draw_end (self, cr, &frame);
  return TRUE;
}

static void
sw_takings_chart_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = LEAST_HEIGHT + 2 * line_height (widget);
  *natural = HEIGHT + 2 * line_height (widget);
}

/* ---- what it shows ---- */

static double
part_of (SwMoney amount, gint64 most)
{
  return most > 0 ? (double)amount.minor / (double)most : 0;
}

static gint64
greatest_of (const SwTakings *takings, guint first, gint64 *out_lowest)
{
  gint64 most = 1, lowest = 0;

  for (guint i = first; i < takings->rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (takings->rows, i);
      most = MAX (MAX (most, row->proceeds.minor), MAX (row->takings.minor, row->running.minor));
      lowest
          = MIN (MIN (lowest, row->takings.minor), MIN (row->running.minor, row->proceeds.minor));
    }
  *out_lowest = lowest;
  return MAX (most, -lowest);
}

/* For those who do not see it: each bar in words. */
static void
describe (SwTakingsChart *self)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < self->bars->len; i++)
    {
      const Bar *bar = &g_array_index (self->bars, Bar, i);
      g_string_append_printf (text, _ ("%s: takings %s, running total %s. "), bar->name,
                              bar->takings, bar->running);
    }
  atk_object_set_description (gtk_widget_get_accessible (GTK_WIDGET (self)), text->str);
}

void
sw_takings_chart_show (SwTakingsChart *self, SwStore *store, const SwTakings *takings,
                       SwGrouping grouping)
{
  guint first = takings->rows->len > BARS_MOST ? takings->rows->len - BARS_MOST : 0;
  gint64 lowest, most = greatest_of (takings, first, &lowest);

  g_array_set_size (self->bars, 0);
  self->first = (int)first;
  self->low = (double)-lowest / (double)most;
  for (guint i = first; i < takings->rows->len; i++)
    {
      const SwTakingsRow *row = g_ptr_array_index (takings->rows, i);
      Bar bar = { .name = sw_takings_row_name (store, row, grouping),
                  .takings = sw_store_money (store, row->takings),
                  .running = sw_store_money (store, row->running),
                  .whole = part_of (row->proceeds, most),
                  .solid = part_of (row->takings, most),
                  .line = part_of (row->running, most) };
      g_array_append_val (self->bars, bar);
    }
  describe (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_takings_chart_choose (SwTakingsChart *self, int row)
{
  self->chosen = row;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
sw_takings_chart_finalize (GObject *object)
{
  g_clear_pointer (&SW_TAKINGS_CHART (object)->bars, g_array_unref);
  G_OBJECT_CLASS (sw_takings_chart_parent_class)->finalize (object);
}

static void
sw_takings_chart_class_init (SwTakingsChartClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = sw_takings_chart_finalize;
  widget->draw = sw_takings_chart_draw;
  widget->get_preferred_height = sw_takings_chart_preferred_height;
  gtk_widget_class_set_css_name (widget, "takingschart");
  gtk_widget_class_set_accessible_role (widget, ATK_ROLE_IMAGE);
}

static void
sw_takings_chart_init (SwTakingsChart *self)
{
  self->bars = g_array_new (FALSE, TRUE, sizeof (Bar));
  g_array_set_clear_func (self->bars, bar_clear);
  self->chosen = -1;
  atk_object_set_name (gtk_widget_get_accessible (GTK_WIDGET (self)),
                       _ ("Takings as bars, with the running total as a line"));
}
