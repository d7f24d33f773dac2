/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The texts of codes that were found on photos. Records of the catalogue layer: texts as they came,
 * whoever's they are; what they mean is the match layer's business. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* Longest text that is kept of a code, in bytes; none of ours is longer. */
#define SW_PHOTO_CODE_MAX 64

typedef struct
{
  gint64 photo;
  char *text; /* printable, at most SW_PHOTO_CODE_MAX bytes: a longer one is kept cut */
  int share;  /* thousandths of the photo's long side that the code takes up */
} SwPhotoCode;
void sw_photo_code_free (SwPhotoCode *code);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPhotoCode, sw_photo_code_free)

/* Puts these in place of what was found on the photo before, and notes that this version of the
 * reader has looked. A plain act: it can be worked out again. 'codes' of SwPhotoCode; their 'photo'
 * is not read. */
gboolean sw_photo_codes_put (SwCatalogue *catalogue, gint64 photo, int reader,
                             const GPtrArray *codes, GError **error);
/* Photos that this version of the reader or a later one has looked at: GArray of gint64 by number,
 * transfer full. */
GArray *sw_photo_codes_read (SwCatalogue *catalogue, int reader, GError **error);
/* What was found on the photos of a trip (0: all), asides left out. GPtrArray of SwPhotoCode by
 * photo, then text. Transfer full. */
GPtrArray *sw_photo_code_list (SwCatalogue *catalogue, gint64 trip, GError **error);

G_END_DECLS
