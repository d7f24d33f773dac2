/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window: header bar, pages, the line that says what happened, the takings panel. */
#pragma once

#include <gtk/gtk.h>

#include "app/closer-view.h"
#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_WINDOW (sw_window_get_type ())
G_DECLARE_FINAL_TYPE (SwWindow, sw_window, SW, WINDOW, GtkApplicationWindow)

/* With nothing to see yet: sw_window_start or sw_window_open follows. */
SwWindow *sw_window_new (GtkApplication *app);
/* Without a catalogue: shows how to make or open one. */
void sw_window_start (SwWindow *self);
/* Opens the catalogue in this window, in place of the one there. */
void sw_window_open (SwWindow *self, const char *folder);
/* NULL while none is open. */
SwStore *sw_window_store (SwWindow *self);
/* Why the catalogue could not be opened; NULL: nothing went wrong. */
const char *sw_window_get_problem (SwWindow *self);

/* Looks closer at these photos (copied), 'current' first, over the pages; going back gives the
 * focus to where it was. 'closed' (may be NULL) is then called with the photo looked at last,
 * unless 'owner' is gone by then. */
typedef void (*SwClosedCloser) (gpointer owner, gint64 photo);
void sw_window_look_closer (SwWindow *self, const gint64 *photos, guint n, gint64 current,
                            GObject *owner, SwClosedCloser closed);
/* Transfer none. */
SwCloserView *sw_window_closer (SwWindow *self);

/* For pictures of the window: pages by name ("photos", "property", "takings", "start"), whether all
 * that is shown has come, and the first item opened. */
void sw_window_show_page (SwWindow *self, const char *name);
/* Looks at folders with photos (NULL-terminated paths) before they are brought in; a catalogue is
 * open and can be written. */
void sw_window_look_at (SwWindow *self, const char *const *folders);
gboolean sw_window_is_settled (SwWindow *self);
void sw_window_show_panel (SwWindow *self, gboolean shown);
GtkWidget *sw_window_page (SwWindow *self, const char *name);

/* Accelerators, set by the application: detailed action, key, another key or NULL. */
extern const char *const sw_window_accels[][3];
extern const guint sw_window_n_accels;

G_END_DECLS
