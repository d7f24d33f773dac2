/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The list that draws its rows. GtkScrollable with a virtual offset (an X window ends at 32,767
 * px), rows found by binary search in running heights, their accessible side in cells-accessible.c.
 * Asks SwRows for what is in view; knows no item, stop or catalogue. */
#include "app/row-list.h"

#include "app/cells-accessible.h"
#include "app/row-draw.h"
#include "app/row-keep.h"
#include "app/scroll.h"
#include "app/widgets.h"

struct _SwRowList
{
  GtkWidget parent;
  SwRows *rows;
  SwPictures *pictures;
  gulong loaded_id;
  gint64 *ends; /* running sums of heights; ends[i] is the bottom of row i */
  int line;     /* height of a text line */
  int chosen;   /* -1: none */
  int hover;
  SwScroll scroll;
  SwRowKeep keep; /* rows as they were drawn that are neither chosen nor under the pointer */
  GtkGesture *press;
  gboolean no_choice_by_focus;
};

enum
{
  SELECTED,
  CLICKED,
  ACTIVATED,
  MOVE,
  ACTIVATE_CHOSEN,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void cells_init (SwCellsInterface *iface);

G_DEFINE_TYPE_WITH_CODE (SwRowList, sw_row_list, GTK_TYPE_WIDGET,
                         G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, NULL)
                             G_IMPLEMENT_INTERFACE (SW_TYPE_CELLS, cells_init))

/* ---- geometry ---- */

static void
measure (SwRowList *self)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), "Xg");
  guint n = sw_rows_count (self->rows);
  gint64 end = 0;
  SwRowBrush brush;

  pango_layout_get_pixel_size (layout, NULL, &self->line);
  brush = (SwRowBrush){ GTK_WIDGET (self), self->pictures, self->line };
  g_free (self->ends);
  self->ends = g_new (gint64, n + 1);
  for (guint i = 0; i < n; i++)
    {
      end += sw_row_height (&brush, sw_rows_kind (self->rows, i));
      self->ends[i] = end;
    }
}

static gint64
total_height (SwRowList *self)
{
  guint n = sw_rows_count (self->rows);
  return n > 0 ? self->ends[n - 1] : 0;
}

static gint64
row_top (SwRowList *self, int i)
{
  return i > 0 ? self->ends[i - 1] : 0;
}

/* First row whose bottom lies below y; count for none. */
static int
row_below (SwRowList *self, gint64 y)
{
  int low = 0, high = (int)sw_rows_count (self->rows);

  while (low < high)
    {
      int middle = low + (high - low) / 2;
      if (self->ends[middle] > y)
        high = middle;
      else
        low = middle + 1;
    }
  return low;
}

static double
offset (SwRowList *self)
{
  return sw_scroll_value (&self->scroll, 1);
}

static int
row_at (SwRowList *self, double y)
{
  int i = row_below (self, (gint64)(y + offset (self)));
  return i < (int)sw_rows_count (self->rows) ? i : -1;
}

static void
configure_adjustments (GtkWidget *widget)
{
  SwRowList *self = SW_ROW_LIST (widget);

  sw_scroll_range (&self->scroll, 0, 0, self->line * 3);
  sw_scroll_range (&self->scroll, 1, (double)total_height (self), self->line * 3);
}

static void
bring_into_view (SwRowList *self, int i)
{
  if (i >= 0 && self->scroll.adjustments[1] != NULL)
    gtk_adjustment_clamp_page (self->scroll.adjustments[1], row_top (self, i), self->ends[i]);
}

/* ---- choosing ---- */

static void
choose (SwRowList *self, int i, gboolean tell)
{
  gboolean same = self->chosen == i;

  self->chosen = i;
  bring_into_view (self, i);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (same)
    return;
  sw_cells_accessible_selected (GTK_WIDGET (self));
  if (tell)
    g_signal_emit (self, signals[SELECTED], 0, sw_row_list_get_key (self));
}

static gboolean
move (SwRowList *self, GtkMovementStep step, int count)
{
  int n = (int)sw_rows_count (self->rows), to = self->chosen;

  if (n == 0)
    return FALSE;
  if (step == GTK_MOVEMENT_BUFFER_ENDS)
    to = count < 0 ? 0 : n - 1;
  else if (step == GTK_MOVEMENT_PAGES)
    {
      gint64 from = self->chosen >= 0 ? row_top (self, self->chosen) : (gint64)offset (self);
      int page = gtk_widget_get_allocated_height (GTK_WIDGET (self));
      to = row_below (self, MAX (0, from + (gint64)count * page));
    }
  else
    to = self->chosen < 0 ? (count > 0 ? 0 : n - 1) : self->chosen + count;
  choose (self, CLAMP (to, 0, n - 1), TRUE);
  return TRUE;
}

static gboolean
activate_chosen (SwRowList *self)
{
  if (self->chosen < 0)
    return FALSE;
  g_signal_emit (self, signals[ACTIVATED], 0, sw_row_list_get_key (self));
  return TRUE;
}

static void
on_pressed (GtkGestureMultiPress *gesture, int n_press, double x, double y, SwRowList *self)
{
  int i = row_at (self, y);

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (i < 0)
    return;
  choose (self, i, TRUE);
  if (n_press == 1)
    g_signal_emit (self, signals[CLICKED], 0, sw_row_list_get_key (self));
  if (n_press == 2)
    activate_chosen (self);
}

/* ---- drawing ---- */

static void
paint_row (SwRowList *self, cairo_t *cr, int i, const SwRowFace *face, const GdkRectangle *row)
{
  GtkWidget *widget = GTK_WIDGET (self);
  const SwRowBrush brush = { widget, self->pictures, self->line };
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  GtkStateFlags state
      = gtk_widget_get_state_flags (widget)
        & ~(GTK_STATE_FLAG_SELECTED | GTK_STATE_FLAG_PRELIGHT | GTK_STATE_FLAG_FOCUSED);

  if (i == self->chosen)
    state |= GTK_STATE_FLAG_SELECTED;
  if (i == self->hover)
    state |= GTK_STATE_FLAG_PRELIGHT;
  gtk_style_context_save (style);
  gtk_style_context_set_state (style, state);
  gtk_style_context_add_class (style, "sw-row");
  if (face->done)
    gtk_style_context_add_class (style, "sw-done");
  gtk_render_background (style, cr, row->x, row->y, row->width, row->height);
  gtk_render_frame (style, cr, row->x, row->y, row->width, row->height);
  sw_row_draw (&brush, cr, sw_rows_kind (self->rows, i), face, row);
  if (i == self->chosen && gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, row->x + 2, row->y + 2, row->width - 4, row->height - 4);
  gtk_style_context_restore (style);
}

/* Whether the row's picture has come, or none will. */
static gboolean
has_picture (SwRowList *self, const SwRowFace *face)
{
  gboolean missing = FALSE;

  return face->picture == 0 || self->pictures == NULL
         || sw_pictures_get (self->pictures, face->picture, SW_PICTURE_SMALL, &missing) != NULL
         || missing;
}

/* Draws the row on what is kept from now on. */
static cairo_surface_t *
keep_row (SwRowList *self, int i, const SwRowFace *face, int width, int height)
{
  GtkWidget *widget = GTK_WIDGET (self);
  cairo_surface_t *kept = sw_row_keep_add (&self->keep, gtk_widget_get_window (widget), (guint)i,
                                           height, face->picture);
  cairo_t *cr = cairo_create (kept);

  gtk_render_background (gtk_widget_get_style_context (widget), cr, 0, 0, width, height);
  paint_row (self, cr, i, face, &(GdkRectangle){ 0, 0, width, height });
  cairo_destroy (cr);
  return kept;
}

static void
draw_row (SwRowList *self, cairo_t *cr, int i, int top, int width)
{
  GdkRectangle row = { 0, top, width, (int)(self->ends[i] - row_top (self, i)) };
  gboolean plain = i != self->chosen && i != self->hover;
  cairo_surface_t *kept = plain ? sw_row_keep_find (&self->keep, (guint)i) : NULL;
  g_auto (SwRowFace) face = { 0 };

  if (kept == NULL)
    {
      sw_rows_face (self->rows, (guint)i, &face);
      if (plain && has_picture (self, &face))
        kept = keep_row (self, i, &face, row.width, row.height);
    }
  if (kept == NULL)
    {
      paint_row (self, cr, i, &face, &row);
      return;
    }
  cairo_set_source_surface (cr, kept, 0, top);
  cairo_paint (cr);
}

static gboolean
sw_row_list_draw (GtkWidget *widget, cairo_t *cr)
{
  SwRowList *self = SW_ROW_LIST (widget);
  int width = gtk_widget_get_allocated_width (widget);
  int height = gtk_widget_get_allocated_height (widget);
  int n = (int)sw_rows_count (self->rows);
  double top = offset (self);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);

  gtk_render_background (style, cr, 0, 0, width, height);
  sw_row_keep_begin (&self->keep, width, gtk_widget_get_scale_factor (widget));
  for (int i = row_below (self, (gint64)top); i < n; i++)
    {
      int y = (int)(row_top (self, i) - (gint64)top);
      if (y >= height)
        break;
      draw_row (self, cr, i, y, width);
    }
  sw_row_keep_end (&self->keep);
  return FALSE;
}

/* ---- widget ---- */

static void
sw_row_list_realize (GtkWidget *widget)
{
  sw_widget_realize (widget, GDK_BUTTON_PRESS_MASK | GDK_BUTTON_RELEASE_MASK
                                 | GDK_POINTER_MOTION_MASK | GDK_LEAVE_NOTIFY_MASK | GDK_SCROLL_MASK
                                 | GDK_SMOOTH_SCROLL_MASK | GDK_TOUCH_MASK);
}

static void
sw_row_list_size_allocate (GtkWidget *widget, GtkAllocation *allocation)
{
  SwRowList *self = SW_ROW_LIST (widget);

  GTK_WIDGET_CLASS (sw_row_list_parent_class)->size_allocate (widget, allocation);
  configure_adjustments (GTK_WIDGET (self));
  bring_into_view (self, self->chosen);
}

static void
sw_row_list_preferred_width (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 240;
  *natural = 320;
}

static void
sw_row_list_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 80;
  *natural = 240;
}

static void
sw_row_list_style_updated (GtkWidget *widget)
{
  SwRowList *self = SW_ROW_LIST (widget);

  GTK_WIDGET_CLASS (sw_row_list_parent_class)->style_updated (widget);
  sw_row_keep_clear (&self->keep);
  measure (self);
  configure_adjustments (GTK_WIDGET (self));
  gtk_widget_queue_draw (widget);
}

static void
sw_row_list_state_flags_changed (GtkWidget *widget, GtkStateFlags before)
{
  sw_row_keep_clear (&SW_ROW_LIST (widget)->keep);
  GTK_WIDGET_CLASS (sw_row_list_parent_class)->state_flags_changed (widget, before);
}

static gboolean
sw_row_list_focus_in (GtkWidget *widget, GdkEventFocus *event)
{
  SwRowList *self = SW_ROW_LIST (widget);

  gtk_widget_queue_draw (widget);
  if (self->chosen < 0 && !self->no_choice_by_focus && sw_rows_count (self->rows) > 0)
    choose (self, 0, TRUE);
  else
    sw_cells_accessible_selected (widget);
  return GTK_WIDGET_CLASS (sw_row_list_parent_class)->focus_in_event (widget, event);
}

static gboolean
sw_row_list_motion (GtkWidget *widget, GdkEventMotion *event)
{
  SwRowList *self = SW_ROW_LIST (widget);
  int i = row_at (self, event->y);

  if (i != self->hover)
    gtk_widget_queue_draw (widget);
  self->hover = i;
  /* the parent's handler feeds the gestures */
  return GTK_WIDGET_CLASS (sw_row_list_parent_class)->motion_notify_event (widget, event);
}

static gboolean
sw_row_list_leave (GtkWidget *widget, GdkEventCrossing *event)
{
  SW_ROW_LIST (widget)->hover = -1;
  gtk_widget_queue_draw (widget);
  return FALSE;
}

static void
sw_row_list_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  sw_scroll_get (&SW_ROW_LIST (object)->scroll, id, value, pspec);
}

static void
sw_row_list_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  sw_scroll_set (&SW_ROW_LIST (object)->scroll, id, value, pspec);
}

static void
sw_row_list_dispose (GObject *object)
{
  SwRowList *self = SW_ROW_LIST (object);

  sw_row_keep_clear (&self->keep);
  sw_scroll_clear (&self->scroll);
  sw_row_list_set_pictures (self, NULL);
  g_clear_object (&self->press);
  g_clear_pointer (&self->rows, sw_rows_unref);
  self->chosen = -1;
  G_OBJECT_CLASS (sw_row_list_parent_class)->dispose (object);
}

static void
sw_row_list_finalize (GObject *object)
{
  g_clear_pointer (&SW_ROW_LIST (object)->ends, g_free);
  G_OBJECT_CLASS (sw_row_list_parent_class)->finalize (object);
}

static void
bind_move (GtkBindingSet *set, guint key, guint keypad, GtkMovementStep step, int count)
{
  gtk_binding_entry_add_signal (set, key, 0, "move", 2, GTK_TYPE_MOVEMENT_STEP, step, G_TYPE_INT,
                                count);
  gtk_binding_entry_add_signal (set, keypad, 0, "move", 2, GTK_TYPE_MOVEMENT_STEP, step, G_TYPE_INT,
                                count);
}

static void
bind_keys (SwRowListClass *klass)
{
  GtkBindingSet *set = gtk_binding_set_by_class (klass);

  bind_move (set, GDK_KEY_Up, GDK_KEY_KP_Up, GTK_MOVEMENT_DISPLAY_LINES, -1);
  bind_move (set, GDK_KEY_Down, GDK_KEY_KP_Down, GTK_MOVEMENT_DISPLAY_LINES, 1);
  bind_move (set, GDK_KEY_Page_Up, GDK_KEY_KP_Page_Up, GTK_MOVEMENT_PAGES, -1);
  bind_move (set, GDK_KEY_Page_Down, GDK_KEY_KP_Page_Down, GTK_MOVEMENT_PAGES, 1);
  bind_move (set, GDK_KEY_Home, GDK_KEY_KP_Home, GTK_MOVEMENT_BUFFER_ENDS, -1);
  bind_move (set, GDK_KEY_End, GDK_KEY_KP_End, GTK_MOVEMENT_BUFFER_ENDS, 1);
  gtk_binding_entry_add_signal (set, GDK_KEY_Return, 0, "activate-chosen", 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_KP_Enter, 0, "activate-chosen", 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_space, 0, "activate-chosen", 0);
}

static void
sw_row_list_class_init (SwRowListClass *klass)
{
  GObjectClass *object = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  object->get_property = sw_row_list_get_property;
  object->set_property = sw_row_list_set_property;
  object->dispose = sw_row_list_dispose;
  object->finalize = sw_row_list_finalize;
  widget->realize = sw_row_list_realize;
  widget->size_allocate = sw_row_list_size_allocate;
  widget->get_preferred_width = sw_row_list_preferred_width;
  widget->get_preferred_height = sw_row_list_preferred_height;
  widget->style_updated = sw_row_list_style_updated;
  widget->state_flags_changed = sw_row_list_state_flags_changed;
  widget->draw = sw_row_list_draw;
  widget->focus_in_event = sw_row_list_focus_in;
  widget->motion_notify_event = sw_row_list_motion;
  widget->leave_notify_event = sw_row_list_leave;
  sw_scroll_install (object);
  signals[SELECTED] = g_signal_new ("selected", SW_TYPE_ROW_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[CLICKED] = g_signal_new ("clicked", SW_TYPE_ROW_LIST, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                   NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[ACTIVATED] = g_signal_new ("activated", SW_TYPE_ROW_LIST, G_SIGNAL_RUN_LAST, 0, NULL,
                                     NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[MOVE]
      = g_signal_new_class_handler ("move", SW_TYPE_ROW_LIST, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION,
                                    G_CALLBACK (move), g_signal_accumulator_true_handled, NULL,
                                    NULL, G_TYPE_BOOLEAN, 2, GTK_TYPE_MOVEMENT_STEP, G_TYPE_INT);
  signals[ACTIVATE_CHOSEN] = g_signal_new_class_handler (
      "activate-chosen", SW_TYPE_ROW_LIST, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION,
      G_CALLBACK (activate_chosen), g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN,
      0);
  bind_keys (klass);
  gtk_widget_class_set_css_name (widget, "rowlist");
  gtk_widget_class_set_accessible_type (widget, SW_TYPE_CELLS_ACCESSIBLE);
}

static void
sw_row_list_init (SwRowList *self)
{
  self->chosen = -1;
  self->hover = -1;
  sw_scroll_init (&self->scroll, GTK_WIDGET (self), configure_adjustments);
  gtk_widget_set_has_window (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_focus (GTK_WIDGET (self), TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)),
                               GTK_STYLE_CLASS_VIEW);
  self->press = gtk_gesture_multi_press_new (GTK_WIDGET (self));
  g_signal_connect (self->press, "pressed", G_CALLBACK (on_pressed), self);
  measure (self);
}

/* ---- cells ---- */

static int
cells_count (SwCells *cells)
{
  return (int)sw_rows_count (SW_ROW_LIST (cells)->rows);
}

static char *
cells_name (SwCells *cells, int i)
{
  g_auto (SwRowFace) face = { 0 };

  sw_rows_face (SW_ROW_LIST (cells)->rows, (guint)i, &face);
  return g_strdup (face.sentence != NULL ? face.sentence : face.title);
}

static void
cells_extents (SwCells *cells, int i, GdkRectangle *out_area)
{
  SwRowList *self = SW_ROW_LIST (cells);
  gint64 y = row_top (self, i) - (gint64)offset (self);

  out_area->x = 0;
  out_area->y = (int)CLAMP (y, -G_MAXINT / 2, G_MAXINT / 2);
  out_area->width = gtk_widget_get_allocated_width (GTK_WIDGET (self));
  out_area->height = (int)(self->ends[i] - row_top (self, i));
}

static int
cells_selected (SwCells *cells)
{
  return SW_ROW_LIST (cells)->chosen;
}

static void
cells_select (SwCells *cells, int i)
{
  choose (SW_ROW_LIST (cells), i, TRUE);
}

static void
cells_activate (SwCells *cells, int i)
{
  choose (SW_ROW_LIST (cells), i, TRUE);
  activate_chosen (SW_ROW_LIST (cells));
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

GtkWidget *
sw_row_list_new (void)
{
  return g_object_new (SW_TYPE_ROW_LIST, NULL);
}

void
sw_row_list_set_rows (SwRowList *self, SwRows *rows)
{
  gint64 key = sw_row_list_get_key (self);
  int before = self->chosen, n = (int)sw_rows_count (rows);
  int i = key != 0 ? sw_rows_find (rows, key) : -1;

  g_clear_pointer (&self->rows, sw_rows_unref);
  self->rows = rows != NULL ? sw_rows_ref (rows) : NULL;
  sw_row_keep_clear (&self->keep);
  self->hover = -1;
  self->chosen = i >= 0 ? i : (before >= 0 && n > 0 ? MIN (before, n - 1) : -1);
  measure (self);
  configure_adjustments (GTK_WIDGET (self));
  bring_into_view (self, self->chosen);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sw_cells_accessible_reset (GTK_WIDGET (self));
  if (i < 0 && before >= 0)
    g_signal_emit (self, signals[SELECTED], 0, sw_row_list_get_key (self));
}

void
sw_row_list_told (SwRowList *self, guint first, guint n)
{
  sw_row_keep_told (&self->keep, first, n);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sw_cells_accessible_told (GTK_WIDGET (self), (int)first, (int)n);
}

void
sw_row_list_redraw (SwRowList *self)
{
  sw_row_keep_clear (&self->keep);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_loaded (SwPictures *pictures, gint64 photo, SwRowList *self)
{
  sw_row_keep_loaded (&self->keep, photo);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_row_list_set_pictures (SwRowList *self, SwPictures *pictures)
{
  sw_pictures_follow (&self->pictures, &self->loaded_id, pictures, G_CALLBACK (on_loaded), self);
}

gint64
sw_row_list_get_key (SwRowList *self)
{
  return self->chosen >= 0 ? sw_rows_key (self->rows, (guint)self->chosen) : 0;
}

gboolean
sw_row_list_set_key (SwRowList *self, gint64 key)
{
  int i = sw_rows_find (self->rows, key);

  choose (self, i, FALSE);
  return i >= 0;
}

void
sw_row_list_set_choose_on_focus (SwRowList *self, gboolean choose)
{
  self->no_choice_by_focus = !choose;
}

guint
sw_row_list_get_count (SwRowList *self)
{
  return sw_rows_count (self->rows);
}

void
sw_row_list_choose_first (SwRowList *self)
{
  if (sw_rows_count (self->rows) > 0)
    choose (self, 0, TRUE);
}
