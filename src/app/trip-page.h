/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Next trip: what is to do there, line by line, with the van's load as it pays best. Must
 * and not this time are one key on a line. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_TRIP_PAGE (sw_trip_page_get_type ())
G_DECLARE_FINAL_TYPE (SwTripPage, sw_trip_page, SW, TRIP_PAGE, GtkStack)

/* Transfer floating. */
GtkWidget *sw_trip_page_new (SwStore *store, SwPictures *pictures);
/* What is ticked off of the last trip. */
void sw_trip_page_show_ticks (SwTripPage *self);

G_END_DECLS
