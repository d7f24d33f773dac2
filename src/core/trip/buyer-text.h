/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a buyer is written before a hand-over: to be copied and sent by the person, never by the
 * program. Trip layer; read only. */
#pragma once

#include "core/trip/hand-overs.h"

G_BEGIN_DECLS

/* Of the hand-over that the sale is in: what there is to fetch, with mass, hands or machine,
 * dangers with their usual cautions, what is due and by when; the hours on site where some were
 * entered for the trip, and the way to the gate only where nothing is due any more. No place, no
 * other buyer, no word on when nobody is there. Errors: NOT_FOUND (the trip, or a sale that waits
 * for nobody), those of the database. Transfer full. */
char *sw_buyer_text_of_deal (SwCatalogue *catalogue, gint64 trip, gint64 deal, GError **error);

G_END_DECLS
