/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A receipt among a trip's photos becomes a cost of the trip, once, and can be taken back. */
#include "sw-test-money.h"
#include "sw-test-walk.h"

#include "core/catalogue/act.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/receipts.h"
#include "core/match/sorting.h"
#include "core/match/strip.h"
#include "core/trade/takings.h"

static const gint64 receipt[] = { 1, 2, 3 };

static void
begin (SwTestWalk *walk)
{
  sw_test_walk_init (walk);
  sw_test_walk_three_things (walk, 0);
  sw_pairing_free (sw_test_walk_pair (walk));
}

static gint64
costs (SwTestWalk *walk)
{
  g_auto (SwTakings) takings = { 0 };
  g_autoptr (GError) error = NULL;

  sw_takings_read (walk->bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &takings, &error);
  assert_no_error (error);
  return takings.total.costs.minor;
}

static int
receipts_open (SwTestWalk *walk)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwStripSum) sum = sw_strip_sum_read (walk->bed.catalogue, walk->trip, &error);

  assert_no_error (error);
  return sum->receipts_open;
}

static void
test_a_receipt_becomes_a_cost (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;

  begin (&walk);
  assert_true (sw_sorting_no_item (walk.bed.catalogue, walk.trip, "receipt", receipt, 3, &error));
  assert_i64_equal (receipts_open (&walk), 1);
  assert_true (sw_sorting_receipt (walk.bed.catalogue, walk.trip, receipt, 3, sw_money (4250),
                                   "  diesel  for the van ", &error));
  assert_no_error (error);
  assert_i64_equal (receipts_open (&walk), 0);
  assert_i64_equal (costs (&walk), 4250);
  g_autoptr (GPtrArray) list = sw_cost_list (walk.bed.catalogue, &error);
  assert_i64_equal (list->len, 1);
  const SwCost *cost = g_ptr_array_index (list, 0);
  assert_i64_equal (cost->trip, walk.trip);
  assert_i64_equal (cost->day.n, sw_day_from_ymd (2026, 6, 20).n);
  assert_string_equal (cost->remark, "diesel for the van");
  assert_i64_equal (cost->amount.minor, 4250);
  g_autofree char *all_three = g_strdup_printf ("SELECT count (*) = 3 AND min (photo) = 1"
                                                " AND max (photo) = 3 AND min (cost) = max (cost)"
                                                " AND min (cost) = %" PRId64 " FROM cost_photo",
                                                cost->id);
  assert_i64_equal (sw_test_ask (walk.bed.catalogue, all_three), 1);
  sw_test_bed_clear (&walk.bed);
}

/* Not decided before: one act, and one undo takes the cost and the word that it is a receipt. */
static void
test_one_act_and_one_undo (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;

  begin (&walk);
  assert_true (
      sw_sorting_receipt (walk.bed.catalogue, walk.trip, receipt, 3, sw_money (990), NULL, &error));
  g_autoptr (SwStrip) strip = sw_strip_read (walk.bed.catalogue, walk.trip, &error);
  const SwStopRecord *stop = g_ptr_array_index (strip->stops, 0);
  assert_string_equal (stop->no_item_kind, "receipt");
  assert_true (stop->has_cost && stop->n_open == 0 && !sw_strip_wants_cost (stop));
  g_autofree char *sentence = NULL;
  assert_true (sw_undo (walk.bed.catalogue, &sentence, &error));
  assert_no_error (error);
  assert_string_equal (sentence, "Cost of 9.90, from its receipt");
  assert_i64_equal (costs (&walk), 0);
  g_autoptr (SwStrip) after = sw_strip_read (walk.bed.catalogue, walk.trip, &error);
  stop = g_ptr_array_index (after->stops, 0);
  assert_true (!stop->has_cost && stop->n_open == 3);
  assert_true (sw_redo (walk.bed.catalogue, NULL, &error));
  assert_i64_equal (costs (&walk), 990);
  sw_test_bed_clear (&walk.bed);
}

/* Two coffees of one price are two costs, unlike a row of a table that is booked again. */
static void
test_two_alike_are_two (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;

  begin (&walk);
  for (gsize k = 0; k < 2; k++)
    assert_true (sw_receipt_enter (walk.bed.catalogue, walk.trip, &receipt[k], 1, sw_money (450),
                                   "coffee", &error));
  assert_i64_equal (costs (&walk), 900);
  sw_test_bed_clear (&walk.bed);
}

static const struct
{
  const char *label;
  gint64 photo, minor;
  gsize n;
  const char *remark;
  int code;
} refused[] = {
  { "a negative amount", 1, -1, 1, "", SW_ERROR_BAD_INPUT },
  { "no photo", 1, 100, 0, "", SW_ERROR_BAD_INPUT },
  { "a photo that is not there", 999, 100, 1, "", SW_ERROR_NOT_FOUND },
  { "a control character", 1, 100, 1, "die\asel", SW_ERROR_BAD_INPUT },
};

static void
test_refused (void **state)
{
  SwTestWalk walk;

  begin (&walk);
  for (gsize k = 0; k < G_N_ELEMENTS (refused); k++)
    {
      g_autoptr (GError) error = NULL;

      assert_false (sw_sorting_receipt (walk.bed.catalogue, walk.trip, &refused[k].photo,
                                        refused[k].n, sw_money (refused[k].minor),
                                        refused[k].remark, &error));
      assert_error (error, SW_ERROR, refused[k].code);
      assert_i64_equal (costs (&walk), 0);
      assert_i64_equal (receipts_open (&walk), 0);
    }
  g_autofree char *long_one = g_strnfill (10001, 'x');
  g_autoptr (GError) error = NULL;
  assert_false (sw_sorting_receipt (walk.bed.catalogue, walk.trip, receipt, 3, sw_money (1),
                                    long_one, &error));
  assert_error (error, SW_ERROR, SW_ERROR_BAD_INPUT);
  sw_test_bed_clear (&walk.bed);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_a_receipt_becomes_a_cost);
  SW_TEST (tests, test_one_act_and_one_undo);
  SW_TEST (tests, test_two_alike_are_two);
  SW_TEST (tests, test_refused);
  return sw_tests_run (tests, "receipts");
}
