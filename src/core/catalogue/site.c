/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/catalogue/site.h"
#include "core/base/language.h"

#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/trips.h"

/* ---- hours ---- */

gboolean
sw_site_set_hours (SwCatalogue *catalogue, gint64 trip, const char *hours, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwTrip) there = NULL;
  g_autofree char *tidy = NULL, *sentence = NULL;

  if (!sw_text_check (hours, _ ("When somebody is on site"), FALSE, TRUE, error))
    return FALSE;
  tidy = sw_text_tidy (hours);
  if (!sw_act_begin (&act, catalogue, error)
      || (there = sw_trip_get (catalogue, trip, error)) == NULL
      || !sw_db_run (catalogue, error, SW_STMT_TRIP_HOURS_PUT, "it", trip, tidy))
    return FALSE;
  sentence = g_strdup_printf (_ ("Trip %" PRId64 ": %s"), trip,
                              *tidy != '\0' ? _ ("hours on site entered")
                                            : _ ("no hours on site any more"));
  return sw_act_tell (&act, SW_SUBJECT_TRIP, trip, "trip.hours", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

char *
sw_site_hours (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_TRIP_HOURS_GET, "i", trip);
  gboolean row = FALSE;

  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  return row ? sw_col_text (&use, 0) : g_strdup ("");
}

/* ---- the way, the last day ---- */

static gboolean
read_site (SwCatalogue *catalogue, char **out_way, gboolean *out_known, SwDay *out_day,
           GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_SITE_GET, "");
  gboolean row = FALSE;

  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  if (out_way != NULL)
    *out_way = row ? sw_col_text (&use, 0) : g_strdup ("");
  if (out_known != NULL)
    *out_known = row && !sw_col_is_null (&use, 1);
  if (out_day != NULL && row)
    out_day->n = (gint32)sw_col_int (&use, 1);
  return TRUE;
}

gboolean
sw_site_set_way (SwCatalogue *catalogue, const char *way, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  const char *sentence
      = *way != '\0' ? _ ("The way to the gate entered") : _ ("The way to the gate taken out");

  return sw_text_check (way, _ ("The way to the gate"), TRUE, TRUE, error)
         && sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_SITE_WAY_PUT, "t", way)
         && sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "site.way", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

char *
sw_site_way (SwCatalogue *catalogue, GError **error)
{
  char *way = NULL;

  return read_site (catalogue, &way, NULL, NULL, error) ? way : NULL;
}

gboolean
sw_site_set_last_day (SwCatalogue *catalogue, const SwDay *day, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *text = day != NULL ? sw_day_to_person (*day) : NULL;
  g_autofree char *sentence = day != NULL
                                  ? g_strdup_printf (_ ("The property's last day is %s"), text)
                                  : g_strdup (_ ("The property's last day is not known any more"));

  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_SITE_LAST_DAY_PUT, "I", day != NULL,
                       (gint64)(day != NULL ? day->n : 0))
         && sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "site.last-day", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_site_last_day (SwCatalogue *catalogue, gboolean *out_known, SwDay *out_day, GError **error)
{
  return read_site (catalogue, NULL, out_known, out_day, error);
}
