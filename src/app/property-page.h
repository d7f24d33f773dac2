/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Property: the plan and the list of its places, the items of the chosen one, an item's
 * sheet. */
#pragma once

#include <gtk/gtk.h>

#include "app/columns.h"
#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_PROPERTY_PAGE (sw_property_page_get_type ())
G_DECLARE_FINAL_TYPE (SwPropertyPage, sw_property_page, SW, PROPERTY_PAGE, GtkBox)

/* Transfer floating. */
GtkWidget *sw_property_page_new (SwStore *store, SwPictures *pictures);
/* The columns that the page lies in. Transfer none. */
SwColumns *sw_property_page_columns (SwPropertyPage *self);
/* Puts the keyboard into the field of the search. */
void sw_property_page_search (SwPropertyPage *self);
/* Shows the first place with items and its first item, for pictures; FALSE while nothing is read
 * yet. */
gboolean sw_property_page_open_first (SwPropertyPage *self, gboolean with_item);
/* The place whose items are shown; 0: all. */
gint64 sw_property_page_get_place (SwPropertyPage *self);
/* Opens the item's sheet. */
void sw_property_page_show_item (SwPropertyPage *self, gint64 item);
/* For pictures of the window: at the photos of the item that is open. */
gboolean sw_property_page_look_closer (SwPropertyPage *self);

/* The whole property with the walk of the latest trip; the items as a table, or as rows. */
gboolean sw_property_page_show_walk (SwPropertyPage *self);
void sw_property_page_show_table (SwPropertyPage *self, gboolean table);

G_END_DECLS
