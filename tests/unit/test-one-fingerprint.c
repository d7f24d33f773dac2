/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files that differ and have one fingerprint: the hash that names photos is quick and not made
 * against an adversary (XXH3, Y. Collet), so somebody can make such files. Here every file has the
 * same one. Both are kept, each with its bytes; and again on a disk that cannot rename without
 * overwriting (renameat2(2): EINVAL where RENAME_NOREPLACE is not known). */
#include "sw-test-card.h"

#include "core/catalogue/backup.h"
#include "core/catalogue/check.h"
#include "core/catalogue/photos.h"

#include <errno.h>
#include <stdio.h>

XXH128_hash_t __wrap_XXH3_128bits_digest (const XXH3_state_t *state);
int __wrap_renameat2 (int from_fd, const char *from, int to_fd, const char *to, unsigned flags);
int __real_renameat2 (int from_fd, const char *from, int to_fd, const char *to, unsigned flags);

static gboolean plain_renames_only;

XXH128_hash_t
__wrap_XXH3_128bits_digest (const XXH3_state_t *state G_GNUC_UNUSED)
{
  return (XXH128_hash_t){ .low64 = 0x0123456789abcdefu, .high64 = 0xfedcba9876543210u };
}

int
__wrap_renameat2 (int from_fd, const char *from, int to_fd, const char *to, unsigned flags)
{
  if (!plain_renames_only || flags == 0)
    return __real_renameat2 (from_fd, from, to_fd, to, flags);
  errno = EINVAL;
  return -1;
}

static void
bring_in (Bed *b)
{
  g_autoptr (GError) error = NULL;
  const char *const folders[] = { b->card, NULL };

  g_clear_pointer (&b->report, sw_bring_in_report_free);
  b->report = sw_bring_in_report_new ();
  sw_bring_in_run (b->bed.catalogue, folders, NULL, NULL, NULL, b->report, &error);
  assert_no_error (error);
  assert_true (b->report->card_may_be_cleared);
}

static void
assert_same_bytes (const char *left, const char *right)
{
  g_autofree char *a = NULL, *b = NULL;
  gsize n_a = 0, n_b = 0;

  assert_true (g_file_get_contents (left, &a, &n_a, NULL));
  assert_true (g_file_get_contents (right, &b, &n_b, NULL));
  assert_i64_equal (n_a, n_b);
  assert_memory_equal (a, b, n_a);
}

/* Each row's file holds what its file on the card holds. */
static void
assert_kept (Bed *b, guint n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) photos = sw_photo_list (b->bed.catalogue, 0, FALSE, &error);

  assert_no_error (error);
  assert_int_equal (photos->len, n);
  for (guint i = 0; i < n; i++)
    {
      const SwPhoto *photo = g_ptr_array_index (photos, i);
      g_autofree char *name = g_path_get_basename (photo->file);
      g_autofree char *on_card = g_build_filename (b->card, name, NULL);
      g_autofree char *kept = sw_catalogue_path (b->bed.catalogue, photo->stored);

      assert_same_bytes (on_card, kept);
    }
}

typedef struct
{
  const char *label;
  gboolean plain_renames_only;
} Disk;

static const Disk disks[] = {
  { "a disk that can rename without overwriting", FALSE },
  { "a disk that cannot", TRUE },
};

static void
test_both_are_kept (void **state)
{
  Bed *b = sw_test_card_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwCheckReport) report = { 0 };

  plain_renames_only = ((const Disk *)*state)->plain_renames_only;
  photo (b, "A.jpg", "2026:04:03 10:00:00", 1);
  photo (b, "B.jpg", "2026:04:03 10:00:09", 2);
  photo (b, "C.jpg", "2026:04:03 10:00:20", 3);
  bring_in (b);
  assert_i64_equal (b->report->taken, 3);
  assert_kept (b, 3);
  /* the same card again, and one more */
  photo (b, "D.jpg", "2026:04:03 10:00:31", 4);
  bring_in (b);
  assert_i64_equal (b->report->taken, 1);
  assert_i64_equal (b->report->already_there, 3);
  assert_kept (b, 4);
  assert_true (sw_check_run (b->bed.catalogue, NULL, &report, &error));
  assert_int_equal (report.faults->len, 0);
  sw_test_card_free (b);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_both_are_kept, disks);
  return sw_tests_run (tests, "one-fingerprint");
}
