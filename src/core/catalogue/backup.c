/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Safety copies of the database inside the catalogue: SQLite's online backup, flushed, checked, the
 * last ten kept. The second home on another disk is in second-home.c. */
#include "core/catalogue/backup.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/catalogue-private.h"

#define BACKUP_SUFFIX ".db"

static gboolean
flush_file (const char *path, const char *what, GError **error)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW);
  if (fd < 0)
    return sw_error_from_errno (error, errno, what);
  int result = fsync (fd);
  int errsv = errno;
  close (fd);
  return result == 0 || sw_error_from_errno (error, errsv, what);
}

/* The copy is no one's database yet: no journal beside it (defensive mode allows none but in
 * memory), flushed once at the end. */
static gboolean
copy_pages (sqlite3 *from, sqlite3 *to, const char *what, GError **error)
{
  if (!sw_db_exec (to, "PRAGMA journal_mode = MEMORY; PRAGMA synchronous = OFF", what, error))
    return FALSE;
  sqlite3_backup *backup = sqlite3_backup_init (to, "main", from, "main");
  if (backup == NULL)
    return sw_db_error (to, sqlite3_extended_errcode (to), what, error);
  int code = sqlite3_backup_step (backup, -1);
  int end = sqlite3_backup_finish (backup);
  if (code == SQLITE_DONE && end == SQLITE_OK)
    return TRUE;
  return sw_db_error (to, code == SQLITE_DONE ? end : code, what, error);
}

gboolean
sw_db_is_sound (sqlite3 *db, const char *what, GError **error)
{
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2 (db, "PRAGMA integrity_check(1)", -1, &stmt, NULL);
  gboolean sound = FALSE;
  if (code == SQLITE_OK)
    {
      code = sqlite3_step (stmt);
      const char *said = code == SQLITE_ROW ? (const char *)sqlite3_column_text (stmt, 0) : NULL;
      sound = g_strcmp0 (said, "ok") == 0;
      code = sqlite3_finalize (stmt);
    }
  if (code != SQLITE_OK)
    return sw_db_error (db, code, what, error);
  return sound || sw_db_error (db, SQLITE_CORRUPT, what, error);
}

gboolean
sw_db_copy_to (sqlite3 *from, const char *path, const char *what, GError **error)
{
  sqlite3 *to = NULL;
  int fd = open (path, O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, SW_FILE_MODE);
  if (fd < 0)
    return sw_error_from_errno (error, errno, what);
  close (fd);
  gboolean ok = sw_db_open_file (path, FALSE, &to, error) && copy_pages (from, to, what, error)
                && sw_db_is_sound (to, what, error);
  sqlite3_close (to);
  return ok && flush_file (path, what, error);
}

int
sw_backup_compare_names (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

GPtrArray *
sw_backup_names (const char *folder)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, BACKUP_SUFFIX))
      g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, sw_backup_compare_names);
  return names;
}

/* Of a catalogue that takes many schema steps at once the copy from before the first is the one
 * that matters: those of the day stay together. */
static gboolean
is_step_of_that_day (const char *name, const char *made)
{
  return strstr (name, "-before-step-") != NULL && strncmp (name, made, strlen ("YYYYMMDD")) == 0;
}

/* Half ones of a crash. */
static void
drop_halves (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      if (g_str_has_suffix (name, BACKUP_SUFFIX SW_PART_SUFFIX))
        g_unlink (path);
    }
}

/* The one just made is kept whatever its name says: the clock may have been set back. */
static void
prune (const char *folder, const char *made)
{
  g_autofree char *made_name = g_path_get_basename (made);
  g_autoptr (GPtrArray) names = sw_backup_names (folder);
  drop_halves (folder);
  for (guint i = names->len; i-- > 0;)
    if (g_str_equal (names->pdata[i], made_name)
        || is_step_of_that_day (names->pdata[i], made_name))
      g_ptr_array_remove_index (names, i);
  for (guint i = 0; i + SW_BACKUPS_KEPT - 1 < names->len; i++)
    {
      g_autofree char *path = g_build_filename (folder, names->pdata[i], NULL);
      g_unlink (path);
    }
}

/* backups/20261125T125900Z-0-why.db: basic format of ISO 8601, since FAT takes no colon; the digit
 * tells those of one second apart. Transfer full. */
static char *
backup_path (SwCatalogue *catalogue, const char *folder, const char *why)
{
  g_autoptr (GDateTime) now
      = g_date_time_new_from_unix_utc (sw_catalogue_now (catalogue).us / SW_US_PER_SECOND);
  g_autofree char *time
      = now != NULL ? g_date_time_format (now, "%Y%m%dT%H%M%SZ") : g_strdup ("00000000T000000Z");
  g_autofree char *path = NULL;
  int n = 0;
  do
    {
      g_free (path);
      path = g_strdup_printf ("%s/%s-%02d-%s" BACKUP_SUFFIX, folder, time, n++, why);
    }
  while (g_file_test (path, G_FILE_TEST_EXISTS));
  return g_steal_pointer (&path);
}

gboolean
sw_backup_database (SwCatalogue *catalogue, const char *why, GError **error)
{
  g_return_val_if_fail (catalogue->level == 0 && strchr (why, '/') == NULL, FALSE);
  const char *what = _ ("The safety copy of the database could not be made");
  g_autofree char *folder = sw_catalogue_path (catalogue, SW_BACKUPS_NAME);
  if (g_mkdir (folder, SW_FOLDER_MODE) != 0 && errno != EEXIST)
    return sw_error_from_errno (error, errno, what);
  g_autofree char *path = backup_path (catalogue, folder, why);
  g_autofree char *part = g_strconcat (path, SW_PART_SUFFIX, NULL);
  if (!sw_db_copy_to (catalogue->db, part, what, error)
      || (g_rename (part, path) != 0 && !sw_error_from_errno (error, errno, what)))
    {
      g_unlink (part);
      return FALSE;
    }
  prune (folder, path);
  return sw_folder_flush (folder, error);
}
