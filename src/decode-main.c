/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The helper process that decodes pictures: a program of its own, so that the one a person starts
 * does not load a dozen decoders that it never calls. Its parent starts it with a socket as its
 * standard input. */
#include <unistd.h>

#include "core/intake/decode-helper.h"

int
main (void)
{
  return sw_decode_helper_main (STDIN_FILENO, STDOUT_FILENO);
}
