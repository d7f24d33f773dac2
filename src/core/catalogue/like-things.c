/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds sold items by the words of a name through the search, and ranks them by words in common. */
#include "core/catalogue/like-things.h"

#include <string.h>

#include "core/catalogue/db.h"

/* A word shorter than this says nothing of the kind of thing ("of", "two"). */
#define SHORTEST_WORD 3
/* From this length on an ending 's' is taken as the plural. */
#define PLURAL_FROM 4

void
sw_like_thing_free (SwLikeThing *thing)
{
  if (thing == NULL)
    return;
  g_free (thing->name);
  g_free (thing->outlet);
  g_free (thing);
}

/* The words that count, folded as the search folds them, without the plural's s. Transfer full. */
static GPtrArray *
words_of (const char *name)
{
  g_auto (GStrv) ascii = NULL;
  g_auto (GStrv) tokens = g_str_tokenize_and_fold (name, NULL, &ascii);
  GPtrArray *words = g_ptr_array_new_with_free_func (g_free);

  for (int i = 0; tokens[i] != NULL; i++)
    {
      gsize length = strlen (tokens[i]);
      if (g_utf8_strlen (tokens[i], -1) < SHORTEST_WORD)
        continue;
      if (length >= PLURAL_FROM && tokens[i][length - 1] == 's' && tokens[i][length - 2] != 's')
        tokens[i][length - 1] = '\0';
      g_ptr_array_add (words, g_strdup (tokens[i]));
    }
  return words;
}

/* name : ("press" * OR "screw" *). Tokens hold letters and digits alone. Transfer full. */
static char *
query_of (const GPtrArray *words)
{
  g_autoptr (GString) query = g_string_new ("name : (");

  for (guint i = 0; i < words->len; i++)
    g_string_append_printf (query, "%s\"%s\" *", i > 0 ? " OR " : "",
                            (const char *)g_ptr_array_index (words, i));
  g_string_append_c (query, ')');
  return g_string_free (g_steal_pointer (&query), FALSE);
}

static gboolean
has_word (const GPtrArray *words, const char *word)
{
  for (guint i = 0; i < words->len; i++)
    if (g_str_has_prefix (g_ptr_array_index (words, i), word))
      return TRUE;
  return FALSE;
}

static int
likeness_of (const GPtrArray *mine, const char *name)
{
  g_autoptr (GPtrArray) theirs = words_of (name);
  int likeness = 0;

  for (guint i = 0; i < mine->len; i++)
    if (has_word (theirs, g_ptr_array_index (mine, i)))
      likeness += i + 1 == mine->len ? 2 : 1;
  return likeness;
}

static gpointer
thing_from_row (const SwUse *use)
{
  SwLikeThing *thing = g_new0 (SwLikeThing, 1);
  thing->item = sw_col_int (use, 0);
  thing->name = sw_col_text (use, 1);
  thing->count = sw_col_int (use, 2);
  thing->outlet = sw_col_text (use, 3);
  thing->price = sw_money (sw_col_int (use, 4));
  thing->day = (SwDay){ (gint32)sw_col_int (use, 5) };
  thing->days = sw_col_is_null (use, 6) ? -1 : sw_col_int (use, 6);
  return thing;
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const SwLikeThing *one = *(SwLikeThing *const *)a, *two = *(SwLikeThing *const *)b;

  if (one->likeness != two->likeness)
    return two->likeness - one->likeness;
  if (one->day.n != two->day.n)
    return one->day.n > two->day.n ? -1 : 1;
  return one->item < two->item ? -1 : one->item > two->item;
}

GPtrArray *
sw_like_things (SwCatalogue *catalogue, gint64 number, guint most, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return NULL;
  g_autoptr (GPtrArray) words = words_of (item->name);
  if (item->neutral || words->len == 0)
    return g_ptr_array_new_with_free_func ((GDestroyNotify)sw_like_thing_free);
  g_autofree char *query = query_of (words);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_LIKE_THINGS, "ti", query, number);
  GPtrArray *things
      = sw_db_collect (catalogue, &use, thing_from_row, (GDestroyNotify)sw_like_thing_free, error);
  if (things == NULL)
    return NULL;
  for (guint i = 0; i < things->len; i++)
    {
      SwLikeThing *thing = g_ptr_array_index (things, i);
      thing->likeness = likeness_of (words, thing->name);
    }
  g_ptr_array_sort (things, compare);
  if (things->len > most)
    g_ptr_array_set_size (things, (int)most);
  return things;
}
