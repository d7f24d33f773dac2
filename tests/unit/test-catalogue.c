/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making and opening a catalogue, and every way in which that is refused: each with its code, a
 * sentence, and nothing lost. */
#include "sw-test-catalogue.h"

#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/schema.h"

#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>

/* Making ******************************************************************/

typedef struct
{
  const char *label, *folder, *name, *currency, *zone;
  SwError code;
  const char *part; /* of the sentence */
} RefusedRow;
static const RefusedRow refused_rows[] = {
  { "no ending", "cider", "N", "NZD", "UTC", SW_ERROR_BAD_INPUT, ".shedwalk" },
  { "nothing but the ending", ".shedwalk", "N", "NZD", "UTC", SW_ERROR_BAD_INPUT, ".shedwalk" },
  { "no parent", "no/such/x.shedwalk", "N", "NZD", "UTC", SW_ERROR_NOT_FOUND, "x.shedwalk" },
  { "full folder", "full.shedwalk", "N", "NZD", "UTC", SW_ERROR_REFUSED, "another name" },
  { "a file", "file.shedwalk", "N", "NZD", "UTC", SW_ERROR_REFUSED, "another name" },
  { "unknown currency", "x.shedwalk", "N", "QQQ", "UTC", SW_ERROR_BAD_INPUT, "QQQ" },
  { "unknown zone", "x.shedwalk", "N", "NZD", "Mars/Crater", SW_ERROR_BAD_INPUT, "Mars/Crater" },
  { "zone with dots", "x.shedwalk", "N", "NZD", "../../etc/passwd", SW_ERROR_BAD_INPUT, "passwd" },
  { "blank name", "x.shedwalk", " ", "NZD", "UTC", SW_ERROR_BAD_INPUT, "name" },
  { "name with an escape", "x.shedwalk", "a\x1b[2J", "NZD", "UTC", SW_ERROR_BAD_INPUT, "name" },
  { "name no UTF-8", "x.shedwalk", "a\xff", "NZD", "UTC", SW_ERROR_BAD_INPUT, "name" },
};

static int
count_names (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  int n = 0;
  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

static void
making_refused (void **data)
{
  const RefusedRow *row = *data;
  g_autofree char *tmp = g_dir_make_tmp ("sw-test-XXXXXX", NULL);
  g_autofree char *full = g_build_filename (tmp, "full.shedwalk", "x", NULL);
  g_autofree char *file = g_build_filename (tmp, "file.shedwalk", NULL);
  g_autofree char *folder = g_build_filename (tmp, row->folder, NULL);
  assert_true (g_mkdir_with_parents (full, 0777) == 0);
  assert_true (g_file_set_contents (file, "mine", -1, NULL));
  g_autoptr (GError) error = NULL;
  assert_null (sw_catalogue_create (folder, row->name, row->currency, row->zone, &error));
  assert_sw_error (error, row->code);
  assert_contains (error->message, row->part);
  assert_i64_equal (count_names (tmp), 2);
  sw_test_remove_tree (tmp);
}

static void
made_and_opened_again (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  assert_i64_equal (count_names (bed.folder), 1);
  for (int round = 0; round < 2; round++)
    {
      assert_string_equal (sw_catalogue_name (bed.catalogue), "Cider works");
      assert_string_equal (sw_catalogue_currency (bed.catalogue).code, "NZD");
      assert_string_equal (sw_zone_name (sw_catalogue_zone (bed.catalogue)), "Pacific/Auckland");
      assert_true (g_path_is_absolute (sw_catalogue_folder (bed.catalogue)));
      assert_false (sw_catalogue_is_read_only (bed.catalogue));
      sw_test_reopen (&bed);
    }
  assert_i64_equal (sw_test_ask (bed.catalogue, "PRAGMA application_id"), 0x5368776B);
  assert_i64_equal (sw_test_ask (bed.catalogue, "PRAGMA user_version"), sw_schema_latest ());
  assert_i64_equal (sw_test_ask (bed.catalogue, "PRAGMA foreign_keys"), 1);
  assert_i64_equal (sw_test_ask (bed.catalogue, "PRAGMA synchronous"), 3);
  assert_i64_equal (sw_test_ask (bed.catalogue, "PRAGMA trusted_schema"), 0);
  assert_i64_equal (sw_test_ask (bed.catalogue, "PRAGMA cell_size_check"), 1);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM act"), 0);
  /* a new catalogue needs no backup before its first schema */
  g_autofree char *backups = sw_catalogue_path (bed.catalogue, "backups");
  assert_i64_equal (count_names (backups), 0);
}

static void
made_in_an_empty_folder (void **data)
{
  g_autofree char *tmp = g_dir_make_tmp ("sw-test-XXXXXX", NULL);
  g_autofree char *folder = g_build_filename (tmp, "Alt \"Hof\" \xf0\x9f\x8d\x8f.shedwalk", NULL);
  assert_true (g_mkdir (folder, 0777) == 0);
  g_autofree char *slash = g_strconcat (folder, "/", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwCatalogue) catalogue = sw_catalogue_create (slash, "O'Hara's", "JPY", "UTC", &error);
  assert_no_error (error);
  assert_string_equal (sw_catalogue_name (catalogue), "O'Hara's");
  assert_i64_equal (count_names (tmp), 1);
  sw_test_remove_tree (tmp);
}

/* No table of ours may be without STRICT or without a key, or the changesets would not hold it. */
static void
the_schema_keeps_its_rules (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  assert_i64_equal (sw_test_ask (bed.catalogue,
                                 "SELECT count (*) FROM pragma_table_list WHERE schema = 'main'"
                                 " AND type = 'table' AND name NOT LIKE 'sqlite_%' AND NOT strict"),
                    0);
  assert_i64_equal (sw_test_ask (bed.catalogue,
                                 "SELECT count (*) FROM pragma_table_list l WHERE schema = 'main'"
                                 " AND type = 'table' AND name NOT LIKE 'sqlite_%' AND NOT EXISTS"
                                 " (SELECT 1 FROM pragma_table_info (l.name) WHERE pk > 0)"),
                    0);
  assert_i64_equal (
      sw_test_ask (bed.catalogue, "SELECT count (*) FROM sqlite_schema WHERE type = 'trigger'"), 0);
  gsize n = 0;
  const SwSchemaStep *steps = sw_schema_steps (&n);
  for (gsize i = 0; i < n; i++)
    assert_i64_equal (steps[i].version, i + 1);
  assert_i64_equal (sw_schema_latest (), n);
}

/* A catalogue as an earlier Shedwalk left it: the steps up to 'version' and one act in it. */
static void
make_old (const char *path, int version)
{
  gsize n = 0;
  const SwSchemaStep *steps = sw_schema_steps (&n);
  sqlite3 *db = NULL;
  g_autofree char *database = g_build_filename (path, "catalogue.db", NULL);
  g_autofree char *photos = g_build_filename (path, "photos", NULL);
  g_autoptr (GString) sql = g_string_new (NULL);
  for (int i = 0; i < version; i++)
    g_string_append (sql, steps[i].sql);
  g_string_append_printf (
      sql,
      "PRAGMA user_version = %d; PRAGMA application_id = %d;"
      "INSERT INTO setting VALUES ('name', 'Old'), ('currency', 'NZD'),"
      " ('zone', 'UTC'), ('id', 'x');"
      "INSERT INTO place (name, path) VALUES ('Loft', 'Loft');"
      "INSERT INTO act (at_us, author, kind, sentence) VALUES (0, 'A', 'act', 'Loft added')",
      version, SW_APPLICATION_ID);
  if (version >= 15) /* both kinds of rates of yards */
    g_string_append (sql, ";INSERT INTO outlet (name, rounding) VALUES ('Yard', 'half-up');"
                          "INSERT INTO yard_rate VALUES (7, 1, 'steel', 3, 15000);"
                          "INSERT INTO collected_rate VALUES (8, 1, 'steel', 4, 12000, 5)");
  assert_true (g_mkdir_with_parents (photos, 0777) == 0);
  assert_true (sqlite3_open (database, &db) == SQLITE_OK);
  assert_true (sqlite3_exec (db, sql->str, NULL, NULL, NULL) == SQLITE_OK);
  sqlite3_close (db);
}

/* Each step after a safety copy, what was there is there, and undo does not reach behind it. */
static void
older_schemas_are_brought_up (void **data)
{
  assert_true (sw_schema_latest () > 1);
  for (int version = 1; version < sw_schema_latest (); version++)
    {
      g_autofree char *tmp = g_dir_make_tmp ("sw-test-XXXXXX", NULL);
      g_autofree char *path = g_build_filename (tmp, "Old.shedwalk", NULL);
      g_autofree char *backups = g_build_filename (path, "backups", NULL);
      g_autoptr (GError) error = NULL;
      make_old (path, version);
      assert_null (sw_catalogue_open (path, SW_OPEN_READ_ONLY, &error));
      assert_sw_error (error, SW_ERROR_READ_ONLY);
      g_clear_error (&error);
      g_autoptr (SwCatalogue) catalogue = sw_test_open (path, SW_OPEN_READ_WRITE);
      int steps = sw_schema_latest () - version;
      assert_i64_equal (sw_test_ask (catalogue, "PRAGMA user_version"), sw_schema_latest ());
      assert_i64_equal (sw_test_ask (catalogue, "SELECT count (*) FROM place"), 1);
      if (version >= 15)
        {
          assert_i64_equal (sw_test_ask (catalogue, "SELECT rate FROM yard_rate WHERE id = 7"),
                            15000);
          assert_i64_equal (
              sw_test_ask (catalogue, "SELECT rate + least_ug FROM collected_rate WHERE id = 8"),
              12005);
        }
      /* none of them goes, however many steps there are */
      assert_i64_equal (count_names (backups), steps);
      assert_i64_equal (sw_test_ask (catalogue, "SELECT count (*) FROM act WHERE kind = 'barrier'"),
                        steps);
      assert_false (sw_undo (catalogue, NULL, &error));
      assert_sw_error (error, SW_ERROR_REFUSED);
      assert_contains (error->message, "cannot be taken back");
      sw_test_remove_tree (tmp);
    }
}

/* Opening *****************************************************************/

static void
spoil (const char *path, gsize size, gsize at, gsize n)
{
  g_autofree char *bytes = NULL;
  gsize length = 0;
  assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  for (gsize i = at; i < at + n && i < length; i++)
    bytes[i] = (char)(bytes[i] ^ 0x5a);
  assert_true (g_file_set_contents (path, bytes, (gssize)MIN (size, length), NULL));
}

static void
spoil_empty (const char *database)
{
  spoil (database, 0, 0, 0);
}

static void
spoil_half (const char *database)
{
  spoil (database, 5000, 0, 0);
}

static void
spoil_head (const char *database)
{
  spoil (database, G_MAXSIZE, 0, 16);
}

static void
spoil_schema (const char *database)
{
  /* the first page behind its head: the table of tables */
  spoil (database, G_MAXSIZE, 100, 3996);
}

static void
spoil_gone (const char *database)
{
  g_unlink (database);
}

static void
spoil_link (const char *database)
{
  g_autofree char *elsewhere = g_strconcat (database, ".elsewhere", NULL);
  assert_true (g_rename (database, elsewhere) == 0);
  assert_true (symlink (elsewhere, database) == 0);
}

static void
spoil_by_sql (const char *database, const char *sql)
{
  sqlite3 *db = NULL;
  assert_true (sqlite3_open (database, &db) == SQLITE_OK);
  assert_true (sqlite3_exec (db, sql, NULL, NULL, NULL) == SQLITE_OK);
  sqlite3_close (db);
}

static void
spoil_table (const char *database)
{
  spoil_by_sql (database, "DROP TABLE changeset");
}

static void
spoil_settings (const char *database)
{
  spoil_by_sql (database, "DELETE FROM setting WHERE key = 'currency'");
}

static void
spoil_newer (const char *database)
{
  spoil_by_sql (database, "PRAGMA user_version = 9999");
}

static void
spoil_foreign (const char *database)
{
  spoil_by_sql (database, "PRAGMA application_id = 42; PRAGMA journal_mode = WAL");
}

static void
spoil_all (const char *database)
{
  g_autofree char *folder = g_path_get_dirname (database);
  sw_test_remove_tree (folder);
}

static void
spoil_folder (const char *database)
{
  g_autofree char *folder = g_path_get_dirname (database);
  sw_test_remove_tree (folder);
  assert_true (g_mkdir (folder, 0777) == 0);
}

static void
spoil_file (const char *database)
{
  g_autofree char *folder = g_path_get_dirname (database);
  sw_test_remove_tree (folder);
  assert_true (g_file_set_contents (folder, "a file", -1, NULL));
}

typedef struct
{
  const char *label;
  void (*spoil) (const char *database);
  SwError code;
  const char *part;
} SpoiltRow;
static const SpoiltRow spoilt_rows[] = {
  { "database empty", spoil_empty, SW_ERROR_DAMAGED, "restore" },
  { "database cut short", spoil_half, SW_ERROR_DAMAGED, "restore" },
  { "head overwritten", spoil_head, SW_ERROR_DAMAGED, "restore" },
  { "schema overwritten", spoil_schema, SW_ERROR_DAMAGED, "restore" },
  { "database missing", spoil_gone, SW_ERROR_DAMAGED, "restore" },
  { "database a link", spoil_link, SW_ERROR_DAMAGED, "restore" },
  { "table missing", spoil_table, SW_ERROR_DAMAGED, "restore" },
  { "settings missing", spoil_settings, SW_ERROR_DAMAGED, "restore" },
  { "newer schema", spoil_newer, SW_ERROR_NEWER_SCHEMA, "newer Shedwalk" },
  { "another program's", spoil_foreign, SW_ERROR_REFUSED, "another program" },
  { "folder missing", spoil_all, SW_ERROR_NOT_FOUND, "not there" },
  { "an empty folder", spoil_folder, SW_ERROR_REFUSED, "no catalogue" },
  { "a file", spoil_file, SW_ERROR_REFUSED, "is a file" },
};

static void
opening_refused (void **data)
{
  const SpoiltRow *row = *data;
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autofree char *database = sw_catalogue_path (bed.catalogue, "catalogue.db");
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  row->spoil (database);
  for (int mode = SW_OPEN_READ_WRITE; mode <= SW_OPEN_READ_ONLY; mode++)
    {
      g_autofree char *before = NULL, *after = NULL;
      gsize length_before = 0, length_after = 0;
      g_file_get_contents (database, &before, &length_before, NULL);
      g_autoptr (GError) error = NULL;
      assert_null (sw_catalogue_open (bed.path, mode, &error));
      assert_sw_error (error, row->code);
      assert_contains (error->message, row->part);
      /* and it is left as it was */
      g_file_get_contents (database, &after, &length_after, NULL);
      assert_i64_equal (length_after, length_before);
      assert_true (length_before == 0 || memcmp (before, after, length_before) == 0);
    }
}

static void
opened_through_a_link (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autofree char *link = g_build_filename (bed.folder, "link", NULL);
  assert_true (symlink (bed.path, link) == 0);
  g_autoptr (SwCatalogue) catalogue = sw_test_open (link, SW_OPEN_READ_WRITE);
  assert_string_equal (sw_catalogue_folder (catalogue), sw_catalogue_folder (bed.catalogue));
}

/* Reading only ************************************************************/

static void
reading_only_never_writes (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (SwCatalogue) reader = sw_test_open (bed.path, SW_OPEN_READ_ONLY);
  assert_true (sw_catalogue_is_read_only (reader));
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  assert_false (sw_act_begin (&act, reader, &error));
  assert_sw_error (error, SW_ERROR_READ_ONLY);
  g_clear_error (&error);
  assert_false (sw_undo (reader, NULL, &error));
  assert_sw_error (error, SW_ERROR_READ_ONLY);
  g_clear_error (&error);
  sw_test_exec (bed.catalogue, "PRAGMA user_version = 0");
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  assert_null (sw_catalogue_open (bed.path, SW_OPEN_READ_ONLY, &error));
  assert_sw_error (error, SW_ERROR_READ_ONLY);
  assert_contains (error->message, "older Shedwalk");
}

/* What a try ended with, told by the exit status of the process that made it. */
enum
{
  CHILD_OPENED = 100,
  CHILD_BAD_SENTENCE,
};

/* Opens as somebody who owns nothing, since root passes every permission check. */
static int
open_as_nobody (const char *path, SwOpenMode mode, const char *part)
{
  pid_t child = fork ();
  assert_true (child >= 0);
  if (child == 0)
    {
      g_autoptr (GError) error = NULL;
      if (geteuid () == 0 && setuid (65534) != 0)
        _exit (99);
      SwCatalogue *catalogue = sw_catalogue_open (path, mode, &error);
      if (catalogue != NULL)
        _exit (CHILD_OPENED);
      _exit (strstr (error->message, part) != NULL ? (int)error->code : CHILD_BAD_SENTENCE);
    }
  int status = 0;
  assert_true (waitpid (child, &status, 0) == child);
  assert_true (WIFEXITED (status));
  return WEXITSTATUS (status);
}

static void
set_permissions (SwTestBed *bed, mode_t folder, mode_t file)
{
  g_autofree char *database = g_build_filename (bed->path, "catalogue.db", NULL);
  assert_true (chmod (bed->folder, 0755) == 0);
  assert_true (chmod (database, file) == 0);
  assert_true (chmod (bed->path, folder) == 0);
}

static void
read_only_folder (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  set_permissions (&bed, 0555, 0444);
  assert_i64_equal (open_as_nobody (bed.path, SW_OPEN_READ_WRITE, "copy it"), SW_ERROR_READ_ONLY);
  assert_i64_equal (open_as_nobody (bed.path, SW_OPEN_READ_ONLY, ""), CHILD_OPENED);
  set_permissions (&bed, 0555, 0666);
  assert_i64_equal (open_as_nobody (bed.path, SW_OPEN_READ_WRITE, "copy it"), SW_ERROR_READ_ONLY);
  set_permissions (&bed, 0755, 0000);
  assert_i64_equal (open_as_nobody (bed.path, SW_OPEN_READ_ONLY, "permissions"), SW_ERROR_REFUSED);
  set_permissions (&bed, 0755, 0644);
}

/* Ends a process in the middle of an act, so that its journal stays behind. */
static void
leave_a_journal (const char *path)
{
  pid_t child = fork ();
  assert_true (child >= 0);
  if (child == 0)
    {
      SwCatalogue *mine = sw_catalogue_open (path, SW_OPEN_READ_WRITE, NULL);
      SwAct act = SW_ACT_INIT;
      if (mine != NULL && sw_act_begin (&act, mine, NULL))
        sqlite3_exec (
            sw_db_handle (mine),
            "PRAGMA cache_size = 5;"
            "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 5000)"
            "INSERT INTO person (name) SELECT i || hex (randomblob (200)) FROM n",
            NULL, NULL, NULL);
      kill (getpid (), SIGKILL);
    }
  int status = 0;
  assert_true (waitpid (child, &status, 0) == child && WIFSIGNALED (status));
}

static void
interrupted_and_on_a_read_only_disk (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  leave_a_journal (bed.path);
  g_autofree char *journal = g_build_filename (bed.path, "catalogue.db-journal", NULL);
  assert_true (chmod (journal, 0444) == 0);
  set_permissions (&bed, 0555, 0444);
  assert_i64_equal (open_as_nobody (bed.path, SW_OPEN_READ_ONLY, "copy the whole folder"),
                    SW_ERROR_READ_ONLY);
  set_permissions (&bed, 0755, 0644);
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM person"), 0);
}

/* A full disk *************************************************************/

#define MANY_PEOPLE                                                                                \
  "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 3000)"                \
  "INSERT INTO person (name) SELECT i || hex (randomblob (200)) FROM n"

/* The code of the act's failure, or CHILD_OPENED where it went through. */
static int
fill_up (SwCatalogue *catalogue)
{
  g_autoptr (GError) error = NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, &error))
    return (int)error->code;
  int code = sqlite3_exec (sw_db_handle (catalogue), MANY_PEOPLE, NULL, NULL, NULL);
  if (code != SQLITE_OK)
    sw_db_error (sw_db_handle (catalogue), code, NULL, &error);
  else if (sw_act_commit (&act, "Many people", &error))
    return CHILD_OPENED;
  return strstr (error->message, "disk is full") != NULL ? (int)error->code : CHILD_BAD_SENTENCE;
}

static void
a_full_disk_changes_nothing (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  sw_test_act (bed.catalogue, "Press house added",
               "INSERT INTO place (name, path) VALUES ('Press house', 'Press house')");
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  pid_t child = fork ();
  assert_true (child >= 0);
  if (child == 0)
    {
      /* a file that may not grow is met like a disk that is full */
      struct rlimit limit = { 500000, 500000 };
      signal (SIGXFSZ, SIG_IGN);
      SwCatalogue *catalogue = sw_catalogue_open (bed.path, SW_OPEN_READ_WRITE, NULL);
      if (catalogue == NULL || setrlimit (RLIMIT_FSIZE, &limit) != 0)
        _exit (99);
      int code = fill_up (catalogue);
      /* and it goes on working */
      if (sw_test_ask (catalogue, "SELECT count (*) FROM person") != 0)
        _exit (98);
      _exit (code);
    }
  int status = 0;
  assert_true (waitpid (child, &status, 0) == child && WIFEXITED (status));
  assert_i64_equal (WEXITSTATUS (status), SW_ERROR_NO_SPACE);
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM person"), 0);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM place"), 1);
  assert_i64_equal (fill_up (bed.catalogue), CHILD_OPENED);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, making_refused, refused_rows);
  SW_TEST (tests, made_and_opened_again);
  SW_TEST (tests, made_in_an_empty_folder);
  SW_TEST (tests, the_schema_keeps_its_rules);
  SW_TEST (tests, older_schemas_are_brought_up);
  SW_TEST_ROWS (tests, opening_refused, spoilt_rows);
  SW_TEST (tests, opened_through_a_link);
  SW_TEST (tests, reading_only_never_writes);
  SW_TEST (tests, read_only_folder);
  SW_TEST (tests, interrupted_and_on_a_read_only_disk);
  SW_TEST (tests, a_full_disk_changes_nothing);
  return sw_tests_run (tests, "catalogue");
}
