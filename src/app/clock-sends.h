/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person says of a camera's clock, as it is sent to the catalogue thread. The answer comes
 * with the store's "told". */
#pragma once

#include "app/store.h"

G_BEGIN_DECLS

/* from: a photo's number, 0 for the whole trip; shift_s NULL: left to the program. */
void sw_clock_send_shift (SwStore *store, gint64 camera, gint64 trip, gint64 from,
                          const double *shift_s);
/* The time on a clock in that photo, "none" to leave it out; a shift set by hand gives way to it.
 */
void sw_clock_send_seen (SwStore *store, gint64 camera, gint64 trip, gint64 photo,
                         const char *time);

G_END_DECLS
