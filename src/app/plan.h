/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan of the property: each place a box that the person draws and drags where it stands.
 * A drag on free ground draws a new box, on a box it moves it, at its corner it sizes it; with
 * Shift, or while drawing is switched on, it draws on boxes too: a room. Arrow keys choose, with
 * Shift they move, with Ctrl they size; N draws a new box, R a room in the chosen one, F2 asks for
 * its form, Delete for its end, Alt with Up or Down for another order of the walk, Enter opens it,
 * Escape lets go. */
#pragma once

#include <gtk/gtk.h>

#include "app/plan-layout.h"

G_BEGIN_DECLS

#define SW_TYPE_PLAN (sw_plan_get_type ())
G_DECLARE_FINAL_TYPE (SwPlan, sw_plan, SW, PLAN, GtkWidget)

/* Signals: "selected" (gint64 place; 0: none), "activated" (gint64 place);
 * "moved" (gint64 place, gint64 parent, int x, int y, int w, int h in plan units) when a box was
 * let go elsewhere, or sized, or when the keys that moved it rest; "drawn" (gint64 parent, int x,
 * int y, int w, int h): a new box, shown as a sketch until sw_plan_end_sketch; "form" (gint64
 * place), "remove" (gint64 place), "walk" (gint64 place, int by): asked for by keys or the
 * pointer's second button. */

/* FALSE: nothing can be drawn, moved or sized (read only). */
void sw_plan_set_editable (SwPlan *self, gboolean editable);
/* Takes the boxes (GArray of SwPlanBox with sw_plan_box_clear), laid out, each before those inside
 * it. Ignored while a box is being moved: the caller's next set follows. Transfer full. */
void sw_plan_take_boxes (SwPlan *self, GArray *boxes);
/* Places of the walk in time order (GArray of gint64, transfer full); NULL: no walk is shown. */
void sw_plan_take_walk (SwPlan *self, GArray *places);
/* Micrometres on the ground for a plan unit; 0: not set. Shown as a bar. */
void sw_plan_set_scale (SwPlan *self, gint64 um_per_unit);

/* While on, a drag draws also where it begins on a box. Property-like; emits nothing. */
void sw_plan_set_drawing (SwPlan *self, gboolean drawing);
/* Draws a new box by itself (parent 0) or inside a place, as a drag would. */
void sw_plan_draw_new (SwPlan *self, gint64 parent);
/* Keys that move a box and have not rested yet count now. */
void sw_plan_settle (SwPlan *self);
/* The new box was named or given up. */
void sw_plan_end_sketch (SwPlan *self);
/* Where the sketch, or the box of a place, stands in the widget; FALSE: there is none. */
gboolean sw_plan_get_sketch_area (SwPlan *self, GdkRectangle *out_area);
gboolean sw_plan_get_box_area (SwPlan *self, gint64 place, GdkRectangle *out_area);
/* The box of a place in plan units, drawn or not; within "moved" also as it was before (without its
 * text). NULL: there is none. */
const SwPlanBox *sw_plan_get_box (SwPlan *self, gint64 place);
const SwPlanBox *sw_plan_get_box_before (SwPlan *self, gint64 place);

/* The chosen place; 0: none. */
gint64 sw_plan_get_place (SwPlan *self);
/* Chooses without emitting; 0: none. */
void sw_plan_set_place (SwPlan *self, gint64 place);

G_END_DECLS
