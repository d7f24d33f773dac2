/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Takings: what each trip, place or outlet brought, under the chosen credit view. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_TAKINGS_PAGE (sw_takings_page_get_type ())
G_DECLARE_FINAL_TYPE (SwTakingsPage, sw_takings_page, SW, TAKINGS_PAGE, GtkBox)

/* Transfer floating. */
GtkWidget *sw_takings_page_new (SwStore *store);

G_END_DECLS
