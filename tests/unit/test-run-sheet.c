/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making offers, the closing night, verdicts and the confirmation. Amounts are worked by hand. */
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/offering.h"
#include "core/trade/offers.h"
#include "core/trade/run-sheet.h"
#include "core/trade/taking-back.h"
#include "sw-test-money.h"

static SwInstant
at (SwTestBed *bed, const char *text)
{
  g_autoptr (GError) error = NULL;
  SwInstant instant = { 0 };
  assert_true (sw_moment_parse (text, sw_catalogue_zone (bed->catalogue), &instant, NULL, &error));
  return instant;
}

/* Offers of these items at Hill Road, closing from 20:00 on a minute apart. */
static GArray *
put_up (SwTestBed *bed, const gint64 *items, gsize n, gboolean as_lot)
{
  g_autoptr (GError) error = NULL;
  GArray *deals = NULL;
  SwInstant closes = at (bed, "2026-04-26T20:00");
  const SwOffering offering = { .items = items,
                                .n = n,
                                .as_lot = as_lot,
                                .outlet = "Hill Road",
                                .up = sw_test_day ("2026-04-14"),
                                .closes = &closes,
                                .step_s = 60,
                                .round = "April" };
  sw_offering_make (bed->catalogue, &offering, &deals, &error);
  assert_no_error (error);
  return deals;
}

static GPtrArray *
night (SwTestBed *bed)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *rows = sw_run_sheet (bed->catalogue, at (bed, "2026-04-26T12:00"),
                                  at (bed, "2026-04-27T12:00"), &error);
  assert_no_error (error);
  return rows;
}

static SwRunTotals
totals (SwTestBed *bed)
{
  g_autoptr (GError) error = NULL;
  SwRunTotals made = { 0 };
  sw_run_totals (bed->catalogue, at (bed, "2026-04-26T12:00"), at (bed, "2026-04-27T12:00"), &made,
                 &error);
  assert_no_error (error);
  return made;
}

static gint64
deal_at (const GArray *deals, guint i)
{
  return g_array_index (deals, gint64, i);
}

static void catch (SwTestBed *bed, gint64 deal, gint64 amount)
{
  g_autoptr (GError) error = NULL;
  sw_run_catch (bed->catalogue, deal, amount < 0 ? SW_RESULT_NO_SALE : SW_RESULT_SOLD,
                sw_money (MAX (amount, 0)), &error);
  assert_no_error (error);
}

static void
assert_item (SwTestBed *bed, gint64 number, const char *expected)
{
  g_autofree char *item = sw_test_item (bed->catalogue, number);
  assert_string_equal (item, expected);
}

static const gint64 three[] = { 1, 2, 5 };

static void
test_put_up (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 3, FALSE);
  assert_int_equal (deals->len, 3);
  g_autoptr (GPtrArray) rows = night (&bed);
  assert_int_equal (rows->len, 3);
  for (guint i = 0; i < 3; i++)
    {
      const SwRunRow *row = g_ptr_array_index (rows, i);
      assert_i64_equal (row->deal, deal_at (deals, i));
      assert_i64_equal (row->closes.us,
                        at (&bed, "2026-04-26T20:00").us + (gint64)i * 60 * SW_US_PER_SECOND);
      assert_true (row->has_start && row->has_hoped);
    }
  const SwRunRow *press = g_ptr_array_index (rows, 0);
  assert_string_equal (press->items, "Screw press");
  assert_money_equal (press->start, 30000);
  assert_item (&bed, 1, "1 On offer x1 30000");
  /* one act for all three */
  g_autoptr (GError) error = NULL;
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_item (&bed, 1, "1 Found x1 30000");
  assert_item (&bed, 5, "5 Found x1 5000");
}

/* The same items through several outlets at once, as one act; a name that is no outlet leaves
 * nothing behind. */
static void
test_several_outlets (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;
  const SwOffering offering
      = { .items = three, .n = 2, .outlet = "Hill Road", .up = sw_test_day ("2026-04-14") };
  sw_test_book (bed.catalogue,
                HILL "outlet|outlet=Board|kind=priced ad\noutlet|outlet=Yard window\n", NULL);
  assert_false (sw_offering_make_in (bed.catalogue, &offering, "Board, Bord", &error));
  assert_contains (error->message, "Bord");
  g_clear_error (&error);
  assert_item (&bed, 1, "1 Found x1 30000");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM deal"), 0);

  assert_true (sw_offering_make_in (bed.catalogue, &offering, " Board ,,Yard window,", &error));
  assert_no_error (error);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM deal"), 6);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM deal d JOIN outlet o ON"
                                                " o.id = d.outlet WHERE o.name = 'Board'"),
                    2);
  assert_item (&bed, 2, "2 On offer x10 10000");
  assert_true (sw_undo (bed.catalogue, &sentence, &error));
  assert_string_equal (sentence, "Put up through Hill Road and Board, Yard window");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM deal"), 0);
  assert_item (&bed, 2, "2 Found x10 10000");
}

/* Put up again, an offer has the words that were written for it before; another lot has none. */
static void
test_repeated (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  static const SwOfferNoteChange words
      = { .own_ref = "HR-7", .title = "Old press", .text = "As found.", .extra = "its stand" };
  static const gint64 two[] = { 1, 5 };
  sw_test_book (bed.catalogue, HILL "outlet|outlet=Board|kind=priced ad\n", NULL);
  g_autoptr (GArray) first = put_up (&bed, three, 1, FALSE);
  assert_true (sw_offer_note_change (bed.catalogue, deal_at (first, 0), &words, &error));
  sw_test_book (bed.catalogue, "result|ref=A1|at=2026-04-26|result=no sale\n", NULL);

  SwOffering offering
      = { .items = three, .n = 1, .outlet = "Board", .up = sw_test_day ("2026-05-03") };
  GArray *again = NULL;
  assert_true (sw_offering_make (bed.catalogue, &offering, &again, &error));
  g_autoptr (SwOfferNote) note = sw_offer_note_get (bed.catalogue, deal_at (again, 0), &error);
  assert_string_equal (note->title, "Old press");
  assert_string_equal (note->text, "As found.");
  assert_string_equal (note->extra, "its stand");
  assert_null (note->own_ref); /* the other outlet's */
  assert_i64_equal (note->round, 0);
  g_array_unref (again);

  offering = (SwOffering){
    .items = two, .n = 2, .as_lot = TRUE, .outlet = "Hill Road", .up = sw_test_day ("2026-05-03")
  };
  assert_true (sw_offering_make (bed.catalogue, &offering, &again, &error));
  g_autoptr (SwOfferNote) lot = sw_offer_note_get (bed.catalogue, deal_at (again, 0), &error);
  assert_string_equal (lot->title, "");
  assert_string_equal (lot->extra, "");
  g_array_unref (again);

  /* what is said now counts */
  offering = (SwOffering){ .items = three,
                           .n = 1,
                           .outlet = "Hill Road",
                           .up = sw_test_day ("2026-05-04"),
                           .extra = "a spare belt" };
  assert_true (sw_offering_make (bed.catalogue, &offering, &again, &error));
  g_autoptr (SwOfferNote) third = sw_offer_note_get (bed.catalogue, deal_at (again, 0), &error);
  assert_string_equal (third->title, "Old press");
  assert_string_equal (third->extra, "a spare belt");
  g_array_unref (again);
}

static void
test_lot (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 3, TRUE);
  assert_int_equal (deals->len, 1);
  g_autoptr (GPtrArray) rows = night (&bed);
  const SwRunRow *lot = g_ptr_array_index (rows, 0);
  assert_string_equal (lot->items, "Screw press + Crates + Ladder");
  assert_money_equal (lot->asking, 45000);
  assert_false (lot->has_mass); /* the ladder has none */
}

static void
test_claim_blocks (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  SwClaim mine = SW_CLAIM_MINE;
  SwItemChange claim = { .claim = &mine, .claim_by = "Aunt" };
  sw_test_book (bed.catalogue, HILL, NULL);
  assert_true (sw_item_change (bed.catalogue, 5, &claim, &error));
  const SwOffering offering
      = { .items = three, .n = 3, .outlet = "Hill Road", .up = sw_test_day ("2026-04-14") };
  assert_false (sw_offering_make (bed.catalogue, &offering, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_item (&bed, 1, "1 Found x1 30000"); /* all or nothing */
}

/* No row can be booked that makes the money too large, but a catalogue may come from elsewhere. */
static void
test_more_than_can_be_added_up (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  SwRunTotals made = { 0 };
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 2, FALSE);
  catch (&bed, deal_at (deals, 0), 18000);
  catch (&bed, deal_at (deals, 1), 12000);
  assert_true (sw_run_confirm (bed.catalogue, NULL, 0, NULL, NULL, &error));
  sw_test_exec (bed.catalogue, "UPDATE posting SET minor = 5000000000000000000 WHERE minor > 0");
  assert_false (sw_run_totals (bed.catalogue, at (&bed, "2026-04-26T12:00"),
                               at (&bed, "2026-04-27T12:00"), &made, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_non_null (strstr (error->message, "too large"));
}

/* Caught results move nothing, count in the totals, and are booked by the confirmation alone. */
static void
test_night (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 3, FALSE);
  catch (&bed, deal_at (deals, 0), 18000);
  catch (&bed, deal_at (deals, 0), 20000); /* it rose again in the last seconds */
  catch (&bed, deal_at (deals, 1), -1);
  assert_item (&bed, 1, "1 On offer x1 30000");
  SwRunTotals before = totals (&bed);
  assert_int_equal (before.offers, 3);
  assert_int_equal (before.sold, 1);
  assert_int_equal (before.no_sale, 1);
  assert_int_equal (before.open, 1);
  /* 2.30 + 10.00 + 5.00 and, unsold, 2.30 */
  assert_money_equal (before.proceeds, 20000);
  assert_money_equal (before.fees, 230 + 1000 + 500 + 230);
  assert_money_equal (before.leaves, 20000 - 1960);
  /* asking for totals books nothing */
  assert_item (&bed, 1, "1 On offer x1 30000");
  assert_true (sw_run_verdict (bed.catalogue, deal_at (deals, 2), SW_VERDICT_FOR_SCRAP, &error));
  guint booked = 0;
  assert_true (sw_run_confirm (bed.catalogue, NULL, 0, &booked, NULL, &error));
  assert_int_equal (booked, 3);
  assert_item (&bed, 1, "1 Sold x1 30000");
  assert_item (&bed, 2, "2 No sale x10 10000");
  assert_item (&bed, 5, "5 For scrap x1 5000");
  SwRunTotals after = totals (&bed);
  assert_money_equal (after.proceeds, before.proceeds.minor);
  assert_money_equal (after.fees, before.fees.minor + 230);
  /* undone as one, redone as one */
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_item (&bed, 1, "1 On offer x1 30000");
  g_autoptr (GPtrArray) rows = night (&bed);
  assert_true (((SwRunRow *)g_ptr_array_index (rows, 0))->has_caught);
  assert_true (sw_redo (bed.catalogue, NULL, &error));
  assert_item (&bed, 5, "5 For scrap x1 5000");
  /* confirming again finds nothing */
  assert_true (sw_run_confirm (bed.catalogue, NULL, 0, &booked, NULL, &error));
  assert_int_equal (booked, 0);
}

static void
test_take_back (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 1, FALSE);
  catch (&bed, deal_at (deals, 0), 18000);
  /* sold, so no verdict */
  assert_false (sw_run_verdict (bed.catalogue, deal_at (deals, 0), SW_VERDICT_KEEP, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_true (sw_run_take_back (bed.catalogue, deal_at (deals, 0), &error));
  assert_true (sw_run_take_back (bed.catalogue, deal_at (deals, 0), &error));
  assert_int_equal (totals (&bed).open, 1);
  catch (&bed, deal_at (deals, 0), 18000);
  assert_true (sw_run_confirm (bed.catalogue, NULL, 0, NULL, NULL, &error));
  assert_false (sw_run_take_back (bed.catalogue, deal_at (deals, 0), &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (
      sw_run_catch (bed.catalogue, deal_at (deals, 0), SW_RESULT_SOLD, sw_money (1), &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_run_catch (bed.catalogue, 99, SW_RESULT_SOLD, sw_money (1), &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_false (
      sw_run_catch (bed.catalogue, deal_at (deals, 0), SW_RESULT_SOLD, sw_money (-1), &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

typedef struct
{
  const char *label;
  SwVerdict verdict;
  const char *item;
} VerdictCase;

static const VerdictCase verdict_cases[] = {
  { "again", SW_VERDICT_AGAIN, "1 Ready x1 30000" },
  { "elsewhere", SW_VERDICT_ELSEWHERE, "1 Ready x1 30000" },
  { "bring home", SW_VERDICT_BRING_HOME, "1 Bring home x1 30000" },
  { "for scrap", SW_VERDICT_FOR_SCRAP, "1 For scrap x1 30000" },
  { "break up", SW_VERDICT_BREAK_UP, "1 Broken up x1 30000" },
  { "keep", SW_VERDICT_KEEP, "1 Kept x1 30000" },
  { "give away", SW_VERDICT_GIVE_AWAY, "1 Given away x1 30000" },
  { "later", SW_VERDICT_LATER, "1 No sale x1 30000" },
};

/* One key says no sale and what becomes of it; or the no sale first, the verdict days later. */
static void
test_verdict (void **state)
{
  const VerdictCase *row = *state;
  for (int late = 0; late < 2; late++)
    {
      g_auto (SwTestBed) bed = sw_test_property_new ();
      g_autoptr (GError) error = NULL;
      sw_test_book (bed.catalogue, HILL, NULL);
      g_autoptr (GArray) deals = put_up (&bed, three, 1, FALSE);
      if (late == 0)
        assert_true (sw_run_verdict (bed.catalogue, deal_at (deals, 0), row->verdict, &error));
      else
        catch (&bed, deal_at (deals, 0), -1);
      assert_true (sw_run_confirm (bed.catalogue, NULL, 0, NULL, NULL, &error));
      if (late == 1)
        assert_true (sw_run_verdict (bed.catalogue, deal_at (deals, 0), row->verdict, &error));
      assert_item (&bed, 1, row->item);
      g_autoptr (SwItem) item = sw_item_get (bed.catalogue, 1, &error);
      if (row->verdict == SW_VERDICT_AGAIN)
        assert_string_equal (item->outlet_name, "Hill Road");
      if (row->verdict == SW_VERDICT_ELSEWHERE)
        assert_i64_equal (item->outlet, 0);
    }
}

/* No price is asked for the vat, so it cannot be ready again: it stays a no sale, and the rest of
 * the night is confirmed. */
static void
test_refused_verdict (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (
      bed.catalogue,
      HILL "offer|ref=V|outlet=Hill Road|item=Vat|up=2026-04-14|closes=2026-04-26T20:10\n", NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 1, FALSE);
  g_autoptr (SwDeal) vat = NULL;
  assert_true (sw_deal_find (bed.catalogue, "V", &vat, &error));
  catch (&bed, deal_at (deals, 0), 20000);
  assert_true (sw_run_verdict (bed.catalogue, vat->id, SW_VERDICT_AGAIN, &error));
  guint booked = 0;
  g_autoptr (GPtrArray) remarks = NULL;
  assert_true (sw_run_confirm (bed.catalogue, NULL, 0, &booked, &remarks, &error));
  assert_int_equal (booked, 2);
  assert_int_equal (remarks->len, 1);
  assert_contains (g_ptr_array_index (remarks, 0), "price");
  assert_item (&bed, 4, "4 No sale x1 -1");
  assert_item (&bed, 1, "1 Sold x1 30000");
}

typedef struct
{
  const char *label;
  gint64 rate;
  SwFloorVerdict against;
} FloorCase;

/* A fact of the trade (common practice, no source): twelve castings of 40 kg make 480 kg, and 90
 * asked for all lies under the floor where the yard pays more than 187.50 a tonne. */
static const FloorCase floor_cases[] = {
  { "at 187.50 a tonne", 18750, SW_FLOOR_ABOVE },
  { "at 187.52 a tonne", 18752, SW_FLOOR_BELOW },
  { "at 250.00 a tonne", 25000, SW_FLOOR_BELOW },
  { "at 100.00 a tonne", 10000, SW_FLOOR_ABOVE },
};

static void
test_castings (void **state)
{
  const FloorCase *row = *state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL YARD, NULL);
  SwMoney asking = sw_money (9000);
  g_autoptr (SwItem) press = sw_item_get (bed.catalogue, 1, &error);
  SwItemNew castings
      = { .name = "Castings", .place = press->place, .count = 12, .asking = &asking };
  gint64 number = 0;
  assert_true (sw_item_add (bed.catalogue, &castings, &number, &error));
  SwMass mass = { 12 * 40 * SW_UG_PER_KG };
  SwItemChange change = { .mass = &mass, .scrap_class = "cast iron" };
  assert_true (sw_item_change (bed.catalogue, number, &change, &error));
  g_autoptr (SwOutlet) yard = NULL;
  assert_true (sw_outlet_find (bed.catalogue, "Yard", &yard, &error));
  assert_true (sw_yard_rate_set (bed.catalogue, yard->id, "cast iron", sw_test_day ("2026-01-01"),
                                 sw_money (row->rate), &error));
  g_autoptr (GArray) deals = put_up (&bed, &number, 1, FALSE);
  g_autoptr (GPtrArray) rows = night (&bed);
  const SwRunRow *shown = g_ptr_array_index (rows, 0);
  assert_i64_equal (shown->mass.ug, 480 * SW_UG_PER_KG);
  assert_true (shown->has_floor);
  assert_int_equal (shown->against_floor, row->against);
}

/* Bids grow in number with the price standing still: a fact of the trade (common practice). */
static void
test_interest (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue,
                HILL PRESS_UP "interest|ref=A1|at=2026-04-26T19:58|bids=3|amount=150.00\n"
                              "interest|ref=A1|at=2026-04-26T19:59|bids=5|amount=150.00\n",
                NULL);
  g_autoptr (GPtrArray) rows = night (&bed);
  const SwRunRow *press = g_ptr_array_index (rows, 0);
  assert_int_equal (press->interest.bids, 5);
  assert_money_equal (press->interest.amount, 15000);
}

static void
test_next_night (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  gboolean found = TRUE;
  SwInstant from, until;
  SwInstant now = at (&bed, "2026-04-20T09:00");
  assert_true (sw_run_next_night (bed.catalogue, now, &found, &from, &until, &error));
  assert_false (found);
  /* around the close, over midnight, and the day after while results are missing */
  sw_test_book (bed.catalogue,
                HILL PRESS_UP "offer|ref=L|outlet=Hill Road|item=Ladder|up=2026-04-14|"
                              "closes=2026-04-27T00:30\n",
                NULL);
  static const char *const moments[]
      = { "2026-04-20T09:00", "2026-04-26T21:00", "2026-04-27T00:45", "2026-05-02T09:00" };
  for (gsize i = 0; i < G_N_ELEMENTS (moments); i++)
    {
      now = at (&bed, moments[i]);
      assert_true (sw_run_next_night (bed.catalogue, now, &found, &from, &until, &error));
      assert_true (found);
      assert_i64_equal (from.us, at (&bed, "2026-04-26T12:00").us);
      assert_i64_equal (until.us, at (&bed, "2026-04-27T12:00").us);
    }
}

/* A night that passed without results is found from the later one that is shown instead. */
static void
test_earlier_night (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  gboolean found = TRUE;
  SwInstant from, until;
  SwRunNight night = { 0 };
  sw_test_book (bed.catalogue,
                HILL PRESS_UP "offer|ref=L|outlet=Hill Road|item=Ladder|up=2026-04-14|"
                              "closes=2026-04-27T00:30\n"
                              "offer|ref=V|outlet=Hill Road|item=Vat|up=2026-04-14|"
                              "closes=2026-05-10T20:00\n"
                              "offer|ref=C|outlet=Hill Road|item=Crates|up=2026-04-14|"
                              "closes=2026-04-19T20:00\n",
                NULL);
  assert_true (sw_run_next_night (bed.catalogue, at (&bed, "2026-05-08T09:00"), &found, &from,
                                  &until, &error));
  assert_i64_equal (from.us, at (&bed, "2026-05-10T12:00").us);
  assert_true (sw_run_earlier_night (bed.catalogue, from, &found, &night, &error));
  assert_true (found);
  assert_i64_equal (night.from.us, at (&bed, "2026-04-26T12:00").us);
  assert_i64_equal (night.until.us, at (&bed, "2026-04-27T12:00").us);
  assert_int_equal (night.open, 2);
  assert_true (sw_run_earlier_night (bed.catalogue, night.from, &found, &night, &error));
  assert_true (found);
  assert_i64_equal (night.from.us, at (&bed, "2026-04-19T12:00").us);
  assert_int_equal (night.open, 1);
  assert_true (sw_run_earlier_night (bed.catalogue, night.from, &found, &night, &error));
  assert_false (found);
}

static void
test_withdraw (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 1, FALSE);
  catch (&bed, deal_at (deals, 0), 100);
  assert_true (
      sw_offer_withdraw (bed.catalogue, deal_at (deals, 0), sw_test_day ("2026-04-20"), &error));
  assert_item (&bed, 1, "1 Ready x1 30000");
  guint booked = 0;
  assert_true (sw_run_confirm (bed.catalogue, NULL, 0, &booked, NULL, &error));
  assert_int_equal (booked, 0);
}

static void
assert_result (SwTestBed *bed, gint64 deal, SwResult result)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDeal) row = sw_deal_get (bed->catalogue, deal, &error);
  assert_no_error (error);
  assert_int_equal (row->result, result);
}

static void
step (SwTestBed *bed, gint64 item, SwState to, const SwStepOptions *options)
{
  g_autoptr (GError) error = NULL;
  sw_item_step_by_hand (bed->catalogue, item, to, options, NULL, &error);
  assert_no_error (error);
}

/* Out of a running offer by hand: it ends as withdrawn, a lot's for all its items, and one undo
 * brings all of it back. */
static void
test_taken_back_by_hand (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 3, TRUE);
  gint64 lot = deal_at (deals, 0);
  step (&bed, three[1], SW_STATE_READY, NULL);
  assert_result (&bed, lot, SW_RESULT_WITHDRAWN);
  for (gsize i = 0; i < 3; i++)
    {
      g_autoptr (SwItem) item = sw_item_get (bed.catalogue, three[i], &error);
      assert_int_equal (item->state, SW_STATE_READY);
    }
  /* the listing is due all the same: 2.30 */
  SwTakingsRow total;
  g_autofree char *rows = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_OUTLET, &total);
  assert_money_equal (total.fees, 230);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_result (&bed, lot, SW_RESULT_RUNNING);
  for (gsize i = 0; i < 3; i++)
    {
      g_autoptr (SwItem) item = sw_item_get (bed.catalogue, three[i], &error);
      assert_int_equal (item->state, SW_STATE_ON_OFFER);
    }
  assert_true (sw_redo (bed.catalogue, NULL, &error));
  assert_result (&bed, lot, SW_RESULT_WITHDRAWN);
}

/* A hold keeps the offer running; what leads out of the hold to Ready does not. Missing leaves it
 * running, to be withdrawn by the person. A part split off leaves it to the rest. */
static void
test_other_steps_by_hand (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 3, FALSE);
  SwDay until = sw_test_day ("2099-01-01");
  const SwStepOptions hold = { .until = &until, .hold_for = "Bea" }, part = { .count = 4 };
  step (&bed, three[0], SW_STATE_ON_HOLD, &hold);
  assert_result (&bed, deal_at (deals, 0), SW_RESULT_RUNNING);
  step (&bed, three[0], SW_STATE_READY, NULL);
  assert_result (&bed, deal_at (deals, 0), SW_RESULT_WITHDRAWN);
  step (&bed, three[1], SW_STATE_READY, &part);
  assert_result (&bed, deal_at (deals, 1), SW_RESULT_RUNNING);
  step (&bed, three[2], SW_STATE_MISSING, NULL);
  assert_result (&bed, deal_at (deals, 2), SW_RESULT_RUNNING);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) offers = sw_offer_list (bed.catalogue, &error);
  assert_int_equal (offers->len, 2);
  for (guint i = 0; i < offers->len; i++)
    {
      const SwOffer *offer = g_ptr_array_index (offers, i);
      assert_int_equal (offer->to_withdraw, offer->deal == deal_at (deals, 2));
    }
}

/* What is no offer has no night, and what was sold takes no verdict. */
static void
test_not_for_the_night (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL PRESS "sale|ref=S1|item=Ladder|at=2026-06-20|amount=1\n", NULL);
  gint64 sale = sw_test_ask (bed.catalogue, "SELECT id FROM deal WHERE ref = 'S1'");
  gint64 sold = sw_test_ask (bed.catalogue, "SELECT id FROM deal WHERE ref = 'A1'");
  assert_false (sw_run_catch (bed.catalogue, sale, SW_RESULT_SOLD, sw_money (1), &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "is no offer");
  g_clear_error (&error);
  assert_false (sw_run_verdict (bed.catalogue, sold, SW_VERDICT_KEEP, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "did not end as a no sale");
}

/* Several at once: what an offer ended for one has brought there already is no fault; the sale of
 * none of them is left running. */
static void
test_several_by_hand (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL, NULL);
  g_autoptr (GArray) deals = put_up (&bed, three, 3, TRUE);
  gint64 lot = deal_at (deals, 0);
  sw_items_step_by_hand (bed.catalogue, three, 3, SW_STATE_READY, &error);
  assert_no_error (error);
  assert_result (&bed, lot, SW_RESULT_WITHDRAWN);
  g_autofree char *sentence = sw_undo_sentence (bed.catalogue);
  assert_string_equal (sentence, "3 items: Ready");
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_result (&bed, lot, SW_RESULT_RUNNING);
  /* refused for one, so for all */
  assert_false (sw_items_step_by_hand (bed.catalogue, three, 3, SW_STATE_HANDED_OVER, &error));
  assert_result (&bed, lot, SW_RESULT_RUNNING);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_put_up);
  SW_TEST (tests, test_several_outlets);
  SW_TEST (tests, test_repeated);
  SW_TEST (tests, test_lot);
  SW_TEST (tests, test_claim_blocks);
  SW_TEST (tests, test_more_than_can_be_added_up);
  SW_TEST (tests, test_night);
  SW_TEST (tests, test_take_back);
  SW_TEST_ROWS (tests, test_verdict, verdict_cases);
  SW_TEST (tests, test_refused_verdict);
  SW_TEST_ROWS (tests, test_castings, floor_cases);
  SW_TEST (tests, test_interest);
  SW_TEST (tests, test_next_night);
  SW_TEST (tests, test_earlier_night);
  SW_TEST (tests, test_withdraw);
  SW_TEST (tests, test_taken_back_by_hand);
  SW_TEST (tests, test_other_steps_by_hand);
  SW_TEST (tests, test_several_by_hand);
  SW_TEST (tests, test_not_for_the_night);
  int failed = sw_tests_run (tests, "run-sheet");
  sw_test_property_end ();
  return failed;
}
