/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clocks as a person types and reads them: times seen on a clock, shifts, what is known of a
 * camera's clock. Match layer, pure. */
#pragma once

#include "core/base/civil.h"
#include "core/match/pairing.h"

G_BEGIN_DECLS

/* Property time as read off a clock: "14:05", "14:05:30" or with its day "2026-04-03T14:05:30".
 * Fills all of *out but its photo. BAD_INPUT for another text. */
gboolean sw_clock_face_parse (const char *text, const SwZone *zone, SwClockFace *out,
                              GError **error);

/* What is added to a clock, as a clock would show it: "+1:00:00", "-0:00:40"; plain seconds are
 * taken too. FALSE, and *out_shift_s untouched, where the text is no such. */
gboolean sw_clock_shift_parse (const char *text, double *out_shift_s);
/* Transfer full. */
char *sw_clock_shift_text (double shift_s);

/* What is known of a clock, in plain lines without the camera's name: the shift and how sure, what
 * speaks for it, what else it could be, drift, changes. GPtrArray of char *. Transfer full. */
GPtrArray *sw_clock_words (const SwPairingClock *clock);

G_END_DECLS
