/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a bring-in must know of all photos at once. Plain rows; the files are the intake layer's. */
#include "core/catalogue/arrivals.h"

#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

static void
arrival_free (gpointer data)
{
  SwArrival *arrival = data;

  g_free (arrival->hash);
  g_free (arrival->stored);
  g_free (arrival->kind);
  g_free (arrival->remark);
  g_free (arrival);
}

static SwArrival *
arrival_from_row (const SwUse *use)
{
  SwArrival *arrival = g_new0 (SwArrival, 1);

  arrival->id = sw_col_int (use, 0);
  arrival->size = sw_col_int (use, 1);
  arrival->hash = sw_col_text (use, 2);
  arrival->stored = sw_col_text (use, 3);
  arrival->kind = sw_col_text (use, 4);
  arrival->trip = sw_col_int (use, 5);
  arrival->bring_in = sw_col_int (use, 6);
  arrival->aside = sw_col_int (use, 7) != 0;
  arrival->remark = sw_col_text (use, 8);
  return arrival;
}

GPtrArray *
sw_arrival_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ARRIVAL_LIST, "");
  return sw_db_collect (catalogue, &use, (SwRowFunc)arrival_from_row, arrival_free, error);
}

gboolean
sw_arrival_open_bring_in (SwCatalogue *catalogue, gint64 *out_id, GError **error)
{
  gint64 id = 0;
  gboolean found = FALSE;

  if (!sw_db_get_int (catalogue, &id, &found, error, SW_STMT_ARRIVAL_OPEN, ""))
    return FALSE;
  *out_id = found ? id : 0;
  return TRUE;
}

gboolean
sw_arrival_take_back (SwCatalogue *catalogue, gint64 photo, gint64 bring_in, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin_plain (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_ARRIVAL_TAKE_BACK, "ii", photo, bring_in)
         && sw_act_commit (&act, NULL, error);
}
