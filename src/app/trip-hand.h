/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the page Next trip does around a hand-over: the text to its buyer, when somebody is on site,
 * the slip for a neighbour. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Puts the text to the buyer of that sale on the clipboard and tells so; nothing is sent. */
void sw_trip_copy_buyer_text (SwStore *store, gint64 trip, gint64 deal);
/* Asks when somebody is on site during the trip, and for the way to the gate. */
void sw_trip_ask_site (GtkWindow *parent, SwStore *store, gint64 trip);
/* Asks for a file and writes the slip. */
void sw_trip_ask_slip (GtkWindow *parent, SwStore *store, gint64 trip);

G_END_DECLS
