/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writes the open questions by person and place. Shows nothing and changes nothing. */
#include "core/handout/call-list.h"
#include "core/base/language.h"

#include <string.h>

#include "core/base/text.h"
#include "core/catalogue/questions.h"

static void
add_line (GString *text, const char *indent, const char *line)
{
  g_autofree char *safe = sw_text_printable (line, -1);
  g_string_append_printf (text, "%s%s\n", indent, safe);
}

static void
add_question (GString *text, const SwQuestion *question)
{
  g_autofree char *by = question->has_by ? sw_day_to_person (question->by) : NULL;
  g_autofree char *line = by != NULL
                              ? g_strdup_printf (_ ("%" PRId64 "  %s: %s  by %s"), question->item,
                                                 question->item_name, question->text, by)
                              : g_strdup_printf ("%" PRId64 "  %s: %s", question->item,
                                                 question->item_name, question->text);
  add_line (text, "  ", line);
  g_string_append (text, "      ________________________________\n");
}

char *
sw_call_list_text (SwCatalogue *catalogue, const char *person, GError **error)
{
  g_autoptr (GPtrArray) questions = sw_question_open (catalogue, person, error);
  g_autoptr (GString) text = g_string_new (NULL);
  const char *whom = NULL, *where = NULL;
  if (questions == NULL)
    return NULL;
  for (guint i = 0; i < questions->len; i++)
    {
      const SwQuestion *question = g_ptr_array_index (questions, i);
      const char *named = question->person != NULL ? question->person : "";
      if (whom == NULL || strcmp (whom, named) != 0)
        {
          g_autofree char *head = *named != '\0' ? g_strdup_printf (_ ("To ask %s"), named)
                                                 : g_strdup (_ ("To find out"));
          if (whom != NULL)
            g_string_append_c (text, '\n');
          add_line (text, "", head);
          whom = named;
          where = NULL;
        }
      if (where == NULL || strcmp (where, question->place_path) != 0)
        {
          g_string_append_c (text, '\n');
          add_line (text, "", question->place_path);
          where = question->place_path;
        }
      add_question (text, question);
    }
  if (questions->len == 0)
    g_string_append (text, _ ("Nothing to ask.\n"));
  return g_string_free (g_steal_pointer (&text), FALSE);
}
