/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who asked for a running offer and gets it kept back, and who did not come; and the underbidder
 * who is asked once a sale fell through. Trade layer. */
#pragma once

#include "core/catalogue/enquiries.h"

G_BEGIN_DECLS

/* All items of the enquiry's offer become On hold until that day for the person named; the offer
 * runs on. One act. Errors: REFUSED (nobody is named; it has ended; the day is past), NOT_FOUND. */
gboolean sw_enquiry_hold (SwCatalogue *catalogue, gint64 id, SwDay until, GError **error);
/* The person did not come: what is held for them is On offer again where its offer still runs. One
 * act. Errors: NOT_FOUND. */
gboolean sw_enquiry_no_show (SwCatalogue *catalogue, gint64 id, GError **error);

/* The best of those who bid or named an amount: neither the buyer nor a no-show; of equals the
 * earlier. NULL where there is none. Transfer none. */
const SwEnquiry *sw_enquiry_next_best (const GPtrArray *enquiries, const char *buyer);

/* The sale falls through on that day, if it did not before, and its items are sold to the next for
 * 'amount' through the same outlet: a sale without an offer of its own, whose ref is *out_ref
 * (transfer full; may be NULL). buyer "" for not named. One act. Errors: REFUSED, BAD_INPUT. */
gboolean sw_sale_to_next (SwCatalogue *catalogue, gint64 deal, const char *buyer, SwMoney amount,
                          SwInstant at, char **out_ref, GError **error);

G_END_DECLS
