/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page On offer: sections of the same work, one shown at a time. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_OFFER_PAGE (sw_offer_page_get_type ())
G_DECLARE_FINAL_TYPE (SwOfferPage, sw_offer_page, SW, OFFER_PAGE, GtkBox)

/* Transfer floating. */
GtkWidget *sw_offer_page_new (SwStore *store, SwPictures *pictures);
/* By name ("night", ...); unknown ones are passed over. */
void sw_offer_page_show_section (SwOfferPage *self, const char *name);

G_END_DECLS
