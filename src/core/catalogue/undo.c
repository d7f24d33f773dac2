/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Undo and redo, in one line for everybody who shares the catalogue: the latest act that stands is
 * taken back first. An act's changeset is applied backwards (undo) or again (redo); where a row is
 * not as the act left it, all is refused. Undo and redo are acts of their own, so that the history
 * tells them and they work over restarts. */
#include "core/catalogue/act.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/changeset.h"

typedef struct
{
  gint64 id, bring_in;
  gint64 undo; /* the undo that redo answers, 0 for undo */
  char *kind, *sentence;
} Target;

static void
target_clear (Target *target)
{
  g_clear_pointer (&target->kind, g_free);
  g_clear_pointer (&target->sentence, g_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Target, target_clear)

/* The two ways, so that each step is written once. */
typedef struct
{
  const char *kind;
  SwStatementId find;
  gboolean back;
  const char *verb, *prefix;
  const char *none;  /* the refusal where there is nothing to do */
  const char *words; /* "'X' cannot be ..." */
} Way;

static const Way undo_way = {
  "undo",
  SW_STMT_ACT_TO_UNDO,
  TRUE,
  "undone",
  N_ ("Taken back: "),
  N_ ("There is nothing to take back."),
  N_ ("taken back"),
};
static const Way redo_way = {
  "redo",
  SW_STMT_ACT_TO_REDO,
  FALSE,
  "redone",
  N_ ("Done again: "),
  N_ ("There is nothing to do again: nothing was taken back since the last change."),
  N_ ("done again"),
};

/* target->id 0: there is none. 'before' is an act number above those looked at. */
static gboolean
find_target (SwCatalogue *catalogue, const Way *way, gint64 before, Target *target, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, way->find, "i", before);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  if (!row)
    return TRUE;
  target->id = sw_col_int (&use, 0);
  target->kind = sw_col_text (&use, 1);
  target->sentence = sw_col_text (&use, 2);
  target->bring_in = sw_col_int (&use, 3);
  target->undo = way->back ? 0 : sw_col_int (&use, 4);
  return TRUE;
}

static gboolean
refuse_changed (const Way *way, const Target *target, GError **error)
{
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("'%s' cannot be %s: what it changed has been changed meanwhile."),
               target->sentence, _ (way->words));
  return FALSE;
}

static int
on_conflict (void *data, int kind, sqlite3_changeset_iter *iter)
{
  gboolean *conflict = data;
  *conflict = TRUE;
  return SQLITE_CHANGESET_ABORT;
}

static gboolean
apply (SwCatalogue *catalogue, const Way *way, const Target *target, GBytes *changeset,
       GError **error)
{
  gsize size = 0;
  if (!sw_changeset_is_sound (changeset))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_DAMAGED,
                   _ ("'%s' cannot be %s: what it changed cannot be read any more; run a check."),
                   target->sentence, _ (way->words));
      return FALSE;
    }
  /* the interface asks for a pointer it may write to, and does not */
  gpointer data = (gpointer)g_bytes_get_data (changeset, &size);
  gboolean conflict = FALSE;
  int flags = way->back ? SQLITE_CHANGESETAPPLY_INVERT : 0;
  int code = sqlite3changeset_apply_v2 (catalogue->db, (int)size, data, NULL, on_conflict,
                                        &conflict, NULL, NULL, flags);
  if (conflict)
    return refuse_changed (way, target, error);
  return code == SQLITE_OK || sw_db_error (catalogue->db, code, NULL, error);
}

static gboolean
read_changeset (SwCatalogue *catalogue, const Target *target, GBytes **out, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ACT_CHANGESET, "i", target->id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out = row ? sw_col_blob (&use, 0) : NULL;
  return TRUE;
}

static gboolean
apply_stored (SwCatalogue *catalogue, const Way *way, const Target *target, GError **error)
{
  g_autoptr (GBytes) changeset = NULL;
  if (!read_changeset (catalogue, target, &changeset, error))
    return FALSE;
  if (changeset != NULL)
    return apply (catalogue, way, target, changeset, error);
  if (target->bring_in != 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("'%s' cannot be %s: what it held was removed for good."), target->sentence,
               _ (way->words));
  return FALSE;
}

/* The photos of a bring-in are put aside or taken back; their rows and files stay. */
static gboolean
turn_photos (SwCatalogue *catalogue, const Way *way, const Target *target, GError **error)
{
  if (target->bring_in == 0)
    return TRUE;
  if (way->back)
    {
      g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ACT_BRING_IN_USED, "i", target->bring_in);
      gboolean row = FALSE;
      if (!sw_db_step (catalogue, &use, &row, error))
        return FALSE;
      if (row)
        return refuse_changed (way, target, error);
    }
  return sw_db_run (catalogue, error, SW_STMT_ACT_BRING_IN_ASIDE, "ii", target->bring_in,
                    (gint64)(way->back ? 1 : 0));
}

static gboolean
mark (SwCatalogue *catalogue, const Way *way, const Target *target, GError **error)
{
  gint64 self = catalogue->act_id;
  if (!sw_db_run (catalogue, error, SW_STMT_ACT_TELL_AGAIN, "iitt", target->id, self, way->verb,
                  _ (way->prefix)))
    return FALSE;
  if (way->back)
    return sw_db_run (catalogue, error, SW_STMT_ACT_MARK_UNDONE, "ii", target->id, self);
  return sw_db_run (catalogue, error, SW_STMT_ACT_MARK_UNDONE, "in", target->id)
         && sw_db_run (catalogue, error, SW_STMT_ACT_MARK_UNDONE, "ii", target->undo, self);
}

static gboolean
take_way (SwCatalogue *catalogue, const Way *way, char **out_sentence, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_auto (Target) target = { 0 };
  if (!sw_act_begin (&act, catalogue, error)
      || !find_target (catalogue, way, catalogue->act_id, &target, error))
    return FALSE;
  if (target.id == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, "%s", _ (way->none));
      return FALSE;
    }
  if (g_str_equal (target.kind, "barrier"))
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("'%s' cannot be taken back, nor anything before it."), target.sentence);
      return FALSE;
    }
  if (!turn_photos (catalogue, way, &target, error)
      || !apply_stored (catalogue, way, &target, error) || !mark (catalogue, way, &target, error)
      || !sw_act_commit_as (&act, way->kind, target.sentence, 0, target.id, FALSE, error))
    return FALSE;
  if (out_sentence != NULL)
    *out_sentence = g_steal_pointer (&target.sentence);
  return TRUE;
}

gboolean
sw_undo (SwCatalogue *catalogue, char **out_sentence, GError **error)
{
  g_return_val_if_fail (catalogue->level == 0, FALSE);
  return take_way (catalogue, &undo_way, out_sentence, error);
}

gboolean
sw_redo (SwCatalogue *catalogue, char **out_sentence, GError **error)
{
  g_return_val_if_fail (catalogue->level == 0, FALSE);
  return take_way (catalogue, &redo_way, out_sentence, error);
}

static char *
way_sentence (SwCatalogue *catalogue, const Way *way)
{
  g_auto (Target) target = { 0 };
  if (!find_target (catalogue, way, G_MAXINT64, &target, NULL) || target.id == 0
      || g_str_equal (target.kind, "barrier"))
    return NULL;
  return g_steal_pointer (&target.sentence);
}

char *
sw_undo_sentence (SwCatalogue *catalogue)
{
  return way_sentence (catalogue, &undo_way);
}

char *
sw_redo_sentence (SwCatalogue *catalogue)
{
  return way_sentence (catalogue, &redo_way);
}

gboolean
sw_act_latest (SwCatalogue *catalogue, gint64 *out_act, GError **error)
{
  return sw_db_get_int (catalogue, out_act, NULL, error, SW_STMT_ACT_LATEST, "");
}
