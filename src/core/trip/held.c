/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/held.h"
#include "core/base/language.h"

static int
compare_until (gconstpointer a, gconstpointer b)
{
  const SwItem *x = *(SwItem *const *)a, *y = *(SwItem *const *)b;

  if (x->hold_until.n != y->hold_until.n)
    return x->hold_until.n < y->hold_until.n ? -1 : 1;
  return x->id < y->id ? -1 : x->id > y->id;
}

GPtrArray *
sw_held_list (SwCatalogue *catalogue, GError **error)
{
  SwState on_hold = SW_STATE_ON_HOLD;
  const SwItemFilter filter = { .state = &on_hold };
  GPtrArray *items = sw_item_list (catalogue, &filter, error);

  if (items != NULL)
    g_ptr_array_sort (items, compare_until);
  return items;
}

static const char *
what_to_do (SwDay until, const SwTrip *trip, SwDay today)
{
  return until.n < today.n         ? _ (", which is over: ask, or let it go")
         : until.n < trip->first.n ? _ (", before the trip: ask now")
         : until.n <= trip->last.n ? _ (", during the trip: agree on the hand-over")
                                   : "";
}

char *
sw_held_words (const SwItem *item, const SwTrip *trip, SwDay today)
{
  g_autofree char *day = sw_day_to_person (item->hold_until);

  return g_strdup_printf (_ ("for %s until %s%s"),
                          item->hold_for != NULL ? item->hold_for : _ ("somebody"), day,
                          what_to_do (item->hold_until, trip, today));
}
