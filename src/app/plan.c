/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws the plan and lets its boxes be dragged. What it shows comes ready as text; what it changes
 * is told by "moved". Knows no catalogue; where boxes stand by default is plan-layout.c's business.
 */
#include "app/plan.h"

#include "app/cells-accessible.h"
#include "app/widgets.h"

#define PAD 9
#define BAR 5
#define GRIP 14      /* px of the corner that sizes the box */
#define LEAST_DRAG 6 /* px before a press is a drag */
#define SNAP 4       /* plan units */
#define KEY_STEP 12  /* plan units a key press moves */
#define LEAST_W 60
#define LEAST_H 48

typedef enum
{
  DRAG_NONE,
  DRAG_MOVE,
  DRAG_SIZE,
} Drag;

struct _SwPlan
{
  GtkWidget parent;
  GArray *boxes; /* SwPlanBox */
  int chosen;    /* -1: none */
  int hover;
  GtkGesture *press, *drag_gesture;
  Drag drag;
  gboolean dragging; /* past LEAST_DRAG */
  SwPlanBox before;  /* geometry of the chosen box when the drag began */
};

enum
{
  SELECTED,
  ACTIVATED,
  MOVED,
  GO,
  SHIFT_BOX,
  ACTIVATE_CHOSEN,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void cells_init (SwCellsInterface *iface);

G_DEFINE_TYPE_WITH_CODE (SwPlan, sw_plan, GTK_TYPE_WIDGET,
                         G_IMPLEMENT_INTERFACE (SW_TYPE_CELLS, cells_init))

static SwPlanBox *
box_at (SwPlan *self, int i)
{
  return &g_array_index (self->boxes, SwPlanBox, i);
}

static int
n_boxes (SwPlan *self)
{
  return self->boxes != NULL ? (int)self->boxes->len : 0;
}

/* ---- geometry ---- */

/* Pixels per plan unit, and where the plan begins. */
static double
plan_scale (SwPlan *self, double *out_x, double *out_y)
{
  double width = gtk_widget_get_allocated_width (GTK_WIDGET (self));
  double height = gtk_widget_get_allocated_height (GTK_WIDGET (self));
  int units = n_boxes (self) > 0 ? sw_plan_height (box_at (self, 0), self->boxes->len)
                                 : SW_PLAN_LEAST_HEIGHT;
  double scale = MIN (width / SW_PLAN_WIDTH, height / units);

  *out_x = (width - SW_PLAN_WIDTH * scale) / 2;
  *out_y = 0; /* what is left over stays below, as more ground to drag boxes to */
  return scale;
}

static void
box_area (SwPlan *self, int i, GdkRectangle *out_area)
{
  const SwPlanBox *box = box_at (self, i);
  double x, y, scale = plan_scale (self, &x, &y);

  out_area->x = (int)(x + box->x * scale + 0.5);
  out_area->y = (int)(y + box->y * scale + 0.5);
  out_area->width = MAX (1, (int)(box->w * scale + 0.5));
  out_area->height = MAX (1, (int)(box->h * scale + 0.5));
}

/* ---- choosing ---- */

static void
choose (SwPlan *self, int i, gboolean tell)
{
  gboolean same = self->chosen == i;

  self->chosen = i;
  gtk_widget_queue_draw (GTK_WIDGET (self));
  if (same)
    return;
  sw_cells_accessible_selected (GTK_WIDGET (self));
  if (tell)
    g_signal_emit (self, signals[SELECTED], 0, sw_plan_get_place (self));
}

static void
tell_moved (SwPlan *self)
{
  const SwPlanBox *box = box_at (self, self->chosen);
  g_signal_emit (self, signals[MOVED], 0, box->id, box->x, box->y, box->w, box->h);
}

static int
snapped (double units)
{
  return (int)(units / SNAP + (units < 0 ? -0.5 : 0.5)) * SNAP;
}

static void
set_geometry (SwPlan *self, int i, double x, double y, double w, double h)
{
  SwPlanBox *box = box_at (self, i);

  box->w = CLAMP (snapped (w), LEAST_W, SW_PLAN_WIDTH);
  box->h = CLAMP (snapped (h), LEAST_H, SW_PLAN_WIDTH);
  box->x = CLAMP (snapped (x), 0, SW_PLAN_WIDTH - box->w);
  box->y = CLAMP (snapped (y), 0, 4 * SW_PLAN_WIDTH);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The box whose middle lies best in a direction: near, and not too far aside. */
static int
neighbour (SwPlan *self, int dx, int dy)
{
  const SwPlanBox *from;
  int best = -1;
  double best_cost = G_MAXDOUBLE;

  if (self->chosen < 0)
    return n_boxes (self) > 0 ? 0 : -1;
  from = box_at (self, self->chosen);
  for (int i = 0; i < n_boxes (self); i++)
    {
      const SwPlanBox *to = box_at (self, i);
      double x = to->x + to->w / 2.0 - from->x - from->w / 2.0;
      double y = to->y + to->h / 2.0 - from->y - from->h / 2.0;
      double along = x * dx + y * dy, aside = ABS (x * dy) + ABS (y * dx);
      if (i == self->chosen || along <= 0 || along + 2 * aside >= best_cost)
        continue;
      best_cost = along + 2 * aside;
      best = i;
    }
  return best;
}

static gboolean
go (SwPlan *self, int dx, int dy)
{
  int to = neighbour (self, dx, dy);

  if (to < 0)
    return FALSE;
  choose (self, to, TRUE);
  return TRUE;
}

static gboolean
shift_box (SwPlan *self, int dx, int dy, gboolean size)
{
  SwPlanBox *box;

  if (self->chosen < 0)
    return FALSE;
  box = box_at (self, self->chosen);
  if (size)
    set_geometry (self, self->chosen, box->x, box->y, box->w + dx * KEY_STEP,
                  box->h + dy * KEY_STEP);
  else
    set_geometry (self, self->chosen, box->x + dx * KEY_STEP, box->y + dy * KEY_STEP, box->w,
                  box->h);
  tell_moved (self);
  return TRUE;
}

static gboolean
activate_chosen (SwPlan *self)
{
  if (self->chosen < 0)
    return FALSE;
  g_signal_emit (self, signals[ACTIVATED], 0, sw_plan_get_place (self));
  return TRUE;
}

/* ---- pointer ---- */

static void
on_pressed (GtkGestureMultiPress *gesture, int n_press, double x, double y, SwPlan *self)
{
  int i = sw_cells_at (SW_CELLS (self), (int)x, (int)y);

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (i < 0)
    return;
  choose (self, i, TRUE);
  if (n_press == 2)
    activate_chosen (self);
}

static gboolean
in_grip (SwPlan *self, int i, double x, double y)
{
  GdkRectangle area;

  box_area (self, i, &area);
  return x >= area.x + area.width - GRIP && y >= area.y + area.height - GRIP;
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, SwPlan *self)
{
  int i = sw_cells_at (SW_CELLS (self), (int)x, (int)y);

  self->drag = DRAG_NONE;
  self->dragging = FALSE;
  if (i < 0)
    return;
  choose (self, i, TRUE);
  self->drag = in_grip (self, i, x, y) ? DRAG_SIZE : DRAG_MOVE;
  self->before = *box_at (self, i);
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, SwPlan *self)
{
  double x, y, scale = plan_scale (self, &x, &y);
  const SwPlanBox *from = &self->before;

  if (self->drag == DRAG_NONE || self->chosen < 0)
    return;
  if (!self->dragging && ABS (dx) < LEAST_DRAG && ABS (dy) < LEAST_DRAG)
    return;
  self->dragging = TRUE;
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  if (self->drag == DRAG_MOVE)
    set_geometry (self, self->chosen, from->x + dx / scale, from->y + dy / scale, from->w, from->h);
  else
    set_geometry (self, self->chosen, from->x, from->y, from->w + dx / scale, from->h + dy / scale);
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, SwPlan *self)
{
  gboolean moved = self->dragging && self->chosen >= 0;

  self->drag = DRAG_NONE;
  self->dragging = FALSE;
  if (moved)
    tell_moved (self);
}

static gboolean
sw_plan_motion (GtkWidget *widget, GdkEventMotion *event)
{
  SwPlan *self = SW_PLAN (widget);
  int i = sw_cells_at (SW_CELLS (self), (int)event->x, (int)event->y);
  const char *name = i < 0 ? NULL : in_grip (self, i, event->x, event->y) ? "se-resize" : "grab";
  g_autoptr (GdkCursor) cursor = NULL;

  if (name != NULL)
    cursor = gdk_cursor_new_from_name (gtk_widget_get_display (widget), name);
  gdk_window_set_cursor (gtk_widget_get_window (widget), cursor);
  if (i != self->hover)
    { /* names that a small box cuts off stand whole in the tooltip */
      gtk_widget_set_tooltip_text (widget, i < 0 ? NULL : box_at (self, i)->sentence);
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

/* ---- drawing ---- */

static int
draw_line (SwPlan *self, cairo_t *cr, const char *text, const char *class, int x, int y, int width)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  int height = 0;

  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_width (layout, width * PANGO_SCALE);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_get_pixel_size (layout, NULL, &height);
  gtk_style_context_save (style);
  if (class != NULL)
    gtk_style_context_add_class (style, class);
  gtk_render_layout (style, cr, x, y, layout);
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
  int bottom = area->y + area->height - BAR - 2;

  for (int i = 0; i < n_boxes (self); i++)
    if (box_at (self, i)->parent == box->id)
      {
        GdkRectangle inside;
        box_area (self, i, &inside);
        if (gdk_rectangle_intersect (&inside, area, NULL))
          bottom = MIN (bottom, inside.y);
      }
  return bottom;
}

/* As many lines as fit: the name first, then what stands, then its money. */
static void
draw_lines (SwPlan *self, cairo_t *cr, const SwPlanBox *box, const GdkRectangle *area)
{
  const char *lines[] = { box->name, box->standing, box->money };
  int y = area->y + PAD - 1, width = area->width - 2 * PAD, line = 0;
  int bottom = text_bottom (self, box, area);

  if (width < 16)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      if (lines[i] == NULL || y + (line > 0 ? line : 12) > bottom)
        continue;
      line = i == 0 ? draw_name (self, cr, lines[i], area->x + PAD, y, width, bottom - y)
                    : draw_line (self, cr, lines[i], i == 1 ? GTK_STYLE_CLASS_DIM_LABEL : NULL,
                                 area->x + PAD, y, width);
      y += line + 1;
    }
}

/* The bar at the foot of the box is as long as the part that still stands. */
static void
draw_bar (GtkStyleContext *style, cairo_t *cr, const SwPlanBox *box, const GdkRectangle *area)
{
  int width = area->width - 2 * PAD, y = area->y + area->height - BAR - 5;

  if (box->left < 0 || area->height < 40)
    return;
  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-bar");
  gtk_render_background (style, cr, area->x + PAD, y, width, BAR);
  gtk_render_frame (style, cr, area->x + PAD, y, width, BAR);
  gtk_style_context_add_class (style, "sw-left");
  if (box->left > 0)
    gtk_render_background (style, cr, area->x + PAD, y, MAX (BAR, (int)(width * box->left)), BAR);
  gtk_style_context_restore (style);
}

static void
draw_box (SwPlan *self, cairo_t *cr, int i)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  GtkStateFlags state
      = gtk_widget_get_state_flags (widget)
        & ~(GTK_STATE_FLAG_SELECTED | GTK_STATE_FLAG_PRELIGHT | GTK_STATE_FLAG_FOCUSED);
  const SwPlanBox *box = box_at (self, i);
  GdkRectangle area;

  box_area (self, i, &area);
  if (i == self->chosen)
    state |= GTK_STATE_FLAG_SELECTED;
  if (i == self->hover)
    state |= GTK_STATE_FLAG_PRELIGHT;
  gtk_style_context_save (style);
  gtk_style_context_set_state (style, state);
  gtk_style_context_add_class (style, "sw-box");
  if (box->parent != 0)
    gtk_style_context_add_class (style, "sw-inside");
  if (box->off_property)
    gtk_style_context_add_class (style, "sw-off");
  gtk_render_background (style, cr, area.x, area.y, area.width, area.height);
  gtk_render_frame (style, cr, area.x, area.y, area.width, area.height);
  draw_lines (self, cr, box, &area);
  draw_bar (style, cr, box, &area);
  if (i == self->chosen && gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, area.x - 3, area.y - 3, area.width + 6, area.height + 6);
  gtk_style_context_restore (style);
}

static gboolean
sw_plan_draw (GtkWidget *widget, cairo_t *cr)
{
  SwPlan *self = SW_PLAN (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);

  gtk_render_background (style, cr, 0, 0, gtk_widget_get_allocated_width (widget),
                         gtk_widget_get_allocated_height (widget));
  /* places inside a place lie on top of it */
  for (int pass = 0; pass < 2; pass++)
    for (int i = 0; i < n_boxes (self); i++)
      if ((box_at (self, i)->parent != 0) == (pass == 1))
        draw_box (self, cr, i);
  if (self->chosen < 0 && gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, 1, 1, gtk_widget_get_allocated_width (widget) - 2,
                      gtk_widget_get_allocated_height (widget) - 2);
  return FALSE;
}

/* ---- widget ---- */

static void
sw_plan_realize (GtkWidget *widget)
{
  sw_widget_realize (widget, GDK_BUTTON_PRESS_MASK | GDK_BUTTON_RELEASE_MASK
                                 | GDK_POINTER_MOTION_MASK | GDK_LEAVE_NOTIFY_MASK
                                 | GDK_TOUCH_MASK);
}

static void
sw_plan_preferred_width (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 280;
  *natural = 560;
}

static void
sw_plan_preferred_height (GtkWidget *widget, int *minimum, int *natural)
{
  *minimum = 180;
  *natural = 340;
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

static void
sw_plan_dispose (GObject *object)
{
  SwPlan *self = SW_PLAN (object);

  g_clear_object (&self->press);
  g_clear_object (&self->drag_gesture);
  g_clear_pointer (&self->boxes, g_array_unref);
  self->chosen = -1;
  G_OBJECT_CLASS (sw_plan_parent_class)->dispose (object);
}

static void
bind_keys (SwPlanClass *klass)
{
  static const struct
  {
    guint key;
    int dx, dy;
  } keys[] = {
    { GDK_KEY_Left, -1, 0 },
    { GDK_KEY_Right, 1, 0 },
    { GDK_KEY_Up, 0, -1 },
    { GDK_KEY_Down, 0, 1 },
  };
  GtkBindingSet *set = gtk_binding_set_by_class (klass);

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      gtk_binding_entry_add_signal (set, keys[i].key, 0, "go", 2, G_TYPE_INT, keys[i].dx,
                                    G_TYPE_INT, keys[i].dy);
      gtk_binding_entry_add_signal (set, keys[i].key, GDK_SHIFT_MASK, "shift-box", 3, G_TYPE_INT,
                                    keys[i].dx, G_TYPE_INT, keys[i].dy, G_TYPE_BOOLEAN, FALSE);
      gtk_binding_entry_add_signal (set, keys[i].key, GDK_CONTROL_MASK, "shift-box", 3, G_TYPE_INT,
                                    keys[i].dx, G_TYPE_INT, keys[i].dy, G_TYPE_BOOLEAN, TRUE);
    }
  gtk_binding_entry_add_signal (set, GDK_KEY_Return, 0, "activate-chosen", 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_KP_Enter, 0, "activate-chosen", 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_space, 0, "activate-chosen", 0);
}

static void
add_signals (void)
{
  signals[SELECTED] = g_signal_new ("selected", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                    NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[ACTIVATED] = g_signal_new ("activated", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                     NULL, G_TYPE_NONE, 1, G_TYPE_INT64);
  signals[MOVED]
      = g_signal_new ("moved", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 5,
                      G_TYPE_INT64, G_TYPE_INT, G_TYPE_INT, G_TYPE_INT, G_TYPE_INT);
  signals[GO] = g_signal_new_class_handler ("go", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION,
                                            G_CALLBACK (go), g_signal_accumulator_true_handled,
                                            NULL, NULL, G_TYPE_BOOLEAN, 2, G_TYPE_INT, G_TYPE_INT);
  signals[SHIFT_BOX] = g_signal_new_class_handler (
      "shift-box", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION, G_CALLBACK (shift_box),
      g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN, 3, G_TYPE_INT, G_TYPE_INT,
      G_TYPE_BOOLEAN);
  signals[ACTIVATE_CHOSEN] = g_signal_new_class_handler (
      "activate-chosen", SW_TYPE_PLAN, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION,
      G_CALLBACK (activate_chosen), g_signal_accumulator_true_handled, NULL, NULL, G_TYPE_BOOLEAN,
      0);
}

static void
sw_plan_class_init (SwPlanClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_plan_dispose;
  widget->realize = sw_plan_realize;
  widget->get_preferred_width = sw_plan_preferred_width;
  widget->get_preferred_height = sw_plan_preferred_height;
  widget->draw = sw_plan_draw;
  widget->focus_in_event = sw_plan_focus_in;
  widget->motion_notify_event = sw_plan_motion;
  widget->leave_notify_event = sw_plan_leave;
  add_signals ();
  bind_keys (klass);
  gtk_widget_class_set_css_name (widget, "plan");
  gtk_widget_class_set_accessible_type (widget, SW_TYPE_CELLS_ACCESSIBLE);
}

static void
sw_plan_init (SwPlan *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->chosen = -1;
  self->hover = -1;
  gtk_widget_set_has_window (widget, TRUE);
  gtk_widget_set_can_focus (widget, TRUE);
  self->press = gtk_gesture_multi_press_new (widget);
  g_signal_connect (self->press, "pressed", G_CALLBACK (on_pressed), self);
  self->drag_gesture = gtk_gesture_drag_new (widget);
  g_signal_connect (self->drag_gesture, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (self->drag_gesture, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (self->drag_gesture, "drag-end", G_CALLBACK (on_drag_end), self);
}

/* ---- cells ---- */

static int
cells_count (SwCells *cells)
{
  return n_boxes (SW_PLAN (cells));
}

static char *
cells_name (SwCells *cells, int i)
{
  return g_strdup (box_at (SW_PLAN (cells), i)->sentence);
}

static void
cells_extents (SwCells *cells, int i, GdkRectangle *out_area)
{
  box_area (SW_PLAN (cells), i, out_area);
}

static int
cells_selected (SwCells *cells)
{
  return SW_PLAN (cells)->chosen;
}

static void
cells_select (SwCells *cells, int i)
{
  choose (SW_PLAN (cells), i, TRUE);
}

static void
cells_activate (SwCells *cells, int i)
{
  choose (SW_PLAN (cells), i, TRUE);
  activate_chosen (SW_PLAN (cells));
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
sw_plan_new (void)
{
  return g_object_new (SW_TYPE_PLAN, NULL);
}

static int
find (SwPlan *self, gint64 place)
{
  for (int i = 0; i < n_boxes (self); i++)
    if (box_at (self, i)->id == place)
      return i;
  return -1;
}

void
sw_plan_take_boxes (SwPlan *self, GArray *boxes)
{
  gint64 place = sw_plan_get_place (self);

  if (self->dragging)
    {
      g_array_unref (boxes);
      return;
    }
  g_clear_pointer (&self->boxes, g_array_unref);
  self->boxes = boxes;
  self->hover = -1;
  self->chosen = find (self, place);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  sw_cells_accessible_reset (GTK_WIDGET (self));
}

gint64
sw_plan_get_place (SwPlan *self)
{
  return self->chosen >= 0 && self->chosen < n_boxes (self) ? box_at (self, self->chosen)->id : 0;
}

void
sw_plan_set_place (SwPlan *self, gint64 place)
{
  choose (self, find (self, place), FALSE);
}
