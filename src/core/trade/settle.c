/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Works out a deal's ledger from its rows and posts what is missing of it. Decides no state of an
 * item.
 *
 * The ledger is always worked out whole: price, delivery, fees, reversals and what is owed, each
 * split over the items by weights that were fixed when the deal ended. It is then compared with the
 * postings there are, and the differences are posted. So a fee that is charged months later, or a
 * payment, needs no rule of its own. */
#include "core/trade/settle.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/postings.h"
#include "core/trade/split.h"
#include "core/trade/terms.h"

/* --- the ledger --- */

/* One sum of a deal's ledger: what is wanted less what is posted. */
typedef struct
{
  SwPosting key; /* minor unused */
  gint64 difference;
} Sum;

typedef struct
{
  SwCatalogue *catalogue;
  SwDeal *deal;
  GArray *items;    /* SwDealItem by number */
  GHashTable *sums; /* Sum -> itself */
  gboolean overflow;
  gboolean unweighed; /* a docket's line without weights: only in a damaged catalogue */
} Ledger;

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

static void
add_to (Ledger *ledger, const SwPosting *key, gint64 amount)
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
static void
subtract_posted (const SwPosting *posting, gpointer data)
{
  add_to (data, posting, -posting->minor);
}

/* Splits by the weights of the items. */
static void
split (const Ledger *ledger, SwMoney amount, SwMoney *out_parts)
{
  guint n = ledger->items->len;
  g_autofree gint64 *weights = g_new (gint64, n);
  for (guint i = 0; i < n; i++)
    weights[i] = g_array_index (ledger->items, SwDealItem, i).weight;
  sw_money_split (amount, weights, n, out_parts);
}

static void
add_parts (Ledger *ledger, SwPostingKind kind, const char *charge, SwDay day, const SwMoney *parts,
           int sign)
{
  for (guint i = 0; i < ledger->items->len; i++)
    {
      SwPosting key = { .deal = ledger->deal->id,
                        .item = g_array_index (ledger->items, SwDealItem, i).item,
                        .kind = kind,
                        .charge = charge,
                        .day = day };
      add_to (ledger, &key, sign * parts[i].minor);
    }
}

static void
add_split (Ledger *ledger, SwPostingKind kind, const char *charge, SwDay day, SwMoney amount)
{
  g_autofree SwMoney *parts = g_new (SwMoney, ledger->items->len);
  split (ledger, amount, parts);
  add_parts (ledger, kind, charge, day, parts, 1);
}

/* --- weights --- */

static SwSplitRule
weigh (GArray *items)
{
  g_autofree SwSplitPart *parts = g_new0 (SwSplitPart, items->len);
  g_autofree gint64 *weights = g_new0 (gint64, items->len);
  for (guint i = 0; i < items->len; i++)
    {
      const SwDealItem *item = &g_array_index (items, SwDealItem, i);
      parts[i] = (SwSplitPart){ item->has_asking, item->has_mass, item->asking, item->mass };
    }
  SwSplitRule rule = sw_split_weights (parts, items->len, weights);
  for (guint i = 0; i < items->len; i++)
    g_array_index (items, SwDealItem, i).weight = weights[i];
  return rule;
}

static gboolean
fix_weights (Ledger *ledger, GError **error)
{
  SwSplitRule rule = weigh (ledger->items);
  return sw_deal_set_split (ledger->catalogue, ledger->deal->id, sw_split_rule_key (rule),
                            ledger->items, error);
}

/* --- computed fees --- */

static gboolean
find_rounding (SwCatalogue *catalogue, const char *outlet, SwRounding *out_rounding, GError **error)
{
  g_autoptr (SwOutlet) found = NULL;
  if (!sw_outlet_find (catalogue, outlet, &found, error))
    return FALSE;
  *out_rounding = found != NULL ? found->rounding : SW_ROUND_HALF_UP;
  return TRUE;
}

static gboolean
compute_fees (SwCatalogue *catalogue, const SwDeal *deal, GError **error)
{
  if (deal->outlet == 0 || deal->kind == SW_DEAL_DOCKET)
    return TRUE;
  SwChargeCase what = { .by_offer = deal->kind == SW_DEAL_OFFER,
                        .sold = deal->result == SW_RESULT_SOLD,
                        .price = deal->amount,
                        .delivery = deal->delivery,
                        .currency = sw_catalogue_currency (catalogue) };
  g_autoptr (GPtrArray) all = sw_charge_list (catalogue, deal->outlet, error);
  if (all == NULL || !find_rounding (catalogue, deal->outlet_name, &what.rounding, error))
    return FALSE;
  g_autoptr (GPtrArray) charges = sw_terms_on (all, deal->up);
  /* what is not due is kept for offers: they count among those of their month */
  for (guint i = 0; i < charges->len; i++)
    {
      const SwCharge *charge = g_ptr_array_index (charges, i);
      gboolean due = FALSE;
      SwFee fee = { .charge = charge->name };
      if (!sw_charge_compute (charge, &what, &due, &fee.amount, &fee.tax, error)
          || ((due || what.by_offer)
              && !sw_fee_add_computed (catalogue, deal->id, &fee, due, charge->free_offers, error)))
        return FALSE;
    }
  return TRUE;
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

typedef void (*AddFee) (Ledger *ledger, const SwFee *fee, gpointer data);

static gboolean
each_fee (Ledger *ledger, AddFee add, gpointer data, GError **error)
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

/* Fees bear the day of the result; without one yet, their own. */
static void
add_fee (Ledger *ledger, const SwFee *fee, gpointer data)
{
  SwDay day = ledger->deal->result == SW_RESULT_RUNNING ? fee->day : ledger->deal->ended;
  add_split (ledger, SW_POSTING_FEE, fee->charge, day, fee->amount);
}

/* --- offers and sales --- */

/* 'left' is what each item still has of the sale; a part is split like the price, the whole takes
 * what is left. */
static gboolean
add_reversals (Ledger *ledger, SwMoney *left, SwMoney *out_reversed, GError **error)
{
  g_autoptr (GArray) reversals = sw_reversal_list (ledger->catalogue, ledger->deal->id, error);
  if (reversals == NULL)
    return FALSE;
  guint n = ledger->items->len;
  g_autofree SwMoney *parts = g_new (SwMoney, n);
  *out_reversed = SW_MONEY_ZERO;
  for (guint i = 0; i < reversals->len; i++)
    {
      const SwDealEntry *entry = &g_array_index (reversals, SwDealEntry, i);
      if (entry->whole)
        memcpy (parts, left, n * sizeof *parts);
      else
        split (ledger, entry->amount, parts);
      add_parts (ledger, SW_POSTING_REVERSAL, "", entry->day, parts, -1);
      for (guint k = 0; k < n; k++)
        left[k].minor -= parts[k].minor;
      if (!sw_money_add (*out_reversed, entry->amount, out_reversed, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
add_owed (Ledger *ledger, SwMoney proceeds, SwMoney reversed, GError **error)
{
  g_autoptr (GArray) payments = sw_payment_list (ledger->catalogue, ledger->deal->id, error);
  SwMoney owed = proceeds;
  if (payments == NULL || !sw_money_sub (owed, reversed, &owed, error))
    return FALSE;
  for (guint i = 0; i < payments->len; i++)
    if (!sw_money_sub (owed, g_array_index (payments, SwDealEntry, i).amount, &owed, error))
      return FALSE;
  if (owed.minor > 0)
    add_split (ledger, SW_POSTING_OWED, "", ledger->deal->ended, owed);
  return TRUE;
}

static gboolean
add_sale (Ledger *ledger, GError **error)
{
  const SwDeal *deal = ledger->deal;
  guint n = ledger->items->len;
  g_autofree SwMoney *price = g_new (SwMoney, n);
  g_autofree SwMoney *delivery = g_new (SwMoney, n);
  SwMoney proceeds, reversed;
  if (!sw_money_add (deal->amount, deal->delivery, &proceeds, error))
    return FALSE;
  split (ledger, deal->amount, price);
  split (ledger, deal->delivery, delivery);
  add_parts (ledger, SW_POSTING_PRICE, "", deal->ended, price, 1);
  add_parts (ledger, SW_POSTING_DELIVERY, "", deal->ended, delivery, 1);
  for (guint i = 0; i < n; i++)
    price[i].minor += delivery[i].minor;
  return add_reversals (ledger, price, &reversed, error)
         && add_owed (ledger, proceeds, reversed, error);
}

static gboolean
settle_offer (Ledger *ledger, GError **error)
{
  if (ledger->deal->result == SW_RESULT_RUNNING)
    weigh (ledger->items);
  return (ledger->deal->result != SW_RESULT_SOLD || add_sale (ledger, error))
         && each_fee (ledger, add_fee, NULL, error);
}

/* --- dockets --- */

/* By mass; where one is missing, equally: fixed when the docket is booked, so that masses that are
 * learned later change nothing. */
static gboolean
fix_line_weights (Ledger *ledger, SwDocketLine *line, GError **error)
{
  guint n = line->items->len;
  if (n == 0)
    return TRUE;
  g_autofree SwSplitPart *parts = g_new0 (SwSplitPart, n);
  g_autofree gint64 *weights = g_new0 (gint64, n);
  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < ledger->items->len; k++)
      {
        const SwDealItem *item = &g_array_index (ledger->items, SwDealItem, k);
        if (item->item == g_array_index (line->items, SwDocketItem, i).item)
          parts[i] = (SwSplitPart){ FALSE, item->has_mass, SW_MONEY_ZERO, item->mass };
      }
  sw_split_weights_by_mass (parts, n, weights);
  for (guint i = 0; i < n; i++)
    g_array_index (line->items, SwDocketItem, i).weight = weights[i];
  return sw_docket_line_set_weights (ledger->catalogue, line, error);
}

/* What a line brought or bears, over its items; without items to the loose scrap of its place. */
static void
add_line (Ledger *ledger, const SwDocketLine *line, SwPosting key, SwMoney amount)
{
  guint n = line->items->len;
  if (n == 0)
    {
      key.place = line->place;
      add_to (ledger, &key, amount.minor);
      return;
    }
  g_autofree gint64 *weights = g_new (gint64, n);
  g_autofree SwMoney *parts = g_new (SwMoney, n);
  for (guint i = 0; i < n; i++)
    weights[i] = g_array_index (line->items, SwDocketItem, i).weight;
  sw_money_split (amount, weights, n, parts);
  for (guint i = 0; i < n; i++)
    {
      key.item = g_array_index (line->items, SwDocketItem, i).item;
      add_to (ledger, &key, parts[i].minor);
    }
}

/* A yard's fee goes over the lines by their money, then over a line's items as its money does. */
static void
add_docket_fee (Ledger *ledger, const SwFee *fee, gpointer data)
{
  const GPtrArray *lines = data;
  g_autofree gint64 *weights = g_new (gint64, lines->len);
  g_autofree SwMoney *parts = g_new (SwMoney, lines->len);
  SwPosting key = { .kind = SW_POSTING_FEE, .charge = fee->charge, .day = ledger->deal->ended };
  for (guint i = 0; i < lines->len; i++)
    weights[i] = ((const SwDocketLine *)g_ptr_array_index (lines, i))->amount.minor;
  sw_money_split (fee->amount, weights, lines->len, parts);
  for (guint i = 0; i < lines->len; i++)
    add_line (ledger, g_ptr_array_index (lines, i), key, parts[i]);
}

static gboolean
fix_docket (Ledger *ledger, GError **error)
{
  g_autoptr (GPtrArray) lines = sw_docket_lines (ledger->catalogue, ledger->deal->id, error);
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    if (!fix_line_weights (ledger, g_ptr_array_index (lines, i), error))
      return FALSE;
  return lines != NULL;
}

static gboolean
settle_docket (Ledger *ledger, GError **error)
{
  g_autoptr (GPtrArray) lines = sw_docket_lines (ledger->catalogue, ledger->deal->id, error);
  if (lines == NULL)
    return FALSE;
  SwPosting key = { .kind = SW_POSTING_PRICE, .day = ledger->deal->ended };
  for (guint i = 0; i < lines->len; i++)
    {
      const SwDocketLine *line = g_ptr_array_index (lines, i);
      for (guint k = 0; k < line->items->len; k++)
        ledger->unweighed
            = ledger->unweighed || g_array_index (line->items, SwDocketItem, k).weight < 0;
      if (!ledger->unweighed)
        add_line (ledger, line, key, line->amount);
    }
  return ledger->unweighed || each_fee (ledger, add_docket_fee, lines, error);
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
static gboolean
post_differences (const Ledger *ledger, GError **error)
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

static gboolean
work_out (Ledger *ledger, GError **error)
{
  gboolean ok = ledger->deal->kind == SW_DEAL_DOCKET ? settle_docket (ledger, error)
                                                     : settle_offer (ledger, error);
  return ok
         && sw_posting_sums (ledger->catalogue, ledger->deal->id, subtract_posted, ledger, error);
}

gboolean
sw_settle_fix (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_autoptr (SwDeal) row = sw_deal_get (catalogue, deal, error);
  g_autoptr (GArray) items = row != NULL ? sw_deal_items (catalogue, deal, error) : NULL;
  if (items == NULL)
    return FALSE;
  Ledger ledger = { .catalogue = catalogue, .deal = row, .items = items };
  if (row->kind == SW_DEAL_DOCKET)
    return fix_docket (&ledger, error);
  return fix_weights (&ledger, error) && compute_fees (catalogue, row, error);
}

gboolean
sw_settle (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_autoptr (SwDeal) row = sw_deal_get (catalogue, deal, error);
  g_autoptr (GArray) items = row != NULL ? sw_deal_items (catalogue, deal, error) : NULL;
  if (items == NULL)
    return FALSE;
  g_autoptr (GHashTable) sums = g_hash_table_new_full (hash_sum, equal_sums, g_free, NULL);
  Ledger ledger = { .catalogue = catalogue, .deal = row, .items = items, .sums = sums };
  return work_out (&ledger, error) && post_differences (&ledger, error);
}

/* A running offer's fees are split by prices and masses that may have changed since: there only the
 * sum of each kind must agree. */
static gboolean
is_sound (const Ledger *ledger)
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

static void
add_price (const SwPosting *posting, gpointer data)
{
  gint64 *sum = data;
  if (posting->kind == SW_POSTING_PRICE)
    *sum += posting->minor;
}

gboolean
sw_settle_check (SwCatalogue *catalogue, gint64 deal, gboolean *out_sound, GError **error)
{
  g_autoptr (SwDeal) row = sw_deal_get (catalogue, deal, error);
  g_autoptr (GArray) items = row != NULL ? sw_deal_items (catalogue, deal, error) : NULL;
  if (items == NULL)
    return FALSE;
  if (items->len == 0 && row->kind != SW_DEAL_DOCKET)
    {
      *out_sound = FALSE; /* an offer or a sale of nothing */
      return TRUE;
    }
  for (guint i = 0; i < items->len; i++)
    if (row->result != SW_RESULT_RUNNING && row->kind != SW_DEAL_DOCKET
        && g_array_index (items, SwDealItem, i).weight < 0)
      {
        *out_sound = FALSE;
        return TRUE;
      }
  g_autoptr (GHashTable) sums = g_hash_table_new_full (hash_sum, equal_sums, g_free, NULL);
  Ledger ledger = { .catalogue = catalogue, .deal = row, .items = items, .sums = sums };
  gint64 price = 0;
  if (!work_out (&ledger, error) || !sw_posting_sums (catalogue, deal, add_price, &price, error))
    return FALSE;
  *out_sound = is_sound (&ledger) && price == row->amount.minor;
  return TRUE;
}
