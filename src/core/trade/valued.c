/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trade/valued.h"
#include "core/base/language.h"

#include <string.h>

#include "core/catalogue/places.h"
#include "core/catalogue/prices.h"

static const struct
{
  const char *word, *evidence; /* kind of prices.h; NULL: none */
} bases[SW_N_VALUED] = {
  [SW_VALUED_NOT] = { N_ ("not valued"), NULL },
  [SW_VALUED_ASKING] = { N_ ("asking price"), NULL },
  [SW_VALUED_LIKE] = { N_ ("like things brought"), "like things" },
  [SW_VALUED_PAID] = { N_ ("paid for it"), "paid" },
  [SW_VALUED_GUESSED] = { N_ ("a guess"), "guessed" },
};

const char *
sw_valued_word (SwValuedBy by)
{
  g_return_val_if_fail (by >= 0 && by < SW_N_VALUED, "");
  return bases[by].word;
}

void
sw_valued_item_free (SwValuedItem *valued)
{
  sw_item_free (valued->item);
  g_free (valued);
}

void
sw_valued_clear (SwValued *valued)
{
  g_clear_pointer (&valued->rows, g_ptr_array_unref);
}

static const SwPrice *
latest_of (const GPtrArray *prices, const char *kind)
{
  const SwPrice *latest = NULL;

  for (guint i = 0; i < prices->len; i++)
    {
      const SwPrice *price = g_ptr_array_index (prices, i);
      if (strcmp (price->kind, kind) == 0)
        latest = price;
    }
  return latest;
}

static gboolean
value_item (SwCatalogue *catalogue, SwValuedItem *row, GError **error)
{
  g_autoptr (GPtrArray) prices = NULL;

  if (row->item->has_asking)
    {
      row->by = SW_VALUED_ASKING;
      row->value = row->item->asking;
      return TRUE;
    }
  prices = sw_price_list (catalogue, row->item->id, error);
  for (int by = 0; prices != NULL && by < SW_N_VALUED; by++)
    {
      const SwPrice *price
          = bases[by].evidence != NULL ? latest_of (prices, bases[by].evidence) : NULL;

      if (price == NULL)
        continue;
      row->by = (SwValuedBy)by;
      return sw_money_scale (price->amount, row->item->count, price->pieces, SW_ROUND_HALF_UP,
                             &row->value, error);
    }
  return prices != NULL;
}

static gboolean
add_item (SwCatalogue *catalogue, SwValued *valued, SwItem *item, GError **error)
{
  SwValuedItem *row = g_new0 (SwValuedItem, 1);

  row->item = item;
  g_ptr_array_add (valued->rows, row);
  if (!value_item (catalogue, row, error))
    return FALSE;
  valued->unvalued += row->by == SW_VALUED_NOT;
  return row->by == SW_VALUED_NOT
         || sw_money_add (valued->total, row->value, &valued->total, error);
}

gboolean
sw_valued_read (SwCatalogue *catalogue, SwValued *out_valued, GError **error)
{
  g_autoptr (GPtrArray) places = sw_place_list (catalogue, error);
  g_autoptr (GPtrArray) items = places != NULL ? sw_item_list (catalogue, NULL, error) : NULL;
  g_auto (SwValued) valued
      = { .rows = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_valued_item_free) };

  if (items == NULL)
    return FALSE;
  for (guint p = 0; p < places->len; p++)
    for (guint i = 0; i < items->len; i++)
      {
        SwItem *item = g_ptr_array_index (items, i);

        if (item == NULL || item->place != ((const SwPlace *)g_ptr_array_index (places, p))->id
            || !sw_state_stands (item->state))
          continue;
        items->pdata[i] = NULL; /* handed on */
        if (!add_item (catalogue, &valued, item, error))
          return FALSE;
      }
  *out_valued = valued;
  valued = (SwValued){ 0 };
  return TRUE;
}
