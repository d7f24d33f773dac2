/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers payments and reversals of each sale. */
#include "core/trade/sales.h"

#include "core/catalogue/items.h"

void
sw_sale_free (SwSale *sale)
{
  if (sale == NULL)
    return;
  sw_deal_free (sale->deal);
  g_free (sale->items);
  g_free (sale);
}

gboolean
sw_sale_is_settled (const SwSale *sale)
{
  return sale->fell_through || (sale->owed.minor == 0 && sale->deal->has_collected);
}

static gboolean
add_entries (const GArray *entries, SwMoney *sum, gboolean *whole, GError **error)
{
  for (guint i = 0; i < entries->len; i++)
    {
      const SwDealEntry *entry = &g_array_index (entries, SwDealEntry, i);
      if (!sw_money_add (*sum, entry->amount, sum, error))
        return FALSE;
      *whole = *whole || entry->whole;
    }
  return TRUE;
}

/* What was paid, less what of it was given back. */
static gboolean
sum_paid (SwCatalogue *catalogue, gint64 deal, SwMoney *out_paid, GError **error)
{
  gboolean unused = FALSE;
  SwMoney back = SW_MONEY_ZERO;
  g_autoptr (GArray) payments = sw_payment_list (catalogue, deal, error);
  g_autoptr (GArray) backs = payments != NULL ? sw_paid_back_list (catalogue, deal, error) : NULL;
  *out_paid = SW_MONEY_ZERO;
  return backs != NULL && add_entries (payments, out_paid, &unused, error)
         && add_entries (backs, &back, &unused, error)
         && sw_money_sub (*out_paid, back, out_paid, error);
}

gboolean
sw_sale_over (SwCatalogue *catalogue, const SwDeal *deal, SwMoney *out_over, GError **error)
{
  SwMoney price, paid, over;
  if (!sw_money_add (deal->amount, deal->delivery, &price, error)
      || !sum_paid (catalogue, deal->id, &paid, error) || !sw_money_sub (paid, price, &over, error))
    return FALSE;
  *out_over = sw_money (MAX (over.minor, 0));
  return TRUE;
}

static gboolean
add_money (SwCatalogue *catalogue, SwSale *sale, GError **error)
{
  SwMoney left;
  g_autoptr (GArray) reversals = sw_reversal_list (catalogue, sale->deal->id, error);
  if (reversals == NULL
      || !sw_money_add (sale->deal->amount, sale->deal->delivery, &sale->price, error)
      || !sum_paid (catalogue, sale->deal->id, &sale->paid, error)
      || !add_entries (reversals, &sale->taken_back, &sale->fell_through, error)
      || !sw_money_sub (sale->price, sale->taken_back, &left, error)
      || !sw_money_sub (left, sale->paid, &left, error))
    return FALSE;
  sale->owed = sw_money (MAX (left.minor, 0));
  return sw_sale_over (catalogue, sale->deal, &sale->over, error);
}

static gboolean
add_items (SwCatalogue *catalogue, SwSale *sale, GError **error)
{
  g_autoptr (GArray) items = sw_deal_items (catalogue, sale->deal->id, error);
  if (items == NULL)
    return FALSE;
  for (guint i = 0; i < items->len && sale->photo == 0; i++)
    {
      const SwDealItem *each = &g_array_index (items, SwDealItem, i);
      g_autoptr (SwItem) item = sw_item_get (catalogue, each->item, error);
      if (item == NULL)
        return FALSE;
      sale->photo = item->first_photo;
    }
  sale->items = sw_deal_item_names (items);
  return TRUE;
}

static int
by_care (gconstpointer a, gconstpointer b)
{
  const SwSale *one = *(SwSale *const *)a, *other = *(SwSale *const *)b;
  gboolean done = sw_sale_is_settled (one), other_done = sw_sale_is_settled (other);
  if (done != other_done)
    return done ? 1 : -1;
  if (one->deal->ended_at.us != other->deal->ended_at.us)
    return one->deal->ended_at.us > other->deal->ended_at.us ? -1 : 1;
  return one->deal->id > other->deal->id ? -1 : 1;
}

GPtrArray *
sw_sale_list (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) deals = sw_deal_list (catalogue, error);
  if (deals == NULL)
    return NULL;
  g_autoptr (GPtrArray) sales = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_sale_free);
  for (guint i = 0; i < deals->len; i++)
    {
      const SwDeal *deal = g_ptr_array_index (deals, i);
      if (deal->kind == SW_DEAL_DOCKET || deal->result != SW_RESULT_SOLD)
        continue;
      SwSale *sale = g_new0 (SwSale, 1);
      g_ptr_array_add (sales, sale);
      sale->deal = sw_deal_get (catalogue, deal->id, error);
      if (sale->deal == NULL || !add_money (catalogue, sale, error)
          || !add_items (catalogue, sale, error))
        return NULL;
    }
  g_ptr_array_sort (sales, by_care);
  return g_steal_pointer (&sales);
}
