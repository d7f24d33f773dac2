/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/catalogue/rescue.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/schema.h"

void
sw_rescue_report_clear (SwRescueReport *report)
{
  g_clear_pointer (&report->safety_copy, g_free);
  g_clear_pointer (&report->later, g_ptr_array_unref);
}

gboolean
sw_rescue_is_for (const char *folder)
{
  g_autofree char *backups = g_build_filename (folder, SW_BACKUPS_NAME, NULL);
  g_autofree char *photos = g_build_filename (folder, SW_PHOTOS_NAME, NULL);
  return !sw_is_second_home (folder) && g_file_test (backups, G_FILE_TEST_IS_DIR)
         && g_file_test (photos, G_FILE_TEST_IS_DIR);
}

/* One of ours that can be read to its last page. */
static gboolean
is_sound_copy (const char *path)
{
  sqlite3 *db = NULL;
  gint64 id = 0;
  if (!sw_db_open_file (path, TRUE, &db, NULL))
    return FALSE;
  gboolean sound = sw_db_ask_int (db, "PRAGMA application_id", NULL, &id, NULL)
                   && id == SW_APPLICATION_ID && sw_db_is_sound (db, path, NULL);
  sqlite3_close (db);
  return sound;
}

/* Transfer full. */
static char *
newest_sound_copy (const char *damaged, GError **error)
{
  g_autofree char *folder = g_build_filename (damaged, SW_BACKUPS_NAME, NULL);
  g_autoptr (GPtrArray) names = sw_backup_names (folder);
  for (guint i = names->len; i-- > 0;)
    {
      g_autofree char *path = g_build_filename (folder, names->pdata[i], NULL);
      if (is_sound_copy (path))
        return g_strdup (names->pdata[i]);
    }
  g_set_error (error, SW_ERROR, SW_ERROR_DAMAGED,
               _ ("The catalogue %s holds no safety copy that is sound; restore it from its second "
                  "home."),
               damaged);
  return NULL;
}

/* Everything below photos/ that no row names, as paths from there. Half-copied files are none, and
 * links are not followed. */
static void
add_unnamed (const char *damaged, const char *relative, GHashTable *named, GPtrArray *out)
{
  g_autofree char *path = g_build_filename (damaged, relative, NULL);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (relative, name, NULL);
      g_autofree char *full = g_build_filename (damaged, inner, NULL);
      if (g_file_test (full, G_FILE_TEST_IS_SYMLINK) || g_str_has_suffix (name, SW_PART_SUFFIX))
        continue;
      if (g_file_test (full, G_FILE_TEST_IS_DIR))
        add_unnamed (damaged, inner, named, out);
      else if (!g_hash_table_contains (named, inner))
        g_ptr_array_add (out, g_steal_pointer (&full));
    }
}

static GPtrArray *
find_later (const char *damaged, const char *folder, GError **error)
{
  g_autofree char *database = g_build_filename (folder, SW_DATABASE_NAME, NULL);
  g_autoptr (GHashTable) named = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) later = g_ptr_array_new_with_free_func (g_free);
  sqlite3 *db = NULL;
  sqlite3_stmt *stmt = NULL;
  if (!sw_db_open_file (database, TRUE, &db, error))
    return NULL;
  int code = sqlite3_prepare_v2 (db, "SELECT stored FROM photo", -1, &stmt, NULL);
  while (code == SQLITE_OK && (code = sqlite3_step (stmt)) == SQLITE_ROW)
    {
      g_hash_table_add (named, g_strdup ((const char *)sqlite3_column_text (stmt, 0)));
      code = SQLITE_OK;
    }
  sqlite3_finalize (stmt);
  gboolean ok = code == SQLITE_DONE
                || sw_db_error (db, code, _ ("The list of photos could not be read"), error);
  sqlite3_close (db);
  if (!ok)
    return NULL;
  add_unnamed (damaged, SW_PHOTOS_NAME, named, later);
  g_ptr_array_sort (later, sw_backup_compare_names);
  return g_steal_pointer (&later);
}

gboolean
sw_rescue (const char *damaged, const char *folder, GCancellable *cancellable,
           SwRescueReport *out_report, GError **error)
{
  g_return_val_if_fail (damaged != NULL && folder != NULL && out_report != NULL, FALSE);
  g_autofree char *from = g_canonicalize_filename (damaged, NULL);
  g_autofree char *to = g_canonicalize_filename (folder, NULL);
  g_autofree char *name = newest_sound_copy (from, error);
  g_autoptr (GError) inner = NULL;
  gboolean stands = FALSE;
  if (name == NULL)
    return FALSE;
  g_autofree char *copy = g_build_filename (from, SW_BACKUPS_NAME, name, NULL);
  SwBackupReport copied = { 0 };
  gboolean whole = sw_restore_from (from, copy, to, cancellable, &copied, &stands, &inner);
  g_autoptr (GPtrArray) later = stands ? find_later (from, to, whole ? &inner : NULL) : NULL;
  if (later != NULL)
    *out_report = (SwRescueReport){ g_steal_pointer (&name), copied, g_steal_pointer (&later) };
  if (inner == NULL)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&inner));
  return FALSE;
}
