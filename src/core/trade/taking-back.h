/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A step of an item by hand, with what it means for the offers that run. Trade layer. */
#pragma once

#include "core/catalogue/steps.h"

G_BEGIN_DECLS

/* As sw_item_move. Where the item leaves its running offers for Ready, Found or At home, those
 * offers end as withdrawn on that day (an offer that is not up yet on the day it goes up), with the
 * fees that this costs; a lot's offer ends for all its items. One act, so that one undo brings
 * offers and states back. A part that is split off takes no offer back: it runs on for the rest. */
gboolean sw_item_step_by_hand (SwCatalogue *catalogue, gint64 number, SwState to,
                               const SwStepOptions *options, gint64 *out_number, GError **error);

/* The same step for several items, all or nothing: those that an offer ended for one of them has
 * brought there already stand. */
gboolean sw_items_step_by_hand (SwCatalogue *catalogue, const gint64 *items, gsize n, SwState to,
                                GError **error);

G_END_DECLS
