/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One program, three ways in: a command, the window, and the helper process that decodes pictures.
 */
#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include "app/app.h"
#include "cli/cli.h"
#include "core/intake/decode-helper.h"
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

int
main (int argc, char **argv)
{
  keep_standard_streams ();
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (STDIN_FILENO, STDOUT_FILENO);
  sw_takings_register_check ();
  if (sw_cli_is_for_us (argc, argv))
    return sw_cli_main (argc, argv);
  return sw_app_main (argc, argv);
}
