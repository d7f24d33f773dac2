/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For tests/bench/bring-in: reads the metadata of all files of a folder; or makes the thumbnails of
 * a catalogue. */
#include <stdio.h>
#include <string.h>

#include "core/catalogue/catalogue.h"
#include "core/intake/metadata.h"
#include "core/intake/thumbs.h"

static int
read_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", NULL);
  SwInstant now = { g_get_real_time () };
  const char *name;
  int timed = 0;

  if (dir == NULL || zone == NULL)
    return 1;
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_auto (SwPhotoMeta) meta = { 0 };

      if (sw_photo_meta_read_file (path, zone, now, &meta, NULL)
          && meta.time_source == SW_TIME_ORIGINAL)
        timed++;
    }
  printf ("%d\n", timed);
  return 0;
}

static int
make_thumbs (const char *program, const char *folder)
{
  g_autoptr (SwCatalogue) catalogue = sw_catalogue_open (folder, SW_OPEN_READ_WRITE, NULL);
  g_autoptr (SwThumbs) thumbs = sw_thumbs_new (folder, program);
  int made = 0;

  if (catalogue == NULL
      || !sw_thumbs_make_missing (thumbs, catalogue, 0, NULL, NULL, NULL, &made, NULL))
    return 1;
  printf ("%d\n", made);
  return 0;
}

int
main (int argc, char **argv)
{
  if (argc == 4 && strcmp (argv[1], "--thumbs") == 0)
    return make_thumbs (argv[2], argv[3]);
  return argc == 2 ? read_folder (argv[1]) : 2;
}
