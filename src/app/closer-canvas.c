/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scale, place and what is asked for. The middle of the view is kept as a share of the photo, so
 * that two photos of different size stay together. It is drawn in closer-draw.c. */
#include "app/closer-canvas-private.h"

#include <math.h>

#include "app/cells-accessible.h"
#include "app/widgets.h"

#define MOST_ZOOM 8.0
#define ZOOM_STEP M_SQRT2
/* Share of the view that an arrow key moves. */
#define PAN_STEP 0.15

enum
{
  ZOOMED,
  CHOSEN,
  STEP,
  GO,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void cells_init (SwCellsInterface *iface);

G_DEFINE_TYPE_WITH_CODE (SwCloserCanvas, sw_closer_canvas, GTK_TYPE_WIDGET,
                         G_IMPLEMENT_INTERFACE (SW_TYPE_CELLS, cells_init))

/* ---- what is wanted ---- */

/* Halvings of the photo that still have a pixel for each of the screen's. */
static int
side_for (const SwCloserSeen *v)
{
  double side = MAX (v->full_width, v->full_height);

  for (double zoom = v->zoom; zoom <= 0.5; zoom *= 2)
    side = ceil (side / 2);
  return (int)side;
}

static gboolean
wants_part (SwCloserCanvas *self, int side, SwCloserWish *out)
{
  SwCloserSeen v;
  int wanted;
  double k, x, y;

  if (!sw_closer_view_of (self, side, &v))
    return FALSE;
  wanted = side_for (&v);
  if (wanted <= (int)SW_CLOSER_WHOLE_SIDE)
    return FALSE;
  k = wanted / MAX (v.full_width, v.full_height);
  x = MAX (v.x, 0) * k;
  y = MAX (v.y, 0) * k;
  *out = (SwCloserWish){ .photo = self->sides[side].photo,
                         .part = TRUE,
                         .side = wanted,
                         .x = (int)floor (x),
                         .y = (int)floor (y),
                         .width = (int)ceil (MIN (v.width, v.full_width) * k) + 1,
                         .height = (int)ceil (MIN (v.height, v.full_height) * k) + 1 };
  return TRUE;
}

static void
wish (SwCloserCanvas *self)
{
  g_autoptr (GArray) wishes = g_array_new (FALSE, FALSE, sizeof (SwCloserWish));
  SwCloserWish one;

  if (self->pixels == NULL)
    return;
  for (int i = 0; i < sw_closer_n_sides (self); i++)
    {
      one = (SwCloserWish){ .photo = self->sides[i].photo };
      g_array_append_val (wishes, one);
    }
  for (int i = 0; i < sw_closer_n_sides (self); i++)
    if (wants_part (self, i, &one))
      g_array_append_val (wishes, one);
  for (guint i = 0; i < self->ahead->len; i++)
    {
      one = (SwCloserWish){ .photo = g_array_index (self->ahead, gint64, i) };
      g_array_append_val (wishes, one);
    }
  sw_closer_pixels_set_wishes (self->pixels, (const SwCloserWish *)(gpointer)wishes->data,
                               wishes->len);
}

static void
refresh (SwCloserCanvas *self)
{
  wish (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- scale and place ---- */

/* Where the middle may lie, so that a later move starts from what is seen. */
static void
settle_middle (SwCloserCanvas *self)
{
  SwCloserSeen v;

  if (!sw_closer_view_of (self, self->chosen, &v))
    return;
  self->x = CLAMP ((v.x + v.width / 2) / v.full_width, 0, 1);
  self->y = CLAMP ((v.y + v.height / 2) / v.full_height, 0, 1);
}

/* about_x, about_y: pixels of the screen from the middle of the view that stay where they are. */
static void
zoom_about (SwCloserCanvas *self, double zoom, double about_x, double about_y)
{
  SwCloserSeen before, after;

  if (!sw_closer_view_of (self, self->chosen, &before))
    { /* its size is not known yet */
      self->zoom = MIN (zoom, MOST_ZOOM);
      return;
    }
  self->zoom = 0;
  sw_closer_view_of (self, self->chosen, &after);
  settle_middle (self);
  self->x = CLAMP ((before.x + before.width / 2) / before.full_width, 0, 1);
  self->y = CLAMP ((before.y + before.height / 2) / before.full_height, 0, 1);
  if (zoom > after.zoom * 1.001)
    {
      self->zoom = MIN (zoom, MOST_ZOOM);
      self->x += about_x * (1 / before.zoom - 1 / self->zoom) / before.full_width;
      self->y += about_y * (1 / before.zoom - 1 / self->zoom) / before.full_height;
      settle_middle (self);
    }
  refresh (self);
  g_signal_emit (self, signals[ZOOMED], 0);
}

void
sw_closer_canvas_set_zoom (SwCloserCanvas *self, double zoom)
{
  zoom_about (self, zoom, 0, 0);
}

static double
stepped (SwCloserCanvas *self, int by)
{
  double zoom = sw_closer_canvas_get_zoom (self) * (by > 0 ? ZOOM_STEP : 1 / ZOOM_STEP);
  double near_one = log (zoom) / log (ZOOM_STEP);

  /* the steps meet 1:1, 2:1, 1:2 exactly */
  return pow (ZOOM_STEP, by > 0 ? floor (near_one + 0.01) : ceil (near_one - 0.01));
}

void
sw_closer_canvas_step_zoom (SwCloserCanvas *self, int by)
{
  if (sw_closer_canvas_get_zoom (self) > 0)
    zoom_about (self, stepped (self, by), 0, 0);
}

static void
pan (SwCloserCanvas *self, double dx, double dy)
{
  SwCloserSeen v;

  if (!sw_closer_view_of (self, self->chosen, &v))
    return;
  self->x += dx * v.scale / v.zoom / v.full_width;
  self->y += dy * v.scale / v.zoom / v.full_height;
  settle_middle (self);
  refresh (self);
}

/* An arrow moves over the photo; where the whole of it is seen, left and right go on to others. */
static gboolean
go (SwCloserCanvas *self, int x, int y)
{
  GdkRectangle area;

  sw_closer_photo_area (self, self->chosen, &area);
  if (!sw_closer_canvas_is_whole (self))
    pan (self, x * area.width * PAN_STEP, y * area.height * PAN_STEP);
  else if (x != 0)
    g_signal_emit (self, signals[STEP], 0,
                   gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL ? -x : x);
  return TRUE;
}

/* ---- pointer ---- */

static void
about_of (SwCloserCanvas *self, double x, double y, double *out_x, double *out_y)
{
  GdkRectangle area;
  int scale = gtk_widget_get_scale_factor (GTK_WIDGET (self));

  sw_closer_photo_area (self, self->chosen, &area);
  *out_x = (x - area.x - area.width / 2.0) * scale;
  *out_y = (y - area.y - area.height / 2.0) * scale;
}

static void
choose (SwCloserCanvas *self, int side, gboolean tell)
{
  if (side < 0 || side >= sw_closer_n_sides (self) || side == self->chosen)
    return;
  self->chosen = side;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sw_cells_accessible_selected (GTK_WIDGET (self));
  if (tell)
    g_signal_emit (self, signals[CHOSEN], 0, side);
}

static gboolean
sw_closer_canvas_scroll (GtkWidget *widget, GdkEventScroll *event)
{
  SwCloserCanvas *self = SW_CLOSER_CANVAS (widget);
  double dx = 0, dy = 0, x, y;

  if (gdk_event_get_scroll_deltas ((GdkEvent *)event, &dx, &dy))
    dy = CLAMP (dy, -1, 1);
  else
    dy = event->direction == GDK_SCROLL_UP ? -1 : event->direction == GDK_SCROLL_DOWN ? 1 : 0;
  if (dy == 0 || sw_closer_canvas_get_zoom (self) <= 0)
    return TRUE;
  choose (self, sw_cells_at (SW_CELLS (self), (int)event->x, (int)event->y), TRUE);
  about_of (self, event->x, event->y, &x, &y);
  zoom_about (self,
              fabs (dy) == 1 ? stepped (self, dy < 0 ? 1 : -1)
                             : sw_closer_canvas_get_zoom (self) * pow (ZOOM_STEP, -dy),
              x, y);
  return TRUE;
}

/* A second press looks at the pixels there, or at the whole again. */
static void
on_pressed (GtkGestureMultiPress *gesture, int n_press, double x, double y, SwCloserCanvas *self)
{
  double about_x, about_y;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  choose (self, sw_cells_at (SW_CELLS (self), (int)x, (int)y), TRUE);
  if (n_press != 2)
    return;
  about_of (self, x, y, &about_x, &about_y);
  zoom_about (self, sw_closer_canvas_is_whole (self) ? 1 : 0, about_x, about_y);
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, SwCloserCanvas *self)
{
  self->start_x = self->x;
  self->start_y = self->y;
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, SwCloserCanvas *self)
{
  if (sw_closer_canvas_is_whole (self))
    return;
  self->x = self->start_x;
  self->y = self->start_y;
  pan (self, -dx, -dy);
}

static void
on_pinch_begin (GtkGesture *gesture, GdkEventSequence *sequence, SwCloserCanvas *self)
{
  self->start_zoom = sw_closer_canvas_get_zoom (self);
}

static void
on_pinch (GtkGestureZoom *gesture, double scale, SwCloserCanvas *self)
{
  double x = 0, y = 0, about_x, about_y;

  if (self->start_zoom <= 0)
    return;
  gtk_gesture_get_bounding_box_center (GTK_GESTURE (gesture), &x, &y);
  about_of (self, x, y, &about_x, &about_y);
  zoom_about (self, self->start_zoom * scale, about_x, about_y);
}

/* ---- widget ---- */

static void
sw_closer_canvas_realize (GtkWidget *widget)
{
  sw_widget_realize (widget, GDK_BUTTON_PRESS_MASK | GDK_BUTTON_RELEASE_MASK | GDK_TOUCH_MASK
                                 | GDK_SCROLL_MASK | GDK_SMOOTH_SCROLL_MASK | GDK_BUTTON_MOTION_MASK
                                 | GDK_TOUCHPAD_GESTURE_MASK);
}

static void
sw_closer_canvas_preferred (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 120;
  *natural = 480;
}

static void
sw_closer_canvas_size_allocate (GtkWidget *widget, GtkAllocation *allocation)
{
  GTK_WIDGET_CLASS (sw_closer_canvas_parent_class)->size_allocate (widget, allocation);
  wish (SW_CLOSER_CANVAS (widget));
  g_signal_emit (widget, signals[ZOOMED], 0);
}

static gboolean
sw_closer_canvas_focus_in (GtkWidget *widget, GdkEventFocus *event)
{
  sw_cells_accessible_selected (widget);
  gtk_widget_queue_draw (widget);
  return GTK_WIDGET_CLASS (sw_closer_canvas_parent_class)->focus_in_event (widget, event);
}

static void
sw_closer_canvas_dispose (GObject *object)
{
  SwCloserCanvas *self = SW_CLOSER_CANVAS (object);

  sw_closer_canvas_set_source (self, NULL, NULL);
  g_clear_object (&self->press);
  g_clear_object (&self->drag);
  g_clear_object (&self->pinch);
  self->sides[0].photo = self->sides[1].photo = 0;
  G_OBJECT_CLASS (sw_closer_canvas_parent_class)->dispose (object);
}

static void
side_clear (SwCloserSide *side)
{
  g_clear_pointer (&side->text, g_free);
  g_clear_pointer (&side->word, g_free);
  g_clear_pointer (&side->icon, g_free);
}

static void
sw_closer_canvas_finalize (GObject *object)
{
  SwCloserCanvas *self = SW_CLOSER_CANVAS (object);

  side_clear (&self->sides[0]);
  side_clear (&self->sides[1]);
  g_array_unref (self->ahead);
  G_OBJECT_CLASS (sw_closer_canvas_parent_class)->finalize (object);
}

static void
bind_go (GtkBindingSet *set, guint key, guint keypad, int x, int y)
{
  gtk_binding_entry_add_signal (set, key, 0, "go", 2, G_TYPE_INT, x, G_TYPE_INT, y);
  gtk_binding_entry_add_signal (set, keypad, 0, "go", 2, G_TYPE_INT, x, G_TYPE_INT, y);
}

static void
add_signals (SwCloserCanvasClass *klass)
{
  signals[ZOOMED] = g_signal_new ("zoomed", SW_TYPE_CLOSER_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  signals[CHOSEN] = g_signal_new ("chosen", SW_TYPE_CLOSER_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[STEP] = g_signal_new ("step", SW_TYPE_CLOSER_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[GO] = g_signal_new_class_handler (
      "go", SW_TYPE_CLOSER_CANVAS, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION, G_CALLBACK (go),
      g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 2, G_TYPE_INT, G_TYPE_INT);
}

static void
sw_closer_canvas_class_init (SwCloserCanvasClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  GtkBindingSet *set = gtk_binding_set_by_class (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_closer_canvas_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_closer_canvas_finalize;
  widget->realize = sw_closer_canvas_realize;
  widget->get_preferred_width = sw_closer_canvas_preferred;
  widget->get_preferred_height = sw_closer_canvas_preferred;
  widget->size_allocate = sw_closer_canvas_size_allocate;
  widget->draw = sw_closer_canvas_draw;
  widget->scroll_event = sw_closer_canvas_scroll;
  widget->focus_in_event = sw_closer_canvas_focus_in;
  add_signals (klass);
  bind_go (set, GDK_KEY_Left, GDK_KEY_KP_Left, -1, 0);
  bind_go (set, GDK_KEY_Right, GDK_KEY_KP_Right, 1, 0);
  bind_go (set, GDK_KEY_Up, GDK_KEY_KP_Up, 0, -1);
  bind_go (set, GDK_KEY_Down, GDK_KEY_KP_Down, 0, 1);
  gtk_widget_class_set_css_name (widget, "closer");
  gtk_widget_class_set_accessible_type (widget, SW_TYPE_CELLS_ACCESSIBLE);
}

static void
sw_closer_canvas_init (SwCloserCanvas *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->ahead = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->x = self->y = 0.5;
  gtk_widget_set_has_window (widget, TRUE);
  gtk_widget_set_can_focus (widget, TRUE);
  self->press = gtk_gesture_multi_press_new (widget);
  g_signal_connect (self->press, "pressed", G_CALLBACK (on_pressed), self);
  self->drag = gtk_gesture_drag_new (widget);
  g_signal_connect (self->drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (self->drag, "drag-update", G_CALLBACK (on_drag_update), self);
  self->pinch = gtk_gesture_zoom_new (widget);
  g_signal_connect (self->pinch, "begin", G_CALLBACK (on_pinch_begin), self);
  g_signal_connect (self->pinch, "scale-changed", G_CALLBACK (on_pinch), self);
}

/* ---- cells ---- */

static int
cells_count (SwCells *cells)
{
  return sw_closer_n_sides (SW_CLOSER_CANVAS (cells));
}

static char *
cells_name (SwCells *cells, int i)
{
  const SwCloserSide *side = &SW_CLOSER_CANVAS (cells)->sides[i];
  const char *text = side->text != NULL ? side->text : "";

  return side->word != NULL ? g_strdup_printf ("%s, %s", text, side->word) : g_strdup (text);
}

static void
cells_extents (SwCells *cells, int i, GdkRectangle *out_area)
{
  sw_closer_side_area (SW_CLOSER_CANVAS (cells), i, out_area);
}

static int
cells_selected (SwCells *cells)
{
  SwCloserCanvas *self = SW_CLOSER_CANVAS (cells);
  return sw_closer_n_sides (self) > 0 ? self->chosen : -1;
}

static void
cells_select (SwCells *cells, int i)
{
  choose (SW_CLOSER_CANVAS (cells), i, TRUE);
}

static void
cells_init (SwCellsInterface *iface)
{
  iface->count = cells_count;
  iface->name = cells_name;
  iface->extents = cells_extents;
  iface->selected = cells_selected;
  iface->select = cells_select;
  iface->activate = cells_select;
}

/* ---- public ---- */

static void
on_small (SwPictures *pictures, gint64 photo, SwCloserCanvas *self)
{
  if (photo == self->sides[0].photo || photo == self->sides[1].photo)
    gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_loaded (SwCloserPixels *pixels, gint64 photo, SwCloserCanvas *self)
{
  refresh (self); /* with its size a part may be wanted */
  g_signal_emit (self, signals[ZOOMED], 0);
}

void
sw_closer_canvas_set_source (SwCloserCanvas *self, SwPictures *pictures, SwPictureSource *source)
{
  sw_pictures_follow (&self->pictures, &self->small_id, pictures, G_CALLBACK (on_small), self);
  if (self->pixels != NULL)
    {
      g_clear_signal_handler (&self->loaded_id, self->pixels);
      sw_closer_pixels_set_wishes (self->pixels, NULL, 0);
    }
  g_clear_object (&self->pixels);
  if (pictures == NULL)
    return;
  self->pixels = sw_closer_pixels_new (source);
  self->loaded_id = g_signal_connect (self->pixels, "loaded", G_CALLBACK (on_loaded), self);
}

void
sw_closer_canvas_show (SwCloserCanvas *self, gint64 photo, gint64 beside, const gint64 *ahead,
                       guint n_ahead)
{
  const gint64 photos[2] = { photo, beside };

  for (int i = 0; i < 2; i++)
    if (self->sides[i].photo != photos[i])
      {
        side_clear (&self->sides[i]);
        self->sides[i].photo = photos[i];
      }
  if (beside == 0)
    self->chosen = 0;
  g_array_set_size (self->ahead, 0);
  g_array_append_vals (self->ahead, ahead, n_ahead);
  refresh (self);
  sw_cells_accessible_reset (GTK_WIDGET (self));
  g_signal_emit (self, signals[ZOOMED], 0);
}

void
sw_closer_canvas_tell (SwCloserCanvas *self, int side, const SwCloserTold *told)
{
  side_clear (&self->sides[side]);
  self->sides[side].text = g_strdup (told->text);
  self->sides[side].word = g_strdup (told->word);
  self->sides[side].icon = g_strdup (told->icon);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sw_cells_accessible_reset (GTK_WIDGET (self));
  if (side == self->chosen)
    sw_cells_accessible_selected (GTK_WIDGET (self));
}

void
sw_closer_canvas_choose (SwCloserCanvas *self, int side)
{
  choose (self, side, FALSE);
}

int
sw_closer_canvas_get_chosen (SwCloserCanvas *self)
{
  return self->chosen;
}

void
sw_closer_canvas_forget (SwCloserCanvas *self, gint64 photo)
{
  if (self->pixels == NULL)
    return;
  sw_closer_pixels_forget (self->pixels, photo);
  refresh (self);
}

double
sw_closer_canvas_get_zoom (SwCloserCanvas *self)
{
  SwCloserSeen v;
  return sw_closer_view_of (self, self->chosen, &v) ? v.zoom : 0;
}

gboolean
sw_closer_canvas_is_whole (SwCloserCanvas *self)
{
  return self->zoom <= 0;
}

gboolean
sw_closer_canvas_is_idle (SwCloserCanvas *self)
{
  return self->pixels == NULL
         || (sw_closer_pixels_is_idle (self->pixels) && sw_pictures_is_idle (self->pictures));
}
