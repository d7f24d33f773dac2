/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Folders and files that are made whole or not at all: what a killed try left is cleared away, what
 * another still makes is not, and a failed try leaves nothing. */
#include "sw-test-catalogue.h"

#include "core/catalogue/folder.h"

typedef struct
{
  char *top, *folder;
} Bed;

static Bed
bed_new (void)
{
  Bed bed = { g_dir_make_tmp ("sw-folder-XXXXXX", NULL), NULL };

  assert_non_null (bed.top);
  bed.folder = g_build_filename (bed.top, "pack", NULL);
  return bed;
}

static void
bed_clear (Bed *bed)
{
  sw_test_remove_tree (bed->top);
  g_free (bed->top);
  g_free (bed->folder);
}

static guint
names_in (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  guint n = 0;

  while (g_dir_read_name (dir) != NULL)
    n++;
  return n;
}

/* The lock is closed without the part being placed, as the kernel does for a process that is
 * killed. */
static void
what_a_killed_try_left_goes (void **state)
{
  Bed bed = bed_new ();
  g_autoptr (GError) error = NULL;
  int lock = -1, again = -1;
  g_autofree char *left = sw_folder_part_make (bed.folder, &lock, &error);
  g_autofree char *inner = g_build_filename (left, "photo-01.jpg", NULL);

  assert_no_error (error);
  assert_true (g_file_set_contents (inner, "half", 4, NULL));
  close (lock);
  g_autofree char *part = sw_folder_part_make (bed.folder, &again, &error);
  assert_no_error (error);
  assert_false (g_file_test (left, G_FILE_TEST_EXISTS));
  assert_true (sw_folder_part_place (part, again, bed.folder, &error));
  assert_no_error (error);
  assert_true (g_file_test (bed.folder, G_FILE_TEST_IS_DIR));
  assert_i64_equal (names_in (bed.top), 1);
  bed_clear (&bed);
}

static void
what_another_makes_stays (void **state)
{
  Bed bed = bed_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *elsewhere = g_build_filename (bed.top, "archive", NULL);
  int theirs = -1, other = -1, ours = -1;
  g_autofree char *busy = sw_folder_part_make (bed.folder, &theirs, &error);
  g_autofree char *of_another = sw_folder_part_make (elsewhere, &other, &error);
  g_autofree char *part = NULL;

  close (other); /* left, but by a try at another folder */
  part = sw_folder_part_make (bed.folder, &ours, &error);
  assert_no_error (error);
  assert_true (g_file_test (busy, G_FILE_TEST_IS_DIR));
  assert_true (g_file_test (of_another, G_FILE_TEST_IS_DIR));
  assert_true (g_file_test (part, G_FILE_TEST_IS_DIR));
  close (theirs);
  close (ours);
  bed_clear (&bed);
}

/* Somebody put a folder there meanwhile: theirs stays as it is, and nothing of ours is left. */
static void
a_place_that_is_taken (void **state)
{
  Bed bed = bed_new ();
  g_autoptr (GError) error = NULL;
  int lock = -1;
  g_autofree char *part = sw_folder_part_make (bed.folder, &lock, &error);
  g_autofree char *theirs = g_build_filename (bed.folder, "theirs", NULL);

  assert_int_equal (g_mkdir (bed.folder, 0700), 0);
  assert_true (g_file_set_contents (theirs, "theirs", -1, NULL));
  assert_false (sw_folder_part_place (part, lock, bed.folder, &error));
  assert_true (error->domain == SW_ERROR && sw_test_is_sentence (error->message));
  assert_contains (error->message, bed.folder);
  assert_null (strstr (error->message, ".part"));
  assert_false (g_file_test (part, G_FILE_TEST_EXISTS));
  assert_true (g_file_test (theirs, G_FILE_TEST_IS_REGULAR));
  bed_clear (&bed);
}

static void
no_folder_to_make_it_in (void **state)
{
  Bed bed = bed_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *nowhere = g_build_filename (bed.top, "nowhere", "pack", NULL);
  int lock = -1;

  assert_null (sw_folder_part_make (nowhere, &lock, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_contains (error->message, nowhere);
  bed_clear (&bed);
}

/* A folder stands where the file is to come: the file is not written, and no half of it either. */
static void
a_file_in_a_folders_place (void **state)
{
  Bed bed = bed_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *file = g_build_filename (bed.folder, "offer.txt", NULL);

  assert_int_equal (g_mkdir (bed.folder, 0700), 0);
  assert_true (sw_file_put (file, "one", 3, 0600, "The offer", &error));
  assert_true (sw_file_put (file, "two", 3, 0600, "The offer", &error));
  assert_no_error (error);
  assert_i64_equal (names_in (bed.folder), 1);
  assert_false (sw_file_put (bed.folder, "three", 5, 0600, "The offer", &error));
  assert_non_null (error);
  assert_true (g_str_has_prefix (error->message, "The offer"));
  assert_i64_equal (names_in (bed.top), 1);
  bed_clear (&bed);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, what_a_killed_try_left_goes);
  SW_TEST (tests, what_another_makes_stays);
  SW_TEST (tests, a_place_that_is_taken);
  SW_TEST (tests, no_folder_to_make_it_in);
  SW_TEST (tests, a_file_in_a_folders_place);
  return sw_tests_run (tests, "folder");
}
