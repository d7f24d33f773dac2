/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Prints one of the texts of cli/describe.h; run while building, not installed. */
#include <stdio.h>
#include <string.h>

#include "cli/describe.h"

static const struct
{
  const char *word;
  char *(*text) (void);
} texts[] = {
  { "man", sw_describe_man },
  { "bash", sw_describe_bash },
  { "zsh", sw_describe_zsh },
  { "fish", sw_describe_fish },
};

int
main (int argc, char **argv)
{
  for (gsize i = 0; argc == 2 && i < G_N_ELEMENTS (texts); i++)
    if (strcmp (argv[1], texts[i].word) == 0)
      {
        g_autofree char *text = texts[i].text ();
        return fputs (text, stdout) < 0 || fflush (stdout) != 0;
      }
  fprintf (stderr, "usage: describe man|bash|zsh|fish\n");
  return 2;
}
