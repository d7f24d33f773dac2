/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An archive from elsewhere: a sound one in which one file is another, its checksum too, as
 * somebody would who means harm. The first byte says which file, the second whether the rest stands
 * in its place (0) or is put into it at the place that the third and fourth say. A catalogue comes
 * of it that opens, or nothing. */
#include "target.h"

#include "core/catalogue/archive.h"
#include "core/catalogue/folder.h"
#include "sw-test-money.h"

static SwTestBed bed;
static char *archive, *made;
static GHashTable
    *sums; /* file -> line of its checksum; the bytes of the sound one are in 'sound' */
static GHashTable *sound; /* file -> GBytes */
static GPtrArray *files;  /* in byte order */

static void
clean_up (void)
{
  g_hash_table_unref (sums);
  g_hash_table_unref (sound);
  g_ptr_array_unref (files);
  g_free (archive);
  g_free (made);
  sw_test_bed_clear (&bed);
  sw_test_property_end ();
}

static void
put (const char *name, const void *bytes, gsize n)
{
  g_autofree char *path = g_build_filename (archive, name, NULL);

  if (!g_file_set_contents_full (path, bytes, (gssize)n, G_FILE_SET_CONTENTS_NONE, 0600, NULL))
    abort ();
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *)a, *(const char *const *)b);
}

static void
keep (const char *name)
{
  g_autofree char *path = g_build_filename (archive, name, NULL);
  char *bytes = NULL;
  gsize n = 0;

  if (!g_file_get_contents (path, &bytes, &n, NULL))
    abort ();
  g_hash_table_insert (sound, g_strdup (name), g_bytes_new_take (bytes, n));
  g_ptr_array_add (files, g_strdup (name));
}

/* Its own list says what is in it. */
static void
keep_all (void)
{
  g_autofree char *path = g_build_filename (archive, "checksums.sha256", NULL);
  g_autofree char *text = NULL;

  if (!g_file_get_contents (path, &text, NULL, NULL))
    abort ();
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    if (strlen (*line) > 66)
      {
        keep (*line + 66);
        g_hash_table_insert (sums, g_strdup (*line + 66), g_strdup (*line));
      }
  g_ptr_array_sort (files, by_name);
  keep ("checksums.sha256");
}

static void
make_sound (void)
{
  bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  sw_test_add_photo (bed.catalogue, "a.jpg");
  archive = g_build_filename (bed.folder, "archive", NULL);
  made = g_build_filename (bed.folder, "Made.shedwalk", NULL);
  sums = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  sound = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify)g_bytes_unref);
  files = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (SwArchive) writing = sw_archive_begin (bed.catalogue, archive, NULL);
  if (writing == NULL || !sw_archive_finish (writing, NULL, NULL, NULL, NULL))
    abort ();
  keep_all ();
  atexit (clean_up);
}

/* The sound list with one line made to fit. */
static void
put_sums (const char *name, GBytes *changed)
{
  g_autofree char *digits = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, changed);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i + 1 < files->len; i++)
    if (g_str_equal (files->pdata[i], name))
      g_string_append_printf (text, "%s  %s\n", digits, name);
    else
      g_string_append_printf (text, "%s\n", (char *)g_hash_table_lookup (sums, files->pdata[i]));
  put ("checksums.sha256", text->str, text->len);
}

static GBytes *
change (GBytes *was, const uint8_t *data, size_t size)
{
  gsize n = 0;
  const guint8 *bytes = g_bytes_get_data (was, &n);
  g_autoptr (GByteArray) now = g_byte_array_new ();

  if (size < 3 || data[0] == 0)
    return g_bytes_new (data + 1, size > 1 ? size - 1 : 0);
  gsize at = MIN ((gsize)(data[1] | data[2] << 8), n), rest = MIN (at + size - 3, n);
  g_byte_array_append (now, bytes, (guint)at);
  g_byte_array_append (now, data + 3, (guint)(size - 3));
  g_byte_array_append (now, bytes + rest, (guint)(n - rest));
  return g_byte_array_free_to_bytes (g_steal_pointer (&now));
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  SwArchiveReport report = { 0 };

  if (archive == NULL)
    make_sound ();
  if (size < 2)
    return 0;
  const char *name = files->pdata[data[0] % files->len];
  GBytes *was = g_hash_table_lookup (sound, name);
  g_autoptr (GBytes) changed = change (was, data + 1, size - 1);
  put_sums (name, changed);
  put (name, g_bytes_get_data (changed, NULL), g_bytes_get_size (changed));
  gboolean good = sw_archive_read (archive, made, NULL, &report, &error);
  put (name, g_bytes_get_data (was, NULL), g_bytes_get_size (was));
  if (good != (error == NULL) || good != g_file_test (made, G_FILE_TEST_EXISTS))
    abort ();
  if (good)
    {
      g_autoptr (SwCatalogue) catalogue = sw_catalogue_open (made, SW_OPEN_READ_WRITE, &error);
      if (catalogue == NULL)
        abort ();
    }
  sw_folder_remove (made);
  return 0;
}
