/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts, undo, safety copies, opening and making, with every single call to the disk failing in
 * turn, once or for good: after each the catalogue opens, is whole, and holds the old state or the
 * new one, nothing between; and what was said is true. */
#include "fault-vfs.h"
#include "sw-test-catalogue.h"

#include "core/catalogue/backup.h"

#define ALL_WRITES (FAULT_WRITE | FAULT_SYNC | FAULT_TRUNCATE | FAULT_DELETE | FAULT_OPEN)

typedef struct
{
  const char *label;
  guint kinds;
  gboolean for_good;
} FaultRow;
static const FaultRow fault_rows[] = {
  { "full disk, once", FAULT_FULL, FALSE },
  { "full disk, for good", FAULT_FULL, TRUE },
  { "write", FAULT_WRITE, FALSE },
  { "flush", FAULT_SYNC, FALSE },
  { "flush, for good", FAULT_SYNC, TRUE },
  { "delete", FAULT_DELETE, FALSE },
  { "truncate", FAULT_TRUNCATE, FALSE },
  { "open", FAULT_OPEN, FALSE },
  { "read", FAULT_READ, FALSE },
  { "lock", FAULT_LOCK, FALSE },
  { "lock, for good", FAULT_LOCK, TRUE },
  { "disk pulled out", ALL_WRITES | FAULT_READ, TRUE },
};

/* Every third call, under the sanitizers, which take ten times as long, every seventh; each single
 * one where SHEDWALK_FAULT_EVERY is 1 (tests/long/faults). */
#ifdef __SANITIZE_ADDRESS__
#define STEP 7
#else
#define STEP 3
#endif

static int
step (void)
{
  const char *every = g_getenv ("SHEDWALK_FAULT_EVERY");

  return every != NULL ? CLAMP (atoi (every), 1, STEP) : STEP;
}

/* A loop that never ends would be a fault that is never met: this many calls no job makes. */
#define CALLS_AT_MOST 2000

/* A job takes the catalogue from state 1 to state 2 (walk_order of the one place). */
typedef gboolean (*Job) (SwCatalogue *catalogue, GError **error);

static gboolean
act_job (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  /* enough for several pages, and nested, with a refusal within */
  int code = sqlite3_exec (sw_db_handle (catalogue),
                           "UPDATE place SET walk_order = 2;"
                           "INSERT INTO person (name) VALUES (hex (randomblob (5000)))",
                           NULL, NULL, NULL);
  if (code != SQLITE_OK)
    return sw_db_error (sw_db_handle (catalogue), code, NULL, error);
  {
    g_auto (SwAct) inner = SW_ACT_INIT;
    if (!sw_act_begin (&inner, catalogue, error))
      return FALSE;
    sqlite3_exec (sw_db_handle (catalogue), "UPDATE place SET walk_order = 3", NULL, NULL, NULL);
  }
  return sw_act_tell (&act, SW_SUBJECT_PLACE, 1, "place.moved", NULL, "Moved", error)
         && sw_act_commit (&act, "Moved", error);
}

static void
prepare_act (SwCatalogue *catalogue)
{
  sw_test_act (
      catalogue, "Press house added",
      "INSERT INTO place (name, path, walk_order) VALUES ('Press house', 'Press house', 1)");
}

static gboolean
undo_job (SwCatalogue *catalogue, GError **error)
{
  return sw_undo (catalogue, NULL, error);
}

static void
prepare_undo (SwCatalogue *catalogue)
{
  sw_test_act (
      catalogue, "Press house added",
      "INSERT INTO place (name, path, walk_order) VALUES ('Press house', 'Press house', 2)");
  sw_test_act (catalogue, "Moved",
               "UPDATE place SET walk_order = 1; INSERT INTO person (name) VALUES (hex (randomblob "
               "(5000)))");
}

/* Whole, and in state 1 or 2 with what belongs to it. The state. */
static gint64
state_of (SwCatalogue *catalogue, gboolean undo)
{
  assert_i64_equal (sw_test_ask (catalogue, "SELECT count (*) FROM pragma_integrity_check"
                                            " WHERE integrity_check <> 'ok'"),
                    0);
  assert_i64_equal (sw_test_ask (catalogue, "SELECT count (*) FROM pragma_foreign_key_check"), 0);
  gint64 state = sw_test_ask (catalogue, "SELECT walk_order FROM place");
  assert_true (state == 1 || state == 2);
  gint64 people = sw_test_ask (catalogue, "SELECT count (*) FROM person");
  gint64 acts = sw_test_ask (catalogue, "SELECT count (*) FROM act");
  gint64 before = undo ? 2 : 1;
  assert_i64_equal (people, undo ? 2 - state : state - 1);
  assert_i64_equal (acts, state == 1 ? before : before + 1);
  assert_i64_equal (sw_test_ask (catalogue, "SELECT count (*) FROM changeset"),
                    undo ? before : acts);
  return state;
}

/* The prepared catalogue that each try gets a copy of: making one anew would flush the disk a dozen
 * times. */
static SwTestBed template;

static SwTestBed
copy_of_template (void)
{
  SwTestBed bed = { g_dir_make_tmp ("sw-test-XXXXXX", NULL), NULL, NULL };
  bed.path = g_build_filename (bed.folder, "Copy.shedwalk", NULL);
  g_autofree char *from = g_build_filename (template.path, "catalogue.db", NULL);
  g_autofree char *to = g_build_filename (bed.path, "catalogue.db", NULL);
  g_autofree char *photos = g_build_filename (bed.path, "photos", NULL);
  g_autofree char *backups = g_build_filename (bed.path, "backups", NULL);
  g_autofree char *bytes = NULL;
  gsize length = 0;
  assert_true (g_file_get_contents (from, &bytes, &length, NULL));
  assert_true (g_mkdir (bed.path, 0777) == 0 && g_mkdir (photos, 0777) == 0
               && g_mkdir (backups, 0777) == 0);
  assert_true (
      g_file_set_contents_full (to, bytes, (gssize)length, G_FILE_SET_CONTENTS_NONE, 0666, NULL));
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  return bed;
}

static void
make_template (void (*prepare) (SwCatalogue *))
{
  template = sw_test_bed_new ();
  prepare (template.catalogue);
  g_clear_pointer (&template.catalogue, sw_catalogue_close);
}

/* One try with the nth call failing. FALSE: no call was left to fail. */
static gboolean
try_once (const FaultRow *row, int nth, Job job)
{
  g_auto (SwTestBed) bed = copy_of_template ();
  g_autoptr (GError) error = NULL;
  gboolean undo = job == undo_job;
  fault_vfs_arm (row->kinds, nth, row->for_good);
  gboolean ok = job (bed.catalogue, &error);
  gboolean hit = fault_vfs_disarm ();
  assert_true (ok == (error == NULL));
  if (error != NULL)
    assert_error (error, SW_ERROR, error->code);
  if (!ok && (row->kinds & FAULT_FULL))
    assert_i64_equal (error->code, SW_ERROR_NO_SPACE);
  if (!ok && (row->kinds & FAULT_LOCK))
    assert_i64_equal (error->code, SW_ERROR_BUSY);
  if (!hit)
    assert_true (ok);
  sw_test_reopen (&bed);
  gint64 state = state_of (bed.catalogue, undo);
  if (ok)
    assert_i64_equal (state, 2);
  /* a refusal that says 'full' or 'busy' has changed nothing */
  if (!ok && (row->kinds & (FAULT_FULL | FAULT_LOCK)))
    assert_i64_equal (state, 1);
  return hit;
}

static void
try_all (const FaultRow *row, Job job, void (*prepare) (SwCatalogue *))
{
  int nth = 1;
  make_template (prepare);
  while (nth < CALLS_AT_MOST && try_once (row, nth, job))
    nth += step ();
  assert_true (nth < CALLS_AT_MOST);
  sw_test_bed_clear (&template);
}

static void
acts (void **data)
{
  try_all (*data, act_job, prepare_act);
}

static void
undos (void **data)
{
  try_all (*data, undo_job, prepare_undo);
}

/* The same connection goes on after a failure that passed. */
static void
goes_on (void **data)
{
  const FaultRow *row = *data;
  gboolean hit = TRUE;
  make_template (prepare_act);
  for (int nth = 1; nth < CALLS_AT_MOST && hit; nth += step ())
    {
      g_auto (SwTestBed) bed = copy_of_template ();
      g_autoptr (GError) error = NULL;
      fault_vfs_arm (row->kinds, nth, row->for_good);
      gboolean ok = act_job (bed.catalogue, NULL);
      hit = fault_vfs_disarm ();
      if (!ok)
        act_job (bed.catalogue, &error);
      assert_no_error (error);
      assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT walk_order FROM place"), 2);
    }
  sw_test_bed_clear (&template);
}

static void
safety_copies (void **data)
{
  const FaultRow *row = *data;
  gboolean hit = TRUE;
  make_template (prepare_act);
  for (int nth = 1; nth < CALLS_AT_MOST && hit; nth += step ())
    {
      g_auto (SwTestBed) bed = copy_of_template ();
      g_autoptr (GError) error = NULL;
      fault_vfs_arm (row->kinds, nth, row->for_good);
      gboolean ok = sw_backup_database (bed.catalogue, "test", &error);
      hit = fault_vfs_disarm ();
      assert_true (ok == (error == NULL));
      g_autofree char *folder = sw_catalogue_path (bed.catalogue, "backups");
      g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
      const char *name = g_dir_read_name (dir);
      if ((name != NULL) != ok)
        print_error ("call %d: %s, %s\n", nth, name, error != NULL ? error->message : "-");
      /* a copy that was said to stand stands; one that failed left nothing */
      assert_true ((name != NULL) == ok);
      assert_null (g_dir_read_name (dir));
      assert_i64_equal (state_of (bed.catalogue, FALSE), 1);
    }
  sw_test_bed_clear (&template);
}

static void
opening (void **data)
{
  const FaultRow *row = *data;
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  prepare_act (bed.catalogue);
  gboolean hit = TRUE;
  for (int nth = 1; nth < CALLS_AT_MOST && hit; nth += step ())
    {
      g_autoptr (GError) error = NULL;
      g_clear_pointer (&bed.catalogue, sw_catalogue_close);
      fault_vfs_arm (row->kinds, nth, row->for_good);
      bed.catalogue = sw_catalogue_open (bed.path, SW_OPEN_READ_WRITE, &error);
      hit = fault_vfs_disarm ();
      assert_true ((bed.catalogue == NULL) == (error != NULL));
      if (error != NULL)
        assert_error (error, SW_ERROR, error->code);
      sw_test_reopen (&bed);
      assert_i64_equal (state_of (bed.catalogue, FALSE), 1);
    }
}

static void
making (void **data)
{
  const FaultRow *row = *data;
  gboolean hit = TRUE;
  for (int nth = 1; nth < CALLS_AT_MOST && hit; nth += step ())
    {
      g_autofree char *folder = g_dir_make_tmp ("sw-test-XXXXXX", NULL);
      g_autofree char *path = g_build_filename (folder, "New.shedwalk", NULL);
      g_autoptr (GError) error = NULL;
      fault_vfs_arm (row->kinds, nth, row->for_good);
      SwCatalogue *catalogue = sw_catalogue_create (path, "New", "JPY", "UTC", &error);
      hit = fault_vfs_disarm ();
      assert_true ((catalogue == NULL) == (error != NULL));
      sw_catalogue_close (catalogue);
      /* nothing, or a catalogue that opens */
      g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
      if (g_dir_read_name (dir) != NULL)
        sw_catalogue_close (sw_test_open (path, SW_OPEN_READ_WRITE));
      sw_test_remove_tree (folder);
    }
}

int
main (void)
{
  /* thousands of small flushes of folders: in memory where there is such a place */
  if (access ("/dev/shm", W_OK) == 0)
    g_setenv ("TMPDIR", "/dev/shm", FALSE);
  fault_vfs_install ();
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, acts, fault_rows);
  SW_TEST_ROWS (tests, undos, fault_rows);
  SW_TEST_ROWS (tests, goes_on, fault_rows);
  SW_TEST_ROWS (tests, safety_copies, fault_rows);
  SW_TEST_ROWS (tests, opening, fault_rows);
  SW_TEST_ROWS (tests, making, fault_rows);
  return sw_tests_run (tests, "catalogue under faults");
}
