/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The running offers by closing time: the outlet's own reference pasted when one is put up, its
 * title, text and price to be copied over, withdrawn with one key. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_RUNNING_VIEW (sw_running_view_get_type ())
G_DECLARE_FINAL_TYPE (SwRunningView, sw_running_view, SW, RUNNING_VIEW, GtkBox)

/* Shows nothing until it is loaded. */
GtkWidget *sw_running_view_new (SwStore *store, SwPictures *pictures);
void sw_running_view_load (GtkWidget *view);
void sw_running_view_focus (GtkWidget *view);

G_END_DECLS
