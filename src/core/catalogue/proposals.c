/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stored stops: rows in, rows out. Must not pair, nor make or assign items. */
#include "core/catalogue/proposals.h"
#include "core/base/language.h"

#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

SwStopAlso *
sw_stop_also_new (gint64 photo, gint64 item, gint64 tag, const char *name, const char *reason)
{
  SwStopAlso *also = g_new (SwStopAlso, 1);

  *also = (SwStopAlso){ photo, item, tag, g_strdup (name), g_strdup (reason) };
  return also;
}

void
sw_stop_also_free (SwStopAlso *also)
{
  if (also == NULL)
    return;
  g_free (also->name);
  g_free (also->reason);
  g_free (also);
}

SwStopRecord *
sw_stop_record_new (void)
{
  SwStopRecord *stop = g_new0 (SwStopRecord, 1);

  stop->also = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_stop_also_free);

  stop->photos = g_array_new (FALSE, FALSE, sizeof (gint64));
  stop->decided = g_array_new (FALSE, FALSE, sizeof (gint64));
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
  g_free (stop->decided_name);
  g_free (stop->no_item_kind);
  g_array_unref (stop->photos);
  g_array_unref (stop->decided);
  g_ptr_array_unref (stop->also);
  g_free (stop);
}

gint64
sw_stop_key (const SwStopRecord *stop)
{
  return g_array_index (stop->photos, gint64, 0);
}

/* The key stands in as the only photo until the photos are read. */
static gpointer
stop_from_row (const SwUse *use)
{
  SwStopRecord *stop = sw_stop_record_new ();
  gint64 first = sw_col_int (use, 0);

  g_array_append_val (stop->photos, first);
  stop->timed = !sw_col_is_null (use, 1);
  stop->start_us = stop->timed ? sw_col_int (use, 1) : 0;
  stop->item = sw_col_int (use, 2);
  stop->is_new = sw_col_int (use, 3) != 0;
  stop->name = sw_col_text (use, 4);
  stop->place = sw_col_int (use, 5);
  stop->place_path = sw_col_text (use, 6);
  stop->probability = sw_col_double (use, 7);
  stop->band = sw_col_text (use, 8);
  stop->reason = sw_col_text (use, 9);
  return stop;
}

static GPtrArray *
read_stops (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_STOP_LIST, "i", trip);

  return sw_db_collect (catalogue, &use, stop_from_row, (GDestroyNotify)sw_stop_record_free, error);
}

static void
add_photo (SwStopRecord *stop, const SwUse *use)
{
  gint64 photo = sw_col_int (use, 1), decided = SW_STOP_OPEN;

  if (!sw_col_is_null (use, 2))
    {
      decided = sw_col_int (use, 2);
      if (stop->decided_name == NULL)
        stop->decided_name = sw_col_text (use, 3);
    }
  else if (!sw_col_is_null (use, 4))
    {
      decided = SW_STOP_NO_ITEM;
      if (stop->no_item_kind == NULL)
        stop->no_item_kind = sw_col_text (use, 4);
    }
  stop->has_cost = stop->has_cost || sw_col_int (use, 5) != 0;
  g_array_append_val (stop->photos, photo);
  g_array_append_val (stop->decided, decided);
  stop->n_open += decided == SW_STOP_OPEN;
}

/* Both lists run in the same order. */
static gboolean
read_photos (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_STOP_PHOTO_LIST, "i", trip);
  guint at = 0;
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwStopRecord *stop;

      while (at < stops->len && sw_stop_key (g_ptr_array_index (stops, at)) != sw_col_int (&use, 0))
        at++;
      if (at >= stops->len)
        return TRUE;
      stop = g_ptr_array_index (stops, at);
      if (stop->decided->len == 0)
        g_array_set_size (stop->photos, 0);
      add_photo (stop, &use);
    }
  return ok;
}

/* In the order of the stops, too. */
static gboolean
read_also (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ALSO_LIST, "i", trip);
  guint at = 0;
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, &use, &ok, error))
    {
      while (at < stops->len && sw_stop_key (g_ptr_array_index (stops, at)) != sw_col_int (&use, 0))
        at++;
      if (at >= stops->len)
        return TRUE;
      g_autofree char *name = sw_col_text (&use, 4), *reason = sw_col_text (&use, 5);
      g_ptr_array_add (((SwStopRecord *)g_ptr_array_index (stops, at))->also,
                       sw_stop_also_new (sw_col_int (&use, 1), sw_col_int (&use, 2),
                                         sw_col_int (&use, 3), name, reason));
    }
  return ok;
}

/* The trip's stops with all that is of them. */
static GPtrArray *
read_whole (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GPtrArray) stops = read_stops (catalogue, trip, error);

  if (stops == NULL || !read_also (catalogue, trip, stops, error)
      || !read_photos (catalogue, trip, stops, error))
    return NULL;
  return g_steal_pointer (&stops);
}

/* A stop all of whose photos went to another trip is none any more. */
static void
number_stops (GPtrArray *stops)
{
  for (guint k = stops->len; k-- > 0;)
    if (((SwStopRecord *)g_ptr_array_index (stops, k))->decided->len == 0)
      g_ptr_array_remove_index (stops, k);
  for (guint k = 0; k < stops->len; k++)
    ((SwStopRecord *)g_ptr_array_index (stops, k))->position = (int)k + 1;
}

GPtrArray *
sw_proposal_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_autoptr (GPtrArray) stops = read_whole (catalogue, trip, error);

  if (stops == NULL)
    return NULL;
  for (guint k = 0; k < stops->len; k++)
    ((SwStopRecord *)g_ptr_array_index (stops, k))->trip = trip;
  number_stops (stops);
  return g_steal_pointer (&stops);
}

static gboolean
same_also (const SwStopRecord *a, const SwStopRecord *b)
{
  if (a->also->len != b->also->len)
    return FALSE;
  for (guint k = 0; k < a->also->len; k++)
    {
      const SwStopAlso *x = g_ptr_array_index (a->also, k), *y = g_ptr_array_index (b->also, k);

      if (x->photo != y->photo || x->item != y->item || x->tag != y->tag
          || g_strcmp0 (x->name, y->name) != 0 || g_strcmp0 (x->reason, y->reason) != 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
same_stop (const SwStopRecord *a, const SwStopRecord *b)
{
  if (a->item != b->item || a->is_new != b->is_new || a->place != b->place || a->timed != b->timed
      || a->start_us != b->start_us || a->probability != b->probability
      || g_strcmp0 (a->name, b->name) != 0 || g_strcmp0 (a->band, b->band) != 0
      || g_strcmp0 (a->reason, b->reason) != 0 || a->photos->len != b->photos->len
      || !same_also (a, b))
    return FALSE;
  for (guint k = 0; k < a->photos->len; k++)
    if (g_array_index (a->photos, gint64, k) != g_array_index (b->photos, gint64, k))
      return FALSE;
  return TRUE;
}

static gboolean
insert_stop (SwCatalogue *catalogue, gint64 trip, const SwStopRecord *stop, GError **error)
{
  gint64 first = sw_stop_key (stop);

  if (!sw_db_run (catalogue, error, SW_STMT_STOP_INSERT, "iiIIitIdtt", first, trip, stop->timed,
                  stop->start_us, stop->item != 0, stop->item, (gint64)(stop->is_new != FALSE),
                  stop->name, stop->place != 0, stop->place, stop->probability, stop->band,
                  stop->reason))
    return FALSE;
  for (guint k = 0; k < stop->photos->len; k++)
    {
      gint64 photo = g_array_index (stop->photos, gint64, k);

      /* A photo moved to another stop, or another trip, leaves its old one. */
      if (!sw_db_run (catalogue, error, SW_STMT_STOP_PHOTO_DROP, "i", photo)
          || !sw_db_run (catalogue, error, SW_STMT_STOP_PHOTO_INSERT, "iii", photo, first,
                         (gint64)k))
        return FALSE;
    }
  if (!sw_db_run (catalogue, error, SW_STMT_ALSO_CLEAR, "i", first))
    return FALSE;
  for (guint k = 0; k < stop->also->len; k++)
    {
      const SwStopAlso *also = g_ptr_array_index (stop->also, k);

      if (!sw_db_run (catalogue, error, SW_STMT_ALSO_INSERT, "iiiiitt", also->photo, also->item,
                      also->tag, first, (gint64)k, also->name, also->reason))
        return FALSE;
    }
  return TRUE;
}

/* Of the stored ones, those that are not among 'keep' as they stand; leaves in 'keep' those that
 * are to be written. */
static gboolean
drop_others (SwCatalogue *catalogue, const GPtrArray *stored, GHashTable *keep, gboolean *out_any,
             GError **error)
{
  for (guint k = 0; k < stored->len; k++)
    {
      const SwStopRecord *old = g_ptr_array_index (stored, k);
      gint64 first = sw_stop_key (old);
      const SwStopRecord *now = g_hash_table_lookup (keep, &first);

      if (now != NULL && same_stop (old, now))
        {
          g_hash_table_remove (keep, &first);
          continue;
        }
      *out_any = TRUE;
      if (!sw_db_run (catalogue, error, SW_STMT_ALSO_CLEAR, "i", first)
          || !sw_db_run (catalogue, error, SW_STMT_STOP_PHOTO_CLEAR, "i", first)
          || !sw_db_run (catalogue, error, SW_STMT_STOP_CLEAR, "i", first))
        return FALSE;
    }
  return TRUE;
}

gboolean
sw_proposal_replace (SwCatalogue *catalogue, gint64 trip, GPtrArray *stops, gboolean *out_changed,
                     GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gboolean any = FALSE;

  if (!sw_act_begin_plain (&act, catalogue, error))
    return FALSE;
  g_autoptr (GPtrArray) stored = read_whole (catalogue, trip, error);
  if (stored == NULL)
    return FALSE;
  g_autoptr (GHashTable) fresh = g_hash_table_new (g_int64_hash, g_int64_equal);
  for (guint k = 0; k < stops->len; k++)
    {
      SwStopRecord *stop = g_ptr_array_index (stops, k);
      g_hash_table_insert (fresh, &g_array_index (stop->photos, gint64, 0), stop);
    }
  if (!drop_others (catalogue, stored, fresh, &any, error))
    return FALSE;
  any = any || g_hash_table_size (fresh) > 0;
  for (guint k = 0; k < stops->len; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (stops, k);
      gint64 first = sw_stop_key (stop);

      if (g_hash_table_contains (fresh, &first) && !insert_stop (catalogue, trip, stop, error))
        return FALSE;
    }
  if (!sw_act_commit (&act, NULL, error))
    return FALSE;
  *out_changed = any;
  return TRUE;
}

gboolean
sw_proposal_set_item (SwCatalogue *catalogue, gint64 stop, gint64 item, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin_plain (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_STOP_SET_ITEM, "ii", stop, item)
         && sw_act_commit (&act, NULL, error);
}

/* ---- cuts ---- */

gboolean
sw_cut_set (SwCatalogue *catalogue, gint64 before, gint64 photo, SwCutKind cut, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  if (!(cut == SW_CUT_OPEN
            ? sw_db_run (catalogue, error, SW_STMT_CUT_DROP, "i", photo)
            : sw_db_run (catalogue, error, SW_STMT_CUT_PUT, "iii", photo, (gint64)cut, before)))
    return FALSE;
  return sw_act_commit (&act, cut == SW_CUT_JOIN ? _ ("Stops joined") : _ ("Stop cut"), error);
}

static void
fill_cut (const SwUse *use, gpointer out)
{
  *(SwCut *)out = (SwCut){ .photo = sw_col_int (use, 0),
                           .cut = (SwCutKind)sw_col_int (use, 1),
                           .before = sw_col_int (use, 2) };
}

GArray *
sw_cut_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CUT_LIST, "i", trip);
  return sw_db_collect_plain (catalogue, &use, sizeof (SwCut), fill_cut, error);
}
