/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An entry that offers the names of a list which hold what is typed: zones, currencies. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Gives the entry an empty list, to be filled in its one column of text. Transfer full. */
GtkListStore *sw_list_field_set_up (GtkWidget *entry);

/* As the list writes it, where what was typed is one of its names but for case and blanks, or part
 * of just one ("auckland"); else what was typed. Transfer full. */
char *sw_list_field_meant (GtkWidget *entry);

/* Sets the text past the list: set while the list is open or about to be, the text would open it
 * anew over a field that has just been left. */
void sw_list_field_put (GtkWidget *entry, const char *text);

G_END_DECLS
