/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A weigh ticket of a yard as it lies before the person: gross and tare, and its lines by class,
 * each of marked things or of loose scrap. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* yards: names, NULL-terminated, copied; items: GPtrArray of SwItem marked For scrap, counted. One
 * line is begun for each class among them. What the yard refused is left out of the lines and stays
 * marked; what it took as another class gets that class in its line. */
void sw_docket_form_show (GtkWindow *parent, SwStore *store, const char *const *yards,
                          GPtrArray *items);

G_END_DECLS
