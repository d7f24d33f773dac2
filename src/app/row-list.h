/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A list that draws its rows itself: 100,000 rows cost what is in view. One row is chosen.
 * Arrows, Page Up and Down, Home and End choose; Enter or a double click activates. */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "app/rows.h"

G_BEGIN_DECLS

#define SW_TYPE_ROW_LIST (sw_row_list_get_type ())
G_DECLARE_FINAL_TYPE (SwRowList, sw_row_list, SW, ROW_LIST, GtkWidget)

/* Signals: "selected" (gint64 key; 0 for none) when the person chose, "clicked" (gint64 key) when a
 * row was clicked, after "selected"; "activated" (gint64 key). */
GtkWidget *sw_row_list_new (void);

/* The chosen row stays chosen by its key, or its neighbour where it is gone. rows: NULL for none.
 */
void sw_row_list_set_rows (SwRowList *self, SwRows *rows);
/* The rows are the same, but some of these say something else now. */
void sw_row_list_told (SwRowList *self, guint first, guint n);
/* Draws all rows anew: what they say hangs on the time, or on something else beside them. */
void sw_row_list_redraw (SwRowList *self);
/* Pictures may be NULL. */
void sw_row_list_set_pictures (SwRowList *self, SwPictures *pictures);
/* 0 for none. */
gint64 sw_row_list_get_key (SwRowList *self);
/* Chooses without emitting; FALSE where no row has the key. */
gboolean sw_row_list_set_key (SwRowList *self, gint64 key);
/* FALSE: focus alone chooses nothing (by default it chooses the first row). */
void sw_row_list_set_choose_on_focus (SwRowList *self, gboolean choose);
guint sw_row_list_get_count (SwRowList *self);
/* Chooses the first row as if the person had. */
void sw_row_list_choose_first (SwRowList *self);

G_END_DECLS
