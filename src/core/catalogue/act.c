/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts: the transaction, its savepoints, its row, its events and its changeset. Taking back is in
 * undo.c. */
#include "core/catalogue/act.h"

#include <errno.h>
#include <string.h>
#include <sys/stat.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/search.h"

#define X_SUBJECT_KEY(subject, key) [SW_SUBJECT_##subject] = key
static const char *const subject_keys[] = {
  X_SUBJECT_KEY (CATALOGUE, "catalogue"), X_SUBJECT_KEY (PLACE, "place"),
  X_SUBJECT_KEY (TRIP, "trip"),           X_SUBJECT_KEY (ITEM, "item"),
  X_SUBJECT_KEY (PHOTO, "photo"),         X_SUBJECT_KEY (OUTLET, "outlet"),
  X_SUBJECT_KEY (OFFER, "offer"),         X_SUBJECT_KEY (CAMERA, "camera"),
  X_SUBJECT_KEY (BRING_IN, "bring-in"),   X_SUBJECT_KEY (DOCKET, "docket"),
};
G_STATIC_ASSERT (G_N_ELEMENTS (subject_keys) == SW_N_SUBJECTS);

/* What stays for ever or is nobody's act. Every other table is recorded: a new one needs no line
 * here. */
static const char *const tables_not_recorded[] = {
  "act",   "bring_in", "camera_clock_found", "camera_clock_part", "changeset",
  "event", "setting",  "walk_also",          "walk_stop",         "walk_stop_photo",
};
/* Of those, what nobody shows by itself. */
static const char *const tables_not_told[] = { "act", "changeset" };

static gboolean
is_one_of (const char *const *names, gsize n, const char *name)
{
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (names[i], name))
      return TRUE;
  return FALSE;
}

/* Asked by the session at the first write to a table: also how we learn which tables changed. */
static int
table_filter (void *data, const char *table)
{
  SwCatalogue *catalogue = data;
  /* the search is worked out anew from what is recorded */
  if (g_str_has_prefix (table, SW_SEARCH_TABLE))
    return 0;
  if (!is_one_of (tables_not_told, G_N_ELEMENTS (tables_not_told), table))
    g_hash_table_add (catalogue->tables, (gpointer)g_intern_string (table));
  return catalogue->plain_level != 1 && !g_str_has_prefix (table, "sqlite_")
         && !is_one_of (tables_not_recorded, G_N_ELEMENTS (tables_not_recorded), table);
}

static gboolean
folder_is_same (SwCatalogue *catalogue, GError **error)
{
  struct stat now;
  if (stat (catalogue->folder, &now) == 0 && now.st_dev == catalogue->device
      && now.st_ino == catalogue->inode)
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_REFUSED,
      _ ("The catalogue is no longer at %s: its folder was moved, renamed or taken out; open "
         "it again from where it is now."),
      catalogue->folder);
  return FALSE;
}

static void
end_outermost (SwCatalogue *catalogue)
{
  g_clear_pointer (&catalogue->session, sqlite3session_delete);
  catalogue->level = 0;
  catalogue->plain_level = 0;
  catalogue->act_id = 0;
}

static void
roll_back_outermost (SwCatalogue *catalogue)
{
  if (!sqlite3_get_autocommit (catalogue->db))
    sw_db_control (catalogue, SW_STMT_ACT_ROLLBACK);
  end_outermost (catalogue);
}

static gboolean
start_session (SwCatalogue *catalogue, GError **error)
{
  int code = sqlite3session_create (catalogue->db, "main", &catalogue->session);
  if (code == SQLITE_OK)
    {
      sqlite3session_table_filter (catalogue->session, table_filter, catalogue);
      code = sqlite3session_attach (catalogue->session, NULL);
    }
  return code == SQLITE_OK || sw_db_error (catalogue->db, code, NULL, error);
}

static gboolean
begin_outermost (SwCatalogue *catalogue, gboolean plain, GError **error)
{
  if (catalogue->read_only)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_READ_ONLY,
          _ ("The catalogue %s was opened for reading only: nothing in it can be changed."),
          catalogue->folder);
      return FALSE;
    }
  if (!folder_is_same (catalogue, error))
    return FALSE;
  int code = sw_db_control (catalogue, SW_STMT_ACT_BEGIN);
  if (code != SQLITE_OK)
    return sw_db_error (catalogue->db, code, NULL, error);
  catalogue->level = 1;
  catalogue->plain_level = plain ? 1 : 0;
  g_hash_table_remove_all (catalogue->tables);
  sw_search_forget (catalogue);
  if (!start_session (catalogue, error)
      || (!plain
          && !sw_db_run (catalogue, error, SW_STMT_ACT_ADD, "it", sw_catalogue_now (catalogue).us,
                         catalogue->author)))
    {
      roll_back_outermost (catalogue);
      return FALSE;
    }
  catalogue->act_id = plain ? 0 : sw_db_last_id (catalogue);
  catalogue->changes_before = sqlite3_total_changes64 (catalogue->db);
  return TRUE;
}

static gboolean
begin_inside (SwCatalogue *catalogue, gboolean plain, GError **error)
{
  int code = sqlite3_get_autocommit (catalogue->db)
                 ? SQLITE_ABORT
                 : sw_db_control (catalogue, SW_STMT_ACT_SAVEPOINT);
  if (code != SQLITE_OK)
    return sw_db_error (catalogue->db, code, NULL, error);
  catalogue->level++;
  if (plain && catalogue->plain_level == 0)
    {
      catalogue->plain_level = catalogue->level;
      sqlite3session_enable (catalogue->session, 0);
    }
  return TRUE;
}

static gboolean
begin (SwAct *act, SwCatalogue *catalogue, gboolean plain, GError **error)
{
  g_return_val_if_fail (act->catalogue == NULL, FALSE);
  gboolean ok = catalogue->level == 0 ? begin_outermost (catalogue, plain, error)
                                      : begin_inside (catalogue, plain, error);
  if (!ok)
    return FALSE;
  act->catalogue = catalogue;
  act->level = catalogue->level;
  return TRUE;
}

gboolean
sw_act_begin (SwAct *act, SwCatalogue *catalogue, GError **error)
{
  return begin (act, catalogue, FALSE, error);
}

gboolean
sw_act_begin_plain (SwAct *act, SwCatalogue *catalogue, GError **error)
{
  return begin (act, catalogue, TRUE, error);
}

gboolean
sw_act_tell (SwAct *act, SwSubject subject, gint64 id, const char *verb, const SwDay *day,
             const char *sentence, GError **error)
{
  g_return_val_if_fail (act->catalogue != NULL && subject < SW_N_SUBJECTS, FALSE);
  SwCatalogue *catalogue = act->catalogue;
  if (catalogue->plain_level > 0)
    return TRUE;
  return sw_db_run (catalogue, error, SW_STMT_ACT_TELL, "ititIt", catalogue->act_id,
                    subject_keys[subject], id, verb, day != NULL,
                    (gint64)(day != NULL ? day->n : 0), sentence);
}

static void
leave_inside (SwCatalogue *catalogue)
{
  if (catalogue->plain_level == catalogue->level)
    {
      catalogue->plain_level = 0;
      sqlite3session_enable (catalogue->session, 1);
    }
  catalogue->level--;
}

static gboolean
commit_inside (SwAct *act, GError **error)
{
  SwCatalogue *catalogue = act->catalogue;
  int code = sqlite3_get_autocommit (catalogue->db)
                 ? SQLITE_ABORT
                 : sw_db_control (catalogue, SW_STMT_ACT_RELEASE);
  if (code != SQLITE_OK)
    return sw_db_error (catalogue->db, code, NULL, error);
  leave_inside (catalogue);
  act->catalogue = NULL;
  return TRUE;
}

static void
notify (SwCatalogue *catalogue)
{
  if (catalogue->changed == NULL || g_hash_table_size (catalogue->tables) == 0)
    return;
  /* the callback may begin an act, which empties the set: the names are interned and outlive it */
  g_autofree const char **names
      = (const char **)g_hash_table_get_keys_as_array (catalogue->tables, NULL);
  catalogue->changed (catalogue, names, catalogue->changed_data);
}

static gboolean
has_told (SwCatalogue *catalogue, gboolean *out_told, GError **error)
{
  gint64 last = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &last, &found, error, SW_STMT_ACT_LAST_TOLD, ""))
    return FALSE;
  *out_told = found && last == catalogue->act_id;
  return TRUE;
}

static GBytes *
take_changeset (SwCatalogue *catalogue, GError **error)
{
  int size = 0;
  void *data = NULL;
  int code = sqlite3session_changeset (catalogue->session, &size, &data);
  if (code != SQLITE_OK)
    {
      sw_db_error (catalogue->db, code, NULL, error);
      return NULL;
    }
  return g_bytes_new_with_free_func (data, (gsize)size, sqlite3_free, data);
}

/* Names the act's row and stores its changeset; an act that left nothing loses its row. */
static gboolean
write_row (SwCatalogue *catalogue, const char *kind, const char *sentence, gint64 bring_in,
           gint64 refers, gboolean with_changes, GError **error)
{
  gboolean told = FALSE;
  g_autoptr (GBytes) changeset = take_changeset (catalogue, error);
  if (changeset == NULL || !has_told (catalogue, &told, error))
    return FALSE;
  gboolean changed = with_changes && g_bytes_get_size (changeset) > 0;
  if (!changed && g_str_equal (kind, "act"))
    {
      if (!told)
        return sw_db_run (catalogue, error, SW_STMT_ACT_DROP, "i", catalogue->act_id);
      kind = "told";
    }
  return sw_db_run (catalogue, error, SW_STMT_ACT_NAME, "ittII", catalogue->act_id, kind,
                    sentence != NULL ? sentence : "", bring_in != 0, bring_in, refers != 0, refers)
         && (!changed
             || sw_db_run (catalogue, error, SW_STMT_ACT_CHANGESET_ADD, "ib", catalogue->act_id,
                           changeset));
}

gboolean
sw_act_commit_as (SwAct *act, const char *kind, const char *sentence, gint64 bring_in,
                  gint64 refers, gboolean with_changes, GError **error)
{
  SwCatalogue *catalogue = act->catalogue;
  g_assert (catalogue != NULL && act->level == 1 && catalogue->level == 1);
  gboolean plain = catalogue->plain_level > 0;
  gboolean idle = g_str_equal (kind, "act")
                  && sqlite3_total_changes64 (catalogue->db) == catalogue->changes_before;
  if (idle)
    {
      roll_back_outermost (catalogue);
      act->catalogue = NULL;
      return TRUE;
    }
  if (!sw_search_feed (catalogue, error))
    return FALSE;
  if (!plain && !write_row (catalogue, kind, sentence, bring_in, refers, with_changes, error))
    return FALSE;
  int code = sqlite3_get_autocommit (catalogue->db) ? SQLITE_ABORT
                                                    : sw_db_control (catalogue, SW_STMT_ACT_COMMIT);
  if (code != SQLITE_OK)
    return sw_db_error (catalogue->db, code, NULL, error);
  end_outermost (catalogue);
  act->catalogue = NULL;
  notify (catalogue);
  /* a folder moved within the act took its journal along: who opens it there takes the act back */
  return folder_is_same (catalogue, error);
}

gboolean
sw_act_commit (SwAct *act, const char *sentence, GError **error)
{
  g_return_val_if_fail (act->catalogue != NULL, FALSE);
  g_assert (act->level == act->catalogue->level);
  if (act->level > 1)
    return commit_inside (act, error);
  return sw_act_commit_as (act, "act", sentence, 0, 0, TRUE, error);
}

gboolean
sw_act_commit_bring_in (SwAct *act, gint64 bring_in, const char *sentence, GError **error)
{
  g_return_val_if_fail (act->catalogue != NULL && act->level == 1, FALSE);
  return sw_act_commit_as (act, "bring-in", sentence, bring_in, 0, TRUE, error);
}

void
sw_act_clear (SwAct *act)
{
  SwCatalogue *catalogue = act->catalogue;
  if (catalogue == NULL)
    return;
  g_assert (act->level == catalogue->level);
  act->catalogue = NULL;
  if (act->level == 1)
    {
      roll_back_outermost (catalogue);
      return;
    }
  if (!sqlite3_get_autocommit (catalogue->db))
    {
      sw_db_control (catalogue, SW_STMT_ACT_ROLLBACK_TO);
      sw_db_control (catalogue, SW_STMT_ACT_RELEASE);
    }
  leave_inside (catalogue);
}

void
sw_event_free (SwEvent *event)
{
  if (event == NULL)
    return;
  g_free (event->author);
  g_free (event->verb);
  g_free (event->sentence);
  g_free (event);
}

static SwEvent *
event_of_row (const SwUse *use)
{
  SwEvent *event = g_new0 (SwEvent, 1);
  event->id = sw_col_int (use, 0);
  event->act = sw_col_int (use, 1);
  event->at.us = sw_col_int (use, 2);
  event->has_day = !sw_col_is_null (use, 3);
  event->day.n = (gint32)sw_col_int (use, 3);
  event->author = sw_col_text (use, 4);
  event->verb = sw_col_text (use, 5);
  event->sentence = sw_col_text (use, 6);
  event->undone = sw_col_int (use, 7) != 0;
  g_autofree char *subject = sw_col_text (use, 8);
  event->subject = g_intern_string (subject);
  event->subject_id = sw_col_int (use, 9);
  return event;
}

GPtrArray *
sw_events_of (SwCatalogue *catalogue, SwSubject subject, gint64 id, GError **error)
{
  g_return_val_if_fail (subject < SW_N_SUBJECTS, NULL);
  g_auto (SwUse) use
      = sw_db_use (catalogue, SW_STMT_ACT_EVENTS_OF, "ti", subject_keys[subject], id);
  return sw_db_collect (catalogue, &use, (SwRowFunc)event_of_row, (GDestroyNotify)sw_event_free,
                        error);
}

GPtrArray *
sw_event_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ACT_EVENT_LIST, "");
  return sw_db_collect (catalogue, &use, (SwRowFunc)event_of_row, (GDestroyNotify)sw_event_free,
                        error);
}
