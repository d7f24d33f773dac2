/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes a catalogue from an archive: a new database of the archive's schema, its rows, its photos,
 * each compared with what the archive says of itself; then the steps that are missing. Whatever is
 * wrong, nothing stays. */
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/json-line.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/archive-private.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/digest.h"
#include "core/catalogue/schema-items.h"
#include "core/catalogue/schema.h"

/* What nobody's archive has: longer lines and lists are hostile. */
#define LINE_MAX_BYTES (64 * 1024 * 1024)
#define HEAD_MAX 65536
#define SUMS_MAX (256 * 1024 * 1024)
#define SHA256_DIGITS 64
/* The step that brought the search. */
#define SEARCH_SINCE 9

typedef struct
{
  const char *from;
  const char *part;
  gint64 schema;
  GHashTable *sums; /* name -> digits */
  sqlite3 *db;
  GCancellable *cancellable;
  SwArchiveReport report;
} Reading;

static gboolean
damaged (GError **error, const char *name, const char *why)
{
  g_autofree char *shown = sw_text_quote (name);

  g_set_error (error, SW_ERROR, SW_ERROR_DAMAGED,
               _ ("The archive is damaged: %s %s; nothing was made of it."), shown, why);
  return FALSE;
}

/* A plain file of the archive; a link, pipe or folder is none. NULL with an error. */
static FILE *
open_plain (const Reading *reading, const char *name, GError **error)
{
  g_autofree char *path = g_build_filename (reading->from, name, NULL);
  struct stat is;
  int fd = open (path, O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);

  if (fd >= 0 && fstat (fd, &is) == 0 && S_ISREG (is.st_mode))
    return fdopen (fd, "r");
  if (fd >= 0)
    close (fd);
  damaged (error, name, _ ("is missing"));
  return NULL;
}

/* At most so many bytes. Transfer full. */
static GString *
read_small (const Reading *reading, const char *name, gsize most, GError **error)
{
  FILE *file = open_plain (reading, name, error);
  g_autoptr (GString) text = g_string_new (NULL);
  char some[8192];
  gsize n = 0;

  if (file == NULL)
    return NULL;
  while (text->len <= most && (n = fread (some, 1, sizeof some, file)) > 0)
    g_string_append_len (text, some, (gssize)n);
  gboolean ok = !ferror (file);
  fclose (file);
  if (ok && text->len <= most && memchr (text->str, '\0', text->len) == NULL)
    return g_steal_pointer (&text);
  damaged (error, name, ok ? _ ("is too long, or no text") : _ ("cannot be read"));
  return NULL;
}

/* ---- what it is ---- */

static gint64
whole_number (GHashTable *object, const char *name)
{
  const SwJsonValue *value = g_hash_table_lookup (object, name);

  return value != NULL && value->kind == SW_JSON_INT ? value->integer : 0;
}

static gboolean
check_versions (Reading *reading, GHashTable *head, GError **error)
{
  const SwJsonValue *format = g_hash_table_lookup (head, "format");
  gint64 version = whole_number (head, "version");

  reading->schema = whole_number (head, "schema");
  if (format == NULL || format->kind != SW_JSON_STRING
      || strcmp (format->text, SW_ARCHIVE_FORMAT) != 0 || version < 1)
    {
      g_autofree char *shown = sw_text_quote (reading->from);
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("%s is no archive of a catalogue."),
                   shown);
      return FALSE;
    }
  if (version > SW_ARCHIVE_VERSION || reading->schema > sw_schema_latest ())
    {
      g_set_error_literal (
          error, SW_ERROR, SW_ERROR_NEWER_SCHEMA,
          _ ("This archive was written by a newer Shedwalk; read it with that one."));
      return FALSE;
    }
  return reading->schema >= 1 || damaged (error, SW_ARCHIVE_HEAD, _ ("says no schema"));
}

static gboolean
read_head (Reading *reading, GError **error)
{
  g_autofree char *path = g_build_filename (reading->from, SW_ARCHIVE_HEAD, NULL);
  g_autofree char *shown = sw_text_quote (reading->from);

  if (!g_file_test (reading->from, G_FILE_TEST_EXISTS))
    return sw_error_from_errno (error, ENOENT, shown);
  if (!g_file_test (path, G_FILE_TEST_IS_REGULAR))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s is no archive of a catalogue: it holds no %s."), shown, SW_ARCHIVE_HEAD);
      return FALSE;
    }
  g_autoptr (GString) text = read_small (reading, SW_ARCHIVE_HEAD, HEAD_MAX, error);
  if (text == NULL)
    return FALSE;
  g_autoptr (GHashTable) head = sw_json_line_parse (text->str, text->len, NULL);
  return head != NULL ? check_versions (reading, head, error)
                      : damaged (error, SW_ARCHIVE_HEAD, _ ("is no JSON object of plain values"));
}

static gboolean
is_sum_line (const char *line)
{
  for (int i = 0; i < SHA256_DIGITS; i++)
    if (!g_ascii_isxdigit (line[i]))
      return FALSE;
  return line[SHA256_DIGITS] == ' '
         && (line[SHA256_DIGITS + 1] == ' ' || line[SHA256_DIGITS + 1] == '*')
         && line[SHA256_DIGITS + 2] != '\0';
}

static gboolean
read_sums (Reading *reading, GError **error)
{
  g_autoptr (GString) text = read_small (reading, SW_ARCHIVE_SUMS, SUMS_MAX, error);

  if (text == NULL)
    return FALSE;
  for (char *line = text->str, *next; line != NULL && *line != '\0'; line = next)
    {
      next = strchr (line, '\n');
      if (next != NULL)
        *next++ = '\0';
      if (!is_sum_line (line))
        return damaged (error, SW_ARCHIVE_SUMS, _ ("holds a line that is no checksum"));
      g_hash_table_insert (reading->sums, g_strdup (line + SHA256_DIGITS + 2),
                           g_ascii_strdown (line, SHA256_DIGITS));
    }
  return TRUE;
}

/* ---- its rows ---- */

static gboolean
bind_value (sqlite3_stmt *stmt, int at, const SwJsonValue *value, gboolean bytes)
{
  if (bytes)
    {
      gsize n = 0;
      g_autofree guchar *data = NULL;
      if (value->kind != SW_JSON_STRING)
        return FALSE;
      data = g_base64_decode (value->text, &n);
      return sqlite3_bind_blob64 (stmt, at, data != NULL ? data : (const guchar *)"", n,
                                  SQLITE_TRANSIENT)
             == SQLITE_OK;
    }
  switch (value->kind)
    {
    case SW_JSON_NULL:
      return sqlite3_bind_null (stmt, at) == SQLITE_OK;
    case SW_JSON_INT:
      return sqlite3_bind_int64 (stmt, at, value->integer) == SQLITE_OK;
    case SW_JSON_DOUBLE:
      return sqlite3_bind_double (stmt, at, value->number) == SQLITE_OK;
    case SW_JSON_STRING:
      return sqlite3_bind_text (stmt, at, value->text, -1, SQLITE_TRANSIENT) == SQLITE_OK;
    }
  return FALSE;
}

/* Every column once, under its name or as bytes, and nothing else. */
static gboolean
bind_row (sqlite3_stmt *stmt, const GPtrArray *columns, GHashTable *row)
{
  if (g_hash_table_size (row) != columns->len)
    return FALSE;
  for (guint i = 0; i < columns->len; i++)
    {
      const char *name = g_ptr_array_index (columns, i);
      g_autofree char *coded = g_strconcat (name, SW_ARCHIVE_BASE64, NULL);
      const SwJsonValue *plain = g_hash_table_lookup (row, name);
      const SwJsonValue *bytes = plain == NULL ? g_hash_table_lookup (row, coded) : NULL;

      if ((plain == NULL && bytes == NULL)
          || !bind_value (stmt, (int)i + 1, plain != NULL ? plain : bytes, bytes != NULL))
        return FALSE;
    }
  return TRUE;
}

static sqlite3_stmt *
prepare_insert (const Reading *reading, const char *table, const GPtrArray *columns)
{
  g_autoptr (GString) sql = g_string_new (NULL);
  g_autofree char *quoted = sw_archive_quote (table);
  sqlite3_stmt *stmt = NULL;

  g_string_printf (sql, "INSERT INTO %s (", quoted);
  for (guint i = 0; i < columns->len; i++)
    {
      g_autofree char *column = sw_archive_quote (g_ptr_array_index (columns, i));
      g_string_append_printf (sql, "%s%s", i > 0 ? ", " : "", column);
    }
  g_string_append (sql, ") VALUES (");
  for (guint i = 0; i < columns->len; i++)
    g_string_append_printf (sql, "%s?%u", i > 0 ? ", " : "", i + 1);
  g_string_append_c (sql, ')');
  return sqlite3_prepare_v2 (reading->db, sql->str, -1, &stmt, NULL) == SQLITE_OK ? stmt : NULL;
}

/* One line at a time, none too long; what is read goes into the checksum. */
typedef struct
{
  FILE *file;
  GChecksum *sum;
  char *line;
  size_t room;
} Lines;

/* -1 at the end, -2 where a line has no end within bounds. */
static gssize
next_line (Lines *lines)
{
  gsize n = 0;

  for (;;)
    {
      if (lines->room - n < 2)
        {
          if (lines->room >= LINE_MAX_BYTES)
            return -2;
          lines->room *= 2;
          lines->line = g_realloc (lines->line, lines->room);
        }
      if (fgets (lines->line + n, (int)MIN (lines->room - n, G_MAXINT), lines->file) == NULL)
        return n == 0 && !ferror (lines->file) ? -1 : -2;
      gsize got = strlen (lines->line + n);
      n += got;
      if (got > 0 && lines->line[n - 1] == '\n')
        {
          g_checksum_update (lines->sum, (const guchar *)lines->line, (gssize)n);
          return (gssize)n;
        }
      if (got == 0)
        return -2; /* a NUL byte */
    }
}

static gboolean
put_rows (Reading *reading, Lines *lines, const char *name, const GPtrArray *columns,
          sqlite3_stmt *stmt, GError **error)
{
  gssize n;

  while ((n = next_line (lines)) >= 0)
    {
      g_autoptr (GHashTable) row = sw_json_line_parse (lines->line, (gsize)n, NULL);

      if (row == NULL || !bind_row (stmt, columns, row))
        return damaged (error, name, _ ("holds a line that is no row of it"));
      if (sqlite3_step (stmt) != SQLITE_DONE)
        {
          int code = sqlite3_extended_errcode (reading->db);
          if ((code & 0xff) == SQLITE_FULL || (code & 0xff) == SQLITE_IOERR)
            return sw_db_error (reading->db, code, _ ("The new catalogue could not be written"),
                                error);
          return damaged (error, name, _ ("holds a row that cannot be"));
        }
      sqlite3_reset (stmt);
      reading->report.rows++;
      if (g_cancellable_is_cancelled (reading->cancellable))
        {
          g_set_error_literal (error, SW_ERROR, SW_ERROR_CANCELLED,
                               _ ("Stopped; nothing was made."));
          return FALSE;
        }
    }
  return n == -1 || damaged (error, name, _ ("holds a line without an end"));
}

static gboolean
read_table (Reading *reading, const char *table, GError **error)
{
  g_autofree char *name = g_strdup_printf (SW_ARCHIVE_TABLES "/%s.jsonl", table);
  const char *wanted = g_hash_table_lookup (reading->sums, name);

  if (wanted == NULL)
    return damaged (error, name, _ ("is not in the list of checksums"));
  g_autoptr (GPtrArray) columns = sw_archive_columns (reading->db, table, error);
  Lines lines = { .room = 8192 };
  if (columns == NULL || (lines.file = open_plain (reading, name, error)) == NULL)
    return FALSE;
  sqlite3_stmt *stmt = prepare_insert (reading, table, columns);
  lines.sum = g_checksum_new (G_CHECKSUM_SHA256);
  lines.line = g_malloc (lines.room);
  gboolean ok = stmt != NULL ? put_rows (reading, &lines, name, columns, stmt, error)
                             : damaged (error, name, _ ("is no table of a catalogue"));
  if (ok && strcmp (g_checksum_get_string (lines.sum), wanted) != 0)
    ok = damaged (error, name, _ ("is not what it was when it was written"));
  sqlite3_finalize (stmt);
  fclose (lines.file);
  g_checksum_free (lines.sum);
  g_free (lines.line);
  reading->report.tables += ok;
  return ok;
}

/* What is listed but unknown here would be lost without a word. */
static gboolean
check_no_others (const Reading *reading, const GPtrArray *tables, GError **error)
{
  GHashTableIter iter;
  gpointer name = NULL;

  g_hash_table_iter_init (&iter, reading->sums);
  while (g_hash_table_iter_next (&iter, &name, NULL))
    {
      gboolean known = !g_str_has_prefix (name, SW_ARCHIVE_TABLES "/");
      for (guint i = 0; i < tables->len && !known; i++)
        {
          g_autofree char *file
              = g_strdup_printf (SW_ARCHIVE_TABLES "/%s.jsonl", (char *)tables->pdata[i]);
          known = strcmp (file, name) == 0;
        }
      if (!known)
        return damaged (error, name, _ ("is no table that this schema knows"));
    }
  return TRUE;
}

static gboolean
read_tables (Reading *reading, GError **error)
{
  g_autoptr (GPtrArray) tables = sw_archive_table_names (reading->db, error);

  if (tables == NULL || !check_no_others (reading, tables, error))
    return FALSE;
  for (guint i = 0; i < tables->len; i++)
    {
      /* those of the new database's own making give way */
      g_autofree char *quoted = sw_archive_quote (g_ptr_array_index (tables, i));
      g_autofree char *sql = g_strconcat ("DELETE FROM ", quoted, NULL);
      if (!sw_db_exec (reading->db, sql, _ ("The new catalogue"), error)
          || !read_table (reading, g_ptr_array_index (tables, i), error))
        return FALSE;
    }
  return TRUE;
}

/* ---- the new database ---- */

static gboolean
make_schema (Reading *reading, GError **error)
{
  gsize n = 0;
  const SwSchemaStep *steps = sw_schema_steps (&n);
  g_autofree char *numbers
      = g_strdup_printf ("PRAGMA user_version = %d; PRAGMA application_id = %d",
                         (int)reading->schema, SW_APPLICATION_ID);

  for (gsize i = 0; i < n && steps[i].version <= reading->schema; i++)
    if (!sw_db_exec (reading->db, steps[i].sql, _ ("The new catalogue"), error))
      return FALSE;
  return sw_db_exec (reading->db, numbers, _ ("The new catalogue"), error);
}

/* Nothing may point to what is not there. */
static gboolean
check_links (Reading *reading, GError **error)
{
  sqlite3_stmt *stmt = NULL;
  g_autofree char *table = NULL;
  int code = sqlite3_prepare_v2 (reading->db, "PRAGMA foreign_key_check", -1, &stmt, NULL);

  if (code == SQLITE_OK && (code = sqlite3_step (stmt)) == SQLITE_ROW)
    table = g_strdup ((const char *)sqlite3_column_text (stmt, 0));
  sqlite3_finalize (stmt);
  if (table != NULL)
    return damaged (error, table, _ ("points to what is not there"));
  return code == SQLITE_DONE || sw_db_error (reading->db, code, _ ("The new catalogue"), error);
}

static gboolean
add_barrier (Reading *reading, GError **error)
{
  char *sql = sqlite3_mprintf ("INSERT INTO act (at_us, author, kind, sentence) VALUES"
                               " (%lld, %Q, 'barrier', 'The catalogue was made from an archive')",
                               (long long)g_get_real_time (), g_get_user_name ());
  gboolean ok = sw_db_exec (reading->db, sql, _ ("The new catalogue"), error);

  sqlite3_free (sql);
  return ok;
}

static gboolean
fill_database (Reading *reading, GError **error)
{
  const char *what = _ ("The new catalogue");

  return sw_db_exec (reading->db, "PRAGMA foreign_keys = OFF; BEGIN IMMEDIATE", what, error)
         && make_schema (reading, error) && read_tables (reading, error)
         && check_links (reading, error)
         && (reading->schema < SEARCH_SINCE || sw_db_exec (reading->db, SW_SEARCH_ROW, what, error))
         && add_barrier (reading, error) && sw_db_exec (reading->db, "COMMIT", what, error)
         && sw_db_is_sound (reading->db, what, error);
}

/* ---- its photos ---- */

static gboolean
read_photo (Reading *reading, const char *stored, gint64 size, const char *hash, GError **error)
{
  SwDigestVerdict verdict = SW_DIGEST_OTHER;

  if (!sw_stored_is_safe (stored))
    return damaged (error, stored, _ ("is no place of a photo"));
  g_autofree char *from = g_build_filename (reading->from, stored, NULL);
  g_autofree char *to = g_build_filename (reading->part, stored, NULL);
  g_autofree char *folder = g_path_get_dirname (to);
  if (g_mkdir_with_parents (folder, SW_FOLDER_MODE) != 0)
    return sw_error_from_errno (error, errno, _ ("The folder of photos could not be made"));
  if (!sw_digest_copy (from, to, size, hash, reading->cancellable, &verdict, error)
      || !sw_folder_flush (folder, error))
    return FALSE;
  if (verdict != SW_DIGEST_SAME)
    return damaged (error, stored,
                    verdict == SW_DIGEST_MISSING ? _ ("is missing") : _ ("is not what it was"));
  reading->report.photos++;
  reading->report.bytes += size;
  return TRUE;
}

static gboolean
read_photos (Reading *reading, GError **error)
{
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2 (reading->db, "SELECT stored, size, hash FROM photo ORDER BY id",
                                 -1, &stmt, NULL);
  gboolean ok = TRUE;

  while (ok && code == SQLITE_OK && (code = sqlite3_step (stmt)) == SQLITE_ROW)
    {
      ok = read_photo (reading, (const char *)sqlite3_column_text (stmt, 0),
                       sqlite3_column_int64 (stmt, 1), (const char *)sqlite3_column_text (stmt, 2),
                       error);
      code = SQLITE_OK;
    }
  sqlite3_finalize (stmt);
  return ok
         && (code == SQLITE_DONE
             || sw_db_error (reading->db, code, _ ("The list of photos could not be read"), error));
}

/* ---- the whole ---- */

static gboolean
fill (Reading *reading, GError **error)
{
  g_autofree char *photos = g_build_filename (reading->part, SW_PHOTOS_NAME, NULL);
  g_autofree char *backups = g_build_filename (reading->part, SW_BACKUPS_NAME, NULL);
  g_autofree char *database = g_build_filename (reading->part, SW_DATABASE_NAME, NULL);
  int fd = -1;

  if (g_mkdir (photos, SW_FOLDER_MODE) != 0 || g_mkdir (backups, SW_FOLDER_MODE) != 0
      || (fd = open (database, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, SW_FILE_MODE)) < 0)
    return sw_error_from_errno (error, errno, _ ("The folder of the catalogue could not be made"));
  close (fd);
  gboolean ok = sw_db_open_file (database, FALSE, &reading->db, error)
                && fill_database (reading, error) && read_photos (reading, error);
  sqlite3_close (reading->db);
  reading->db = NULL;
  if (!ok)
    return FALSE;
  /* brings it up to date, and is the proof that it opens */
  g_autoptr (SwCatalogue) catalogue = sw_catalogue_open (reading->part, SW_OPEN_READ_WRITE, error);
  return catalogue != NULL && sw_folder_flush (photos, error)
         && sw_folder_flush (reading->part, error);
}

gboolean
sw_archive_read (const char *archive, const char *folder, GCancellable *cancellable,
                 SwArchiveReport *out_report, GError **error)
{
  g_return_val_if_fail (archive != NULL && folder != NULL, FALSE);
  g_autofree char *from = g_canonicalize_filename (archive, NULL);
  g_autofree char *to = g_canonicalize_filename (folder, NULL);
  g_autoptr (GHashTable) sums = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  Reading reading = { .from = from, .sums = sums, .cancellable = cancellable };
  int lock = -1;

  if (!sw_folder_check_new (to, error) || !read_head (&reading, error)
      || !read_sums (&reading, error))
    return FALSE;
  g_autofree char *part = sw_folder_part_make (to, &lock, error);
  if (part == NULL)
    return FALSE;
  reading.part = part;
  if (!fill (&reading, error))
    return sw_folder_part_fail (part, lock, to, error);
  if (!sw_folder_part_place (part, lock, to, error))
    return FALSE;
  if (out_report != NULL)
    *out_report = reading.report;
  return TRUE;
}
