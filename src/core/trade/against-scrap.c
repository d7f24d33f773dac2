/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adds the takings of each item up and holds those that were sold against their scrap floors. */
#include "core/trade/against-scrap.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/postings.h"
#include "core/trade/scrap.h"

typedef struct
{
  GHashTable *takings; /* gint64 item -> gint64 *: minor units; loose scrap under 0 */
  gboolean overflow;
} ByItem;

static void
add_posting (const SwPosting *posting, gpointer data)
{
  ByItem *by_item = data;
  gint64 minor = posting->kind == SW_POSTING_FEE    ? -posting->minor
                 : posting->kind == SW_POSTING_OWED ? 0
                                                    : posting->minor;
  gint64 *sum = g_hash_table_lookup (by_item->takings, &posting->item);
  if (sum == NULL)
    {
      gint64 *key = g_new (gint64, 1);
      *key = posting->item;
      sum = g_new0 (gint64, 1);
      g_hash_table_insert (by_item->takings, key, sum);
    }
  if (__builtin_add_overflow (*sum, minor, sum))
    by_item->overflow = TRUE;
}

/* Takes the item's sum out of the map, so that what is left at the end stands for itself. */
static SwMoney
take (ByItem *by_item, gint64 item)
{
  const gint64 *sum = g_hash_table_lookup (by_item->takings, &item);
  SwMoney money = sum != NULL ? sw_money (*sum) : SW_MONEY_ZERO;
  g_hash_table_remove (by_item->takings, &item);
  return money;
}

static gboolean
add_gone (SwScrapRates *rates, const SwGoneItem *gone, SwMoney raised, SwAgainstScrap *sums,
          GError **error)
{
  gboolean known = FALSE;
  SwMoney floor;
  if (gone->scrapped)
    return sw_money_add (sums->as_scrap, raised, &sums->as_scrap, error);
  if (gone->scrap_class != NULL && gone->has_mass && gone->mass.ug > 0
      && !sw_scrap_rates_floor (rates, gone->scrap_class, gone->mass, gone->day, &known, &floor,
                                error))
    return FALSE;
  if (!known)
    {
      sums->unknown++;
      return sw_money_add (sums->unknown_raised, raised, &sums->unknown_raised, error);
    }
  sums->things++;
  return sw_money_add (sums->raised, raised, &sums->raised, error)
         && sw_money_add (sums->scrap, floor, &sums->scrap, error);
}

static gboolean
add_rest (ByItem *by_item, SwAgainstScrap *sums, GError **error)
{
  GHashTableIter iter;
  gpointer sum;
  if (!sw_money_add (sums->as_scrap, take (by_item, 0), &sums->as_scrap, error))
    return FALSE;
  g_hash_table_iter_init (&iter, by_item->takings);
  while (g_hash_table_iter_next (&iter, NULL, &sum))
    if (!sw_money_add (sums->unsold, sw_money (*(const gint64 *)sum), &sums->unsold, error))
      return FALSE;
  return TRUE;
}

static gboolean
add_up (SwCatalogue *catalogue, ByItem *by_item, SwAgainstScrap *sums, GError **error)
{
  g_autoptr (SwScrapRates) rates = sw_scrap_rates_new (catalogue, error);
  g_autoptr (GPtrArray) gone = rates != NULL ? sw_deal_gone_items (catalogue, error) : NULL;
  if (gone == NULL)
    return FALSE;
  for (guint i = 0; i < gone->len; i++)
    {
      const SwGoneItem *item = g_ptr_array_index (gone, i);
      if (!add_gone (rates, item, take (by_item, item->item), sums, error))
        return FALSE;
    }
  return add_rest (by_item, sums, error)
         && sw_money_sub (sums->raised, sums->scrap, &sums->more, error);
}

gboolean
sw_against_scrap_read (SwCatalogue *catalogue, SwAgainstScrap *out_sums, GError **error)
{
  g_autoptr (GHashTable) takings
      = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  ByItem by_item = { takings, FALSE };
  SwAgainstScrap sums = { 0 };
  if (!sw_posting_each (catalogue, add_posting, &by_item, error))
    return FALSE;
  if (by_item.overflow)
    {
      g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                           _ ("The money of an item grows too large to be added up; look for a "
                              "figure with too many digits."));
      return FALSE;
    }
  if (!add_up (catalogue, &by_item, &sums, error))
    return FALSE;
  *out_sums = sums;
  return TRUE;
}
