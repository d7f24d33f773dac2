/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the page Next trip says of its sheet. Text only. */
#pragma once

#include "app/store.h"
#include "core/trip/trip-sheet.h"

G_BEGIN_DECLS

/* Over the rows: what is due, the load, the walk. Transfer full. */
char *sw_trip_summary_words (SwStore *store, const SwTripSheet *sheet);
/* Of one candidate for the load, sentences each with a blank behind. Transfer full. */
char *sw_trip_thing_words (SwStore *store, const SwLoadThing *thing);

G_END_DECLS
