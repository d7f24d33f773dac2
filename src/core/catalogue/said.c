/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checks and telling shared by the records of what is said of an item. */
#include "core/catalogue/said.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/db.h"

gboolean
sw_said_is_one_of (const char *word, const char *const *words, gsize n, const char *what,
                   GError **error)
{
  for (gsize i = 0; i < n; i++)
    if (strcmp (words[i], word) == 0)
      return TRUE;
  g_autoptr (GString) all = g_string_new (NULL);
  for (gsize i = 0; i < n; i++)
    g_string_append_printf (all, "%s%s", i == 0 ? "" : i + 1 < n ? ", " : _ (" or "), words[i]);
  g_autofree char *shown = sw_text_printable (word, -1);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("%s is %s, not '%.80s'."), what, all->str,
               shown);
  return FALSE;
}

gboolean
sw_said_check_person (const char *person, GError **error)
{
  return person == NULL || sw_text_check (person, _ ("The name of the person"), FALSE, TRUE, error);
}

char *
sw_said_tidy (const char *text)
{
  g_autofree char *tidy = text != NULL ? sw_text_tidy (text) : NULL;
  return tidy != NULL && *tidy != '\0' ? g_steal_pointer (&tidy) : NULL;
}

gboolean
sw_said_commit (SwAct *act, gint64 item, const char *verb, const char *sentence, GError **error)
{
  return sw_act_tell (act, SW_SUBJECT_ITEM, item, verb, NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

gboolean
sw_said_commit_found (SwAct *act, gint64 item, const char *verb, const char *sentence,
                      GError **error)
{
  return sw_db_run (act->catalogue, error, SW_STMT_ITEM_TOUCH, "i", item)
         && sw_said_commit (act, item, verb, sentence, error);
}
