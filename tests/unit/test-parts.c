/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items that part and come together, lots, and several at once; each with undo over a reopened
 * catalogue. */
#include "core/catalogue/claims.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/lots.h"
#include "core/catalogue/many.h"
#include "core/catalogue/parts.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/tags.h"
#include "sw-records.h"
#include "sw-test-catalogue.h"

static void
undo (Records *records)
{
  g_autoptr (GError) error = NULL;
  records_reopen (records);
  sw_undo (records->catalogue, NULL, &error);
  assert_no_error (error);
}

static void
redo (Records *records)
{
  g_autoptr (GError) error = NULL;
  records_reopen (records);
  sw_redo (records->catalogue, NULL, &error);
  assert_no_error (error);
}

static guint
n_items (Records *records)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) items = sw_item_list (records->catalogue, NULL, &error);
  assert_no_error (error);
  return items->len;
}

static guint
n_photos (Records *records, gint64 item)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) photos = sw_item_photos (records->catalogue, item, &error);
  assert_no_error (error);
  return photos->len;
}

static void
test_split_by_photos (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Crates", 10, 5000), part = 0;
  gint64 photos[] = { records_photo (&records, "a.jpg"), records_photo (&records, "b.jpg"),
                      records_photo (&records, "c.jpg") };
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_assign (records.catalogue, item, photos, 3, FALSE, &error));
  assert_true (sw_item_split_photos (records.catalogue, item, photos + 1, 2, 4, &part, &error));
  g_autoptr (SwItem) goes = records_get (&records, part);
  assert_i64_equal (goes->count, 4);
  assert_money_equal (goes->asking, 2000);
  assert_i64_equal (goes->origin, item);
  assert_i64_equal (n_photos (&records, item), 1);
  assert_i64_equal (n_photos (&records, part), 2);
  undo (&records);
  assert_i64_equal (n_photos (&records, item), 3);
  assert_i64_equal (n_items (&records), 1);
  redo (&records);
  assert_i64_equal (n_photos (&records, part), 2);
}

static void
test_split_single_by_photos (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Press", 1, 5000), part = 0;
  gint64 photos[] = { records_photo (&records, "a.jpg"), records_photo (&records, "b.jpg") };
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_assign (records.catalogue, item, photos, 2, FALSE, &error));
  assert_true (sw_item_split_photos (records.catalogue, item, photos + 1, 1, 0, &part, &error));
  g_autoptr (SwItem) goes = records_get (&records, part);
  g_autoptr (SwItem) stays = records_get (&records, item);
  assert_i64_equal (goes->count, 1);
  assert_false (goes->has_asking);
  assert_money_equal (stays->asking, 5000);
}

static void
test_split_by_photos_refused (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Crates", 4, -1);
  gint64 photos[] = { records_photo (&records, "a.jpg"), records_photo (&records, "b.jpg") };
  gint64 strange = records_photo (&records, "z.jpg");
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_assign (records.catalogue, item, photos, 2, FALSE, &error));
  assert_false (sw_item_split_photos (records.catalogue, item, photos, 2, 1, NULL, &error));
  assert_contains (error->message, "leave it at least one");
  g_clear_error (&error);
  assert_false (sw_item_split_photos (records.catalogue, item, photos, 0, 1, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_false (sw_item_split_photos (records.catalogue, item, &strange, 1, 1, NULL, &error));
  assert_contains (error->message, "none of Crates");
  g_clear_error (&error);
  /* a part-count above the count */
  assert_false (sw_item_split_photos (records.catalogue, item, photos, 1, 5, NULL, &error));
  assert_contains (error->message, "counts 4");
  assert_i64_equal (n_items (&records), 1);
}

static void
test_join (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 one = records_item (&records, "Crates", 3, 3000);
  gint64 two = records_item (&records, "Apple crates", 2, 1000);
  gint64 photos[] = { records_photo (&records, "a.jpg"), records_photo (&records, "b.jpg") };
  const SwMass mass = { 5 * SW_UG_PER_KG };
  g_autoptr (GError) error = NULL;
  sw_item_assign (records.catalogue, one, photos, 1, FALSE, &error);
  sw_item_assign (records.catalogue, two, photos, 2, TRUE, &error);
  sw_fact_add (records.catalogue, two, "maker", "ours", "seen", NULL, NULL, &error);
  sw_claim_set (records.catalogue, two, "Ada", SW_CLAIM_OPEN, &error);
  sw_tag_set (records.catalogue, 7, two, &error);
  sw_job_add (records.catalogue, two, 0, "load", NULL, NULL, &error);
  SwItemChange weigh = { .mass = &mass };
  sw_item_change (records.catalogue, one, &weigh, &error);
  assert_no_error (error);
  sw_item_join (records.catalogue, one, two, &error);
  assert_no_error (error);
  for (int round = 0; round < 2; round++)
    {
      g_autoptr (SwItem) item = records_get (&records, one);
      assert_i64_equal (item->count, 5);
      assert_money_equal (item->asking, 4000);
      assert_false (item->has_mass); /* of the second it was not known */
      assert_i64_equal (item->n_photos, 2);
      assert_i64_equal (item->n_jobs, 1);
      assert_i64_equal (item->claim, SW_CLAIM_OPEN);
      gint64 bearer = 0;
      assert_true (sw_tag_item (records.catalogue, 7, &bearer, &error));
      assert_i64_equal (bearer, one);
      assert_i64_equal (n_items (&records), 1);
      assert_null (sw_item_get (records.catalogue, two, &error));
      assert_contains (error->message, "joined into item 1");
      g_clear_error (&error);
      undo (&records);
      assert_i64_equal (n_items (&records), 2);
      g_autoptr (SwItem) again = records_get (&records, two);
      assert_i64_equal (again->count, 2);
      assert_i64_equal (again->claim, SW_CLAIM_OPEN);
      assert_i64_equal (n_photos (&records, two), 2);
      redo (&records);
    }
}

static void
test_join_refused (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 one = records_item (&records, "Crates", 3, 3000);
  gint64 two = records_item (&records, "Crates", 2, 1000);
  gint64 loft = records_place (&records, "Loft");
  g_autoptr (GError) error = NULL;
  assert_false (sw_item_join (records.catalogue, one, one, &error));
  assert_contains (error->message, "the same item");
  g_clear_error (&error);
  SwItemChange away = { .place = &loft };
  assert_true (sw_item_change (records.catalogue, two, &away, &error));
  assert_false (sw_item_join (records.catalogue, one, two, &error));
  assert_contains (error->message, "one is in Press house, the other in Loft");
  g_clear_error (&error);
  undo (&records);
  assert_true (sw_item_move (records.catalogue, two, SW_STATE_READY, NULL, NULL, NULL, &error));
  assert_false (sw_item_join (records.catalogue, one, two, &error));
  assert_contains (error->message, "one is Found, the other Ready");
  g_clear_error (&error);
  assert_true (sw_item_move (records.catalogue, one, SW_STATE_KEPT, NULL, NULL, NULL, &error));
  assert_true (sw_item_move (records.catalogue, two, SW_STATE_KEPT, NULL, NULL, NULL, &error));
  assert_false (sw_item_join (records.catalogue, one, two, &error));
  assert_contains (error->message, "they are Kept");
  assert_i64_equal (n_items (&records), 2);
}

static void
test_break_up (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 mill = records_item (&records, "Mill", 1, 9000);
  gint64 photo = records_photo (&records, "a.jpg");
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) numbers = NULL;
  const SwPart parts[] = { { "Motor", 0 }, { "Rollers", 2 } };
  sw_item_assign (records.catalogue, mill, &photo, 1, FALSE, &error);
  sw_danger_add (records.catalogue, mill, "lead paint", "seen", NULL, &error);
  assert_true (sw_item_break_up (records.catalogue, mill, parts, 2, &numbers, &error));
  for (int round = 0; round < 2; round++)
    {
      g_autoptr (SwItem) whole = records_get (&records, mill);
      g_autoptr (SwItem) rollers = records_get (&records, g_array_index (numbers, gint64, 1));
      g_autoptr (SwItem) motor = records_get (&records, g_array_index (numbers, gint64, 0));
      assert_i64_equal (whole->state, SW_STATE_BROKEN_UP);
      assert_i64_equal (rollers->state, SW_STATE_FOUND);
      assert_i64_equal (rollers->count, 2);
      assert_i64_equal (rollers->origin, mill);
      assert_i64_equal (rollers->n_photos, 1);
      assert_i64_equal (rollers->n_dangers, 1);
      assert_i64_equal (motor->origin, mill);
      assert_i64_equal (n_items (&records), 3);
      undo (&records);
      assert_i64_equal (n_items (&records), 1);
      redo (&records);
    }
  assert_false (sw_item_break_up (records.catalogue, mill, parts, 2, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_item_break_up (records.catalogue, mill, parts, 0, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

static void
test_lots (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 items[] = { records_item (&records, "Vat", 1, -1), records_item (&records, "Tub", 1, -1),
                     records_item (&records, "Cask", 1, -1) };
  gint64 lot = 0;
  g_autoptr (GError) error = NULL;
  assert_true (sw_lot_make (records.catalogue, " Cellar  gear ", items, 2, &lot, &error));
  undo (&records);
  redo (&records);
  g_autoptr (SwItem) vat = records_get (&records, items[0]);
  assert_string_equal (vat->lot_name, "Cellar gear");
  assert_false (sw_lot_make (records.catalogue, "Other", items + 1, 2, NULL, &error));
  assert_contains (error->message, "in the lot 'Cellar gear' already");
  g_clear_error (&error);
  /* under the name of their lot the others join them */
  gint64 same = 0;
  assert_true (sw_lot_make (records.catalogue, "cellar gear", items + 1, 2, &same, &error));
  assert_i64_equal (same, lot);
  SwItemFilter filter = { .lot = lot };
  g_autoptr (GPtrArray) in_lot = sw_item_list (records.catalogue, &filter, &error);
  assert_i64_equal (in_lot->len, 3);
  assert_true (sw_lot_leave (records.catalogue, items[0], &error));
  assert_true (sw_item_move (records.catalogue, items[0], SW_STATE_KEPT, NULL, NULL, NULL, &error));
  assert_false (sw_lot_make (records.catalogue, "Cellar gear", items, 2, NULL, &error));
  assert_contains (error->message, "is Kept");
  g_clear_error (&error);
  assert_false (sw_lot_make (records.catalogue, "One", items, 1, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  filter.lot = lot;
  g_autoptr (GPtrArray) left = sw_item_list (records.catalogue, &filter, &error);
  assert_i64_equal (left->len, 2);
  sw_test_exec (records.catalogue, "UPDATE item SET state = 'on-offer' WHERE name = 'Tub'");
  gint64 more[] = { items[1], records_item (&records, "Funnel", 1, -1) };
  assert_false (sw_lot_make (records.catalogue, "Cellar gear", more, 2, NULL, &error));
  assert_contains (error->message, "is on offer");
}

/* --- several at once --- */

typedef struct
{
  const char *label;
  gint64 percent_x100, step, before, after; /* after -1: refused */
} RuleRow;

/* Worked by hand. */
static const RuleRow rule_rows[] = {
  { "10% less", -1000, 0, 12345, 11111 }, /* 11110.5, half up */
  { "10% less to whole fives", -1000, 500, 12345, 11000 },
  { "to a round alone", 0, 1000, 12500, 13000 }, /* half up */
  { "a third more", 3333, 0, 300, 400 },
  { "to nothing", -9999, 0, 100, 0 },
  { "of nothing", -1000, 500, 0, 0 },
  { "all of it", -10000, 0, 100, -1 },
  { "a step below zero", 0, -5, 100, -1 },
};

static void
test_price_rule (void **state)
{
  const RuleRow *row = *state;
  const SwPriceRule rule = { row->percent_x100, sw_money (row->step) };
  g_autoptr (GError) error = NULL;
  SwMoney after = sw_money (-7);
  gboolean ok = sw_price_rule_apply (&rule, sw_money (row->before), &after, &error);
  assert_int_equal (ok, row->after >= 0);
  if (row->after >= 0)
    assert_money_equal (after, row->after);
  else
    assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

/* Hundredths of a percent; G_MININT64: refused. */
static const struct
{
  const char *label, *typed;
  gint64 percent_x100;
} percents[] = {
  { "less", "-10", -1000 },
  { "more", "+5", 500 },
  { "no sign", "3", 300 },
  { "a half, with its sign", " 2.5 % ", 250 },
  { "two decimals", "-0.25%", -25 },
  { "a comma", "-2,5", -250 },
  { "a comma that may group", "1,234", G_MININT64 },
  { "three decimals", "1.234", G_MININT64 },
  { "two signs", "--5", G_MININT64 },
  { "a sign alone", "-", G_MININT64 },
  { "the percent alone", "%", G_MININT64 },
  { "nothing", "", G_MININT64 },
  { "a word", "ten", G_MININT64 },
};

static void
test_typed_percents (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (percents); i++)
    {
      g_autoptr (GError) error = NULL;
      gint64 read = 7;
      gboolean ok = sw_price_rule_parse (percents[i].typed, &read, &error);

      if (ok != (percents[i].percent_x100 != G_MININT64)
          || read != (ok ? percents[i].percent_x100 : 7))
        fail_msg ("%s: '%s' is read as %" PRId64, percents[i].label, percents[i].typed, read);
      if (!ok)
        {
          assert_sw_error (error, SW_ERROR_BAD_INPUT);
          assert_contains (error->message, "write it like -10 or 2.5");
        }
    }
}

static void
test_several_at_once (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 items[] = { records_item (&records, "Vat", 1, 1000), records_item (&records, "Tub", 1, -1),
                     records_item (&records, "Cask", 1, 2000) };
  gint64 loft = records_place (&records, "Loft");
  const SwPriceRule rule = { -1000, sw_money (0) };
  guint changed = 0;
  g_autoptr (GError) error = NULL;
  assert_true (sw_items_reprice (records.catalogue, items, 3, &rule, &changed, &error));
  assert_i64_equal (changed, 2);
  g_autoptr (SwItem) cask = records_get (&records, items[2]);
  assert_money_equal (cask->asking, 1800);
  undo (&records); /* one act */
  g_autoptr (SwItem) before = records_get (&records, items[0]);
  assert_money_equal (before->asking, 1000);
  assert_false (sw_items_reprice (records.catalogue, items + 1, 1, &rule, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  SwItemChange away = { .place = &loft };
  assert_true (sw_items_change (records.catalogue, items, 3, &away, &error));
  assert_true (sw_items_ask (records.catalogue, items, 3, "Whose?", "Ada", NULL, &error));
  assert_true (sw_items_job (records.catalogue, items, 3, "measure", NULL, "tape", 1, &error));
  SwItemFilter filter = { .place = loft, .needs = SW_ITEM_WITH_QUESTION | SW_ITEM_WITH_JOB };
  g_autoptr (GPtrArray) all = sw_item_list (records.catalogue, &filter, &error);
  assert_i64_equal (all->len, 3);
  undo (&records);
  undo (&records);
  g_autoptr (GPtrArray) none = sw_item_list (records.catalogue, &filter, &error);
  assert_i64_equal (none->len, 0);
}

static gboolean
move_one (SwCatalogue *catalogue, gint64 item, gpointer data, GError **error)
{
  return sw_item_move (catalogue, item, *(const SwState *)data, NULL, NULL, NULL, error);
}

static gboolean
move_all (Records *records, const gint64 *items, gsize n, SwState to, GError **error)
{
  return sw_items_each (records->catalogue, items, n, sw_state_word (to), move_one, &to, error);
}

/* All or nothing, and the sentence says which item. */
static void
test_several_refused (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 items[]
      = { records_item (&records, "Vat", 1, 1000), records_item (&records, "Tub", 1, -1) };
  g_autoptr (GError) error = NULL;
  assert_false (move_all (&records, items, 2, SW_STATE_READY, &error));
  assert_contains (error->message, "Tub cannot become Ready");
  g_autoptr (SwItem) vat = records_get (&records, items[0]);
  assert_i64_equal (vat->state, SW_STATE_FOUND);
  g_clear_error (&error);
  assert_false (move_all (&records, items, 0, SW_STATE_KEPT, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_true (move_all (&records, items, 2, SW_STATE_KEPT, &error));
  g_autofree char *sentence = sw_undo_sentence (records.catalogue);
  assert_string_equal (sentence, "2 items: Kept");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_split_by_photos);
  SW_TEST (tests, test_split_single_by_photos);
  SW_TEST (tests, test_split_by_photos_refused);
  SW_TEST (tests, test_join);
  SW_TEST (tests, test_join_refused);
  SW_TEST (tests, test_break_up);
  SW_TEST (tests, test_lots);
  SW_TEST_ROWS (tests, test_price_rule, rule_rows);
  SW_TEST (tests, test_typed_percents);
  SW_TEST (tests, test_several_at_once);
  SW_TEST (tests, test_several_refused);
  return sw_tests_run (tests, "parts");
}
