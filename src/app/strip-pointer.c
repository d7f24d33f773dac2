/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pointer on the strip: a press chooses, a drag takes photos to another stop or a gap, the
 * wheel goes along the time. */
#include "app/strip-view-private.h"

#include "app/stop-words.h"

/* The stop under that place along the time; -1 for a gap. */
static int
stop_under (SwStripView *self, gint64 x)
{
  guint k = sw_strip_spans_from (self->layout->stops, self->layout->n_stops, x);

  return k < self->layout->n_stops && self->layout->stops[k].x <= x ? (int)k : -1;
}

/* The unit under the pointer, else the first of the stop whose words are; -1 for none. */
static int
unit_under (SwStripView *self, double x, double y, gboolean photos_only)
{
  const SwStripHeights *h = &self->brush.heights;
  gint64 at = sw_strip_time_x (self, x);
  guint u = sw_strip_spans_from (self->layout->units, self->layout->n_units, at);
  int stop = stop_under (self, at);

  if (y >= h->photo_y && y < h->photo_y + h->photo_h && u < self->layout->n_units
      && self->layout->units[u].x <= at)
    return (int)u;
  if (photos_only || stop < 0)
    return -1;
  if (y < h->photo_y + h->photo_h && u < self->layout->n_units
      && sw_strip_unit_at (self, (int)u)->stop == stop)
    return (int)u;
  return (int)g_array_index (self->strip->begins, guint, (guint)stop);
}

static void
on_pressed (GtkGestureMultiPress *gesture, int n_press, double x, double y, SwStripView *self)
{
  GdkModifierType state = 0;
  int u = self->layout != NULL ? unit_under (self, x, y, FALSE) : -1;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (u < 0)
    return;
  gtk_get_current_event_state (&state);
  if (state & GDK_SHIFT_MASK)
    {
      sw_strip_pick_to (self, u);
      return;
    }
  /* a press on what is picked may begin to drag it */
  if (u < self->brush.picked_from || u > self->brush.picked_to)
    sw_strip_pick_nothing_quietly (self);
  sw_strip_choose (self, u, TRUE);
  if (n_press == 2)
    sw_strip_activate_chosen (self);
}

/* Where a drop would land: on another stop, in a gap, or nowhere. */
static void
aim (SwStripView *self, double x, double y)
{
  int stop = stop_under (self, sw_strip_time_x (self, x));
  int own = sw_strip_unit_at (self, self->brush.picked_from)->stop;
  gboolean inside = y >= 0 && y < gtk_widget_get_allocated_height (GTK_WIDGET (self)) && x >= 0
                    && x < sw_strip_view_width (self);

  self->brush.drop_x = x;
  self->brush.drop_stop = inside && stop != own ? stop : -1;
  self->brush.drop_gap = inside && stop < 0;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_strip_stop_dragging (SwStripView *self)
{
  self->dragging = FALSE;
  self->brush.drop_stop = -1;
  self->brush.drop_gap = FALSE;
  if (self->edge_tick != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->edge_tick);
  self->edge_tick = 0;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* Scrolls on while the pointer is held near an edge. */
static gboolean
on_edge_tick (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  SwStripView *self = SW_STRIP_VIEW (widget);
  int near_edge = self->brush.metrics.photo / 2, width = sw_strip_view_width (self);
  double x = self->brush.drop_x, by = 0;

  if (x < near_edge)
    by = -(near_edge - x) / 4;
  else if (x > width - near_edge)
    by = (x - (width - near_edge)) / 4;
  if (by != 0)
    sw_strip_set_offset (self, sw_strip_offset (self) + (sw_strip_is_mirrored (self) ? -by : by));
  return G_SOURCE_CONTINUE;
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, SwStripView *self)
{
  int u = self->layout != NULL ? unit_under (self, x, y, TRUE) : -1;

  if (u < 0 || sw_strip_unit_at (self, u)->kind != SW_STRIP_PHOTO
      || sw_strip_unit_at (self, u)->stop < 0)
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, SwStripView *self)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (!self->dragging)
    {
      if (!gtk_drag_check_threshold (GTK_WIDGET (self), 0, 0, (int)dx, (int)dy)
          || self->brush.cursor < 0)
        return;
      self->dragging = TRUE;
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
      if (self->brush.picked_from < 0)
        self->anchor = self->brush.picked_from = self->brush.picked_to = self->brush.cursor;
      self->edge_tick = gtk_widget_add_tick_callback (GTK_WIDGET (self), on_edge_tick, NULL, NULL);
    }
  aim (self, x + dx, y + dy);
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, SwStripView *self)
{
  int stop = self->brush.drop_stop;
  gboolean dropped = self->dragging && (stop >= 0 || self->brush.drop_gap);
  gint64 key = stop >= 0 ? sw_stop_key (g_ptr_array_index (self->strip->stops, (guint)stop)) : 0;

  if (!self->dragging)
    return;
  sw_strip_stop_dragging (self);
  if (dropped)
    g_signal_emit_by_name (self, "dropped", key);
  sw_strip_pick_nothing (self);
}

static void
on_drag_cancel (GtkGesture *gesture, GdkEventSequence *sequence, SwStripView *self)
{
  if (self->dragging)
    sw_strip_stop_dragging (self);
}

/* A wheel has one direction, and so has the strip. */
gboolean
sw_strip_pointer_scroll (GtkWidget *widget, GdkEventScroll *event)
{
  SwStripView *self = SW_STRIP_VIEW (widget);
  double dx = 0, dy = 0, by;
  GdkScrollDirection direction;

  if (gdk_event_get_scroll_deltas ((GdkEvent *)event, &dx, &dy))
    by = ABS (dx) > ABS (dy) ? dx : dy;
  else if (gdk_event_get_scroll_direction ((GdkEvent *)event, &direction))
    by = direction == GDK_SCROLL_DOWN || direction == GDK_SCROLL_RIGHT ? 1 : -1;
  else
    return GDK_EVENT_PROPAGATE;
  sw_strip_set_offset (self, sw_strip_offset (self) + by * self->brush.metrics.photo);
  return GDK_EVENT_STOP;
}

gboolean
sw_strip_pointer_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  SwStripView *self = SW_STRIP_VIEW (widget);
  int stop = self->layout != NULL && !keyboard && !self->dragging
                 ? stop_under (self, sw_strip_time_x (self, x))
                 : -1;
  g_autofree char *sentence = NULL;

  if (stop < 0 || y < self->brush.heights.bracket_y)
    return FALSE;
  sentence = sw_stop_sentence (g_ptr_array_index (self->strip->stops, (guint)stop));
  gtk_tooltip_set_text (tooltip, sentence);
  return TRUE;
}

void
sw_strip_pointer_init (SwStripView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->press = gtk_gesture_multi_press_new (widget);
  g_signal_connect (self->press, "pressed", G_CALLBACK (on_pressed), self);
  self->drag = gtk_gesture_drag_new (widget);
  g_signal_connect (self->drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (self->drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (self->drag, "drag-end", G_CALLBACK (on_drag_end), self);
  g_signal_connect (self->drag, "cancel", G_CALLBACK (on_drag_cancel), self);
}
