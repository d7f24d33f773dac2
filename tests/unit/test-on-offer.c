/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is still on offer of each trip's finds: each thing once, none that was sold or withdrawn. */
#include "core/trade/on-offer.h"
#include "sw-test-money.h"

static void
assert_rows (SwCatalogue *catalogue, const char *expected)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) rows = sw_on_offer_by_trip (catalogue, &error);
  g_autoptr (GString) text = g_string_new (NULL);
  assert_no_error (error);
  for (guint i = 0; i < rows->len; i++)
    {
      const SwOnOfferRow *row = &g_array_index (rows, SwOnOfferRow, i);
      g_string_append_printf (text, "%s%d: %u %u %d", i > 0 ? " | " : "", (int)row->trip,
                              row->things, row->unpriced, (int)row->asked.minor);
    }
  assert_string_equal (text->str, expected);
}

static void
test_by_trip (void **state)
{
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) expected = g_string_new (NULL);
  assert_rows (bed.catalogue, "");
  /* the same thing in two outlets, and a lot */
  sw_test_book (bed.catalogue,
                "outlet|outlet=Shop\noutlet|outlet=Hall\n"
                "offer|ref=A|outlet=Shop|item=Screw press|up=2026-04-01\n"
                "offer|ref=B|outlet=Hall|item=Screw press|up=2026-04-01\n"
                "offer|ref=C|outlet=Hall|item=Crates + Ladder|up=2026-04-01\n",
                NULL);
  gint64 trips[2], asked[2] = { 0, 0 }, things[2] = { 0, 0 }, unpriced[2] = { 0, 0 };
  trips[0] = sw_test_ask (bed.catalogue, "SELECT trip FROM item WHERE name = 'Screw press'");
  trips[1] = sw_test_ask (bed.catalogue, "SELECT ifnull(max(trip), 0) FROM item"
                                         " WHERE name = 'Ladder'");
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *of
          = g_strdup_printf (" FROM item WHERE name IN ('Screw press', 'Crates', 'Ladder')"
                             " AND ifnull(trip, 0) = %d",
                             (int)trips[i]);
      g_autofree char *sum = g_strconcat ("SELECT ifnull(sum(asking), 0)", of, NULL);
      g_autofree char *count = g_strconcat ("SELECT count(*)", of, NULL);
      g_autofree char *priced = g_strconcat ("SELECT count(asking)", of, NULL);
      asked[i] = sw_test_ask (bed.catalogue, sum);
      things[i] = sw_test_ask (bed.catalogue, count);
      unpriced[i] = things[i] - sw_test_ask (bed.catalogue, priced);
    }
  assert_true (trips[0] != trips[1]);
  assert_i64_equal (things[0] + things[1], 3);
  g_string_printf (expected, "%d: %d %d %d | %d: %d %d %d", (int)trips[0], (int)things[0],
                   (int)unpriced[0], (int)asked[0], (int)trips[1], (int)things[1], (int)unpriced[1],
                   (int)asked[1]);
  assert_rows (bed.catalogue, expected->str);
  /* sold and withdrawn: none of them any more; undo brings them back */
  sw_test_book (bed.catalogue,
                "result|ref=A|at=2026-05-01|result=sold|amount=5\n"
                "result|ref=B|at=2026-05-01|result=withdrawn\n"
                "result|ref=C|at=2026-05-01|result=withdrawn\n",
                NULL);
  assert_rows (bed.catalogue, "");
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_rows (bed.catalogue, expected->str);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_by_trip);
  int failures = sw_tests_run (tests, "on-offer");
  sw_test_property_end ();
  return failures;
}
