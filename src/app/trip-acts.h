/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the page Next trip and the form of the van send to the catalogue. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"
#include "core/catalogue/van.h"

G_BEGIN_DECLS

/* Must go, not this time, or as it pays. */
void sw_trip_act_wish (SwStore *store, gint64 trip, gint64 item, SwWish wish);
/* The van, and how it is used on a trip, as one act. See sw_store_try. */
void sw_trip_act_van (SwStore *store, gint64 trip, const SwVan *van, const SwTripLoad *load,
                      GObject *owner, SwTryDone done);
/* Asks for the property's last day; 'begun' is the one known, NULL: none. */
void sw_trip_ask_last_day (GtkWindow *parent, SwStore *store, const SwDay *begun);
/* The shortest walk of the trip as the person's order. */
void sw_trip_act_walk (SwStore *store, gint64 trip);
/* Asks where to, writes the trip sheet and tells so; its lines are kept, so that they can be ticked
 * off. */
void sw_trip_ask_paper (GtkWindow *parent, SwStore *store, gint64 trip);

G_END_DECLS
