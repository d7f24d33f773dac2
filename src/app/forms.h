/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small windows that ask for a few words: a place, a trip. They never block; the act is sent when
 * filled in. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Asks for the path of a new place, or for the title and days of a new trip. */
void sw_form_add_place (GtkWindow *parent, SwStore *store);
void sw_form_add_trip (GtkWindow *parent, SwStore *store);
/* Title and days of a trip there is; the last one first. Where there is none, one is added. */
void sw_form_change_trip (GtkWindow *parent, SwStore *store);

G_END_DECLS
