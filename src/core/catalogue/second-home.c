/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The second home of a catalogue on another disk, and back: database and photos, only what is new,
 * all read back. A photo that is damaged in one place never overwrites a sound one in the other.
 * The database comes last, so that the second home is at any moment a whole earlier one or a whole
 * later one. */
#include "core/catalogue/backup.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/path.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/digest.h"

/* Says to a person what the folder is, and to us whose. Written first. */
#define NOTE_NAME "second-home.txt"
#define NOTE_ID "id: "
#define SETTING_AT "second-home-us"
#define SETTING_TARGET "second-home"
/* How many damaged photos a sentence names. */
#define NAMED_AT_MOST 5

typedef struct
{
  const char *from, *to; /* folders */
  sqlite3 *list;         /* the database whose photos are meant: a copy nobody writes to */
  GCancellable *cancellable;
  SwBackupReport report;
  GPtrArray *bad;      /* names of photos that are not sound in 'from' */
  GPtrArray *copied;   /* Photo, to be read back */
  GHashTable *folders; /* that got files: flushed before all is said to stand */
  int lock;            /* on 'to', or -1 */
} Move;

typedef struct
{
  char *stored, *file, *hash;
  gint64 size;
} Photo;

static void
photo_free (gpointer data)
{
  Photo *photo = data;
  g_free (photo->stored);
  g_free (photo->file);
  g_free (photo->hash);
  g_free (photo);
}

static void
move_init (Move *move, const char *from, const char *to, GCancellable *cancellable)
{
  *move = (Move){ .from = from, .to = to, .cancellable = cancellable, .lock = -1 };
  move->bad = g_ptr_array_new_with_free_func (g_free);
  move->copied = g_ptr_array_new_with_free_func (photo_free);
  move->folders = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

static void
move_clear (Move *move)
{
  sqlite3_close (move->list);
  if (move->lock >= 0)
    close (move->lock);
  g_ptr_array_unref (move->bad);
  g_ptr_array_unref (move->copied);
  g_hash_table_unref (move->folders);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Move, move_clear)

static gboolean
make_parent (Move *move, const char *path, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (path);
  g_autofree char *what = g_strdup_printf (_ ("The folder %s could not be made"), parent);
  if (g_mkdir_with_parents (parent, SW_FOLDER_MODE) != 0)
    return sw_error_from_errno (error, errno, what);
  g_hash_table_add (move->folders, g_steal_pointer (&parent));
  return TRUE;
}

/* Copies under another name and renames, unless the right bytes are there. Takes the photo. */
static gboolean
bring_over (Move *move, Photo *photo, const char *to, GError **error)
{
  g_autofree char *from = g_build_filename (move->from, photo->stored, NULL);
  g_autofree char *part = g_strconcat (to, SW_PART_SUFFIX, NULL);
  SwDigestVerdict verdict = SW_DIGEST_OTHER;
  if (!make_parent (move, to, error)
      || !sw_digest_copy (from, part, photo->size, photo->hash, move->cancellable, &verdict, error))
    {
      g_unlink (part);
      return FALSE;
    }
  if (verdict != SW_DIGEST_SAME)
    {
      g_unlink (part);
      g_ptr_array_add (move->bad, g_strdup (photo->file));
      return TRUE;
    }
  if (g_rename (part, to) != 0)
    return sw_error_from_errno (error, errno, _ ("A copied photo could not be put in its place"));
  move->report.photos_copied++;
  move->report.bytes_copied += photo->size;
  return TRUE;
}

static gboolean
move_photo (Move *move, Photo *photo, GError **error)
{
  SwDigestVerdict there = SW_DIGEST_MISSING;
  g_autofree char *to = g_build_filename (move->to, photo->stored, NULL);
  gint64 copied = move->report.photos_copied;
  gboolean ok = TRUE;
  if (!sw_stored_is_safe (photo->stored))
    g_ptr_array_add (move->bad, g_strdup (photo->file));
  else
    ok = sw_digest_verify (to, photo->size, photo->hash, move->cancellable, &there, error)
         && (there == SW_DIGEST_SAME || bring_over (move, photo, to, error));
  if (there == SW_DIGEST_SAME)
    move->report.photos_there++;
  if (ok && move->report.photos_copied > copied)
    g_ptr_array_add (move->copied, photo);
  else
    photo_free (photo);
  return ok;
}

static Photo *
photo_of_row (sqlite3_stmt *stmt)
{
  Photo *photo = g_new0 (Photo, 1);
  photo->stored = g_strdup ((const char *)sqlite3_column_text (stmt, 0));
  photo->file = g_strdup ((const char *)sqlite3_column_text (stmt, 1));
  photo->size = sqlite3_column_int64 (stmt, 2);
  photo->hash = g_strdup ((const char *)sqlite3_column_text (stmt, 3));
  return photo;
}

/* The list is a database of any schema since the first: only columns that were there from the start
 * are asked for. */
static gboolean
move_photos (Move *move, GError **error)
{
  const char *what = _ ("The list of photos could not be read");
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2 (
      move->list, "SELECT stored, file, size, hash FROM photo ORDER BY id", -1, &stmt, NULL);
  gboolean ok = code == SQLITE_OK || sw_db_error (move->list, code, what, error);
  while (ok && (code = sqlite3_step (stmt)) == SQLITE_ROW)
    ok = move_photo (move, photo_of_row (stmt), error);
  sqlite3_finalize (stmt);
  return ok && (code == SQLITE_DONE || sw_db_error (move->list, code, what, error));
}

static gboolean
read_back (Move *move, GError **error)
{
  GHashTableIter folders;
  gpointer folder = NULL;
  g_hash_table_iter_init (&folders, move->folders);
  while (g_hash_table_iter_next (&folders, &folder, NULL))
    if (!sw_folder_flush_up (folder, move->to, error))
      return FALSE;
  for (guint i = 0; i < move->copied->len; i++)
    {
      const Photo *photo = move->copied->pdata[i];
      SwDigestVerdict verdict = SW_DIGEST_OTHER;
      g_autofree char *to = g_build_filename (move->to, photo->stored, NULL);
      if (!sw_digest_verify (to, photo->size, photo->hash, move->cancellable, &verdict, error))
        return FALSE;
      if (verdict == SW_DIGEST_SAME)
        continue;
      g_unlink (to);
      g_set_error (
          error, SW_ERROR, SW_ERROR_DAMAGED,
          _ ("The copy of %s on %s did not read back as it was written; use another disk."),
          photo->file, move->to);
      return FALSE;
    }
  return TRUE;
}

/* "12 of 340 photos are damaged in X: a.jpg, b.jpg and more". */
static gboolean
complain_of_bad (const Move *move, const char *rest, GError **error)
{
  if (move->bad->len == 0)
    return TRUE;
  gint64 total = move->report.photos_copied + move->report.photos_there + move->bad->len;
  g_autoptr (GString) names = g_string_new (NULL);
  for (guint i = 0; i < move->bad->len && i < NAMED_AT_MOST; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", (char *)move->bad->pdata[i]);
  if (move->bad->len > NAMED_AT_MOST)
    g_string_append (names, _ (" and more"));
  g_set_error (error, SW_ERROR, SW_ERROR_DAMAGED,
               _ ("%u of %" PRId64 " photos are missing or damaged in %s: %s; %s."), move->bad->len,
               total, move->from, names->str, rest);
  return FALSE;
}

/* The second home ********************************************************/

static char *
note_id (const char *folder)
{
  g_autofree char *path = g_build_filename (folder, NOTE_NAME, NULL);
  g_autofree char *text = NULL;
  if (!g_file_get_contents (path, &text, NULL, NULL))
    return NULL;
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (gsize i = 0; lines[i] != NULL; i++)
    if (g_str_has_prefix (lines[i], NOTE_ID))
      return g_strdup (lines[i] + strlen (NOTE_ID));
  return NULL;
}

static gboolean
write_note (SwCatalogue *catalogue, const char *target, const char *id, GError **error)
{
  g_autofree char *path = g_build_filename (target, NOTE_NAME, NULL);
  g_autofree char *says = g_strdup_printf (
      _ ("This folder is the second home of the catalogue \"%s\".\n"
         "To bring the catalogue back: shedwalk restore THIS-FOLDER NEW-NAME.shedwalk\n"),
      catalogue->name);
  g_autofree char *text = g_strconcat (says, NOTE_ID, id, "\n", NULL);
  g_autofree char *what
      = g_strdup_printf (_ ("The second home %s could not be written to"), target);
  return sw_file_put (path, text, strlen (text), SW_FILE_MODE, what, error);
}

static gboolean
refuse_target (const char *target, const char *why, GError **error)
{
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("The folder %s cannot be the second home: %s."), target, why);
  return FALSE;
}

/* Its own folder is made, the way to it is not: where a disk is not plugged in, the copy would lie
 * on the same disk as the catalogue, and nobody would know. */
static gboolean
make_target (const char *target, GError **error)
{
  g_autofree char *plain = g_canonicalize_filename (target, NULL);
  g_autofree char *parent = g_path_get_dirname (plain);
  g_autofree char *what = g_strdup_printf (_ ("The second home %s could not be made"), target);
  if (!g_file_test (parent, G_FILE_TEST_IS_DIR))
    {
      g_autofree char *why = g_strdup_printf (
          _ ("there is no folder %s; make it, or plug in the disk that it is on"), parent);
      return refuse_target (target, why, error);
    }
  if (g_file_test (plain, G_FILE_TEST_IS_DIR))
    return TRUE;
  return g_mkdir (plain, SW_FOLDER_MODE) == 0 ? sw_folder_flush (parent, error)
                                              : sw_error_from_errno (error, errno, what);
}

/* Makes it if missing; nothing in it is looked at before it is locked. */
static gboolean
reach_target (SwCatalogue *catalogue, const char *target, GError **error)
{
  if (sw_path_lies_inside (target, catalogue->folder))
    return refuse_target (target, _ ("it lies inside the catalogue; choose one on another disk"),
                          error);
  if (g_file_test (target, G_FILE_TEST_EXISTS) && !g_file_test (target, G_FILE_TEST_IS_DIR))
    return refuse_target (target, _ ("it is a file; choose a folder"), error);
  return make_target (target, error);
}

/* Half a note is all that a first backup which was killed there leaves. */
static gboolean
holds_nothing (const char *target)
{
  g_autofree char *half = g_build_filename (target, NOTE_NAME SW_PART_SUFFIX, NULL);
  g_autoptr (GDir) dir = g_dir_open (target, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (!g_str_equal (name, NOTE_NAME SW_PART_SUFFIX)
        || !g_file_test (half, G_FILE_TEST_IS_REGULAR))
      return FALSE;
  return dir != NULL;
}

/* Takes it if it is empty or ours; leaves everything else alone. Under the lock: another backup may
 * be putting its first files there. */
static gboolean
claim_target (SwCatalogue *catalogue, const char *target, GError **error)
{
  g_autofree char *id = sw_setting_get (catalogue, "id", error);
  if (id == NULL)
    return FALSE;
  g_autofree char *theirs = note_id (target);
  if (theirs != NULL && g_str_equal (theirs, id))
    return TRUE;
  g_autofree char *database = g_build_filename (target, SW_DATABASE_NAME, NULL);
  if (theirs != NULL || g_file_test (database, G_FILE_TEST_EXISTS))
    return refuse_target (target, _ ("it holds another catalogue; choose a new folder"), error);
  if (!holds_nothing (target))
    return refuse_target (target, _ ("other things are in it; choose a new folder in it"), error);
  return write_note (catalogue, target, id, error);
}

/* Two backups to one folder would write the same temporary files. Where the file system knows no
 * locks, nobody is kept out. */
static gboolean
lock_target (Move *move, GError **error)
{
  move->lock = open (move->to, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (move->lock < 0 || flock (move->lock, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BUSY,
               _ ("Another backup to %s is running: wait until it is done and try again."),
               move->to);
  return FALSE;
}

static gboolean
put_database (const char *part, const char *database, const char *folder, GError **error)
{
  if (g_rename (part, database) != 0)
    return sw_error_from_errno (error, errno,
                                _ ("The copied database could not be put in its place"));
  return sw_folder_flush (folder, error);
}

static gboolean
remember (SwCatalogue *catalogue, const char *target, GError **error)
{
  if (catalogue->read_only)
    return TRUE;
  g_autofree char *at = g_strdup_printf ("%" G_GINT64_FORMAT, sw_catalogue_now (catalogue).us);
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin_plain (&act, catalogue, error)
         && sw_setting_put (catalogue, SETTING_AT, at, error)
         && sw_setting_put (catalogue, SETTING_TARGET, target, error)
         && sw_act_commit (&act, NULL, error);
}

gboolean
sw_backup_to (SwCatalogue *catalogue, const char *target, GCancellable *cancellable,
              SwBackupReport *out_report, GError **error)
{
  g_return_val_if_fail (catalogue->level == 0 && target != NULL, FALSE);
  g_autofree char *to = g_canonicalize_filename (target, NULL);
  if (!reach_target (catalogue, to, error))
    return FALSE;
  g_auto (Move) move;
  move_init (&move, catalogue->folder, to, cancellable);
  if (!lock_target (&move, error) || !claim_target (catalogue, to, error))
    return FALSE;
  g_autofree char *database = g_build_filename (to, SW_DATABASE_NAME, NULL);
  g_autofree char *part = g_strconcat (database, SW_PART_SUFFIX, NULL);
  if (!sw_db_copy_to (catalogue->db, part, _ ("The database could not be copied"), error)
      || !sw_db_open_file (part, TRUE, &move.list, error) || !move_photos (&move, error)
      || !read_back (&move, error))
    return FALSE;
  g_clear_pointer (&move.list, sqlite3_close);
  if (!put_database (part, database, to, error)
      || !complain_of_bad (&move, _ ("all the rest is in the second home"), error)
      || !remember (catalogue, to, error))
    return FALSE;
  if (out_report != NULL)
    *out_report = move.report;
  return TRUE;
}

gboolean
sw_backup_last (SwCatalogue *catalogue, SwInstant *out_at, char **out_target)
{
  g_autofree char *at = sw_setting_get (catalogue, SETTING_AT, NULL);
  g_autofree char *target = sw_setting_get (catalogue, SETTING_TARGET, NULL);
  if (at == NULL || target == NULL)
    return FALSE;
  if (out_at != NULL)
    out_at->us = g_ascii_strtoll (at, NULL, 10);
  if (out_target != NULL)
    *out_target = g_steal_pointer (&target);
  return TRUE;
}

/* And back *****************************************************************/

static gboolean
copy_home_database (const char *home, const char *from, const char *part, GError **error)
{
  g_autofree char *to = g_build_filename (part, SW_DATABASE_NAME, NULL);
  sqlite3 *db = NULL;
  g_autoptr (GError) inner = NULL;
  gboolean ok = sw_db_open_file (from, TRUE, &db, &inner)
                && sw_db_copy_to (db, to, _ ("The database could not be copied"), &inner);
  sqlite3_close (db);
  if (ok)
    return TRUE;
  if (g_error_matches (inner, SW_ERROR, SW_ERROR_DAMAGED))
    g_set_error (
        error, SW_ERROR, SW_ERROR_DAMAGED,
        _ ("The second home %s is damaged: its database cannot be read; make a new one while "
           "the catalogue still stands."),
        home);
  else
    g_propagate_error (error, g_steal_pointer (&inner));
  return FALSE;
}

static gboolean
check_home (const char *home, GError **error)
{
  g_autofree char *database = g_build_filename (home, SW_DATABASE_NAME, NULL);
  g_autofree char *id = note_id (home);
  if (!g_file_test (home, G_FILE_TEST_EXISTS))
    return sw_error_from_errno (error, ENOENT, home);
  if (id != NULL && g_file_test (database, G_FILE_TEST_IS_REGULAR))
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_REFUSED,
      _ ("The folder %s is no whole second home of a catalogue; choose one that a backup was "
         "made to."),
      home);
  return FALSE;
}

static gboolean
fill_restored (Move *move, const char *from, GError **error)
{
  g_autofree char *photos = g_build_filename (move->to, SW_PHOTOS_NAME, NULL);
  g_autofree char *backups = g_build_filename (move->to, SW_BACKUPS_NAME, NULL);
  g_autofree char *database = g_build_filename (move->to, SW_DATABASE_NAME, NULL);
  if (g_mkdir (photos, SW_FOLDER_MODE) != 0 || g_mkdir (backups, SW_FOLDER_MODE) != 0)
    return sw_error_from_errno (error, errno, _ ("The folder of the catalogue could not be made"));
  return copy_home_database (move->from, from, move->to, error)
         && sw_db_open_file (database, TRUE, &move->list, error) && move_photos (move, error)
         && read_back (move, error) && sw_folder_flush (photos, error)
         && sw_folder_flush (move->to, error);
}

gboolean
sw_is_second_home (const char *folder)
{
  g_autofree char *id = note_id (folder);
  return id != NULL;
}

gboolean
sw_restore_from (const char *home, const char *database, const char *to, GCancellable *cancellable,
                 SwBackupReport *out_report, gboolean *out_stands, GError **error)
{
  int lock = -1;
  if (!sw_folder_check_new (to, error))
    return FALSE;
  g_autofree char *part = sw_folder_part_make (to, &lock, error);
  if (part == NULL)
    return FALSE;
  g_auto (Move) move;
  move_init (&move, home, part, cancellable);
  gboolean ok = fill_restored (&move, database, error);
  g_clear_pointer (&move.list, sqlite3_close);
  if (!ok)
    return sw_folder_part_fail (part, lock, to, error);
  if (!sw_folder_part_place (part, lock, to, error))
    return FALSE;
  *out_stands = TRUE;
  *out_report = move.report;
  return complain_of_bad (&move, _ ("all the rest was brought back"), error);
}

gboolean
sw_restore (const char *target, const char *folder, GCancellable *cancellable,
            SwBackupReport *out_report, GError **error)
{
  g_return_val_if_fail (target != NULL && folder != NULL, FALSE);
  g_autofree char *home = g_canonicalize_filename (target, NULL);
  g_autofree char *to = g_canonicalize_filename (folder, NULL);
  g_autofree char *database = g_build_filename (home, SW_DATABASE_NAME, NULL);
  SwBackupReport report = { 0 };
  gboolean stands = FALSE;
  if (!check_home (home, error)
      || !sw_restore_from (home, database, to, cancellable, &report, &stands, error))
    return FALSE;
  if (out_report != NULL)
    *out_report = report;
  return TRUE;
}
