/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was said of one sale, under its list: who bought it, what was paid how and to whom, what was
 * taken back, its fees as worked out and as charged, and who is next. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_SALE_BOX (sw_sale_box_get_type ())
G_DECLARE_FINAL_TYPE (SwSaleBox, sw_sale_box, SW, SALE_BOX, GtkBox)

/* Reads it and shows it. deal 0: nothing. items: what was sold. */
void sw_sale_box_load (SwSaleBox *self, SwStore *store, gint64 deal, const char *items);

G_END_DECLS
