/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adds masses and floors up by class, and holds them against what yards fetch. */
#include "core/trade/scrap-pile.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/items.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/offers.h"
#include "core/trade/scrap.h"

static void
class_free (gpointer data)
{
  SwScrapClass *of_class = data;
  g_free (of_class->scrap_class);
  g_free (of_class->yard);
  g_free (of_class);
}

void
sw_scrap_pile_clear (SwScrapPile *pile)
{
  g_clear_pointer (&pile->classes, g_ptr_array_unref);
}

static SwScrapClass *
class_of (SwScrapPile *pile, const char *scrap_class)
{
  for (guint i = 0; i < pile->classes->len; i++)
    {
      SwScrapClass *of_class = g_ptr_array_index (pile->classes, i);
      if (g_strcmp0 (of_class->scrap_class, scrap_class) == 0)
        return of_class;
    }
  SwScrapClass *of_class = g_new0 (SwScrapClass, 1);
  of_class->scrap_class = g_strdup (scrap_class);
  g_ptr_array_add (pile->classes, of_class);
  return of_class;
}

static gboolean
add_mass (SwMass *sum, SwMass mass, GError **error)
{
  if (!__builtin_add_overflow (sum->ug, mass.ug, &sum->ug))
    return TRUE;
  g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                       _ ("The masses grow too large to be added up; look for one with too many "
                          "digits."));
  return FALSE;
}

static gboolean
add_item (SwScrapPile *pile, SwScrapRates *rates, SwDay today, const SwItem *item, GError **error)
{
  SwScrapClass *of_class = class_of (pile, item->scrap_class);
  gboolean known = FALSE, weighed = item->has_mass && item->mass.ug > 0;
  SwMoney floor;
  pile->things++;
  of_class->things++;
  of_class->unweighed += !weighed;
  if (weighed
      && (!add_mass (&pile->mass, item->mass, error)
          || !add_mass (&of_class->mass, item->mass, error)))
    return FALSE;
  if (weighed && item->scrap_class != NULL
      && !sw_scrap_rates_floor (rates, item->scrap_class, item->mass, today, &known, &floor, error))
    return FALSE;
  of_class->has_gate = of_class->has_gate || known;
  pile->unvalued += !known;
  return !known
         || (sw_money_add (of_class->at_gate, floor, &of_class->at_gate, error)
             && sw_money_add (pile->at_gate, floor, &pile->at_gate, error));
}

/* --- fetched by a yard --- */

/* Of all classes that the yard would fetch. */
static gboolean
mass_for (const SwScrapPile *pile, const GPtrArray *rates, gint64 outlet, SwMass *out_mass,
          GError **error)
{
  *out_mass = (SwMass){ 0 };
  for (guint r = 0; r < rates->len; r++)
    {
      const SwCollectedRate *rate = g_ptr_array_index (rates, r);
      for (guint i = 0; rate->outlet == outlet && i < pile->classes->len; i++)
        {
          const SwScrapClass *of_class = g_ptr_array_index (pile->classes, i);
          if (g_strcmp0 (of_class->scrap_class, rate->scrap_class) == 0
              && !add_mass (out_mass, of_class->mass, error))
            return FALSE;
        }
    }
  return TRUE;
}

/* Rates come the best first: a worse one takes its place only where it has enough and the better
 * one has not. */
static gboolean
hold_against (const SwScrapPile *pile, SwScrapClass *of_class, const GPtrArray *rates,
              const SwCollectedRate *rate, GError **error)
{
  SwMass all;
  if (!mass_for (pile, rates, rate->outlet, &all, error))
    return FALSE;
  SwMass lacking = { MAX (rate->least.ug - all.ug, 0) };
  if (of_class->has_fetched && (of_class->lacking.ug == 0 || lacking.ug > 0))
    return TRUE;
  of_class->has_fetched = TRUE;
  g_free (of_class->yard);
  of_class->yard = g_strdup (rate->yard);
  of_class->rate = rate->rate;
  of_class->least = rate->least;
  of_class->lacking = lacking;
  return sw_scrap_floor (of_class->mass, rate->rate, SW_MONEY_ZERO, (SwMass){ 0 },
                         &of_class->fetched, error);
}

static gboolean
hold_all_against (SwCatalogue *catalogue, SwScrapPile *pile, SwDay today, GError **error)
{
  g_autoptr (GPtrArray) rates = sw_collected_rates_on (catalogue, today, error);
  if (rates == NULL)
    return FALSE;
  for (guint i = 0; i < pile->classes->len; i++)
    {
      SwScrapClass *of_class = g_ptr_array_index (pile->classes, i);
      for (guint r = 0; r < rates->len; r++)
        {
          const SwCollectedRate *rate = g_ptr_array_index (rates, r);
          if (g_strcmp0 (rate->scrap_class, of_class->scrap_class) == 0
              && !hold_against (pile, of_class, rates, rate, error))
            return FALSE;
        }
    }
  return TRUE;
}

char *
sw_scrap_class_fetch_sentence (const SwScrapClass *of_class)
{
  if (!of_class->has_fetched)
    return NULL;
  if (of_class->lacking.ug == 0)
    return g_strdup_printf (_ ("Enough to have it collected by %s."), of_class->yard);
  g_autofree char *least = sw_mass_to_text (of_class->least);
  g_autofree char *lacking = sw_mass_to_text (of_class->lacking);
  return g_strdup_printf (_ ("%s fetches from %s on: %s more are needed."), of_class->yard, least,
                          lacking);
}

/* --- the whole --- */

static int
compare_classes (gconstpointer a, gconstpointer b)
{
  const SwScrapClass *x = *(SwScrapClass *const *)a, *y = *(SwScrapClass *const *)b;
  if (x->scrap_class == NULL || y->scrap_class == NULL)
    return (x->scrap_class == NULL) - (y->scrap_class == NULL);
  return strcmp (x->scrap_class, y->scrap_class);
}

static gboolean
add_items (SwCatalogue *catalogue, gint64 place, SwScrapPile *pile, SwDay today, GError **error)
{
  static const SwState marked = SW_STATE_FOR_SCRAP;
  const SwItemFilter filter
      = { .place = place, .places_inside = TRUE, .state = place == 0 ? &marked : NULL };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);
  g_autoptr (SwScrapRates) rates = items != NULL ? sw_scrap_rates_new (catalogue, error) : NULL;
  if (rates == NULL)
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      if (sw_offer_item_is_there (item->state) && !add_item (pile, rates, today, item, error))
        return FALSE;
    }
  g_ptr_array_sort (pile->classes, compare_classes);
  return TRUE;
}

gboolean
sw_scrap_pile_read (SwCatalogue *catalogue, gint64 place, SwScrapPile *out_pile, GError **error)
{
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  g_auto (SwScrapPile) pile = { .classes = g_ptr_array_new_with_free_func (class_free) };
  if (!add_items (catalogue, place, &pile, today, error)
      || !hold_all_against (catalogue, &pile, today, error))
    return FALSE;
  *out_pile = pile;
  pile.classes = NULL;
  return TRUE;
}
