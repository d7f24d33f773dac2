/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Our walk over a changeset against SQLite's own: what SQLite wrote is sound, every cut of it that
 * ours takes SQLite reads to its end, and a changed bit never gets past ours into something that
 * SQLite's reader cannot leave. */
#include "sw-test-catalogue.h"

#include "core/catalogue/changeset.h"

/* A changeset with inserts, updates and deletes, every type of value, and several tables. */
static GBytes *
written_by_sqlite (void)
{
  sqlite3 *db = NULL;
  sqlite3_session *session = NULL;
  int size = 0;
  void *data = NULL;
  assert_true (sqlite3_open (":memory:", &db) == SQLITE_OK);
  assert_true (
      sqlite3_exec (
          db,
          "CREATE TABLE press (id INTEGER PRIMARY KEY, name TEXT, mass REAL, likeness BLOB);"
          "CREATE TABLE crate (place TEXT, n INTEGER, note TEXT, PRIMARY KEY (place, n))"
          " WITHOUT ROWID;"
          "INSERT INTO press VALUES (1, 'Screw press', 81.5, x'00ff'), (2, 'Small', NULL, NULL);"
          "INSERT INTO crate VALUES ('Loft', 1, 'wood')",
          NULL, NULL, NULL)
      == SQLITE_OK);
  assert_true (sqlite3session_create (db, "main", &session) == SQLITE_OK);
  assert_true (sqlite3session_attach (session, NULL) == SQLITE_OK);
  assert_true (
      sqlite3_exec (db,
                    "UPDATE press SET name = printf ('%200c', 'x'), mass = 3.25 WHERE id = 1;"
                    "DELETE FROM press WHERE id = 2; DELETE FROM crate;"
                    "INSERT INTO press VALUES (-5, '', 1e300, zeroblob (300));"
                    "INSERT INTO crate VALUES ('Shed', 9223372036854775807, NULL)",
                    NULL, NULL, NULL)
      == SQLITE_OK);
  assert_true (sqlite3session_changeset (session, &size, &data) == SQLITE_OK);
  sqlite3session_delete (session);
  sqlite3_close (db);
  GBytes *bytes = g_bytes_new (data, (gsize)size);
  sqlite3_free (data);
  return bytes;
}

/* The number of changes SQLite's reader finds, -1 where it says the bytes are damaged. It must come
 * back at all. */
static int
read_by_sqlite (GBytes *bytes)
{
  gsize size = 0;
  gpointer data = (gpointer)g_bytes_get_data (bytes, &size);
  sqlite3_changeset_iter *iter = NULL;
  int n = 0;
  assert_true (sqlite3changeset_start (&iter, (int)size, data) == SQLITE_OK);
  while (sqlite3changeset_next (iter) == SQLITE_ROW)
    n++;
  return sqlite3changeset_finalize (iter) == SQLITE_OK ? n : -1;
}

static void
what_sqlite_wrote_is_sound (void **data)
{
  g_autoptr (GBytes) bytes = written_by_sqlite ();
  assert_true (sw_changeset_is_sound (bytes));
  assert_i64_equal (read_by_sqlite (bytes), 5);
}

static void
every_cut (void **data)
{
  g_autoptr (GBytes) bytes = written_by_sqlite ();
  int sound = 0;
  for (gsize n = 0; n < g_bytes_get_size (bytes); n++)
    {
      /* a copy of its own, so that reading past the end is seen */
      g_autoptr (GBytes) part = g_bytes_new_from_bytes (bytes, 0, n);
      g_autoptr (GBytes) copy
          = g_bytes_new (g_bytes_get_data (part, NULL), g_bytes_get_size (part));
      if (!sw_changeset_is_sound (copy))
        continue;
      sound++;
      assert_true (read_by_sqlite (copy) >= 0);
    }
  /* after each header and each change but the last: two tables and five changes */
  assert_i64_equal (sound, 6);
}

static void
every_changed_bit (void **data)
{
  g_autoptr (GBytes) bytes = written_by_sqlite ();
  gsize size = 0;
  const guint8 *original = g_bytes_get_data (bytes, &size);
  int refused = 0;
  for (gsize at = 0; at < size; at++)
    for (int bit = 0; bit < 8; bit++)
      {
        g_autofree guint8 *changed = g_memdup2 (original, size);
        changed[at] ^= (guint8)(1u << bit);
        g_autoptr (GBytes) copy = g_bytes_new (changed, size);
        if (sw_changeset_is_sound (copy))
          read_by_sqlite (copy);
        else
          refused++;
      }
  assert_true (refused > 0);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, what_sqlite_wrote_is_sound);
  SW_TEST (tests, every_cut);
  SW_TEST (tests, every_changed_bit);
  return sw_tests_run (tests, "changeset");
}
