/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The scrap run in words: what the pile brings class by class, and what must not go with it. Trip
 * layer; the sums are core/trade's. */
#pragma once

#include "core/trade/scrap-pile.h"

G_BEGIN_DECLS

/* "3 things, 420 kg, 80.00 at the gate after cartage; Yard fetches from 2000 kg on: ..." without
 * the class's name; what is not known is named. Transfer full. */
char *sw_scrap_run_line (const SwScrapClass *of_class, SwCurrency currency);
/* "iron", or "class not said". Transfer none. */
const char *sw_scrap_run_name (const SwScrapClass *of_class);

/* What must not go, each a sentence; NULL-terminated, static. Common practice; they give way to the
 * yard and the rules of the place. */
const char *const *sw_scrap_run_cautions (void);
/* All of them as one text in the person's language. Transfer full. */
char *sw_scrap_run_cautions_text (void);

G_END_DECLS
