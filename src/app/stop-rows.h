/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The stops of a trip as rows: proposal, band, reason, pictures. Text only; no widget. */
#pragma once

#include "app/rows.h"
#include "app/store.h"
#include "core/catalogue/proposals.h"

G_BEGIN_DECLS

/* stops: GPtrArray of SwStopRecord, transfer full; 'open_only' leaves out those with nothing left
 * to decide. The key of a row is its stop's number. Transfer full. */
SwRows *sw_stop_rows_new (GPtrArray *stops, gboolean open_only);

/* "Sure", "Doubtful", "Unknown" / "Decided", and the symbol beside it. Static. */
const char *sw_stop_word (const SwStopRecord *stop);
const char *sw_stop_icon (const SwStopRecord *stop);
/* What is proposed, or what was decided. Transfer full. */
char *sw_stop_title (const SwStopRecord *stop);

G_END_DECLS
