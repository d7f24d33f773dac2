/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sorting a trip: the strip, the chosen photo large with what is thought of it, what is left, and
 * the keys that decide. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_SORTER (sw_sorter_get_type ())
G_DECLARE_FINAL_TYPE (SwSorter, sw_sorter, SW, SORTER, GtkBox)

/* Signal "propose" (): the person wants stops where there are none yet. */
void sw_sorter_set_store (SwSorter *self, SwStore *store, SwPictures *pictures);
/* Shows that trip (0: none); the same one again after a change. A trip not shown before opens at
 * its first doubt. */
void sw_sorter_set_trip (SwSorter *self, gint64 trip);
/* Whether stops can be asked for now. */
void sw_sorter_set_can_propose (SwSorter *self, gboolean can);

/* A key pressed anywhere on the page where nothing is typed. TRUE where it decided something. */
gboolean sw_sorter_key (SwSorter *self, const GdkEventKey *event);

/* The photo chosen on the strip, 0: none. */
gint64 sw_sorter_get_photo (SwSorter *self);
/* Hands the focus to the strip. */
void sw_sorter_focus (SwSorter *self);

/* Nothing is read, thought or waited for. */
gboolean sw_sorter_is_settled (SwSorter *self);

G_END_DECLS
