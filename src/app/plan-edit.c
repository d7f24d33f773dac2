/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the pointer and the keys do to the plan: choosing, moving, sizing, drawing. Every change
 * that is to last is told by a signal; the box on the screen is ahead of it until the page sets
 * boxes anew. */
#include "app/plan-private.h"

#define LEAST_DRAG 6 /* px before a press is a drag */
#define KEY_STEP 12  /* plan units a key press moves */
/* Presses that follow each other move the box by one act, which one undo takes back. */
#define REST_MS 600

enum
{
  FORM,
  REMOVE,
  WALK,
  GO,
  SHIFT_BOX,
  DRAW_BOX,
  ASK_FORM,
  ASK_REMOVE,
  SHIFT_WALK,
  ACTIVATE_CHOSEN,
  LET_GO,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static SwPlanBox *
chosen_box (SwPlan *self)
{
  return self->chosen >= 0 ? sw_plan_box (self, self->chosen) : NULL;
}

static const SwPlanBox *
all_boxes (SwPlan *self)
{
  return sw_plan_n_boxes (self) > 0 ? sw_plan_box (self, 0) : NULL;
}

/* Those off the property stand aside and are not moved. */
static gboolean
may_move (SwPlan *self, int i)
{
  return self->editable && i >= 0 && !sw_plan_box (self, i)->off_property;
}

/* ---- geometry ---- */

/* As it was when the drag, or the run of keys, began. */
static void
remember_all (SwPlan *self)
{
  g_clear_pointer (&self->before, g_array_unref);
  self->before = g_array_sized_new (FALSE, FALSE, sizeof (SwPlanBox), self->boxes->len);
  g_array_append_vals (self->before, self->boxes->data, self->boxes->len);
}

static const SwPlanBox *
before (SwPlan *self, int i)
{
  return &g_array_index (self->before, SwPlanBox, i);
}

/* Boxes inside go along by as much. */
static void
set_geometry (SwPlan *self, double x, double y, double w, double h)
{
  SwPlanBox *box = chosen_box (self);
  const SwPlanBox *was = before (self, self->chosen);

  sw_plan_fit (box, x, y, w, h);
  for (int i = 0; i < sw_plan_n_boxes (self); i++)
    if (sw_plan_is_inside (all_boxes (self), self->boxes->len, sw_plan_box (self, i)->id, box->id))
      {
        sw_plan_box (self, i)->x = before (self, i)->x + box->x - was->x;
        sw_plan_box (self, i)->y = before (self, i)->y + box->y - was->y;
      }
  self->into = sw_plan_parent_after_move (all_boxes (self), self->boxes->len, box);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* The box whose middle lies best in a direction: near, and not too far aside. */
static int
neighbour (SwPlan *self, int dx, int dy)
{
  const SwPlanBox *from = chosen_box (self);
  int best = -1;
  double best_cost = G_MAXDOUBLE;

  if (from == NULL)
    return sw_plan_n_boxes (self) > 0 ? 0 : -1;
  for (int i = 0; i < sw_plan_n_boxes (self); i++)
    {
      const SwPlanBox *to = sw_plan_box (self, i);
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

/* ---- keys ---- */

static gboolean
go (SwPlan *self, int dx, int dy)
{
  int to = neighbour (self, dx, dy);

  if (to < 0)
    return FALSE;
  sw_plan_choose (self, to, TRUE);
  return TRUE;
}

void
sw_plan_end_run (SwPlan *self)
{
  if (self->run == 0)
    return;
  g_clear_handle_id (&self->run, g_source_remove);
  if (self->chosen >= 0)
    sw_plan_tell_moved (self);
}

static gboolean
on_rest (gpointer data)
{
  SwPlan *self = data;

  self->run = 0;
  if (self->chosen >= 0)
    sw_plan_tell_moved (self);
  return G_SOURCE_REMOVE;
}

static gboolean
shift_box (SwPlan *self, int dx, int dy, gboolean size)
{
  SwPlanBox now;

  if (self->chosen < 0)
    return FALSE;
  if (!may_move (self, self->chosen) || self->dragging)
    return TRUE;
  if (self->run != 0 && self->run_sizes != size)
    sw_plan_end_run (self);
  if (self->run == 0)
    remember_all (self);
  else
    g_source_remove (self->run);
  /* keys that have come already go first, however late it is */
  self->run = g_timeout_add_full (G_PRIORITY_DEFAULT_IDLE, REST_MS, on_rest, self, NULL);
  self->run_sizes = size;
  now = *sw_plan_box (self, self->chosen);
  if (size)
    set_geometry (self, now.x, now.y, now.w + dx * KEY_STEP, now.h + dy * KEY_STEP);
  else
    set_geometry (self, now.x + dx * KEY_STEP, now.y + dy * KEY_STEP, now.w, now.h);
  self->into = 0;
  gtk_widget_queue_resize (GTK_WIDGET (self));
  return TRUE;
}

static gboolean
draw_box (SwPlan *self, gboolean inside)
{
  gint64 place = sw_plan_get_place (self);

  sw_plan_end_run (self);
  if (inside && place == 0)
    return FALSE;
  sw_plan_draw_new (self, inside ? place : 0);
  return TRUE;
}

static gboolean
ask_form (SwPlan *self)
{
  sw_plan_end_run (self);
  if (self->chosen < 0)
    return FALSE;
  g_signal_emit (self, signals[FORM], 0, sw_plan_get_place (self));
  return TRUE;
}

static gboolean
ask_remove (SwPlan *self)
{
  sw_plan_end_run (self);
  if (self->chosen < 0 || !self->editable)
    return FALSE;
  g_signal_emit (self, signals[REMOVE], 0, sw_plan_get_place (self));
  return TRUE;
}

static gboolean
shift_walk (SwPlan *self, int by)
{
  sw_plan_end_run (self);
  if (self->chosen < 0 || !self->editable)
    return FALSE;
  g_signal_emit (self, signals[WALK], 0, sw_plan_get_place (self), by);
  return TRUE;
}

static gboolean
activate_chosen (SwPlan *self)
{
  if (self->chosen < 0)
    return FALSE;
  sw_plan_activate_chosen (self);
  return TRUE;
}

static gboolean
let_go (SwPlan *self)
{
  if (self->chosen < 0)
    return FALSE;
  sw_plan_choose (self, -1, TRUE);
  return TRUE;
}

/* ---- pointer ---- */

static void
on_pressed (GtkGestureMultiPress *gesture, int n_press, double x, double y, SwPlan *self)
{
  int i = sw_cells_at (SW_CELLS (self), (int)x, (int)y);
  guint button = gtk_gesture_single_get_current_button (GTK_GESTURE_SINGLE (gesture));

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (i < 0 || (button == GDK_BUTTON_PRIMARY && self->drawing))
    return;
  sw_plan_choose (self, i, TRUE);
  if (button == GDK_BUTTON_SECONDARY)
    ask_form (self);
  else if (button == GDK_BUTTON_PRIMARY && n_press == 2)
    activate_chosen (self);
}

static gboolean
in_grip (SwPlan *self, int i, double x, double y)
{
  GdkRectangle area;

  sw_plan_area (self, sw_plan_box (self, i), &area);
  return x >= area.x + area.width - SW_PLAN_GRIP && y >= area.y + area.height - SW_PLAN_GRIP;
}

static gboolean
with_shift (GtkGesture *gesture)
{
  GdkEventSequence *sequence
      = gtk_gesture_single_get_current_sequence (GTK_GESTURE_SINGLE (gesture));
  const GdkEvent *event = gtk_gesture_get_last_event (gesture, sequence);
  GdkModifierType held = 0;

  return event != NULL && gdk_event_get_state (event, &held) && (held & GDK_SHIFT_MASK) != 0;
}

static SwPlanDrag
drag_for (SwPlan *self, GtkGesture *gesture, int i, double x, double y)
{
  if (!self->editable || self->has_sketch)
    return SW_PLAN_DRAG_NONE;
  if (i < 0 || self->drawing || with_shift (gesture))
    return SW_PLAN_DRAG_NEW;
  if (!may_move (self, i))
    return SW_PLAN_DRAG_NONE;
  return in_grip (self, i, x, y) ? SW_PLAN_DRAG_SIZE : SW_PLAN_DRAG_MOVE;
}

static void
on_drag_begin (GtkGestureDrag *gesture, double x, double y, SwPlan *self)
{
  int i = sw_cells_at (SW_CELLS (self), (int)x, (int)y);

  sw_plan_end_run (self);
  self->dragging = FALSE;
  self->from_x = x;
  self->from_y = y;
  self->drag = drag_for (self, GTK_GESTURE (gesture), i, x, y);
  if (self->drag != SW_PLAN_DRAG_MOVE && self->drag != SW_PLAN_DRAG_SIZE)
    return;
  sw_plan_choose (self, i, TRUE);
  remember_all (self);
}

/* From where the press was to where the pointer is, whichever way. */
static void
draw_sketch (SwPlan *self, double dx, double dy)
{
  double left, scale = sw_plan_pixels (self, &left);
  double x = (MIN (self->from_x, self->from_x + dx) - left) / scale;
  double y = MIN (self->from_y, self->from_y + dy) / scale;

  self->sketch = (SwPlanBox){ 0 };
  sw_plan_fit (&self->sketch, x, y, ABS (dx) / scale, ABS (dy) / scale);
  self->sketch.parent
      = sw_plan_holder (all_boxes (self), (guint)sw_plan_n_boxes (self), &self->sketch);
  self->into = self->sketch.parent;
  self->has_sketch = TRUE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
on_drag_update (GtkGestureDrag *gesture, double dx, double dy, SwPlan *self)
{
  double x, scale = sw_plan_pixels (self, &x);
  const SwPlanBox *from;

  if (self->drag == SW_PLAN_DRAG_NONE)
    return;
  if (!self->dragging && ABS (dx) < LEAST_DRAG && ABS (dy) < LEAST_DRAG)
    return;
  self->dragging = TRUE;
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  if (self->drag == SW_PLAN_DRAG_NEW)
    {
      draw_sketch (self, dx, dy);
      return;
    }
  if (self->chosen < 0)
    return;
  from = before (self, self->chosen);
  if (self->drag == SW_PLAN_DRAG_MOVE)
    set_geometry (self, from->x + dx / scale, from->y + dy / scale, from->w, from->h);
  else
    set_geometry (self, from->x, from->y, from->w + dx / scale, from->h + dy / scale);
}

static void
on_drag_end (GtkGestureDrag *gesture, double dx, double dy, SwPlan *self)
{
  SwPlanDrag drag = self->dragging ? self->drag : SW_PLAN_DRAG_NONE;

  self->drag = SW_PLAN_DRAG_NONE;
  self->dragging = FALSE;
  self->into = 0;
  if (drag == SW_PLAN_DRAG_NEW)
    sw_plan_tell_drawn (self);
  else if (drag != SW_PLAN_DRAG_NONE && self->chosen >= 0)
    sw_plan_tell_moved (self);
  else if (!self->drawing
           && sw_cells_at (SW_CELLS (self), (int)self->from_x, (int)self->from_y) < 0)
    let_go (self); /* a click on the ground: the whole property again */
}

gboolean
sw_plan_edit_motion (SwPlan *self, double x, double y)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int i = sw_cells_at (SW_CELLS (self), (int)x, (int)y);
  const char *name = NULL;
  g_autoptr (GdkCursor) cursor = NULL;

  if (self->editable && (i < 0 || self->drawing))
    name = "crosshair";
  else if (may_move (self, i))
    name = in_grip (self, i, x, y) ? "se-resize" : "grab";
  if (name != NULL)
    cursor = gdk_cursor_new_from_name (gtk_widget_get_display (widget), name);
  gdk_window_set_cursor (gtk_widget_get_window (widget), cursor);
  return FALSE;
}

/* ---- set up ---- */

static void
bind_arrows (GtkBindingSet *set)
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

  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      gtk_binding_entry_add_signal (set, keys[i].key, 0, "go", 2, G_TYPE_INT, keys[i].dx,
                                    G_TYPE_INT, keys[i].dy);
      gtk_binding_entry_add_signal (set, keys[i].key, GDK_SHIFT_MASK, "shift-box", 3, G_TYPE_INT,
                                    keys[i].dx, G_TYPE_INT, keys[i].dy, G_TYPE_BOOLEAN, FALSE);
      gtk_binding_entry_add_signal (set, keys[i].key, GDK_CONTROL_MASK, "shift-box", 3, G_TYPE_INT,
                                    keys[i].dx, G_TYPE_INT, keys[i].dy, G_TYPE_BOOLEAN, TRUE);
      if (keys[i].dy != 0)
        gtk_binding_entry_add_signal (set, keys[i].key, GDK_MOD1_MASK, "shift-walk", 1, G_TYPE_INT,
                                      keys[i].dy);
    }
}

static void
add_keys (SwPlanClass *klass)
{
  static const struct
  {
    guint key;
    GdkModifierType held;
    const char *signal;
  } keys[] = {
    { GDK_KEY_Return, 0, "activate-chosen" }, { GDK_KEY_KP_Enter, 0, "activate-chosen" },
    { GDK_KEY_space, 0, "activate-chosen" },  { GDK_KEY_F2, 0, "ask-form" },
    { GDK_KEY_Menu, 0, "ask-form" },          { GDK_KEY_F10, GDK_SHIFT_MASK, "ask-form" },
    { GDK_KEY_Delete, 0, "ask-remove" },      { GDK_KEY_KP_Delete, 0, "ask-remove" },
    { GDK_KEY_Escape, 0, "let-go" },
  };
  GtkBindingSet *set = gtk_binding_set_by_class (klass);

  bind_arrows (set);
  for (guint i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_binding_entry_add_signal (set, keys[i].key, keys[i].held, keys[i].signal, 0);
  gtk_binding_entry_add_signal (set, GDK_KEY_n, 0, "draw-box", 1, G_TYPE_BOOLEAN, FALSE);
  gtk_binding_entry_add_signal (set, GDK_KEY_r, 0, "draw-box", 1, G_TYPE_BOOLEAN, TRUE);
}

static guint
add_request (const char *name, guint n, GType first, GType second)
{
  return g_signal_new (name, SW_TYPE_PLAN, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, n,
                       first, second);
}

static guint
add_action (const char *name, GCallback handler, guint n, const GType *types)
{
  return g_signal_newv (name, SW_TYPE_PLAN, G_SIGNAL_RUN_LAST | G_SIGNAL_ACTION,
                        g_cclosure_new (handler, NULL, NULL), g_signal_accumulator_true_handled,
                        NULL, NULL, G_TYPE_BOOLEAN, n, (GType *)types);
}

void
sw_plan_edit_bind_keys (SwPlanClass *klass)
{
  const GType moves[] = { G_TYPE_INT, G_TYPE_INT, G_TYPE_BOOLEAN };
  const GType flag[] = { G_TYPE_BOOLEAN };

  signals[FORM] = add_request ("form", 1, G_TYPE_INT64, G_TYPE_NONE);
  signals[REMOVE] = add_request ("remove", 1, G_TYPE_INT64, G_TYPE_NONE);
  signals[WALK] = add_request ("walk", 2, G_TYPE_INT64, G_TYPE_INT);
  signals[GO] = add_action ("go", G_CALLBACK (go), 2, moves);
  signals[SHIFT_BOX] = add_action ("shift-box", G_CALLBACK (shift_box), 3, moves);
  signals[DRAW_BOX] = add_action ("draw-box", G_CALLBACK (draw_box), 1, flag);
  signals[ASK_FORM] = add_action ("ask-form", G_CALLBACK (ask_form), 0, NULL);
  signals[ASK_REMOVE] = add_action ("ask-remove", G_CALLBACK (ask_remove), 0, NULL);
  signals[SHIFT_WALK] = add_action ("shift-walk", G_CALLBACK (shift_walk), 1, moves);
  signals[ACTIVATE_CHOSEN] = add_action ("activate-chosen", G_CALLBACK (activate_chosen), 0, NULL);
  signals[LET_GO] = add_action ("let-go", G_CALLBACK (let_go), 0, NULL);
  add_keys (klass);
}

void
sw_plan_edit_init (SwPlan *self)
{
  GtkWidget *widget = GTK_WIDGET (self);

  self->press = gtk_gesture_multi_press_new (widget);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (self->press), 0);
  g_signal_connect (self->press, "pressed", G_CALLBACK (on_pressed), self);
  self->drag_gesture = gtk_gesture_drag_new (widget);
  g_signal_connect (self->drag_gesture, "drag-begin", G_CALLBACK (on_drag_begin), self);
  g_signal_connect (self->drag_gesture, "drag-update", G_CALLBACK (on_drag_update), self);
  g_signal_connect (self->drag_gesture, "drag-end", G_CALLBACK (on_drag_end), self);
}

void
sw_plan_edit_dispose (SwPlan *self)
{
  g_clear_handle_id (&self->run, g_source_remove);
  g_clear_object (&self->press);
  g_clear_object (&self->drag_gesture);
  g_clear_pointer (&self->before, g_array_unref);
}
