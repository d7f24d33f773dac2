/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The part of a page where photos come in: progress with time left and cancel, then what happened.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_BRING_IN_BAR (sw_bring_in_bar_get_type ())
G_DECLARE_FINAL_TYPE (SwBringInBar, sw_bring_in_bar, SW, BRING_IN_BAR, GtkBox)

/* Signals: "running" (gboolean): work begins or has ended. "came" (gint64 trip): photos were copied,
 * the last of them, or else the first, on a day of this trip. */
void sw_bring_in_bar_set_store (SwBringInBar *self, SwStore *store);
/* folders: NULL-terminated. Refused with a line while one runs. */
void sw_bring_in_bar_start (SwBringInBar *self, const char *const *folders);
/* Looks at photos not looked at yet and makes the trip's proposals again. */
void sw_bring_in_bar_propose (SwBringInBar *self, gint64 trip);
gboolean sw_bring_in_bar_is_running (SwBringInBar *self);

G_END_DECLS
