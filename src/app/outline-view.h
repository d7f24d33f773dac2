/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A field for an indented list: one line a name, farther in is inside. Tab sets a line in,
 * Shift+Tab sets it out, Enter begins the next line as far in as this one, Ctrl+Enter is done. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_OUTLINE_VIEW (sw_outline_view_get_type ())
G_DECLARE_FINAL_TYPE (SwOutlineView, sw_outline_view, SW, OUTLINE_VIEW, GtkOverlay)

/* Signals: "changed" (), "done" (). 'name' is what assistive technology calls it; 'example' stands
 * faintly in it while it is empty. */
GtkWidget *sw_outline_view_new (const char *name, const char *example);
/* Transfer full. */
char *sw_outline_view_get_text (SwOutlineView *self);
void sw_outline_view_set_text (SwOutlineView *self, const char *text);
/* To be called before the field goes out of sight: GTK 3.24 complains where it is still scrolling
 * then. */
void sw_outline_view_stop_scrolling (SwOutlineView *self);
/* Lines that are not empty. */
int sw_outline_view_count (SwOutlineView *self);

G_END_DECLS
