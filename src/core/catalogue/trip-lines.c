/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/catalogue/trip-lines.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/trips.h"

/* ---- the lines ---- */

static gboolean
add_rows (SwCatalogue *catalogue, gint64 trip, const SwTripLineRow *rows, gsize n, GError **error)
{
  for (gsize i = 0; i < n; i++)
    if (!sw_db_run (catalogue, error, SW_STMT_TRIP_LINE_ADD, "iitiIitiii", trip,
                    (gint64)rows[i].number, rows[i].part, rows[i].subject, rows[i].item != 0,
                    rows[i].item, rows[i].pieces, rows[i].tick, (gint64)rows[i].broken,
                    rows[i].due.minor, rows[i].taken.minor))
      return FALSE;
  return TRUE;
}

gboolean
sw_trip_lines_keep (SwCatalogue *catalogue, gint64 trip, const SwTripLineRow *rows, gsize n,
                    GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwTrip) there = NULL;
  g_autofree char *sentence = NULL;
  gsize ticked = 0;

  for (gsize i = 0; i < n; i++)
    ticked += rows[i].tick != NULL;
  if (!sw_act_begin (&act, catalogue, error)
      || (there = sw_trip_get (catalogue, trip, error)) == NULL
      || !sw_db_run (catalogue, error, SW_STMT_TRIP_LINE_DROP, "i", trip)
      || !add_rows (catalogue, trip, rows, n, error))
    return FALSE;
  sentence
      = ticked > 0 ? sw_text_counted (
            (gint64)n, "The sheet of trip %" PRId64 " kept with %zu line, %zu of them ticked",
            "The sheet of trip %" PRId64 " kept with %zu lines, %zu of them ticked", trip, n,
            ticked)
                   : sw_text_counted ((gint64)n, "The sheet of trip %" PRId64 " kept with %zu line",
                                      "The sheet of trip %" PRId64 " kept with %zu lines", trip, n);
  return sw_act_tell (&act, SW_SUBJECT_TRIP, trip, "trip.sheet", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

static void
fill_line (const SwUse *use, gpointer out)
{
  g_autofree char *part = sw_col_text (use, 1), *tick = sw_col_text (use, 5);

  *(SwTripLineRow *)out = (SwTripLineRow){ .number = (int)sw_col_int (use, 0),
                                           .part = g_intern_string (part),
                                           .subject = sw_col_int (use, 2),
                                           .item = sw_col_int (use, 3),
                                           .pieces = sw_col_int (use, 4),
                                           .tick = g_intern_string (tick),
                                           .broken = sw_col_int (use, 6) != 0,
                                           .due = sw_money (sw_col_int (use, 7)),
                                           .taken = sw_money (sw_col_int (use, 8)) };
}

GArray *
sw_trip_lines_list (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_TRIP_LINE_LIST, "i", trip);

  return sw_db_collect_plain (catalogue, &use, sizeof (SwTripLineRow), fill_line, error);
}

gboolean
sw_trip_line_set (SwCatalogue *catalogue, gint64 trip, const SwTripLineRow *row, GError **error)
{
  if (!sw_db_run (catalogue, error, SW_STMT_TRIP_LINE_TICK, "iitiii", trip, (gint64)row->number,
                  row->tick, (gint64)row->broken, row->due.minor, row->taken.minor))
    return FALSE;
  if (sw_db_changes (catalogue) > 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("The sheet of trip %" PRId64 " has no line %d."), trip, row->number);
  return FALSE;
}

/* ---- cash ---- */

gboolean
sw_trip_cash_set (SwCatalogue *catalogue, gint64 trip, SwMoney counted, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwTrip) there = NULL;
  g_autofree char *money = NULL, *sentence = NULL;

  if (counted.minor < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The cash that was counted is not below nothing."));
      return FALSE;
    }
  if (!sw_act_begin (&act, catalogue, error)
      || (there = sw_trip_get (catalogue, trip, error)) == NULL
      || !sw_db_run (catalogue, error, SW_STMT_TRIP_CASH_PUT, "ii", trip, counted.minor))
    return FALSE;
  money = sw_money_to_person (counted, sw_catalogue_currency (catalogue));
  sentence = g_strdup_printf (_ ("Trip %" PRId64 ": %s in cash counted"), trip, money);
  return sw_act_tell (&act, SW_SUBJECT_TRIP, trip, "trip.cash", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_trip_cash_get (SwCatalogue *catalogue, gint64 trip, gboolean *out_found, SwMoney *out_counted,
                  GError **error)
{
  gint64 minor = 0;

  if (!sw_db_get_int (catalogue, &minor, out_found, error, SW_STMT_TRIP_CASH_GET, "i", trip))
    return FALSE;
  *out_counted = sw_money (minor);
  return TRUE;
}
