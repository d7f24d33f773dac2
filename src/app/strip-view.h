/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sorting strip: a trip along its time, drawn; 20,000 photos cost what is in view. One photo is
 * the chosen one, and with it its stop; a run of photos of one stop can be picked. Left and Right
 * go by photos, Up and Down by stops, Shift with Left or Right picks, Escape picks nothing, Enter
 * opens.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"
#include "core/match/strip.h"

G_BEGIN_DECLS

#define SW_TYPE_STRIP_VIEW (sw_strip_view_get_type ())
G_DECLARE_FINAL_TYPE (SwStripView, sw_strip_view, SW, STRIP_VIEW, GtkWidget)

/* Signals: "chosen" () another photo or stop is chosen, or picked; "activated" (gint64 photo);
 * "dropped" (gint64 stop key, 0: a gap) the picked photos were dragged there. */

/* Once, before anything is shown. */
void sw_strip_view_set_pictures (SwStripView *self, SwPictures *pictures);

/* Transfer full; NULL for none. The chosen photo stays chosen, and where it is on the screen, so
 * that nothing moves under the person's hands. */
void sw_strip_view_set_strip (SwStripView *self, SwStrip *strip);
const SwStrip *sw_strip_view_get_strip (SwStripView *self);

/* NULL for none. Valid until the next strip. */
const SwStripUnit *sw_strip_view_get_unit (SwStripView *self);
const SwStopRecord *sw_strip_view_get_stop (SwStripView *self);
/* What is said of the chosen unit, "" for none. Transfer full. */
char *sw_strip_view_describe (SwStripView *self);
/* The picked photos, else all of the chosen stop: what a decision is about. GArray of gint64, empty
 * for none. Transfer full. */
GArray *sw_strip_view_get_photos (SwStripView *self);
gboolean sw_strip_view_has_picked (SwStripView *self);
/* Picks the chosen photo alone, or nothing where any is picked. */
void sw_strip_view_toggle_picked (SwStripView *self);

/* Chooses that photo where it is on the strip. */
void sw_strip_view_choose_photo (SwStripView *self, gint64 photo);
/* Chooses the first photo of that stop and brings it into view. FALSE where there is no such. */
gboolean sw_strip_view_choose_stop (SwStripView *self, gint64 stop);
/* The next stop that is open and not sure (back: before this one); where there is none such, the
 * next open one; around the end. FALSE: nothing is open. */
gboolean sw_strip_view_next_doubt (SwStripView *self, gboolean back);

G_END_DECLS
