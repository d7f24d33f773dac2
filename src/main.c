/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One program, two ways in: a command and the window. */
#include <fcntl.h>
#include <unistd.h>

#include "app/app.h"
#include "cli/cli.h"
#include "core/intake/decoder.h"
#include "core/trade/takings.h"

/* Called with standard streams closed, the next files opened would take their numbers, and what is
 * printed would land in a photo. A stream that reads only keeps the number and still fails a
 * write. */
static void
keep_standard_streams (void)
{
  int fd;

  do
    fd = open ("/dev/null", O_RDONLY);
  while (fd >= 0 && fd <= STDERR_FILENO);
  if (fd > STDERR_FILENO)
    close (fd);
}

/* Where the helper that decodes pictures lies: beside this program (as built), or in its folder
 * seen from there (as installed). */
static void
find_decode_helper (void)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = self != NULL ? g_path_get_dirname (self) : NULL;
  const char *ways[] = { "", SW_DECODE_FOLDER };

  for (gsize i = 0; folder != NULL && i < G_N_ELEMENTS (ways); i++)
    {
      g_autofree char *way = g_canonicalize_filename (ways[i], folder);
      g_autofree char *helper = g_build_filename (way, "shedwalk-decode", NULL);

      if (i + 1 == G_N_ELEMENTS (ways) || g_file_test (helper, G_FILE_TEST_IS_EXECUTABLE))
        {
          sw_decoder_set_program (helper);
          return;
        }
    }
}

int
main (int argc, char **argv)
{
  keep_standard_streams ();
  find_decode_helper ();
  sw_takings_register_check ();
  if (sw_cli_is_for_us (argc, argv))
    return sw_cli_main (argc, argv);
  return sw_app_main (argc, argv);
}
