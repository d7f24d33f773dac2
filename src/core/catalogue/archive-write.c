/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes an archive from a copy of the database, beside its place, and renames it when whole. */
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/json-line.h"
#include "core/base/language.h"
#include "core/base/path.h"
#include "core/base/text.h"
#include "core/catalogue/archive-private.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/digest.h"
#include "core/catalogue/schema.h"

/* Lines are handed to the disk in pieces of about this size. */
#define PIECE 262144
#define COPY_NAME ".copy.db"
#define NAMED_AT_MOST 5

struct _SwArchive
{
  char *from, *folder, *part; /* part NULL: finished */
  int lock;
  sqlite3 *db; /* the copy */
  GString *sums;
  SwArchiveReport report;
};

static const char note[]
    = "An archive of a Shedwalk catalogue, in open formats.\n"
      "\n"
      "archive.json      what it is of\n"
      "tables/*.jsonl    one table each, one JSON object a line; its names are the columns.\n"
      "                  Money is whole minor units of the currency in archive.json. Days count\n"
      "                  from 1970-01-01; *_us are microseconds since 1970-01-01T00:00:00Z, *_ug\n"
      "                  micrograms, *_mm millimetres. Names that end in :base64 are bytes.\n"
      "photos/           every file as it was brought in; the table photo says which is which\n"
      "checksums.sha256  check with: sha256sum -c checksums.sha256\n"
      "\n"
      "To make a catalogue of it again: shedwalk new NAME.shedwalk --from-archive THIS-FOLDER\n"
      "The history comes back to be read; what was done before can then not be undone any more.\n";

char *
sw_archive_quote (const char *name)
{
  GString *quoted = g_string_new ("\"");

  for (const char *p = name; *p != '\0'; p++)
    g_string_append_printf (quoted, *p == '"' ? "\"\"" : "%c", *p);
  return g_string_free (g_string_append_c (quoted, '"'), FALSE);
}

/* The first column of every row. */
static GPtrArray *
collect (sqlite3 *db, const char *sql, GError **error)
{
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func (g_free);
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL);

  while (code == SQLITE_OK && (code = sqlite3_step (stmt)) == SQLITE_ROW)
    {
      g_ptr_array_add (all, g_strdup ((const char *)sqlite3_column_text (stmt, 0)));
      code = SQLITE_OK;
    }
  sqlite3_finalize (stmt);
  if (code == SQLITE_DONE)
    return g_steal_pointer (&all);
  sw_db_error (db, code, _ ("The tables of the catalogue could not be listed"), error);
  return NULL;
}

GPtrArray *
sw_archive_table_names (sqlite3 *db, GError **error)
{
  GPtrArray *names
      = collect (db,
                 "SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table'"
                 " AND name NOT LIKE 'sqlite%' AND name <> 'changeset' ORDER BY name",
                 error);
  if (names != NULL)
    g_ptr_array_add (names, g_strdup (SW_ARCHIVE_SEQUENCE));
  return names;
}

GPtrArray *
sw_archive_columns (sqlite3 *db, const char *table, GError **error)
{
  char *sql = sqlite3_mprintf ("SELECT name FROM pragma_table_info(%Q) ORDER BY cid", table);
  GPtrArray *columns = collect (db, sql, error);

  sqlite3_free (sql);
  return columns;
}

/* ---- files ---- */

/* A file that is written from its beginning, with its checksum. */
typedef struct
{
  FILE *file;
  GChecksum *sum;
  char *name; /* within the archive */
  GString *piece;
} Out;

static gboolean
fail_to_write (GError **error)
{
  return sw_error_from_errno (error, errno, _ ("The archive could not be written"));
}

static gboolean
out_open (Out *out, const SwArchive *archive, const char *name, GError **error)
{
  g_autofree char *path = g_build_filename (archive->part, name, NULL);
  int fd = open (path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, SW_FILE_MODE);

  *out = (Out){ .file = fd >= 0 ? fdopen (fd, "w") : NULL, .name = g_strdup (name) };
  out->sum = g_checksum_new (G_CHECKSUM_SHA256);
  out->piece = g_string_new (NULL);
  return out->file != NULL || fail_to_write (error);
}

static gboolean
out_send (Out *out, GError **error)
{
  gsize n = out->piece->len;

  g_checksum_update (out->sum, (const guchar *)out->piece->str, (gssize)n);
  if (fwrite (out->piece->str, 1, n, out->file) != n)
    return fail_to_write (error);
  g_string_truncate (out->piece, 0);
  return TRUE;
}

static void
add_sum (SwArchive *archive, const char *hex, const char *name)
{
  g_string_append_printf (archive->sums, "%s  %s\n", hex, name);
}

static void
out_clear (Out *out)
{
  if (out->file != NULL)
    fclose (out->file);
  g_clear_pointer (&out->sum, g_checksum_free);
  g_free (out->name);
  if (out->piece != NULL)
    g_string_free (out->piece, TRUE);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Out, out_clear)

/* Whole and on the disk. */
static gboolean
out_close (Out *out, SwArchive *archive, GError **error)
{
  if (!out_send (out, error))
    return FALSE;
  if (fflush (out->file) != 0 || fsync (fileno (out->file)) != 0)
    return fail_to_write (error);
  if (fclose (g_steal_pointer (&out->file)) != 0)
    return fail_to_write (error);
  add_sum (archive, g_checksum_get_string (out->sum), out->name);
  return TRUE;
}

static gboolean
write_text (SwArchive *archive, const char *name, const char *text, GError **error)
{
  g_auto (Out) out = { 0 };

  if (!out_open (&out, archive, name, error))
    return FALSE;
  g_string_append (out.piece, text);
  return out_close (&out, archive, error);
}

/* ---- tables ---- */

static void
add_value (GString *line, sqlite3_stmt *stmt, int column)
{
  g_autofree char *base64 = NULL;
  const char *name = sqlite3_column_name (stmt, column);
  int type = sqlite3_column_type (stmt, column);

  g_string_append_printf (line, "%s\"%s%s\": ", column > 0 ? ", " : "", name,
                          type == SQLITE_BLOB ? SW_ARCHIVE_BASE64 : "");
  switch (type)
    {
    case SQLITE_INTEGER:
      g_string_append_printf (line, "%" G_GINT64_FORMAT,
                              (gint64)sqlite3_column_int64 (stmt, column));
      break;
    case SQLITE_FLOAT:
      sw_json_append_double (line, sqlite3_column_double (stmt, column));
      break;
    case SQLITE_TEXT:
      sw_json_append_string (line, (const char *)sqlite3_column_text (stmt, column));
      break;
    case SQLITE_BLOB:
      base64 = g_base64_encode (sqlite3_column_blob (stmt, column),
                                (gsize)sqlite3_column_bytes (stmt, column));
      g_string_append_printf (line, "\"%s\"", base64);
      break;
    default:
      g_string_append (line, "null");
    }
}

static gboolean
write_rows (SwArchive *archive, Out *out, const char *table, GError **error)
{
  g_autofree char *quoted = sw_archive_quote (table);
  g_autofree char *sql = g_strconcat ("SELECT * FROM ", quoted, NULL);
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2 (archive->db, sql, -1, &stmt, NULL);
  gboolean ok = TRUE;

  while (ok && code == SQLITE_OK && (code = sqlite3_step (stmt)) == SQLITE_ROW)
    {
      g_string_append_c (out->piece, '{');
      for (int c = 0; c < sqlite3_column_count (stmt); c++)
        add_value (out->piece, stmt, c);
      g_string_append (out->piece, "}\n");
      archive->report.rows++;
      code = SQLITE_OK;
      ok = out->piece->len < PIECE || out_send (out, error);
    }
  sqlite3_finalize (stmt);
  return ok
         && (code == SQLITE_DONE
             || sw_db_error (archive->db, code, _ ("A table could not be read"), error));
}

static gboolean
write_tables (SwArchive *archive, GCancellable *cancellable, GError **error)
{
  g_autoptr (GPtrArray) names = sw_archive_table_names (archive->db, error);
  g_autofree char *folder = g_build_filename (archive->part, SW_ARCHIVE_TABLES, NULL);

  if (names == NULL)
    return FALSE;
  if (g_mkdir (folder, SW_FOLDER_MODE) != 0)
    return fail_to_write (error);
  for (guint i = 0; i < names->len; i++)
    {
      const char *name = g_ptr_array_index (names, i);
      g_autofree char *file = g_strdup_printf (SW_ARCHIVE_TABLES "/%s.jsonl", name);
      g_auto (Out) out = { 0 };

      if (!out_open (&out, archive, file, error) || !write_rows (archive, &out, name, error)
          || !out_close (&out, archive, error))
        return FALSE;
      archive->report.tables++;
    }
  return sw_folder_flush (folder, error);
}

/* ---- photos ---- */

static char *
sha256_of (const char *path, GError **error)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  g_autofree guint8 *some = g_malloc (PIECE);
  FILE *file = g_fopen (path, "re");
  gsize n = 0;

  while (file != NULL && (n = fread (some, 1, PIECE, file)) > 0)
    g_checksum_update (sum, some, (gssize)n);
  gboolean ok = file != NULL && !ferror (file);
  int errsv = errno;
  if (file != NULL)
    fclose (file);
  if (ok)
    return g_strdup (g_checksum_get_string (sum));
  sw_error_from_errno (error, errsv, _ ("A photo of the archive could not be read back"));
  return NULL;
}

typedef struct
{
  SwArchive *archive;
  GHashTable *folders; /* that got files */
  GPtrArray *bad;      /* photos that are not sound */
  GCancellable *cancellable;
} Photos;

static gboolean
write_photo (Photos *photos, const char *stored, gint64 size, const char *hash, GError **error)
{
  SwArchive *archive = photos->archive;
  g_autofree char *from = g_build_filename (archive->from, stored, NULL);
  g_autofree char *to = g_build_filename (archive->part, stored, NULL);
  g_autofree char *folder = g_path_get_dirname (to);
  SwDigestVerdict verdict = SW_DIGEST_OTHER;

  if (!sw_stored_is_safe (stored))
    {
      g_ptr_array_add (photos->bad, g_strdup (stored));
      return TRUE;
    }
  if (g_mkdir_with_parents (folder, SW_FOLDER_MODE) != 0)
    return fail_to_write (error);
  g_hash_table_add (photos->folders, g_steal_pointer (&folder));
  if (!sw_digest_copy (from, to, size, hash, photos->cancellable, &verdict, error))
    return FALSE;
  if (verdict != SW_DIGEST_SAME)
    {
      g_ptr_array_add (photos->bad, g_strdup (stored));
      return TRUE;
    }
  g_autofree char *hex = sha256_of (to, error);
  if (hex == NULL)
    return FALSE;
  add_sum (archive, hex, stored);
  archive->report.photos++;
  archive->report.bytes += size;
  return TRUE;
}

/* An archive with holes would be taken for whole one day: it is refused now. */
static gboolean
complain_of_bad (const GPtrArray *bad, GError **error)
{
  g_autoptr (GString) names = g_string_new (NULL);

  if (bad->len == 0)
    return TRUE;
  for (guint i = 0; i < bad->len && i < NAMED_AT_MOST; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", (char *)bad->pdata[i]);
  g_set_error (
      error, SW_ERROR, SW_ERROR_DAMAGED,
      _ ("%u photos are missing or damaged: %s%s; put them back (shedwalk check names them), "
         "then make the archive."),
      bad->len, names->str, bad->len > NAMED_AT_MOST ? _ (" and more") : "");
  return FALSE;
}

static gboolean
flush_folders (const SwArchive *archive, GHashTable *folders, GError **error)
{
  GHashTableIter iter;
  gpointer folder = NULL;

  g_hash_table_iter_init (&iter, folders);
  while (g_hash_table_iter_next (&iter, &folder, NULL))
    if (!sw_folder_flush_up (folder, archive->part, error))
      return FALSE;
  return TRUE;
}

static gboolean
write_photos (SwArchive *archive, int *done, GCancellable *cancellable, GError **error)
{
  g_autoptr (GHashTable) folders = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) bad = g_ptr_array_new_with_free_func (g_free);
  Photos photos = { archive, folders, bad, cancellable };
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2 (archive->db, "SELECT stored, size, hash FROM photo ORDER BY id",
                                 -1, &stmt, NULL);
  gboolean ok = TRUE;

  while (ok && code == SQLITE_OK && (code = sqlite3_step (stmt)) == SQLITE_ROW)
    {
      ok = write_photo (&photos, (const char *)sqlite3_column_text (stmt, 0),
                        sqlite3_column_int64 (stmt, 1), (const char *)sqlite3_column_text (stmt, 2),
                        error);
      code = SQLITE_OK;
      if (done != NULL)
        g_atomic_int_inc (done);
    }
  sqlite3_finalize (stmt);
  if (ok && code != SQLITE_DONE)
    ok = sw_db_error (archive->db, code, _ ("The list of photos could not be read"), error);
  return ok && complain_of_bad (bad, error) && flush_folders (archive, folders, error);
}

/* ---- the whole ---- */

static gboolean
write_head (SwArchive *archive, GError **error)
{
  static const char *const keys[] = { "id", "name", "currency", "zone" };
  g_autoptr (GString) head = g_string_new (NULL);

  g_string_append_printf (head, "{\"format\": \"%s\", \"version\": %d, \"schema\": %d",
                          SW_ARCHIVE_FORMAT, SW_ARCHIVE_VERSION, sw_schema_latest ());
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      char *sql = sqlite3_mprintf ("SELECT value FROM setting WHERE key = %Q", keys[i]);
      g_autoptr (GPtrArray) value = collect (archive->db, sql, error);

      sqlite3_free (sql);
      if (value == NULL)
        return FALSE;
      g_string_append_printf (head, ", \"%s\": ", i == 0 ? "catalogue" : keys[i]);
      sw_json_append_string (head, value->len > 0 ? g_ptr_array_index (value, 0) : "");
    }
  g_string_append (head, "}\n");
  return write_text (archive, SW_ARCHIVE_HEAD, head->str, error);
}

/* The list is written last and does not name itself. */
static gboolean
write_sums (SwArchive *archive, GError **error)
{
  g_autofree char *text = g_strndup (archive->sums->str, archive->sums->len);

  return write_text (archive, SW_ARCHIVE_SUMS, text, error);
}

SwArchive *
sw_archive_begin (SwCatalogue *catalogue, const char *folder, GError **error)
{
  g_return_val_if_fail (catalogue->level == 0 && folder != NULL, NULL);
  g_autofree char *to = g_canonicalize_filename (folder, NULL);

  if (!sw_path_check_outside (to, catalogue->folder, error) || !sw_folder_is_free (to, error))
    return NULL;
  g_autoptr (SwArchive) archive = g_new0 (SwArchive, 1);
  archive->lock = -1;
  archive->part = sw_folder_part_make (to, &archive->lock, error);
  archive->folder = g_steal_pointer (&to);
  archive->from = g_strdup (catalogue->folder);
  archive->sums = g_string_new (NULL);
  if (archive->part == NULL)
    return NULL;
  g_autofree char *copy = g_build_filename (archive->part, COPY_NAME, NULL);
  return sw_db_copy_to (catalogue->db, copy, _ ("The database could not be copied"), error)
                 && sw_db_open_file (copy, TRUE, &archive->db, error)
             ? g_steal_pointer (&archive)
             : NULL;
}

gint64
sw_archive_n_photos (SwArchive *archive)
{
  gint64 n = 0;

  return sw_db_ask_int (archive->db, "SELECT count(*) FROM photo", _ ("The archive"), &n, NULL) ? n
                                                                                                : 0;
}

gboolean
sw_archive_finish (SwArchive *archive, int *done, GCancellable *cancellable,
                   SwArchiveReport *out_report, GError **error)
{
  g_return_val_if_fail (archive->part != NULL, FALSE);
  g_autofree char *copy = g_build_filename (archive->part, COPY_NAME, NULL);

  if (!write_head (archive, error) || !write_text (archive, SW_ARCHIVE_NOTE, note, error)
      || !write_tables (archive, cancellable, error)
      || !write_photos (archive, done, cancellable, error) || !write_sums (archive, error))
    return FALSE;
  g_clear_pointer (&archive->db, sqlite3_close);
  if (g_unlink (copy) != 0)
    return fail_to_write (error);
  if (g_cancellable_is_cancelled (cancellable))
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_CANCELLED,
                           _ ("Stopped; no archive was made."));
      return FALSE;
    }
  g_autofree char *part = g_steal_pointer (&archive->part);
  if (!sw_folder_flush (part, error))
    return sw_folder_part_fail (part, archive->lock, archive->folder, error);
  if (!sw_folder_part_place (part, archive->lock, archive->folder, error))
    return FALSE;
  if (out_report != NULL)
    *out_report = archive->report;
  return TRUE;
}

void
sw_archive_free (SwArchive *archive)
{
  if (archive == NULL)
    return;
  sqlite3_close (archive->db);
  if (archive->part != NULL)
    sw_folder_part_fail (archive->part, archive->lock, archive->folder, NULL);
  g_free (archive->part);
  g_free (archive->folder);
  g_free (archive->from);
  if (archive->sums != NULL)
    g_string_free (archive->sums, TRUE);
  g_free (archive);
}
