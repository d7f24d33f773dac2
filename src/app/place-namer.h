/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A popover at a box just drawn: its name is typed at once, Enter makes the place, Escape gives the
 * box up. */
#pragma once

#include "app/plan.h"
#include "app/store.h"

G_BEGIN_DECLS

/* Asks at the plan's sketch; box and parent as it was drawn. Closing it ends the sketch. */
void sw_place_namer_ask (SwPlan *plan, SwStore *store, gint64 parent, const SwPlanBox *box);

G_END_DECLS
