/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bring-in that is killed, runs out of disk, meets a failing flush or loses its card, at every
 * step in turn. After each: nothing is lost or doubled, the check finds no fault, and bringing in
 * again ends as if nothing had happened. The calls that write are wrapped at link time (--wrap) and
 * counted. */
#include "../unit/sw-test-catalogue.h"

#include <errno.h>
#include <signal.h>
#include <sys/wait.h>
#include <utime.h>

#include "core/catalogue/check.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/trips.h"
#include "core/intake/bring-in.h"
#include "core/intake/decode-helper.h"
#include "exif-writer.h"

#define N_PHOTOS 9
#define N_FILES (N_PHOTOS + 1) /* and a clip */

/* --- the wrapped calls --- */

static struct
{
  int kill_at;          /* the call at which this process dies; 0: never */
  gint64 full_after;    /* bytes that the disk takes; -1: any number */
  gboolean flush_fails; /* once */
  int card_gone_at;     /* the call at which the card is pulled out; 0: never */
  const char *card;
  int calls;
  gint64 bytes;
} fault = { .full_after = -1 };

ssize_t __real_write (int fd, const void *bytes, size_t n);
ssize_t __wrap_write (int fd, const void *bytes, size_t n);
int __real_syncfs (int fd);
int __wrap_syncfs (int fd);
int __real_fsync (int fd);
int __wrap_fsync (int fd);
int __real_renameat2 (int a, const char *from, int b, const char *to, unsigned int flags);
int __wrap_renameat2 (int a, const char *from, int b, const char *to, unsigned int flags);

static void
count_call (void)
{
  int n = g_atomic_int_add (&fault.calls, 1) + 1;

  if (n == fault.kill_at)
    kill (getpid (), SIGKILL);
  if (n == fault.card_gone_at)
    {
      g_autofree char *away = g_strconcat (fault.card, ".away", NULL);

      assert_int_equal (g_rename (fault.card, away), 0);
    }
}

ssize_t
__wrap_write (int fd, const void *bytes, size_t n)
{
  gint64 written;

  count_call ();
  written = __atomic_add_fetch (&fault.bytes, (gint64)n, __ATOMIC_RELAXED);
  if (fault.full_after >= 0 && written > fault.full_after)
    {
      errno = ENOSPC;
      return -1;
    }
  return __real_write (fd, bytes, n);
}

int
__wrap_syncfs (int fd)
{
  count_call ();
  if (!fault.flush_fails)
    return __real_syncfs (fd);
  fault.flush_fails = FALSE;
  errno = EIO;
  return -1;
}

int
__wrap_fsync (int fd)
{
  count_call ();
  return __real_fsync (fd);
}

int
__wrap_renameat2 (int a, const char *from, int b, const char *to, unsigned int flags)
{
  count_call ();
  return __real_renameat2 (a, from, b, to, flags);
}

static void
no_fault (void)
{
  memset (&fault, 0, sizeof fault);
  fault.full_after = -1;
}

/* --- the bed --- */

typedef struct
{
  SwTestBed bed;
  char *card;
  SwBringInReport *report;
} Bed;

static void
write_card (const char *card)
{
  static const char clip[] = "\0\0\0\x14"
                             "ftypqt  \0\0\0\0qt  moving";
  g_autofree char *clip_path = g_build_filename (card, "IMG_1.MOV", NULL);

  assert_int_equal (g_mkdir (card, 0755), 0);
  for (int i = 0; i < N_PHOTOS; i++)
    {
      g_autofree char *name = g_strdup_printf ("%s/IMG_%d.JPG", card, i);
      g_autofree char *time = g_strdup_printf ("2026:04:%02d 10:15:%02d", 3 + i / 5, i);
      ExifFields f
          = { .orientation = 1, .make = "Kettle & Lamp", .model = "KL-7", .original = time };
      g_autoptr (GByteArray) file = photo_file_write (FORM_JPEG, &f);

      assert_true (g_file_set_contents (name, (char *)file->data, file->len, NULL));
    }
  assert_true (g_file_set_contents (clip_path, clip, sizeof clip - 1, NULL));
  assert_int_equal (g_utime (clip_path, &(struct utimbuf){ 1775211300, 1775211300 }), 0);
}

static Bed
bed_new (void)
{
  Bed b = { 0 };

  no_fault ();
  b.bed = sw_test_bed_new ();
  b.card = g_build_filename (b.bed.folder, "card", NULL);
  write_card (b.card);
  assert_true (sw_trip_add (b.bed.catalogue, "First", sw_day_from_ymd (2026, 4, 1),
                            sw_day_from_ymd (2026, 4, 3), NULL, NULL));
  return b;
}

static void
bed_clear (Bed *b)
{
  no_fault ();
  sw_bring_in_report_free (b->report);
  sw_test_bed_clear (&b->bed);
  g_free (b->card);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Bed, bed_clear)

static gboolean
bring (Bed *b, GError **error)
{
  const char *folders[] = { b->card, NULL };
  SwBringInOptions options = { .threads = 2 };

  sw_bring_in_report_free (b->report);
  b->report = sw_bring_in_report_new ();
  return sw_bring_in_run (b->bed.catalogue, folders, &options, NULL, NULL, b->report, error);
}

/* The check finds no fault; 'half_done' tells whether it may find work of an open bring-in. */
static void
check_sound (Bed *b, gboolean half_done)
{
  g_auto (SwCheckReport) report = { 0 };
  g_autoptr (GError) error = NULL;

  assert_true (sw_check_run (b->bed.catalogue, NULL, &report, &error));
  assert_no_error (error);
  for (guint i = 0; i < report.faults->len; i++)
    print_error ("fault: %s\n", (char *)report.faults->pdata[i]);
  assert_int_equal (report.faults->len, 0);
  if (!half_done)
    for (guint i = 0; i < report.remarks->len; i++)
      print_error ("remark: %s\n", (char *)report.remarks->pdata[i]);
  assert_true (half_done || report.remarks->len == 0);
}

static int
by_text (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

/* All that a bring-in leaves, as text: the same after any history. */
static char *
state_of (Bed *b)
{
  g_autoptr (GPtrArray) list = sw_photo_list (b->bed.catalogue, 0, TRUE, NULL);
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);
  GString *all = g_string_new (NULL);

  for (guint i = 0; i < list->len; i++)
    {
      const SwPhoto *p = list->pdata[i];

      g_ptr_array_add (lines, g_strdup_printf ("%s %s %s %s trip %d clock %" G_GINT64_FORMAT
                                               " companion %d aside %d\n",
                                               p->file, p->kind, p->stored, p->hash, (int)p->trip,
                                               p->clock_us, p->companion_of != 0, p->aside));
    }
  g_ptr_array_sort (lines, by_text);
  for (guint i = 0; i < lines->len; i++)
    g_string_append (all, lines->pdata[i]);
  return g_string_free (all, FALSE);
}

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

/* cmocka cuts long texts: names the first line that differs. */
static void
assert_same_lines (const char *a, const char *b)
{
  g_auto (GStrv) left = g_strsplit (a, "\n", -1), right = g_strsplit (b, "\n", -1);

  for (guint i = 0; left[i] != NULL || right[i] != NULL; i++)
    {
      assert_non_null (left[i]);
      assert_non_null (right[i]);
      assert_string_equal (left[i], right[i]);
    }
}

/* Brings in again and compares with a catalogue that was never disturbed. */
static void
ends_as_if_never (Bed *b, const char *undisturbed, gboolean counts_all)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *photos = g_build_filename (b->bed.path, "photos", NULL);
  g_autofree char *state = NULL;
  gboolean good;

  no_fault ();
  good = bring (b, &error);
  assert_no_error (error);
  assert_true (good);
  assert_true (b->report->card_may_be_cleared);
  if (counts_all)
    {
      assert_i64_equal (b->report->taken, N_PHOTOS);
      assert_i64_equal (b->report->companions, 1);
    }
  assert_i64_equal (b->report->taken + b->report->companions + b->report->already_there, N_FILES);
  state = state_of (b);
  assert_same_lines (state, undisturbed);
  assert_i64_equal (count_files (photos), N_FILES);
  check_sound (b, FALSE);
}

static char *
undisturbed_state (void)
{
  g_auto (Bed) b = bed_new ();

  assert_true (bring (&b, NULL));
  assert_i64_equal (b.report->taken, N_PHOTOS);
  check_sound (&b, FALSE);
  return state_of (&b);
}

/* --- the tests --- */

/* Runs this program as a bring-in that dies at call 'at'; TRUE if it died. */
static gboolean
run_and_die (Bed *b, int at)
{
  g_autofree char *number = g_strdup_printf ("%d", at);
  const char *argv[] = { "/proc/self/exe", "--bring", b->bed.path, b->card, number, NULL };
  g_autoptr (GError) error = NULL;
  int status = 0;

  assert_true (g_spawn_sync (NULL, (char **)argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL,
                             &status, &error));
  assert_true (WIFSIGNALED (status) || WEXITSTATUS (status) == 0);
  return WIFSIGNALED (status);
}

static void
killed_at_every_step (void **state)
{
  g_autofree char *undisturbed = undisturbed_state ();
  int at = 1;

  for (gboolean died = TRUE; died; at++)
    {
      g_auto (Bed) b = bed_new ();

      died = run_and_die (&b, at);
      sw_test_reopen (&b.bed);
      check_sound (&b, died);
      ends_as_if_never (&b, undisturbed, died);
    }
  /* each file is written and renamed, and the batch flushed: less would mean that the wrapping
   * failed */
  assert_true (at > 2 * N_FILES);
}

static void
killed_twice_in_a_row (void **state)
{
  g_autofree char *undisturbed = undisturbed_state ();

  for (int at = 3; at < 24; at += 5)
    {
      g_auto (Bed) b = bed_new ();

      assert_true (run_and_die (&b, at));
      run_and_die (&b, at + 3);
      sw_test_reopen (&b.bed);
      check_sound (&b, TRUE);
      ends_as_if_never (&b, undisturbed, FALSE);
    }
}

static void
full_disk_at_every_file (void **state)
{
  g_autofree char *undisturbed = undisturbed_state ();
  gboolean full = TRUE;
  gint64 last = -1;

  for (gint64 limit = 0; full; limit += 400)
    {
      g_auto (Bed) b = bed_new ();
      g_autoptr (GError) error = NULL;
      gint64 kept;

      fault.full_after = fault.bytes + limit;
      full = !bring (&b, &error);
      if (!full)
        break;
      sw_test_error (error, SW_ERROR, SW_ERROR_NO_SPACE, __FILE__, __LINE__);
      assert_false (b.report->card_may_be_cleared);
      assert_non_null (b.report->why_not);
      kept = b.report->taken + b.report->companions;
      assert_true (kept < N_FILES);
      last = MAX (last, kept);
      check_sound (&b, FALSE);
      ends_as_if_never (&b, undisturbed, FALSE);
      assert_i64_equal (b.report->already_there, kept);
    }
  assert_true (last >= N_FILES / 2);
}

static void
a_flush_that_fails (void **state)
{
  g_autofree char *undisturbed = undisturbed_state ();
  g_auto (Bed) b = bed_new ();
  g_autoptr (GError) error = NULL;

  fault.flush_fails = TRUE;
  assert_false (bring (&b, &error));
  sw_test_error (error, SW_ERROR, SW_ERROR_FAILED, __FILE__, __LINE__);
  assert_false (b.report->card_may_be_cleared);
  check_sound (&b, TRUE);
  ends_as_if_never (&b, undisturbed, TRUE);
}

static void
a_card_pulled_out (void **state)
{
  g_autofree char *undisturbed = undisturbed_state ();

  for (int at = 1; at <= N_FILES - 3; at++)
    {
      g_auto (Bed) b = bed_new ();
      g_autoptr (GError) error = NULL;
      g_autofree char *away = g_strconcat (b.card, ".away", NULL);

      fault.card = b.card;
      fault.card_gone_at = fault.calls + at;
      if (bring (&b, &error))
        print_error ("nothing was said of a card gone at call %d\n", at);
      sw_test_error (error, SW_ERROR, SW_ERROR_FAILED, __FILE__, __LINE__);
      assert_non_null (strstr (error->message, "went away"));
      assert_int_equal (b.report->refused->len, 0);
      assert_false (b.report->card_may_be_cleared);
      check_sound (&b, FALSE);
      assert_int_equal (g_rename (away, b.card), 0);
      ends_as_if_never (&b, undisturbed, FALSE);
    }
}

/* The other side of --bring: never returns to the tests. */
static int
bring_and_die (const char *catalogue, const char *card, int at)
{
  g_autoptr (SwCatalogue) open = sw_catalogue_open (catalogue, SW_OPEN_READ_WRITE, NULL);
  g_autoptr (SwBringInReport) report = sw_bring_in_report_new ();
  const char *folders[] = { card, NULL };
  SwBringInOptions options = { .threads = 2 };

  fault.kill_at = fault.calls + at;
  return open != NULL && sw_bring_in_run (open, folders, &options, NULL, NULL, report, NULL) ? 0
                                                                                             : 1;
}

int
main (int argc, char **argv)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (killed_at_every_step),    cmocka_unit_test (killed_twice_in_a_row),
    cmocka_unit_test (full_disk_at_every_file), cmocka_unit_test (a_flush_that_fails),
    cmocka_unit_test (a_card_pulled_out),
  };

  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (0, 1);
  if (argc == 5 && strcmp (argv[1], "--bring") == 0)
    return bring_and_die (argv[2], argv[3], atoi (argv[4]));
  return cmocka_run_group_tests_name ("bring-in-faults", tests, NULL, NULL);
}
