/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of items that follow from who asked, and from a sale that fell through. */
#include "core/trade/holds.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/items.h"
#include "core/catalogue/steps.h"
#include "core/trade/slip.h"

/* Refs that the program gives to sales without an offer begin so. */
#define SALE_PREFIX "S"

/* The offer of an enquiry while it runs; NULL with REFUSED where it does not, or nobody is named.
 */
static SwDeal *
offer_to_hold (SwCatalogue *catalogue, const SwEnquiry *enquiry, GError **error)
{
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, enquiry->deal, error);
  if (deal == NULL)
    return NULL;
  if (enquiry->person == NULL)
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("A hold is for somebody: note the enquiry again with a name."));
  else if (deal->result != SW_RESULT_RUNNING)
    g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                 _ ("%s runs no more: nothing of it can be held back."), deal->ref);
  else
    return g_steal_pointer (&deal);
  return NULL;
}

static gboolean
hold_items (SwCatalogue *catalogue, const SwEnquiry *enquiry, SwDay until, GError **error)
{
  const SwStepOptions options = { .until = &until, .hold_for = enquiry->person };
  g_autoptr (GArray) items = sw_deal_items (catalogue, enquiry->deal, error);
  for (guint i = 0; items != NULL && i < items->len; i++)
    if (!sw_item_move (catalogue, g_array_index (items, SwDealItem, i).item, SW_STATE_ON_HOLD,
                       &options, NULL, NULL, error))
      return FALSE;
  return items != NULL;
}

gboolean
sw_enquiry_hold (SwCatalogue *catalogue, gint64 id, SwDay until, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwEnquiry) enquiry = sw_enquiry_get (catalogue, id, error);
  g_autoptr (SwDeal) deal = enquiry != NULL ? offer_to_hold (catalogue, enquiry, error) : NULL;
  if (deal == NULL || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autofree char *day = sw_day_to_person (until);
  g_autofree char *sentence = g_strdup_printf (_ ("Offer %s held until %s"), deal->ref, day);
  return hold_items (catalogue, enquiry, until, error)
         && sw_enquiry_set (catalogue, id, SW_ENQUIRY_HELD, &until, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

/* Only what is held for that person; what was sold or moved meanwhile stays. */
static gboolean
release (SwCatalogue *catalogue, gint64 number, const char *person, GError **error)
{
  const SwStepOptions options = { .by_books = TRUE };
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (item->state != SW_STATE_ON_HOLD || g_strcmp0 (item->hold_for, person) != 0)
    return TRUE;
  g_autoptr (GArray) running = sw_deal_running (catalogue, number, error);
  return running != NULL
         && sw_item_move (catalogue, number, running->len > 0 ? SW_STATE_ON_OFFER : SW_STATE_FOUND,
                          &options, NULL, NULL, error);
}

gboolean
sw_enquiry_no_show (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwEnquiry) enquiry = sw_enquiry_get (catalogue, id, error);
  g_autoptr (SwDeal) deal = enquiry != NULL ? sw_deal_get (catalogue, enquiry->deal, error) : NULL;
  g_autoptr (GArray) items = deal != NULL ? sw_deal_items (catalogue, deal->id, error) : NULL;
  if (items == NULL || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    if (!release (catalogue, g_array_index (items, SwDealItem, i).item, enquiry->person, error))
      return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("Offer %s: did not come"), deal->ref);
  return sw_enquiry_set (catalogue, id, SW_ENQUIRY_NO_SHOW, NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

const SwEnquiry *
sw_enquiry_next_best (const GPtrArray *enquiries, const char *buyer)
{
  const SwEnquiry *best = NULL;
  for (guint i = 0; i < enquiries->len; i++)
    {
      const SwEnquiry *each = g_ptr_array_index (enquiries, i);
      if (!each->has_amount || each->outcome == SW_ENQUIRY_NO_SHOW
          || (each->person != NULL && g_strcmp0 (each->person, buyer) == 0))
        continue;
      if (best == NULL || each->amount.minor > best->amount.minor)
        best = each;
    }
  return best;
}

/* --- to the underbidder --- */

static gboolean
fall_through (SwCatalogue *catalogue, const SwDeal *deal, SwInstant at, GError **error)
{
  gboolean fell;
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  if (!sw_reversal_whole (catalogue, deal->id, &fell, NULL, error))
    return FALSE;
  if (fell)
    return TRUE;
  sw_slip_row (slip, SW_ROW_REVERSAL);
  sw_slip_text (slip, SW_COLUMN_REF, deal->ref);
  sw_slip_instant (slip, SW_COLUMN_AT, at);
  return sw_slip_book (slip, _ ("Fell through"), NULL, error);
}

/* "3 + 7": as the money table names a lot. Transfer full. */
static char *
items_cell (const GArray *items)
{
  GString *cell = g_string_new (NULL);
  for (guint i = 0; i < items->len; i++)
    g_string_append_printf (cell, "%s%" G_GINT64_FORMAT, i > 0 ? " + " : "",
                            g_array_index (items, SwDealItem, i).item);
  return g_string_free (cell, FALSE);
}

static gboolean
sell (SwCatalogue *catalogue, const SwDeal *deal, const char *ref, const char *buyer,
      SwMoney amount, SwInstant at, GError **error)
{
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  g_autoptr (GArray) items = sw_deal_items (catalogue, deal->id, error);
  if (items == NULL)
    return FALSE;
  g_autofree char *cell = items_cell (items);
  sw_slip_row (slip, SW_ROW_SALE);
  sw_slip_text (slip, SW_COLUMN_REF, ref);
  sw_slip_text (slip, SW_COLUMN_ITEM, cell);
  sw_slip_text (slip, SW_COLUMN_OUTLET, deal->outlet_name);
  sw_slip_money (slip, SW_COLUMN_AMOUNT, TRUE, amount);
  sw_slip_text (slip, SW_COLUMN_BUYER, *buyer != '\0' ? buyer : NULL);
  sw_slip_instant (slip, SW_COLUMN_AT, at);
  return sw_slip_book (slip, _ ("Sold to the next"), NULL, error);
}

gboolean
sw_sale_to_next (SwCatalogue *catalogue, gint64 id, const char *buyer, SwMoney amount, SwInstant at,
                 char **out_ref, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, id, error);
  if (deal == NULL || !sw_act_begin (&act, catalogue, error)
      || !fall_through (catalogue, deal, at, error))
    return FALSE;
  g_autofree char *ref = sw_deal_free_ref (catalogue, SALE_PREFIX, error);
  if (ref == NULL || !sell (catalogue, deal, ref, buyer, amount, at, error))
    return FALSE;
  g_autofree char *money = sw_money_to_person (amount, sw_catalogue_currency (catalogue));
  g_autofree char *sentence = g_strdup_printf (_ ("%s fell through; sold to the next as %s for %s"),
                                               deal->ref, ref, money);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_ref != NULL)
    *out_ref = g_steal_pointer (&ref);
  return TRUE;
}
