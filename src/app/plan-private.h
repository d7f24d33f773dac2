/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan's body, for plan.c, plan-draw.c, plan-edit.c and plan-walk.c alone. */
#pragma once

#include "app/cells.h"
#include "app/plan.h"

G_BEGIN_DECLS

#define SW_PLAN_PAD 9
#define SW_PLAN_GRIP 14 /* px of the corner that sizes the box */

typedef enum
{
  SW_PLAN_DRAG_NONE,
  SW_PLAN_DRAG_MOVE,
  SW_PLAN_DRAG_SIZE,
  SW_PLAN_DRAG_NEW,
} SwPlanDrag;

struct _SwPlan
{
  GtkWidget parent;
  GArray *boxes; /* SwPlanBox */
  int chosen;    /* -1: none */
  int hover;
  gboolean editable, drawing; /* drawing: a press draws, also on a box */
  GtkGesture *press, *drag_gesture;
  SwPlanDrag drag;
  gboolean dragging;     /* past the threshold */
  double from_x, from_y; /* px, where the drag began */
  GArray *before;        /* SwPlanBox without text: geometry of all when it began */
  gboolean has_sketch;   /* a new box: being drawn, or waiting for its name */
  SwPlanBox sketch;      /* geometry and parent alone */
  guint run;             /* keys move a box and have not rested yet; 0: none */
  gboolean run_sizes;    /* they size it */
  gint64 into;           /* the place that a drag would put it into; 0: none */
  GArray *walk;          /* gint64 places in time order; NULL: no walk is shown */
  gint64 um_per_unit;    /* 0: no scale */
};

/* plan.c */
SwPlanBox *sw_plan_box (SwPlan *self, int i);
int sw_plan_n_boxes (SwPlan *self);
int sw_plan_find (SwPlan *self, gint64 place);
void sw_plan_choose (SwPlan *self, int i, gboolean tell);
/* Pixels per plan unit, and where the plan begins. */
double sw_plan_pixels (SwPlan *self, double *out_x);
void sw_plan_area (SwPlan *self, const SwPlanBox *box, GdkRectangle *out_area);
/* Asks for an edit by its signal: moved, drawn. */
void sw_plan_tell_moved (SwPlan *self);
void sw_plan_tell_drawn (SwPlan *self);
void sw_plan_activate_chosen (SwPlan *self);

/* plan-edit.c */
void sw_plan_edit_init (SwPlan *self);
void sw_plan_edit_dispose (SwPlan *self);
void sw_plan_edit_bind_keys (SwPlanClass *klass);
/* Ends a run of keys that move a box: it is told now. */
void sw_plan_end_run (SwPlan *self);
gboolean sw_plan_edit_motion (SwPlan *self, double x, double y);

/* plan-draw.c */
gboolean sw_plan_draw (GtkWidget *widget, cairo_t *cr);

/* plan-walk.c */
void sw_plan_draw_walk (SwPlan *self, cairo_t *cr);

G_END_DECLS
