/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The end of sorting a trip: what came of it, and where to go next. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_SORTED_BAR (sw_sorted_bar_get_type ())
G_DECLARE_FINAL_TYPE (SwSortedBar, sw_sorted_bar, SW, SORTED_BAR, GtkBox)

/* Reads what came of the trip and shows it. */
void sw_sorted_bar_show (SwSortedBar *self, SwStore *store, gint64 trip);

G_END_DECLS
