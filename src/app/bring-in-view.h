/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the choice of a card or folder to the word to copy it: what is plugged in, the look at what
 * lies there, days that no trip has. Copies nothing itself. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_BRING_IN_VIEW (sw_bring_in_view_get_type ())
G_DECLARE_FINAL_TYPE (SwBringInView, sw_bring_in_view, SW, BRING_IN_VIEW, GtkBox)

/* Signals: "copy" (char **folders): bring these in. "leave" (): the person thought better of it. */

/* The catalogue that is open; NULL: none. */
void sw_bring_in_view_set_store (SwBringInView *self, SwStore *store);
/* Asks for a card or folder, and forgets a look. 'ask_at_once': where nothing is plugged in, the
 * window to choose a folder opens by itself. */
void sw_bring_in_view_choose (SwBringInView *self, gboolean ask_at_once);
/* Looks at folders that are chosen already (NULL-terminated paths). */
void sw_bring_in_view_look (SwBringInView *self, const char *const *folders);
/* A look goes on or has ended, and the person has not yet said whether to copy: it is kept while
 * another page is shown. */
gboolean sw_bring_in_view_has_look (SwBringInView *self);
/* The keyboard goes to where the look stands. Only where there is one, and the view is shown. */
void sw_bring_in_view_take_up (SwBringInView *self);
/* Looking, or finding out what is plugged in. */
gboolean sw_bring_in_view_is_busy (SwBringInView *self);

G_END_DECLS
