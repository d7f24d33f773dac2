/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Outlets and their terms: what sales would cost and leave, the charges with their days, the last
 * day to put up for the next trip and what is not ready for it. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_OUTLETS_VIEW (sw_outlets_view_get_type ())
G_DECLARE_FINAL_TYPE (SwOutletsView, sw_outlets_view, SW, OUTLETS_VIEW, GtkBox)

/* Shows nothing until it is loaded. */
GtkWidget *sw_outlets_view_new (SwStore *store, SwPictures *pictures);
void sw_outlets_view_load (GtkWidget *view);
void sw_outlets_view_focus (GtkWidget *view);

G_END_DECLS
