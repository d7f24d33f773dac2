/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads the rows of a closing night, catches results, and books them once confirmed. */
#include "core/trade/run-sheet.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/enquiries.h"
#include "core/catalogue/postings.h"
#include "core/catalogue/steps.h"
#include "core/trade/offers.h"
#include "core/trade/scrap.h"
#include "core/trade/slip.h"

typedef struct
{
  const char *word;
  SwState state;
} VerdictRow;

#define AS_VERDICT_ROW(tag, word, state) [SW_VERDICT_##tag] = { word, state },
static const VerdictRow verdict_rows[SW_N_VERDICTS] = { SW_VERDICTS (AS_VERDICT_ROW) };

const char *
sw_verdict_word (SwVerdict verdict)
{
  g_return_val_if_fail (verdict >= 0 && verdict < SW_N_VERDICTS, "");
  return verdict_rows[verdict].word;
}

SwState
sw_verdict_state (SwVerdict verdict)
{
  g_return_val_if_fail (verdict >= 0 && verdict < SW_N_VERDICTS, SW_STATE_NO_SALE);
  return verdict_rows[verdict].state;
}

gboolean
sw_verdict_parse (const char *word, SwVerdict *out_verdict)
{
  for (int i = 0; word != NULL && i < SW_N_VERDICTS; i++)
    if (sw_text_same_name (verdict_rows[i].word, word))
      {
        *out_verdict = (SwVerdict)i;
        return TRUE;
      }
  return FALSE;
}

void
sw_run_row_free (SwRunRow *row)
{
  if (row == NULL)
    return;
  g_free (row->ref);
  g_free (row->own_ref);
  g_free (row->outlet_name);
  g_free (row->items);
  g_clear_pointer (&row->numbers, g_array_unref);
  sw_caught_clear (&row->caught);
  g_free (row);
}

/* --- reading a row --- */

/* Sums over the items of a row; what one of them lacks the whole lacks. */
static gboolean
add_item (SwCatalogue *catalogue, const SwItem *item, SwRunRow *row, GError **error)
{
  g_auto (SwItemFloor) floor = { 0 };
  SwVanFit van;

  if (!sw_item_floor (catalogue, item, &floor, error)
      || !sw_van_fit_item (catalogue, item, &van, error))
    return FALSE;
  row->has_asking = row->has_asking && item->has_asking;
  row->has_mass = row->has_mass && item->has_mass;
  row->has_floor = row->has_floor && floor.known;
  row->needs_machine = row->needs_machine || item->size == SW_SIZE_MACHINE;
  row->van = MAX (row->van, van);
  if (row->photo == 0)
    row->photo = item->first_photo;
  if (row->has_mass && __builtin_add_overflow (row->mass.ug, item->mass.ug, &row->mass.ug))
    row->has_mass = FALSE;
  return (!row->has_asking || sw_money_add (row->asking, item->asking, &row->asking, error))
         && (!row->has_floor || sw_money_add (row->floor, floor.floor, &row->floor, error));
}

static gboolean
read_items (SwCatalogue *catalogue, SwRunRow *row, GError **error)
{
  g_autoptr (GArray) items = sw_deal_items (catalogue, row->deal, error);
  if (items == NULL)
    return FALSE;
  row->has_asking = row->has_mass = row->has_floor = items->len > 0;
  for (guint i = 0; i < items->len; i++)
    {
      const SwDealItem *deal_item = &g_array_index (items, SwDealItem, i);
      g_autoptr (SwItem) item = sw_item_get (catalogue, deal_item->item, error);
      if (item == NULL || !add_item (catalogue, item, row, error))
        return FALSE;
      g_array_append_val (row->numbers, deal_item->item);
      row->to_withdraw
          = row->to_withdraw
            || (row->result == SW_RESULT_RUNNING && !sw_offer_holds_item (item->state));
    }
  row->items = sw_deal_item_names (items);
  return TRUE;
}

static void
judge_floor (SwRunRow *row)
{
  gboolean has_price = row->has_start || row->has_asking;
  SwMoney price = row->has_start ? row->start : row->asking;
  if (row->has_floor && has_price)
    row->against_floor = price.minor < row->floor.minor ? SW_FLOOR_BELOW : SW_FLOOR_ABOVE;
}

static gboolean
read_beside (SwCatalogue *catalogue, SwRunRow *row, GError **error)
{
  g_autoptr (SwOfferNote) note = sw_offer_note_get (catalogue, row->deal, error);
  g_autoptr (GArray) interest
      = note != NULL ? sw_interest_list (catalogue, row->deal, error) : NULL;
  g_autoptr (GPtrArray) enquiries
      = interest != NULL ? sw_enquiry_list (catalogue, row->deal, error) : NULL;
  if (enquiries == NULL
      || !sw_caught_get (catalogue, row->deal, &row->has_caught, &row->caught, error))
    return FALSE;
  row->own_ref = g_strdup (note->own_ref);
  row->has_hoped = note->has_hoped;
  row->hoped = note->hoped;
  row->has_interest = sw_interest_latest (interest, &row->interest);
  row->enquiries = enquiries->len;
  const SwEnquiry *held = sw_enquiry_held (enquiries);
  row->is_held = held != NULL;
  if (held != NULL)
    {
      row->held = held->until;
      row->held_end = held->until_end;
    }
  return TRUE;
}

static SwRunRow *
row_of (SwCatalogue *catalogue, const SwDeal *deal, GError **error)
{
  SwRunRow *row = g_new0 (SwRunRow, 1);
  row->deal = deal->id;
  row->outlet = deal->outlet;
  row->ref = g_strdup (deal->ref);
  row->outlet_name = g_strdup (deal->outlet_name != NULL ? deal->outlet_name : "");
  row->numbers = g_array_new (FALSE, FALSE, sizeof (gint64));
  row->has_closes = deal->has_closes;
  row->closes = deal->closes;
  row->has_start = deal->has_start;
  row->start = deal->start;
  row->has_reserve = deal->has_reserve;
  row->reserve = deal->reserve;
  row->result = deal->result;
  row->amount = deal->amount;
  if (!read_items (catalogue, row, error) || !read_beside (catalogue, row, error))
    {
      sw_run_row_free (row);
      return NULL;
    }
  judge_floor (row);
  return row;
}

static GPtrArray *
rows_of (SwCatalogue *catalogue, const GPtrArray *deals, GError **error)
{
  if (deals == NULL)
    return NULL;
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_run_row_free);
  for (guint i = 0; i < deals->len; i++)
    {
      SwRunRow *row = row_of (catalogue, g_ptr_array_index (deals, i), error);
      if (row == NULL)
        return NULL;
      g_ptr_array_add (rows, row);
    }
  return g_steal_pointer (&rows);
}

GPtrArray *
sw_run_sheet (SwCatalogue *catalogue, SwInstant from, SwInstant until, GError **error)
{
  g_autoptr (GPtrArray) deals = sw_deal_list_closing (catalogue, from, until, error);
  return rows_of (catalogue, deals, error);
}

GPtrArray *
sw_run_running (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) deals = sw_deal_list_running (catalogue, error);
  return rows_of (catalogue, deals, error);
}

/* --- which night --- */

static SwInstant
noon_of (SwDay day, const SwZone *zone)
{
  SwCivil civil = { 0 };
  sw_day_to_ymd (day, &civil.year, &civil.month, &civil.day);
  civil.hour = 12;
  return sw_civil_to_instant (civil, zone, NULL);
}

/* The running offer that closes next, else the one that closed last. */
static const SwDeal *
pick_deal (const GPtrArray *running, SwInstant now)
{
  const SwDeal *last = NULL;
  for (guint i = 0; i < running->len; i++)
    {
      const SwDeal *deal = g_ptr_array_index (running, i);
      if (!deal->has_closes)
        break;
      if (deal->closes.us >= now.us)
        return last != NULL && now.us - last->closes.us < 12 * 3600 * SW_US_PER_SECOND ? last
                                                                                       : deal;
      last = deal;
    }
  return last;
}

static void
night_of (const SwDeal *deal, const SwZone *zone, SwInstant *out_from, SwInstant *out_until)
{
  SwDay day = sw_day_of_instant (deal->closes, zone);
  if (deal->closes.us < noon_of (day, zone).us)
    day.n--;
  *out_from = noon_of (day, zone);
  *out_until = noon_of ((SwDay){ day.n + 1 }, zone);
}

gboolean
sw_run_earlier_night (SwCatalogue *catalogue, SwInstant from, gboolean *out_found,
                      SwRunNight *out_night, GError **error)
{
  const SwZone *zone = sw_catalogue_zone (catalogue);
  g_autoptr (GPtrArray) running = sw_deal_list_running (catalogue, error);
  *out_found = FALSE;
  for (guint i = 0; running != NULL && i < running->len; i++)
    {
      const SwDeal *deal = g_ptr_array_index (running, i);
      SwRunNight night = { .open = 1 };
      if (!deal->has_closes || deal->closes.us >= from.us)
        break;
      night_of (deal, zone, &night.from, &night.until);
      if (*out_found && out_night->from.us == night.from.us)
        night.open += out_night->open;
      *out_night = night;
      *out_found = TRUE;
    }
  return running != NULL;
}

gboolean
sw_run_next_night (SwCatalogue *catalogue, SwInstant now, gboolean *out_found, SwInstant *out_from,
                   SwInstant *out_until, GError **error)
{
  const SwZone *zone = sw_catalogue_zone (catalogue);
  g_autoptr (GPtrArray) running = sw_deal_list_running (catalogue, error);
  if (running == NULL)
    return FALSE;
  const SwDeal *deal = pick_deal (running, now);
  *out_found = deal != NULL;
  if (deal == NULL)
    return TRUE;
  night_of (deal, zone, out_from, out_until);
  return TRUE;
}

/* --- catching --- */

static SwDeal *
running_offer (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, id, error);
  if (deal == NULL)
    return NULL;
  if (deal->kind == SW_DEAL_OFFER && deal->result == SW_RESULT_RUNNING)
    return g_steal_pointer (&deal);
  g_autofree char *ref = sw_text_quote (deal->ref);
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               deal->kind == SW_DEAL_OFFER
                   ? _ ("%s has its result already; undo it first, or book a reversal.")
                   : _ ("%s is no offer."),
               ref);
  return NULL;
}

gboolean
sw_run_catch (SwCatalogue *catalogue, gint64 deal, SwResult result, SwMoney amount, GError **error)
{
  g_return_val_if_fail (result == SW_RESULT_SOLD || result == SW_RESULT_NO_SALE, FALSE);
  if (amount.minor < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("A price is not below zero."));
      return FALSE;
    }
  g_autoptr (SwDeal) offer = running_offer (catalogue, deal, error);
  if (offer == NULL)
    return FALSE;
  const SwCaught caught
      = { .result = result, .amount = result == SW_RESULT_SOLD ? amount : SW_MONEY_ZERO };
  g_autofree char *money = sw_money_to_person (amount, sw_catalogue_currency (catalogue));
  g_autofree char *sentence = result == SW_RESULT_SOLD
                                  ? g_strdup_printf (_ ("%s caught at %s"), offer->ref, money)
                                  : g_strdup_printf (_ ("%s caught as no sale"), offer->ref);
  return sw_caught_put (catalogue, deal, &caught, sentence, error);
}

gboolean
sw_run_take_back (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_autoptr (SwDeal) offer = running_offer (catalogue, deal, error);
  if (offer == NULL)
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("%s: nothing caught"), offer->ref);
  return sw_caught_remove (catalogue, deal, sentence, error);
}

/* --- verdicts --- */

/* AGAIN means the same outlet, ELSEWHERE another one. */
static gboolean
point_outlet (SwCatalogue *catalogue, const SwDeal *deal, gint64 item, SwVerdict verdict,
              GError **error)
{
  if (verdict != SW_VERDICT_AGAIN && verdict != SW_VERDICT_ELSEWHERE)
    return TRUE;
  gint64 outlet = verdict == SW_VERDICT_AGAIN ? deal->outlet : 0;
  const SwItemChange change = { .outlet = &outlet };
  return sw_item_change (catalogue, item, &change, error);
}

static gboolean
take_step (SwCatalogue *catalogue, const SwDeal *deal, gint64 item, SwVerdict verdict,
           GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_item_move (catalogue, item, sw_verdict_state (verdict), NULL, NULL, NULL, error)
         && point_outlet (catalogue, deal, item, verdict, error)
         && sw_act_commit (&act, _ (sw_verdict_word (verdict)), error);
}

/* remarks not NULL: a step that is refused leaves its item No sale and says so there. */
static gboolean
take_verdict (SwCatalogue *catalogue, const SwDeal *deal, SwVerdict verdict, GPtrArray *remarks,
              GError **error)
{
  g_autoptr (GArray) items = sw_deal_items (catalogue, deal->id, error);
  if (items == NULL)
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    {
      const SwDealItem *item = &g_array_index (items, SwDealItem, i);
      /* another step overtook it: sold elsewhere, on hold, still up in another outlet */
      if (item->state != SW_STATE_NO_SALE)
        continue;
      GError *reason = NULL;
      if (take_step (catalogue, deal, item->item, verdict, &reason))
        continue;
      if (remarks == NULL || !g_error_matches (reason, SW_ERROR, SW_ERROR_REFUSED))
        {
          g_propagate_error (error, reason);
          return FALSE;
        }
      g_ptr_array_add (remarks, g_strdup (reason->message));
      g_error_free (reason);
    }
  return TRUE;
}

static gboolean
verdict_of_ended (SwCatalogue *catalogue, const SwDeal *deal, SwVerdict verdict, GError **error)
{
  if (deal->result != SW_RESULT_NO_SALE)
    {
      g_autofree char *ref = sw_text_quote (deal->ref);
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED, _ ("%s did not end as a no sale."), ref);
      return FALSE;
    }
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf ("%s: %s", deal->ref, _ (sw_verdict_word (verdict)));
  return sw_act_begin (&act, catalogue, error)
         && take_verdict (catalogue, deal, verdict, NULL, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_run_verdict (SwCatalogue *catalogue, gint64 id, SwVerdict verdict, GError **error)
{
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, id, error);
  if (deal == NULL)
    return FALSE;
  if (deal->result != SW_RESULT_RUNNING)
    return verdict_of_ended (catalogue, deal, verdict, error);
  gboolean found = FALSE;
  g_auto (SwCaught) before = { 0 };
  if (!sw_caught_get (catalogue, id, &found, &before, error))
    return FALSE;
  if (found && before.result == SW_RESULT_SOLD)
    {
      g_autofree char *ref = sw_text_quote (deal->ref);
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("%s is caught as sold; take that back before you say what becomes of it."),
                   ref);
      return FALSE;
    }
  const SwCaught caught
      = { .result = SW_RESULT_NO_SALE, .verdict = (char *)sw_verdict_word (verdict) };
  g_autofree char *sentence
      = g_strdup_printf (_ ("%s caught as no sale, %s"), deal->ref, _ (sw_verdict_word (verdict)));
  return sw_caught_put (catalogue, id, &caught, sentence, error);
}

/* --- confirming --- */

static void
add_result (SwSlip *slip, const SwDeal *deal, const SwCaught *caught)
{
  sw_slip_row (slip, SW_ROW_RESULT);
  sw_slip_text (slip, SW_COLUMN_REF, deal->ref);
  sw_slip_instant (slip, SW_COLUMN_AT, deal->has_closes ? deal->closes : caught->at);
  sw_slip_text (slip, SW_COLUMN_RESULT, sw_result_word (caught->result));
  sw_slip_money (slip, SW_COLUMN_AMOUNT, caught->result == SW_RESULT_SOLD, caught->amount);
}

/* A verdict to take once the result is booked. */
typedef struct
{
  SwDeal *deal;
  SwVerdict verdict;
} ToTake;

static void
clear_to_take (gpointer data)
{
  g_clear_pointer (&((ToTake *)data)->deal, sw_deal_free);
}

/* Puts the offer's caught result on the slip, takes it off the caught ones, notes its verdict. */
static gboolean
move_to_slip (SwCatalogue *catalogue, gint64 id, SwSlip *slip, GArray *verdicts, guint *booked,
              GError **error)
{
  gboolean found = FALSE;
  g_auto (SwCaught) caught = { 0 };
  if (!sw_caught_get (catalogue, id, &found, &caught, error))
    return FALSE;
  if (!found)
    return TRUE;
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, id, error);
  if (deal == NULL || !sw_caught_remove (catalogue, id, _ ("Confirmed"), error))
    return FALSE;
  if (deal->result != SW_RESULT_RUNNING)
    return TRUE; /* booked meanwhile, by a table or another process */
  add_result (slip, deal, &caught);
  ++*booked;
  SwVerdict verdict;
  if (sw_verdict_parse (caught.verdict, &verdict))
    {
      ToTake to_take = { g_steal_pointer (&deal), verdict };
      g_array_append_val (verdicts, to_take);
    }
  return TRUE;
}

static gboolean
confirm_within (SwCatalogue *catalogue, const gint64 *deals, gsize n, guint *booked,
                GPtrArray *remarks, GError **error)
{
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  g_autoptr (GArray) verdicts = g_array_new (FALSE, FALSE, sizeof (ToTake));
  g_array_set_clear_func (verdicts, clear_to_take);
  for (gsize i = 0; i < n; i++)
    if (!move_to_slip (catalogue, deals[i], slip, verdicts, booked, error))
      return FALSE;
  if (*booked == 0)
    return TRUE;
  if (!sw_slip_book (slip, _ ("Results"), NULL, error))
    return FALSE;
  for (guint i = 0; i < verdicts->len; i++)
    {
      const ToTake *to_take = &g_array_index (verdicts, ToTake, i);
      if (!take_verdict (catalogue, to_take->deal, to_take->verdict, remarks, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
confirm (SwCatalogue *catalogue, const gint64 *deals, gsize n, guint *booked, GPtrArray *remarks,
         GError **error)
{
  *booked = 0;
  if (n > 0)
    return confirm_within (catalogue, deals, n, booked, remarks, error);
  g_autoptr (GArray) all = sw_caught_list (catalogue, error);
  return all != NULL
         && confirm_within (catalogue, (const gint64 *)(void *)all->data, all->len, booked, remarks,
                            error);
}

gboolean
sw_run_confirm (SwCatalogue *catalogue, const gint64 *deals, gsize n, guint *out_booked,
                GPtrArray **out_remarks, GError **error)
{
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func (g_free);
  g_auto (SwAct) act = SW_ACT_INIT;
  guint booked = 0;
  if (!sw_act_begin (&act, catalogue, error)
      || !confirm (catalogue, deals, n, &booked, remarks, error))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (
      booked == 1 ? _ ("%u result confirmed") : _ ("%u results confirmed"), booked);
  if (!sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_booked != NULL)
    *out_booked = booked;
  if (out_remarks != NULL)
    *out_remarks = g_steal_pointer (&remarks);
  return TRUE;
}

/* --- the money of the night --- */

typedef struct
{
  SwRunTotals *totals;
  gboolean overflow;
} Adding;

static void
add_posting (const SwPosting *posting, gpointer data)
{
  Adding *adding = data;
  SwRunTotals *totals = adding->totals;
  gint64 *sum = posting->kind == SW_POSTING_FEE    ? &totals->fees.minor
                : posting->kind == SW_POSTING_OWED ? NULL
                                                   : &totals->proceeds.minor;
  if (sum != NULL && __builtin_add_overflow (*sum, posting->minor, sum))
    adding->overflow = TRUE;
}

static gboolean
add_deal (SwCatalogue *catalogue, const SwDeal *deal, Adding *adding, GError **error)
{
  adding->totals->offers++;
  adding->totals->sold += deal->result == SW_RESULT_SOLD;
  adding->totals->no_sale += deal->result == SW_RESULT_NO_SALE;
  adding->totals->open += deal->result == SW_RESULT_RUNNING;
  return sw_posting_sums (catalogue, deal->id, add_posting, adding, error);
}

static gboolean
add_deals (SwCatalogue *catalogue, SwInstant from, SwInstant until, SwRunTotals *totals,
           GError **error)
{
  Adding adding = { totals, FALSE };
  g_autoptr (GPtrArray) deals = sw_deal_list_closing (catalogue, from, until, error);
  if (deals == NULL)
    return FALSE;
  for (guint i = 0; i < deals->len; i++)
    if (!add_deal (catalogue, g_ptr_array_index (deals, i), &adding, error))
      return FALSE;
  if (adding.overflow)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The money of the night is too large to be added up."));
      return FALSE;
    }
  return sw_money_sub (totals->proceeds, totals->fees, &totals->leaves, error);
}

gboolean
sw_run_totals (SwCatalogue *catalogue, SwInstant from, SwInstant until, SwRunTotals *out_totals,
               GError **error)
{
  SwRunTotals totals = { 0 };
  guint booked = 0;
  g_autoptr (GArray) caught = sw_caught_list (catalogue, error);
  g_autoptr (GPtrArray) remarks = g_ptr_array_new_with_free_func (g_free);
  if (caught == NULL)
    return FALSE;
  /* never committed: leaving takes it back */
  g_auto (SwAct) act = SW_ACT_INIT;
  if (caught->len > 0
      && (!sw_act_begin (&act, catalogue, error)
          || !confirm (catalogue, NULL, 0, &booked, remarks, error)))
    return FALSE;
  if (!add_deals (catalogue, from, until, &totals, error))
    return FALSE;
  *out_totals = totals;
  return TRUE;
}
