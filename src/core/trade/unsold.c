/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathers what is known of each unsold item; takes the step that was decided. */
#include "core/trade/unsold.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/steps.h"

void
sw_unsold_free (SwUnsold *unsold)
{
  if (unsold == NULL)
    return;
  sw_item_free (unsold->item);
  g_free (unsold->ref);
  g_free (unsold->outlet_name);
  sw_item_floor_clear (&unsold->floor);
  g_clear_pointer (&unsold->outlooks, g_ptr_array_unref);
  g_free (unsold);
}

/* Whether the offer ended without a buyer who stayed one. */
static gboolean
is_without_buyer (SwCatalogue *catalogue, const SwDeal *deal, gboolean *out_is, gboolean *out_fell,
                  GError **error)
{
  *out_fell = FALSE;
  if (deal->kind == SW_DEAL_OFFER && deal->result == SW_RESULT_SOLD
      && !sw_reversal_whole (catalogue, deal->id, out_fell, NULL, error))
    return FALSE;
  *out_is = deal->kind == SW_DEAL_OFFER && (deal->result == SW_RESULT_NO_SALE || *out_fell);
  return TRUE;
}

/* The item's latest offer without a buyer, and how many there were; *out_fell: it had one, and the
 * sale fell through. */
static gboolean
latest_offer (SwCatalogue *catalogue, gint64 item, int *out_times, SwDeal **out_deal,
              gboolean *out_fell, GError **error)
{
  g_autoptr (GArray) deals = sw_deal_of_item (catalogue, item, error);
  if (deals == NULL)
    return FALSE;
  g_autoptr (SwDeal) latest = NULL;
  for (guint i = 0; i < deals->len; i++)
    {
      g_autoptr (SwDeal) deal = sw_deal_get (catalogue, g_array_index (deals, gint64, i), error);
      gboolean is_one = FALSE, fell;
      if (deal == NULL || !is_without_buyer (catalogue, deal, &is_one, &fell, error))
        return FALSE;
      if (!is_one)
        continue;
      ++*out_times;
      if (latest == NULL || deal->ended_at.us >= latest->ended_at.us)
        {
          g_clear_pointer (&latest, sw_deal_free);
          latest = g_steal_pointer (&deal);
          *out_fell = fell;
        }
    }
  *out_deal = g_steal_pointer (&latest);
  return TRUE;
}

static gboolean
add_offer (SwCatalogue *catalogue, SwUnsold *unsold, GError **error)
{
  g_autoptr (SwDeal) deal = NULL;
  if (!latest_offer (catalogue, unsold->item->id, &unsold->times, &deal, &unsold->fell_through,
                     error))
    return FALSE;
  unsold->has_asked = unsold->item->has_asking;
  unsold->asked = unsold->item->asking;
  if (deal == NULL)
    return TRUE;
  g_autoptr (GArray) items = sw_deal_items (catalogue, deal->id, error);
  g_autoptr (GArray) interest
      = items != NULL ? sw_interest_list (catalogue, deal->id, error) : NULL;
  if (interest == NULL)
    return FALSE;
  unsold->ref = g_strdup (deal->ref);
  unsold->outlet_name = g_strdup (deal->outlet_name);
  unsold->outlet = deal->outlet;
  unsold->ended = deal->ended;
  /* the start of a lot is none of one of its items */
  if (deal->has_start && items->len == 1)
    {
      unsold->has_asked = TRUE;
      unsold->asked = deal->start;
    }
  unsold->has_interest = sw_interest_latest (interest, &unsold->interest);
  return TRUE;
}

static SwUnsold *
unsold_of (SwCatalogue *catalogue, SwOutlookBook *book, gint64 number, GError **error)
{
  SwUnsold *unsold = g_new0 (SwUnsold, 1);
  unsold->interest = (SwInterest){ .looks = -1, .followers = -1, .bids = -1 };
  unsold->item = sw_item_get (catalogue, number, error);
  if (unsold->item == NULL || !add_offer (catalogue, unsold, error)
      || !sw_item_floor (catalogue, unsold->item, &unsold->floor, error)
      || !sw_van_fit_item (catalogue, unsold->item, &unsold->van, error)
      || (unsold->outlooks = sw_outlook_of (book, unsold->item, error)) == NULL)
    {
      sw_unsold_free (unsold);
      return NULL;
    }
  if (unsold->floor.known && unsold->has_asked)
    unsold->against_floor
        = unsold->asked.minor < unsold->floor.floor.minor ? SW_FLOOR_BELOW : SW_FLOOR_ABOVE;
  return unsold;
}

static int
by_weight (gconstpointer a, gconstpointer b)
{
  const SwUnsold *one = *(SwUnsold *const *)a, *other = *(SwUnsold *const *)b;
  if (one->has_asked != other->has_asked)
    return one->has_asked ? -1 : 1;
  if (one->has_asked && one->asked.minor != other->asked.minor)
    return one->asked.minor > other->asked.minor ? -1 : 1;
  return one->item->id < other->item->id ? -1 : 1;
}

GPtrArray *
sw_unsold_list (SwCatalogue *catalogue, GError **error)
{
  const SwState state = SW_STATE_NO_SALE;
  const SwItemFilter filter = { .state = &state };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);
  if (items == NULL)
    return NULL;
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_unsold_free);
  g_autoptr (SwOutlookBook) book = items->len > 0 ? sw_outlook_learn (catalogue, error) : NULL;
  if (items->len > 0 && book == NULL)
    return NULL;
  for (guint i = 0; i < items->len; i++)
    {
      SwUnsold *unsold
          = unsold_of (catalogue, book, ((SwItem *)g_ptr_array_index (items, i))->id, error);
      if (unsold == NULL)
        return NULL;
      g_ptr_array_add (all, unsold);
    }
  g_ptr_array_sort (all, by_weight);
  return g_steal_pointer (&all);
}

/* --- deciding --- */

static gboolean
point_outlet (SwCatalogue *catalogue, gint64 item, SwVerdict verdict, GError **error)
{
  int times = 0;
  gboolean fell = FALSE;
  g_autoptr (SwDeal) deal = NULL;
  if (verdict != SW_VERDICT_AGAIN && verdict != SW_VERDICT_ELSEWHERE)
    return TRUE;
  if (!latest_offer (catalogue, item, &times, &deal, &fell, error))
    return FALSE;
  gint64 outlet = verdict == SW_VERDICT_AGAIN && deal != NULL ? deal->outlet : 0;
  const SwItemChange change = { .outlet = &outlet };
  return sw_item_change (catalogue, item, &change, error);
}

gboolean
sw_unsold_decide (SwCatalogue *catalogue, gint64 item, SwVerdict verdict, GError **error)
{
  g_autoptr (SwItem) now = sw_item_get (catalogue, item, error);
  if (now == NULL)
    return FALSE;
  g_autofree char *name = sw_text_quote (now->name);
  if (now->state != SW_STATE_NO_SALE)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("%s is no No sale any more; it is %s."),
                   name, _ (sw_state_word (now->state)));
      return FALSE;
    }
  if (verdict == SW_VERDICT_LATER)
    return TRUE;
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf ("%s: %s", now->name, _ (sw_verdict_word (verdict)));
  return sw_act_begin (&act, catalogue, error)
         && sw_item_move (catalogue, item, sw_verdict_state (verdict), NULL, NULL, NULL, error)
         && point_outlet (catalogue, item, verdict, error) && sw_act_commit (&act, sentence, error);
}
