/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Interest typed as a line and pasted as a table. */
#include "core/catalogue/offer-notes.h"
#include "core/trade/interest-table.h"
#include "sw-test-money.h"

static const SwNumberStyle style = { ".", "," };

static const struct
{
  const char *label, *line;
  gint64 looks, followers, bids, amount; /* -1: not said */
  gboolean bad;
} lines[] = {
  { "all four", "120 8 3 45.50", 120, 8, 3, 4550, FALSE },
  { "wide blanks", "  1,204   8 ", 1204, 8, -1, -1, FALSE },
  { "some unknown", "- - 3 -", -1, -1, 3, -1, FALSE },
  { "bids may grow with the price standing still", "- - 9 45", -1, -1, 9, 4500, FALSE },
  { "zeros are figures", "0 0 0 0", 0, 0, 0, 0, FALSE },
  { "nothing", "", 0, 0, 0, 0, TRUE },
  { "only dashes", "- -", 0, 0, 0, 0, TRUE },
  { "five", "1 2 3 4 5", 0, 0, 0, 0, TRUE },
  { "a word", "12 many", 0, 0, 0, 0, TRUE },
  { "below zero", "-5", 0, 0, 0, 0, TRUE },
  { "overflow", "99999999999999999999", 0, 0, 0, 0, TRUE },
  { "half a look", "1.5x", 0, 0, 0, 0, TRUE },
};

static void
test_line (void **state)
{
  guint i = GPOINTER_TO_UINT (*state);
  g_autoptr (GError) error = NULL;
  SwCurrency currency;
  SwInterest interest = { 0 };
  assert_true (sw_currency_find ("NZD", &currency, NULL));
  gboolean read = sw_interest_parse (lines[i].line, currency, style, &interest, &error);
  assert_int_equal (read, !lines[i].bad);
  if (lines[i].bad)
    {
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      return;
    }
  assert_i64_equal (interest.looks, lines[i].looks);
  assert_i64_equal (interest.followers, lines[i].followers);
  assert_i64_equal (interest.bids, lines[i].bids);
  assert_i64_equal (interest.has_amount ? interest.amount.minor : -1, lines[i].amount);
}

#define LADDER_UP                                                                                  \
  "offer|ref=A2|outlet=Hill Road|item=Ladder|up=2026-04-14|closes=2026-04-26T20:01\n"

static gint64
deal_of (SwTestBed *bed, const char *ref)
{
  g_autoptr (SwDeal) deal = NULL;
  assert_true (sw_deal_find (bed->catalogue, ref, &deal, NULL));
  return deal->id;
}

static const SwInterestRow *
row_at (const GPtrArray *rows, guint i)
{
  return g_ptr_array_index (rows, i);
}

static void
test_table (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  const SwOfferNoteChange own = { .own_ref = "HR-4471" };
  sw_test_book (bed.catalogue, HILL PRESS_UP LADDER_UP, NULL);
  assert_true (sw_offer_note_change (bed.catalogue, deal_of (&bed, "A1"), &own, &error));
  g_autofree char *left = NULL;
  g_autoptr (GPtrArray) rows = sw_interest_table_read (
      bed.catalogue,
      "Bids\tTitle\tReference\tViews\tPrice\tTime left\n3\tA press\thr-4471\t1,204\t45.50\n"
      "0\tLadder\tA2\t30\t\n1\tGhost\tHR-1\t4\t\n9\tAgain\tA2\t31\t\nx\tPress\tHR-4471\t\t\n",
      style, &left, &error);
  assert_no_error (error);
  assert_int_equal (rows->len, 5);
  assert_string_equal (left, "Title, Time left");
  assert_i64_equal (row_at (rows, 0)->deal, deal_of (&bed, "A1"));
  assert_string_equal (row_at (rows, 0)->items, "Screw press");
  assert_i64_equal (row_at (rows, 0)->interest.looks, 1204);
  assert_money_equal (row_at (rows, 0)->interest.amount, 4550);
  assert_null (row_at (rows, 1)->problem);
  assert_i64_equal (row_at (rows, 1)->interest.followers, -1);
  for (guint i = 2; i < 5; i++)
    assert_non_null (row_at (rows, i)->problem);
  assert_int_equal (row_at (rows, 2)->line, 4);
  const SwDealInterest taken[] = { { row_at (rows, 0)->deal, row_at (rows, 0)->interest },
                                   { row_at (rows, 1)->deal, row_at (rows, 1)->interest } };
  assert_true (sw_interest_take (bed.catalogue, taken, 2, &error));
  g_autoptr (GArray) noted = sw_interest_list (bed.catalogue, taken[0].deal, &error);
  assert_int_equal (noted->len, 1);
  assert_i64_equal (g_array_index (noted, SwInterest, 0).bids, 3);
  /* one act */
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  g_autoptr (GArray) none = sw_interest_list (bed.catalogue, taken[1].deal, &error);
  assert_int_equal (none->len, 0);
}

static void
test_headings_missing (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  static const char *const texts[] = { "HR-1;4;5\nHR-2;5;6\n", "Reference;Title\nA1;Press\n" };
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) error = NULL;
      assert_null (sw_interest_table_read (bed.catalogue, texts[i], style, NULL, &error));
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
    }
}

int
main (void)
{
  struct CMUnitTest tests[2 + G_N_ELEMENTS (lines)] = {
    cmocka_unit_test (test_table),
    cmocka_unit_test (test_headings_missing),
  };
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    tests[2 + i] = (struct CMUnitTest){ .name = lines[i].label,
                                        .test_func = test_line,
                                        .initial_state = GUINT_TO_POINTER (i) };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
