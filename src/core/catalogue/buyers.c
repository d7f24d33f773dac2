/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Erases a name wherever the catalogue keeps it, the history and the changesets too. */
#include "core/catalogue/buyers.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/changeset.h"
#include "core/catalogue/db.h"

#define REMOVED "(removed)"

/* Letters and figures of any script belong to a word. */
static gboolean
is_in_word (gunichar c)
{
  return g_unichar_isalnum (c);
}

static gboolean
stands_alone (const char *sentence, const char *at, gsize length)
{
  const char *before = at > sentence ? g_utf8_prev_char (at) : NULL;
  return (before == NULL || !is_in_word (g_utf8_get_char (before)))
         && (at[length] == '\0' || !is_in_word (g_utf8_get_char (at + length)));
}

char *
sw_buyer_blot (const char *sentence, const char *name, const char *by)
{
  g_return_val_if_fail (*name != '\0', NULL);
  gsize length = strlen (name);
  gboolean changed = FALSE;
  g_autoptr (GString) text = g_string_new (NULL);
  const char *rest = sentence;
  for (const char *at = strstr (rest, name); at != NULL; at = strstr (rest, name))
    {
      gboolean alone = stands_alone (sentence, at, length);
      g_string_append_len (text, rest, at - rest);
      g_string_append (text, alone ? by : name);
      changed = changed || alone;
      rest = at + length;
    }
  g_string_append (text, rest);
  return changed ? g_string_free (g_steal_pointer (&text), FALSE) : NULL;
}

typedef struct
{
  gint64 id;
  char *sentence;
} Line;

static void
line_free (gpointer data)
{
  g_free (((Line *)data)->sentence);
  g_free (data);
}

static gpointer
line_from_row (const SwUse *use)
{
  Line *line = g_new0 (Line, 1);
  line->id = sw_col_int (use, 0);
  line->sentence = sw_col_text (use, 1);
  return line;
}

static GPtrArray *
lines_with (SwCatalogue *catalogue, SwStatementId find, const char *name, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, find, "t", name);
  return sw_db_collect (catalogue, &use, line_from_row, line_free, error);
}

static gboolean
blot_lines (SwCatalogue *catalogue, SwStatementId find, SwStatementId set, const char *name,
            GError **error)
{
  g_autoptr (GPtrArray) lines = lines_with (catalogue, find, name, error);
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    {
      const Line *line = g_ptr_array_index (lines, i);
      g_autofree char *blotted = sw_buyer_blot (line->sentence, name, REMOVED);
      if (blotted != NULL && !sw_db_run (catalogue, error, set, "it", line->id, blotted))
        return FALSE;
    }
  return lines != NULL;
}

/* The name as a changeset holds a whole value: 3 for text, its length (7 bits a byte, high byte
 * first, as SQLite's varint), its bytes. From the comment "CHANGESET FORMAT" in SQLite's
 * ext/session/sqlite3session.c. So "Al" does not hit "Alba". */
static GBytes *
as_value (const char *name)
{
  gsize length = strlen (name);
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  const guint8 text = 3, high = (guint8)(0x80 | (length >> 7)), low = (guint8)(length & 0x7f);
  g_byte_array_append (bytes, &text, 1);
  if (length > 0x7f)
    g_byte_array_append (bytes, &high, 1);
  g_byte_array_append (bytes, &low, 1);
  g_byte_array_append (bytes, (const guint8 *)name, (guint)length);
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

/* ---- the acts that hold the person's enquiries ---- */

#define ENQUIRY_PERSON 3 /* the column; schema steps add columns behind it */

typedef struct
{
  gint64 act;
  GBytes *data;
} Changes;

static void
changes_free (gpointer data)
{
  g_bytes_unref (((Changes *)data)->data);
  g_free (data);
}

static gpointer
changes_from_row (const SwUse *use)
{
  Changes *changes = g_new0 (Changes, 1);
  changes->act = sw_col_int (use, 0);
  changes->data = sw_col_blob (use, 1);
  return changes;
}

/* The id of the enquiry that the iterator stands on, and whether it is, or was, the person's. */
static gint64
enquiry_at (sqlite3_changeset_iter *iterator, int operation, gint64 person, gboolean *out_theirs)
{
  sqlite3_value *id = NULL, *before = NULL, *after = NULL;
  if (operation != SQLITE_INSERT)
    {
      sqlite3changeset_old (iterator, 0, &id);
      sqlite3changeset_old (iterator, ENQUIRY_PERSON, &before);
    }
  else
    sqlite3changeset_new (iterator, 0, &id);
  if (operation != SQLITE_DELETE)
    sqlite3changeset_new (iterator, ENQUIRY_PERSON, &after);
  *out_theirs = (before != NULL && sqlite3_value_int64 (before) == person)
                || (after != NULL && sqlite3_value_int64 (after) == person);
  return id != NULL ? sqlite3_value_int64 (id) : 0;
}

/* Whether one of the enquiries is in it; those of the person are taken into 'ids'. One that cannot
 * be read cannot be undone either, and counts as one that is. */
static gboolean
holds_enquiry (const Changes *changes, gint64 person, GHashTable *ids)
{
  sqlite3_changeset_iter *iterator = NULL;
  gsize size = 0;
  gconstpointer bytes = g_bytes_get_data (changes->data, &size);
  gboolean holds = FALSE;
  if (size > G_MAXINT || !sw_changeset_is_sound (changes->data)
      || sqlite3changeset_start (&iterator, (int)size, (void *)bytes) != SQLITE_OK)
    return TRUE;
  while (sqlite3changeset_next (iterator) == SQLITE_ROW)
    {
      const char *table = NULL;
      int n_columns = 0, operation = 0;
      gboolean theirs = FALSE;
      if (sqlite3changeset_op (iterator, &table, &n_columns, &operation, NULL) != SQLITE_OK
          || strcmp (table, "enquiry") != 0 || n_columns <= ENQUIRY_PERSON)
        continue;
      gint64 id = enquiry_at (iterator, operation, person, &theirs);
      if (theirs)
        g_hash_table_add (ids, g_memdup2 (&id, sizeof id));
      holds = holds || g_hash_table_contains (ids, &id);
    }
  sqlite3changeset_finalize (iterator);
  return holds;
}

/* What the person wrote stands in the changesets of acts that do not hold the name: the second
 * enquiry of one who is known has the number of the person alone. */
static gboolean
drop_enquiries (SwCatalogue *catalogue, const char *name, GError **error)
{
  gint64 person = 0;
  gboolean found = FALSE;
  g_autoptr (GHashTable) ids = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CHANGESETS_OF_ENQUIRIES, "");
  g_autoptr (GPtrArray) all
      = sw_db_collect (catalogue, &use, changes_from_row, changes_free, error);
  g_auto (SwUse) use_ids = sw_db_use (catalogue, SW_STMT_BUYER_ENQUIRY_IDS, "t", name);
  g_autoptr (GArray) standing = sw_db_collect_ids (catalogue, &use_ids, error);
  if (all == NULL || standing == NULL
      || !sw_db_get_int (catalogue, &person, &found, error, SW_STMT_BUYER_ID, "t", name))
    return FALSE;
  for (guint i = 0; i < standing->len; i++)
    g_hash_table_add (ids, g_memdup2 (&g_array_index (standing, gint64, i), sizeof (gint64)));
  /* first which they are: one may have been changed before its removal tells whose it was */
  for (guint i = 0; i < all->len; i++)
    holds_enquiry (all->pdata[i], person, ids);
  for (guint i = 0; i < all->len; i++)
    {
      const Changes *changes = all->pdata[i];
      if (holds_enquiry (changes, person, ids)
          && !sw_db_run (catalogue, error, SW_STMT_CHANGESET_DROP, "i", changes->act))
        return FALSE;
    }
  return TRUE;
}

static gboolean
remove_rows (SwCatalogue *catalogue, const char *name, GError **error)
{
  g_autoptr (GBytes) value = as_value (name);
  return drop_enquiries (catalogue, name, error)
         && sw_db_run (catalogue, error, SW_STMT_BUYER_DEALS, "t", name)
         && sw_db_run (catalogue, error, SW_STMT_BUYER_ENQUIRIES, "t", name)
         && sw_db_run (catalogue, error, SW_STMT_BUYER_HOLDS, "t", name)
         && sw_db_run (catalogue, error, SW_STMT_BUYER_REMOVE, "t", name)
         && blot_lines (catalogue, SW_STMT_BUYER_IN_EVENTS, SW_STMT_BUYER_EVENT_SET, name, error)
         && blot_lines (catalogue, SW_STMT_BUYER_IN_ACTS, SW_STMT_BUYER_ACT_SET, name, error)
         && sw_db_run (catalogue, error, SW_STMT_BUYER_CHANGESETS, "b", value);
}

static gboolean
is_known (SwCatalogue *catalogue, const char *name, GError **error)
{
  gint64 id = 0;
  gboolean found = FALSE;
  if (*name != '\0' && !sw_db_get_int (catalogue, &id, &found, error, SW_STMT_BUYER_ID, "t", name))
    return FALSE;
  if (!found)
    g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("Nobody of that name bought or asked."));
  return found;
}

gboolean
sw_buyer_remove (SwCatalogue *catalogue, const char *name, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!is_known (catalogue, name, error) || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_assert (act.level == 1); /* its own act: the changeset of a larger one would hold the name */
  return remove_rows (catalogue, name, error)
         && sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "buyer.removed", NULL,
                         _ ("A buyer's data was removed for good"), error)
         && sw_act_commit_as (&act, "told", _ ("A buyer's data was removed for good"), 0, 0, FALSE,
                              error);
}

static gpointer
name_from_row (const SwUse *use)
{
  return sw_col_text (use, 0);
}

GPtrArray *
sw_buyer_names (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_BUYER_NAMES, "");
  return sw_db_collect (catalogue, &use, name_from_row, g_free, error);
}
