/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the words of a page mean, in a few short lines: a popover at the button that asks. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Shows the words of 'page' ("photos", "property", "offer", "trip", "takings") at 'button' until
 * Escape or a click elsewhere closes it; the focus then goes back to where it was. */
void sw_page_help_show (GtkWidget *button, const char *page);

G_END_DECLS
