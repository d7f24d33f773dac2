/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adds up what is still on offer, trip by trip. */
#include "core/trade/on-offer.h"

#include "core/catalogue/items.h"

static SwOnOfferRow *
row_of (GArray *rows, gint64 trip)
{
  for (guint i = 0; i < rows->len; i++)
    {
      SwOnOfferRow *row = &g_array_index (rows, SwOnOfferRow, i);
      if (row->trip == trip)
        return row;
    }
  SwOnOfferRow fresh = { .trip = trip };
  g_array_append_val (rows, fresh);
  return &g_array_index (rows, SwOnOfferRow, rows->len - 1);
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  gint64 x = ((const SwOnOfferRow *)a)->trip, y = ((const SwOnOfferRow *)b)->trip;
  if (x == 0 || y == 0)
    return (x == 0) - (y == 0);
  return x < y ? -1 : x > y;
}

GArray *
sw_on_offer_by_trip (SwCatalogue *catalogue, GError **error)
{
  static const SwState on_offer = SW_STATE_ON_OFFER;
  const SwItemFilter filter = { .state = &on_offer };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (SwOnOfferRow));
  if (items == NULL)
    return NULL;
  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      SwOnOfferRow *row = row_of (rows, item->trip);
      row->things++;
      row->unpriced += !item->has_asking;
      if (item->has_asking && !sw_money_add (row->asked, item->asking, &row->asked, error))
        return NULL;
    }
  g_array_sort (rows, compare_rows);
  return g_steal_pointer (&rows);
}
