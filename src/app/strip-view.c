/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip as a widget: what is chosen and picked, what is in view. Positions are counted from the
 * beginning of the trip; where the reader goes from right to left the view is mirrored. Decides
 * nothing. The pointer stands in strip-pointer.c, what a reader of the screen is told in
 * strip-cells.c. */
#include "app/strip-view-private.h"

#include "app/stop-words.h"
#include "app/widgets.h"

enum
{
  CHOSEN,
  ACTIVATED,
  DROPPED,
  MOVE,
  ACTIVATE_CHOSEN,
  PICK_NOTHING,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE_WITH_CODE (SwStripView, sw_strip_view, GTK_TYPE_WIDGET,
                         G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, NULL)
                             G_IMPLEMENT_INTERFACE (SW_TYPE_CELLS, sw_strip_cells_init))

/* ---- places ---- */

int
sw_strip_n_units (SwStripView *self)
{
  return self->strip != NULL ? (int)self->strip->units->len : 0;
}

const SwStripUnit *
sw_strip_unit_at (SwStripView *self, int u)
{
  return &g_array_index (self->strip->units, SwStripUnit, (guint)u);
}

gboolean
sw_strip_is_mirrored (SwStripView *self)
{
  return gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
}

int
sw_strip_view_width (SwStripView *self)
{
  return gtk_widget_get_allocated_width (GTK_WIDGET (self));
}

static double
most_offset (SwStripView *self)
{
  gint64 total = self->layout != NULL ? self->layout->total : 0;
  return MAX (0, (double)total - sw_strip_view_width (self));
}

/* From the beginning of the trip to the edge that it begins at. */
double
sw_strip_offset (SwStripView *self)
{
  double value = sw_scroll_value (&self->scroll, 0);
  return sw_strip_is_mirrored (self) ? most_offset (self) - value : value;
}

void
sw_strip_set_offset (SwStripView *self, double to)
{
  double value = CLAMP (to, 0, most_offset (self));

  if (self->scroll.adjustments[0] != NULL)
    gtk_adjustment_set_value (self->scroll.adjustments[0],
                              sw_strip_is_mirrored (self) ? most_offset (self) - value : value);
}

gint64
sw_strip_time_x (SwStripView *self, double x)
{
  return (gint64)(sw_strip_offset (self)
                  + (sw_strip_is_mirrored (self) ? sw_strip_view_width (self) - x : x));
}

static void
configure (GtkWidget *widget)
{
  SwStripView *self = SW_STRIP_VIEW (widget);
  double total = self->layout != NULL ? (double)self->layout->total : 0;

  sw_scroll_range (&self->scroll, 0, total, self->brush.metrics.photo);
  sw_scroll_range (&self->scroll, 1, 0, 1);
}

static void
lay_out (SwStripView *self)
{
  g_clear_pointer (&self->layout, sw_strip_layout_free);
  if (self->strip != NULL)
    self->layout = sw_strip_layout_new (self->strip, &self->brush.metrics);
  self->brush.strip = self->strip;
  self->brush.layout = self->layout;
  sw_strip_brush_forget_words (&self->brush);
}

/* The whole stop where it fits, with something of what is before it. */
static void
bring_into_view (SwStripView *self)
{
  const SwStripSpan *span;
  double from, upto, at = sw_strip_offset (self);
  int width = sw_strip_view_width (self), room;

  if (self->brush.cursor < 0)
    return;
  span = &self->layout->units[self->brush.cursor];
  if (sw_strip_unit_at (self, self->brush.cursor)->stop >= 0
      && self->layout->stops[sw_strip_unit_at (self, self->brush.cursor)->stop].width < width)
    span = &self->layout->stops[sw_strip_unit_at (self, self->brush.cursor)->stop];
  room = MIN (self->brush.metrics.photo / 2, (width - span->width) / 2);
  from = (double)span->x - MAX (room, 4);
  upto = (double)span->x + span->width + MAX (room, 4);
  if (from < at)
    sw_strip_set_offset (self, from);
  else if (upto > at + width)
    sw_strip_set_offset (self, upto - width);
}

/* ---- choosing ---- */

void
sw_strip_pick_nothing_quietly (SwStripView *self)
{
  self->anchor = self->brush.picked_from = self->brush.picked_to = -1;
}

void
sw_strip_choose (SwStripView *self, int u, gboolean tell)
{
  gboolean same = u == self->brush.cursor;

  self->brush.cursor = u;
  bring_into_view (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (!same)
    sw_cells_accessible_selected (GTK_WIDGET (self));
  if (tell)
    g_signal_emit (self, signals[CHOSEN], 0);
}

/* Extends the picked run to unit u of the same stop. */
void
sw_strip_pick_to (SwStripView *self, int u)
{
  int cursor = self->brush.cursor;

  if (cursor < 0 || sw_strip_unit_at (self, u)->stop < 0
      || sw_strip_unit_at (self, u)->stop != sw_strip_unit_at (self, cursor)->stop)
    return;
  if (self->anchor < 0)
    self->anchor = cursor;
  self->brush.picked_from = MIN (self->anchor, u);
  self->brush.picked_to = MAX (self->anchor, u);
  sw_strip_choose (self, u, TRUE);
}

static int
stop_step (SwStripView *self, int count)
{
  int n_stops = (int)self->strip->stops->len;
  int stop = self->brush.cursor >= 0 ? sw_strip_unit_at (self, self->brush.cursor)->stop : -1;

  if (n_stops == 0)
    return self->brush.cursor;
  if (stop < 0)
    { /* between two: the next one in that direction */
      guint k = sw_strip_spans_from (
          self->layout->stops, self->layout->n_stops,
          self->brush.cursor >= 0 ? self->layout->units[self->brush.cursor].x : 0);
      stop = count > 0 ? (int)k - 1 : (int)k;
    }
  stop = CLAMP (stop + count, 0, n_stops - 1);
  return (int)g_array_index (self->strip->begins, guint, (guint)stop);
}

static gboolean
move (SwStripView *self, GtkMovementStep step, int count, gboolean extend)
{
  int n = sw_strip_n_units (self), to = self->brush.cursor;

  if (n == 0)
    return FALSE;
  if (step == GTK_MOVEMENT_VISUAL_POSITIONS)
    to += sw_strip_is_mirrored (self) ? -count : count;
  else if (step == GTK_MOVEMENT_PARAGRAPHS)
    to = stop_step (self, count);
  else if (step == GTK_MOVEMENT_BUFFER_ENDS)
    to = count < 0 ? 0 : n - 1;
  else
    {
      gint64 x = (to >= 0 ? self->layout->units[to].x : (gint64)sw_strip_offset (self))
                 + (gint64)count * sw_strip_view_width (self);
      to = (int)sw_strip_spans_from (self->layout->units, self->layout->n_units, MAX (x, 0));
    }
  to = CLAMP (to, 0, n - 1);
  if (extend)
    {
      sw_strip_pick_to (self, to);
      return TRUE;
    }
  sw_strip_pick_nothing_quietly (self);
  sw_strip_choose (self, to, TRUE);
  return TRUE;
}

gboolean
sw_strip_activate_chosen (SwStripView *self)
{
  if (self->brush.cursor < 0)
    return FALSE;
  g_signal_emit (self, signals[ACTIVATED], 0, sw_strip_unit_at (self, self->brush.cursor)->photo);
  return TRUE;
}

gboolean
sw_strip_pick_nothing (SwStripView *self)
{
  if (self->brush.picked_from < 0)
    return FALSE;
  sw_strip_pick_nothing_quietly (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[CHOSEN], 0);
  return TRUE;
}

/* ---- widget ---- */

static gboolean
sw_strip_view_draw (GtkWidget *widget, cairo_t *cr)
{
  SwStripView *self = SW_STRIP_VIEW (widget);

  gtk_render_background (gtk_widget_get_style_context (widget), cr, 0, 0,
                         sw_strip_view_width (self), gtk_widget_get_allocated_height (widget));
  sw_strip_brush_draw (&self->brush, cr, (gint64)sw_strip_offset (self),
                       sw_strip_view_width (self));
  return FALSE;
}

static void
sw_strip_view_realize (GtkWidget *widget)
{
  sw_widget_realize (widget, GDK_BUTTON_PRESS_MASK | GDK_BUTTON_RELEASE_MASK
                                 | GDK_BUTTON1_MOTION_MASK | GDK_POINTER_MOTION_MASK
                                 | GDK_SCROLL_MASK | GDK_SMOOTH_SCROLL_MASK | GDK_TOUCH_MASK);
}

static void
sw_strip_view_unrealize (GtkWidget *widget)
{
  sw_strip_brush_forget (&SW_STRIP_VIEW (widget)->brush, 0); /* surfaces of its window */
  GTK_WIDGET_CLASS (sw_strip_view_parent_class)->unrealize (widget);
}

static void
sw_strip_view_size_allocate (GtkWidget *widget, GtkAllocation *allocation)
{
  SwStripView *self = SW_STRIP_VIEW (widget);
  gboolean other = allocation->width != sw_strip_view_width (self);

  GTK_WIDGET_CLASS (sw_strip_view_parent_class)->size_allocate (widget, allocation);
  configure (widget);
  if (other)
    bring_into_view (self);
}

static void
sw_strip_view_preferred_width (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 240;
  *natural = 600;
}

static void
sw_strip_view_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = *natural = SW_STRIP_VIEW (widget)->brush.heights.height;
}

static void
sw_strip_view_style_updated (GtkWidget *widget)
{
  SwStripView *self = SW_STRIP_VIEW (widget);
  int before = self->brush.heights.height;

  GTK_WIDGET_CLASS (sw_strip_view_parent_class)->style_updated (widget);
  sw_strip_brush_measure (&self->brush);
  lay_out (self);
  configure (widget);
  if (self->brush.heights.height != before)
    gtk_widget_queue_resize (widget);
  gtk_widget_queue_draw (widget);
}

static void
sw_strip_view_direction_changed (GtkWidget *widget, GtkTextDirection before)
{
  sw_strip_brush_forget_words (&SW_STRIP_VIEW (widget)->brush);
  gtk_widget_queue_draw (widget);
}

static gboolean
sw_strip_view_focus (GtkWidget *widget, GdkEventFocus *event)
{
  gtk_widget_queue_draw (widget);
  if (event->in)
    sw_cells_accessible_selected (widget);
  return FALSE;
}

static void
sw_strip_view_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  sw_scroll_get (&SW_STRIP_VIEW (object)->scroll, id, value, pspec);
}

static void
sw_strip_view_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  sw_scroll_set (&SW_STRIP_VIEW (object)->scroll, id, value, pspec);
}

static void
sw_strip_view_dispose (GObject *object)
{
  SwStripView *self = SW_STRIP_VIEW (object);

  sw_scroll_clear (&self->scroll);
  sw_strip_view_set_pictures (self, NULL);
  g_clear_object (&self->press);
  g_clear_object (&self->drag);
  self->brush.strip = NULL;
  self->brush.cursor = -1;
  g_clear_pointer (&self->layout, sw_strip_layout_free);
  g_clear_pointer (&self->strip, sw_strip_free);
  G_OBJECT_CLASS (sw_strip_view_parent_class)->dispose (object);
}

static void
sw_strip_view_finalize (GObject *object)
{
  sw_strip_brush_clear (&SW_STRIP_VIEW (object)->brush);
  G_OBJECT_CLASS (sw_strip_view_parent_class)->finalize (object);
}

static void
bind_move (GtkBindingSet *set, guint key, GdkModifierType modifiers, GtkMovementStep step,
           int count)
{
  gtk_binding_entry_add_signal (set, key, modifiers, "move", 3, GTK_TYPE_MOVEMENT_STEP, step,
                                G_TYPE_INT, count, G_TYPE_BOOLEAN, modifiers == GDK_SHIFT_MASK);
}

static void
bind_keys (SwStripViewClass *klass)
{
  static const struct
  {
    guint key, keypad;
    GtkMovementStep step;
    int count;
  } moves[] = {
    { GDK_KEY_Left, GDK_KEY_KP_Left, GTK_MOVEMENT_VISUAL_POSITIONS, -1 },
    { GDK_KEY_Right, GDK_KEY_KP_Right, GTK_MOVEMENT_VISUAL_POSITIONS, 1 },
    { GDK_KEY_Up, GDK_KEY_KP_Up, GTK_MOVEMENT_PARAGRAPHS, -1 },
    { GDK_KEY_Down, GDK_KEY_KP_Down, GTK_MOVEMENT_PARAGRAPHS, 1 },
    { GDK_KEY_Page_Up, GDK_KEY_KP_Page_Up, GTK_MOVEMENT_PAGES, -1 },
    { GDK_KEY_Page_Down, GDK_KEY_KP_Page_Down, GTK_MOVEMENT_PAGES, 1 },
    { GDK_KEY_Home, GDK_KEY_KP_Home, GTK_MOVEMENT_BUFFER_ENDS, -1 },
    { GDK_KEY_End, GDK_KEY_KP_End, GTK_MOVEMENT_BUFFER_ENDS, 1 },
  };
  GtkBindingSet *set = gtk_binding_set_by_class (klass);

  for (guint i = 0; i < G_N_ELEMENTS (moves); i++)
    {
      bind_move (set, moves[i].key, 0, moves[i].step, moves[i].count);
      bind_move (set, moves[i].keypad, 0, moves[i].step, moves[i].count);
    }
  bind_move (set, GDK_KEY_Left, GDK_SHIFT_MASK, GTK_MOVEMENT_VISUAL_POSITIONS, -1);
  bind_move (set, GDK_KEY_Right, GDK_SHIFT_MASK, GTK_MOVEMENT_VISUAL_POSITIONS, 1);
  gtk_binding_entry_add_signal (set, GDK_KEY_Return, 0, "activate-chosen", 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_KP_Enter, 0, "activate-chosen", 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_Escape, 0, "pick-nothing", 0);
}

static void
sw_strip_view_class_init (SwStripViewClass *klass)
{
  GObjectClass *object = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  const GSignalFlags action = G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION;

  object->get_property = sw_strip_view_get_property;
  object->set_property = sw_strip_view_set_property;
  object->dispose = sw_strip_view_dispose;
  object->finalize = sw_strip_view_finalize;
  widget->realize = sw_strip_view_realize;
  widget->unrealize = sw_strip_view_unrealize;
  widget->size_allocate = sw_strip_view_size_allocate;
  widget->get_preferred_width = sw_strip_view_preferred_width;
  widget->get_preferred_height = sw_strip_view_preferred_height;
  widget->style_updated = sw_strip_view_style_updated;
  widget->direction_changed = sw_strip_view_direction_changed;
  widget->draw = sw_strip_view_draw;
  widget->focus_in_event = sw_strip_view_focus;
  widget->focus_out_event = sw_strip_view_focus;
  widget->scroll_event = sw_strip_pointer_scroll;
  widget->query_tooltip = sw_strip_pointer_tooltip;
  sw_scroll_install (object);
  signals[CHOSEN] = g_signal_new ("chosen", SW_TYPE_STRIP_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
  signals[ACTIVATED] = g_signal_new ("activated", SW_TYPE_STRIP_VIEW, G_SIGNAL_RUN_LAST, 0, NULL,
                                     NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[DROPPED] = g_signal_new ("dropped", SW_TYPE_STRIP_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[MOVE] = g_signal_new_class_handler (
      "move", SW_TYPE_STRIP_VIEW, action, G_CALLBACK (move), g_signal_accumulator_true_handled,
      NULL, NULL, G_TYPE_BOOLEAN, 3, GTK_TYPE_MOVEMENT_STEP, G_TYPE_INT, G_TYPE_BOOLEAN);
  signals[ACTIVATE_CHOSEN] = g_signal_new_class_handler (
      "activate-chosen", SW_TYPE_STRIP_VIEW, action, G_CALLBACK (sw_strip_activate_chosen),
      g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 0);
  signals[PICK_NOTHING] = g_signal_new_class_handler (
      "pick-nothing", SW_TYPE_STRIP_VIEW, action, G_CALLBACK (sw_strip_pick_nothing),
      g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 0);
  bind_keys (klass);
  gtk_widget_class_set_css_name (widget, "strip");
  gtk_widget_class_set_accessible_type (widget, SW_TYPE_CELLS_ACCESSIBLE);
}

static void
sw_strip_view_init (SwStripView *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->anchor = -1;
  sw_scroll_init (&self->scroll, widget, configure);
  gtk_widget_set_has_window (widget, TRUE);
  gtk_widget_set_can_focus (widget, TRUE);
  gtk_widget_set_has_tooltip (widget, TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (widget), GTK_STYLE_CLASS_VIEW);
  sw_strip_brush_init (&self->brush, widget);
  sw_strip_brush_measure (&self->brush);
  sw_strip_pointer_init (self);
}

/* ---- public ---- */

static void
on_loaded (SwPictures *pictures, gint64 photo, SwStripView *self)
{
  sw_strip_brush_forget (&self->brush, photo);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_strip_view_set_pictures (SwStripView *self, SwPictures *pictures)
{
  sw_pictures_follow (&self->pictures, &self->loaded_id, pictures, G_CALLBACK (on_loaded), self);
  self->brush.pictures = pictures;
}

static int
find_photo (SwStripView *self, gint64 photo)
{
  for (int u = 0; u < sw_strip_n_units (self); u++)
    if (sw_strip_unit_at (self, u)->photo == photo)
      return u;
  return -1;
}

static gint64
photo_at (SwStripView *self, int u)
{
  return u >= 0 ? sw_strip_unit_at (self, u)->photo : 0;
}

/* A run that still lies in one stop stays picked. */
static void
keep_picked (SwStripView *self, gint64 from, gint64 upto)
{
  int a = from != 0 ? find_photo (self, from) : -1, b = upto != 0 ? find_photo (self, upto) : -1;

  sw_strip_pick_nothing_quietly (self);
  if (a < 0 || b < 0 || sw_strip_unit_at (self, a)->stop < 0
      || sw_strip_unit_at (self, a)->stop != sw_strip_unit_at (self, b)->stop)
    return;
  self->anchor = self->brush.picked_from = MIN (a, b);
  self->brush.picked_to = MAX (a, b);
}

void
sw_strip_view_set_strip (SwStripView *self, SwStrip *strip)
{
  gboolean same_trip = self->strip != NULL && strip != NULL && self->strip->trip == strip->trip;
  int before = self->brush.cursor;
  gint64 photo = photo_at (self, before);
  gint64 from = photo_at (self, self->brush.picked_from);
  gint64 upto = photo_at (self, self->brush.picked_to);
  double on_screen
      = before >= 0 ? (double)self->layout->units[before].x - sw_strip_offset (self) : 0;

  if (self->dragging)
    sw_strip_stop_dragging (self);
  self->brush.strip = NULL;
  self->brush.cursor = -1;
  g_clear_pointer (&self->strip, sw_strip_free);
  self->strip = strip;
  lay_out (self);
  if (same_trip && before >= 0)
    self->brush.cursor = find_photo (self, photo);
  if (same_trip && self->brush.cursor < 0 && before >= 0)
    self->brush.cursor = MIN (before, sw_strip_n_units (self) - 1);
  keep_picked (self, same_trip ? from : 0, upto);
  configure (GTK_WIDGET (self));
  if (self->brush.cursor >= 0)
    sw_strip_set_offset (self, (double)self->layout->units[self->brush.cursor].x - on_screen);
  else
    sw_strip_set_offset (self, 0);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sw_cells_accessible_reset (GTK_WIDGET (self));
}

const SwStrip *
sw_strip_view_get_strip (SwStripView *self)
{
  return self->strip;
}

const SwStripUnit *
sw_strip_view_get_unit (SwStripView *self)
{
  return self->brush.cursor >= 0 ? sw_strip_unit_at (self, self->brush.cursor) : NULL;
}

const SwStopRecord *
sw_strip_view_get_stop (SwStripView *self)
{
  const SwStripUnit *unit = sw_strip_view_get_unit (self);

  return unit != NULL && unit->stop >= 0 ? g_ptr_array_index (self->strip->stops, (guint)unit->stop)
                                         : NULL;
}

char *
sw_strip_view_describe (SwStripView *self)
{
  return self->brush.cursor >= 0 ? sw_strip_unit_sentence (self->strip, (guint)self->brush.cursor)
                                 : g_strdup ("");
}

GArray *
sw_strip_view_get_photos (SwStripView *self)
{
  GArray *photos = g_array_new (FALSE, FALSE, sizeof (gint64));
  const SwStopRecord *stop = sw_strip_view_get_stop (self);

  if (stop != NULL && self->brush.picked_from < 0)
    g_array_append_vals (photos, stop->photos->data, stop->photos->len);
  for (int u = self->brush.picked_from; u >= 0 && u <= self->brush.picked_to; u++)
    if (sw_strip_unit_at (self, u)->kind == SW_STRIP_PHOTO)
      g_array_append_val (photos, sw_strip_unit_at (self, u)->photo);
  return photos;
}

gboolean
sw_strip_view_has_picked (SwStripView *self)
{
  return self->brush.picked_from >= 0;
}

void
sw_strip_view_toggle_picked (SwStripView *self)
{
  if (sw_strip_pick_nothing (self) || self->brush.cursor < 0)
    return;
  sw_strip_pick_to (self, self->brush.cursor);
}

void
sw_strip_view_choose_photo (SwStripView *self, gint64 photo)
{
  int u = find_photo (self, photo);

  if (u >= 0)
    sw_strip_choose (self, u, TRUE);
}

gboolean
sw_strip_view_choose_stop (SwStripView *self, gint64 key)
{
  for (guint k = 0; self->strip != NULL && k < self->strip->stops->len; k++)
    if (sw_stop_key (g_ptr_array_index (self->strip->stops, k)) == key)
      {
        sw_strip_pick_nothing_quietly (self);
        sw_strip_choose (self, (int)g_array_index (self->strip->begins, guint, k), TRUE);
        return TRUE;
      }
  return FALSE;
}

/* Whether the stop is what is looked for: doubtful ones first, then any that is open. */
static gboolean
is_open (const SwStopRecord *stop, gboolean doubts)
{
  return stop->n_open > 0 && (!doubts || g_strcmp0 (stop->band, "sure") != 0);
}

gboolean
sw_strip_view_next_doubt (SwStripView *self, gboolean back)
{
  int n = self->strip != NULL ? (int)self->strip->stops->len : 0;
  const SwStripUnit *unit = sw_strip_view_get_unit (self);
  int from = unit != NULL && unit->stop >= 0 ? unit->stop : back ? n : -1;

  for (int doubts = 1; doubts >= 0; doubts--)
    for (int step = 1; step <= n; step++)
      {
        int k = ((from + (back ? -step : step)) % n + n) % n;
        const SwStopRecord *stop = g_ptr_array_index (self->strip->stops, (guint)k);

        if (is_open (stop, doubts))
          return sw_strip_view_choose_stop (self, sw_stop_key (stop));
      }
  return FALSE;
}
