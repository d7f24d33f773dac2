/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One large photo over a strip of small ones, or as many large ones as there is room for. Each is a
 * cell for readers (cells-accessible.c). Draws what SwPictures has; knows no catalogue. */
#include "app/photo-view.h"

#include "app/cells-accessible.h"
#include "app/widgets.h"
#include "app/window.h"
#include "core/base/language.h"

#define CELL_W 72
#define CELL_H 54
#define GAP 6
#define DROP_W 5
#define LEAST_LARGE 170
#define MOST_LARGE 216 /* the sheet has fields to show below it */
/* Spread out: a photo is not made smaller than this for the sake of one more. */
#define LEAST_SPREAD_W 290
#define LEAST_SPREAD_H 220

struct _SwPhotoView
{
  GtkWidget parent;
  SwPictures *pictures;
  gulong loaded_id;
  gint64 *photos;
  char **captions;
  int n, chosen; /* chosen -1: none */
  int first;     /* leftmost cell of the strip in view, or the first one spread out */
  gboolean spread;
  int dragged, drop; /* cells of the strip; dragged -1: none is */
  GtkGesture *press, *drag;
};

enum
{
  SELECTED,
  MOVED,
  GO,
  MOVE,
  CLOSER,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void cells_init (SwCellsInterface *iface);

G_DEFINE_TYPE_WITH_CODE (SwPhotoView, sw_photo_view, GTK_TYPE_WIDGET,
                         G_IMPLEMENT_INTERFACE (SW_TYPE_CELLS, cells_init))

static gboolean
is_mirrored (SwPhotoView *self)
{
  return gtk_widget_get_direction (GTK_WIDGET (self)) == GTK_TEXT_DIR_RTL;
}

static int
strip_height (SwPhotoView *self)
{
  return self->n > 1 && !self->spread ? CELL_H + GAP : 0;
}

/* Columns and rows in which as many photos as fit are largest; photos are 4:3 as a rule. */
static void
spread_shape (SwPhotoView *self, int *out_columns, int *out_rows)
{
  int width = gtk_widget_get_allocated_width (GTK_WIDGET (self));
  int height = gtk_widget_get_allocated_height (GTK_WIDGET (self));
  int most_columns = MAX (1, (width + GAP) / (LEAST_SPREAD_W + GAP));
  int most_rows = MAX (1, (height + GAP) / (LEAST_SPREAD_H + GAP));
  int n = CLAMP (self->n, 1, most_columns * most_rows), best = 0;

  for (int columns = 1; columns <= MIN (n, most_columns); columns++)
    {
      int rows = (n + columns - 1) / columns;
      int w = (width + GAP) / columns - GAP, h = (height + GAP) / rows - GAP;
      int side = MIN (w, h * 4 / 3);
      if (rows > most_rows || side <= best)
        continue;
      best = side;
      *out_columns = columns;
      *out_rows = rows;
    }
}

static void
spread_area (SwPhotoView *self, int i, GdkRectangle *out_area)
{
  int width = gtk_widget_get_allocated_width (GTK_WIDGET (self));
  int height = gtk_widget_get_allocated_height (GTK_WIDGET (self));
  int columns = 1, rows = 1, at = i - self->first;

  spread_shape (self, &columns, &rows);
  out_area->width = MAX (1, (width + GAP) / columns - GAP);
  out_area->height = MAX (1, (height + GAP) / rows - GAP);
  out_area->x = (at % columns) * (out_area->width + GAP);
  out_area->y = (at / columns) * (out_area->height + GAP);
  if (is_mirrored (self))
    out_area->x = width - out_area->x - out_area->width;
}

static int
cells_in_view (SwPhotoView *self)
{
  int width = gtk_widget_get_allocated_width (GTK_WIDGET (self));
  int columns = 1, rows = 1;

  if (!self->spread)
    return MAX (1, (width + GAP) / (CELL_W + GAP));
  spread_shape (self, &columns, &rows);
  return columns * rows;
}

static void
keep_in_view (SwPhotoView *self)
{
  int seen = cells_in_view (self);

  if (self->chosen >= 0 && self->chosen < self->first)
    self->first = self->chosen;
  if (self->chosen >= self->first + seen)
    self->first = self->chosen - seen + 1;
  self->first = CLAMP (self->first, 0, MAX (0, self->n - seen));
}

static void
choose (SwPhotoView *self, int i, gboolean tell)
{
  gboolean same = self->chosen == i;

  self->chosen = i;
  keep_in_view (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (same)
    return;
  sw_cells_accessible_selected (GTK_WIDGET (self));
  if (tell)
    g_signal_emit (self, signals[SELECTED], 0, sw_photo_view_get_photo (self));
}

/* Left is towards the first one, but where one reads from the right. */
static int
step_of_key (SwPhotoView *self, int step)
{
  return is_mirrored (self) && ABS (step) == 1 ? -step : step;
}

static gboolean
go (SwPhotoView *self, int step)
{
  int to = CLAMP (self->chosen + step_of_key (self, step), 0, self->n - 1);

  if (self->n == 0 || to == self->chosen)
    return FALSE;
  choose (self, to, TRUE);
  return TRUE;
}

/* Whether somebody keeps an order of these photos. */
static gboolean
is_ordered (SwPhotoView *self)
{
  return g_signal_has_handler_pending (self, signals[MOVED], 0, FALSE);
}

/* FALSE where there is no order, or it is there. */
static gboolean
move_to (SwPhotoView *self, int from, int to)
{
  to = CLAMP (to, 0, MAX (0, self->n - 1));
  if (from < 0 || from == to || !is_ordered (self))
    return FALSE;
  g_signal_emit (self, signals[MOVED], 0, self->photos[from], to + 1);
  return TRUE;
}

static gboolean
move (SwPhotoView *self, int step)
{
  return move_to (self, self->chosen, self->chosen + step_of_key (self, step));
}

static void
on_closed (gpointer view, gint64 photo)
{
  SwPhotoView *self = view;

  for (int i = 0; i < self->n; i++)
    if (self->photos[i] == photo)
      choose (self, i, TRUE);
}

gboolean
sw_photo_view_look_closer (SwPhotoView *self)
{
  GtkWidget *window = gtk_widget_get_toplevel (GTK_WIDGET (self));

  if (self->n == 0 || !SW_IS_WINDOW (window))
    return FALSE;
  sw_window_look_closer (SW_WINDOW (window), self->photos, (guint)self->n,
                         sw_photo_view_get_photo (self), G_OBJECT (self), on_closed);
  return TRUE;
}

static void
on_pressed (GtkGestureMultiPress *gesture, int n_press, double x, double y, SwPhotoView *self)
{
  int i = sw_cells_at (SW_CELLS (self), (int)x, (int)y);

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (i >= 0)
    choose (self, i, TRUE);
  if (n_press == 2)
    sw_photo_view_look_closer (self);
}

/* ---- dragging within the strip ---- */

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, SwPhotoView *self)
{
  int i = sw_cells_at (SW_CELLS (self), (int)x, (int)y);

  if (self->spread || self->n < 2 || i < 0 || !is_ordered (self))
    gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_DENIED);
}

/* The cell in whose place it would come: the one in view that the pointer is nearest to. */
static int
drop_at (SwPhotoView *self, double x)
{
  int last = MIN (self->n, self->first + cells_in_view (self)) - 1, best = self->first;
  double least = G_MAXDOUBLE;

  for (int i = self->first; i <= last; i++)
    {
      GdkRectangle area;
      sw_cells_extents (SW_CELLS (self), i, &area);
      double away = ABS (area.x + area.width / 2.0 - x);
      if (away < least)
        best = i;
      least = MIN (least, away);
    }
  return best;
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, SwPhotoView *self)
{
  double x = 0, y = 0;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  if (self->dragged < 0
      && !gtk_drag_check_threshold (GTK_WIDGET (self), (int)x, (int)y, (int)(x + dx),
                                    (int)(y + dy)))
    return;
  if (self->dragged < 0)
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
      self->dragged = sw_cells_at (SW_CELLS (self), (int)x, (int)y);
    }
  self->drop = drop_at (self, x + dx);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, SwPhotoView *self)
{
  int from = self->dragged;

  self->dragged = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (from >= 0 && from < self->n)
    move_to (self, from, self->drop);
}

static void
on_drag_cancel (GtkGesture *gesture, GdkEventSequence *sequence, SwPhotoView *self)
{
  self->dragged = -1;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- drawing ---- */

/* A bar on the side of the drop cell where the dragged one would come to lie. */
static void
draw_drop (SwPhotoView *self, cairo_t *cr)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  gboolean behind = self->drop > self->dragged;
  GdkRectangle area;

  if (self->dragged < 0 || self->drop == self->dragged)
    return;
  sw_cells_extents (SW_CELLS (self), self->drop, &area);
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-drop-here");
  gtk_render_background (style, cr,
                         behind != is_mirrored (self) ? area.x + area.width - DROP_W : area.x,
                         area.y, DROP_W, area.height);
  gtk_style_context_restore (style);
}

static void
draw_cell (SwPhotoView *self, cairo_t *cr, int i)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  GdkRectangle area;

  sw_cells_extents (SW_CELLS (self), i, &area);
  if (i < self->first || area.x < 0 || area.x + area.width > gtk_widget_get_allocated_width (widget)
      || area.y + area.height > gtk_widget_get_allocated_height (widget))
    return;
  sw_pictures_draw (self->pictures, cr, style, self->photos[i],
                    self->spread ? SW_PICTURE_LARGE : SW_PICTURE_SMALL, &area, self->spread);
  if (i != self->chosen)
    return;
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-chosen");
  gtk_render_frame (style, cr, area.x, area.y, area.width, area.height);
  gtk_style_context_restore (style);
}

static void
draw_nothing (SwPhotoView *self, cairo_t *cr, const GdkRectangle *area)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  g_autoptr (PangoLayout) layout
      = gtk_widget_create_pango_layout (GTK_WIDGET (self), _ ("No photo yet"));
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, GTK_STYLE_CLASS_DIM_LABEL);
  gtk_render_layout (style, cr, (area->width - width) / 2.0, (area->height - height) / 2.0, layout);
  gtk_style_context_restore (style);
}

static gboolean
sw_photo_view_draw (GtkWidget *widget, cairo_t *cr)
{
  SwPhotoView *self = SW_PHOTO_VIEW (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  int width = gtk_widget_get_allocated_width (widget);
  int height = gtk_widget_get_allocated_height (widget);
  GdkRectangle large = { 0, 0, width, height - strip_height (self) };

  gtk_render_background (style, cr, 0, 0, width, large.height);
  if (self->chosen < 0)
    draw_nothing (self, cr, &large);
  else if (!self->spread || self->n == 1)
    sw_pictures_draw (self->pictures, cr, style, self->photos[self->chosen], SW_PICTURE_LARGE,
                      &large, TRUE);
  for (int i = self->first; self->n > 1 && i < self->n; i++)
    draw_cell (self, cr, i);
  draw_drop (self, cr);
  if (gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, 1, 1, width - 2, large.height - 2);
  return FALSE;
}

/* ---- widget ---- */

static void
sw_photo_view_realize (GtkWidget *widget)
{
  sw_widget_realize (widget, GDK_BUTTON_PRESS_MASK | GDK_BUTTON_RELEASE_MASK
                                 | GDK_BUTTON_MOTION_MASK | GDK_TOUCH_MASK);
}

static void
sw_photo_view_preferred_width (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 240;
  *natural = 480;
}

static GtkSizeRequestMode
sw_photo_view_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
sw_photo_view_height_for_width (GtkWidget *widget, int width, int *minimum, int *natural)
{
  SwPhotoView *self = SW_PHOTO_VIEW (widget);
  int large = CLAMP (width * 9 / 16, LEAST_LARGE, MOST_LARGE);

  if (self->spread)
    large = LEAST_SPREAD_H;
  else if (self->n == 0)
    large = LEAST_LARGE / 2;
  *minimum = *natural = large + strip_height (self);
  if (self->spread)
    *minimum = LEAST_SPREAD_H / 2;
}

static void
sw_photo_view_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  sw_photo_view_height_for_width (widget, 480, minimum, natural);
}

static void
sw_photo_view_size_allocate (GtkWidget *widget, GtkAllocation *allocation)
{
  GTK_WIDGET_CLASS (sw_photo_view_parent_class)->size_allocate (widget, allocation);
  keep_in_view (SW_PHOTO_VIEW (widget));
}

static gboolean
sw_photo_view_focus_in (GtkWidget *widget, GdkEventFocus *event)
{
  sw_cells_accessible_selected (widget);
  gtk_widget_queue_draw (widget);
  return GTK_WIDGET_CLASS (sw_photo_view_parent_class)->focus_in_event (widget, event);
}

static void
sw_photo_view_dispose (GObject *object)
{
  SwPhotoView *self = SW_PHOTO_VIEW (object);

  sw_photo_view_set_pictures (self, NULL);
  g_clear_object (&self->press);
  g_clear_object (&self->drag);
  self->n = 0;
  self->chosen = -1;
  G_OBJECT_CLASS (sw_photo_view_parent_class)->dispose (object);
}

static void
sw_photo_view_finalize (GObject *object)
{
  SwPhotoView *self = SW_PHOTO_VIEW (object);

  g_free (self->photos);
  g_strfreev (self->captions);
  G_OBJECT_CLASS (sw_photo_view_parent_class)->finalize (object);
}

static void
bind_step (GtkBindingSet *set, guint key, int step)
{
  gtk_binding_entry_add_signal (set, key, 0, "go", 1, G_TYPE_INT, step);
  gtk_binding_entry_add_signal (set, key, GDK_SHIFT_MASK, "move", 1, G_TYPE_INT, step);
}

static void
sw_photo_view_class_init (SwPhotoViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);
  GtkBindingSet *set = gtk_binding_set_by_class (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_photo_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = sw_photo_view_finalize;
  widget->realize = sw_photo_view_realize;
  widget->get_request_mode = sw_photo_view_request_mode;
  widget->get_preferred_width = sw_photo_view_preferred_width;
  widget->get_preferred_height = sw_photo_view_preferred_height;
  widget->get_preferred_height_for_width = sw_photo_view_height_for_width;
  widget->size_allocate = sw_photo_view_size_allocate;
  widget->draw = sw_photo_view_draw;
  widget->focus_in_event = sw_photo_view_focus_in;
  signals[SELECTED] = g_signal_new ("selected", SW_TYPE_PHOTO_VIEW, G_SIGNAL_RUN_LAST, 0, NULL,
                                    NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[MOVED] = g_signal_new ("moved", SW_TYPE_PHOTO_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                 NULL, G_TYPE_NONE, 2, G_TYPE_INT64, G_TYPE_INT);
  signals[MOVE] = g_signal_new_class_handler (
      "move", SW_TYPE_PHOTO_VIEW, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION, G_CALLBACK (move),
      g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 1, G_TYPE_INT);
  signals[GO] = g_signal_new_class_handler (
      "go", SW_TYPE_PHOTO_VIEW, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION, G_CALLBACK (go),
      g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 1, G_TYPE_INT);
  signals[CLOSER] = g_signal_new_class_handler (
      "look-closer", SW_TYPE_PHOTO_VIEW, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION,
      G_CALLBACK (sw_photo_view_look_closer), g_signal_accumulator_true_handled, NULL, NULL,
      G_TYPE_BOOLEAN, 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_Return, 0, "look-closer", 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_KP_Enter, 0, "look-closer", 0);
  bind_step (set, GDK_KEY_Left, -1);
  bind_step (set, GDK_KEY_Right, 1);
  bind_step (set, GDK_KEY_Home, -G_MAXINT / 2);
  bind_step (set, GDK_KEY_End, G_MAXINT / 2);
  gtk_widget_class_set_css_name (widget, "photoview");
  gtk_widget_class_set_accessible_type (widget, SW_TYPE_CELLS_ACCESSIBLE);
}

static void
sw_photo_view_init (SwPhotoView *self)
{
  self->chosen = self->dragged = -1;
  gtk_widget_set_has_window (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_focus (GTK_WIDGET (self), TRUE);
  self->press = gtk_gesture_multi_press_new (GTK_WIDGET (self));
  g_signal_connect (self->press, "pressed", G_CALLBACK (on_pressed), self);
  self->drag = gtk_gesture_drag_new (GTK_WIDGET (self));
  g_signal_connect (self->drag, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (self->drag, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (self->drag, "drag-end", G_CALLBACK (on_drag_end), self);
  g_signal_connect (self->drag, "cancel", G_CALLBACK (on_drag_cancel), self);
}

/* ---- cells ---- */

static int
cells_count (SwCells *cells)
{
  return SW_PHOTO_VIEW (cells)->n;
}

static char *
cells_name (SwCells *cells, int i)
{
  return g_strdup (SW_PHOTO_VIEW (cells)->captions[i]);
}

static void
cells_extents (SwCells *cells, int i, GdkRectangle *out_area)
{
  SwPhotoView *self = SW_PHOTO_VIEW (cells);
  int height = gtk_widget_get_allocated_height (GTK_WIDGET (self));

  if (self->n == 1)
    {
      *out_area
          = (GdkRectangle){ 0, 0, gtk_widget_get_allocated_width (GTK_WIDGET (self)), height };
      return;
    }
  if (self->spread)
    {
      spread_area (self, i, out_area);
      return;
    }
  *out_area = (GdkRectangle){ (i - self->first) * (CELL_W + GAP), height - CELL_H, CELL_W, CELL_H };
  if (is_mirrored (self))
    out_area->x = gtk_widget_get_allocated_width (GTK_WIDGET (self)) - out_area->x - CELL_W;
}

static int
cells_selected (SwCells *cells)
{
  return SW_PHOTO_VIEW (cells)->chosen;
}

static void
cells_select (SwCells *cells, int i)
{
  choose (SW_PHOTO_VIEW (cells), i, TRUE);
}

static void
cells_activate (SwCells *cells, int i)
{
  cells_select (cells, i);
  sw_photo_view_look_closer (SW_PHOTO_VIEW (cells));
}

static void
cells_init (SwCellsInterface *iface)
{
  iface->count = cells_count;
  iface->name = cells_name;
  iface->extents = cells_extents;
  iface->selected = cells_selected;
  iface->select = cells_select;
  iface->activate = cells_activate;
}

/* ---- public ---- */

static void
on_loaded (SwPictures *pictures, gint64 photo, SwPhotoView *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_photo_view_set_pictures (SwPhotoView *self, SwPictures *pictures)
{
  sw_pictures_follow (&self->pictures, &self->loaded_id, pictures, G_CALLBACK (on_loaded), self);
}

void
sw_photo_view_set_spread (SwPhotoView *self)
{
  self->spread = TRUE;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

gboolean
sw_photo_view_next (SwPhotoView *self, int step)
{
  if (self->n < 2)
    return FALSE;
  choose (self, (self->chosen + step + self->n) % self->n, TRUE);
  return TRUE;
}

void
sw_photo_view_set_photos (SwPhotoView *self, const gint64 *photos, const char *const *captions,
                          guint n)
{
  gint64 before = sw_photo_view_get_photo (self);

  g_free (self->photos);
  g_strfreev (self->captions);
  self->photos = g_memdup2 (photos, n * sizeof *photos);
  self->captions = g_new0 (char *, n + 1);
  self->n = (int)n;
  self->chosen = n > 0 ? 0 : -1;
  for (guint i = 0; i < n; i++)
    {
      self->captions[i] = g_strdup (captions[i]);
      if (photos[i] == before)
        self->chosen = (int)i;
    }
  keep_in_view (self);
  gtk_widget_queue_resize (GTK_WIDGET (self));
  sw_cells_accessible_reset (GTK_WIDGET (self));
}

gint64
sw_photo_view_get_photo (SwPhotoView *self)
{
  return self->chosen >= 0 && self->chosen < self->n ? self->photos[self->chosen] : 0;
}

const char *
sw_photo_view_get_caption (SwPhotoView *self)
{
  return self->chosen >= 0 && self->chosen < self->n ? self->captions[self->chosen] : "";
}
