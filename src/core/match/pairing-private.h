/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What pairing.c and pairing-store.c share. Not for anyone else. */
#pragma once

#include "core/catalogue/proposals.h"
#include "core/match/stops.h"
#include "core/match/trip-walk.h"

G_BEGIN_DECLS

/* To the next multiple of step, so that the same evidence stores the same figures. */
double sw_pairing_rounded (double value, double step);
/* SwStopRecord, one a stop of the proposal, with neutral names for new things. Transfer full. */
GPtrArray *sw_pairing_records (const SwTripWalk *walk, const SwProposal *proposal);
/* Clocks found and stops can be worked out again: no act, and nothing for undo. Errors: those of
 * the database. */
gboolean sw_pairing_store (SwCatalogue *catalogue, gint64 trip, const SwTripWalk *walk,
                           const SwProposal *proposal, GPtrArray *records, GError **error);

G_END_DECLS
