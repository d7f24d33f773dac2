/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Putting items up: offers made by a person, singly, by selection with a step between closing
 * times, or as one lot. Trade layer. */
#pragma once

#include "core/catalogue/items.h"
#include "core/catalogue/outlets.h"

G_BEGIN_DECLS

typedef struct
{
  const gint64 *items; /* numbers */
  gsize n;
  gboolean as_lot;    /* all in one offer; else one offer each, in this order */
  const char *outlet; /* by name */
  SwDay up;
  const SwInstant *closes;                /* of the first; NULL: it has no closing time */
  gint64 step_s;                          /* from one closing time to the next, in seconds */
  const SwMoney *start, *reserve, *hoped; /* of each offer; NULL: start and hoped are the asking
                                           * price where there is one, reserve the item's own */
  const char *round;                      /* its title; NULL: none */
  const char *extra;                      /* also to be had with it; NULL: nothing */
} SwOffering;

/* All or nothing, one act. An offer of just the same items as an earlier one takes over what the
 * person wrote for it: title, text, and what is also to be had where none is said now. *out_deals
 * (may be NULL): GArray of gint64 in the order of the items, transfer full. REFUSED with a sentence
 * where a claim, a hold or 'never offer before cleared' stands against it, or where an item is not
 * such as can be offered. */
gboolean sw_offering_make (SwCatalogue *catalogue, const SwOffering *offering, GArray **out_deals,
                           GError **error);

/* The same through each outlet named besides: 'also' is names with commas between ("" : none), as a
 * person types them; offering->outlet comes first. All or nothing, one act. Errors: as above. */
gboolean sw_offering_make_in (SwCatalogue *catalogue, const SwOffering *offering, const char *also,
                              GError **error);

/* Why the item cannot be put up as it stands: NULL if it can; a sentence, transfer full. */
char *sw_offering_why_not (SwCatalogue *catalogue, const SwItem *item);

/* Takes the running offer back on that day: its items go where they came from. */
gboolean sw_offer_withdraw (SwCatalogue *catalogue, gint64 deal, SwDay day, GError **error);

G_END_DECLS
