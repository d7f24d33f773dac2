/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places as boxes of the plan and as rows of the list beside it: one source, so that both always
 * say the same. */
#pragma once

#include "app/plan-layout.h"
#include "app/rows.h"
#include "app/walk-words.h"

G_BEGIN_DECLS

/* The places of the store's overview, laid out. walk may be NULL. Transfer full. */
GArray *sw_place_boxes_new (SwStore *store, const SwWalkWords *walk);
/* The same as rows. Transfer full. */
SwRows *sw_place_rows_new (SwStore *store, const SwWalkWords *walk);

G_END_DECLS
