/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words the window makes of core values: rows, days, trips. Text only; no widget, no sum. */
#pragma once

#include "app/store.h"
#include "core/base/language.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* "14 to 17 March 2026". Transfer full. */
char *sw_text_days (SwDay first, SwDay last);
/* "March 2026" in the person's locale. Transfer full. */
char *sw_text_month (SwDay day);
/* "Trip 2, Spring stay". Transfer full. */
char *sw_text_trip (const SwTrip *trip);
/* "All money of an item counts with the trip that found it.": what a view credits. Static. */
const char *sw_text_credit (SwCredit credit);
/* "12 min", "40 s". Transfer full. */
char *sw_text_seconds (int seconds);

G_END_DECLS
