/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos as they leave the house: decoded by the helper and made anew, upright and of a stated
 * size, so that nothing of the file they come from goes along. Handout layer. */
#pragma once

#include "core/catalogue/catalogue.h"
#include "core/intake/decoder.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 photo;
  char *path;      /* of its file */
  int orientation; /* Exif value, a person's turns included */
} SwOutPhoto;
void sw_out_photo_free (SwOutPhoto *photo);

/* The photos of these items (gint64), each item's cover first, none twice; those aside and what is
 * no picture are left out. 'most' an item, 0: all. GPtrArray of SwOutPhoto, transfer full. */
GPtrArray *sw_out_photos (SwCatalogue *catalogue, const GArray *items, guint most, GError **error);

/* JPEG without metadata of any kind. */
typedef struct
{
  GBytes *jpeg;
  guint width, height;
} SwOutPicture;
void sw_out_picture_free (SwOutPicture *picture);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwOutPicture, sw_out_picture_free)

/* At most 'side' pixels on the long side, never enlarged; quality 1 to 100. *out_picture (transfer
 * full) NULL without an error where no picture can be made of it. Blocks: not for the catalogue's
 * thread. Error: CANCELLED. */
gboolean sw_out_photo_make (const SwOutPhoto *photo, SwDecoder *decoder, guint side, int quality,
                            GCancellable *cancellable, SwOutPicture **out_picture, GError **error);

G_END_DECLS
