/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One program, three ways in: a command, the window, and the helper process that decodes pictures. */
#include <string.h>
#include <unistd.h>

#include "app/app.h"
#include "cli/cli.h"
#include "core/intake/decode-helper.h"
#include "core/trade/takings.h"

int
main (int argc, char **argv)
{
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (STDIN_FILENO, STDOUT_FILENO);
  sw_takings_register_check ();
  if (sw_cli_is_for_us (argc, argv))
    return sw_cli_main (argc, argv);
  return sw_app_main (argc, argv);
}
