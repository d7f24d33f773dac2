/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window says of a stop: its band or that it is decided, what it shows, a sentence. Text
 * only; no widget. */
#pragma once

#include "core/match/strip.h"

G_BEGIN_DECLS

/* "Sure", "Doubtful", "Unknown" / "Decided", and the symbol beside it. Static. */
const char *sw_stop_word (const SwStopRecord *stop);
const char *sw_stop_icon (const SwStopRecord *stop);
/* What is proposed ("Screw press, also Vat" for a wide photo), or what was decided. Transfer full.
 */
char *sw_stop_title (const SwStopRecord *stop);

/* "10:42" of a property time; "Sat 4 Apr 10:42" with the day. "" where !timed. Transfer full. */
char *sw_strip_time (gboolean timed, gint64 t_us, gboolean with_day);

/* "Stop 3, Screw press, Doubtful, Press house, 4 photos, 10:42, why". Transfer full. */
char *sw_stop_sentence (const SwStopRecord *stop);
/* "Photo 2 of 4 of stop 3, 10:42:10, Doubtful, Screw press" or "Memo m.m4a, 10:43:00". */
char *sw_strip_unit_sentence (const SwStrip *strip, guint unit);

/* "17 stops to decide: 4 doubtful, 2 unknown". Transfer full. */
char *sw_strip_left_text (const SwStripLeft *left);

G_END_DECLS
