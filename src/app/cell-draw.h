/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words of drawn widgets, in the widget's own style. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* One line of text; width -1: as wide as it is, else cut with an ellipsis. Transfer full. */
PangoLayout *sw_cell_text_layout (GtkWidget *widget, const char *text, int width, gboolean bold);
/* Lets a line of given width stand at the side that its widget is read from, whichever way its own
 * words run. */
void sw_cell_align (PangoLayout *layout);
int sw_cell_text_width (GtkWidget *widget, const char *text);
/* Draws such a line with a style class more (NULL: none); returns what it took. */
int sw_cell_draw_text (GtkWidget *widget, cairo_t *cr, const char *text, const char *class, int x,
                       int y, int width, gboolean bold);
/* A laid-out line with a style class more. */
void sw_cell_draw_layout (GtkWidget *widget, cairo_t *cr, PangoLayout *layout, const char *class,
                          int x, int y);

G_END_DECLS
