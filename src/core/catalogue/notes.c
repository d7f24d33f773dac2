/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Field notes: rows in, rows out. Must not read files or make items. */
#include "core/catalogue/notes.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/trips.h"

void
sw_note_free (SwNote *note)
{
  if (note == NULL)
    return;
  g_free (note->place_path);
  g_free (note->what);
  g_free (note->remark);
  g_free (note);
}

static gboolean
check_note (const SwNote *note, GError **error)
{
  if (note->place == 0 && note->item == 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A field note needs a place or an item; say at least where it was."));
      return FALSE;
    }
  return sw_text_check (note->what, _ ("What the note names"), FALSE, TRUE, error)
         && sw_text_check (note->remark, _ ("The remark of the note"), TRUE, TRUE, error);
}

gboolean
sw_note_add (SwCatalogue *catalogue, SwNote *note, gboolean *out_added, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 same = 0;
  gboolean found = FALSE;

  if (!check_note (note, error) || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwTrip) trip = sw_trip_get (catalogue, note->trip, error);
  if (trip == NULL
      || !sw_db_get_int (catalogue, &same, &found, error, SW_STMT_NOTE_SAME, "iiItit", note->trip,
                         note->at.us, note->place != 0, note->place, note->what, note->count,
                         note->remark))
    return FALSE;
  *out_added = !found;
  if (found)
    return TRUE;
  if (!sw_db_run (catalogue, error, SW_STMT_NOTE_INSERT, "iiiIItit", note->trip, note->at.us,
                  (gint64)note->resolution_s, note->place != 0, note->place, note->item != 0,
                  note->item, note->what, note->count, note->remark))
    return FALSE;
  note->id = sw_db_last_id (catalogue);
  g_autofree char *shown = sw_text_printable (note->what, -1);
  g_autofree char *sentence
      = *shown != '\0' ? g_strdup_printf (_ ("Noted on trip %" PRId64 ": %s"), note->trip, shown)
                       : g_strdup_printf (_ ("Noted on trip %" PRId64 ": here now"), note->trip);
  return sw_act_tell (&act, note->item != 0 ? SW_SUBJECT_ITEM : SW_SUBJECT_PLACE,
                      note->item != 0 ? note->item : note->place, "note.added", NULL, sentence,
                      error)
         && sw_act_commit (&act, sentence, error);
}

static SwNote *
note_from_row (const SwUse *use)
{
  SwNote *note = g_new0 (SwNote, 1);

  note->id = sw_col_int (use, 0);
  note->trip = sw_col_int (use, 1);
  note->at.us = sw_col_int (use, 2);
  note->resolution_s = (int)sw_col_int (use, 3);
  note->place = sw_col_int (use, 4);
  note->item = sw_col_int (use, 5);
  note->place_path = sw_col_text (use, 6);
  note->what = sw_col_text (use, 7);
  note->count = sw_col_int (use, 8);
  note->remark = sw_col_text (use, 9);
  return note;
}

GPtrArray *
sw_note_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_NOTE_LIST, "i", trip);
  return sw_db_collect (catalogue, &use, (SwRowFunc)note_from_row, (GDestroyNotify)sw_note_free,
                        error);
}
