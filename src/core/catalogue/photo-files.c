/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps once through the photos. Keeps nothing. */
#include "core/catalogue/photo-files.h"

#include "core/catalogue/db.h"

gboolean
sw_photo_files_each (SwCatalogue *catalogue, gint64 trip, SwPhotoFileFunc func, gpointer data,
                     GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_PHOTO_FILES, "i", trip);
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, &use, &ok, error))
    {
      g_autofree char *hash = sw_col_text (&use, 2), *stored = sw_col_text (&use, 3);
      SwPhotoFile file = { .photo = sw_col_int (&use, 0),
                           .trip = sw_col_int (&use, 1),
                           .hash = hash,
                           .stored = stored,
                           .orientation = (int)sw_col_int (&use, 4),
                           .turn = (int)sw_col_int (&use, 5),
                           .aside = sw_col_int (&use, 6) != 0,
                           .has_likeness = sw_col_int (&use, 7) != 0,
                           .is_photo = sw_col_int (&use, 8) != 0 };
      func (&file, data);
    }
  return ok;
}
