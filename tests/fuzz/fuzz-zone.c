/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a zone file: refused, or a zone by which any time can be told. Zones are read by
 * name, so each input goes through a file in a temporary folder. */
#include "target.h"

#include "core/base/civil.h"

#include <glib/gstdio.h>
#include <stdlib.h>

static char *folder, *path;

static void
remove_folder (void)
{
  g_unlink (path);
  g_rmdir (folder);
  g_free (path);
  g_free (folder);
}

static void
make_folder (void)
{
  folder = g_dir_make_tmp ("shedwalk-zones-XXXXXX", NULL);
  if (folder == NULL)
    abort ();
  path = g_build_filename (folder, "Any", NULL);
  g_setenv ("TZDIR", folder, TRUE);
  atexit (remove_folder);
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  if (folder == NULL)
    make_folder ();
  if (!g_file_set_contents_full (path, (const char *)data, (gssize)size, G_FILE_SET_CONTENTS_NONE,
                                 0600, NULL))
    abort ();
  g_autoptr (SwZone) zone = sw_zone_new ("Any", NULL);
  for (gint64 us = -6000000000000000; zone != NULL && us < 9000000000000000; us += 70000000000123)
    {
      SwCivil civil = sw_civil_from_us (us);
      sw_civil_to_instant (civil, zone, NULL);
      sw_day_start (sw_day_of_instant ((SwInstant){ us }, zone), zone);
    }
  return 0;
}
