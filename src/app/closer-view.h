/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looking closer: photos one by one over the whole of the window's pages, or two beside each other,
 * at any scale; what is wrong with one is said, it can be turned and made the cover of its item.
 * Pages open it by sw_window_look_closer (window.h). */
#pragma once

#include "app/pictures.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_CLOSER_VIEW (sw_closer_view_get_type ())
G_DECLARE_FINAL_TYPE (SwCloserView, sw_closer_view, SW, CLOSER_VIEW, GtkBox)

/* Signals: "shown" (gint64 photo): another photo is looked at. "left" (gint64 photo): the person
 * went back; photo is the one looked at last. Turns and covers are acts of the store: whoever shows
 * photos is told by its "changed".
 *
 * Keys: Left and Right (over a whole photo), Page Up and Page Down, Home and End go through the
 * photos; plus and minus zoom, 0 shows the whole, 1 its pixels, 2 each pixel as four; arrows move
 * over it; b puts the next photo beside it, x turns to the other of two; t turns (with Shift the
 * other way); c makes it the cover, or lets the cover be proposed again; Escape goes back. */

/* NULL, NULL: lets go of the catalogue and of all pixels. */
void sw_closer_view_set_store (SwCloserView *self, SwStore *store, SwPictures *pictures);

/* Shows these photos (copied), 'current' first (0 or none of them: the first). n at least 1. */
void sw_closer_view_open (SwCloserView *self, const gint64 *photos, guint n, gint64 current);
/* As Escape does. */
void sw_closer_view_leave (SwCloserView *self);
/* Puts the next photo beside it, or takes it away again. */
void sw_closer_view_set_beside (SwCloserView *self, gboolean beside);
/* Pixels of the screen to one of the photo; 0: the whole. */
void sw_closer_view_set_zoom (SwCloserView *self, double zoom);
/* All that is shown is there in full, and what is said of it. */
gboolean sw_closer_view_is_idle (SwCloserView *self);

G_END_DECLS
