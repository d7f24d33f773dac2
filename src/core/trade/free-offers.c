/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Counts the free offers of a month. Knows no amounts and posts nothing. */
#include "core/trade/free-offers.h"

#include "core/catalogue/outlets.h"
#include "core/trade/terms.h"

/* What the count of one outlet reads. */
typedef struct
{
  const SwZone *zone;
  GArray *counted;     /* SwFeeCounted */
  GPtrArray *closings; /* SwDealClosing */
  GPtrArray *charges;  /* SwCharge */
} Count;

static void
clear_count (Count *count)
{
  g_clear_pointer (&count->counted, g_array_unref);
  g_clear_pointer (&count->closings, g_ptr_array_unref);
  g_clear_pointer (&count->charges, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Count, clear_count)

static void
free_change (gpointer data)
{
  SwFreeChange *change = data;
  g_free (change->ref);
  g_free (change);
}

static gboolean
read_count (SwCatalogue *catalogue, gint64 outlet, Count *count, GError **error)
{
  count->zone = sw_catalogue_zone (catalogue);
  count->counted = sw_fee_counted (catalogue, outlet, error);
  if (count->counted == NULL)
    return FALSE;
  if (count->counted->len == 0)
    return TRUE;
  count->closings = sw_deal_closings (catalogue, outlet, error);
  count->charges = count->closings != NULL ? sw_charge_list (catalogue, outlet, error) : NULL;
  return count->charges != NULL;
}

/* Whether the charge falls on offers that were put up on that day. */
static gboolean
is_in_force (const GPtrArray *charges, const char *name, SwDay up)
{
  g_autoptr (GPtrArray) in_force = sw_terms_on (charges, up);
  for (guint i = 0; i < in_force->len; i++)
    if (g_str_equal (((const SwCharge *)g_ptr_array_index (in_force, i))->name, name))
      return TRUE;
  return FALSE;
}

/* The rows of one charge: [from, until) of 'counted'. */
typedef struct
{
  guint from, until;
  GHashTable *ended; /* deal -> SwFeeCounted, borrowed */
} Group;

static Group
next_group (const Count *count, guint from)
{
  Group group = { from, from, g_hash_table_new (g_int64_hash, g_int64_equal) };
  const char *charge = g_array_index (count->counted, SwFeeCounted, from).charge;
  for (; group.until < count->counted->len; group.until++)
    {
      SwFeeCounted *fee = &g_array_index (count->counted, SwFeeCounted, group.until);
      if (fee->charge != charge)
        break;
      g_hash_table_insert (group.ended, &fee->deal, fee);
    }
  return group;
}

/* Ended offers that the charge fell on, running ones that it falls on now. The refs are borrowed.
 */
static GArray *
rank_group (const Count *count, const Group *group)
{
  const char *charge = g_array_index (count->counted, SwFeeCounted, group->from).charge;
  GArray *ranked = g_array_new (FALSE, FALSE, sizeof (SwClosing));
  for (guint i = 0; i < count->closings->len; i++)
    {
      const SwDealClosing *row = g_ptr_array_index (count->closings, i);
      if (row->running ? is_in_force (count->charges, charge, row->up)
                       : g_hash_table_contains (group->ended, &row->deal))
        {
          SwClosing closing = { row->deal, row->closes, row->item, row->ref, 0 };
          g_array_append_val (ranked, closing);
        }
    }
  sw_terms_rank (ranked, count->zone);
  return ranked;
}

static gboolean
any_free (const Count *count, const Group *group)
{
  for (guint i = group->from; i < group->until; i++)
    if (g_array_index (count->counted, SwFeeCounted, i).free_offers > 0)
      return TRUE;
  return FALSE;
}

static void
find_changes (const Count *count, const Group *group, GPtrArray *changes)
{
  g_autoptr (GArray) ranked = rank_group (count, group);
  for (guint i = 0; i < ranked->len; i++)
    {
      const SwClosing *closing = &g_array_index (ranked, SwClosing, i);
      const SwFeeCounted *fee = g_hash_table_lookup (group->ended, &closing->deal);
      gboolean waived = fee != NULL && fee->due && closing->rank <= fee->free_offers;
      if (fee == NULL || waived == fee->waived)
        continue;
      SwFreeChange *change = g_new0 (SwFreeChange, 1);
      *change
          = (SwFreeChange){ fee->deal, g_strdup (closing->ref), fee->charge, waived, fee->ended };
      g_ptr_array_add (changes, change);
    }
}

static GPtrArray *
count_outlet (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  g_auto (Count) count = { 0 };
  if (!read_count (catalogue, outlet, &count, error))
    return NULL;
  GPtrArray *changes = g_ptr_array_new_with_free_func (free_change);
  for (guint at = 0; at < count.counted->len;)
    {
      Group group = next_group (&count, at);
      if (any_free (&count, &group))
        find_changes (&count, &group, changes);
      g_hash_table_unref (group.ended);
      at = group.until;
    }
  return changes;
}

GPtrArray *
sw_free_offers_recount (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  g_autoptr (GPtrArray) changes = count_outlet (catalogue, outlet, error);
  for (guint i = 0; changes != NULL && i < changes->len; i++)
    {
      const SwFreeChange *change = g_ptr_array_index (changes, i);
      if (!sw_fee_set_waived (catalogue, change->deal, change->charge, change->waived, error))
        return NULL;
    }
  return g_steal_pointer (&changes);
}

gboolean
sw_free_offers_check (SwCatalogue *catalogue, gint64 outlet, gboolean *out_sound, GError **error)
{
  g_autoptr (GPtrArray) changes = count_outlet (catalogue, outlet, error);
  if (changes == NULL)
    return FALSE;
  *out_sound = changes->len == 0;
  return TRUE;
}
