/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rates of yards and the planned load: rows and their checks. No sum. */
#include "core/catalogue/yard-rates.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

/* NULL with NOT_FOUND where there is no such outlet. */
static char *
outlet_name (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OUTLET_NAME, "i", outlet);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return sw_col_text (&use, 0);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet %" PRId64 "."), outlet);
  return NULL;
}

/* least NULL: brought to the gate. */
static gboolean
set_rate (SwCatalogue *catalogue, gint64 outlet, const char *class, SwDay from, SwMoney rate,
          const SwMass *least, GError **error)
{
  if (!sw_text_check (class, _ ("The class of scrap"), FALSE, FALSE, error))
    return FALSE;
  if (least != NULL && least->ug < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("The least mass is not below zero."));
      return FALSE;
    }
  g_autofree char *tidy = sw_text_tidy (class);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autofree char *name = outlet_name (catalogue, outlet, error);
  if (name == NULL)
    return FALSE;
  if (least == NULL ? !sw_db_run (catalogue, error, SW_STMT_YARD_RATE_PUT, "itii", outlet, tidy,
                                  (gint64)from.n, rate.minor)
                    : !sw_db_run (catalogue, error, SW_STMT_COLLECTED_RATE_PUT, "itiii", outlet,
                                  tidy, (gint64)from.n, rate.minor, least->ug))
    return FALSE;
  SwCurrency currency = sw_catalogue_currency (catalogue);
  g_autofree char *day = sw_day_to_person (from);
  g_autofree char *signed_money = sw_money_to_person (rate, currency);
  const char *money = signed_money + (*signed_money == '-');
  g_autofree char *heavy = least != NULL ? sw_mass_to_text (*least) : NULL;
  g_autofree char *sentence
      = least == NULL
            ? g_strdup_printf (rate.minor < 0 ? _ ("%s charges %s a tonne of %s from %s")
                                              : _ ("%s pays %s a tonne of %s from %s"),
                               name, money, tidy, day)
            : g_strdup_printf (rate.minor < 0
                                   ? _ ("%s charges %s a tonne of %s from %s, fetched, %s at least")
                                   : _ ("%s pays %s a tonne of %s from %s, fetched, %s at least"),
                               name, money, tidy, day, heavy);
  return sw_act_tell (&act, SW_SUBJECT_OUTLET, outlet, "outlet.rate", &from, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_yard_rate_set (SwCatalogue *catalogue, gint64 outlet, const char *class, SwDay from,
                  SwMoney rate, GError **error)
{
  return set_rate (catalogue, outlet, class, from, rate, NULL, error);
}

void
sw_collected_rate_free (SwCollectedRate *rate)
{
  if (rate == NULL)
    return;
  g_free (rate->yard);
  g_free (rate->scrap_class);
  g_free (rate);
}

gboolean
sw_collected_rate_set (SwCatalogue *catalogue, gint64 outlet, const char *class, SwDay from,
                       SwMoney rate, SwMass least, GError **error)
{
  return set_rate (catalogue, outlet, class, from, rate, &least, error);
}

static gpointer
collected_from_row (const SwUse *use)
{
  SwCollectedRate *rate = g_new0 (SwCollectedRate, 1);
  rate->outlet = sw_col_int (use, 0);
  rate->yard = sw_col_text (use, 1);
  rate->scrap_class = sw_col_text (use, 2);
  rate->from = (SwDay){ (gint32)sw_col_int (use, 3) };
  rate->rate = sw_money (sw_col_int (use, 4));
  rate->least = (SwMass){ sw_col_int (use, 5) };
  return rate;
}

GPtrArray *
sw_collected_rates_on (SwCatalogue *catalogue, SwDay on, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_COLLECTED_RATES_ON, "i", (gint64)on.n);
  return sw_db_collect (catalogue, &use, collected_from_row, (GDestroyNotify)sw_collected_rate_free,
                        error);
}

/* Reads one row (rate, day, name of the yard or NULL). */
static gboolean
take_rate (SwCatalogue *catalogue, SwUse *use, gboolean *out_found, SwMoney *out_rate,
           char **out_from, GError **error)
{
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, use, &row, error))
    return FALSE;
  *out_found = row;
  if (!row)
    return TRUE;
  g_autofree char *day = sw_day_to_person ((SwDay){ (gint32)sw_col_int (use, 1) });
  g_autofree char *yard = sw_col_text (use, 2);
  *out_rate = sw_money (sw_col_int (use, 0));
  *out_from = yard != NULL ? g_strdup_printf (_ ("%s, from %s"), yard, day)
                           : g_strdup_printf (_ ("docket of %s"), day);
  return TRUE;
}

gboolean
sw_yard_rate_best (SwCatalogue *catalogue, const char *class, SwDay on, gboolean *out_found,
                   SwMoney *out_rate, char **out_from, GError **error)
{
  {
    g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_YARD_RATE_BEST, "ti", class, (gint64)on.n);
    if (!take_rate (catalogue, &use, out_found, out_rate, out_from, error))
      return FALSE;
  }
  if (*out_found)
    return TRUE;
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_YARD_RATE_DOCKET, "ti", class, (gint64)on.n);
  return take_rate (catalogue, &use, out_found, out_rate, out_from, error);
}

gboolean
sw_scrap_load_set (SwCatalogue *catalogue, SwMoney cartage, SwMass mass, GError **error)
{
  if (cartage.minor < 0 || mass.ug <= 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("A load has a mass above zero and a cartage not below zero."));
      return FALSE;
    }
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_SCRAP_LOAD_ADD, "ii", cartage.minor, mass.ug))
    return FALSE;
  g_autofree char *money = sw_money_to_person (cartage, sw_catalogue_currency (catalogue));
  g_autofree char *heavy = sw_mass_to_text (mass);
  g_autofree char *sentence
      = g_strdup_printf (_ ("Scrap load planned: %s, cartage %s"), heavy, money);
  return sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "scrap.load", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_scrap_load_get (SwCatalogue *catalogue, gboolean *out_found, SwMoney *out_cartage,
                   SwMass *out_mass, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_SCRAP_LOAD_GET, "");
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_found = row;
  if (row)
    {
      *out_cartage = sw_money (sw_col_int (&use, 0));
      *out_mass = (SwMass){ sw_col_int (&use, 1) };
    }
  return TRUE;
}
