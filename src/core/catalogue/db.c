/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The connection: opening with our pragmas, the prepared statements, binding, reading columns, and
 * the one translation of SQLite's codes into sentences. Knows no table. */
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/search.h"

#include <errno.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"

/* How long a writer waits for another program's act, in milliseconds. */
#define BUSY_TIMEOUT_MS 2000

typedef struct
{
  int code; /* extended or primary */
  SwError error;
  const char *why;
} CodeRow;

#define WHY_DAMAGED                                                                                \
  N_ ("the database is damaged; restore the catalogue from its second home, or from its own "      \
      "safety "                                                                                    \
      "copies (shedwalk restore)")

/* Extended codes stand before their primary one. */
static const CodeRow code_rows[] = {
  { SQLITE_READONLY_ROLLBACK, SW_ERROR_READ_ONLY,
    N_ ("it was interrupted while writing and cannot be mended on a read-only disk; copy the whole "
        "folder to a disk that can be written and open it there") },
  { SQLITE_READONLY_DBMOVED, SW_ERROR_REFUSED,
    N_ ("its folder was moved or replaced meanwhile; open it again from where it is now") },
  { SQLITE_IOERR_NOMEM, SW_ERROR_FAILED, N_ ("there is not enough memory; close other programs") },
  { SQLITE_BUSY, SW_ERROR_BUSY, N_ ("another program is writing to it; try again in a moment") },
  { SQLITE_LOCKED, SW_ERROR_BUSY, N_ ("another program is writing to it; try again in a moment") },
  { SQLITE_READONLY, SW_ERROR_READ_ONLY,
    N_ ("it cannot be changed where it is; copy the folder to a disk that can be written") },
  { SQLITE_FULL, SW_ERROR_NO_SPACE,
    N_ ("the disk is full and nothing was changed; free some space and try again") },
  { SQLITE_CORRUPT, SW_ERROR_DAMAGED, WHY_DAMAGED },
  { SQLITE_NOTADB, SW_ERROR_DAMAGED, WHY_DAMAGED },
  { SQLITE_CANTOPEN, SW_ERROR_REFUSED,
    N_ ("the database could not be opened; look at the permissions of the folder") },
  { SQLITE_PERM, SW_ERROR_REFUSED,
    N_ ("you are not allowed to; change the permissions of the folder") },
  { SQLITE_IOERR, SW_ERROR_FAILED,
    N_ ("the disk could not be read or written; see whether it is still there, then try again") },
  { SQLITE_NOMEM, SW_ERROR_FAILED, N_ ("there is not enough memory; close other programs") },
  { SQLITE_TOOBIG, SW_ERROR_BAD_INPUT, N_ ("a text or a change is too large to be kept") },
  { SQLITE_CONSTRAINT, SW_ERROR_REFUSED, N_ ("it does not fit with what is there") },
};

static const CodeRow *
find_code (int code)
{
  for (gsize i = 0; i < G_N_ELEMENTS (code_rows); i++)
    if (code_rows[i].code == code || code_rows[i].code == (code & 0xff))
      return &code_rows[i];
  return NULL;
}

/* What SQLite says where sum () leaves 64 bits (Built-in Aggregate Functions, sum). */
static gboolean
is_too_large (sqlite3 *db, int code)
{
  return code == SQLITE_ERROR && db != NULL
         && strcmp (sqlite3_errmsg (db), "integer overflow") == 0;
}

gboolean
sw_db_error (sqlite3 *db, int code, const char *what, GError **error)
{
  const char *subject = what != NULL ? what : _ ("The catalogue");
  int errsv = db != NULL ? sqlite3_system_errno (db) : 0;
  /* a full disk or quota met by a write that SQLite only calls an input/output error */
  if ((code & 0xff) == SQLITE_IOERR && (errsv == ENOSPC || errsv == EDQUOT || errsv == EFBIG))
    code = SQLITE_FULL;
  if ((code & 0xff) == SQLITE_IOERR && errsv == EROFS)
    code = SQLITE_READONLY;
  const CodeRow *row = find_code (code);
  if (is_too_large (db, code))
    g_set_error (
        error, SW_ERROR, SW_ERROR_BAD_INPUT,
        _ ("%s: figures grow too large to be added up; look for one with too many digits."),
        subject);
  else if (row == NULL)
    g_set_error (error, SW_ERROR, SW_ERROR_FAILED, "%s: %s.", subject,
                 db != NULL ? sqlite3_errmsg (db) : sqlite3_errstr (code));
  else if (row->code == SQLITE_CONSTRAINT && db != NULL)
    g_set_error (error, SW_ERROR, row->error, "%s: %s (%s).", subject, _ (row->why),
                 sqlite3_errmsg (db));
  else
    g_set_error (error, SW_ERROR, row->error, "%s: %s.", subject, _ (row->why));
  return FALSE;
}

gboolean
sw_db_exec (sqlite3 *db, const char *sql, const char *what, GError **error)
{
  int code = sqlite3_exec (db, sql, NULL, NULL, NULL);
  return code == SQLITE_OK || sw_db_error (db, sqlite3_extended_errcode (db), what, error);
}

gboolean
sw_db_ask_int (sqlite3 *db, const char *sql, const char *what, gint64 *out_value, GError **error)
{
  sqlite3_stmt *stmt = NULL;
  int code = sqlite3_prepare_v2 (db, sql, -1, &stmt, NULL);
  gint64 value = 0;
  if (code == SQLITE_OK)
    {
      code = sqlite3_step (stmt);
      if (code == SQLITE_ROW)
        value = sqlite3_column_int64 (stmt, 0);
      code = sqlite3_finalize (stmt);
    }
  if (code != SQLITE_OK)
    return sw_db_error (db, sqlite3_extended_errcode (db), what, error);
  *out_value = value;
  return TRUE;
}

/* Switches that a hostile file could use against us are off, whatever the library was built with.
 */
static const struct
{
  int option, value;
} switches[] = {
  { SQLITE_DBCONFIG_DEFENSIVE, 1 },       { SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0 },
  { SQLITE_DBCONFIG_ENABLE_TRIGGER, 0 },  { SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0 },
  { SQLITE_DBCONFIG_WRITABLE_SCHEMA, 0 },
};

/* Rollback journal: a catalogue is moved, copied and read from sticks. EXTRA flushes the folder too
 * once the journal is gone, so that a committed sale survives a power cut. What is freed is
 * overwritten at once, from the first day on: a removal for good leaves nothing in the file. */
#define PRAGMAS                                                                                    \
  "PRAGMA foreign_keys = ON;"                                                                      \
  "PRAGMA trusted_schema = OFF;"                                                                   \
  "PRAGMA cell_size_check = ON;"                                                                   \
  "PRAGMA mmap_size = 0;"                                                                          \
  "PRAGMA synchronous = EXTRA;"                                                                    \
  "PRAGMA secure_delete = ON;"                                                                     \
  "PRAGMA temp_store = MEMORY;"

gboolean
sw_db_open_file (const char *path, gboolean read_only, sqlite3 **out_db, GError **error)
{
  sqlite3 *db = NULL;
  int flags = (read_only ? SQLITE_OPEN_READONLY : SQLITE_OPEN_READWRITE) | SQLITE_OPEN_NOFOLLOW
              | SQLITE_OPEN_EXRESCODE | SQLITE_OPEN_NOMUTEX;
  int code = sqlite3_open_v2 (path, &db, flags, NULL);
  g_autofree char *what = g_strdup_printf (_ ("The catalogue %s"), path);
  gboolean ok = code == SQLITE_OK || sw_db_error (db, code, what, error);
  for (gsize i = 0; ok && i < G_N_ELEMENTS (switches); i++)
    sqlite3_db_config (db, switches[i].option, switches[i].value, NULL);
  if (ok)
    sqlite3_busy_timeout (db, BUSY_TIMEOUT_MS);
  ok = ok && sw_db_exec (db, PRAGMAS, what, error);
  if (!ok)
    {
      sqlite3_close (db);
      return FALSE;
    }
  *out_db = db;
  return TRUE;
}

#define SW_STATEMENT_AS_TEXT(tag, sql) sql,
static const char *const statement_texts[SW_N_STATEMENTS]
    = { SW_STATEMENTS (SW_STATEMENT_AS_TEXT) };

gboolean
sw_db_prepare_all (SwCatalogue *catalogue, GError **error)
{
  for (guint i = 0; i < SW_N_STATEMENTS; i++)
    {
      int code = sqlite3_prepare_v3 (catalogue->db, statement_texts[i], -1,
                                     SQLITE_PREPARE_PERSISTENT, &catalogue->statements[i], NULL);
      if (code == SQLITE_OK)
        continue;
      g_autofree char *what = g_strdup_printf (_ ("The catalogue %s"), catalogue->folder);
      /* of our version and yet without a table or column we know */
      if (code == SQLITE_ERROR)
        {
          g_set_error (error, SW_ERROR, SW_ERROR_DAMAGED, _ ("%s: %s (%s)."), what, _ (WHY_DAMAGED),
                       sqlite3_errmsg (catalogue->db));
          return FALSE;
        }
      return sw_db_error (catalogue->db, code, what, error);
    }
  if (catalogue->items_written == NULL)
    sw_search_watch (catalogue);
  return TRUE;
}

void
sw_db_finalize_all (SwCatalogue *catalogue)
{
  for (guint i = 0; i < SW_N_STATEMENTS; i++)
    g_clear_pointer (&catalogue->statements[i], sqlite3_finalize);
}

int
sw_db_control (SwCatalogue *catalogue, SwStatementId id)
{
  sqlite3_stmt *stmt = catalogue->statements[id];
  int code = sqlite3_step (stmt);
  sqlite3_reset (stmt);
  return code == SQLITE_DONE || code == SQLITE_ROW ? SQLITE_OK : code;
}

static void
bind_bytes (sqlite3_stmt *stmt, int at, GBytes *bytes)
{
  gsize size = 0;
  const void *data = bytes != NULL ? g_bytes_get_data (bytes, &size) : NULL;
  if (bytes == NULL)
    sqlite3_bind_null (stmt, at);
  else if (size == 0)
    sqlite3_bind_zeroblob (stmt, at, 0);
  else
    sqlite3_bind_blob64 (stmt, at, data, size, SQLITE_TRANSIENT);
}

/* Takes an int + gint64 pair where the letter is I, so that the list is walked in one place. */
static void
bind_list (sqlite3_stmt *stmt, const char *types, va_list list)
{
  int at = 0;
  for (const char *type = types; *type != '\0'; type++)
    {
      at++;
      switch (*type)
        {
        case 'i':
          sqlite3_bind_int64 (stmt, at, va_arg (list, gint64));
          break;
        case 't':
          /* NULL binds SQL NULL */
          sqlite3_bind_text (stmt, at, va_arg (list, const char *), -1, SQLITE_TRANSIENT);
          break;
        case 'd':
          sqlite3_bind_double (stmt, at, va_arg (list, double));
          break;
        case 'b':
          bind_bytes (stmt, at, va_arg (list, GBytes *));
          break;
        case 'n':
          sqlite3_bind_null (stmt, at);
          break;
        case 'I':
          {
            gboolean there = va_arg (list, gboolean);
            gint64 value = va_arg (list, gint64);
            if (there)
              sqlite3_bind_int64 (stmt, at, value);
            else
              sqlite3_bind_null (stmt, at);
            break;
          }
        default:
          g_error ("unknown letter '%c' in the types of a statement", *type);
        }
    }
  g_assert (at == sqlite3_bind_parameter_count (stmt));
}

static SwUse
use_list (SwCatalogue *catalogue, SwStatementId id, const char *types, va_list list)
{
  sqlite3_stmt *stmt = catalogue->statements[id];
  g_assert (!catalogue->in_use[id]);
  g_assert (catalogue->level > 0 || sqlite3_stmt_readonly (stmt));
  catalogue->in_use[id] = TRUE;
  bind_list (stmt, types, list);
  return (SwUse){ stmt, &catalogue->in_use[id] };
}

SwUse
sw_db_use (SwCatalogue *catalogue, SwStatementId id, const char *types, ...)
{
  va_list list;
  va_start (list, types);
  SwUse use = use_list (catalogue, id, types, list);
  va_end (list);
  return use;
}

void
sw_use_clear (SwUse *use)
{
  if (use->stmt == NULL)
    return;
  sqlite3_reset (use->stmt);
  sqlite3_clear_bindings (use->stmt);
  *use->in_use = FALSE;
  use->stmt = NULL;
}

gboolean
sw_db_step (SwCatalogue *catalogue, SwUse *use, gboolean *out_row, GError **error)
{
  /* after some errors SQLite takes the whole transaction back by itself: nothing more may be
   * written as if it stood */
  if (catalogue->level > 0 && sqlite3_get_autocommit (catalogue->db))
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_FAILED,
          _ ("The change was taken back after an error; nothing of it stands, try again."));
      return FALSE;
    }
  int code = sqlite3_step (use->stmt);
  if (code != SQLITE_ROW && code != SQLITE_DONE)
    return sw_db_error (catalogue->db, code, NULL, error);
  if (out_row != NULL)
    *out_row = code == SQLITE_ROW;
  return TRUE;
}

gboolean
sw_db_next (SwCatalogue *catalogue, SwUse *use, gboolean *ok, GError **error)
{
  gboolean row = FALSE;

  *ok = sw_db_step (catalogue, use, &row, error);
  return *ok && row;
}

gboolean
sw_db_run (SwCatalogue *catalogue, GError **error, SwStatementId id, const char *types, ...)
{
  va_list list;
  va_start (list, types);
  g_auto (SwUse) use = use_list (catalogue, id, types, list);
  va_end (list);
  gboolean row = TRUE;
  while (row)
    if (!sw_db_step (catalogue, &use, &row, error))
      return FALSE;
  return TRUE;
}

gboolean
sw_db_get_int (SwCatalogue *catalogue, gint64 *out_value, gboolean *out_found, GError **error,
               SwStatementId id, const char *types, ...)
{
  va_list list;
  va_start (list, types);
  g_auto (SwUse) use = use_list (catalogue, id, types, list);
  va_end (list);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  if (!row && out_found == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("The catalogue has no such entry."));
      return FALSE;
    }
  if (row)
    *out_value = sw_col_int (&use, 0);
  if (out_found != NULL)
    *out_found = row;
  return TRUE;
}

GPtrArray *
sw_db_collect (SwCatalogue *catalogue, SwUse *use, SwRowFunc make, GDestroyNotify destroy,
               GError **error)
{
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func (destroy);
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, use, &ok, error))
    g_ptr_array_add (records, make (use));
  return ok ? g_steal_pointer (&records) : NULL;
}

GArray *
sw_db_collect_plain (SwCatalogue *catalogue, SwUse *use, gsize size, SwRowFill fill, GError **error)
{
  g_autoptr (GArray) rows = g_array_new (FALSE, TRUE, (guint)size);
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, use, &ok, error))
    {
      g_array_set_size (rows, rows->len + 1);
      fill (use, rows->data + (rows->len - 1) * size);
    }
  return ok ? g_steal_pointer (&rows) : NULL;
}

static void
fill_id (const SwUse *use, gpointer out)
{
  *(gint64 *)out = sw_col_int (use, 0);
}

GArray *
sw_db_collect_ids (SwCatalogue *catalogue, SwUse *use, GError **error)
{
  return sw_db_collect_plain (catalogue, use, sizeof (gint64), fill_id, error);
}

gint64
sw_col_int (const SwUse *use, int column)
{
  return sqlite3_column_int64 (use->stmt, column);
}

double
sw_col_double (const SwUse *use, int column)
{
  return sqlite3_column_double (use->stmt, column);
}

char *
sw_col_text (const SwUse *use, int column)
{
  return g_strdup ((const char *)sqlite3_column_text (use->stmt, column));
}

gboolean
sw_col_is_null (const SwUse *use, int column)
{
  return sqlite3_column_type (use->stmt, column) == SQLITE_NULL;
}

GBytes *
sw_col_blob (const SwUse *use, int column)
{
  if (sw_col_is_null (use, column))
    return NULL;
  const void *data = sqlite3_column_blob (use->stmt, column);
  return g_bytes_new (data, (gsize)sqlite3_column_bytes (use->stmt, column));
}

gint64
sw_db_last_id (SwCatalogue *catalogue)
{
  return sqlite3_last_insert_rowid (catalogue->db);
}

int
sw_db_changes (SwCatalogue *catalogue)
{
  return sqlite3_changes (catalogue->db);
}

sqlite3 *
sw_db_handle (SwCatalogue *catalogue)
{
  return catalogue->db;
}
