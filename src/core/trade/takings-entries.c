/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Takes a row of the takings apart into the deals and costs it is made of. The same keys as the
 * rows (takings.c), so that they agree to the cent. */
#include <string.h>

#include "core/trade/takings-private.h"

typedef struct
{
  SwCatalogue *catalogue;
  SwTakingsAdding adding;
  const char *wanted; /* key */
  GHashTable *keys;   /* gint64 -> GINT_TO_POINTER (1 + whether it is the wanted one) */
  gint64 last_key;    /* and what is known of it, for the next posting is mostly of the same row */
  gboolean last_wanted, any_key;
  GPtrArray *entries; /* SwTakingsEntry: deals by id, then costs */
  GError *error;      /* the first one */
} Taking;

static void
entry_free (gpointer data)
{
  SwTakingsEntry *entry = data;
  g_free (entry->ref);
  g_free (entry->what);
  g_free (entry);
}

static gpointer
copy_id (gint64 id)
{
  return g_memdup2 (&id, sizeof id);
}

/* Each key is put into words once. */
static gboolean
look_up_wanted (Taking *taking, gint64 key)
{
  gpointer known = g_hash_table_lookup (taking->keys, &key);
  if (known == NULL)
    {
      g_autofree char *text
          = sw_takings_key_text (taking->catalogue, taking->adding.grouping, key, &taking->error);
      known = GINT_TO_POINTER (1 + (text != NULL && strcmp (text, taking->wanted) == 0));
      g_hash_table_insert (taking->keys, copy_id (key), known);
    }
  return GPOINTER_TO_INT (known) == 2;
}

static gboolean
is_wanted (Taking *taking, gint64 key)
{
  if (!taking->any_key || key != taking->last_key)
    {
      taking->last_wanted = look_up_wanted (taking, key);
      taking->last_key = key;
      taking->any_key = TRUE;
    }
  return taking->last_wanted;
}

/* Postings come by deal, so the deal of this one is the last entry or a new one. */
static void
take_posting (const SwPosting *posting, gpointer data)
{
  Taking *taking = data;
  if (taking->error != NULL || !is_wanted (taking, sw_takings_key_of (&taking->adding, posting)))
    return;
  guint n = taking->entries->len;
  SwTakingsEntry *entry = n > 0 ? g_ptr_array_index (taking->entries, n - 1) : NULL;
  if (entry == NULL || entry->deal != posting->deal)
    {
      entry = g_new0 (SwTakingsEntry, 1);
      entry->deal = posting->deal;
      g_ptr_array_add (taking->entries, entry);
    }
  sw_takings_add (&taking->adding, posting, &entry->proceeds, &entry->fees, &entry->owed);
}

static gboolean
take_costs (Taking *taking, GError **error)
{
  g_autoptr (GPtrArray) costs = sw_cost_list (taking->catalogue, error);
  if (costs == NULL)
    return FALSE;
  for (guint i = 0; i < costs->len; i++)
    {
      const SwCost *cost = g_ptr_array_index (costs, i);
      if (!is_wanted (taking, sw_takings_cost_key (&taking->adding, cost)))
        continue;
      SwTakingsEntry *entry = g_new0 (SwTakingsEntry, 1);
      entry->ref = g_strdup ("");
      entry->what = g_strdup (cost->remark);
      entry->day = cost->day;
      entry->costs = cost->amount;
      g_ptr_array_add (taking->entries, entry);
    }
  return TRUE;
}

/* The entries are deals alone yet, by id. */
static gboolean
describe (Taking *taking, GError **error)
{
  g_autoptr (GArray) deals = g_array_new (FALSE, FALSE, sizeof (gint64));
  for (guint i = 0; i < taking->entries->len; i++)
    g_array_append_val (deals, ((SwTakingsEntry *)g_ptr_array_index (taking->entries, i))->deal);
  g_autoptr (GPtrArray) labels = sw_deal_labels (taking->catalogue, deals, error);
  if (labels == NULL)
    return FALSE;
  for (guint i = 0; i < labels->len; i++)
    {
      SwTakingsEntry *entry = g_ptr_array_index (taking->entries, i);
      SwDealLabel *label = g_ptr_array_index (labels, i);
      entry->ref = g_steal_pointer (&label->ref);
      entry->what = g_steal_pointer (&label->items);
      entry->day = label->day;
      if (!sw_money_sub (entry->proceeds, entry->fees, &entry->takings, error))
        return FALSE;
    }
  return TRUE;
}

static int
compare_entries (gconstpointer a, gconstpointer b)
{
  const SwTakingsEntry *x = *(SwTakingsEntry *const *)a, *y = *(SwTakingsEntry *const *)b;
  if (x->day.n != y->day.n)
    return x->day.n < y->day.n ? -1 : 1;
  return strcmp (x->ref, y->ref);
}

static gboolean
take_all (Taking *taking, GError **error)
{
  if (!sw_posting_each (taking->catalogue, take_posting, taking, error) || !describe (taking, error)
      || !take_costs (taking, error))
    return FALSE;
  if (taking->error != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&taking->error));
      return FALSE;
    }
  if (!sw_takings_refuse_overflow (&taking->adding, error))
    return FALSE;
  g_ptr_array_sort (taking->entries, compare_entries);
  return TRUE;
}

static void
taking_clear (Taking *taking)
{
  sw_takings_adding_clear (&taking->adding);
  g_clear_pointer (&taking->keys, g_hash_table_unref);
  g_clear_pointer (&taking->entries, g_ptr_array_unref);
  g_clear_error (&taking->error);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Taking, taking_clear)

GPtrArray *
sw_takings_entries (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping, const char *key,
                    GError **error)
{
  g_auto (Taking) taking = { .catalogue = catalogue, .wanted = key };
  if (!sw_takings_adding_start (catalogue, credit, grouping, &taking.adding, error))
    return NULL;
  taking.keys = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  taking.entries = g_ptr_array_new_with_free_func (entry_free);
  if (!take_all (&taking, error))
    return NULL;
  return g_steal_pointer (&taking.entries);
}
