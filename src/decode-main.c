/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The helper process that decodes pictures: a program of its own, so that the one a person starts
 * does not load a dozen decoders that it never calls. Its parent starts it with a socket as its
 * standard input. Started by hand with --fence it says what it guards on this system. */
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "core/intake/decode-fence.h"
#include "core/intake/decode-helper.h"

/* A child tries the fence: past it nothing could be written to a file. */
static guint
try_fence (void)
{
  int status = 0;
  pid_t child = fork ();

  if (child == 0)
    _exit ((int)sw_decode_fence ());
  return child > 0 && waitpid (child, &status, 0) == child && WIFEXITED (status)
             ? (guint)WEXITSTATUS (status)
             : 0;
}

static int
say_fence (void)
{
  g_auto (GStrv) words = sw_decode_fence_words (try_fence ());

  for (char **word = words; *word != NULL; word++)
    puts (*word);
  return fflush (stdout) == 0 ? 0 : 1;
}

int
main (int argc, char **argv)
{
  if (argc == 2 && strcmp (argv[1], "--fence") == 0)
    return say_fence ();
  return sw_decode_helper_main (STDIN_FILENO, STDOUT_FILENO);
}
