/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ends the offers that a step by hand takes an item out of. */
#include "core/trade/taking-back.h"

#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/many.h"
#include "core/trade/offering.h"

/* These say that it is not for sale there any more. */
#define TAKEN_BACK (SW_TO (READY) | SW_TO (FOUND) | SW_TO (AT_HOME))

static gboolean
leaves_offers (const SwItem *item, SwState to, const SwStepOptions *options)
{
  gboolean offered = item->state == SW_STATE_ON_OFFER || item->state == SW_STATE_ON_HOLD;
  gboolean part = options != NULL && options->count != 0 && options->count < item->count;
  return offered && !part && (TAKEN_BACK & (1u << to)) != 0;
}

static gboolean
withdraw_all (SwCatalogue *catalogue, gint64 number, SwDay day, GError **error)
{
  g_autoptr (GArray) running = sw_deal_running (catalogue, number, error);
  if (running == NULL)
    return FALSE;
  for (guint i = 0; i < running->len; i++)
    {
      g_autoptr (SwDeal) deal = sw_deal_get (catalogue, g_array_index (running, gint64, i), error);
      if (deal == NULL
          || !sw_offer_withdraw (catalogue, deal->id, (SwDay){ MAX (day.n, deal->up.n) }, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
sw_item_step_by_hand (SwCatalogue *catalogue, gint64 number, SwState to,
                      const SwStepOptions *options, gint64 *out_number, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (!leaves_offers (item, to, options))
    return sw_item_move (catalogue, number, to, options, out_number, NULL, error);
  SwDay day = options != NULL && options->day != NULL
                  ? *options->day
                  : sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  g_autofree char *sentence = g_strdup_printf (
      _ ("%s: %s to %s"), item->name, _ (sw_state_word (item->state)), _ (sw_state_word (to)));
  g_auto (SwAct) act = SW_ACT_INIT;
  /* the step first: it says what is not possible, and withdrawing leaves alone what is gone */
  return sw_act_begin (&act, catalogue, error)
         && sw_item_move (catalogue, number, to, options, out_number, NULL, error)
         && withdraw_all (catalogue, number, day, error) && sw_act_commit (&act, sentence, error);
}

static gboolean
step_one (SwCatalogue *catalogue, gint64 number, gpointer data, GError **error)
{
  return sw_item_step_by_hand (catalogue, number, *(const SwState *)data, NULL, NULL, error);
}

gboolean
sw_items_step_by_hand (SwCatalogue *catalogue, const gint64 *items, gsize n, SwState to,
                       GError **error)
{
  return sw_items_each (catalogue, items, n, _ (sw_state_word (to)), step_one, &to, error);
}
