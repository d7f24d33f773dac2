/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rounds side by side: offered, sold, before and after fees. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_ROUNDS_VIEW (sw_rounds_view_get_type ())
G_DECLARE_FINAL_TYPE (SwRoundsView, sw_rounds_view, SW, ROUNDS_VIEW, GtkStack)

/* Shows nothing until it is loaded. */
GtkWidget *sw_rounds_view_new (SwStore *store, SwPictures *pictures);
void sw_rounds_view_load (GtkWidget *view);
void sw_rounds_view_focus (GtkWidget *view);

G_END_DECLS
