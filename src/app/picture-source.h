/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the window's pictures come from: the thumbnails of the open catalogue, by photo number.
 * Thread-safe; outlives the store that made it, so that a worker thread never meets it half gone.
 */
#pragma once

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <gio/gio.h>

#include "core/catalogue/photo-files.h"
#include "core/catalogue/photo-quality.h"
#include "core/intake/decoder.h"

G_BEGIN_DECLS

typedef struct _SwPictureSource SwPictureSource;

/* Of the catalogue in that folder. Transfer full. */
SwPictureSource *sw_picture_source_new (const char *folder);
/* One more owner; from any thread. */
SwPictureSource *sw_picture_source_ref (SwPictureSource *source);
/* NULL is allowed. */
void sw_picture_source_unref (SwPictureSource *source);

/* Says that there is this photo, or how it is turned now; as told by sw_photo_files_each. From any
 * thread. */
void sw_picture_source_set_photo (SwPictureSource *source, const SwPhotoFile *photo);

/* What there is to show of a photo at once, upright, as sw_picture_source_load gives it. */
typedef struct
{
  gint64 photo;
  GdkPixbuf *pixbuf; /* given back, transfer full; NULL: nothing yet, or (is_final) never */
  gboolean is_final; /* given back: FALSE where sw_picture_source_load would give a better one */
} SwFirstPicture;
/* What is stored, else the small picture in the photo's own header. Blocks: not for the main
 * thread. */
void sw_picture_source_first (SwPictureSource *source, SwFirstPicture *pictures, guint n,
                              gboolean large);

/* An upright picture, some 160 or (large) 640 pixels on the long side; NULL where none can be made.
 * Blocks: not for the main thread. Transfer full. */
GdkPixbuf *sw_picture_source_load (SwPictureSource *source, gint64 photo, gboolean large);

/* Photos whose turn has changed since the last call: pictures of them that are kept show the old
 * one. GArray of gint64, transfer full. Never waits long: made for the main thread. */
GArray *sw_picture_source_take_turned (SwPictureSource *source);

/* A part of the photo, turned as the person wants it; orientation and turn of 'part' are filled in
 * here, the turn used is given back. NULL where none can be made, or cancelled. Blocks. */
SwPicture *sw_picture_source_part (SwPictureSource *source, gint64 photo, const SwDecodePart *part,
                                   GCancellable *cancellable, int *out_turn);

/* What proposals go by: the photo's likeness, made together with its thumbnails. FALSE where no
 * picture can be made of it. Blocks. */
typedef struct
{
  gint64 photo;
  GBytes *likeness;
  SwPhotoQuality quality;
  int width, height;
  GPtrArray *codes; /* SwPhotoCode */
} SwLook;
gboolean sw_picture_source_look (SwPictureSource *source, gint64 photo, GCancellable *cancellable,
                                 SwLook *out_look);

G_END_DECLS
