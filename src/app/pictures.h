/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures for the window: surfaces of photos, loaded off the main thread, kept within a byte
 * budget. Asked for while drawing: what was asked for last is loaded first, and what has scrolled
 * away by then is dropped. A photo that was not decoded yet first shows the small picture that its
 * camera put into its header; that gives way to its own as this comes. */
#pragma once

#include <gtk/gtk.h>

#include "app/picture-source.h"

G_BEGIN_DECLS

#define SW_TYPE_PICTURES (sw_pictures_get_type ())
G_DECLARE_FINAL_TYPE (SwPictures, sw_pictures, SW, PICTURES, GObject)

typedef enum
{
  SW_PICTURE_SMALL, /* rows and strips */
  SW_PICTURE_LARGE, /* the sheet */
  SW_N_PICTURE_SIZES,
} SwPictureSize;

SwPictures *sw_pictures_new (SwPictureSource *source);

/* The picture if it is there, else NULL and it is queued; "loaded" (gint64 photo) is emitted when
 * it has come, and again when a better one has. *out_missing (may be NULL): TRUE once it is known
 * that there is none. Transfer none, valid until the next call. */
cairo_surface_t *sw_pictures_get (SwPictures *self, gint64 photo, SwPictureSize size,
                                  gboolean *out_missing);

/* Forgets what is kept of the photo: it is loaded again when it is asked for. Emits "loaded". */
void sw_pictures_forget (SwPictures *self, gint64 photo);

/* For a widget that shows pictures: pictures (NULL: none) take the place of *at, and loaded
 * (pictures, photo, widget) is called for those that come. *handler is the widget's to keep. */
void sw_pictures_follow (SwPictures **at, gulong *handler, SwPictures *pictures, GCallback loaded,
                         gpointer widget);

/* Nothing is queued or being loaded, and nothing kept stands in for a better one. */
gboolean sw_pictures_is_idle (SwPictures *self);

/* Draws the photo into the area: fitted inside when 'whole', else filling it with what overhangs
 * cut off; a quiet field while it is not there. */
void sw_pictures_draw (SwPictures *self, cairo_t *cr, GtkStyleContext *style, gint64 photo,
                       SwPictureSize size, const GdkRectangle *area, gboolean whole);

G_END_DECLS
