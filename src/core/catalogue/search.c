/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Feeds the full-text rows of items. SQLite's update hook tells which rows were written, by whoever
 * wrote them: records, undo and redo alike. */
#include "core/catalogue/search.h"

#include <string.h>

#include "core/base/text.h"
#include "core/catalogue/db.h"

static void
note (GHashTable *ids, gint64 id)
{
  if (g_hash_table_contains (ids, &id))
    return;
  g_hash_table_add (ids, g_memdup2 (&id, sizeof id));
}

static void
on_update (void *data, int operation, const char *schema, const char *table, sqlite3_int64 row)
{
  SwCatalogue *catalogue = data;

  if (strcmp (table, "item") == 0)
    note (catalogue->items_written, row);
  else if (strcmp (table, "place") == 0)
    note (catalogue->places_written, row);
}

void
sw_search_watch (SwCatalogue *catalogue)
{
  catalogue->items_written = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  catalogue->places_written = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  sqlite3_update_hook (catalogue->db, on_update, catalogue);
}

void
sw_search_forget (SwCatalogue *catalogue)
{
  g_hash_table_remove_all (catalogue->items_written);
  g_hash_table_remove_all (catalogue->places_written);
}

/* A place that is called otherwise changes what is found of its items. */
static gboolean
note_items_of (SwCatalogue *catalogue, gint64 place, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_SEARCH_OF_PLACE, "i", place);
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, &use, &ok, error))
    note (catalogue->items_written, sw_col_int (&use, 0));
  return ok;
}

gboolean
sw_search_feed (SwCatalogue *catalogue, GError **error)
{
  GHashTableIter iter;
  gpointer id = NULL;

  g_hash_table_iter_init (&iter, catalogue->places_written);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    if (!note_items_of (catalogue, *(gint64 *)id, error))
      return FALSE;
  g_hash_table_iter_init (&iter, catalogue->items_written);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    if (!sw_db_run (catalogue, error, SW_STMT_SEARCH_DROP, "i", *(gint64 *)id)
        || !sw_db_run (catalogue, error, SW_STMT_SEARCH_PUT, "i", *(gint64 *)id))
      return FALSE;
  sw_search_forget (catalogue);
  return TRUE;
}

/* "tag 17", as it is printed and said: that number among the tags alone. */
static gboolean
is_tag (char **each)
{
  return g_ascii_strcasecmp (each[0], "tag") == 0 && each[1] != NULL && *each[1] != '\0'
         && strspn (each[1], "0123456789") == strlen (each[1]);
}

char *
sw_search_query (const char *words)
{
  if (words == NULL)
    return NULL;
  g_autofree char *valid = g_utf8_make_valid (words, -1);
  g_autofree char *tidy = sw_text_tidy (valid);
  if (*tidy == '\0')
    return NULL;
  g_auto (GStrv) each = g_strsplit (tidy, " ", -1);
  g_autoptr (GString) query = g_string_new (NULL);
  for (int i = 0; each[i] != NULL; i++)
    {
      if (is_tag (&each[i]))
        {
          g_string_append_printf (query, "tags : \"%s\" ", each[++i]);
          continue;
        }
      g_auto (GStrv) parts = g_strsplit (each[i], "\"", -1);
      g_autofree char *doubled = g_strjoinv ("\"\"", parts);
      g_string_append_printf (query, "\"%s\" * ", doubled);
    }
  return g_string_free (g_steal_pointer (&query), FALSE);
}
