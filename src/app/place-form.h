/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A popover at a box of the plan: what is known of the place, and what is done with it. Each field
 * is set by itself (Enter, or by going on); a refusal is said in the form. */
#pragma once

#include "app/plan.h"
#include "app/store.h"

G_BEGIN_DECLS

/* Opens at the place's box; gone once the place or the plan is. */
void sw_place_form_open (SwPlan *plan, SwStore *store, gint64 place);

G_END_DECLS
