/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The widget of the plan: its boxes, which one is chosen, how large it is. What is drawn is
 * plan-draw.c's and plan-walk.c's, what the pointer and the keys do plan-edit.c's; where boxes
 * stand by default plan-layout.c's. Knows no catalogue: text comes ready, changes are told by
 * signals. */
#include "app/plan-private.h"

#include "app/cells-accessible.h"
#include "app/widgets.h"

enum
{
  SELECTED,
  ACTIVATED,
  MOVED,
  DRAWN,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void cells_init (SwCellsInterface *iface);

G_DEFINE_TYPE_WITH_CODE (SwPlan, sw_plan, GTK_TYPE_WIDGET,
                         G_IMPLEMENT_INTERFACE (SW_TYPE_CELLS, cells_init))

SwPlanBox *
sw_plan_box (SwPlan *self, int i)
{
  return &g_array_index (self->boxes, SwPlanBox, i);
}

int
sw_plan_n_boxes (SwPlan *self)
{
  return self->boxes != NULL ? (int)self->boxes->len : 0;
}

int
sw_plan_find (SwPlan *self, gint64 place)
{
  for (int i = 0; i < sw_plan_n_boxes (self); i++)
    if (sw_plan_box (self, i)->id == place)
      return i;
  return -1;
}

/* ---- geometry ---- */

static int
height_in_units (SwPlan *self)
{
  return sw_plan_n_boxes (self) > 0 ? sw_plan_height (sw_plan_box (self, 0), self->boxes->len)
                                    : SW_PLAN_LEAST_HEIGHT;
}

/* By the width alone, so that text has room; what is too high for the view is scrolled. */
double
sw_plan_pixels (SwPlan *self, double *out_x)
{
  double width = gtk_widget_get_allocated_width (GTK_WIDGET (self));

  *out_x = 0;
  return MAX (width, 1) / SW_PLAN_WIDTH;
}

void
sw_plan_area (SwPlan *self, const SwPlanBox *box, GdkRectangle *out_area)
{
  double x, scale = sw_plan_pixels (self, &x);

  out_area->x = (int)(x + box->x * scale + 0.5);
  out_area->y = (int)(box->y * scale + 0.5);
  out_area->width = MAX (1, (int)(box->w * scale + 0.5));
  out_area->height = MAX (1, (int)(box->h * scale + 0.5));
}

/* Scrolls whatever view it is in. */
static void
bring_into_view (SwPlan *self, const SwPlanBox *box)
{
  GtkWidget *view = gtk_widget_get_ancestor (GTK_WIDGET (self), GTK_TYPE_VIEWPORT);
  GtkAdjustment *rolled
      = view != NULL ? gtk_scrollable_get_vadjustment (GTK_SCROLLABLE (view)) : NULL;
  GdkRectangle area;

  if (rolled == NULL)
    return;
  sw_plan_area (self, box, &area);
  gtk_adjustment_clamp_page (rolled, area.y - SW_PLAN_PAD, area.y + area.height + SW_PLAN_PAD);
}

/* ---- choosing ---- */

void
sw_plan_choose (SwPlan *self, int i, gboolean tell)
{
  gboolean same = self->chosen == i;

  if (!same)
    sw_plan_end_run (self);
  self->chosen = i;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (same)
    return;
  if (i >= 0)
    bring_into_view (self, sw_plan_box (self, i));
  sw_cells_accessible_selected (GTK_WIDGET (self));
  if (tell)
    g_signal_emit (self, signals[SELECTED], 0, sw_plan_get_place (self));
}

void
sw_plan_tell_moved (SwPlan *self)
{
  SwPlanBox *box = sw_plan_box (self, self->chosen);
  gint64 parent
      = sw_plan_parent_after_move (sw_plan_box (self, 0), (guint)sw_plan_n_boxes (self), box);

  gtk_widget_queue_resize (GTK_WIDGET (self));
  g_signal_emit (self, signals[MOVED], 0, box->id, parent, box->x, box->y, box->w, box->h);
}

void
sw_plan_tell_drawn (SwPlan *self)
{
  const SwPlanBox *box = &self->sketch;

  bring_into_view (self, box);
  g_signal_emit (self, signals[DRAWN], 0, box->parent, box->x, box->y, box->w, box->h);
}

void
sw_plan_activate_chosen (SwPlan *self)
{
  g_signal_emit (self, signals[ACTIVATED], 0, sw_plan_get_place (self));
}

/* ---- widget ---- */

static gboolean
sw_plan_motion (GtkWidget *widget, GdkEventMotion *event)
{
  SwPlan *self = SW_PLAN (widget);
  int i = sw_cells_at (SW_CELLS (self), (int)event->x, (int)event->y);

  sw_plan_edit_motion (self, event->x, event->y);
  if (i != self->hover)
    { /* what a small box cuts off stands whole in the tooltip */
      gtk_widget_set_tooltip_text (widget, i < 0 ? NULL : sw_plan_box (self, i)->sentence);
      gtk_widget_queue_draw (widget);
    }
  self->hover = i;
  /* the parent's handler feeds the gestures */
  return GTK_WIDGET_CLASS (sw_plan_parent_class)->motion_notify_event (widget, event);
}

static gboolean
sw_plan_leave (GtkWidget *widget, GdkEventCrossing *event)
{
  SW_PLAN (widget)->hover = -1;
  gtk_widget_queue_draw (widget);
  return FALSE;
}

static void
sw_plan_realize (GtkWidget *widget)
{
  sw_widget_realize (widget, GDK_BUTTON_PRESS_MASK | GDK_BUTTON_RELEASE_MASK
                                 | GDK_POINTER_MOTION_MASK | GDK_LEAVE_NOTIFY_MASK
                                 | GDK_TOUCH_MASK);
}

static GtkSizeRequestMode
sw_plan_request_mode (GtkWidget *widget)
{
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
sw_plan_preferred_width (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 280;
  *natural = 560;
}

static void
sw_plan_height_for_width (GtkWidget *widget, int width, int *minimum, int *natural)
{
  *minimum = *natural = (int)((double)height_in_units (SW_PLAN (widget)) * width / SW_PLAN_WIDTH);
}

static void
sw_plan_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  sw_plan_height_for_width (widget, 280, minimum, natural);
}

static gboolean
sw_plan_focus_in (GtkWidget *widget, GdkEventFocus *event)
{
  SwPlan *self = SW_PLAN (widget);

  /* Focus alone chooses nothing: it may come here by itself, and a choice narrows the list beside.
   */
  gtk_widget_queue_draw (widget);
  if (self->chosen >= 0)
    sw_cells_accessible_selected (widget);
  return GTK_WIDGET_CLASS (sw_plan_parent_class)->focus_in_event (widget, event);
}

static gboolean
sw_plan_focus_out (GtkWidget *widget, GdkEventFocus *event)
{
  sw_plan_end_run (SW_PLAN (widget));
  return GTK_WIDGET_CLASS (sw_plan_parent_class)->focus_out_event (widget, event);
}

static void
sw_plan_dispose (GObject *object)
{
  SwPlan *self = SW_PLAN (object);

  sw_plan_edit_dispose (self);
  g_clear_pointer (&self->boxes, g_array_unref);
  g_clear_pointer (&self->walk, g_array_unref);
  self->chosen = -1;
  G_OBJECT_CLASS (sw_plan_parent_class)->dispose (object);
}

static void
sw_plan_class_init (SwPlanClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_plan_dispose;
  widget->realize = sw_plan_realize;
  widget->get_request_mode = sw_plan_request_mode;
  widget->get_preferred_width = sw_plan_preferred_width;
  widget->get_preferred_height = sw_plan_preferred_height;
  widget->get_preferred_height_for_width = sw_plan_height_for_width;
  widget->draw = sw_plan_draw;
  widget->focus_in_event = sw_plan_focus_in;
  widget->focus_out_event = sw_plan_focus_out;
  widget->motion_notify_event = sw_plan_motion;
  widget->leave_notify_event = sw_plan_leave;
  signals[SELECTED] = g_signal_new ("selected", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[ACTIVATED] = g_signal_new ("activated", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                     NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[MOVED]
      = g_signal_new ("moved", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 6,
                      G_TYPE_INT64, G_TYPE_INT64, G_TYPE_INT, G_TYPE_INT, G_TYPE_INT, G_TYPE_INT);
  signals[DRAWN]
      = g_signal_new ("drawn", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 5,
                      G_TYPE_INT64, G_TYPE_INT, G_TYPE_INT, G_TYPE_INT, G_TYPE_INT);
  sw_plan_edit_bind_keys (klass);
  gtk_widget_class_set_css_name (widget, "plan");
  gtk_widget_class_set_accessible_type (widget, SW_TYPE_CELLS_ACCESSIBLE);
}

static void
sw_plan_init (SwPlan *self)
{
  self->chosen = -1;
  self->hover = -1;
  self->editable = TRUE;
  gtk_widget_set_has_window (GTK_WIDGET (self), TRUE);
  gtk_widget_set_can_focus (GTK_WIDGET (self), TRUE);
  sw_plan_edit_init (self);
}

/* ---- cells ---- */

static int
cells_count (SwCells *cells)
{
  return sw_plan_n_boxes (SW_PLAN (cells));
}

static char *
cells_name (SwCells *cells, int i)
{
  return g_strdup (sw_plan_box (SW_PLAN (cells), i)->sentence);
}

static void
cells_extents (SwCells *cells, int i, GdkRectangle *out_area)
{
  sw_plan_area (SW_PLAN (cells), sw_plan_box (SW_PLAN (cells), i), out_area);
}

static int
cells_selected (SwCells *cells)
{
  return SW_PLAN (cells)->chosen;
}

static void
cells_select (SwCells *cells, int i)
{
  sw_plan_choose (SW_PLAN (cells), i, TRUE);
}

static void
cells_activate (SwCells *cells, int i)
{
  sw_plan_choose (SW_PLAN (cells), i, TRUE);
  sw_plan_activate_chosen (SW_PLAN (cells));
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


void
sw_plan_settle (SwPlan *self)
{
  sw_plan_end_run (self);
}

void
sw_plan_set_editable (SwPlan *self, gboolean editable)
{
  self->editable = editable;
}

void
sw_plan_take_boxes (SwPlan *self, GArray *boxes)
{
  gint64 place = sw_plan_get_place (self);

  if (self->dragging || self->run != 0)
    { /* what comes of it is told, and then set anew */
      g_array_unref (boxes);
      return;
    }
  g_clear_pointer (&self->boxes, g_array_unref);
  self->boxes = boxes;
  self->hover = -1;
  self->chosen = place != 0 ? sw_plan_find (self, place) : -1;
  gtk_widget_queue_resize (GTK_WIDGET (self));
  sw_cells_accessible_reset (GTK_WIDGET (self));
}

void
sw_plan_take_walk (SwPlan *self, GArray *places)
{
  g_clear_pointer (&self->walk, g_array_unref);
  self->walk = places;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_plan_set_scale (SwPlan *self, gint64 um_per_unit)
{
  self->um_per_unit = um_per_unit;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_plan_set_drawing (SwPlan *self, gboolean drawing)
{
  self->drawing = drawing;
}

void
sw_plan_draw_new (SwPlan *self, gint64 parent)
{
  const SwPlanBox *boxes = sw_plan_n_boxes (self) > 0 ? sw_plan_box (self, 0) : NULL;
  int i = parent != 0 ? sw_plan_find (self, parent) : -1;

  if (!self->editable)
    return;
  if (i >= 0 && sw_plan_box (self, i)->off_property)
    parent = 0; /* what is off the property is not drawn: it stands aside */
  self->sketch = (SwPlanBox){ .parent = parent };
  sw_plan_free_slot (boxes, (guint)sw_plan_n_boxes (self), parent, &self->sketch);
  self->has_sketch = TRUE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sw_plan_tell_drawn (self);
}

void
sw_plan_end_sketch (SwPlan *self)
{
  self->has_sketch = FALSE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
sw_plan_get_sketch_area (SwPlan *self, GdkRectangle *out_area)
{
  if (self->has_sketch)
    sw_plan_area (self, &self->sketch, out_area);
  return self->has_sketch;
}

const SwPlanBox *
sw_plan_get_box (SwPlan *self, gint64 place)
{
  int i = sw_plan_find (self, place);

  return i >= 0 ? sw_plan_box (self, i) : NULL;
}

const SwPlanBox *
sw_plan_get_box_before (SwPlan *self, gint64 place)
{
  for (guint i = 0; self->before != NULL && i < self->before->len; i++)
    if (g_array_index (self->before, SwPlanBox, i).id == place)
      return &g_array_index (self->before, SwPlanBox, i);
  return NULL;
}

gboolean
sw_plan_get_box_area (SwPlan *self, gint64 place, GdkRectangle *out_area)
{
  const SwPlanBox *box = sw_plan_get_box (self, place);

  if (box != NULL)
    sw_plan_area (self, box, out_area);
  return box != NULL;
}

gint64
sw_plan_get_place (SwPlan *self)
{
  return self->chosen >= 0 && self->chosen < sw_plan_n_boxes (self)
             ? sw_plan_box (self, self->chosen)->id
             : 0;
}

void
sw_plan_set_place (SwPlan *self, gint64 place)
{
  sw_plan_choose (self, sw_plan_find (self, place), FALSE);
}
