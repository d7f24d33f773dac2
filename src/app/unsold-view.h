/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What did not sell, one by one: photo, what was asked, what it drew, its floor, the outlook outlet
 * by outlet, and the verdict by one key. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_UNSOLD_VIEW (sw_unsold_view_get_type ())
G_DECLARE_FINAL_TYPE (SwUnsoldView, sw_unsold_view, SW, UNSOLD_VIEW, GtkBox)

/* Shows nothing until it is loaded. */
GtkWidget *sw_unsold_view_new (SwStore *store, SwPictures *pictures);
void sw_unsold_view_load (GtkWidget *view);
void sw_unsold_view_focus (GtkWidget *view);

G_END_DECLS
