/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads an indented list. Any depth of blanks will do, as long as a line inside another begins
 * farther in than it: nobody counts blanks while typing. */
#include "core/base/outline.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#define TAB 2
#define MAX_DEPTH 10

typedef struct
{
  int column;
  char *path;
} Level;

static void
level_clear (gpointer data)
{
  g_free (((Level *)data)->path);
}

static void
entry_free (gpointer data)
{
  g_free (((SwOutlineEntry *)data)->path);
  g_free (data);
}

/* How far in the line begins; *line is moved to what stands there. */
static int
take_indent (const char **line)
{
  int column = 0;

  for (; **line == ' ' || **line == '\t'; (*line)++)
    column += **line == '\t' ? TAB : 1;
  return column;
}

/* A mark in front of a name, with a blank behind it. */
static const char *
skip_mark (const char *text)
{
  static const char *const marks[] = { "- ", "* ", "\xe2\x80\xa2 ", "\xe2\x80\x93 " };

  for (gsize i = 0; i < G_N_ELEMENTS (marks); i++)
    if (g_str_has_prefix (text, marks[i]))
      return text + strlen (marks[i]);
  return text;
}

static gboolean
fail_line (int line, const char *why, GError **error)
{
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("Line %d: %s"), line, why);
  return FALSE;
}

static gboolean
fail_twice (int line, int before, const char *path, GError **error)
{
  g_autofree char *quoted = sw_text_quote (path);
  g_autofree char *why = g_strdup_printf (
      _ ("%s stands in line %d already; give one of the two another name."), quoted, before);

  return fail_line (line, why, error);
}

static gboolean
check_name (const char *name, int line, GError **error)
{
  g_autoptr (GError) inner = NULL;

  if (sw_text_check (name, _ ("the name"), FALSE, FALSE, &inner))
    return TRUE;
  return fail_line (line, inner->message, error);
}

/* The levels above the one at 'column' stay. */
static void
leave_deeper (GArray *levels, int column)
{
  while (levels->len > 0 && g_array_index (levels, Level, levels->len - 1).column >= column)
    g_array_set_size (levels, levels->len - 1);
}

static gboolean
add_line (GPtrArray *entries, GArray *levels, GHashTable *lines, int number, const char *text,
          GError **error)
{
  int column = take_indent (&text);
  g_autofree char *name = sw_text_tidy (skip_mark (text));
  g_autofree char *folded = NULL;
  Level level = { column, NULL };
  SwOutlineEntry *entry;
  int before;

  if (*name == '\0')
    return TRUE;
  if (!check_name (name, number, error))
    return FALSE;
  leave_deeper (levels, column);
  if (levels->len >= MAX_DEPTH)
    return fail_line (number, _ ("it lies more than ten deep; move it farther out."), error);
  level.path = levels->len == 0
                   ? g_strdup (name)
                   : g_strdup_printf ("%s > %s",
                                      g_array_index (levels, Level, levels->len - 1).path, name);
  g_array_append_val (levels, level);
  folded = g_utf8_casefold (level.path, -1);
  before = GPOINTER_TO_INT (g_hash_table_lookup (lines, folded));
  if (before != 0)
    return fail_twice (number, before, level.path, error);
  g_hash_table_insert (lines, g_steal_pointer (&folded), GINT_TO_POINTER (number));
  entry = g_new0 (SwOutlineEntry, 1);
  entry->path = g_strdup (level.path);
  entry->line = number;
  g_ptr_array_add (entries, entry);
  return TRUE;
}

GPtrArray *
sw_outline_parse (const char *text, GError **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func (entry_free);
  g_autoptr (GArray) levels = g_array_new (FALSE, FALSE, sizeof (Level));
  g_autoptr (GHashTable) lines = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_auto (GStrv) all = g_strsplit (valid, "\n", -1);

  g_array_set_clear_func (levels, level_clear);
  for (int i = 0; all[i] != NULL; i++)
    if (!add_line (entries, levels, lines, i + 1, all[i], error))
      return NULL;
  return g_steal_pointer (&entries);
}
