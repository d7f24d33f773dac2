/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Thumbnails: out of thumbs.db, or made by the decode helpers and kept there. Intake layer.
 * Thread-safe; never part of a bring-in, check or backup: what is missing is made when wanted. */
#pragma once

#include "core/catalogue/photos.h"
#include "core/intake/decoder.h"

G_BEGIN_DECLS

typedef struct _SwThumbs SwThumbs;

typedef enum
{
  SW_THUMB_SMALL, /* 160 pixels on the long side */
  SW_THUMB_LARGE, /* 640 */
  SW_N_THUMB_SIZES,
} SwThumbSize;

/* Raise it when the decoder makes other pixels of the same bytes: what is stored is then made anew.
 */
#define SW_THUMBS_VERSION 1

/* Pixels on the long side. */
guint sw_thumb_side (SwThumbSize size);

/* For the catalogue folder; 'program' as in sw_decoder_new (NULL: the usual one). Where the folder
 * cannot be written the store lies in the user's cache, and failing that only in memory. Never
 * NULL. */
SwThumbs *sw_thumbs_new (const char *catalogue_folder, const char *program);
void sw_thumbs_free (SwThumbs *thumbs);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwThumbs, sw_thumbs_free)
SwDecoder *sw_thumbs_decoder (SwThumbs *thumbs);

/* What there is to show of a photo at once. */
typedef struct
{
  const char *hash, *stored; /* SwPhoto.hash and .stored */
  int orientation;
  /* given back, transfer full; at most one is set */
  GBytes *jpeg;        /* what is stored: upright, whole, final */
  SwPicture *stand_in; /* nothing is stored yet, but the camera left a small picture in the header:
                        * to be shown until sw_thumbs_get has made the thumbnail, and never kept */
  gboolean failed;     /* known: none can be made */
} SwThumbFirst;
/* Looks for all of them: a row of the store each, else some kilobytes of the file. Blocks; a
 * helper of its own reads the headers, so that this waits for no photo that is being decoded. */
void sw_thumbs_first (SwThumbs *thumbs, SwThumbFirst *photos, guint n, SwThumbSize size);

/* Stored, or made now and stored in both sizes. Blocks for a decode. 'stored' is SwPhoto.stored
 * (below the catalogue folder). A picture that cannot be decoded is remembered and fails at once
 * the next time. JPEG bytes, transfer full. Errors: as sw_decoder_decode. out_picture (may be NULL,
 * transfer full) is set only when it was decoded now. */
GBytes *sw_thumbs_get (SwThumbs *thumbs, const char *hash, const char *stored, int orientation,
                       SwThumbSize size, SwPicture **out_picture, GCancellable *cancellable,
                       GError **error);

/* Photos whose codes were read and whose quality was measured, both by the present versions: a set
 * of gint64 numbers. Transfer full; NULL on an error of the database. */
GHashTable *sw_thumbs_looked_at (SwCatalogue *catalogue, GError **error);

/* Makes the thumbnails, likenesses and measures still missing of all photos of a trip (0: all), and
 * reads the codes on them, one worker a helper; likenesses and codes go into the catalogue in small
 * acts on the calling thread. Pictures that fail are skipped. *out_made counts. Error: CANCELLED or
 * those of the database. Progress: *done and *total (atomic, may be NULL). */
gboolean sw_thumbs_make_missing (SwThumbs *thumbs, SwCatalogue *catalogue, gint64 trip, int *done,
                                 int *total, GCancellable *cancellable, int *out_made,
                                 GError **error);

G_END_DECLS
