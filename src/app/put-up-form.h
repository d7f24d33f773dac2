/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Putting items up: which of them, through which outlet, closing when, for how much; what is not
 * ready says why. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* These items, by number (copied); n 0: those that are ready or at home, none of them chosen yet.
 * Reads on the catalogue thread, then opens a small window. Never blocks. */
void sw_put_up_form_show (GtkWindow *parent, SwStore *store, const gint64 *items, guint n);

G_END_DECLS
