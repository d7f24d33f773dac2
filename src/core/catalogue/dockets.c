/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of a yard's docket, and what trips cost. */
#include "core/catalogue/act.h"
#include "core/base/language.h"
#include "core/catalogue/db.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/postings.h"

void
sw_docket_line_free (SwDocketLine *line)
{
  if (line == NULL)
    return;
  g_free (line->class_name);
  g_clear_pointer (&line->items, g_array_unref);
  g_free (line);
}

void
sw_cost_free (SwCost *cost)
{
  if (cost == NULL)
    return;
  g_free (cost->remark);
  g_free (cost);
}

gboolean
sw_docket_line_add (SwCatalogue *catalogue, gint64 deal, const SwDocketLine *line, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_DOCKET_LINE_ADD, "itiIiI", deal, line->class_name,
                     line->net.ug, line->has_rate, line->rate.minor, line->amount.minor,
                     line->place != 0, line->place))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  for (guint i = 0; line->items != NULL && i < line->items->len; i++)
    if (!sw_db_run (catalogue, error, SW_STMT_DOCKET_LINE_ITEM_ADD, "ii", id,
                    g_array_index (line->items, SwDocketItem, i).item))
      return FALSE;
  return sw_act_commit (&act, _ ("Docket line entered"), error);
}

gboolean
sw_docket_line_set_weights (SwCatalogue *catalogue, const SwDocketLine *line, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (guint i = 0; i < line->items->len; i++)
    {
      const SwDocketItem *item = &g_array_index (line->items, SwDocketItem, i);
      if (!sw_db_run (catalogue, error, SW_STMT_DOCKET_LINE_ITEM_SET_WEIGHT, "iii", line->id,
                      item->item, item->weight))
        return FALSE;
    }
  return sw_act_commit (&act, _ ("Split"), error);
}

static SwDocketLine *
line_from_row (const SwUse *use)
{
  SwDocketLine *line = g_new0 (SwDocketLine, 1);
  line->id = sw_col_int (use, 0);
  line->class_name = sw_col_text (use, 1);
  line->net = (SwMass){ sw_col_int (use, 2) };
  line->has_rate = !sw_col_is_null (use, 3);
  line->rate = sw_money (sw_col_int (use, 3));
  line->amount = sw_money (sw_col_int (use, 4));
  line->place = sw_col_int (use, 5);
  line->items = g_array_new (FALSE, FALSE, sizeof (SwDocketItem));
  return line;
}

/* A row for each item of a line, one without an item for loose scrap. */
GPtrArray *
sw_docket_lines (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_autoptr (GPtrArray) lines
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_docket_line_free);
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DOCKET_LINES, "i", deal);
  SwDocketLine *line = NULL;
  gboolean ok = TRUE;
  while (sw_db_next (catalogue, &use, &ok, error))
    {
      if (line == NULL || line->id != sw_col_int (&use, 0))
        g_ptr_array_add (lines, line = line_from_row (&use));
      if (sw_col_is_null (&use, 6))
        continue;
      SwDocketItem item
          = { sw_col_int (&use, 6), sw_col_is_null (&use, 7) ? -1 : sw_col_int (&use, 7) };
      g_array_append_val (line->items, item);
    }
  return ok ? g_steal_pointer (&lines) : NULL;
}

void
sw_docket_weighed_free (SwDocketWeighed *weighed)
{
  if (weighed == NULL)
    return;
  g_free (weighed->ref);
  g_free (weighed->outlet_name);
  g_free (weighed->class_name);
  g_free (weighed->item_name);
  g_free (weighed->scrap_class);
  g_free (weighed);
}

static gpointer
weighed_from_row (const SwUse *use)
{
  SwDocketWeighed *weighed = g_new0 (SwDocketWeighed, 1);
  weighed->deal = sw_col_int (use, 0);
  weighed->ref = sw_col_text (use, 1);
  weighed->outlet_name = sw_col_text (use, 2);
  weighed->ended = (SwDay){ (gint32)sw_col_int (use, 3) };
  weighed->amount = sw_money (sw_col_int (use, 4));
  weighed->charges = sw_money (sw_col_int (use, 5));
  weighed->line = sw_col_int (use, 6);
  weighed->class_name = sw_col_text (use, 7);
  weighed->net = (SwMass){ sw_col_int (use, 8) };
  weighed->item_name = sw_col_text (use, 9);
  weighed->scrap_class = sw_col_text (use, 10);
  return weighed;
}

GPtrArray *
sw_docket_weighed_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_DOCKET_WEIGHED, "i", (gint64)SW_POSTING_FEE);
  return sw_db_collect (catalogue, &use, weighed_from_row, (GDestroyNotify)sw_docket_weighed_free,
                        error);
}

gboolean
sw_cost_add (SwCatalogue *catalogue, const SwCost *cost, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_COST_ADD, "Iiit", cost->trip != 0, cost->trip,
                       (gint64)cost->day.n, cost->amount.minor,
                       cost->remark != NULL ? cost->remark : "")
         && sw_act_commit (&act, _ ("Cost entered"), error);
}

static SwCost *
cost_from_row (const SwUse *use)
{
  SwCost *cost = g_new0 (SwCost, 1);
  cost->id = sw_col_int (use, 0);
  cost->trip = sw_col_int (use, 1);
  cost->day = (SwDay){ (gint32)sw_col_int (use, 2) };
  cost->amount = sw_money (sw_col_int (use, 3));
  cost->remark = sw_col_text (use, 4);
  return cost;
}

GPtrArray *
sw_cost_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_COST_LIST, "");
  return sw_db_collect (catalogue, &use, (SwRowFunc)cost_from_row, (GDestroyNotify)sw_cost_free,
                        error);
}
