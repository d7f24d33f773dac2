/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Settling a docket. Private to the trade layer; see settle.h. */
#pragma once

#include "core/trade/ledger.h"

G_BEGIN_DECLS

/* Fixes the weights by which each line's money is split, as the masses stand now. */
gboolean sw_docket_fix (SwLedger *ledger, GError **error);
/* Brings its lines and fees into the ledger. */
gboolean sw_docket_settle (SwLedger *ledger, GError **error);

G_END_DECLS
