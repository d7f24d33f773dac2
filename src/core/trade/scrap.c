/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scrap floors of items by rates of yards. */
#include "core/trade/scrap.h"
#include "core/base/language.h"

#include "core/catalogue/yard-rates.h"

/* 1000 kg. */
#define TONNE_UG (1000 * SW_UG_PER_KG)

void
sw_item_floor_clear (SwItemFloor *floor)
{
  g_clear_pointer (&floor->words, g_free);
}

gboolean
sw_scrap_floor (SwMass mass, SwMoney rate, SwMoney cartage, SwMass load, SwMoney *out_floor,
                GError **error)
{
  g_return_val_if_fail (mass.ug >= 0 && load.ug >= 0, FALSE);
  SwMoney brings, carries = SW_MONEY_ZERO;
  if (!sw_money_scale (rate, mass.ug, TONNE_UG, SW_ROUND_HALF_UP, &brings, error)
      || (load.ug > 0
          && !sw_money_scale (cartage, mass.ug, load.ug, SW_ROUND_HALF_UP, &carries, error)))
    return FALSE;
  return sw_money_sub (brings, carries, out_floor, error);
}

/* --- many floors --- */

struct _SwScrapRates
{
  SwCatalogue *catalogue;
  SwDay today;
  SwMoney cartage;
  SwMass load;       /* 0: none planned */
  GHashTable *known; /* "DAY\nCLASS" -> Rate */
};

typedef struct
{
  gboolean found;
  SwMoney rate;
} Rate;

static SwDay
today_of (SwCatalogue *catalogue)
{
  return sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
}

SwScrapRates *
sw_scrap_rates_new (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (SwScrapRates) rates = g_new0 (SwScrapRates, 1);
  gboolean has_load = FALSE;
  rates->catalogue = catalogue;
  rates->today = today_of (catalogue);
  rates->known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  if (!sw_scrap_load_get (catalogue, &has_load, &rates->cartage, &rates->load, error))
    return NULL;
  return g_steal_pointer (&rates);
}

void
sw_scrap_rates_free (SwScrapRates *rates)
{
  if (rates == NULL)
    return;
  g_hash_table_unref (rates->known);
  g_free (rates);
}

static gboolean
ask_rate (SwScrapRates *rates, const char *scrap_class, SwDay on, Rate *out_rate, GError **error)
{
  g_autofree char *from = NULL;
  if (!sw_yard_rate_best (rates->catalogue, scrap_class, on, &out_rate->found, &out_rate->rate,
                          &from, error))
    return FALSE;
  g_autofree char *later = NULL;
  return out_rate->found || on.n >= rates->today.n
         || sw_yard_rate_best (rates->catalogue, scrap_class, rates->today, &out_rate->found,
                               &out_rate->rate, &later, error);
}

static const Rate *
rate_on (SwScrapRates *rates, const char *scrap_class, SwDay on, GError **error)
{
  g_autofree char *key = g_strdup_printf ("%d\n%s", on.n, scrap_class);
  Rate *rate = g_hash_table_lookup (rates->known, key);
  if (rate != NULL)
    return rate;
  Rate asked = { 0 };
  if (!ask_rate (rates, scrap_class, on, &asked, error))
    return NULL;
  rate = g_memdup2 (&asked, sizeof asked);
  g_hash_table_insert (rates->known, g_steal_pointer (&key), rate);
  return rate;
}

gboolean
sw_scrap_rates_floor (SwScrapRates *rates, const char *scrap_class, SwMass mass, SwDay on,
                      gboolean *out_known, SwMoney *out_floor, GError **error)
{
  const Rate *rate = rate_on (rates, scrap_class, on, error);
  if (rate == NULL)
    return FALSE;
  *out_known = rate->found;
  return !rate->found
         || sw_scrap_floor (mass, rate->rate, rates->cartage, rates->load, out_floor, error);
}

/* --- one item's floor --- */

/* What it assumes: the rate, where it is from, and the load. Transfer full. */
static char *
words_of (SwCatalogue *catalogue, const SwItem *item, SwMoney rate, const char *from,
          gboolean has_load, SwMass load)
{
  g_autofree char *money = sw_money_to_person (rate, sw_catalogue_currency (catalogue));
  gboolean charged = *money == '-';
  g_autofree char *heavy = has_load ? sw_mass_to_text (load) : NULL;
  g_autofree char *carried
      = has_load ? g_strdup_printf (_ ("less its part of the cartage of a load of %s"), heavy)
                 : g_strdup (_ ("no load planned, so no cartage taken off"));
  return g_strdup_printf (_ ("%s %s %s a tonne (%s), %s."), item->scrap_class,
                          charged ? _ ("at a charge of") : C_ ("price", "at"),
                          charged ? money + 1 : money, from, carried);
}

gboolean
sw_item_floor (SwCatalogue *catalogue, const SwItem *item, SwItemFloor *out_floor, GError **error)
{
  SwItemFloor floor = { 0 };
  SwMoney rate, cartage = SW_MONEY_ZERO;
  SwMass load = { 0 };
  gboolean has_rate = FALSE, has_load = FALSE;
  g_autofree char *from = NULL;
  SwDay today = today_of (catalogue);
  if (item->scrap_class == NULL)
    floor.words = g_strdup (_ ("Say which class of scrap it would be."));
  else if (!sw_yard_rate_best (catalogue, item->scrap_class, today, &has_rate, &rate, &from, error))
    return FALSE;
  else if (!has_rate)
    floor.words = g_strdup_printf (_ ("No rate yet for %s."), item->scrap_class);
  else if (!item->has_mass || item->mass.ug == 0)
    floor.words = g_strdup (item->has_mass ? _ ("Its mass is given as nothing; weigh or guess it.")
                                           : _ ("Its mass is not known."));
  else
    {
      if (!sw_scrap_load_get (catalogue, &has_load, &cartage, &load, error))
        return FALSE;
      g_autoptr (GError) too_much = NULL;
      floor.known = sw_scrap_floor (item->mass, rate, cartage, load, &floor.floor, &too_much);
      floor.words = floor.known ? words_of (catalogue, item, rate, from, has_load, load)
                                : g_strdup (too_much->message);
    }
  *out_floor = floor;
  return TRUE;
}
