/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The run sheet of the closing night: offers in closing order with a countdown, results caught with
 * a price or one key, verdicts with one key, one confirmation. Made for 640 pixels beside a
 * browser and for the keyboard alone. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_NIGHT_VIEW (sw_night_view_get_type ())
G_DECLARE_FINAL_TYPE (SwNightView, sw_night_view, SW, NIGHT_VIEW, GtkBox)

/* Shows nothing until it is loaded. */
GtkWidget *sw_night_view_new (SwStore *store, SwPictures *pictures);
/* Reads anew what is shown. */
void sw_night_view_load (GtkWidget *view);
/* The keyboard to where prices are typed. */
void sw_night_view_focus (GtkWidget *view);

G_END_DECLS
