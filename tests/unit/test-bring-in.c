/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bringing photos in: what is taken, doubled, refused, remarked; trips, companions, look-alikes;
 * again, undone, taken back. Interruptions are in tests/fault. */
#include "sw-test-card.h"

#include <sys/file.h>
#include <sys/stat.h>

#include "core/catalogue/act.h"
#include "core/catalogue/photos.h"
#include "core/intake/decode-helper.h"
#include "core/intake/scan.h"
#include "core/intake/thumbs.h"

static int
setup (void **state)
{
  *state = sw_test_card_new ();
  return 0;
}

static int
teardown (void **state)
{
  sw_test_card_free (*state);
  return 0;
}

static gboolean
bring (Bed *b, gint64 trip, GError **error)
{
  const char *folders[] = { b->card, NULL };
  SwBringInOptions options = { .trip = trip };

  sw_bring_in_report_free (b->report);
  b->report = sw_bring_in_report_new ();
  return sw_bring_in_run (b->bed.catalogue, folders, &options, NULL, NULL, b->report, error);
}

static void
bring_well (Bed *b, gint64 trip)
{
  g_autoptr (GError) error = NULL;
  gboolean good = bring (b, trip, &error);

  assert_no_error (error);
  assert_true (good);
}

static void
bring_badly (Bed *b, gint64 trip, SwError code)
{
  g_autoptr (GError) error = NULL;

  assert_false (bring (b, trip, &error));
  sw_test_error (error, SW_ERROR, (int)code, __FILE__, __LINE__);
  assert_false (b->report->card_may_be_cleared);
}

static void
check_counts (const Bed *b, int taken, int there, int others, int companions, int refused)
{
  assert_i64_equal (b->report->taken, taken);
  assert_i64_equal (b->report->already_there, there);
  assert_i64_equal (b->report->not_photos, others);
  assert_i64_equal (b->report->companions, companions);
  assert_i64_equal (b->report->refused->len, refused);
}

static GPtrArray *
rows (Bed *b)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *list = sw_photo_list (b->bed.catalogue, 0, FALSE, &error);

  assert_no_error (error);
  return list;
}

static const SwPhoto *
row_of (GPtrArray *list, const char *file)
{
  for (guint i = 0; i < list->len; i++)
    if (strcmp (((SwPhoto *)list->pdata[i])->file, file) == 0)
      return list->pdata[i];
  print_error ("no row for %s\n", file);
  assert_true (FALSE);
  return NULL;
}

static gboolean
has_remark (const GPtrArray *remarks, const char *file, const char *part)
{
  for (guint i = 0; i < remarks->len; i++)
    {
      const SwBringInRemark *r = remarks->pdata[i];

      if (strcmp (r->file, file) == 0 && strstr (r->remark, part) != NULL)
        return TRUE;
    }
  return FALSE;
}

/* Every file below the catalogue's photos/, by name. */
static guint
count_files (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;
  guint n = 0;

  if (dir == NULL)
    return 1;
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      n += count_files (inner);
    }
  return n;
}

static guint
stored_files (Bed *b)
{
  g_autofree char *photos = g_build_filename (b->bed.path, "photos", NULL);

  return count_files (photos);
}

static void
a_card (void **state)
{
  Bed *b = *state;
  g_autoptr (GPtrArray) list = NULL;
  const SwPhoto *p;

  photo (b, "DCIM/100/IMG_0002.jpg", "2026:04:03 10:15:30", 5);
  photo (b, "DCIM/100/IMG_0001.jpg", "2026:05:02 09:00:00", 2);
  photo (b, "a copy.jpg", "2026:04:03 10:15:30", 5);
  photo (b, "far.jpg", "2026:08:01 09:00:00", 3);
  put (b, "notes.txt", "10:00 press house", 17);
  put (b, "zero.jpg", "", 0);
  put (b, "noise.jpg", "no picture at all", 17);
  put (b, "DCIM/100/._IMG_0001.jpg", "\0\5\x16\7", 4);
  bring_well (b, 0);
  check_counts (b, 3, 1, 2, 0, 2);
  assert_false (b->report->card_may_be_cleared);
  assert_non_null (b->report->why_not);
  assert_true (has_remark (b->report->refused, "zero.jpg", "empty"));

  list = rows (b);
  assert_i64_equal (list->len, 3);
  p = row_of (list, "DCIM/100/IMG_0002.jpg"); /* before "a copy.jpg" in byte order */
  assert_i64_equal (p->trip, 1);
  assert_true (p->has_clock && !p->has_offset);
  assert_i64_equal (p->clock_us, sw_civil_to_us ((SwCivil){ 2026, 4, 3, 10, 15, 30, 500000 }));
  assert_string_equal (p->time_source, "original");
  assert_string_equal (p->camera_label, "Kettle & Lamp KL-7");
  assert_true (g_str_has_prefix (p->stored, "photos/trip-01/IMG_0002-"));
  assert_i64_equal (strlen (p->hash), 32);
  assert_i64_equal (row_of (list, "DCIM/100/IMG_0001.jpg")->trip, 2);
  assert_i64_equal (row_of (list, "far.jpg")->trip, 0);
  assert_i64_equal (stored_files (b), 3);
}

static void
the_copy_is_the_same_and_the_source_unchanged (void **state)
{
  Bed *b = *state;
  g_autofree char *source = g_build_filename (b->card, "a.jpg", NULL);
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autofree char *copied = NULL;
  g_autofree char *copy = NULL;
  g_autoptr (GPtrArray) list = NULL;
  struct stat st, st_after;
  gsize n, m, k;

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  assert_true (g_file_get_contents (source, &before, &n, NULL));
  assert_int_equal (stat (source, &st), 0);
  bring_well (b, 0);
  assert_true (b->report->card_may_be_cleared);
  assert_true (g_file_get_contents (source, &after, &m, NULL));
  assert_int_equal (stat (source, &st_after), 0);
  list = rows (b);
  copied = g_build_filename (b->bed.path, ((SwPhoto *)list->pdata[0])->stored, NULL);
  assert_true (g_file_get_contents (copied, &copy, &k, NULL));
  assert_true (n == m && n == k && memcmp (before, after, n) == 0 && memcmp (before, copy, n) == 0);
  assert_true (st.st_mtim.tv_sec == st_after.st_mtim.tv_sec
               && st.st_mtim.tv_nsec == st_after.st_mtim.tv_nsec);
}

static void
again_takes_nothing (void **state)
{
  Bed *b = *state;
  g_autofree char *backups = g_build_filename (b->bed.path, "backups", NULL);
  guint copies;

  for (int i = 0; i < 12; i++)
    {
      g_autofree char *name = g_strdup_printf ("IMG_%d.jpg", i);

      photo (b, name, "2026:04:03 10:15:30", 100 + i);
    }
  bring_well (b, 0);
  check_counts (b, 12, 0, 0, 0, 0);
  copies = count_files (backups);
  bring_well (b, 0);
  check_counts (b, 0, 12, 0, 0, 0);
  assert_true (b->report->card_may_be_cleared);
  assert_i64_equal (stored_files (b), 12);
  /* nothing was written, so no backup pushed an older one out */
  assert_i64_equal (count_files (backups), copies);
}

static void
undone_and_taken_back (void **state)
{
  Bed *b = *state;
  g_autoptr (GPtrArray) none = NULL;
  g_autoptr (GPtrArray) three = NULL;
  g_autoptr (GPtrArray) again = NULL;

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  photo (b, "b.jpg", "2026:04:03 10:15:31", 2);
  photo (b, "c.jpg", "2026:04:03 10:15:32", 3);
  bring_well (b, 0);
  assert_true (sw_undo (b->bed.catalogue, NULL, NULL));
  none = rows (b);
  assert_i64_equal (none->len, 0);
  assert_i64_equal (stored_files (b), 3);
  bring_well (b, 0);
  check_counts (b, 3, 0, 0, 0, 0);
  three = rows (b);
  assert_i64_equal (three->len, 3);
  assert_i64_equal (stored_files (b), 3);
  assert_true (sw_undo (b->bed.catalogue, NULL, NULL));
  again = rows (b);
  assert_i64_equal (again->len, 0);
}

static void
trips_by_word (void **state)
{
  Bed *b = *state;
  g_autoptr (GPtrArray) list = NULL;

  photo (b, "a.jpg", "2026:08:03 10:15:30", 1);
  bring_well (b, 0);
  photo (b, "b.jpg", "2026:08:03 10:15:31", 2);
  photo (b, "c.jpg", "2026:04:03 10:15:31", 3);
  bring_well (b, 1);
  check_counts (b, 2, 1, 0, 0, 0);
  assert_true (has_remark (b->report->remarked, "b.jpg", "outside the days of trip 1"));
  assert_false (has_remark (b->report->remarked, "c.jpg", ""));
  list = rows (b);
  for (guint i = 0; i < list->len; i++)
    assert_i64_equal (((SwPhoto *)list->pdata[i])->trip, 1);
  bring_badly (b, 7, SW_ERROR_NOT_FOUND);
}

/* A full disk may part them: the clip came with an earlier bring-in, its photo comes now. */
static void
companions_that_came_before_their_photo (void **state)
{
  Bed *b = *state;
  g_autoptr (GPtrArray) list = NULL;

  put (b, "IMG_1.MOV",
       "\0\0\0\x14"
       "ftypqt  \0\0\0\0qt  moving",
       26);
  bring_well (b, 0);
  photo (b, "IMG_1.JPG", "2026:05:02 10:00:00", 1);
  bring_well (b, 0);
  check_counts (b, 1, 1, 0, 0, 0);
  list = rows (b);
  assert_i64_equal (row_of (list, "IMG_1.MOV")->companion_of, row_of (list, "IMG_1.JPG")->id);
}

static void
companions_go_with_their_photo (void **state)
{
  Bed *b = *state;
  g_autoptr (GPtrArray) list = NULL;
  const SwPhoto *jpeg;
  g_autoptr (GByteArray) raw = NULL;
  ExifFields f = {
    .orientation = 1, .make = "Kettle & Lamp", .model = "KL-7", .original = "2026:05:02 10:00:00"
  };

  raw = photo_file_write (FORM_TIFF, &f);
  put (b, "IMG_1.DNG", raw->data, raw->len);
  photo (b, "IMG_1.JPG", "2026:05:02 10:00:00", 1);
  put (b, "IMG_1.MOV",
       "\0\0\0\x14"
       "ftypqt  \0\0\0\0qt  moving",
       26);
  put (b, "VID_20260404_101530.mp4",
       "\0\0\0\x18"
       "ftypmp42\0\0\0\0mp42isom",
       24);
  put (b, "memo.m4a",
       "\0\0\0\x18"
       "ftypM4A \0\0\0\0M4A mp42",
       24);
  bring_well (b, 0);
  check_counts (b, 1, 0, 0, 4, 0);
  list = rows (b);
  jpeg = row_of (list, "IMG_1.JPG");
  assert_i64_equal (row_of (list, "IMG_1.DNG")->companion_of, jpeg->id);
  assert_string_equal (row_of (list, "IMG_1.DNG")->kind, "raw");
  assert_string_equal (row_of (list, "IMG_1.DNG")->format, "dng");
  assert_i64_equal (row_of (list, "IMG_1.MOV")->companion_of, jpeg->id);
  assert_i64_equal (row_of (list, "IMG_1.MOV")->trip, 2);
  assert_i64_equal (row_of (list, "VID_20260404_101530.mp4")->companion_of, 0);
  assert_i64_equal (row_of (list, "VID_20260404_101530.mp4")->trip, 1);
  assert_string_equal (row_of (list, "VID_20260404_101530.mp4")->time_source, "name");
  assert_string_equal (row_of (list, "memo.m4a")->kind, "memo");
  bring_well (b, 0);
  check_counts (b, 0, 5, 0, 0, 0);
}

static void
look_alikes_are_pointed_out (void **state)
{
  Bed *b = *state;
  const SwBringInPair *pair;

  put_scene (b, "a.jpg", 1, 95, "2026:04:03 10:15:30");
  put_scene (b, "b.jpg", 1, 40, "2026:04:03 10:15:30");
  put_scene (b, "c.jpg", 2, 95, "2026:04:03 10:15:30");
  put_scene (b, "d.jpg", 1, 60, "2026:04:03 10:15:32");
  bring_well (b, 0);
  check_counts (b, 4, 0, 0, 0, 0);
  assert_i64_equal (b->report->look_alikes->len, 1);
  pair = b->report->look_alikes->pdata[0];
  assert_string_equal (pair->a, "a.jpg");
  assert_string_equal (pair->b, "b.jpg");
  assert_i64_equal (sw_test_ask (b->bed.catalogue, "SELECT count (*) FROM look_alike"), 1);
}

static void
odd_names_and_odd_things (void **state)
{
  Bed *b = *state;
  char longest[256];
  g_autofree char *path = g_build_filename (b->card, "loop", NULL);
  g_autofree char *dangling = g_build_filename (b->card, "dangling.jpg", NULL);
  g_autofree char *fifo = g_build_filename (b->card, "pipe.jpg", NULL);
  g_autoptr (GPtrArray) list = NULL;

  memset (longest, 'n', 251);
  strcpy (longest + 251, ".jpg");
  photo (b, "two\nlines \"quoted\" \xF0\x9F\x8D\x8E.jpg", "2026:04:03 10:15:30", 1);
  photo (b, longest, "2026:04:03 10:15:31", 2);
  photo (b, "\x1B[31mred.jpg", "2026:04:03 10:15:32", 3);
  photo (b, "latin\xE9.jpg", "2026:04:03 10:15:33", 4);
  photo (b, "CON.jpg", "2026:04:03 10:15:34", 5);
  photo (b, "-rf.jpg", "2026:04:03 10:15:35", 6);
  assert_int_equal (symlink (b->card, path), 0);
  assert_int_equal (symlink ("/nowhere", dangling), 0);
  assert_int_equal (mkfifo (fifo, 0600), 0);
  bring_well (b, 0);
  check_counts (b, 6, 0, 0, 0, 0);
  assert_true (b->report->card_may_be_cleared);
  assert_true (has_remark (b->report->remarked, "loop", "link"));
  assert_true (has_remark (b->report->remarked, "dangling.jpg", "link"));
  assert_true (has_remark (b->report->remarked, "pipe.jpg", "pipe"));
  list = rows (b);
  for (guint i = 0; i < list->len; i++)
    {
      const SwPhoto *p = list->pdata[i];

      assert_true (g_str_is_ascii (p->stored) && strpbrk (p->stored, ":\n\"\\ ") == NULL);
      assert_true (strlen (p->stored) < 100);
    }
}

static void
folders_that_are_none (void **state)
{
  Bed *b = *state;
  g_autofree char *card = g_strdup (b->card);
  g_autofree char *inside = g_build_filename (b->bed.path, "photos", NULL);

  bring_badly (b, 0, SW_ERROR_NOT_FOUND); /* nothing in it */
  put (b, "zero.jpg", "", 0);
  bring_badly (b, 0, SW_ERROR_REFUSED);
  g_free (b->card);
  b->card = g_build_filename (b->bed.folder, "not there", NULL);
  bring_badly (b, 0, SW_ERROR_NOT_FOUND);
  g_free (b->card);
  b->card = g_strdup (b->bed.path);
  bring_badly (b, 0, SW_ERROR_REFUSED);
  g_free (b->card);
  b->card = g_strdup (inside);
  bring_badly (b, 0, SW_ERROR_REFUSED);
  g_free (b->card);
  b->card = g_strdup ("/dev/null");
  bring_badly (b, 0, SW_ERROR_NOT_FOUND);
  g_free (b->card);
  b->card = g_steal_pointer (&card);
}

/* The folder given holds the catalogue itself: what is in that is not brought in. */
static void
a_folder_around_the_catalogue (void **state)
{
  Bed *b = *state;

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  bring_well (b, 0);
  photo (b, "b.jpg", "2026:04:03 10:15:30", 2);
  g_free (b->card);
  b->card = g_strdup (b->bed.folder);
  bring_well (b, 0);
  check_counts (b, 1, 1, 0, 0, 0);
  assert_true (has_remark (b->report->remarked, "Cider works.shedwalk", "catalogue"));
  g_free (b->card);
  b->card = g_build_filename (b->bed.folder, "card", NULL);
}

static void
a_lost_or_damaged_copy_is_put_right (void **state)
{
  Bed *b = *state;
  g_autoptr (GPtrArray) list = NULL;
  g_autofree char *first = NULL;
  g_autofree char *second = NULL;
  struct stat st;

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  photo (b, "b.jpg", "2026:04:03 10:15:31", 2);
  bring_well (b, 0);
  list = rows (b);
  first = g_build_filename (b->bed.path, row_of (list, "a.jpg")->stored, NULL);
  second = g_build_filename (b->bed.path, row_of (list, "b.jpg")->stored, NULL);
  assert_int_equal (g_unlink (first), 0);
  assert_true (g_file_set_contents (second, "no longer a photo", -1, NULL));
  bring_well (b, 0);
  check_counts (b, 0, 2, 0, 0, 0);
  assert_i64_equal (b->report->remarked->len, 2);
  assert_int_equal (stat (first, &st), 0);
  assert_i64_equal (st.st_size, row_of (list, "a.jpg")->size);
  assert_int_equal (stat (second, &st), 0);
  assert_i64_equal (st.st_size, row_of (list, "b.jpg")->size);
}

static void
two_at_once_and_cancel (void **state)
{
  Bed *b = *state;
  g_autofree char *photos = g_build_filename (b->bed.path, "photos", NULL);
  const char *folders[] = { b->card, NULL };
  g_autoptr (GCancellable) cancel = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  int fd = g_open (photos, O_RDONLY | O_DIRECTORY | O_CLOEXEC, 0);

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  assert_int_equal (flock (fd, LOCK_EX), 0);
  bring_badly (b, 0, SW_ERROR_BUSY);
  close (fd);
  g_cancellable_cancel (cancel);
  assert_false (sw_bring_in_run (b->bed.catalogue, folders, NULL, NULL, cancel, b->report, &error));
  sw_test_error (error, SW_ERROR, SW_ERROR_CANCELLED, __FILE__, __LINE__);
  bring_well (b, 0);
  check_counts (b, 1, 0, 0, 0, 0);
}

/* As somebody else than root, who may read everything. */
static void
no_permission (void **state)
{
  Bed *b = *state;
  g_autofree char *secret = g_build_filename (b->card, "secret.jpg", NULL);
  g_autofree char *closed = g_build_filename (b->card, "closed", NULL);
  g_autofree char *within = g_build_filename (closed, "b.jpg", NULL);
  g_autoptr (SwScan) scan = sw_scan_new ();
  g_autoptr (SwScan) none = sw_scan_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) refused = NULL;
  gboolean good, none_good;

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  photo (b, "secret.jpg", "2026:04:03 10:15:30", 2);
  photo (b, "closed/b.jpg", "2026:04:03 10:15:30", 3);
  assert_int_equal (g_chmod (b->bed.folder, 0755), 0);
  assert_int_equal (g_chmod (secret, 0), 0);
  assert_int_equal (g_chmod (closed, 0), 0);
  if (geteuid () == 0)
    assert_int_equal (seteuid (65534), 0);
  good = sw_scan_add (scan, b->card, b->bed.path, NULL, &error);
  none_good = sw_scan_add (none, closed, b->bed.path, NULL, &refused);
  if (getuid () == 0)
    assert_int_equal (seteuid (0), 0);
  assert_int_equal (g_chmod (closed, 0755), 0);
  assert_no_error (error);
  assert_true (good);
  assert_i64_equal (scan->files->len, 1);
  assert_i64_equal (scan->refused->len, 2);
  assert_false (none_good);
  sw_test_error (refused, SW_ERROR, SW_ERROR_REFUSED, __FILE__, __LINE__);
}

static void
a_catalogue_for_reading_only (void **state)
{
  Bed *b = *state;

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  sw_catalogue_close (b->bed.catalogue);
  b->bed.catalogue = sw_test_open (b->bed.path, SW_OPEN_READ_ONLY);
  bring_badly (b, 0, SW_ERROR_READ_ONLY);
  assert_i64_equal (stored_files (b), 0);
}

/* The window's way: the pieces run on the catalogue thread. */
static void
on_the_catalogue_thread (void **state)
{
  Bed *b = *state;
  const char *folders[] = { b->card, NULL };
  SwBringInProgress progress = { 0 };
  SwWorker *worker = sw_worker_new (b->bed.path);
  g_autoptr (SwBringInReport) report = sw_bring_in_report_new ();
  g_autoptr (SwBringInReport) none = sw_bring_in_report_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) no_trip = NULL;
  SwBringInOptions options = { .trip = 9 };
  gint64 done, total;
  gboolean good;

  photo (b, "a.jpg", "2026:04:03 10:15:30", 1);
  photo (b, "b.jpg", "2026:04:03 10:15:31", 2);
  assert_false (sw_bring_in_run_on_worker (worker, folders, &options, NULL, NULL, none, &no_trip));
  sw_test_error (no_trip, SW_ERROR, SW_ERROR_NOT_FOUND, __FILE__, __LINE__);
  good = sw_bring_in_run_on_worker (worker, folders, NULL, &progress, NULL, report, &error);
  assert_no_error (error);
  assert_true (good);
  assert_i64_equal (report->taken, 2);
  sw_bring_in_progress_bytes (&progress, &done, &total);
  assert_true (done == total && total > 0);
  assert_i64_equal (progress.files_done, 2);
  assert_i64_equal (progress.stage, SW_BRING_IN_DONE);
  sw_worker_free (worker);
}

/* Cut off behind its header, which holds a whole small picture as cameras put one there. */
static void
a_cut_photo_is_remarked (void **state)
{
  Bed *b = *state;
  g_autofree guint8 *rgb = g_malloc0 (640 * 480 * 3);
  ExifFields f
      = { .orientation = 1, .original = "2026:04:03 10:15:30", .make = "\xFF\xD8 small \xFF\xD9" };
  g_autoptr (GByteArray) block = exif_block_write (&f, FALSE);
  g_autoptr (GByteArray) file = NULL;

  for (int i = 0; i < 640 * 480 * 3; i++)
    rgb[i] = (guint8)(i * 7 % 251);
  file = photo_jpeg_write (block, rgb, 640, 480, 90);
  put (b, "whole.jpg", file->data, file->len);
  put (b, "cut.jpg", file->data, file->len / 2);
  put (b, "header.jpg", file->data, block->len + 12);
  bring_well (b, 0);
  check_counts (b, 3, 0, 0, 0, 0);
  assert_false (has_remark (b->report->remarked, "whole.jpg", ""));
  assert_true (has_remark (b->report->remarked, "cut.jpg", "cut short"));
  assert_true (has_remark (b->report->remarked, "header.jpg", "no picture"));
}

/* Times of the night on which the clocks go back, and of the one on which they go forward (IANA tz,
 * Pacific/Auckland, 2026-04-05 and 2026-09-27). */
static void
fold_and_gap_are_marked (void **state)
{
  Bed *b = *state;

  photo (b, "fold.jpg", "2026:04:05 02:30:00", 1);
  photo (b, "gap.jpg", "2026:09:27 02:30:00", 2);
  bring_well (b, 0);
  assert_true (has_remark (b->report->remarked, "fold.jpg", "twice"));
  assert_true (has_remark (b->report->remarked, "gap.jpg", "never was"));
}

static GBytes *
stored_small (SwThumbs *thumbs, const SwPhoto *photo)
{
  SwThumbFirst first = { .hash = photo->hash, .stored = photo->stored };

  sw_thumbs_first (thumbs, &first, 1, SW_THUMB_SMALL);
  assert_null (first.stand_in); /* these photos carry none */
  assert_false (first.failed);
  return first.jpeg;
}

static void
thumbnails_of_what_came_in (void **state)
{
  Bed *b = *state;
  SwThumbs *thumbs;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GPtrArray) after = NULL;
  g_autoptr (GBytes) small = NULL;
  g_autoptr (GCancellable) stopped = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  const SwPhoto *p;
  int made = 0, done = 0, total = 0;
  gboolean good;

  put_scene (b, "a.jpg", 1, 95, "2026:04:03 10:15:30");
  put_scene (b, "b.jpg", 2, 95, "2026:04:03 10:16:30");
  put (b, "cut.jpg", "\xFF\xD8\xFF\xE0\0\x10JFIF", 10);
  bring_well (b, 0);
  thumbs = sw_thumbs_new (b->bed.path, NULL);
  list = rows (b);
  p = row_of (list, "a.jpg");
  assert_null (stored_small (thumbs, p));
  g_cancellable_cancel (stopped);
  assert_false (
      sw_thumbs_make_missing (thumbs, b->bed.catalogue, 0, NULL, NULL, stopped, &made, &error));
  assert_sw_error (error, SW_ERROR_CANCELLED);
  g_clear_error (&error);
  assert_i64_equal (made, 0);
  good = sw_thumbs_make_missing (thumbs, b->bed.catalogue, 0, &done, &total, NULL, &made, &error);
  assert_no_error (error);
  assert_true (good);
  assert_i64_equal (made, 2);
  assert_i64_equal (done, 3);
  assert_i64_equal (total, 3);
  small = stored_small (thumbs, p);
  assert_true (small != NULL && memcmp (g_bytes_get_data (small, NULL), "\xFF\xD8\xFF", 3) == 0);
  after = rows (b);
  assert_non_null (row_of (after, "a.jpg")->likeness);
  assert_true (row_of (after, "a.jpg")->sharpness > 0);
  /* what cannot be decoded is not tried again */
  assert_true (
      sw_thumbs_make_missing (thumbs, b->bed.catalogue, 0, NULL, &total, NULL, &made, NULL));
  assert_i64_equal (total, 0);
  p = row_of (after, "cut.jpg");
  assert_null (sw_thumbs_get (thumbs, p->hash, p->stored, 1, SW_THUMB_SMALL, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  sw_thumbs_free (thumbs);
}

/* Time left counts on a clock that neither a set clock nor a sleep moves; whatever it reads, the
 * answer stays sane. Seconds ago, bytes done, bytes in all. */
static void
time_left_stays_sane (void **state)
{
  static const struct
  {
    double ago;
    gint64 done, total;
    int least, most;
  } rows[] = {
    { 10, 50, 100, 9, 11 },
    { 10, 100, 100, 0, 0 },
    { 10, 200, 100, 0, 0 },
    { 10, 0, 100, -1, -1 },
    { -10, 50, 100, -1, -1 }, /* begun in the future */
    { 0.1, 50, 100, -1, -1 }, /* too early to say */
    { 1e6, 1, G_MAXINT64, G_MAXINT, G_MAXINT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      SwBringInProgress progress = { .bytes_done = rows[i].done, .bytes_total = rows[i].total };
      int left;

      progress.copying_since_us = g_get_monotonic_time () - (gint64)(rows[i].ago * G_USEC_PER_SEC);
      left = sw_bring_in_progress_seconds_left (&progress);
      assert_in_range ((gint64)left + 1, (gint64)rows[i].least + 1, (gint64)rows[i].most + 1);
    }
}

int
main (int argc, char **argv)
{
#define CASE(name) cmocka_unit_test_setup_teardown (name, setup, teardown)
  const struct CMUnitTest tests[] = {
    CASE (a_card),
    CASE (the_copy_is_the_same_and_the_source_unchanged),
    CASE (again_takes_nothing),
    CASE (undone_and_taken_back),
    CASE (trips_by_word),
    CASE (companions_go_with_their_photo),
    CASE (companions_that_came_before_their_photo),
    CASE (look_alikes_are_pointed_out),
    CASE (odd_names_and_odd_things),
    CASE (folders_that_are_none),
    CASE (a_folder_around_the_catalogue),
    CASE (a_lost_or_damaged_copy_is_put_right),
    CASE (two_at_once_and_cancel),
    CASE (no_permission),
    CASE (a_catalogue_for_reading_only),
    CASE (on_the_catalogue_thread),
    CASE (a_cut_photo_is_remarked),
    CASE (fold_and_gap_are_marked),
    CASE (thumbnails_of_what_came_in),
    CASE (time_left_stays_sane),
  };

  /* the decoder starts this very program */
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (0, 1);
  return cmocka_run_group_tests_name ("bring-in", tests, NULL, NULL);
}
