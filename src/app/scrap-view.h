/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Section of the page On offer: what is marked For scrap as one pile, class by class at the gate or
 * fetched, whether it is enough to be fetched, and the dockets of what went. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_SCRAP_VIEW (sw_scrap_view_get_type ())
G_DECLARE_FINAL_TYPE (SwScrapView, sw_scrap_view, SW, SCRAP_VIEW, GtkBox)

/* Transfer floating. */
GtkWidget *sw_scrap_view_new (SwStore *store, SwPictures *pictures);
/* Reads anew what it shows. */
void sw_scrap_view_load (GtkWidget *view);
/* Puts the keyboard into it. */
void sw_scrap_view_focus (GtkWidget *view);

G_END_DECLS
