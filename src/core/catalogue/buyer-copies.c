/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which copies of the database hold a name still, when it is removed from the database itself. */
#include "core/catalogue/buyers.h"

#include <string.h>

#include "core/catalogue/backup.h"
#include "core/catalogue/catalogue-private.h"

/* In any page, used or not, of any age of the schema; so one that is not sound is looked at too.
 * A short name may be met by chance: then a copy is named too much. */
static gboolean
file_holds (const char *path, const char *name)
{
  g_autoptr (GMappedFile) file = g_mapped_file_new (path, FALSE, NULL);

  return file != NULL && g_mapped_file_get_length (file) > 0
         && memmem (g_mapped_file_get_contents (file), g_mapped_file_get_length (file), name,
                    strlen (name))
                != NULL;
}

static void
add_if_it_holds (GPtrArray *paths, const char *path, const char *name)
{
  if (file_holds (path, name))
    g_ptr_array_add (paths, g_strdup (path));
}

GPtrArray *
sw_buyer_copies (SwCatalogue *catalogue, const char *name, char **out_unseen)
{
  g_return_val_if_fail (*name != '\0', NULL);
  g_autoptr (GPtrArray) paths = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *folder = sw_catalogue_path (catalogue, SW_BACKUPS_NAME);
  g_autofree char *home = NULL;
  g_autoptr (GPtrArray) names = sw_backup_names (folder);

  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *path = g_build_filename (folder, names->pdata[i], NULL);
      add_if_it_holds (paths, path, name);
    }
  *out_unseen = NULL;
  if (sw_backup_last (catalogue, NULL, &home))
    {
      g_autofree char *path = g_build_filename (home, SW_DATABASE_NAME, NULL);
      if (g_file_test (path, G_FILE_TEST_EXISTS))
        add_if_it_holds (paths, path, name);
      else
        *out_unseen = g_steal_pointer (&home);
    }
  return g_steal_pointer (&paths);
}
