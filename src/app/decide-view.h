/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The deciding round: one find fills the window, photos large, its fields beside them, what it
 * still lacks below; with what like things brought before. */
#pragma once

#include "app/pictures.h"
#include "app/store.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define SW_TYPE_DECIDE_VIEW (sw_decide_view_get_type ())
G_DECLARE_FINAL_TYPE (SwDecideView, sw_decide_view, SW, DECIDE_VIEW, GtkBox)

/* Signal "left" (gint64 item): the person leaves it; item is the one that was shown, 0 for none.
 *
 * Keys everywhere: Page Down and Page Up for the next find and the one before, Ctrl with them for
 * the photos, Ctrl+Enter looks closer. Outside a field: a letter goes to its field (decide-form.h),
 * y makes it Ready and goes on, t puts it off till later, b marks it to be priced, '=' takes over
 * what the find before said, Space shows the next photo, Escape leaves. In a field the same letters
 * with Alt; Escape leaves the field. */

/* NULL, NULL: lets go of the catalogue. */
void sw_decide_view_set_store (SwDecideView *self, SwStore *store, SwPictures *pictures);
/* Goes on where the person stood, or begins; place, trip: of the finds gone through, 0 for all. */
void sw_decide_view_open (SwDecideView *self, gint64 place, gint64 trip);
/* As Escape does; what was typed is saved. */
void sw_decide_view_leave (SwDecideView *self);

G_END_DECLS
