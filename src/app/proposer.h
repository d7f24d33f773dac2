/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Proposes the open rest of a trip again after decisions: read on the catalogue thread, thought out
 * beside it, stored there unless a decision came between. Requests that come while it runs are one.
 */
#pragma once

#include "app/store.h"
#include "core/match/pairing.h"

G_BEGIN_DECLS

#define SW_TYPE_PROPOSER (sw_proposer_get_type ())
G_DECLARE_FINAL_TYPE (SwProposer, sw_proposer, SW, PROPOSER, GObject)

/* Signal "rested" (): nothing runs or waits any more. Transfer full. */
SwProposer *sw_proposer_new (SwStore *store);
void sw_proposer_request (SwProposer *self, gint64 trip);
/* What is being thought is left; nothing is stored any more. */
void sw_proposer_stop (SwProposer *self);
/* What the stop that begins with that photo shows next likeliest, as thought last; NULL: nothing.
 * Valid until the next "rested". */
const SwPairingOther *sw_proposer_other (SwProposer *self, gint64 stop);
gboolean sw_proposer_is_busy (SwProposer *self);

G_END_DECLS
