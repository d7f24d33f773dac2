/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a place, in the same words in its box on the plan and in its row of the list.
 * Text only; no widget, no sum. */
#pragma once

#include "app/store.h"

G_BEGIN_DECLS

/* "Walked, 12 of 40 still stand", "Not walked yet". Transfer full. */
char *sw_place_words_standing (const SwPlaceSummary *summary);
/* The same for the little room of a box: "Walked, 12 of 40". Transfer full. */
char *sw_place_words_standing_short (const SwPlaceSummary *summary);
/* "3 to decide, 1 to photograph, 2 to collect"; NULL: nothing waits. Transfer full. */
char *sw_place_words_waits (const SwPlaceSummary *summary);
/* "350.00, 1.2 t": asking and mass of what stands; NULL: neither is known. Transfer full. */
char *sw_place_words_worth (SwStore *store, const SwPlaceSummary *summary);
/* All of it as a screen reader says it. walk: when the walk that is shown was there, or NULL.
 * Transfer full. */
char *sw_place_words_sentence (SwStore *store, const SwPlace *place, const SwPlaceSummary *summary,
                               const char *walk);

G_END_DECLS
