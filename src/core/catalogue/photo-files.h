/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the pixels of each photo are: one short row a photo, read without making records of them.
 * For what must know of every photo there is. Records of the catalogue layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 photo, trip;        /* trip 0: none */
  const char *hash, *stored; /* see SwPhoto; valid during the call */
  int orientation, turn;
  gboolean aside, has_likeness;
  gboolean is_photo; /* else a raw file, a clip or a memo */
} SwPhotoFile;

typedef void (*SwPhotoFileFunc) (const SwPhotoFile *file, gpointer data);

/* Calls func for each photo and what came with them, by number. trip 0: all, those aside among
 * them. FALSE: errors of the database; some may have been told by then. */
gboolean sw_photo_files_each (SwCatalogue *catalogue, gint64 trip, SwPhotoFileFunc func,
                              gpointer data, GError **error);

G_END_DECLS
