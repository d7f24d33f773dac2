/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One program, two ways in: a command, and the helper process that decodes pictures. */
#include <string.h>
#include <unistd.h>

#include "cli/cli.h"
#include "core/intake/decode-helper.h"

int
main (int argc, char **argv)
{
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (STDIN_FILENO, STDOUT_FILENO);
  return sw_cli_main (argc, argv);
}
