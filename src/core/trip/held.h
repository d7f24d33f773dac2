/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is kept back for somebody, as a trip sees it: who has to say something before the day is
 * over. Trip layer; read only. */
#pragma once

#include "core/catalogue/items.h"
#include "core/catalogue/trips.h"

G_BEGIN_DECLS

/* Items On hold: GPtrArray of SwItem, the first to run out first. Transfer full. */
GPtrArray *sw_held_list (SwCatalogue *catalogue, GError **error);
/* "for Bea until 2026-05-24, before the trip: ask now"; transfer full. */
char *sw_held_words (const SwItem *item, const SwTrip *trip, SwDay today);

G_END_DECLS
