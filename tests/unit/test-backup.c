/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Safety copies inside the catalogue, the second home, and the way back: incremental, verified, and
 * never a damaged photo over a sound one. */
#include "sw-test-catalogue.h"

#include "core/catalogue/backup.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/digest.h"

#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

static char *
read_text (const char *folder, const char *relative)
{
  g_autofree char *path = g_build_filename (folder, relative, NULL);
  char *text = NULL;
  g_file_get_contents (path, &text, NULL, NULL);
  return text;
}

static void
remove_at (const char *folder, const char *relative)
{
  g_autofree char *path = g_build_filename (folder, relative, NULL);
  assert_true (g_unlink (path) == 0);
}

/* Inside *****************************************************************/

static SwInstant
fixed_clock (gpointer data)
{
  return *(SwInstant *)data;
}

static GPtrArray *
names_in (const char *folder, const char *relative)
{
  g_autofree char *path = g_build_filename (folder, relative, NULL);
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    g_ptr_array_add (names, g_strdup (name));
  return names;
}

static gboolean
has_name (const GPtrArray *names, const char *name)
{
  for (guint i = 0; i < names->len; i++)
    if (g_str_equal (names->pdata[i], name))
      return TRUE;
  return FALSE;
}

static void
ten_are_kept (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  /* 2026-04-05T09:04:07Z */
  SwInstant now = { G_GINT64_CONSTANT (1775379847) * SW_US_PER_SECOND };
  sw_catalogue_set_clock (bed.catalogue, fixed_clock, &now);
  sw_test_write (bed.path, "backups/20200101T000000Z-00-x.db.part", "half");
  sw_test_write (bed.path, "backups/mine.txt", "not ours to remove");
  for (int i = 0; i < 12; i++)
    {
      /* two of each second */
      now.us += i % 2 == 0 ? SW_US_PER_SECOND : 0;
      assert_true (sw_backup_database (bed.catalogue, "test", &error));
      assert_no_error (error);
    }
  g_autoptr (GPtrArray) names = names_in (bed.path, "backups");
  assert_i64_equal (names->len, 11);
  assert_true (has_name (names, "mine.txt"));
  assert_true (has_name (names, "20260405T090413Z-01-test.db"));
  assert_true (has_name (names, "20260405T090409Z-00-test.db"));
  assert_false (has_name (names, "20260405T090408Z-01-test.db"));

  /* a clock set back: the newest bears the oldest name and is kept all the same */
  now.us = G_GINT64_CONSTANT (946684800) * SW_US_PER_SECOND;
  assert_true (sw_backup_database (bed.catalogue, "test", &error));
  assert_no_error (error);
  g_autoptr (GPtrArray) later = names_in (bed.path, "backups");
  assert_i64_equal (later->len, 11);
  assert_true (has_name (later, "20000101T000000Z-00-test.db"));
  assert_false (has_name (later, "20260405T090409Z-00-test.db"));
}

static void
a_copy_is_a_whole_database (void **data)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  sw_test_act (bed.catalogue, "Place added",
               "INSERT INTO place (name, path) VALUES ('Press house', 'Press house')");
  assert_true (sw_backup_database (bed.catalogue, "before-trouble", &error));
  sw_test_act (bed.catalogue, "All lost", "DELETE FROM place");
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  /* as the sentence for a damaged database tells: the newest of the backups folder becomes the
   * database */
  g_autoptr (GPtrArray) names = names_in (bed.path, "backups");
  assert_i64_equal (names->len, 1);
  g_autofree char *copy = g_build_filename (bed.path, "backups", names->pdata[0], NULL);
  g_autofree char *database = g_build_filename (bed.path, "catalogue.db", NULL);
  assert_true (g_rename (copy, database) == 0);
  bed.catalogue = sw_test_open (bed.path, SW_OPEN_READ_WRITE);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM place"), 1);
  sw_test_undo (bed.catalogue, "Place added");
}

/* The second home *********************************************************/

typedef struct
{
  SwTestBed bed;
  char *home, *restored;
} Homes;

static Homes
homes_new (void)
{
  Homes homes = { sw_test_bed_new (), NULL, NULL };
  g_autofree char *disk = g_build_filename (homes.bed.folder, "disk", NULL);
  assert_int_equal (g_mkdir (disk, 0755), 0);
  homes.home = g_build_filename (disk, "second", NULL);
  homes.restored = g_build_filename (homes.bed.folder, "Again.shedwalk", NULL);
  sw_test_add_photo (homes.bed.catalogue, "a.jpg");
  sw_test_add_photo (homes.bed.catalogue, "b.jpg");
  sw_test_add_photo (homes.bed.catalogue, "c.jpg");
  return homes;
}

static void
homes_clear (Homes *homes)
{
  sw_test_bed_clear (&homes->bed);
  g_free (homes->home);
  g_free (homes->restored);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Homes, homes_clear)

static void
back_up (Homes *homes, gint64 copied, gint64 there)
{
  g_autoptr (GError) error = NULL;
  SwBackupReport report = { 0 };
  sw_backup_to (homes->bed.catalogue, homes->home, NULL, &report, &error);
  assert_no_error (error);
  assert_i64_equal (report.photos_copied, copied);
  assert_i64_equal (report.photos_there, there);
  assert_i64_equal (report.bytes_copied, copied * (gint64)strlen (SW_TEST_PHOTO_BYTES "a.jpg"));
}

static void
only_what_is_new (void **data)
{
  g_auto (Homes) homes = homes_new ();
  SwInstant at = { 0 };
  g_autofree char *target = NULL;
  assert_false (sw_backup_last (homes.bed.catalogue, &at, NULL));
  SwInstant now = { 77 * SW_US_PER_SECOND };
  sw_catalogue_set_clock (homes.bed.catalogue, fixed_clock, &now);
  back_up (&homes, 3, 0);
  assert_true (sw_backup_last (homes.bed.catalogue, &at, &target));
  assert_i64_equal (at.us, now.us);
  assert_string_equal (target, homes.home);
  back_up (&homes, 0, 3);
  sw_test_add_photo (homes.bed.catalogue, "d.jpg");
  back_up (&homes, 1, 3);
  /* bytes gone bad on the second disk, and a file that was cut off by a pulled plug */
  sw_test_write (homes.home, "photos/trip-01/a.jpg", "rot");
  sw_test_write (homes.home, "photos/trip-01/b.jpg.part", "ha");
  remove_at (homes.home, "photos/trip-01/b.jpg");
  back_up (&homes, 2, 2);
  g_autofree char *a = read_text (homes.home, "photos/trip-01/a.jpg");
  assert_string_equal (a, SW_TEST_PHOTO_BYTES "a.jpg");
}

static void
there_and_back (void **data)
{
  g_auto (Homes) homes = homes_new ();
  g_autoptr (GError) error = NULL;
  sw_test_act (homes.bed.catalogue, "Place added",
               "INSERT INTO place (name, path) VALUES ('Press house', 'Press house')");
  back_up (&homes, 3, 0);
  SwBackupReport report = { 0 };
  sw_restore (homes.home, homes.restored, NULL, &report, &error);
  assert_no_error (error);
  assert_i64_equal (report.photos_copied, 3);
  g_autoptr (SwCatalogue) again = sw_test_open (homes.restored, SW_OPEN_READ_WRITE);
  assert_string_equal (sw_catalogue_name (again), "Cider works");
  g_autofree char *c = read_text (homes.restored, "photos/trip-01/c.jpg");
  assert_string_equal (c, SW_TEST_PHOTO_BYTES "c.jpg");
  /* with its whole history */
  sw_test_undo (again, "Place added");
  g_autoptr (GPtrArray) names = names_in (homes.bed.folder, ".");
  assert_i64_equal (names->len, 3);
  /* and it goes on with the same second home */
  sw_backup_to (again, homes.home, NULL, &report, &error);
  assert_no_error (error);
  assert_i64_equal (report.photos_there, 3);
}

static void
damage_here_never_reaches_there (void **data)
{
  g_auto (Homes) homes = homes_new ();
  g_autoptr (GError) error = NULL;
  back_up (&homes, 3, 0);
  sw_test_add_photo (homes.bed.catalogue, "d.jpg");
  sw_test_add_photo (homes.bed.catalogue, "e.jpg");
  sw_test_write (homes.bed.path, "photos/trip-01/a.jpg", "rot");
  sw_test_write (homes.bed.path, "photos/trip-01/d.jpg", "rot");
  assert_false (sw_backup_to (homes.bed.catalogue, homes.home, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_DAMAGED);
  assert_contains (error->message, "1 of 5 photos");
  assert_contains (error->message, "d.jpg");
  g_autofree char *a = read_text (homes.home, "photos/trip-01/a.jpg");
  g_autofree char *e = read_text (homes.home, "photos/trip-01/e.jpg");
  assert_string_equal (a, SW_TEST_PHOTO_BYTES "a.jpg");
  assert_string_equal (e, SW_TEST_PHOTO_BYTES "e.jpg");
}

static void
damage_there_is_told (void **data)
{
  g_auto (Homes) homes = homes_new ();
  g_autoptr (GError) error = NULL;
  back_up (&homes, 3, 0);
  sw_test_write (homes.home, "photos/trip-01/b.jpg", "rot");
  assert_false (sw_restore (homes.home, homes.restored, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_DAMAGED);
  assert_contains (error->message, "b.jpg");
  /* the rest is there all the same */
  g_autofree char *a = read_text (homes.restored, "photos/trip-01/a.jpg");
  g_autofree char *b = read_text (homes.restored, "photos/trip-01/b.jpg");
  assert_string_equal (a, SW_TEST_PHOTO_BYTES "a.jpg");
  assert_null (b);
  g_autoptr (SwCatalogue) again = sw_test_open (homes.restored, SW_OPEN_READ_WRITE);
  g_clear_error (&error);
  /* the database is another matter: without it there is nothing to bring back */
  sw_test_write (homes.home, "catalogue.db", "rot, and quite a lot of it");
  g_autofree char *third = g_build_filename (homes.bed.folder, "Third.shedwalk", NULL);
  assert_false (sw_restore (homes.home, third, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_DAMAGED);
  assert_false (g_file_test (third, G_FILE_TEST_EXISTS));
}

static void
a_hostile_list_stays_inside (void **data)
{
  g_auto (Homes) homes = homes_new ();
  g_autoptr (GError) error = NULL;
  sw_test_write (homes.bed.folder, "secret", SW_TEST_PHOTO_BYTES "a.jpg");
  sw_test_exec (homes.bed.catalogue,
                "UPDATE photo SET stored = 'photos/../../secret' WHERE file = 'a.jpg'");
  assert_false (sw_backup_to (homes.bed.catalogue, homes.home, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_DAMAGED);
  g_autofree char *disk = g_build_filename (homes.bed.folder, "disk", "secret", NULL);
  assert_false (g_file_test (disk, G_FILE_TEST_EXISTS));
}

/* Prepares the folder and returns it. Transfer full. */
typedef char *(*PrepareFunc) (Homes *homes);

static char *
inside_catalogue (Homes *homes)
{
  return g_build_filename (homes->bed.path, "photos", "copies", NULL);
}

static char *
through_a_link (Homes *homes)
{
  g_autofree char *link = g_build_filename (homes->bed.folder, "link", NULL);
  assert_true (symlink (homes->bed.path, link) == 0);
  return g_build_filename (link, "copies", NULL);
}

static char *
with_other_things (Homes *homes)
{
  sw_test_write (homes->home, "letters.txt", "mine");
  return g_strdup (homes->home);
}

static char *
another_catalogue (Homes *homes)
{
  char *path = g_build_filename (homes->bed.folder, "Other.shedwalk", NULL);
  g_autoptr (SwCatalogue) other = sw_catalogue_create (path, "Other", "NZD", "UTC", NULL);
  assert_non_null (other);
  return path;
}

static char *
anothers_home (Homes *homes)
{
  g_autofree char *path = another_catalogue (homes);
  g_autoptr (SwCatalogue) other = sw_test_open (path, SW_OPEN_READ_WRITE);
  assert_true (sw_backup_to (other, homes->home, NULL, NULL, NULL));
  return g_strdup (homes->home);
}

static char *
a_plain_file (Homes *homes)
{
  sw_test_write (homes->bed.folder, "file", "mine");
  return g_build_filename (homes->bed.folder, "file", NULL);
}

typedef struct
{
  const char *label;
  PrepareFunc prepare;
  const char *part;
} TargetRow;
static const TargetRow target_rows[] = {
  { "inside the catalogue", inside_catalogue, "inside the catalogue" },
  { "inside through a link", through_a_link, "inside the catalogue" },
  { "other things in it", with_other_things, "new folder" },
  { "another catalogue", another_catalogue, "another catalogue" },
  { "another's second home", anothers_home, "another catalogue" },
  { "a file", a_plain_file, "" },
};

static void
target_refused (void **data)
{
  const TargetRow *row = *data;
  g_auto (Homes) homes = homes_new ();
  g_autofree char *target = row->prepare (&homes);
  g_autoptr (GError) error = NULL;
  assert_false (sw_backup_to (homes.bed.catalogue, target, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, row->part);
}

static void
restore_refused (void **data)
{
  g_auto (Homes) homes = homes_new ();
  g_autoptr (GError) error = NULL;
  assert_false (sw_restore (homes.home, homes.restored, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  /* a folder of somebody's, and a second home whose first backup was cut off */
  sw_test_write (homes.home, "letters.txt", "mine");
  assert_false (sw_restore (homes.home, homes.restored, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  remove_at (homes.home, "letters.txt");
  back_up (&homes, 3, 0);
  assert_false (sw_restore (homes.home, homes.bed.path, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  remove_at (homes.home, "catalogue.db");
  assert_false (sw_restore (homes.home, homes.restored, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_false (g_file_test (homes.restored, G_FILE_TEST_EXISTS));
}

static void
stopped_and_run_again (void **data)
{
  g_auto (Homes) homes = homes_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) stop = g_cancellable_new ();
  g_cancellable_cancel (stop);
  assert_false (sw_backup_to (homes.bed.catalogue, homes.home, stop, NULL, &error));
  assert_sw_error (error, SW_ERROR_CANCELLED);
  g_clear_error (&error);
  assert_false (sw_backup_last (homes.bed.catalogue, NULL, NULL));
  back_up (&homes, 3, 0);
  assert_false (sw_restore (homes.home, homes.restored, stop, NULL, &error));
  assert_sw_error (error, SW_ERROR_CANCELLED);
  assert_false (g_file_test (homes.restored, G_FILE_TEST_EXISTS));
  g_autoptr (GPtrArray) names = names_in (homes.bed.folder, ".");
  assert_i64_equal (names->len, 2);
}

/* A disk that keeps other bytes than it was given, of what is put in place under this name. */
static const char *badly_kept;

int
rename (const char *from, const char *to)
{
  if (badly_kept != NULL && g_str_has_suffix (to, badly_kept))
    {
      int fd = open (from, O_WRONLY | O_CLOEXEC);
      assert_true (fd >= 0 && pwrite (fd, "?", 1, 0) == 1);
      close (fd);
    }
  return renameat (AT_FDCWD, from, AT_FDCWD, to);
}

static void
a_disk_that_loses_is_told (void **data)
{
  g_auto (Homes) homes = homes_new ();
  g_autoptr (GError) error = NULL;
  badly_kept = "b.jpg";
  assert_false (sw_backup_to (homes.bed.catalogue, homes.home, NULL, NULL, &error));
  badly_kept = NULL;
  assert_sw_error (error, SW_ERROR_DAMAGED);
  assert_contains (error->message, "b.jpg");
  assert_contains (error->message, "use another disk");
  g_clear_error (&error);
  /* it counts for nothing, and what is bad is not left there to be taken for good */
  assert_false (sw_backup_last (homes.bed.catalogue, NULL, NULL));
  back_up (&homes, 1, 2);
  badly_kept = "c.jpg";
  assert_false (sw_restore (homes.home, homes.restored, NULL, NULL, &error));
  badly_kept = NULL;
  assert_sw_error (error, SW_ERROR_DAMAGED);
  assert_false (g_file_test (homes.restored, G_FILE_TEST_EXISTS));
}

/* The fingerprint *********************************************************/

typedef struct
{
  const char *label, *text, *hash;
  gint64 size;
  SwDigestVerdict verdict;
} DigestRow;
static const DigestRow digest_rows[] = {
  /* XXH3-128 of no bytes, as the xxHash project's own tests give it: from memory */
  { "empty", "", "99aa06d3014798d86001c324468d497f", 0, SW_DIGEST_SAME },
  { "capitals", "", "99AA06D3014798D86001C324468D497F", 0, SW_DIGEST_SAME },
  { "other bytes", "x", "99aa06d3014798d86001c324468d497f", 1, SW_DIGEST_OTHER },
  { "other size", "", "99aa06d3014798d86001c324468d497f", 1, SW_DIGEST_OTHER },
  { "cut hash", "", "99aa06d3014798d86001c324468d49", 0, SW_DIGEST_OTHER },
  /* behind it the SHA-256 of no bytes: FIPS 180-4 example values (NIST 2015), first half and whole
   */
  { "with half SHA-256", "", "99aa06d3014798d86001c324468d497fe3b0c44298fc1c149afbf4c8996fb924", 0,
    SW_DIGEST_SAME },
  { "with SHA-256", "",
    "99aa06d3014798d86001c324468d497f"
    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    0, SW_DIGEST_SAME },
  { "with another SHA-256", "", "99aa06d3014798d86001c324468d497fe3b0c44298fc1c149afbf4c8996fb925",
    0, SW_DIGEST_OTHER },
  { "missing", NULL, "99aa06d3014798d86001c324468d497f", 0, SW_DIGEST_MISSING },
};

static void
digest (void **data)
{
  const DigestRow *row = *data;
  g_autofree char *folder = g_dir_make_tmp ("sw-test-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "file", NULL);
  g_autofree char *link = g_build_filename (folder, "link", NULL);
  g_autoptr (GError) error = NULL;
  SwDigestVerdict verdict = SW_DIGEST_UNREADABLE;
  if (row->text != NULL)
    sw_test_write (folder, "file", row->text);
  assert_true (sw_digest_verify (path, row->size, row->hash, NULL, &verdict, &error));
  assert_i64_equal (verdict, row->verdict);
  /* a link to the right bytes is not those bytes, and a FIFO is not waited for */
  assert_true (symlink (path, link) == 0);
  assert_true (sw_digest_verify (link, row->size, row->hash, NULL, &verdict, &error));
  assert_i64_equal (verdict, SW_DIGEST_OTHER);
  g_unlink (link);
  assert_true (mkfifo (link, 0600) == 0);
  assert_true (sw_digest_verify (link, row->size, row->hash, NULL, &verdict, &error));
  assert_i64_equal (verdict, SW_DIGEST_OTHER);
  sw_test_remove_tree (folder);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, ten_are_kept);
  SW_TEST (tests, a_copy_is_a_whole_database);
  SW_TEST (tests, only_what_is_new);
  SW_TEST (tests, there_and_back);
  SW_TEST (tests, damage_here_never_reaches_there);
  SW_TEST (tests, damage_there_is_told);
  SW_TEST (tests, a_hostile_list_stays_inside);
  SW_TEST_ROWS (tests, target_refused, target_rows);
  SW_TEST (tests, restore_refused);
  SW_TEST (tests, stopped_and_run_again);
  SW_TEST (tests, a_disk_that_loses_is_told);
  SW_TEST_ROWS (tests, digest, digest_rows);
  return sw_tests_run (tests, "backup");
}
