/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adds the family's account up from the takings, the shares and the entries. */
#include "core/trade/account.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/items.h"
#include "core/trade/takings.h"

static void
row_free (gpointer data)
{
  SwAccountRow *row = data;
  g_free (row->person);
  g_free (row);
}

static void
transfer_free (gpointer data)
{
  SwTransfer *transfer = data;
  g_free (transfer->from);
  g_free (transfer->to);
  g_free (transfer);
}

void
sw_account_clear (SwAccount *account)
{
  g_clear_pointer (&account->rows, g_ptr_array_unref);
  g_clear_pointer (&account->transfers, g_ptr_array_unref);
}

/* --- rows --- */

static SwAccountRow *
find_row (SwAccount *account, const char *person)
{
  for (guint i = 0; i < account->rows->len; i++)
    {
      SwAccountRow *row = g_ptr_array_index (account->rows, i);
      if (strcmp (row->person, person) == 0)
        return row;
    }
  SwAccountRow *row = g_new0 (SwAccountRow, 1);
  row->person = g_strdup (person);
  g_ptr_array_add (account->rows, row);
  return row;
}

static int
compare_others (gconstpointer a, gconstpointer b)
{
  return strcmp (((const SwFamilyEntry *)*(gconstpointer *)a)->person,
                 ((const SwFamilyEntry *)*(gconstpointer *)b)->person);
}

static gboolean
add_entries (SwAccount *account, GPtrArray *entries, GError **error)
{
  g_ptr_array_sort (entries, compare_others);
  for (guint i = 0; i < entries->len; i++)
    {
      const SwFamilyEntry *entry = g_ptr_array_index (entries, i);
      SwAccountRow *row = find_row (account, entry->person);
      SwMoney *const sums[SW_N_FAMILY_KINDS]
          = { &row->advances, &row->costs_paid, &row->taken, &row->payouts, &row->holds };
      if (!sw_money_add (*sums[entry->kind], entry->amount, sums[entry->kind], error)
          || (entry->kind == SW_FAMILY_TAKEN
              && !sw_money_add (account->taken, entry->amount, &account->taken, error)))
        return FALSE;
    }
  return TRUE;
}

/* --- parts and dues --- */

static gboolean
check_whole (const GPtrArray *shares, GError **error)
{
  gint64 whole = 0;
  for (guint i = 0; i < shares->len; i++)
    whole += ((const SwShare *)g_ptr_array_index (shares, i))->part;
  if (whole == SW_SHARE_WHOLE)
    return TRUE;
  g_autofree char *sum = sw_share_to_text (whole);
  if (shares->len == 0)
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("Nobody has a share yet; say who gets which percentage."));
  else
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("The shares add up to %s %%, not to 100 %%; change one of them."), sum);
  return FALSE;
}

static void
split_parts (SwAccount *account, const GPtrArray *shares)
{
  guint n = shares->len;
  g_autofree gint64 *weights = g_new (gint64, n);
  g_autofree SwMoney *parts = g_new (SwMoney, n);
  for (guint i = 0; i < n; i++)
    weights[i] = ((const SwShare *)g_ptr_array_index (shares, i))->part;
  sw_money_split (account->to_share, weights, n, parts);
  for (guint i = 0; i < n; i++)
    {
      const SwShare *share = g_ptr_array_index (shares, i);
      SwAccountRow *row = find_row (account, share->person);
      row->share = share->part;
      row->part = parts[i];
    }
}

static gboolean
work_out_dues (SwAccount *account, GError **error)
{
  account->in_till = SW_MONEY_ZERO;
  for (guint i = 0; i < account->rows->len; i++)
    {
      SwAccountRow *row = g_ptr_array_index (account->rows, i);
      if (!sw_money_add (row->part, row->costs_paid, &row->due, error)
          || !sw_money_sub (row->due, row->advances, &row->due, error)
          || !sw_money_sub (row->due, row->payouts, &row->due, error)
          || !sw_money_sub (row->due, row->taken, &row->due, error)
          || !sw_money_add (account->in_till, row->due, &account->in_till, error)
          || !sw_money_sub (account->in_till, row->holds, &account->in_till, error))
        return FALSE;
    }
  return TRUE;
}

/* --- who pays whom --- */

typedef struct
{
  const char *person; /* NULL: the till */
  gint64 gets;        /* below zero: gives */
} Party;

static GArray *
parties_of (const SwAccount *account)
{
  GArray *parties = g_array_new (FALSE, FALSE, sizeof (Party));
  for (guint i = 0; i < account->rows->len; i++)
    {
      const SwAccountRow *row = g_ptr_array_index (account->rows, i);
      Party party = { row->person, row->due.minor - row->holds.minor };
      g_array_append_val (parties, party);
    }
  Party till = { NULL, -account->in_till.minor };
  g_array_append_val (parties, till);
  return parties;
}

/* The one that gets (sign 1) or gives (-1) the most; the first of equals. NULL: nobody. */
static Party *
greatest (GArray *parties, int sign)
{
  Party *found = NULL;
  for (guint i = 0; i < parties->len; i++)
    {
      Party *party = &g_array_index (parties, Party, i);
      if (party->gets * sign > 0 && (found == NULL || party->gets * sign > found->gets * sign))
        found = party;
    }
  return found;
}

/* Each transfer settles one party at least, so they end. */
static void
settle_parties (SwAccount *account)
{
  g_autoptr (GArray) parties = parties_of (account);
  for (;;)
    {
      Party *gets = greatest (parties, 1), *gives = greatest (parties, -1);
      if (gets == NULL || gives == NULL)
        return;
      gint64 amount = MIN (gets->gets, -gives->gets);
      SwTransfer *transfer = g_new0 (SwTransfer, 1);
      transfer->from = g_strdup (gives->person);
      transfer->to = g_strdup (gets->person);
      transfer->amount = sw_money (amount);
      g_ptr_array_add (account->transfers, transfer);
      gets->gets -= amount;
      gives->gets += amount;
    }
}

/* --- the whole --- */

static gboolean
read_takings (SwCatalogue *catalogue, SwAccount *account, GError **error)
{
  g_auto (SwTakings) takings = { 0 };
  if (!sw_takings_read (catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &takings, error))
    return FALSE;
  account->takings = takings.total.takings;
  account->costs = takings.total.costs;
  account->owed = takings.total.owed;
  return TRUE;
}

char *
sw_account_final_words (const SwAccount *account, SwCurrency currency)
{
  g_autofree char *owed = sw_money_to_person (account->owed, currency);
  if (account->standing > 0 && account->owed.minor == 0)
    return sw_text_count (account->standing, "Not final yet: %d thing still stands.",
                          "Not final yet: %d things still stand.");
  if (account->standing > 0)
    return sw_text_counted (account->standing,
                            "Not final yet: %d thing still stands, and buyers still owe %s %s.",
                            "Not final yet: %d things still stand, and buyers still owe %s %s.",
                            (int)account->standing, owed, currency.code);
  if (account->owed.minor != 0)
    return g_strdup_printf (_ ("Not final yet: buyers still owe %s %s."), owed, currency.code);
  return g_strdup (account->transfers->len > 0
                       ? _ ("These are the final figures: nothing stands any more, and buyers have "
                            "paid all. What each one still gets is to be paid out.")
                       : _ ("This is the final account: nothing stands any more, buyers have paid "
                            "all, and everybody has what is due."));
}

static gboolean
add_up (SwCatalogue *catalogue, SwAccount *account, GError **error)
{
  g_autoptr (GPtrArray) shares = sw_share_list (catalogue, error);
  if (shares == NULL || !check_whole (shares, error) || !read_takings (catalogue, account, error))
    return FALSE;
  for (guint i = 0; i < shares->len; i++)
    find_row (account, ((const SwShare *)g_ptr_array_index (shares, i))->person);
  g_autoptr (GPtrArray) entries = sw_family_entry_list (catalogue, error);
  if (entries == NULL || !add_entries (account, entries, error)
      || !sw_money_sub (account->takings, account->costs, &account->to_share, error)
      || !sw_money_add (account->to_share, account->taken, &account->to_share, error))
    return FALSE;
  if (!sw_item_count_standing (catalogue, &account->standing, error))
    return FALSE;
  split_parts (account, shares);
  if (!work_out_dues (account, error))
    return FALSE;
  settle_parties (account);
  return TRUE;
}

gboolean
sw_account_read (SwCatalogue *catalogue, SwAccount *out_account, GError **error)
{
  g_auto (SwAccount) account = { 0 };
  account.rows = g_ptr_array_new_with_free_func (row_free);
  account.transfers = g_ptr_array_new_with_free_func (transfer_free);
  if (!add_up (catalogue, &account, error))
    return FALSE;
  *out_account = account;
  account = (SwAccount){ 0 };
  return TRUE;
}
