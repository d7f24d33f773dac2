/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making, opening and closing a catalogue, its settings and its clock. What is in the tables is the
 * business of the records. */
#include "core/catalogue/catalogue.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/schema.h"

#define FOLDER_SUFFIX ".shedwalk"

char *
sw_setting_get (SwCatalogue *catalogue, const char *key, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_SETTING_GET, "t", key);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error) || !row)
    return NULL;
  return sw_col_text (&use, 0);
}

gboolean
sw_setting_put (SwCatalogue *catalogue, const char *key, const char *value, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin_plain (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_SETTING_PUT, "tt", key, value)
         && sw_act_commit (&act, NULL, error);
}

static SwCatalogue *
catalogue_alloc (const char *folder, gboolean read_only)
{
  SwCatalogue *catalogue = g_new0 (SwCatalogue, 1);
  catalogue->folder = g_strdup (folder);
  catalogue->read_only = read_only;
  catalogue->author = g_strdup (g_get_user_name ());
  catalogue->tables = g_hash_table_new (g_direct_hash, g_direct_equal);
  return catalogue;
}

void
sw_catalogue_close (SwCatalogue *catalogue)
{
  if (catalogue == NULL)
    return;
  /* an act still open would be half an act: its scope ends before the catalogue's */
  g_assert (catalogue->level == 0);
  sw_db_finalize_all (catalogue);
  sqlite3_close (catalogue->db);
  g_hash_table_unref (catalogue->tables);
  g_clear_pointer (&catalogue->items_written, g_hash_table_unref);
  g_clear_pointer (&catalogue->places_written, g_hash_table_unref);
  sw_zone_free (catalogue->zone);
  g_free (catalogue->folder);
  g_free (catalogue->name);
  g_free (catalogue->author);
  g_free (catalogue);
}

/* Making ******************************************************************/

gboolean
sw_folder_check_new (const char *folder, GError **error)
{
  g_autofree char *base = g_path_get_basename (folder);
  if (!g_str_has_suffix (base, FOLDER_SUFFIX) || strlen (base) == strlen (FOLDER_SUFFIX))
    {
      g_autofree char *shown = sw_text_printable (base, -1);
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The folder of a catalogue is named NAME%s, not '%s'; add the ending."),
                   FOLDER_SUFFIX, shown);
      return FALSE;
    }
  return sw_folder_is_free (folder, error);
}

/* An empty database file that only we can have made: SQLite opens it, but never follows a link
 * there. */
static gboolean
touch_database (const char *path, GError **error)
{
  int fd = open (path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, SW_FILE_MODE);
  if (fd >= 0)
    return close (fd) == 0;
  return sw_error_from_errno (error, errno, _ ("The catalogue's database could not be made"));
}

static gboolean
write_settings (SwCatalogue *catalogue, const char *name, const char *currency, const char *zone,
                GError **error)
{
  g_autofree char *id = g_uuid_string_random ();
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_db_prepare_all (catalogue, error) && sw_act_begin_plain (&act, catalogue, error)
         && sw_setting_put (catalogue, "name", name, error)
         && sw_setting_put (catalogue, "currency", currency, error)
         && sw_setting_put (catalogue, "zone", zone, error)
         && sw_setting_put (catalogue, "id", id, error) && sw_act_commit (&act, NULL, error);
}

static gboolean
note_folder (SwCatalogue *catalogue, GError **error)
{
  struct stat is;
  if (stat (catalogue->folder, &is) != 0)
    return sw_error_from_errno (error, errno, _ ("The folder of the catalogue could not be read"));
  catalogue->device = is.st_dev;
  catalogue->inode = is.st_ino;
  return TRUE;
}

/* SQLite takes a lock that the file system does not know for one that somebody else holds. Asked
 * only when opening has failed: closing a descriptor drops the locks of the process on the file
 * (POSIX.1-2017, fcntl). FALSE always. */
static gboolean
explain_busy (const char *folder, const char *database, GError **error)
{
  struct flock asked = { .l_type = F_RDLCK, .l_whence = SEEK_SET, .l_len = 1 };
  if (error == NULL || !g_error_matches (*error, SW_ERROR, SW_ERROR_BUSY))
    return FALSE;
  int fd = open (database, O_RDONLY | O_CLOEXEC | O_NOFOLLOW);
  gboolean knows = fd < 0 || fcntl (fd, F_GETLK, &asked) == 0
                   || (errno != ENOLCK && errno != ENOSYS && errno != EOPNOTSUPP);
  if (fd >= 0)
    close (fd);
  if (knows)
    return FALSE;
  g_clear_error (error);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The disk that %s lies on knows no locks, so two programs could write over each "
                  "other there; copy the catalogue to another disk."),
               folder);
  return FALSE;
}

/* Everything inside 'folder', which is there and empty. */
static gboolean
fill_folder (const char *folder, const char *name, const char *currency, const char *zone,
             GError **error)
{
  g_autoptr (SwCatalogue) catalogue = catalogue_alloc (folder, FALSE);
  g_autofree char *database = g_build_filename (folder, SW_DATABASE_NAME, NULL);
  g_autofree char *photos = g_build_filename (folder, SW_PHOTOS_NAME, NULL);
  g_autofree char *backups = g_build_filename (folder, SW_BACKUPS_NAME, NULL);
  if (g_mkdir (photos, SW_FOLDER_MODE) != 0 || g_mkdir (backups, SW_FOLDER_MODE) != 0)
    return sw_error_from_errno (error, errno, _ ("The folder of the catalogue could not be made"));
  if (!note_folder (catalogue, error) || !touch_database (database, error)
      || !sw_db_open_file (database, FALSE, &catalogue->db, error)
      || !sw_schema_bring_up (catalogue, error))
    return explain_busy (folder, database, error);
  return write_settings (catalogue, name, currency, zone, error) && sw_folder_flush (photos, error)
         && sw_folder_flush (backups, error) && sw_folder_flush (folder, error);
}

/* Made beside its place under another name and renamed when whole, so that a failed try leaves
 * nothing. */
static gboolean
make_and_rename (const char *folder, const char *name, const char *currency, const char *zone,
                 GError **error)
{
  int lock = -1;
  g_autofree char *part = sw_folder_part_make (folder, &lock, error);
  if (part == NULL)
    return FALSE;
  return fill_folder (part, name, currency, zone, error)
             ? sw_folder_part_place (part, lock, folder, error)
             : sw_folder_part_fail (part, lock, folder, error);
}

SwCatalogue *
sw_catalogue_create (const char *folder, const char *name, const char *currency, const char *zone,
                     GError **error)
{
  g_return_val_if_fail (folder != NULL && name != NULL && currency != NULL && zone != NULL, NULL);
  SwCurrency found;
  g_autoptr (SwZone) known_zone = NULL;
  g_autofree char *path = g_canonicalize_filename (folder, NULL);
  if (!sw_text_check (name, _ ("The name of the catalogue"), FALSE, FALSE, error)
      || !sw_currency_find (currency, &found, error))
    return NULL;
  known_zone = sw_zone_new (zone, error);
  if (known_zone == NULL || !sw_folder_check_new (path, error)
      || !make_and_rename (path, name, currency, zone, error))
    return NULL;
  return sw_catalogue_open (path, SW_OPEN_READ_WRITE, error);
}

/* Opening *****************************************************************/

static gboolean
damaged (GError **error, const char *folder, const char *why)
{
  g_set_error (
      error, SW_ERROR, SW_ERROR_DAMAGED,
      _ ("The catalogue %s is damaged: %s; restore it from its second home, or from its own "
         "safety copies (shedwalk restore)."),
      folder, why);
  return FALSE;
}

/* Tells a missing or emptied database of ours from a folder that never was a catalogue. */
static gboolean
check_database_file (const char *folder, const char *database, GError **error)
{
  GStatBuf is;
  if (g_lstat (database, &is) != 0)
    {
      g_autofree char *photos = g_build_filename (folder, SW_PHOTOS_NAME, NULL);
      g_autofree char *backups = g_build_filename (folder, SW_BACKUPS_NAME, NULL);
      if (errno != ENOENT)
        return sw_error_from_errno (error, errno, _ ("The catalogue's database could not be read"));
      if (g_file_test (photos, G_FILE_TEST_IS_DIR) && g_file_test (backups, G_FILE_TEST_IS_DIR))
        return damaged (error, folder, _ ("its database is missing"));
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("The folder %s is no catalogue: it holds no %s; choose a folder NAME%s."),
                   folder, SW_DATABASE_NAME, FOLDER_SUFFIX);
      return FALSE;
    }
  if (!S_ISREG (is.st_mode))
    return damaged (error, folder, _ ("its database is no plain file"));
  return is.st_size > 0 || damaged (error, folder, _ ("its database is empty"));
}

static gboolean
check_writable (const char *folder, const char *database, GError **error)
{
  if (access (folder, W_OK) == 0 && access (database, W_OK) == 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_READ_ONLY,
               _ ("The catalogue %s cannot be changed where it is: the disk or the folder is "
                  "read-only; copy it to one that can be written."),
               folder);
  return FALSE;
}

/* A crash may have left a journal that must be rolled back before anything is read. Where the
 * folder takes it, let SQLite do so even for a reader; where not, the reader meets its own
 * sentence. */
static void
mend_for_reader (const char *folder, const char *database)
{
  g_autofree char *journal = g_strconcat (database, "-journal", NULL);
  if (!g_file_test (journal, G_FILE_TEST_EXISTS) || access (folder, W_OK) != 0
      || access (database, W_OK) != 0)
    return;
  sqlite3 *db = NULL;
  gint64 version;
  if (!sw_db_open_file (database, FALSE, &db, NULL))
    return;
  sw_db_ask_int (db, "PRAGMA user_version", NULL, &version, NULL);
  sqlite3_close (db);
}

static gboolean
check_application (SwCatalogue *catalogue, GError **error)
{
  gint64 id = 0;
  g_autofree char *what = g_strdup_printf (_ ("The catalogue %s"), catalogue->folder);
  if (!sw_db_ask_int (catalogue->db, "PRAGMA application_id", what, &id, error))
    return FALSE;
  /* only now: another program's database is left as it is */
  if (id == SW_APPLICATION_ID)
    return catalogue->read_only
           || sw_db_exec (catalogue->db, "PRAGMA journal_mode = DELETE", what, error);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The folder %s is no catalogue: its %s was made by another program."),
               catalogue->folder, SW_DATABASE_NAME);
  return FALSE;
}

static gboolean
read_settings (SwCatalogue *catalogue, GError **error)
{
  g_autofree char *currency = NULL, *zone = NULL;
  GError *inner = NULL;
  catalogue->name = sw_setting_get (catalogue, "name", &inner);
  if (inner == NULL)
    currency = sw_setting_get (catalogue, "currency", &inner);
  if (inner == NULL)
    zone = sw_setting_get (catalogue, "zone", &inner);
  if (inner != NULL)
    {
      g_propagate_error (error, inner);
      return FALSE;
    }
  if (catalogue->name == NULL || currency == NULL || zone == NULL)
    return damaged (error, catalogue->folder, _ ("its settings are missing"));
  if (!sw_currency_find (currency, &catalogue->currency, error))
    return FALSE;
  catalogue->zone = sw_zone_new (zone, error);
  return catalogue->zone != NULL;
}

static char *
find_folder (const char *folder, GError **error)
{
  g_autofree char *shown = sw_text_printable (folder, -1);
  g_autofree char *what = g_strdup_printf (_ ("The catalogue %s could not be opened"), shown);
  char *real = realpath (folder, NULL);
  if (real == NULL)
    {
      sw_error_from_errno (error, errno, what);
      return NULL;
    }
  char *path = g_strdup (real);
  free (real);
  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    return path;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("%s is a file, and a catalogue is a folder."),
               shown);
  g_free (path);
  return NULL;
}

SwCatalogue *
sw_catalogue_open (const char *folder, SwOpenMode mode, GError **error)
{
  g_return_val_if_fail (folder != NULL, NULL);
  gboolean read_only = mode == SW_OPEN_READ_ONLY;
  g_autofree char *path = find_folder (folder, error);
  if (path == NULL)
    return NULL;
  g_autofree char *database = g_build_filename (path, SW_DATABASE_NAME, NULL);
  g_autoptr (SwCatalogue) catalogue = catalogue_alloc (path, read_only);
  if (!note_folder (catalogue, error) || !check_database_file (path, database, error)
      || (!read_only && !check_writable (path, database, error)))
    return NULL;
  if (read_only)
    mend_for_reader (path, database);
  if (!sw_db_open_file (database, read_only, &catalogue->db, error)
      || !check_application (catalogue, error))
    {
      explain_busy (path, database, error);
      return NULL;
    }
  if (!sw_schema_bring_up (catalogue, error) || !sw_db_prepare_all (catalogue, error)
      || !read_settings (catalogue, error)
      || !sw_db_get_int (catalogue, &catalogue->data_version, NULL, error,
                         SW_STMT_SETTING_DATA_VERSION, ""))
    return NULL;
  return g_steal_pointer (&catalogue);
}

/* What it says of itself **************************************************/

const char *
sw_catalogue_name (SwCatalogue *catalogue)
{
  return catalogue->name;
}

const char *
sw_catalogue_folder (SwCatalogue *catalogue)
{
  return catalogue->folder;
}

char *
sw_catalogue_id (SwCatalogue *catalogue, GError **error)
{
  GError *inner = NULL;
  g_autofree char *id = sw_setting_get (catalogue, "id", &inner);

  if (id == NULL && inner == NULL)
    damaged (&inner, catalogue->folder, _ ("it does not know which catalogue it is"));
  if (inner == NULL)
    return g_steal_pointer (&id);
  g_propagate_error (error, inner);
  return NULL;
}

SwCurrency
sw_catalogue_currency (SwCatalogue *catalogue)
{
  return catalogue->currency;
}

const SwZone *
sw_catalogue_zone (SwCatalogue *catalogue)
{
  return catalogue->zone;
}

gboolean
sw_catalogue_is_read_only (SwCatalogue *catalogue)
{
  return catalogue->read_only;
}

void
sw_catalogue_set_clock (SwCatalogue *catalogue, SwClockFunc now, gpointer data)
{
  catalogue->clock = now;
  catalogue->clock_data = data;
}

SwInstant
sw_catalogue_now (SwCatalogue *catalogue)
{
  if (catalogue->clock != NULL)
    return catalogue->clock (catalogue->clock_data);
  return (SwInstant){ g_get_real_time () };
}

char *
sw_catalogue_path (SwCatalogue *catalogue, const char *relative)
{
  return g_build_filename (catalogue->folder, relative, NULL);
}

gboolean
sw_catalogue_changed_elsewhere (SwCatalogue *catalogue)
{
  gint64 version = catalogue->data_version;
  if (!sw_db_get_int (catalogue, &version, NULL, NULL, SW_STMT_SETTING_DATA_VERSION, ""))
    return FALSE;
  gboolean changed = version != catalogue->data_version;
  catalogue->data_version = version;
  return changed;
}

void
sw_catalogue_set_changed (SwCatalogue *catalogue, SwChangedFunc changed, gpointer data)
{
  catalogue->changed = changed;
  catalogue->changed_data = data;
}
