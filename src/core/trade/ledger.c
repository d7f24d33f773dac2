/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sums by item, place, kind, charge and day: what is wanted less what is posted. */
#include "core/trade/ledger.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"

/* One sum of a deal's ledger: what is wanted less what is posted. */
typedef struct
{
  SwPosting key; /* minor unused */
  gint64 difference;
} Sum;

static guint
hash_sum (gconstpointer data)
{
  const SwPosting *key = &((const Sum *)data)->key;
  guint64 mixed = (guint64)key->item * 31 + (guint64)key->place;
  mixed = mixed * 31 + (guint64)key->kind;
  mixed = mixed * 31 + (guint64)(guint32)key->day.n;
  return (guint)(mixed ^ (mixed >> 32)) ^ g_str_hash (key->charge);
}

static gboolean
equal_sums (gconstpointer a, gconstpointer b)
{
  const SwPosting *x = &((const Sum *)a)->key, *y = &((const Sum *)b)->key;
  return x->item == y->item && x->place == y->place && x->kind == y->kind && x->day.n == y->day.n
         && strcmp (x->charge, y->charge) == 0;
}

void
sw_ledger_add (SwLedger *ledger, const SwPosting *key, gint64 amount)
{
  if (amount == 0)
    return;
  Sum probe = { *key, 0 };
  probe.key.charge = g_intern_string (key->charge != NULL ? key->charge : "");
  Sum *sum = g_hash_table_lookup (ledger->sums, &probe);
  if (sum == NULL)
    {
      sum = g_memdup2 (&probe, sizeof probe);
      g_hash_table_add (ledger->sums, sum);
    }
  if (__builtin_add_overflow (sum->difference, amount, &sum->difference))
    ledger->overflow = TRUE;
}

/* What is posted already counts against what is wanted. */
void
sw_ledger_subtract (const SwPosting *posting, gpointer data)
{
  sw_ledger_add (data, posting, -posting->minor);
}

/* Splits by the weights of the items. */
void
sw_ledger_split (const SwLedger *ledger, SwMoney amount, SwMoney *out_parts)
{
  guint n = ledger->items->len;
  g_autofree gint64 *weights = g_new (gint64, n);
  for (guint i = 0; i < n; i++)
    weights[i] = g_array_index (ledger->items, SwDealItem, i).weight;
  sw_money_split (amount, weights, n, out_parts);
}

void
sw_ledger_add_parts (SwLedger *ledger, SwPostingKind kind, const char *charge, SwDay day,
                     const SwMoney *parts, int sign)
{
  for (guint i = 0; i < ledger->items->len; i++)
    {
      SwPosting key = { .deal = ledger->deal->id,
                        .item = g_array_index (ledger->items, SwDealItem, i).item,
                        .kind = kind,
                        .charge = charge,
                        .day = day };
      sw_ledger_add (ledger, &key, sign * parts[i].minor);
    }
}

void
sw_ledger_add_split (SwLedger *ledger, SwPostingKind kind, const char *charge, SwDay day,
                     SwMoney amount)
{
  g_autofree SwMoney *parts = g_new (SwMoney, ledger->items->len);
  sw_ledger_split (ledger, amount, parts);
  sw_ledger_add_parts (ledger, kind, charge, day, parts, 1);
}

gboolean
sw_ledger_init (SwLedger *ledger, SwCatalogue *catalogue, gint64 deal, GError **error)
{
  *ledger = (SwLedger){ .catalogue = catalogue };
  ledger->sums = g_hash_table_new_full (hash_sum, equal_sums, g_free, NULL);
  ledger->deal = sw_deal_get (catalogue, deal, error);
  ledger->items = ledger->deal != NULL ? sw_deal_items (catalogue, deal, error) : NULL;
  return ledger->items != NULL;
}

void
sw_ledger_clear (SwLedger *ledger)
{
  sw_deal_free (ledger->deal);
  g_clear_pointer (&ledger->items, g_array_unref);
  g_clear_pointer (&ledger->sums, g_hash_table_unref);
}

/* --- fees into the ledger --- */

/* Of one name the charged one with the latest day, else the computed one with its tax: into a map
 * of name -> SwFee (borrowed). */
static gboolean
merge_fees (const GPtrArray *computed, const GPtrArray *charged, GHashTable *merged, GError **error)
{
  for (guint i = 0; i < computed->len; i++)
    {
      SwFee *fee = g_ptr_array_index (computed, i);
      if (!sw_money_add (fee->amount, fee->tax, &fee->amount, error))
        return FALSE;
      g_hash_table_insert (merged, fee->charge, fee);
    }
  /* By day, so that the latest one stays. */
  for (guint i = 0; i < charged->len; i++)
    {
      SwFee *fee = g_ptr_array_index (charged, i);
      g_hash_table_insert (merged, fee->charge, fee);
    }
  return TRUE;
}

gboolean
sw_ledger_each_fee (SwLedger *ledger, SwLedgerFee add, gpointer data, GError **error)
{
  g_autoptr (GPtrArray) computed = sw_fee_computed (ledger->catalogue, ledger->deal->id, error);
  g_autoptr (GPtrArray) charged
      = computed != NULL ? sw_fee_charged (ledger->catalogue, ledger->deal->id, error) : NULL;
  if (charged == NULL)
    return FALSE;
  g_autoptr (GHashTable) merged = g_hash_table_new (g_str_hash, g_str_equal);
  if (!merge_fees (computed, charged, merged, error))
    return FALSE;
  GHashTableIter iter;
  gpointer fee;
  g_hash_table_iter_init (&iter, merged);
  while (g_hash_table_iter_next (&iter, NULL, &fee))
    add (ledger, fee, data);
  return TRUE;
}

/* --- posting --- */

static int
compare_postings (gconstpointer a, gconstpointer b)
{
  const SwPosting *x = a, *y = b;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  if (x->item != y->item)
    return x->item < y->item ? -1 : 1;
  if (x->place != y->place)
    return x->place < y->place ? -1 : 1;
  if (x->day.n != y->day.n)
    return x->day.n < y->day.n ? -1 : 1;
  return strcmp (x->charge, y->charge);
}

/* In a fixed order, so that the same table makes the same rows. */
gboolean
sw_ledger_post (const SwLedger *ledger, GError **error)
{
  if (ledger->overflow)
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_BAD_INPUT,
          _ ("The money of %s grows too large to be kept; look for a figure with too many digits."),
          ledger->deal->ref);
      return FALSE;
    }
  g_autoptr (GArray) postings = g_array_new (FALSE, FALSE, sizeof (SwPosting));
  GHashTableIter iter;
  gpointer data;
  g_hash_table_iter_init (&iter, ledger->sums);
  while (g_hash_table_iter_next (&iter, &data, NULL))
    {
      const Sum *sum = data;
      SwPosting posting = sum->key;
      posting.deal = ledger->deal->id;
      posting.minor = sum->difference;
      if (posting.minor != 0)
        g_array_append_val (postings, posting);
    }
  g_array_sort (postings, compare_postings);
  return sw_posting_add (ledger->catalogue, (const SwPosting *)(gpointer)postings->data,
                         postings->len, error);
}

/* A running offer's fees are split by prices and masses that may have changed since: there only the
 * sum of each kind must agree. */
gboolean
sw_ledger_is_sound (const SwLedger *ledger)
{
  gboolean by_item = ledger->deal->result != SW_RESULT_RUNNING;
  gint64 total = 0;
  GHashTableIter iter;
  gpointer data;
  g_hash_table_iter_init (&iter, ledger->sums);
  while (g_hash_table_iter_next (&iter, &data, NULL))
    {
      const Sum *sum = data;
      if (by_item && sum->difference != 0)
        return FALSE;
      if (__builtin_add_overflow (total, sum->difference, &total))
        return FALSE;
    }
  return total == 0 && !ledger->overflow && !ledger->unweighed;
}
