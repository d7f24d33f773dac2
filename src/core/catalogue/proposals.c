/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stored stops: rows in, rows out. Must not pair, nor make or assign items. */
#include "core/catalogue/proposals.h"

#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

SwStopRecord *
sw_stop_record_new (void)
{
  SwStopRecord *stop = g_new0 (SwStopRecord, 1);

  stop->photos = g_array_new (FALSE, FALSE, sizeof (gint64));
  return stop;
}

void
sw_stop_record_free (SwStopRecord *stop)
{
  if (stop == NULL)
    return;
  g_free (stop->name);
  g_free (stop->place_path);
  g_free (stop->band);
  g_free (stop->reason);
  g_array_unref (stop->photos);
  g_free (stop);
}

static gboolean
read_stops (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_STOP_LIST, "i", trip);

  for (;;)
    {
      gboolean row = FALSE;
      SwStopRecord *stop;

      if (!sw_db_step (catalogue, &use, &row, error))
        return FALSE;
      if (!row)
        return TRUE;
      stop = sw_stop_record_new ();
      stop->trip = trip;
      stop->position = (int)sw_col_int (&use, 0);
      stop->item = sw_col_int (&use, 1);
      stop->is_new = sw_col_int (&use, 2) != 0;
      stop->name = sw_col_text (&use, 3);
      stop->place = sw_col_int (&use, 4);
      stop->place_path = sw_col_text (&use, 5);
      stop->probability = sw_col_double (&use, 6);
      stop->band = sw_col_text (&use, 7);
      stop->reason = sw_col_text (&use, 8);
      g_ptr_array_add (stops, stop);
    }
}

/* Both lists run by position. */
static gboolean
read_photos (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_STOP_PHOTO_LIST, "i", trip);
  guint at = 0;

  for (;;)
    {
      gboolean row = FALSE;
      gint64 position, photo;

      if (!sw_db_step (catalogue, &use, &row, error))
        return FALSE;
      if (!row)
        return TRUE;
      position = sw_col_int (&use, 0);
      photo = sw_col_int (&use, 1);
      while (at < stops->len
             && ((SwStopRecord *)g_ptr_array_index (stops, at))->position < position)
        at++;
      if (at >= stops->len)
        return TRUE;
      SwStopRecord *stop = g_ptr_array_index (stops, at);
      g_array_append_val (stop->photos, photo);
      stop->n_open += sw_col_int (&use, 2) != 0;
    }
}

GPtrArray *
sw_proposal_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GPtrArray) stops
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_stop_record_free);

  if (!read_stops (catalogue, trip, stops, error) || !read_photos (catalogue, trip, stops, error))
    return NULL;
  return g_steal_pointer (&stops);
}

static gboolean
same_stop (const SwStopRecord *a, const SwStopRecord *b)
{
  if (a->item != b->item || a->is_new != b->is_new || a->place != b->place
      || a->probability != b->probability || g_strcmp0 (a->name, b->name) != 0
      || g_strcmp0 (a->band, b->band) != 0 || g_strcmp0 (a->reason, b->reason) != 0
      || a->photos->len != b->photos->len)
    return FALSE;
  for (guint k = 0; k < a->photos->len; k++)
    if (g_array_index (a->photos, gint64, k) != g_array_index (b->photos, gint64, k))
      return FALSE;
  return TRUE;
}

static gboolean
same_stops (const GPtrArray *a, const GPtrArray *b)
{
  if (a->len != b->len)
    return FALSE;
  for (guint k = 0; k < a->len; k++)
    if (!same_stop (g_ptr_array_index (a, k), g_ptr_array_index (b, k)))
      return FALSE;
  return TRUE;
}

static gboolean
insert_stop (SwCatalogue *catalogue, gint64 trip, int position, const SwStopRecord *stop,
             GError **error)
{
  if (!sw_db_run (catalogue, error, SW_STMT_STOP_INSERT, "iiIitIdtt", trip, (gint64)position,
                  stop->item != 0, stop->item, (gint64)(stop->is_new != FALSE), stop->name,
                  stop->place != 0, stop->place, stop->probability, stop->band, stop->reason))
    return FALSE;
  for (guint k = 0; k < stop->photos->len; k++)
    {
      gint64 photo = g_array_index (stop->photos, gint64, k);

      /* A photo moved to another trip leaves its old stop. */
      if (!sw_db_run (catalogue, error, SW_STMT_STOP_PHOTO_DROP, "i", photo)
          || !sw_db_run (catalogue, error, SW_STMT_STOP_PHOTO_INSERT, "iiii", photo, trip,
                         (gint64)position, (gint64)k))
        return FALSE;
    }
  return TRUE;
}

gboolean
sw_proposal_replace (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops, gboolean *out_changed,
                     GError **error)
{
  g_autoptr (GPtrArray) stored = sw_proposal_list (catalogue, trip, error);
  g_auto (SwAct) act = SW_ACT_INIT;

  if (stored == NULL)
    return FALSE;
  if (same_stops (stored, stops))
    {
      *out_changed = FALSE;
      return TRUE;
    }
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_STOP_PHOTO_CLEAR, "i", trip)
      || !sw_db_run (catalogue, error, SW_STMT_STOP_CLEAR, "i", trip))
    return FALSE;
  for (guint k = 0; k < stops->len; k++)
    if (!insert_stop (catalogue, trip, (int)k + 1, g_ptr_array_index (stops, k), error))
      return FALSE;
  if (!sw_act_commit (&act, "Stops proposed", error))
    return FALSE;
  *out_changed = TRUE;
  return TRUE;
}

gboolean
sw_proposal_set_item (SwCatalogue *catalogue, gint64 trip, int position, gint64 item,
                      GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_STOP_SET_ITEM, "iii", trip, (gint64)position, item)
         && sw_act_commit (&act, "Stop accepted", error);
}
