/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page Photos in: bring photos in, watch it, and decide what each stop of a trip shows. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_PHOTOS_PAGE (sw_photos_page_get_type ())
G_DECLARE_FINAL_TYPE (SwPhotosPage, sw_photos_page, SW, PHOTOS_PAGE, GtkBox)

/* Transfer floating. */
GtkWidget *sw_photos_page_new (SwStore *store, SwPictures *pictures);
/* Brings the folders in (NULL-terminated paths); what comes of it is shown on the page. */
void sw_photos_page_bring_in (SwPhotosPage *self, const char *const *folders);
gboolean sw_photos_page_is_bringing_in (SwPhotosPage *self);
/* The clocks of the trip's cameras in place of its strip. */
void sw_photos_page_show_clocks (SwPhotosPage *self);
/* Nothing is read or thought out any more. */
gboolean sw_photos_page_is_settled (SwPhotosPage *self);

G_END_DECLS
