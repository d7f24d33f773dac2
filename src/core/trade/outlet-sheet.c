/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts together what terms, quotes and trips say of each outlet. */
#include "core/trade/outlet-sheet.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/trade/terms.h"

const gint64 sw_quoted_prices[SW_QUOTED_PRICES] = { 30, 150, 800 };

void
sw_outlet_sheet_free (SwOutletSheet *sheet)
{
  if (sheet == NULL)
    return;
  sw_outlet_free (sheet->outlet);
  g_clear_pointer (&sheet->charges, g_ptr_array_unref);
  g_free (sheet);
}

static SwMoney
whole_units (gint64 units, SwCurrency currency)
{
  for (int i = 0; i < currency.digits; i++)
    units *= 10;
  return sw_money (units);
}

/* Terms may be such that no sum can be made of them; then they are shown without. */
static gboolean
add_quotes (SwOutletSheet *sheet, SwDay today, SwCurrency currency)
{
  for (int i = 0; i < SW_QUOTED_PRICES; i++)
    {
      sheet->prices[i] = whole_units (sw_quoted_prices[i], currency);
      if (!sw_quote_sold (sheet->outlet, sheet->charges, today, sheet->prices[i], currency,
                          &sheet->quotes[i], NULL))
        return FALSE;
    }
  return sw_quote_no_sale (sheet->outlet, sheet->charges, today, currency, &sheet->no_sale, NULL);
}

static SwOutlet *
copy_outlet (const SwOutlet *outlet)
{
  SwOutlet *copy = g_memdup2 (outlet, sizeof *outlet);
  copy->name = g_strdup (outlet->name);
  return copy;
}

GPtrArray *
sw_outlet_sheets (SwCatalogue *catalogue, SwDay today, GError **error)
{
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);
  g_autoptr (GPtrArray) trips = outlets != NULL ? sw_trip_list (catalogue, error) : NULL;
  if (trips == NULL)
    return NULL;
  const SwTrip *trip = sw_trip_next (trips, today);
  g_autoptr (GPtrArray) sheets
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_outlet_sheet_free);
  for (guint i = 0; i < outlets->len; i++)
    {
      SwOutletSheet *sheet = g_new0 (SwOutletSheet, 1);
      g_ptr_array_add (sheets, sheet);
      sheet->outlet = copy_outlet (g_ptr_array_index (outlets, i));
      sheet->charges = sw_charge_list (catalogue, sheet->outlet->id, error);
      if (sheet->charges == NULL
          || !sw_text_limits_get (catalogue, sheet->outlet->id, &sheet->limits, error))
        return NULL;
      sheet->has_quotes = add_quotes (sheet, today, sw_catalogue_currency (catalogue));
      sheet->has_trip = trip != NULL;
      if (trip == NULL)
        continue;
      sheet->trip = trip->id;
      sheet->trip_first = trip->first;
      sheet->has_last_day = sw_quote_last_day_up (sheet->outlet, trip->first, &sheet->last_day);
    }
  return g_steal_pointer (&sheets);
}

SwOutletSheet *
sw_outlet_sheet_if (SwCatalogue *catalogue, SwSlip *slip, const char *outlet, SwDay day,
                    GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT; /* never committed */
  if (!sw_act_begin (&act, catalogue, error) || !sw_slip_book (slip, "", NULL, error))
    return NULL;
  g_autoptr (GPtrArray) sheets = sw_outlet_sheets (catalogue, day, error);
  if (sheets == NULL)
    return NULL;
  for (guint i = 0; i < sheets->len; i++)
    {
      const SwOutletSheet *sheet = g_ptr_array_index (sheets, i);
      if (g_str_equal (sheet->outlet->name, outlet))
        return g_ptr_array_steal_index (sheets, i);
    }
  g_autofree char *shown = sw_text_quote (outlet);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet %s."), shown);
  return NULL;
}

SwChargeTime
sw_charge_time (const GPtrArray *charges, const SwCharge *charge, SwDay day)
{
  g_autoptr (GPtrArray) now = sw_terms_on (charges, day);
  if (charge->from.n > day.n)
    return SW_CHARGE_LATER;
  return g_ptr_array_find (now, charge, NULL) ? SW_CHARGE_IN_FORCE : SW_CHARGE_EARLIER;
}
