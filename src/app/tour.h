/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A walk of two minutes through the pages: a few lines at each of what is done there and with which
 * key, while the page itself can be used. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Begins at the first step, in a popover at 'button'; pages are shown by the window's action
 * "page". Escape in it, Leave, or the end closes it. One that is open begins anew. */
void sw_tour_begin (GtkWidget *button);

G_END_DECLS
