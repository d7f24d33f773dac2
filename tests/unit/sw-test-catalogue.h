/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A catalogue below a temporary folder of its own, for the tests of the layers that keep things in
 * one. Belongs to the tests alone; may use SQL, to bring about what the layer's own functions
 * refuse to. */
#pragma once

#include "sw-test.h"

#include "core/catalogue/act.h"
#include "core/catalogue/catalogue.h"
#include "core/catalogue/db.h"

#include <sys/stat.h>
#include <unistd.h>
#include <xxhash.h>

typedef struct
{
  char *folder; /* temporary, removed with all that is in it */
  char *path;   /* the catalogue's folder within it */
  SwCatalogue *catalogue;
} SwTestBed;

static inline SwCatalogue *
sw_test_open (const char *path, SwOpenMode mode)
{
  g_autoptr (GError) error = NULL;
  SwCatalogue *catalogue = sw_catalogue_open (path, mode, &error);
  assert_no_error (error);
  assert_non_null (catalogue);
  return catalogue;
}

static inline SwTestBed
sw_test_bed_new (void)
{
  g_autoptr (GError) error = NULL;
  SwTestBed bed = { 0 };
  bed.folder = g_dir_make_tmp ("sw-test-XXXXXX", &error);
  assert_no_error (error);
  bed.path = g_build_filename (bed.folder, "Cider works.shedwalk", NULL);
  bed.catalogue = sw_catalogue_create (bed.path, "Cider works", "NZD", "Pacific/Auckland", &error);
  assert_no_error (error);
  assert_non_null (bed.catalogue);
  return bed;
}

static inline void
sw_test_remove_tree (const char *path)
{
  g_autoptr (GDir) dir
      = g_file_test (path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open (path, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);
      sw_test_remove_tree (inner);
    }
  g_remove (path);
}

static inline void
sw_test_bed_clear (SwTestBed *bed)
{
  sw_catalogue_close (bed->catalogue);
  sw_test_remove_tree (bed->folder);
  g_free (bed->folder);
  g_free (bed->path);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwTestBed, sw_test_bed_clear)

static inline void
sw_test_reopen (SwTestBed *bed)
{
  sw_catalogue_close (bed->catalogue);
  bed->catalogue = NULL;
  bed->catalogue = sw_test_open (bed->path, SW_OPEN_READ_WRITE);
}

/* SQL past every rule. */
static inline void
sw_test_exec (SwCatalogue *catalogue, const char *sql)
{
  char *message = NULL;
  if (sqlite3_exec (sw_db_handle (catalogue), sql, NULL, NULL, &message) != SQLITE_OK)
    {
      print_error ("%s: %s\n", sql, message);
      sqlite3_free (message);
      fail ();
    }
}

/* The first column of the first row. */
static inline gint64
sw_test_ask (SwCatalogue *catalogue, const char *sql)
{
  sqlite3_stmt *stmt = NULL;
  assert_true (sqlite3_prepare_v2 (sw_db_handle (catalogue), sql, -1, &stmt, NULL) == SQLITE_OK);
  assert_true (sqlite3_step (stmt) == SQLITE_ROW);
  gint64 value = sqlite3_column_int64 (stmt, 0);
  sqlite3_finalize (stmt);
  return value;
}

/* One act that runs the SQL, with an event of item 1. */
static inline void
sw_test_act (SwCatalogue *catalogue, const char *sentence, const char *sql)
{
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  sw_act_begin (&act, catalogue, &error);
  assert_no_error (error);
  sw_test_exec (catalogue, sql);
  sw_act_tell (&act, SW_SUBJECT_ITEM, 1, "item.test", NULL, sentence, &error);
  assert_no_error (error);
  sw_act_commit (&act, sentence, &error);
  assert_no_error (error);
}

static inline void
sw_test_undo (SwCatalogue *catalogue, const char *expected)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;
  sw_undo (catalogue, &sentence, &error);
  assert_no_error (error);
  assert_string_equal (sentence, expected);
}

static inline void
sw_test_redo (SwCatalogue *catalogue, const char *expected)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;
  sw_redo (catalogue, &sentence, &error);
  assert_no_error (error);
  assert_string_equal (sentence, expected);
}

/* Photos whose bytes are text, with their true fingerprint. */
#define SW_TEST_PHOTO_BYTES "not really a picture, but bytes all the same: "

/* 32 digits, by the library's one-shot function. Transfer full. */
static inline char *
sw_test_hash (const char *text)
{
  XXH128_hash_t hash = XXH3_128bits (text, strlen (text));
  return g_strdup_printf ("%016" G_GINT64_MODIFIER "x%016" G_GINT64_MODIFIER "x",
                          (guint64)hash.high64, (guint64)hash.low64);
}

static inline void
sw_test_write (const char *folder, const char *relative, const char *text)
{
  g_autofree char *path = g_build_filename (folder, relative, NULL);
  g_autofree char *parent = g_path_get_dirname (path);
  assert_true (g_mkdir_with_parents (parent, 0777) == 0);
  assert_true (g_file_set_contents (path, text, -1, NULL));
}

static inline void
sw_test_add_photo (SwCatalogue *catalogue, const char *name)
{
  g_autofree char *text = g_strconcat (SW_TEST_PHOTO_BYTES, name, NULL);
  g_autofree char *hash = sw_test_hash (text);
  g_autofree char *stored = g_strconcat ("photos/trip-01/", name, NULL);
  g_autofree char *sql = g_strdup_printf (
      "INSERT OR IGNORE INTO bring_in (id, opened_us, closed_us, source) VALUES (1, 1, 2, '/card');"
      "INSERT INTO photo (kind, format, file, stored, size, hash, time_source, bring_in)"
      " VALUES ('photo', 'jpeg', '%s', '%s', %d, '%s', 'file', 1)",
      name, stored, (int)strlen (text), hash);
  sw_test_write (sw_catalogue_folder (catalogue), stored, text);
  sw_test_exec (catalogue, sql);
}
