/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scrap floors of items by rates of yards. */
#include "core/trade/scrap.h"

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

/* What it assumes: the rate, where it is from, and the load. Transfer full. */
static char *
words_of (SwCatalogue *catalogue, const SwItem *item, SwMoney rate, const char *from,
          gboolean has_load, SwMass load)
{
  g_autofree char *money = sw_money_to_plain (rate, sw_catalogue_currency (catalogue));
  g_autofree char *heavy = has_load ? sw_mass_to_text (load) : NULL;
  g_autofree char *carried
      = has_load ? g_strdup_printf ("less its part of the cartage of a load of %s", heavy)
                 : g_strdup ("no load planned, so no cartage taken off");
  return g_strdup_printf ("%s at %s a tonne (%s), %s.", item->scrap_class, money, from, carried);
}

gboolean
sw_item_floor (SwCatalogue *catalogue, const SwItem *item, SwItemFloor *out_floor, GError **error)
{
  SwItemFloor floor = { 0 };
  SwMoney rate, cartage = SW_MONEY_ZERO;
  SwMass load = { 0 };
  gboolean has_rate = FALSE, has_load = FALSE;
  g_autofree char *from = NULL;
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  if (item->scrap_class == NULL)
    floor.words = g_strdup ("Say which class of scrap it would be.");
  else if (!sw_yard_rate_best (catalogue, item->scrap_class, today, &has_rate, &rate, &from, error))
    return FALSE;
  else if (!has_rate)
    floor.words = g_strdup_printf ("No rate yet for %s.", item->scrap_class);
  else if (!item->has_mass)
    floor.words = g_strdup ("Its mass is not known.");
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
