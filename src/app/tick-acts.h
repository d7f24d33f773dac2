/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the view of the ticks sends to the catalogue. */
#pragma once

#include "app/store.h"
#include "core/trip/ticks.h"

G_BEGIN_DECLS

/* One line ticked; what 'said' points to is copied. See sw_store_act. */
void sw_tick_act (SwStore *store, const SwTickSaid *said, GObject *owner, SwActDone done);
void sw_tick_act_counted (SwStore *store, gint64 trip, SwMoney counted);

G_END_DECLS
