/* SPDX-License-Identifier: GPL-3.0-or-later */
/* thumbs.db, a cache with its own connection. It holds nothing that cannot be made again, so it
 * neither waits for the disk nor tries to mend itself: the first error throws the file away. */
#include "core/catalogue/thumb-store.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/catalogue/catalogue.h"

typedef enum
{
  STATEMENT_GET,
  STATEMENT_PUT,
  N_STATEMENTS,
} Statement;

static const char *const statements[] = {
  [STATEMENT_GET] = "SELECT jpeg FROM thumb WHERE hash = ?1 AND side = ?2 AND version = ?3",
  [STATEMENT_PUT]
  = "INSERT OR REPLACE INTO thumb (hash, side, version, jpeg) VALUES (?1, ?2, ?3, ?4)",
};

static const char schema[]
    = "PRAGMA synchronous = OFF; PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON;"
      "CREATE TABLE IF NOT EXISTS thumb ("
      "  hash TEXT NOT NULL, side INTEGER NOT NULL, version INTEGER NOT NULL, jpeg BLOB NOT NULL,"
      "  PRIMARY KEY (hash, side, version)) STRICT, WITHOUT ROWID;"
      "PRAGMA user_version = 1;";

struct _SwThumbStore
{
  GMutex lock;
  char *path; /* ":memory:" as the last resort */
  sqlite3 *db;
  sqlite3_stmt *stmts[N_STATEMENTS];
};

static void
close_db (SwThumbStore *store)
{
  for (int i = 0; i < N_STATEMENTS; i++)
    {
      sqlite3_finalize (store->stmts[i]);
      store->stmts[i] = NULL;
    }
  sqlite3_close (store->db);
  store->db = NULL;
}

/* SQLite makes a file that others may read; what it adds beside it has the same mode. */
static void
make_private (const char *path)
{
  int fd = strcmp (path, ":memory:") != 0
               ? open (path, O_RDWR | O_CREAT | O_NOFOLLOW | O_CLOEXEC, SW_FILE_MODE)
               : -1;

  if (fd < 0)
    return; /* opening says what is wrong */
  fchmod (fd, SW_FILE_MODE);
  close (fd);
}

static gboolean
try_open (SwThumbStore *store, const char *path)
{
  make_private (path);
  gboolean good
      = sqlite3_open_v2 (path, &store->db,
                         SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE | SQLITE_OPEN_NOMUTEX, NULL)
            == SQLITE_OK
        && sqlite3_busy_timeout (store->db, 500) == SQLITE_OK
        && sqlite3_db_config (store->db, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL) == SQLITE_OK
        && sqlite3_exec (store->db, schema, NULL, NULL, NULL) == SQLITE_OK;

  for (int i = 0; good && i < N_STATEMENTS; i++)
    good = sqlite3_prepare_v3 (store->db, statements[i], -1, SQLITE_PREPARE_PERSISTENT,
                               &store->stmts[i], NULL)
           == SQLITE_OK;
  if (!good)
    close_db (store);
  return good;
}

static void
throw_away (const char *path)
{
  static const char *const tails[] = { "", "-journal", "-wal", "-shm" };

  for (gsize i = 0; i < G_N_ELEMENTS (tails); i++)
    {
      g_autofree char *file = g_strconcat (path, tails[i], NULL);

      g_unlink (file);
    }
}

/* As it is; else anew; FALSE where the place cannot be written. */
static gboolean
open_at (SwThumbStore *store, const char *path)
{
  if (try_open (store, path))
    return TRUE;
  throw_away (path);
  return try_open (store, path);
}

static char *
cache_path (const char *path)
{
  g_autofree char *sum = g_compute_checksum_for_string (G_CHECKSUM_SHA256, path, -1);
  g_autofree char *folder = g_build_filename (g_get_user_cache_dir (), "shedwalk", NULL);

  if (g_mkdir_with_parents (folder, 0700) != 0)
    return NULL;
  return g_strdup_printf ("%s/thumbs-%.16s.db", folder, sum);
}

SwThumbStore *
sw_thumb_store_new (const char *path)
{
  SwThumbStore *store = g_new0 (SwThumbStore, 1);
  g_autofree char *elsewhere = NULL;

  g_mutex_init (&store->lock);
  store->path = g_strdup (path);
  if (open_at (store, path))
    return store;
  g_free (store->path);
  elsewhere = cache_path (path);
  store->path = g_strdup (elsewhere != NULL && open_at (store, elsewhere) ? elsewhere : ":memory:");
  if (store->db == NULL)
    try_open (store, ":memory:");
  return store;
}

void
sw_thumb_store_free (SwThumbStore *store)
{
  if (store == NULL)
    return;
  close_db (store);
  g_mutex_clear (&store->lock);
  g_free (store->path);
  g_free (store);
}

/* Another program holding the file is no reason to throw it away; damage is. */
static void
after_failure (SwThumbStore *store, int code)
{
  if ((code & 0xFF) == SQLITE_BUSY || (code & 0xFF) == SQLITE_LOCKED)
    return;
  close_db (store);
  if (!open_at (store, store->path))
    try_open (store, ":memory:");
}

static void
bind_key (sqlite3_stmt *stmt, const char *hash, int side, int version)
{
  sqlite3_bind_text (stmt, 1, hash, -1, SQLITE_STATIC);
  sqlite3_bind_int (stmt, 2, side);
  sqlite3_bind_int (stmt, 3, version);
}

GBytes *
sw_thumb_store_get (SwThumbStore *store, const char *hash, int side, int version)
{
  GBytes *found = NULL;
  sqlite3_stmt *stmt;
  int code;

  g_mutex_lock (&store->lock);
  stmt = store->stmts[STATEMENT_GET];
  if (stmt != NULL)
    {
      bind_key (stmt, hash, side, version);
      code = sqlite3_step (stmt);
      if (code == SQLITE_ROW)
        found = g_bytes_new (sqlite3_column_blob (stmt, 0), (gsize)sqlite3_column_bytes (stmt, 0));
      sqlite3_reset (stmt);
      sqlite3_clear_bindings (stmt);
      if (code != SQLITE_ROW && code != SQLITE_DONE)
        after_failure (store, code);
    }
  g_mutex_unlock (&store->lock);
  return found;
}

void
sw_thumb_store_put (SwThumbStore *store, const char *hash, int side, int version, GBytes *jpeg)
{
  gsize n;
  const void *data = g_bytes_get_data (jpeg, &n);
  sqlite3_stmt *stmt;
  int code;

  g_mutex_lock (&store->lock);
  stmt = store->stmts[STATEMENT_PUT];
  if (stmt != NULL)
    {
      bind_key (stmt, hash, side, version);
      sqlite3_bind_blob64 (stmt, 4, n > 0 ? data : "", n, SQLITE_STATIC);
      code = sqlite3_step (stmt);
      sqlite3_reset (stmt);
      sqlite3_clear_bindings (stmt);
      if (code != SQLITE_DONE)
        after_failure (store, code);
    }
  g_mutex_unlock (&store->lock);
}
