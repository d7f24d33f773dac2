/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/base/path.h"

#include <stdlib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

/* The true name of the path, or of the nearest folder above it that is there. malloc'd; NULL where
 * nothing is. */
static char *
nearest_real (const char *path)
{
  g_autofree char *at = g_canonicalize_filename (path, NULL);
  char *real = NULL;

  while ((real = realpath (at, NULL)) == NULL && strlen (at) > 1)
    {
      char *parent = g_path_get_dirname (at);
      g_free (at);
      at = parent;
    }
  return real;
}

gboolean
sw_path_lies_inside (const char *path, const char *folder)
{
  char *real = nearest_real (path), *within = nearest_real (folder);
  gsize n = within != NULL ? strlen (within) : 0;
  gboolean inside = real != NULL && within != NULL && strncmp (real, within, n) == 0
                    && (real[n] == '\0' || real[n] == '/');

  free (real);
  free (within);
  return inside;
}

gboolean
sw_path_check_outside (const char *path, const char *folder, GError **error)
{
  if (!sw_path_lies_inside (path, folder))
    return TRUE;
  g_autofree char *shown = sw_text_quote (path);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("%s lies inside the catalogue's own folder; choose a place outside it."), shown);
  return FALSE;
}
