/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/catalogue/going-out.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

/* ---- limits ---- */

gboolean
sw_text_limits_get (SwCatalogue *catalogue, gint64 outlet, SwTextLimits *out_limits, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_TEXT_LIMIT_GET, "i", outlet);
  gboolean row = FALSE;

  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_limits
      = row ? (SwTextLimits){ sw_col_int (&use, 0), sw_col_int (&use, 1) } : (SwTextLimits){ 0 };
  return TRUE;
}

static gboolean
check (gint64 limit, gint64 most, const char *what, GError **error)
{
  if (limit >= 0 && limit <= most)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("The length of a %s is 0 (no limit) to %" PRId64 " characters."), what, most);
  return FALSE;
}

static gboolean
outlet_name (SwCatalogue *catalogue, gint64 outlet, char **out_name, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OUTLET_NAME, "i", outlet);
  gboolean row = FALSE;

  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  if (!row)
    g_set_error_literal (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no such outlet."));
  else
    *out_name = sw_col_text (&use, 0);
  return row;
}

gboolean
sw_text_limits_set (SwCatalogue *catalogue, gint64 outlet, const SwTextLimits *limits,
                    GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  SwTextLimits before;
  g_autofree char *name = NULL, *sentence = NULL;

  if (!check (limits->title, SW_TITLE_LIMIT_MOST, "title", error)
      || !check (limits->text, SW_TEXT_LIMIT_MOST, "text", error)
      || !sw_act_begin (&act, catalogue, error) || !outlet_name (catalogue, outlet, &name, error)
      || !sw_text_limits_get (catalogue, outlet, &before, error))
    return FALSE;
  if (before.title == limits->title && before.text == limits->text)
    return TRUE;
  sentence = g_strdup_printf (_ ("How long texts may be at %s entered"), name);
  return sw_db_run (catalogue, error, SW_STMT_TEXT_LIMIT_PUT, "iii", outlet, limits->title,
                    limits->text)
         && sw_act_tell (&act, SW_SUBJECT_OUTLET, outlet, "outlet.limits", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* ---- names ---- */

static char *
name_from_row (const SwUse *use)
{
  return sw_col_text (use, 0);
}

GPtrArray *
sw_names_kept (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_NAMES_KEPT, "");

  return sw_db_collect (catalogue, &use, (SwRowFunc)name_from_row, g_free, error);
}

static gboolean
is_word_at (const char *text, const char *at, gsize length)
{
  gunichar before = at > text ? g_utf8_get_char (g_utf8_prev_char (at)) : ' ';
  gunichar after = g_utf8_get_char (at + length);

  return !g_unichar_isalnum (before) && !g_unichar_isalnum (after);
}

GPtrArray *
sw_names_in_text (const GPtrArray *names, const char *text)
{
  GPtrArray *found = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *folded = g_utf8_casefold (text, -1);

  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *name = g_utf8_casefold (g_ptr_array_index (names, i), -1);
      const char *at = *name != '\0' ? strstr (folded, name) : NULL;

      while (at != NULL && !is_word_at (folded, at, strlen (name)))
        at = strstr (at + 1, name);
      if (at != NULL)
        g_ptr_array_add (found, g_strdup (g_ptr_array_index (names, i)));
    }
  return found;
}
