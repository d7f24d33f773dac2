/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search and the filters over items, and that what is found follows every change, undo and
 * redo. */
#include "core/catalogue/facts.h"
#include "core/catalogue/tags.h"
#include "sw-records.h"

/* "1 3 " */
static char *
found (Records *records, const SwItemFilter *filter)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) items = sw_item_list (records->catalogue, filter, &error);
  GString *numbers = g_string_new (NULL);
  assert_no_error (error);
  for (guint i = 0; i < items->len; i++)
    g_string_append_printf (numbers, "%" G_GINT64_FORMAT " ",
                            ((const SwItem *)g_ptr_array_index (items, i))->id);
  return g_string_free (numbers, FALSE);
}

static void
assert_found (Records *records, const char *words, const char *numbers)
{
  SwItemFilter filter = { .search = words };
  g_autofree char *got = found (records, &filter);
  assert_string_equal (got, numbers);
}

/* 1 Screw press, 2 Cider vat (Cold store; oak, told), 3 Pomme crusher with an accent (tag 41). */
static void
fill (Records *records)
{
  g_autoptr (GError) error = NULL;
  gint64 place = 0, number = 0;
  records_item (records, "Screw press", 1, 500);
  place = records_place (records, "Cold store");
  SwItemNew vat = { .name = "Cider vat", .place = place };
  assert_true (sw_item_add (records->catalogue, &vat, &number, &error));
  assert_true (sw_fact_add (records->catalogue, number, "made of", "oak staves", "told", "Ada",
                            NULL, &error));
  number = records_item (records, "Pomm\xC3\xA9 crusher", 3, 20000);
  assert_true (sw_tag_set (records->catalogue, 41, number, &error));
}

typedef struct
{
  const char *label, *words, *numbers;
} SearchRow;

static const SearchRow search_rows[] = {
  { "a name", "press", "1 3 " }, /* it stands in the Press house too */
  { "the beginning of a word", "crus", "3 " },
  { "a place", "cold", "2 " },
  { "a fact", "oak", "2 " },
  { "a number", "2", "2 " },
  { "a tag", "41", "3 " },
  { "a tag as it is printed", "Tag 41", "3 " },
  { "a number that is no tag", "tag 3", "" },
  { "a tag and a word", "crusher tag 41", "3 " },
  { "without its accent", "pomme", "3 " },
  { "two words of two columns", "vat oak", "2 " },
  { "words of two items", "vat crusher", "" },
  { "quotes", "\"vat\"", "2 " },
  { "the words of a query language", "vat OR crusher", "" },
  { "a column", "name:vat", "" },
  { "a star", "*", "" },
  { "a lone quote", "\"", "" },
  { "brackets", "(vat", "2 " },
};

static void
test_search (void **state)
{
  const SearchRow *row = *state;
  g_auto (Records) records = records_new ();
  fill (&records);
  assert_found (&records, row->words, row->numbers);
}

static void
test_what_is_found_follows (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  fill (&records);
  SwItemChange change = { .name = "Basket press" };
  assert_true (sw_item_change (records.catalogue, 1, &change, &error));
  assert_found (&records, "screw", "");
  assert_found (&records, "basket", "1 ");
  records_reopen (&records);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_found (&records, "screw", "1 ");
  assert_true (sw_redo (records.catalogue, NULL, &error));
  assert_found (&records, "screw", "");
  gint64 cold = records_place (&records, "Cold store");
  assert_true (sw_place_rename (records.catalogue, cold, "Ice cellar", &error));
  assert_found (&records, "cold", "");
  assert_found (&records, "ice", "2 ");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_found (&records, "cold", "2 ");
  g_autoptr (GPtrArray) facts = sw_fact_list (records.catalogue, 2, &error);
  assert_true (sw_fact_withdraw (records.catalogue,
                                 ((const SwFact *)g_ptr_array_index (facts, 0))->id, &error));
  assert_found (&records, "oak", "");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_found (&records, "oak", "2 ");
  assert_true (sw_tag_drop (records.catalogue, 41, &error));
  assert_found (&records, "41", "");
  gint64 part = 0;
  assert_true (sw_item_split (records.catalogue, 3, 1, &part, &error));
  assert_found (&records, "pomme", "3 4 ");
  /* a refused act leaves what was found */
  SwItemChange late = { .name = "Mill", .revision = 99 };
  assert_false (sw_item_change (records.catalogue, 1, &late, &error));
  assert_found (&records, "mill", "");
}

typedef struct
{
  const char *label;
  guint needs;
  gint64 asking_least, asking_most, kg_least; /* -1: no bound */
  SwItemOrder order;
  gboolean descending;
  const char *numbers;
} FilterRow;

/* 1 Screw press 5.00, 40 kg, danger, size hand, trip 1. 2 Cider vat: no price, claim open, trip 2.
 * 3 crusher 200.00, count 3. */
static const FilterRow filter_rows[] = {
  { "danger", SW_ITEM_WITH_DANGER, -1, -1, -1, 0, FALSE, "1 " },
  { "to be priced", SW_ITEM_TO_BE_PRICED, -1, -1, -1, 0, FALSE, "2 " },
  { "no photo", SW_ITEM_WITHOUT_PHOTO, -1, -1, -1, 0, FALSE, "1 2 3 " },
  { "no size", SW_ITEM_WITHOUT_SIZE, -1, -1, -1, 0, FALSE, "2 3 " },
  { "claimed and unpriced", SW_ITEM_WITH_CLAIM | SW_ITEM_TO_BE_PRICED, -1, -1, -1, 0, FALSE, "2 " },
  { "put off", SW_ITEM_LATER, -1, -1, -1, 0, FALSE, "3 " },
  { "a price range", 0, 500, 10000, -1, 0, FALSE, "1 " },
  { "at least", 0, 501, -1, -1, 0, FALSE, "3 " },
  { "a mass", 0, -1, -1, 40, 0, FALSE, "1 " },
  { "by name", 0, -1, -1, -1, SW_ITEMS_BY_NAME, FALSE, "2 3 1 " },
  { "by name, other way", 0, -1, -1, -1, SW_ITEMS_BY_NAME, TRUE, "1 3 2 " },
  { "by asking", 0, -1, -1, -1, SW_ITEMS_BY_ASKING, FALSE, "1 3 2 " },
  { "dearest first, without a price last", 0, -1, -1, -1, SW_ITEMS_BY_ASKING, TRUE, "3 1 2 " },
  { "by count", 0, -1, -1, -1, SW_ITEMS_BY_COUNT, TRUE, "3 2 1 " },
  { "by place", 0, -1, -1, -1, SW_ITEMS_BY_PLACE, FALSE, "2 1 3 " },
  { "by trip, without one last", 0, -1, -1, -1, SW_ITEMS_BY_TRIP, TRUE, "2 1 3 " },
  { "by mass", 0, -1, -1, -1, SW_ITEMS_BY_MASS, FALSE, "1 2 3 " },
};

static void
fill_more (Records *records)
{
  g_autoptr (GError) error = NULL;
  const SwSize hand = SW_SIZE_HAND;
  const SwMass mass = { 40 * SW_UG_PER_KG };
  const SwClaim open = SW_CLAIM_OPEN;
  const SwWaits later = SW_WAITS_LATER;
  fill (records);
  gint64 first = records_trip (records, "2026-04-03", "2026-04-06");
  gint64 second = records_trip (records, "2026-05-03", "2026-05-06");
  SwItemChange one = { .size = &hand, .mass = &mass, .trip = &first };
  SwItemChange two = { .claim = &open, .claim_by = "Ada", .trip = &second };
  SwItemChange three = { .waits = &later };
  assert_true (sw_item_change (records->catalogue, 1, &one, &error));
  assert_true (sw_fact_add (records->catalogue, 1, SW_FACT_DANGER, "lead paint", "seen", NULL, NULL,
                            &error));
  assert_true (sw_item_change (records->catalogue, 2, &two, &error));
  assert_true (sw_item_change (records->catalogue, 3, &three, &error));
}

static void
test_filter (void **state)
{
  const FilterRow *row = *state;
  const SwMoney least = sw_money (row->asking_least), most = sw_money (row->asking_most);
  const SwMass kg = { row->kg_least * SW_UG_PER_KG };
  g_auto (Records) records = records_new ();
  fill_more (&records);
  SwItemFilter filter = { .needs = row->needs,
                          .asking_least = row->asking_least >= 0 ? &least : NULL,
                          .asking_most = row->asking_most >= 0 ? &most : NULL,
                          .mass_least = row->kg_least >= 0 ? &kg : NULL,
                          .order = row->order,
                          .descending = row->descending };
  g_autofree char *got = found (&records, &filter);
  assert_string_equal (got, row->numbers);
}

/* A list reads its rows later than its numbers: what went away meanwhile leaves its gap. */
static void
test_rows_by_number (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  const gint64 numbers[] = { 99, 3, 98, 1, 2, 97 };
  fill_more (&records);
  g_autoptr (GPtrArray) items
      = sw_item_rows (records.catalogue, numbers, G_N_ELEMENTS (numbers), &error);
  assert_no_error (error);
  assert_int_equal (items->len, G_N_ELEMENTS (numbers));
  for (guint i = 0; i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      assert_i64_equal (item != NULL ? item->id : 0, numbers[i] < 90 ? numbers[i] : 0);
    }
  g_autoptr (GPtrArray) none = sw_item_rows (records.catalogue, numbers, 0, &error);
  assert_int_equal (none->len, 0);
}

static void
test_sizes_and_plans (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Vat", 2, 800);
  const SwSize size = SW_SIZE_MACHINE;
  const SwStows stows = SW_STOWS_TRAILER;
  const gint64 length = 1200, width = 800, too_long = 100001, none = 0;
  const gboolean guessed = TRUE;
  const SwMoney reserve = sw_money (501);
  const SwWaits price = SW_WAITS_PRICE;
  const SwMass mass = { 3 * SW_UG_PER_KG };
  g_autoptr (GError) error = NULL;
  SwItemChange change = { .size = &size,
                          .stows = &stows,
                          .length_mm = &length,
                          .width_mm = &width,
                          .size_guessed = &guessed,
                          .reserve = &reserve,
                          .waits = &price,
                          .scrap_class = "copper",
                          .mass = &mass,
                          .mass_source = "worked out",
                          .mass_how = "round bar" };
  assert_true (sw_item_change (records.catalogue, item, &change, &error));
  gint64 part = 0;
  assert_true (sw_item_split (records.catalogue, item, 1, &part, &error));
  records_reopen (&records);
  g_autoptr (SwItem) goes = records_get (&records, part);
  assert_i64_equal (goes->size, SW_SIZE_MACHINE);
  assert_i64_equal (goes->stows, SW_STOWS_TRAILER);
  assert_i64_equal (goes->length_mm, 1200);
  assert_i64_equal (goes->height_mm, 0);
  assert_true (goes->size_guessed);
  assert_money_equal (goes->reserve, 250); /* the odd cent stays with the origin */
  assert_string_equal (goes->scrap_class, "copper");
  assert_string_equal (goes->mass_how, "round bar");
  assert_i64_equal (goes->waits, SW_WAITS_PRICE);
  const SwMoney asking = sw_money (900);
  SwItemChange priced
      = { .asking = &asking, .width_mm = &none, .clear_reserve = TRUE, .clear_mass = TRUE };
  assert_true (sw_item_change (records.catalogue, part, &priced, &error));
  g_autoptr (SwItem) now = records_get (&records, part);
  assert_i64_equal (now->waits, SW_WAITS_NOT);
  assert_i64_equal (now->width_mm, 0);
  assert_false (now->has_reserve || now->has_mass);
  SwItemChange long_one = { .length_mm = &too_long };
  assert_false (sw_item_change (records.catalogue, part, &long_one, &error));
  assert_contains (error->message, "100 m");
  g_clear_error (&error);
  SwItemChange guess = { .mass = &mass, .mass_source = "guessed" };
  assert_true (sw_item_change (records.catalogue, part, &guess, &error));
  records_reopen (&records);
  g_autoptr (SwItem) guessed_item = records_get (&records, part);
  assert_string_equal (guessed_item->mass_source, "guessed");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_search, search_rows);
  SW_TEST (tests, test_what_is_found_follows);
  SW_TEST_ROWS (tests, test_filter, filter_rows);
  SW_TEST (tests, test_rows_by_number);
  SW_TEST (tests, test_sizes_and_plans);
  return sw_tests_run (tests, "search");
}
