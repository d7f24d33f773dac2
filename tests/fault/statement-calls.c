/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calls of core that only the window makes, run while statements fail. Those whose name begins
 * with 'bed: ' are made once before, so that there is something to be read. */
#include "statement-bed.h"

#include "core/catalogue/act.h"
#include "core/catalogue/answers.h"
#include "core/catalogue/arrivals.h"
#include "core/catalogue/buyers.h"
#include "core/catalogue/claims.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/decide-fields.h"
#include "core/catalogue/decide.h"
#include "core/catalogue/enquiries.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/ground.h"
#include "core/catalogue/items.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/like-things.h"
#include "core/catalogue/lots.h"
#include "core/catalogue/many.h"
#include "core/catalogue/near.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/open-photos.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/parts.h"
#include "core/catalogue/past-offers.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/place-figures.h"
#include "core/catalogue/places.h"
#include "core/catalogue/prices.h"
#include "core/catalogue/proposals.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/receipts.h"
#include "core/catalogue/shares.h"
#include "core/catalogue/steps.h"
#include "core/catalogue/tags.h"
#include "core/catalogue/trips.h"
#include "core/catalogue/walk-line.h"
#include "core/handout/pack.h"
#include "core/match/clock-order.h"
#include "core/match/sorting.h"
#include "core/match/strip.h"
#include "core/trade/against-scrap.h"
#include "core/trade/docket-sheet.h"
#include "core/trade/holds.h"
#include "core/trade/interest-table.h"
#include "core/trade/offer-text.h"
#include "core/trade/offering.h"
#include "core/trade/offers.h"
#include "core/trade/on-offer.h"
#include "core/trade/outlet-sheet.h"
#include "core/trade/rounds.h"
#include "core/trade/run-sheet.h"
#include "core/trade/sale-sheet.h"
#include "core/trade/sales.h"
#include "core/trade/taking-back.h"
#include "core/trade/takings.h"
#include "core/trade/unsold.h"
#include "core/trade/valued.h"
#include "core/trip/hand-overs.h"
#include "core/trip/held.h"
#include "unit/sw-test-money.h"

/* Numbers that the bed gives, in the order in which it makes them. */
enum
{
  SCALES = 3,
  VAT = 4,
  FIRST_NOTED = 8,
  BARREL = 10,
};
enum
{
  OFFER_SOLD = 1,
  OFFER_RUNS = 5,
  OFFER_RUNS_TOO = 6,
};
#define WALK_TRIP 3

static const gint64 found[] = { FIRST_NOTED, BARREL };
static const gint64 some_photos[] = { 4, 5 };
static const SwBox box = { 10, 10, 40, 30 }, other_box = { 80, 10, 20, 20 };

static SwInstant
at (SwCatalogue *catalogue, const char *text)
{
  SwInstant instant = { 0 };

  assert_true (sw_moment_parse (text, sw_catalogue_zone (catalogue), &instant, NULL, NULL));
  return instant;
}

/* A call that says TRUE where it went well. */
#define DOES(name, expression)                                                                     \
  static gboolean name (SwCatalogue *catalogue, GError **error) { return expression; }
/* A call that gives something, which is freed. */
#define GIVES(name, type, expression)                                                              \
  static gboolean name (SwCatalogue *catalogue, GError **error)                                    \
  {                                                                                                \
    g_autoptr (type) got = expression;                                                             \
    return got != NULL;                                                                            \
  }

/* ---- what the bed gets besides ---- */

static gboolean
say_price (SwCatalogue *catalogue, GError **error)
{
  const SwPriceSaid said = { .kind = "paid", .amount = sw_money (4000), .source = "a receipt" };
  return sw_price_add (catalogue, VAT, &said, NULL, error);
}

static gboolean
draw_place (SwCatalogue *catalogue, GError **error)
{
  const SwDrawn drawn = { .box = box };
  g_autoptr (SwPlace) place = sw_place_find (catalogue, "Press house", error);
  return place != NULL && sw_ground_put (catalogue, place->id, 0, &drawn, error);
}

static gboolean
enquire (SwCatalogue *catalogue, gint64 deal, const char *person, gint64 amount, GError **error)
{
  const SwEnquiry enquiry = { .deal = deal,
                              .at = sw_catalogue_now (catalogue),
                              .person = (char *)person,
                              .has_amount = TRUE,
                              .amount = sw_money (amount),
                              .remark = (char *)"" };
  return sw_enquiry_add (catalogue, &enquiry, NULL, error);
}

DOES (ask_about_offer, enquire (catalogue, OFFER_RUNS, "C. Buyer", 7000, error))
DOES (ask_about_sale, enquire (catalogue, OFFER_SOLD, "D. Buyer", 15000, error))
DOES (catch_result, sw_run_catch (catalogue, OFFER_RUNS_TOO, SW_RESULT_SOLD, sw_money (500), error))

static gboolean
fill_offer_note (SwCatalogue *catalogue, GError **error)
{
  const SwOfferNoteChange change = { .own_ref = "N-17", .title = "Crates", .text = "Ten." };
  return sw_offer_note_change (catalogue, OFFER_RUNS, &change, error);
}

DOES (claim_barrel, sw_claim_set (catalogue, BARREL, "Ada", SW_CLAIM_OPEN, error))

/* ---- the strip ---- */

GIVES (strip, SwStrip, sw_strip_read (catalogue, WALK_TRIP, error))
GIVES (strip_sum, SwStripSum, sw_strip_sum_read (catalogue, WALK_TRIP, error))
GIVES (clock_order, SwClockOrder, sw_clock_order_read (catalogue, WALK_TRIP, error))
GIVES (stops, GPtrArray, sw_proposal_list (catalogue, WALK_TRIP, error))
GIVES (moments, GPtrArray, sw_photo_moments (catalogue, WALK_TRIP, error))
GIVES (walk_line, GArray, sw_walk_line (catalogue, WALK_TRIP, error))
DOES (accept, sw_sorting_accept (catalogue, WALK_TRIP, 1, NULL, error))
DOES (accept_doubtful, sw_sorting_accept_band (catalogue, WALK_TRIP, SW_BAND_DOUBTFUL, NULL, error))
DOES (cut, sw_sorting_cut (catalogue, WALK_TRIP, 5, error))
DOES (join, sw_sorting_join (catalogue, WALK_TRIP, 4, error))
DOES (set_apart, sw_sorting_set_apart (catalogue, WALK_TRIP, some_photos, 2, error))
DOES (move_photos, sw_sorting_move (catalogue, WALK_TRIP, some_photos, 2, 7, error))
DOES (give, sw_sorting_give (catalogue, WALK_TRIP, VAT, some_photos, 2, error))
DOES (give_another, sw_sorting_give_another (catalogue, WALK_TRIP, BARREL, some_photos, 2, error))
DOES (give_new, sw_sorting_give_new (catalogue, WALK_TRIP, "Ladle", 0, some_photos, 2, NULL, error))
DOES (no_item, sw_sorting_no_item (catalogue, WALK_TRIP, "building", some_photos, 2, error))
DOES (receipt,
      sw_sorting_receipt (catalogue, WALK_TRIP, some_photos, 1, sw_money (1250), "diesel", error))

/* ---- items ---- */

DOES (split, sw_item_split (catalogue, BARREL, 1, NULL, error))
GIVES (item_photos, GArray, sw_item_photos (catalogue, FIRST_NOTED, error))
GIVES (open_photos, GPtrArray, sw_open_photos_near (catalogue, FIRST_NOTED, 9, error))
GIVES (like_things, GPtrArray, sw_like_things (catalogue, BARREL, 5, error))
GIVES (prices, GPtrArray, sw_price_list (catalogue, VAT, error))
GIVES (facts, GPtrArray, sw_fact_list (catalogue, VAT, error))
GIVES (claims, GPtrArray, sw_claim_list (catalogue, BARREL, error))
GIVES (clashes, GArray, sw_claim_clashes (catalogue, error))
GIVES (questions, GPtrArray, sw_question_open (catalogue, NULL, error))
GIVES (jobs, GPtrArray, sw_job_list (catalogue, VAT, error))
GIVES (events, GPtrArray, sw_events_of (catalogue, SW_SUBJECT_ITEM, VAT, error))
GIVES (all_events, GPtrArray, sw_event_list (catalogue, error))
GIVES (people, GPtrArray, sw_people (catalogue, error))
GIVES (summaries, GArray, sw_place_summaries (catalogue, error))
DOES (fact_set, sw_fact_set (catalogue, VAT, "condition", "sound", "seen", NULL, error))
DOES (fact_withdraw, sw_fact_withdraw (catalogue, 1, error))
DOES (answer, sw_question_answer_by (catalogue, 1, "Ada's", "Ada", error))
DOES (asked, sw_question_set_asked (catalogue, 1, TRUE, error))
DOES (withdraw_question, sw_question_withdraw (catalogue, 1, error))
DOES (job_done, sw_job_set_done (catalogue, 1, TRUE, error))
DOES (withdraw_job, sw_job_withdraw (catalogue, 1, error))
DOES (withdraw_price, sw_price_withdraw (catalogue, 1, error))
DOES (join_items, sw_item_join (catalogue, FIRST_NOTED, FIRST_NOTED + 1, error))
DOES (make_lot, sw_lot_make (catalogue, "Both", found, 2, NULL, error))
static gboolean
pack_lot (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwPack) pack = NULL;

  if (!sw_act_begin (&act, catalogue, error)
      || !sw_lot_make (catalogue, "Both", found, 2, NULL, error))
    return FALSE;
  pack = sw_pack_of_item (catalogue, BARREL, error);
  return pack != NULL;
}

DOES (ask_many, sw_items_ask (catalogue, found, 2, "whose", "Ada", NULL, error))
DOES (job_many, sw_items_job (catalogue, found, 2, "clean", NULL, "brush", 1, error))
DOES (assign_also, sw_item_assign (catalogue, VAT, some_photos, 2, TRUE, error))
DOES (unassign, sw_item_unassign (catalogue, some_photos, 2, error))
DOES (remove_buyer, sw_buyer_remove (catalogue, "B. Buyer", error))
GIVES (buyer_names, GPtrArray, sw_buyer_names (catalogue, error))

static gboolean
edit_price (SwCatalogue *catalogue, GError **error)
{
  const SwPriceSaid said = { .kind = "guessed", .amount = sw_money (5000), .remark = "roughly" };
  return sw_price_edit (catalogue, 1, &said, error);
}

static gboolean
reprice (SwCatalogue *catalogue, GError **error)
{
  const SwPriceRule rule = { .percent_x100 = -1000, .step = sw_money (50) };
  return sw_items_reprice (catalogue, found, 2, &rule, NULL, error);
}

static gboolean
change_many (SwCatalogue *catalogue, GError **error)
{
  const SwWaits later = SW_WAITS_LATER;
  const SwItemChange change = { .waits = &later };
  return sw_items_change (catalogue, found, 2, &change, error);
}

static gboolean
break_up (SwCatalogue *catalogue, GError **error)
{
  static const SwPart parts[] = { { "Hoops", 4 }, { "Staves", 40 } };
  return sw_item_break_up (catalogue, BARREL, parts, 2, NULL, error);
}

static gboolean
split_photos (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;

  return sw_act_begin (&act, catalogue, error)
         && sw_item_assign (catalogue, VAT, some_photos, 2, FALSE, error)
         && sw_item_split_photos (catalogue, VAT, some_photos, 1, 0, NULL, error)
         && sw_act_commit (&act, "Split", error);
}

static gboolean
list_items (SwCatalogue *catalogue, GError **error)
{
  const SwMoney least = sw_money (1);
  const SwItemFilter filter = { .search = "ba", .asking_least = &least };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);
  return items != NULL;
}

/* ---- the deciding round ---- */

GIVES (round_by_place, SwDecideRound, sw_decide_read (catalogue, 0, 0, SW_DECIDE_BY_PLACE, error))
GIVES (round_by_worth, SwDecideRound, sw_decide_read (catalogue, 0, 0, SW_DECIDE_BY_WORTH, error))
GIVES (round_by_due, SwDecideRound, sw_decide_read (catalogue, 0, 0, SW_DECIDE_BY_DUE, error))
DOES (repeat, sw_decide_repeat (catalogue, BARREL, VAT, ~0u, NULL, error))

static gboolean
read_fields (SwCatalogue *catalogue, GError **error)
{
  for (int field = 0; field < SW_N_DECIDE_FIELDS; field++)
    {
      g_auto (SwDecideValue) value = { 0 };
      if (!sw_decide_value_get (catalogue, VAT, (SwDecideField)field, &value, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
set_field (SwCatalogue *catalogue, SwDecideField field, const char *text, gint64 number,
           GError **error)
{
  const SwDecideValue value = {
    .has = TRUE, .number = number, .text = (char *)text, .source = (char *)"seen", .by_whom = NULL
  };
  g_auto (SwDecideValue) was = { 0 };

  return sw_decide_value_get (catalogue, BARREL, field, &was, error)
         && sw_decide_set (catalogue, BARREL, field, &value, &was, error);
}

DOES (field_name, set_field (catalogue, SW_DECIDE_NAME, "Cask", 0, error))
DOES (field_count, set_field (catalogue, SW_DECIDE_COUNT, NULL, 3, error))
DOES (field_condition, set_field (catalogue, SW_DECIDE_CONDITION, "sound", 0, error))
DOES (field_wrong, set_field (catalogue, SW_DECIDE_WRONG, "no bung", 0, error))
DOES (field_lifted, set_field (catalogue, SW_DECIDE_LIFTED, NULL, SW_SIZE_TWO_PEOPLE, error))
DOES (field_rides, set_field (catalogue, SW_DECIDE_RIDES, NULL, SW_STOWS_FLOOR, error))
DOES (field_danger, set_field (catalogue, SW_DECIDE_DANGER, "heavy lift", 0, error))
DOES (field_ask, set_field (catalogue, SW_DECIDE_ASK, "Bert", 0, error))
DOES (field_price, set_field (catalogue, SW_DECIDE_PRICE, NULL, 7000, error))
DOES (field_job, set_field (catalogue, SW_DECIDE_JOB, "clean", 0, error))

/* ---- the ground ---- */

static gboolean
draw (SwCatalogue *catalogue, GError **error)
{
  const SwDrawn drawn = { .box = other_box };
  return sw_ground_draw (catalogue, "Glasshouse", 0, &drawn, NULL, error);
}

/* The walk's first place, and one that nothing speaks of. */
static gint64
place_of (SwCatalogue *catalogue, const char *path, GError **error)
{
  g_autoptr (SwPlace) place = sw_place_find (catalogue, path, error);
  return place != NULL ? place->id : 0;
}

static gboolean
with_place (SwCatalogue *catalogue, const char *path, GError **error,
            gboolean (*does) (SwCatalogue *catalogue, gint64 place, GError **error))
{
  gint64 place = place_of (catalogue, path, error);
  return place != 0 && does (catalogue, place, error);
}

static gboolean
set_length (SwCatalogue *catalogue, gint64 place, GError **error)
{
  return sw_ground_set_length (catalogue, place, &box, 24000, error);
}

static gboolean
set_walked (SwCatalogue *catalogue, gint64 place, GError **error)
{
  return sw_ground_set_walked (catalogue, place, TRUE, error);
}

static gboolean
shift_walk (SwCatalogue *catalogue, gint64 place, GError **error)
{
  return sw_ground_shift_walk (catalogue, place, -1, error);
}

static gboolean
set_off (SwCatalogue *catalogue, gint64 place, GError **error)
{
  return sw_ground_set_off_property (catalogue, place, TRUE, error);
}

static gboolean
rename_place (SwCatalogue *catalogue, gint64 place, GError **error)
{
  return sw_place_rename (catalogue, place, "Grading shed", error);
}

static gboolean
move_place (SwCatalogue *catalogue, gint64 place, GError **error)
{
  gint64 parent = place_of (catalogue, "Press house", error);
  return parent != 0 && sw_place_move (catalogue, place, parent, error);
}

DOES (ground_length, with_place (catalogue, "Press house", error, set_length))
DOES (ground_walked, with_place (catalogue, "Packing shed", error, set_walked))
DOES (ground_shift, with_place (catalogue, "Packing shed", error, shift_walk))
DOES (ground_off, with_place (catalogue, "Cooperage", error, set_off))
DOES (ground_remove, with_place (catalogue, "Home", error, sw_ground_remove))
DOES (ground_rename, with_place (catalogue, "Packing shed", error, rename_place))
DOES (ground_move, with_place (catalogue, "Packing shed", error, move_place))
GIVES (places, GPtrArray, sw_place_list (catalogue, error))

/* ---- offers and the night ---- */

static const SwOffering both
    = { .items = found, .n = 2, .outlet = "Board", .up = { 20628 }, .round = "June" };

DOES (put_up, sw_offering_make_in (catalogue, &both, "Hill Road", error))

static gboolean
put_up_lot (SwCatalogue *catalogue, GError **error)
{
  SwInstant closes = at (catalogue, "2026-07-10T20:00");
  SwOffering lot = both;

  lot.as_lot = TRUE;
  lot.closes = &closes;
  return sw_offering_make (catalogue, &lot, NULL, error);
}

DOES (withdraw, sw_offer_withdraw (catalogue, OFFER_RUNS, sw_test_day ("2026-06-24"), error))
DOES (set_price, sw_offer_set_price (catalogue, OFFER_RUNS, sw_money (6000), error))
DOES (hold_for, sw_enquiry_hold (catalogue, 1, sw_test_day ("2026-07-02"), error))
DOES (no_show, sw_enquiry_no_show (catalogue, 1, error))
DOES (to_next, sw_sale_to_next (catalogue, OFFER_SOLD, "D. Buyer", sw_money (15000),
                                at (catalogue, "2026-06-24T10:00"), NULL, error))
DOES (payment_told, sw_payment_tell (catalogue, OFFER_SOLD, "bank", "Ada", error))
GIVES (offers, GPtrArray, sw_offer_list (catalogue, error))
GIVES (sales, GPtrArray, sw_sale_list (catalogue, error))
GIVES (sale_sheet, SwSaleSheet, sw_sale_sheet (catalogue, OFFER_SOLD, error))
GIVES (outlet_sheets, GPtrArray, sw_outlet_sheets (catalogue, sw_test_day ("2026-06-25"), error))
GIVES (docket_sheets, GPtrArray, sw_docket_sheets (catalogue, error))
GIVES (unsold, GPtrArray, sw_unsold_list (catalogue, error))
DOES (unsold_scrap, sw_unsold_decide (catalogue, SCALES, SW_VERDICT_FOR_SCRAP, error))
GIVES (by_trip, GArray, sw_on_offer_by_trip (catalogue, error))
GIVES (night, GPtrArray,
       sw_run_sheet (catalogue, at (catalogue, "2026-06-28T12:00"),
                     at (catalogue, "2026-06-29T12:00"), error))
GIVES (running, GPtrArray, sw_run_running (catalogue, error))
DOES (catch_more, sw_run_catch (catalogue, OFFER_RUNS, SW_RESULT_SOLD, sw_money (9000), error))
DOES (verdict, sw_run_verdict (catalogue, OFFER_RUNS, SW_VERDICT_BRING_HOME, error))
DOES (take_back, sw_run_take_back (catalogue, OFFER_RUNS_TOO, error))
DOES (confirm, sw_run_confirm (catalogue, NULL, 0, NULL, NULL, error))
GIVES (hand_overs, GPtrArray, sw_hand_over_list (catalogue, sw_test_day ("2026-07-01"), error))
GIVES (held_things, GPtrArray, sw_held_list (catalogue, error))
GIVES (rounds, GPtrArray, sw_round_sums (catalogue, error))
GIVES (entries, GPtrArray, sw_takings_entries (catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, "1", error))

static gboolean
night_totals (SwCatalogue *catalogue, GError **error)
{
  SwRunTotals totals;
  return sw_run_totals (catalogue, at (catalogue, "2026-06-28T12:00"),
                        at (catalogue, "2026-06-29T12:00"), &totals, error);
}

static gboolean
next_night (SwCatalogue *catalogue, GError **error)
{
  gboolean is_there = FALSE;
  SwInstant from, until;
  SwRunNight earlier;
  return sw_run_next_night (catalogue, sw_catalogue_now (catalogue), &is_there, &from, &until,
                            error)
         && sw_run_earlier_night (catalogue, until, &is_there, &earlier, error);
}

static gboolean
offer_text (SwCatalogue *catalogue, GError **error)
{
  g_autofree char *title = NULL, *text = NULL;
  return sw_offer_text_compose (catalogue, OFFER_RUNS, &title, &text, error);
}

static gboolean
interest (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) rows = sw_interest_table_read (
      catalogue, "reference\tlooks\tfollowers\tbids\tprice\nN-17\t12\t3\t1\t60.00\n",
      (SwNumberStyle){ ".", "" }, NULL, error);
  const SwDealInterest taken
      = { .deal = OFFER_RUNS, .interest = { .at = sw_catalogue_now (catalogue), .looks = 12 } };

  return rows != NULL && sw_interest_take (catalogue, &taken, 1, error);
}

static gboolean
move_by_hand (SwCatalogue *catalogue, GError **error)
{
  return sw_items_step_by_hand (catalogue, found, 2, SW_STATE_KEPT, error);
}

#define ROW(call)                                                                                  \
  {                                                                                                \
#call, call, NULL, FALSE                                                                       \
  }

const StatementJob statement_calls[] = {
  { "bed: price", say_price, NULL, FALSE },
  { "bed: box", draw_place, NULL, FALSE },
  { "bed: enquiry", ask_about_offer, NULL, FALSE },
  { "bed: next best", ask_about_sale, NULL, FALSE },
  { "bed: caught", catch_result, NULL, FALSE },
  { "bed: note", fill_offer_note, NULL, FALSE },
  ROW (claim_barrel),
  ROW (strip),
  ROW (strip_sum),
  ROW (clock_order),
  ROW (stops),
  ROW (moments),
  ROW (walk_line),
  ROW (accept),
  ROW (accept_doubtful),
  ROW (cut),
  ROW (join),
  ROW (set_apart),
  ROW (move_photos),
  ROW (give),
  ROW (give_another),
  ROW (give_new),
  ROW (no_item),
  ROW (receipt),
  ROW (split),
  ROW (item_photos),
  ROW (open_photos),
  ROW (like_things),
  ROW (prices),
  ROW (facts),
  ROW (claims),
  ROW (clashes),
  ROW (questions),
  ROW (jobs),
  ROW (events),
  ROW (all_events),
  ROW (people),
  ROW (summaries),
  ROW (fact_set),
  ROW (fact_withdraw),
  ROW (answer),
  ROW (asked),
  ROW (withdraw_question),
  ROW (job_done),
  ROW (withdraw_job),
  ROW (withdraw_price),
  ROW (join_items),
  ROW (make_lot),
  ROW (pack_lot),
  ROW (ask_many),
  ROW (job_many),
  ROW (assign_also),
  ROW (unassign),
  ROW (remove_buyer),
  ROW (buyer_names),
  ROW (edit_price),
  ROW (reprice),
  ROW (change_many),
  ROW (break_up),
  ROW (split_photos),
  ROW (list_items),
  ROW (round_by_place),
  ROW (round_by_worth),
  ROW (round_by_due),
  ROW (repeat),
  ROW (read_fields),
  ROW (field_name),
  ROW (field_count),
  ROW (field_condition),
  ROW (field_wrong),
  ROW (field_lifted),
  ROW (field_rides),
  ROW (field_danger),
  ROW (field_ask),
  ROW (field_price),
  ROW (field_job),
  ROW (draw),
  ROW (ground_length),
  ROW (ground_walked),
  ROW (ground_shift),
  ROW (ground_off),
  ROW (ground_remove),
  ROW (ground_rename),
  ROW (ground_move),
  ROW (places),
  ROW (put_up),
  ROW (put_up_lot),
  ROW (withdraw),
  ROW (set_price),
  ROW (hold_for),
  ROW (no_show),
  ROW (to_next),
  ROW (payment_told),
  ROW (offers),
  ROW (sales),
  ROW (sale_sheet),
  ROW (outlet_sheets),
  ROW (docket_sheets),
  ROW (unsold),
  ROW (unsold_scrap),
  ROW (by_trip),
  ROW (night),
  ROW (running),
  ROW (catch_more),
  ROW (verdict),
  ROW (take_back),
  ROW (confirm),
  ROW (hand_overs),
  ROW (held_things),
  ROW (rounds),
  ROW (entries),
  ROW (night_totals),
  ROW (next_night),
  ROW (offer_text),
  ROW (interest),
  ROW (move_by_hand),
  { 0 },
};
