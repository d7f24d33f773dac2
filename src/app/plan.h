/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan of the property: each place a box that the person drags where it stands.
 * A box is chosen by click or arrow keys; Shift with an arrow moves it, Ctrl with an arrow sizes
 * it; Enter activates it. */
#pragma once

#include <gtk/gtk.h>

#include "app/plan-layout.h"

G_BEGIN_DECLS

#define SW_TYPE_PLAN (sw_plan_get_type ())
G_DECLARE_FINAL_TYPE (SwPlan, sw_plan, SW, PLAN, GtkWidget)

/* Signals: "selected" (gint64 place; 0: none), "activated" (gint64 place),
 * "moved" (gint64 place, int x, int y, int w, int h in plan units) when a box was let go elsewhere.
 */
GtkWidget *sw_plan_new (void);

/* Takes the boxes (GArray of SwPlanBox with sw_plan_box_clear), laid out. Ignored while a box is
 * being dragged: the caller's next set follows. Transfer full. */
void sw_plan_take_boxes (SwPlan *self, GArray *boxes);
gint64 sw_plan_get_place (SwPlan *self);
/* Chooses without emitting; 0: none. */
void sw_plan_set_place (SwPlan *self, gint64 place);

G_END_DECLS
