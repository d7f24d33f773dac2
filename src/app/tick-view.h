/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Back home: the sheet of the latest trip, ticked off line by line with one key each, and the cash
 * counted. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_TICK_VIEW (sw_tick_view_get_type ())
G_DECLARE_FINAL_TYPE (SwTickView, sw_tick_view, SW, TICK_VIEW, GtkBox)

/* Signal "closed": back to the next trip. */
void sw_tick_view_open (SwTickView *self, SwStore *store);

G_END_DECLS
