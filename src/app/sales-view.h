/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sales: what is owed and not collected yet, with payments, collections, refunds and fees entered
 * as rows of the money table. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_SALES_VIEW (sw_sales_view_get_type ())
G_DECLARE_FINAL_TYPE (SwSalesView, sw_sales_view, SW, SALES_VIEW, GtkBox)

/* Shows nothing until it is loaded. */
GtkWidget *sw_sales_view_new (SwStore *store, SwPictures *pictures);
void sw_sales_view_load (GtkWidget *view);
void sw_sales_view_focus (GtkWidget *view);

G_END_DECLS
