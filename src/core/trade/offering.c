/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Makes offers by rows of the money table and writes beside them what that table does not hold. */
#include "core/trade/offering.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/steps.h"
#include "core/trade/slip.h"

/* Refs that the program gives itself begin so. */
#define REF_PREFIX "A"

/* A find becomes ready on the way, with all that this asks of it. */
static gboolean
make_ready (SwCatalogue *catalogue, gint64 number, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  guint next = sw_state_next (item->state);
  if (item->state == SW_STATE_ON_OFFER || (next & SW_TO (ON_OFFER)) != 0
      || (next & SW_TO (READY)) == 0)
    return TRUE;
  return sw_item_move (catalogue, number, SW_STATE_READY, NULL, NULL, NULL, error);
}

static gboolean
check_item (SwCatalogue *catalogue, gint64 number, GError **error)
{
  if (!make_ready (catalogue, number, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL)
    return FALSE;
  if (item->state == SW_STATE_ON_OFFER)
    return TRUE; /* in several outlets at once */
  g_autofree char *why = sw_item_why_not (catalogue, item, SW_STATE_ON_OFFER, FALSE);
  if (why == NULL)
    return TRUE;
  g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED, why);
  return FALSE;
}

char *
sw_offering_why_not (SwCatalogue *catalogue, const SwItem *item)
{
  guint next = sw_state_next (item->state);
  if (item->state == SW_STATE_ON_OFFER)
    return NULL;
  /* by way of Ready, which asks for all that On offer does */
  if ((next & SW_TO (ON_OFFER)) == 0 && (next & SW_TO (READY)) != 0)
    return sw_item_why_not (catalogue, item, SW_STATE_READY, TRUE);
  return sw_item_why_not (catalogue, item, SW_STATE_ON_OFFER, FALSE);
}

/* The sums of an offer's items, where each of them has one. */
typedef struct
{
  gboolean has_asking, has_reserve;
  SwMoney asking, reserve;
} Prices;

static gboolean
add_prices (SwCatalogue *catalogue, const gint64 *items, gsize n, Prices *prices, GError **error)
{
  *prices = (Prices){ TRUE, TRUE, SW_MONEY_ZERO, SW_MONEY_ZERO };
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (SwItem) item = sw_item_get (catalogue, items[i], error);
      if (item == NULL)
        return FALSE;
      prices->has_asking = prices->has_asking && item->has_asking;
      prices->has_reserve = prices->has_reserve && item->has_reserve;
      if ((item->has_asking && !sw_money_add (prices->asking, item->asking, &prices->asking, error))
          || (item->has_reserve
              && !sw_money_add (prices->reserve, item->reserve, &prices->reserve, error)))
        return FALSE;
    }
  return TRUE;
}

/* "3 + 7": as the money table names a lot. Transfer full. */
static char *
items_cell (const gint64 *items, gsize n)
{
  GString *cell = g_string_new (NULL);
  for (gsize i = 0; i < n; i++)
    g_string_append_printf (cell, "%s%" G_GINT64_FORMAT, i > 0 ? " + " : "", items[i]);
  return g_string_free (cell, FALSE);
}

static void
fill_row (SwSlip *slip, const SwOffering *offering, const char *ref, const gint64 *items, gsize n,
          const Prices *prices, gsize index)
{
  g_autofree char *cell = items_cell (items, n);
  sw_slip_row (slip, SW_ROW_OFFER);
  sw_slip_text (slip, SW_COLUMN_REF, ref);
  sw_slip_text (slip, SW_COLUMN_OUTLET, offering->outlet);
  sw_slip_text (slip, SW_COLUMN_ITEM, cell);
  sw_slip_day (slip, SW_COLUMN_UP, offering->up);
  sw_slip_money (slip, SW_COLUMN_START, offering->start != NULL || prices->has_asking,
                 offering->start != NULL ? *offering->start : prices->asking);
  sw_slip_money (slip, SW_COLUMN_RESERVE, offering->reserve != NULL || prices->has_reserve,
                 offering->reserve != NULL ? *offering->reserve : prices->reserve);
  if (offering->closes != NULL)
    sw_slip_instant (
        slip, SW_COLUMN_CLOSES,
        (SwInstant){ offering->closes->us + (gint64)index * offering->step_s * SW_US_PER_SECOND });
}

/* What the person wrote for the offer of the same items before; NULL: nothing. Put up again it is
 * not to be written anew. */
static gboolean
words_before (SwCatalogue *catalogue, gint64 deal, SwOfferNote **out_note, GError **error)
{
  gint64 before = 0;
  *out_note = NULL;
  if (!sw_offer_before (catalogue, deal, &before, error))
    return FALSE;
  return before == 0 || (*out_note = sw_offer_note_get (catalogue, before, error)) != NULL;
}

static const char *
written (const char *text)
{
  return *text != '\0' ? text : NULL;
}

static gboolean
note_of (SwCatalogue *catalogue, const SwOffering *offering, gint64 deal, const Prices *prices,
         GError **error)
{
  gint64 round = 0;
  g_autoptr (SwOfferNote) before = NULL;
  if ((offering->round != NULL && !sw_round_ensure (catalogue, offering->round, &round, error))
      || !words_before (catalogue, deal, &before, error))
    return FALSE;
  SwOfferNoteChange change = { .hoped = offering->hoped != NULL ? offering->hoped
                                        : prices->has_asking    ? &prices->asking
                                                                : NULL,
                               .round = round != 0 ? &round : NULL,
                               .extra = offering->extra };
  if (before != NULL)
    {
      change.title = written (before->title);
      change.text = written (before->text);
      if (change.extra == NULL)
        change.extra = written (before->extra);
    }
  if (change.hoped == NULL && change.round == NULL && change.extra == NULL && change.title == NULL
      && change.text == NULL)
    return TRUE;
  return sw_offer_note_change (catalogue, deal, &change, error);
}

static gboolean
make_one (SwCatalogue *catalogue, const SwOffering *offering, const gint64 *items, gsize n,
          gsize index, GArray *deals, GError **error)
{
  Prices prices;
  for (gsize i = 0; i < n; i++)
    if (!check_item (catalogue, items[i], error))
      return FALSE;
  g_autofree char *ref = sw_deal_free_ref (catalogue, REF_PREFIX, error);
  if (ref == NULL || !add_prices (catalogue, items, n, &prices, error))
    return FALSE;
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  fill_row (slip, offering, ref, items, n, &prices, index);
  g_autoptr (SwDeal) deal = NULL;
  if (!sw_slip_book (slip, _ ("Offer"), NULL, error) || !sw_deal_find (catalogue, ref, &deal, error)
      || !note_of (catalogue, offering, deal->id, &prices, error))
    return FALSE;
  g_array_append_val (deals, deal->id);
  return TRUE;
}

gboolean
sw_offering_make (SwCatalogue *catalogue, const SwOffering *offering, GArray **out_deals,
                  GError **error)
{
  g_return_val_if_fail (offering->n > 0 && offering->outlet != NULL, FALSE);
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (GArray) deals = g_array_new (FALSE, FALSE, sizeof (gint64));
  gsize offers = offering->as_lot ? 1 : offering->n, each = offering->as_lot ? offering->n : 1;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  for (gsize i = 0; i < offers; i++)
    if (!make_one (catalogue, offering, offering->items + i, each, i, deals, error))
      return FALSE;
  g_autofree char *sentence
      = offers == 1
            ? g_strdup_printf (_ ("Put up through %s"), offering->outlet)
            : g_strdup_printf (_ ("%d offers put up through %s"), (int)offers, offering->outlet);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_deals != NULL)
    *out_deals = g_steal_pointer (&deals);
  return TRUE;
}

gboolean
sw_offering_make_in (SwCatalogue *catalogue, const SwOffering *offering, const char *also,
                     GError **error)
{
  g_auto (GStrv) names = g_strsplit (also, ",", -1);
  g_autoptr (GString) others = g_string_new (NULL);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (*also == '\0')
    return sw_offering_make (catalogue, offering, NULL, error);
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_offering_make (catalogue, offering, NULL, error))
    return FALSE;
  for (guint i = 0; names[i] != NULL; i++)
    {
      g_autofree char *name = sw_text_tidy (names[i]);
      SwOffering next = *offering;
      next.outlet = name;
      if (*name == '\0')
        continue;
      if (!sw_offering_make (catalogue, &next, NULL, error))
        return FALSE;
      g_string_append_printf (others, "%s%s", others->len > 0 ? ", " : "", name);
    }
  g_autofree char *sentence
      = g_strdup_printf (_ ("Put up through %s and %s"), offering->outlet, others->str);
  return sw_act_commit (&act, sentence, error);
}

gboolean
sw_offer_withdraw (SwCatalogue *catalogue, gint64 deal, SwDay day, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) offer = sw_deal_get (catalogue, deal, error);
  if (offer == NULL || !sw_act_begin (&act, catalogue, error)
      || !sw_caught_remove (catalogue, deal, _ ("Nothing caught"), error))
    return FALSE;
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  sw_slip_row (slip, SW_ROW_RESULT);
  sw_slip_text (slip, SW_COLUMN_REF, offer->ref);
  sw_slip_day (slip, SW_COLUMN_AT, day);
  sw_slip_text (slip, SW_COLUMN_RESULT, sw_result_word (SW_RESULT_WITHDRAWN));
  g_autofree char *sentence = g_strdup_printf (_ ("Offer %s withdrawn"), offer->ref);
  return sw_slip_book (slip, sentence, NULL, error) && sw_act_commit (&act, sentence, error);
}
