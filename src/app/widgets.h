/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Few lines that several views need around stock widgets. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Destroys what is in the container. */
void sw_container_empty (GtkWidget *container);
/* Adds a wrapped, left-aligned, visible label; class may be NULL. Transfer none. */
GtkWidget *sw_container_add_line (GtkWidget *container, const char *text, const char *class);
/* The same, so many characters wide whatever is in it. */
GtkWidget *sw_container_add_wide_line (GtkWidget *container, const char *text, const char *class,
                                       int width_chars);

/* 'inner' scrolled one way where it would be longer than so many pixels (-1: GTK's own limit), at
 * its natural size the other way; the field that gets the keyboard comes into view. Transfer
 * floating. */
GtkWidget *sw_scrolled_new (GtkWidget *inner, GtkOrientation way, int most);

/* Lets long entries be cut, so that the combo box never dictates the width of its page. */
void sw_combo_ellipsize (GtkWidget *combo);
/* For one whose rows are made anew while it is in use: it does not count as empty meanwhile, which
 * would take the keyboard from it. */
void sw_combo_keep_keyboard (GtkWidget *combo);
/* Lets go of a dialog that answered, once the key press that answered is over: GTK still hands it
 * that event. */
void sw_native_dialog_done (GtkNativeDialog *dialog);

/* How much larger than usual the person wants letters; at least 1. */
double sw_widget_text_scale (GtkWidget *widget);

/* Draws a symbolic icon of SW_ICON_SIDE pixels in the widget's present colour. */
#define SW_ICON_SIDE 16
void sw_draw_icon (GtkWidget *widget, cairo_t *cr, const char *name, int x, int y);
/* The same for those who keep it; NULL where the theme has none. Transfer full. */
cairo_surface_t *sw_icon_surface (GtkWidget *widget, const char *name);

/* What a drawn widget's realize does: a window of its own, with these events besides the widget's.
 */
void sw_widget_realize (GtkWidget *widget, GdkEventMask events);

G_END_DECLS
