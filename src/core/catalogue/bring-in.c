/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The rows of bring-ins and of look-alikes. Copying files is the intake layer's. That a bring-in is
 * open or closed is bookkeeping for a run that was cut short, no act of a person: it is written
 * plainly, outside undo. */
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/photos.h"

gboolean
sw_bring_in_open (SwCatalogue *catalogue, const char *source, gint64 *out_id, GError **error)
{
  g_autofree char *shown = sw_text_printable (source, -1);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin_plain (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_BRING_IN_OPEN, "it", sw_catalogue_now (catalogue).us,
                     shown))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  if (!sw_act_commit (&act, NULL, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

gboolean
sw_bring_in_close (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin_plain (&act, catalogue, error))
    return FALSE;
  gint64 open = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &open, &found, error, SW_STMT_BRING_IN_STATE, "i", id))
    return FALSE;
  if (!found)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no bring-in %" PRId64 "."),
                   id);
      return FALSE;
    }
  if (!open)
    return TRUE;
  return sw_db_run (catalogue, error, SW_STMT_BRING_IN_CLOSE, "ii", id,
                    sw_catalogue_now (catalogue).us)
         && sw_act_commit (&act, NULL, error);
}

gboolean
sw_bring_in_any_open (SwCatalogue *catalogue, gboolean *out_open, GError **error)
{
  gint64 one = 0;
  gboolean found = FALSE;
  if (!sw_db_get_int (catalogue, &one, &found, error, SW_STMT_BRING_IN_ANY_OPEN, ""))
    return FALSE;
  *out_open = found;
  return TRUE;
}

gboolean
sw_look_alike_add (SwCatalogue *catalogue, gint64 a, gint64 b, GError **error)
{
  if (a == b)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("Photo %" PRId64 " cannot be the double of itself."), a);
      return FALSE;
    }
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwPhoto) left = sw_photo_get (catalogue, MIN (a, b), error);
  g_autoptr (SwPhoto) right = left != NULL ? sw_photo_get (catalogue, MAX (a, b), error) : NULL;
  if (right == NULL
      || !sw_db_run (catalogue, error, SW_STMT_LOOK_ALIKE_PUT, "ii", left->id, right->id))
    return FALSE;
  if (sw_db_changes (catalogue) == 0)
    return TRUE;
  g_autofree char *sentence
      = g_strdup_printf (_ ("Photos %" PRId64 " and %" PRId64 " look alike"), left->id, right->id);
  return sw_act_tell (&act, SW_SUBJECT_PHOTO, right->id, "photo.look-alike", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

static char *
file_from_row (const SwUse *use)
{
  return sw_col_text (use, 0);
}

GPtrArray *
sw_look_alike_files (SwCatalogue *catalogue, gint64 photo, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_LOOK_ALIKE_FILES, "i", photo);
  return sw_db_collect (catalogue, &use, (SwRowFunc)file_from_row, g_free, error);
}
