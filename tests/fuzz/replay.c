/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gives a fuzz target every file of the folders named, so that what was found once is looked at in
 * every test run. */
#include "target.h"

#include <glib.h>
#include <stdio.h>
#include <stdlib.h>

static int
replay_folder (const char *folder)
{
  int n = 0;
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autofree char *data = NULL;
      gsize length = 0;
      if (!g_file_get_contents (path, &data, &length, NULL))
        continue;
      /* On the heap to the byte, so that reading past the end shows. */
      g_autofree uint8_t *exact = g_memdup2 (data, length);
      LLVMFuzzerTestOneInput (exact, length);
      n++;
    }
  return n;
}

int
main (int argc, char **argv)
{
  int n = 0;
  for (int i = 1; i < argc; i++)
    n += replay_folder (argv[i]);
  printf ("%d inputs\n", n);
  return n > 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}
