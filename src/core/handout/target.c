/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/target.h"

#include <stdlib.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/text.h"

/* The nearest folder above the target that is there, by its true name. Transfer full; NULL where
 * nothing is. */
static char *
true_folder (const char *path)
{
  g_autofree char *above = g_path_get_dirname (path);

  for (;;)
    {
      char *real = realpath (above, NULL);
      if (real != NULL)
        {
          char *copy = g_strdup (real);
          free (real);
          return copy;
        }
      char *next = g_path_get_dirname (above);
      gboolean same = strcmp (next, above) == 0;
      g_free (above);
      above = next;
      if (same)
        return NULL;
    }
}

gboolean
sw_target_is_outside (const char *folder, const char *path, GError **error)
{
  char *real = realpath (folder, NULL);
  g_autofree char *own = g_strdup (real != NULL ? real : folder), *above = true_folder (path);
  g_autofree char *within = g_strconcat (own, "/", NULL);

  free (real);
  if (above == NULL || (strcmp (above, own) != 0 && !g_str_has_prefix (above, within)))
    return TRUE;
  g_autofree char *shown = sw_text_quote (path);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               "%s lies inside the catalogue's own folder; choose a place outside it.", shown);
  return FALSE;
}
