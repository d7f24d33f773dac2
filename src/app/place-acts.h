/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts on places as the plan and its forms send them: each packs its arguments and goes to the
 * catalogue thread. What may be done and how it is said is core's business. */
#pragma once

#include "app/plan-layout.h"
#include "app/store.h"

G_BEGIN_DECLS

/* A new place with that box (x to h are read); why it was refused is handed to 'done'. outer: the
 * parent's box as it is shown, NULL for none. */
void sw_place_act_draw (SwStore *store, const char *name, gint64 parent, const SwPlanBox *box,
                        const SwPlanBox *outer, GObject *owner, SwTryDone done);
/* The box elsewhere, the place into 'parent'; refused ones are told. before: as it was shown. owner
 * and done as in sw_store_act. */
void sw_place_act_put (SwStore *store, gint64 place, gint64 parent, const SwPlanBox *box,
                       const SwPlanBox *outer, const SwPlanBox *before, GObject *owner,
                       SwActDone done);
void sw_place_act_remove (SwStore *store, gint64 place);
/* Earlier (below 0) or later in the walk. */
void sw_place_act_walk (SwStore *store, gint64 place, int by);

/* What the form of a place sets. */
typedef enum
{
  SW_PLACE_NAME,        /* text */
  SW_PLACE_INSIDE,      /* number: another place, 0 for none */
  SW_PLACE_LENGTH,      /* text: "24 m", of the box's longer side */
  SW_PLACE_POSITION,    /* text: "-41.32, 174.81" */
  SW_PLACE_FROM_PHOTOS, /* nothing */
  SW_PLACE_LOOKED,      /* number: looked through or not */
  SW_PLACE_OFF,         /* number: off the property or not */
} SwPlaceField;
/* box: as the plan shows it; for SW_PLACE_LENGTH. text may be NULL elsewhere. */
void sw_place_act_set (SwStore *store, gint64 place, SwPlaceField field, const char *text,
                       gint64 number, const SwPlanBox *box, GObject *owner, SwTryDone done);

G_END_DECLS
