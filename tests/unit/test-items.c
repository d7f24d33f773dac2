/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items: adding, finding, listing, changing; facts, questions and jobs; undo of each over a
 * reopened catalogue. */
#include "sw-records.h"

#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/questions.h"

typedef struct
{
  const char *label, *name;
  gint64 count, asking;
  const char *stored; /* NULL: refused */
} AddRow;

static const AddRow add_rows[] = {
  { "plain", "Screw press", 1, 900, "Screw press" },
  { "no count", "Screw press", 0, -1, "Screw press" },
  { "blanks", "  Screw   press ", 1, -1, "Screw press" },
  { "quotes", "Bob's \"big\" press; DROP TABLE item", 1, -1,
    "Bob's \"big\" press; DROP TABLE item" },
  { "emoji", "Cider vat \xF0\x9F\x8D\x8E", 1, -1, "Cider vat \xF0\x9F\x8D\x8E" },
  { "a number", "12", 1, -1, "12" },
  { "free of charge", "Pallets", 40, 0, "Pallets" },
  { "as many as there can be", "Corks", 1000000000, -1, "Corks" },
  { "more than there can be", "Corks", 1000000001, -1, NULL },
  { "less than nothing", "Corks", -1, -1, NULL },
  { "newline", "Screw\npress", 1, -1, NULL },
  { "escape", "Screw\033[31m press", 1, -1, NULL },
  { "no name", "", 1, -1, NULL },
  { "blank name", " \xC2\xA0 ", 1, -1, NULL },
  { "invalid UTF-8", "Screw \xC3 press", 1, -1, NULL },
};

static gboolean
add (Records *records, const char *name, gint64 place, gint64 trip, gint64 count, gint64 asking,
     gint64 *out_number, GError **error)
{
  SwMoney money = sw_money (asking);
  SwItemNew item = { .name = name,
                     .place = place,
                     .trip = trip,
                     .count = count,
                     .asking = asking >= 0 ? &money : NULL };
  return sw_item_add (records->catalogue, &item, out_number, error);
}

static void
test_add (void **state)
{
  const AddRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 place = records_place (&records, "Press house");
  g_autoptr (GError) error = NULL;
  gint64 number = 0;
  gboolean ok = add (&records, row->name, place, 0, row->count, row->asking, &number, &error);
  if (row->stored == NULL)
    {
      assert_false (ok);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      return;
    }
  assert_no_error (error);
  assert_i64_equal (number, 1);
  g_autoptr (SwItem) item = records_get (&records, 1);
  assert_string_equal (item->name, row->stored);
  assert_i64_equal (item->count, MAX (1, row->count));
  assert_int_equal (item->has_asking, row->asking >= 0);
  assert_i64_equal (item->state, SW_STATE_FOUND);
  assert_string_equal (item->place_path, "Press house");
  g_autoptr (SwItem) found = sw_item_find (records.catalogue, row->name, &error);
  assert_no_error (error);
  assert_i64_equal (found->id, 1);
}

static void
test_add_lengths (void **state)
{
  g_auto (Records) records = records_new ();
  g_autofree char *fits = g_strnfill (255, 'x');
  records_item (&records, fits, 1, -1);
  g_autofree char *huge = g_strnfill (1024 * 1024, 'x');
  g_autoptr (GError) error = NULL;
  assert_false (add (&records, huge, 1, 0, 1, -1, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_null (sw_item_find (records.catalogue, huge, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

static void
test_add_unknown (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 place = records_place (&records, "Press house");
  g_autoptr (GError) error = NULL;
  assert_false (add (&records, "Vat", place + 1, 0, 1, -1, NULL, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_false (add (&records, "Vat", place, 3, 1, -1, NULL, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_contains (error->message, "trip 3");
  g_clear_error (&error);
  assert_null (sw_item_get (records.catalogue, 5, &error));
  assert_contains (error->message, "no items yet");
  g_clear_error (&error);
  records_item (&records, "Vat", 1, -1);
  assert_null (sw_item_get (records.catalogue, 5, &error));
  assert_contains (error->message, "the last one has the number 1");
}

/* --- finding --- */

typedef struct
{
  const char *label, *typed;
  gint64 number; /* 0: an error */
  int code;
  const char *says;
} FindRow;

/* 1 Screw press, 2 Crates (3 was split off from it), 4 Vat, 5 Vat, 6 named '2', 7 named '99'. */
static const FindRow find_rows[] = {
  { "number", "1", 1, 0, NULL },
  { "zeros before it", "001", 1, 0, NULL },
  { "name", "Screw press", 1, 0, NULL },
  { "what is left of it", "Crates", 2, 0, NULL },
  { "the part by number", "3", 3, 0, NULL },
  { "number before name", "2", 2, 0, NULL },
  { "a name of figures", "99", 7, 0, NULL },
  { "two of a name", "Vat", 0, SW_ERROR_REFUSED, "4, 5" },
  { "other capitals", "screw PRESS", 0, SW_ERROR_NOT_FOUND, "did you mean 'Screw press'?" },
  { "a letter off", "Scrw press", 0, SW_ERROR_NOT_FOUND, "did you mean 'Screw press'?" },
  { "unknown name", "Bottle rack", 0, SW_ERROR_NOT_FOUND, "list of items" },
  { "unknown number", "98", 0, SW_ERROR_NOT_FOUND, "number 7" },
  { "zero", "0", 0, SW_ERROR_NOT_FOUND, "no item 0" },
  { "beyond 64 bits", "99999999999999999999", 0, SW_ERROR_NOT_FOUND, "no item" },
  { "minus", "-1", 0, SW_ERROR_NOT_FOUND, "no item" },
  { "empty", "", 0, SW_ERROR_BAD_INPUT, NULL },
};

static void
test_find (void **state)
{
  const FindRow *row = *state;
  g_auto (Records) records = records_new ();
  records_item (&records, "Screw press", 1, -1);
  gint64 crates = records_item (&records, "Crates", 5, -1);
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_split (records.catalogue, crates, 2, NULL, &error));
  const char *const names[] = { "Vat", "Vat", "2", "99" };
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    records_item (&records, names[i], 1, -1);
  g_autoptr (SwItem) item = sw_item_find (records.catalogue, row->typed, &error);
  if (row->number != 0)
    {
      assert_no_error (error);
      assert_i64_equal (item->id, row->number);
      return;
    }
  assert_null (item);
  assert_sw_error (error, row->code);
  if (row->says != NULL)
    assert_contains (error->message, row->says);
}

static void
test_in_place (void **state)
{
  g_auto (Records) records = records_new ();
  records_item (&records, "Vat", 1, -1);
  gint64 press = records_place (&records, "Press house");
  gint64 store = records_place (&records, "Cold store");
  g_autoptr (GError) error = NULL;
  gint64 number = -1;
  assert_true (sw_item_in_place (records.catalogue, press, " VAT", &number, &error));
  assert_i64_equal (number, 1);
  assert_true (sw_item_in_place (records.catalogue, store, "Vat", &number, &error));
  assert_i64_equal (number, 0);
}

/* --- lists --- */

typedef struct
{
  const char *label, *place;
  gboolean inside;
  gint64 trip;
  int state; /* -1: all */
  const char *search, *numbers;
} ListRow;

/* 1 Screw press: Press house, trip 1. 2 Crates: Packing shed, trip 1, Kept. 3 Apple crates: Packing
 * shed > Loft. 4 Vat: Packing shed annex. */
static const ListRow list_rows[] = {
  { "all", NULL, FALSE, 0, -1, NULL, "1 2 3 4 " },
  { "a place", "Packing shed", FALSE, 0, -1, NULL, "2 " },
  { "with the places inside", "Packing shed", TRUE, 0, -1, NULL, "2 3 " },
  { "a trip", NULL, FALSE, 1, -1, NULL, "1 2 " },
  { "a state", NULL, FALSE, 0, SW_STATE_KEPT, NULL, "2 " },
  { "found in a trip", NULL, FALSE, 1, SW_STATE_FOUND, NULL, "1 " },
  { "a word", NULL, FALSE, 0, -1, "crates", "2 3 " },
  { "two words in any order", NULL, FALSE, 0, -1, " CRATES  app", "3 " },
  { "blank words", NULL, FALSE, 0, -1, "  ", "1 2 3 4 " },
  { "no such word", NULL, FALSE, 0, -1, "rack", "" },
  { "wild cards are letters", NULL, FALSE, 0, -1, "%", "" },
  { "invalid UTF-8", NULL, FALSE, 0, -1, "\xFF", "" },
};

static void
test_list (void **state)
{
  const ListRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-04-03", "2026-04-06");
  g_autoptr (GError) error = NULL;
  add (&records, "Screw press", records_place (&records, "Press house"), trip, 1, -1, NULL, &error);
  add (&records, "Crates", records_place (&records, "Packing shed"), trip, 1, -1, NULL, &error);
  add (&records, "Apple crates", records_place (&records, "Packing shed > Loft"), 0, 1, -1, NULL,
       &error);
  add (&records, "Vat", records_place (&records, "Packing shed annex"), 0, 1, -1, NULL, &error);
  sw_item_move (records.catalogue, 2, SW_STATE_KEPT, NULL, NULL, NULL, &error);
  assert_no_error (error);
  SwState kept = (SwState)MAX (0, row->state);
  SwItemFilter filter = { .place = row->place != NULL ? records_place (&records, row->place) : 0,
                          .places_inside = row->inside,
                          .trip = row->trip,
                          .state = row->state >= 0 ? &kept : NULL,
                          .search = row->search };
  g_autoptr (GPtrArray) items = sw_item_list (records.catalogue, &filter, &error);
  assert_no_error (error);
  g_autoptr (GString) numbers = g_string_new (NULL);
  for (guint i = 0; i < items->len; i++)
    g_string_append_printf (numbers, "%" G_GINT64_FORMAT " ",
                            ((const SwItem *)g_ptr_array_index (items, i))->id);
  assert_string_equal (numbers->str, row->numbers);
}

/* --- changes --- */

static gint64
change (Records *records, gint64 number, SwItemChange what, int code)
{
  g_autoptr (GError) error = NULL;
  gboolean ok = sw_item_change (records->catalogue, number, &what, &error);
  if (code < 0)
    assert_no_error (error);
  else
    assert_sw_error (error, code);
  assert_int_equal (ok, code < 0);
  g_autoptr (SwItem) item = records_get (records, number);
  return item->revision;
}

static void
undo_and_redo (Records *records, const char *sentence)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *undone = NULL, *redone = NULL;
  records_reopen (records);
  assert_true (sw_undo (records->catalogue, &undone, &error));
  assert_string_equal (undone, sentence);
  records_reopen (records);
  assert_true (sw_redo (records->catalogue, &redone, &error));
  assert_string_equal (redone, sentence);
}

static void
test_change_each_field (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "thing 3", 1, -1);
  gint64 store = records_place (&records, "Cold store");
  const gint64 count = 7;
  const gint64 trip = records_trip (&records, "2026-04-03", "2026-04-06");
  const SwMoney asking = sw_money (12345);
  const SwMass mass = { 40 * SW_UG_PER_KG };
  const SwClaim open = SW_CLAIM_OPEN, none = SW_CLAIM_NONE;
  const gboolean yes = TRUE, no = FALSE;
  change (&records, number, (SwItemChange){ .name = " Screw  press " }, -1);
  undo_and_redo (&records, "thing 3: now called 'Screw press'");
  change (&records, number, (SwItemChange){ .place = &store }, -1);
  undo_and_redo (&records, "Screw press: place Cold store");
  change (&records, number, (SwItemChange){ .count = &count, .asking = &asking }, -1);
  undo_and_redo (&records, "Screw press: count 7, was 1, asking 123.45");
  change (&records, number, (SwItemChange){ .trip = &trip }, -1);
  undo_and_redo (&records, "Screw press: found on trip 1");
  change (&records, number, (SwItemChange){ .mass = &mass }, -1);
  undo_and_redo (&records, "Screw press: mass 40 kg (typed)");
  change (&records, number, (SwItemChange){ .claim = &open, .claim_by = "Bea" }, -1);
  undo_and_redo (&records, "Screw press: claim open by Bea");
  change (&records, number, (SwItemChange){ .never_offer = &yes }, -1);
  undo_and_redo (&records, "Screw press: never to be offered before it is cleared");
  g_autoptr (SwItem) item = records_get (&records, number);
  assert_string_equal (item->place_path, "Cold store");
  assert_i64_equal (item->count, 7);
  assert_i64_equal (item->trip, trip);
  assert_money_equal (item->asking, 12345);
  assert_i64_equal (item->mass.ug, mass.ug);
  assert_i64_equal (item->claim, SW_CLAIM_OPEN);
  assert_string_equal (item->claim_by, "Bea");
  assert_true (item->never_offer);
  change (&records, number,
          (SwItemChange){ .claim = &none, .never_offer = &no, .clear_asking = TRUE }, -1);
  g_autoptr (SwItem) plain = records_get (&records, number);
  assert_null (plain->claim_by);
  assert_false (plain->never_offer || plain->has_asking);
}

static void
test_change_refused (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Vat", 1, -1);
  const gint64 zero = 0, many = 1000000001, nowhere = 99, photo = 5;
  const SwMoney below = sw_money (-1), beyond = sw_money (G_MAXINT64);
  const SwMass light = { -1 }, heavy = { 1 };
  change (&records, number, (SwItemChange){ .name = "Screw\npress" }, SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .name = " " }, SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .count = &zero }, SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .count = &many }, SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .asking = &below }, SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .asking = &beyond }, SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .mass = &light }, SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .mass = &heavy, .mass_source = "felt" },
          SW_ERROR_BAD_INPUT);
  change (&records, number, (SwItemChange){ .place = &nowhere }, SW_ERROR_NOT_FOUND);
  change (&records, number, (SwItemChange){ .trip = &nowhere }, SW_ERROR_NOT_FOUND);
  change (&records, number, (SwItemChange){ .cover = &photo }, SW_ERROR_REFUSED);
  change (&records, number, (SwItemChange){ .revision = 2 }, SW_ERROR_BUSY);
  assert_i64_equal (change (&records, number, (SwItemChange){ 0 }, -1), 1);
  g_autofree char *undo = sw_undo_sentence (records.catalogue);
  assert_string_equal (undo, "Item 1 'Vat' added");
}

static void
test_revision (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Vat", 1, -1);
  gint64 seen = change (&records, number, (SwItemChange){ .revision = 1, .name = "Cider vat" }, -1);
  assert_i64_equal (seen, 2);
  change (&records, number, (SwItemChange){ .revision = 1, .name = "Tank" }, SW_ERROR_BUSY);
  g_autoptr (SwItem) item = records_get (&records, number);
  assert_string_equal (item->name, "Cider vat");
}

static void
test_ready_no_more (void **state)
{
  g_auto (Records) records = records_new ();
  const SwClaim open = SW_CLAIM_OPEN;
  const SwItemChange changes[] = {
    { .claim = &open, .claim_by = "Bea" },
    { .clear_asking = TRUE },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (changes); i++)
    {
      gint64 number = records_item (&records, "Vat", 1, 900);
      g_autoptr (GError) error = NULL;
      assert_true (
          sw_item_move (records.catalogue, number, SW_STATE_READY, NULL, NULL, NULL, &error));
      change (&records, number, changes[i], -1);
      g_autoptr (SwItem) item = records_get (&records, number);
      assert_i64_equal (item->state, SW_STATE_FOUND);
      g_autofree char *sentence = sw_undo_sentence (records.catalogue);
      assert_contains (sentence, "back to Found");
      assert_true (sw_undo (records.catalogue, NULL, &error));
      g_autoptr (SwItem) back = records_get (&records, number);
      assert_i64_equal (back->state, SW_STATE_READY);
    }
}

static void
test_history (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Vat", 1, 900);
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_move (records.catalogue, number, SW_STATE_READY, NULL, NULL, NULL, &error));
  g_autoptr (GPtrArray) events = sw_events_of (records.catalogue, SW_SUBJECT_ITEM, number, &error);
  assert_i64_equal (events->len, 2);
  const SwEvent *newest = g_ptr_array_index (events, 0);
  assert_string_equal (newest->sentence, "Vat: Found to Ready");
  assert_string_equal (newest->verb, "item.moved");
  /* midnight in UTC is noon of the same day in the catalogue's zone */
  assert_i64_equal (newest->day.n, records_day ("2026-04-10").n);
}

/* --- facts, questions, jobs --- */

typedef struct
{
  const char *label, *kind, *text, *source, *by_whom;
  const char *says; /* NULL: it fits */
} FactRow;

static const FactRow fact_rows[] = {
  { "seen", "damage", "thread worn\non one side", "seen", NULL, NULL },
  { "told", "use", "pressed until 1998", "told", "Bea", NULL },
  { "told by nobody", "use", "pressed until 1998", "told", " ", "who told it" },
  { "a source of its own", "use", "x", "heard", NULL, "seen, tried, told or guessed" },
  { "no text", "use", " ", "seen", NULL, "fact" },
  { "no kind", "", "x", "seen", NULL, "kind" },
};

static void
test_fact (void **state)
{
  const FactRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Screw press", 1, -1);
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  gboolean ok = sw_fact_add (records.catalogue, number, row->kind, row->text, row->source,
                             row->by_whom, &id, &error);
  assert_int_equal (ok, row->says == NULL);
  if (row->says != NULL)
    {
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_contains (error->message, row->says);
      return;
    }
  assert_true (sw_undo (records.catalogue, NULL, &error));
  records_reopen (&records);
  assert_true (sw_redo (records.catalogue, NULL, &error));
  g_autoptr (GPtrArray) facts = sw_fact_list (records.catalogue, number, &error);
  assert_i64_equal (facts->len, 1);
  const SwFact *fact = g_ptr_array_index (facts, 0);
  assert_i64_equal (fact->id, id);
  assert_string_equal (fact->text, row->text);
  assert_string_equal (fact->source, row->source);
}

static void
test_question (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Screw press", 1, -1);
  g_autoptr (GError) error = NULL;
  SwDay by = records_day ("2026-05-01");
  gint64 one = 0, two = 0;
  assert_true (
      sw_question_add (records.catalogue, number, "Does it turn?", "Ada", &by, &one, &error));
  assert_true (
      sw_question_add (records.catalogue, number, "Do you want it?", "Bea", NULL, &two, &error));
  assert_true (sw_question_answer (records.catalogue, one, "It did in spring", &error));
  g_autoptr (SwItem) before = records_get (&records, number);
  assert_i64_equal (before->claim, SW_CLAIM_NONE);
  assert_true (sw_question_answer (records.catalogue, two, " Mine ", &error));
  g_autoptr (SwItem) claimed = records_get (&records, number);
  assert_i64_equal (claimed->claim, SW_CLAIM_MINE);
  assert_string_equal (claimed->claim_by, "Bea");
  undo_and_redo (&records, "Screw press: Do you want it?:  Mine ");
  g_autoptr (GPtrArray) questions = sw_question_list (records.catalogue, number, &error);
  assert_i64_equal (questions->len, 2);
  g_autoptr (GPtrArray) all = sw_question_list (records.catalogue, 0, &error);
  assert_i64_equal (all->len, 2);
  const SwQuestion *first = g_ptr_array_index (questions, 0);
  assert_string_equal (first->answer, "It did in spring");
  assert_true (first->has_by);
  assert_i64_equal (first->by.n, by.n);
  assert_false (sw_question_answer (records.catalogue, 99, "x", &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

static void
test_job (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Cider vat", 1, -1);
  gint64 place = records_place (&records, "Press house");
  g_autoptr (GError) error = NULL;
  gint64 drain = 0;
  assert_true (sw_job_add (records.catalogue, number, 0, "drain", "into a can", &drain, &error));
  assert_true (sw_job_add (records.catalogue, 0, place, "photograph", NULL, NULL, &error));
  assert_false (sw_job_add (records.catalogue, 0, 0, "drain", NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_false (sw_job_add (records.catalogue, number, 0, "polish", NULL, NULL, &error));
  assert_contains (error->message, "photograph");
  g_clear_error (&error);
  assert_true (sw_job_set_done (records.catalogue, drain, TRUE, &error));
  undo_and_redo (&records, "Cider vat: drain done");
  g_autoptr (GPtrArray) jobs = sw_job_list (records.catalogue, number, &error);
  assert_i64_equal (jobs->len, 1);
  assert_true (((const SwJob *)g_ptr_array_index (jobs, 0))->done);
  g_autoptr (GPtrArray) all = sw_job_list (records.catalogue, 0, &error);
  assert_i64_equal (all->len, 2);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_add, add_rows);
  SW_TEST (tests, test_add_lengths);
  SW_TEST (tests, test_add_unknown);
  SW_TEST_ROWS (tests, test_find, find_rows);
  SW_TEST (tests, test_in_place);
  SW_TEST_ROWS (tests, test_list, list_rows);
  SW_TEST (tests, test_change_each_field);
  SW_TEST (tests, test_change_refused);
  SW_TEST (tests, test_revision);
  SW_TEST (tests, test_ready_no_more);
  SW_TEST (tests, test_history);
  SW_TEST_ROWS (tests, test_fact, fact_rows);
  SW_TEST (tests, test_question);
  SW_TEST (tests, test_job);
  return sw_tests_run (tests, "items");
}
