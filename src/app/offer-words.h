/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of offers: asked money, interest, mass and floor, how a result stands. Text only; no
 * widget, no sum. Each is transfer full and "" where there is nothing to say. */
#pragma once

#include "app/night.h"
#include "app/store.h"

G_BEGIN_DECLS

/* "34 looks, 5 followers, 3 bids at 70.00". */
char *sw_words_interest (SwStore *store, const SwInterest *interest);
/* "34 looks, 5 followers, 2 enquiries, held until 3 May 2026"; "no interest noted" for none. */
char *sw_words_drawn (SwStore *store, const SwRunRow *row);
/* "held until 3 May 2026", and once that day is over "the hold ran out on 3 May 2026". */
char *sw_words_hold (SwDay until, SwInstant end);
/* "starts at 50.00, reserve 80.00, hoped 120.00". */
char *sw_words_asked (SwStore *store, const SwRunRow *row);
/* "480 kg, floor 90.00, needs a machine to lift". */
char *sw_words_weight (SwStore *store, const SwRunRow *row);
/* Whether it can be brought home in the van, and why not. Transfer full. */
char *sw_words_van (SwVanFit fit);
/* "Sold for 120.00", "No sale, again", "Running". */
char *sw_words_stand (SwStore *store, SwNightStand stand);
/* Its symbol and its word alone; static. */
const char *sw_words_stand_icon (SwNightStand stand);
const char *sw_words_stand_word (SwNightStand stand);

G_END_DECLS
