/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A pasted table of interest, shown matched to its offers before it is taken. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* Reads the text on the catalogue thread, then opens a small window; where nothing can be read the
 * reason is told in the window's line. Never blocks. */
void sw_interest_form_show (GtkWindow *parent, SwStore *store, const char *text);

G_END_DECLS
