/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which items a stop may show besides what is proposed for it: what the model thinks next
 * likeliest, then those of the stops around it. No widget. */
#pragma once

#include "core/match/pairing.h"
#include "core/match/strip.h"

G_BEGIN_DECLS

/* The first item that was decided for the stop, 0: none. stop may be NULL. */
gint64 sw_stop_item (const SwStopRecord *stop);

/* Items of the stops around, nearest first, decided or proposed: what else a stop most often shows.
 * May repeat. stop may be NULL. GArray of gint64. Transfer full. */
GArray *sw_likely_items (const SwStrip *strip, const SwStopRecord *stop);

/* A key each. */
#define SW_LIKELY_OTHERS 2
typedef struct
{
  gint64 item;      /* 0: none */
  const char *name; /* the strip's or the model's; valid as long as those */
} SwLikelyOther;
/* What an open stop may show instead of what is proposed, likeliest first; other (may be NULL) is
 * the model's. */
void sw_likely_others (const SwStrip *strip, const SwStopRecord *stop, const SwPairingOther *other,
                       SwLikelyOther out[SW_LIKELY_OTHERS]);

G_END_DECLS
