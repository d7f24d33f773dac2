/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plan, what is done with it, and the list of its places: both say the same and follow each
 * other. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_PLAN_PANE (sw_plan_pane_get_type ())
G_DECLARE_FINAL_TYPE (SwPlanPane, sw_plan_pane, SW, PLAN_PANE, GtkBox)

/* Signals: "selected" (gint64 place; 0: the whole property), "activated" (gint64 place), "clicked"
 * (gint64 place): as the person did it in the plan or in the list. */
void sw_plan_pane_set_store (SwPlanPane *self, SwStore *store);
/* Shows the overview as it is now; to be called at each "changed" of the store. */
void sw_plan_pane_follow (SwPlanPane *self);
/* Chooses without emitting; 0: none. */
void sw_plan_pane_set_place (SwPlanPane *self, gint64 place);
/* Shows the walk of a trip; 0: none. */
void sw_plan_pane_show_walk (SwPlanPane *self, gint64 trip);

G_END_DECLS
