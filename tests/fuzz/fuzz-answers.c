/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as answers of the family: refused with a sentence, or answers that each say something
 * in harmless words and none twice. */
#include "target.h"

#include "core/handout/answer-text.h"

#include <stdlib.h>
#include <string.h>

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", NULL);
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwAnswers) answers = sw_answer_text_parse (bytes, zone, &error);

  if ((answers == NULL) != (error != NULL))
    abort ();
  for (guint i = 0; answers != NULL && i < answers->answers->len; i++)
    {
      const SwAnswer *answer = g_ptr_array_index (answers->answers, i);
      if ((answer->item > 0) == (answer->question > 0) || answer->item < 0 || answer->question < 0)
        abort ();
      if (answer->says == SW_ANSWER_NOTHING && *answer->text == '\0')
        abort ();
      if (answer->question > 0 && answer->says != SW_ANSWER_NOTHING)
        abort ();
      if (!g_utf8_validate (answer->text, -1, NULL) || strpbrk (answer->text, "\n\r\t\x1b") != NULL)
        abort ();
      for (guint k = 0; k < i && i < 100; k++)
        {
          const SwAnswer *other = g_ptr_array_index (answers->answers, k);
          if (other->item == answer->item && other->question == answer->question)
            abort ();
        }
    }
  return 0;
}
