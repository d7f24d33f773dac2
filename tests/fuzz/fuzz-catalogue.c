/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A catalogue's database from elsewhere: a sound one with bytes changed, five for each change
 * (three where, one how many, one what). It opens and is checked, or is refused with a sentence. */
#include "target.h"

#include "core/catalogue/check.h"
#include "core/catalogue/items.h"
#include "sw-test-money.h"

#define CHANGE 5

static SwTestBed bed;
static char *sound;
static gsize sound_size;

static void
clean_up (void)
{
  g_free (sound);
  sw_test_bed_clear (&bed);
}

static char *
database (void)
{
  return g_build_filename (bed.path, SW_DATABASE_NAME, NULL);
}

/* Closed, so that all of it lies in one file. */
static void
make_sound (void)
{
  g_autofree char *path = NULL;

  bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL PRESS, NULL);
  g_clear_pointer (&bed.catalogue, sw_catalogue_close);
  path = database ();
  if (!g_file_get_contents (path, &sound, &sound_size, NULL))
    abort ();
  atexit (clean_up);
}

static void
write_changed (const uint8_t *data, size_t size)
{
  static const char *const tails[] = { "-wal", "-shm", "-journal" };
  g_autofree char *path = database ();
  g_autofree char *changed = g_memdup2 (sound, sound_size);

  for (size_t i = 0; i + CHANGE <= size; i += CHANGE)
    {
      gsize at = (gsize)(data[i] | data[i + 1] << 8 | data[i + 2] << 16) % sound_size;
      gsize n = MIN (data[i + 3], sound_size - at);

      memset (changed + at, data[i + 4], n);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (tails); i++)
    {
      g_autofree char *beside = g_strconcat (path, tails[i], NULL);

      g_remove (beside);
    }
  if (!g_file_set_contents_full (path, changed, (gssize)sound_size, G_FILE_SET_CONTENTS_NONE,
                                 SW_FILE_MODE, NULL))
    abort ();
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (GError) error = NULL;

  if (sound == NULL)
    make_sound ();
  write_changed (data, size);
  catalogue = sw_catalogue_open (bed.path, SW_OPEN_READ_WRITE, &error);
  if ((catalogue == NULL) != (error != NULL))
    abort ();
  if (catalogue != NULL)
    {
      g_auto (SwCheckReport) report = { 0 };
      g_autoptr (GPtrArray) items = sw_item_list (catalogue, NULL, NULL);

      if (sw_check_run (catalogue, NULL, &report, &error) != (error == NULL))
        abort ();
    }
  return 0;
}
