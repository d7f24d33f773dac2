/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any text as that of a code on a card or tag: what is read is written again to the same text. */
#include "target.h"

#include "core/match/codes.h"

#include <stdlib.h>
#include <string.h>

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autofree char *text = g_strndup ((const char *)data, size);
  SwCode code = { 0 };

  if (sw_code_parse (text, &code) == SW_CODE_READ)
    {
      g_autofree char *again = sw_code_format (&code);

      if (strcmp (again, text) != 0 || code.number < 1 || code.number > SW_CODE_NUMBER_MAX)
        abort ();
    }
  return 0;
}
