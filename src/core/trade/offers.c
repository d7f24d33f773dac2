/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers the running offers with their items and the latest interest. Writes nothing. */
#include "core/trade/offers.h"

void
sw_offer_free (SwOffer *offer)
{
  if (offer == NULL)
    return;
  g_free (offer->ref);
  g_free (offer->outlet);
  g_free (offer->items);
  g_clear_pointer (&offer->numbers, g_array_unref);
  g_free (offer);
}

gboolean
sw_offer_item_is_there (SwState state)
{
  return state != SW_STATE_SOLD && state != SW_STATE_HANDED_OVER && state != SW_STATE_MISSING
         && sw_state_stands (state);
}

gboolean
sw_offer_holds_item (SwState state)
{
  return state == SW_STATE_ON_OFFER || state == SW_STATE_ON_HOLD;
}

static void
add_items (SwOffer *offer, const GArray *items)
{
  offer->numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < items->len; i++)
    {
      const SwDealItem *item = &g_array_index (items, SwDealItem, i);
      g_array_append_val (offer->numbers, item->item);
      offer->to_withdraw = offer->to_withdraw || !sw_offer_holds_item (item->state);
    }
  offer->items = sw_deal_item_names (items);
}

static SwOffer *
offer_of (const SwDeal *deal, const GArray *items, const GArray *interest)
{
  SwOffer *offer = g_new0 (SwOffer, 1);
  offer->deal = deal->id;
  offer->ref = g_strdup (deal->ref);
  offer->outlet = g_strdup (deal->outlet_name != NULL ? deal->outlet_name : "");
  offer->up = deal->up;
  offer->has_closes = deal->has_closes;
  offer->closes = deal->closes;
  offer->has_start = deal->has_start;
  offer->start = deal->start;
  offer->has_reserve = deal->has_reserve;
  offer->reserve = deal->reserve;
  offer->has_interest = sw_interest_latest (interest, &offer->interest);
  add_items (offer, items);
  return offer;
}

GPtrArray *
sw_offer_list (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) deals = sw_deal_list_running (catalogue, error);
  if (deals == NULL)
    return NULL;
  g_autoptr (GPtrArray) offers = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_offer_free);
  for (guint i = 0; i < deals->len; i++)
    {
      const SwDeal *deal = g_ptr_array_index (deals, i);
      g_autoptr (GArray) items = sw_deal_items (catalogue, deal->id, error);
      g_autoptr (GArray) interest
          = items != NULL ? sw_interest_list (catalogue, deal->id, error) : NULL;
      if (interest == NULL)
        return NULL;
      g_ptr_array_add (offers, offer_of (deal, items, interest));
    }
  return g_steal_pointer (&offers);
}
