/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos of one thing: the chosen one large, the others in a strip below it, or spread out large.
 * Left and Right choose.
 */
#pragma once

#include <gtk/gtk.h>

#include "app/pictures.h"

G_BEGIN_DECLS

#define SW_TYPE_PHOTO_VIEW (sw_photo_view_get_type ())
G_DECLARE_FINAL_TYPE (SwPhotoView, sw_photo_view, SW, PHOTO_VIEW, GtkWidget)

/* Signals: "selected" (gint64 photo; 0: none); "moved" (gint64 photo, int to: the place, from 1,
 * that a drag within the strip or Shift with an arrow gives it; it lies there once the photos are
 * set anew. Without a handler neither does anything). Return, or a second press, looks closer at
 * them. */

/* Once, before anything is shown. */
void sw_photo_view_set_pictures (SwPhotoView *self, SwPictures *pictures);
/* Instead of a large one over a strip: as many large ones as there is room for. */
void sw_photo_view_set_spread (SwPhotoView *self);
/* Chooses the next one (step 1) or the one before (-1), round and round; FALSE where there is no
 * other. */
gboolean sw_photo_view_next (SwPhotoView *self, int step);
/* captions: one a photo, what a reader says of it and what stands below the large one; copied. The
 * chosen photo stays chosen where it is among them. */
void sw_photo_view_set_photos (SwPhotoView *self, const gint64 *photos, const char *const *captions,
                               guint n);
/* FALSE where there is nothing to look at. */
gboolean sw_photo_view_look_closer (SwPhotoView *self);
gint64 sw_photo_view_get_photo (SwPhotoView *self);
/* Of the chosen photo, "" for none. Transfer none. */
const char *sw_photo_view_get_caption (SwPhotoView *self);

G_END_DECLS
