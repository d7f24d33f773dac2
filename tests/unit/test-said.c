/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of items: facts changed and withdrawn, dangers, questions asked, answered and
 * withdrawn, claims of several people, jobs, price evidence. */
#include "core/catalogue/claims.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/prices.h"
#include "core/catalogue/questions.h"
#include "sw-records.h"

/* The latest act is taken back and done again, over a reopened catalogue. */
static void
undo_and_redo (Records *records, const char *sentence)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *undone = NULL, *redone = NULL;
  records_reopen (records);
  sw_undo (records->catalogue, &undone, &error);
  assert_no_error (error);
  assert_string_equal (undone, sentence);
  records_reopen (records);
  sw_redo (records->catalogue, &redone, &error);
  assert_no_error (error);
  assert_string_equal (redone, sentence);
}

static guint
n_facts (Records *records, gint64 item)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) facts = sw_fact_list (records->catalogue, item, &error);
  assert_no_error (error);
  return facts->len;
}

static gboolean
history_has (Records *records, gint64 item, const char *part)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) events = sw_events_of (records->catalogue, SW_SUBJECT_ITEM, item, &error);
  assert_no_error (error);
  for (guint i = 0; i < events->len; i++)
    if (strstr (((const SwEvent *)g_ptr_array_index (events, i))->sentence, part) != NULL)
      return TRUE;
  return FALSE;
}

static void
test_fact_edited_and_withdrawn (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Screw press", 1, -1), id = 0;
  g_autoptr (GError) error = NULL;
  assert_true (
      sw_fact_add (records.catalogue, item, "maker", "unknown", "guessed", NULL, &id, &error));
  assert_true (sw_fact_edit (records.catalogue, id, "Orrery", "told", "Ada", &error));
  undo_and_redo (&records, "Screw press: maker: Orrery (told by Ada), was: unknown");
  g_autoptr (GPtrArray) facts = sw_fact_list (records.catalogue, item, &error);
  const SwFact *fact = g_ptr_array_index (facts, 0);
  assert_string_equal (fact->text, "Orrery");
  assert_string_equal (fact->by_whom, "Ada");
  assert_false (sw_fact_edit (records.catalogue, id, "Orrery", "told", NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_true (sw_fact_withdraw (records.catalogue, id, &error));
  undo_and_redo (&records, "Screw press: withdrawn: maker: Orrery");
  assert_true (sw_fact_withdraw (records.catalogue, id, &error));
  assert_i64_equal (n_facts (&records, item), 0);
  assert_true (history_has (&records, item, "maker: Orrery"));
  assert_false (sw_fact_edit (records.catalogue, id, "Alder", "seen", NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "withdrawn");
}

static void
test_fact_set (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Vat", 1, -1);
  g_autoptr (GError) error = NULL;
  const char *const says[] = { "staves dry", "staves dry", "leaks at the bung", "" };
  const guint left[] = { 1, 1, 1, 0 };
  for (gsize i = 0; i < G_N_ELEMENTS (says); i++)
    {
      assert_true (
          sw_fact_set (records.catalogue, item, SW_FACT_WRONG, says[i], "seen", NULL, &error));
      assert_i64_equal (n_facts (&records, item), left[i]);
    }
  undo_and_redo (&records, "Vat: what is wrong: withdrawn");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (GPtrArray) facts = sw_fact_list (records.catalogue, item, &error);
  assert_string_equal (((const SwFact *)g_ptr_array_index (facts, 0))->text, "leaks at the bung");
}

/* For completion: what stands, most used first, of that kind alone. */
static void
test_fact_texts (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 withdrawn = 0;
  for (gint64 k = 1; k <= 3; k++)
    {
      g_autofree char *name = g_strdup_printf ("Vat %d", (int)k);
      records_item (&records, name, 1, -1);
      assert_true (sw_fact_add (records.catalogue, k, SW_FACT_CONDITION, k == 1 ? "worn" : "sound",
                                "seen", NULL, NULL, &error));
    }
  assert_true (
      sw_fact_add (records.catalogue, 1, SW_FACT_WRONG, "leaks", "seen", NULL, NULL, &error));
  assert_true (sw_fact_add (records.catalogue, 2, SW_FACT_CONDITION, "new", "seen", NULL,
                            &withdrawn, &error));
  assert_true (sw_fact_withdraw (records.catalogue, withdrawn, &error));
  g_autoptr (GPtrArray) texts = sw_fact_texts (records.catalogue, SW_FACT_CONDITION, &error);
  assert_i64_equal (texts->len, 2);
  assert_string_equal (texts->pdata[0], "sound");
  assert_string_equal (texts->pdata[1], "worn");
}

/* Who lifts it tells a mass, for each piece; without that there is nothing to guess from. */
static void
test_mass_by_who_lifts_it (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  SwSize two = SW_SIZE_TWO_PEOPLE;
  SwItemChange change = { .size = &two };
  records_item (&records, "Barrels", 3, -1);
  assert_false (sw_item_mass_by_size (records.catalogue, 1, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "Barrels has no size class");
  g_clear_error (&error);
  assert_true (sw_item_change (records.catalogue, 1, &change, &error));
  assert_true (sw_item_mass_by_size (records.catalogue, 1, &error));
  g_autoptr (SwItem) item = records_get (&records, 1);
  assert_true (item->has_mass);
  assert_i64_equal (item->mass.ug, 3 * sw_size_mass (SW_SIZE_TWO_PEOPLE).ug);
  assert_string_equal (item->mass_source, "size class");
}

static void
test_what_belongs_to_it (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Screw press", 1, -1), id = 0;
  gint64 loft = records_place (&records, "Loft");
  g_autoptr (GError) error = NULL;
  assert_true (
      sw_fact_add (records.catalogue, item, SW_FACT_BELONGS, "crank", "told", "Ada", &id, &error));
  assert_true (sw_fact_set_place (records.catalogue, id, loft, &error));
  undo_and_redo (&records, "Screw press: crank stands in Loft");
  g_autoptr (GPtrArray) facts = sw_fact_list (records.catalogue, item, &error);
  assert_string_equal (((const SwFact *)g_ptr_array_index (facts, 0))->place_path, "Loft");
  assert_false (sw_fact_set_place (records.catalogue, id, 99, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

/* Design: the list of dangers; those that need clearing mark the item. */
static void
test_dangers (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Spray tank", 1, -1);
  g_autoptr (GError) error = NULL;
  gsize n = 0;
  const SwDanger *dangers = sw_dangers (&n);
  for (gsize i = 0; i < n; i++)
    {
      assert_contains (dangers[i].caution, "Local codes and licensed people");
      assert_true (sw_danger_add (records.catalogue, item, dangers[i].word, "seen", NULL, &error));
    }
  g_autoptr (SwItem) all = records_get (&records, item);
  assert_i64_equal (all->n_dangers, n);
  assert_true (all->never_offer);
  gint64 other = records_item (&records, "Mill", 1, -1);
  assert_true (sw_danger_add (records.catalogue, other, "Driven shafts", "seen", NULL, &error));
  g_autoptr (SwItem) mill = records_get (&records, other);
  assert_false (mill->never_offer);
  assert_true (
      sw_danger_add (records.catalogue, other, "unknown contents", "guessed", NULL, &error));
  undo_and_redo (&records, "Mill: danger: unknown contents");
  g_autoptr (SwItem) marked = records_get (&records, other);
  assert_true (marked->never_offer);
  assert_true (sw_danger_add (records.catalogue, other, "asbestos", "told", "Ada", &error));
  assert_true (sw_danger_add (records.catalogue, other, "asbestos", "seen", NULL, &error));
  assert_i64_equal (n_facts (&records, other), 3);
  assert_false (sw_danger_add (records.catalogue, other, "ghosts", "seen", NULL, &error));
  assert_contains (error->message, "lead paint");
}

static void
test_question_life (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Screw press", 1, -1), id = 0, other = 0;
  g_autoptr (GError) error = NULL;
  assert_true (
      sw_question_add (records.catalogue, item, "Does it turn?", "Ada", NULL, &id, &error));
  assert_true (sw_question_set_asked (records.catalogue, id, TRUE, &error));
  undo_and_redo (&records, "Screw press: Ada was asked: Does it turn?");
  assert_true (sw_question_answer_by (records.catalogue, id, "Not since spring", "Bea", &error));
  undo_and_redo (&records, "Screw press: Does it turn?: Not since spring says Bea");
  g_autoptr (GPtrArray) list = sw_question_list (records.catalogue, item, &error);
  const SwQuestion *answered = g_ptr_array_index (list, 0);
  assert_true (answered->asked && answered->has_answered);
  assert_string_equal (answered->answered_by, "Bea");
  assert_i64_equal (answered->answered_at.us, RECORDS_NOW.us);
  assert_true (
      sw_question_add (records.catalogue, item, "Whose is it?", NULL, NULL, &other, &error));
  g_autoptr (GPtrArray) open = sw_question_open (records.catalogue, NULL, &error);
  assert_i64_equal (open->len, 1);
  g_autoptr (GPtrArray) of_ada = sw_question_open (records.catalogue, "Ada", &error);
  assert_i64_equal (of_ada->len, 0);
  assert_true (sw_question_withdraw (records.catalogue, other, &error));
  assert_true (sw_question_withdraw (records.catalogue, other, &error));
  assert_false (sw_question_answer (records.catalogue, other, "Ours", &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "was withdrawn and takes no answer");
  g_autoptr (GPtrArray) left = sw_question_list (records.catalogue, 0, &error);
  assert_i64_equal (left->len, 1);
}

typedef struct
{
  const char *person;
  SwClaim says;
} Say;

typedef struct
{
  const char *label;
  Say says[4];
  SwClaim claim;
  const char *by; /* NULL: nobody */
  gboolean clash;
} ClaimRow;

static const ClaimRow claim_rows[] = {
  { "one open", { { "Ada", SW_CLAIM_OPEN } }, SW_CLAIM_OPEN, "Ada", FALSE },
  { "mine after open",
    { { "Ada", SW_CLAIM_OPEN }, { "Ada", SW_CLAIM_MINE } },
    SW_CLAIM_MINE,
    "Ada",
    FALSE },
  { "mine before another's open",
    { { "Ada", SW_CLAIM_OPEN }, { "Bea", SW_CLAIM_MINE } },
    SW_CLAIM_MINE,
    "Bea",
    FALSE },
  { "two of them",
    { { "Bea", SW_CLAIM_MINE }, { "Ada", SW_CLAIM_MINE } },
    SW_CLAIM_MINE,
    "Ada",
    TRUE },
  { "one gave way",
    { { "Ada", SW_CLAIM_MINE }, { "Bea", SW_CLAIM_MINE }, { "Ada", SW_CLAIM_NONE } },
    SW_CLAIM_MINE,
    "Bea",
    FALSE },
  { "another's none settles nothing",
    { { "Ada", SW_CLAIM_OPEN }, { "Bea", SW_CLAIM_NONE } },
    SW_CLAIM_OPEN,
    "Ada",
    FALSE },
  { "all gave way",
    { { "Ada", SW_CLAIM_MINE }, { "Ada", SW_CLAIM_NONE } },
    SW_CLAIM_NONE,
    NULL,
    FALSE },
  { "somebody not named", { { "", SW_CLAIM_OPEN } }, SW_CLAIM_OPEN, NULL, FALSE },
};

static void
test_claims (void **state)
{
  const ClaimRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Still", 1, -1);
  g_autoptr (GError) error = NULL;
  for (int i = 0; i < 4 && row->says[i].person != NULL; i++)
    assert_true (
        sw_claim_set (records.catalogue, item, row->says[i].person, row->says[i].says, &error));
  records_reopen (&records);
  g_autoptr (SwItem) claimed = records_get (&records, item);
  assert_i64_equal (claimed->claim, row->claim);
  if (row->by != NULL)
    assert_string_equal (claimed->claim_by, row->by);
  else
    assert_null (claimed->claim_by);
  assert_int_equal (claimed->clash, row->clash);
  g_autoptr (GArray) clashes = sw_claim_clashes (records.catalogue, &error);
  assert_i64_equal (clashes->len, row->clash ? 1 : 0);
}

static void
test_answers_claim (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Still", 1, 900);
  g_autoptr (GError) error = NULL;
  gint64 ada = 0, bea = 0;
  sw_question_add (records.catalogue, item, "Do you want it?", "Ada", NULL, &ada, &error);
  sw_question_add (records.catalogue, item, "Do you want it?", "Bea", NULL, &bea, &error);
  assert_true (sw_question_answer (records.catalogue, ada, "mine", &error));
  assert_true (sw_question_answer (records.catalogue, bea, "Mine", &error));
  g_autoptr (SwItem) both = records_get (&records, item);
  assert_true (both->clash);
  assert_true (history_has (&records, item, "both say it is theirs"));
  char *why = sw_item_why_not (records.catalogue, both, SW_STATE_GIVEN_AWAY, TRUE);
  assert_contains (why, "claimed");
  g_free (why);
  assert_true (sw_question_answer (records.catalogue, bea, "not mine", &error));
  g_autoptr (SwItem) one = records_get (&records, item);
  assert_false (one->clash);
  assert_string_equal (one->claim_by, "Ada");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (SwItem) again = records_get (&records, item);
  assert_true (again->clash);
}

static void
test_claim_of_none_by_nobody_settles_all (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Still", 1, -1);
  g_autoptr (GError) error = NULL;
  const SwClaim none = SW_CLAIM_NONE;
  sw_claim_set (records.catalogue, item, "Ada", SW_CLAIM_MINE, &error);
  sw_claim_set (records.catalogue, item, "Bea", SW_CLAIM_OPEN, &error);
  SwItemChange change = { .claim = &none };
  assert_true (sw_item_change (records.catalogue, item, &change, &error));
  undo_and_redo (&records, "Still: claim none");
  g_autoptr (SwItem) settled = records_get (&records, item);
  assert_i64_equal (settled->claim, SW_CLAIM_NONE);
  g_autoptr (GPtrArray) said = sw_claim_list (records.catalogue, item, &error);
  assert_i64_equal (said->len, 2);
}

static void
test_jobs (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Still", 1, -1), id = 0;
  g_autoptr (GError) error = NULL;
  assert_true (sw_job_add_with (records.catalogue, item, 0, "take off", "the lid", "19 mm spanner",
                                2, &id, &error));
  g_autoptr (GPtrArray) jobs = sw_job_list (records.catalogue, item, &error);
  const SwJob *job = g_ptr_array_index (jobs, 0);
  assert_string_equal (job->tools, "19 mm spanner");
  assert_i64_equal (job->hands, 2);
  assert_string_equal (job->subject, "Still");
  assert_false (
      sw_job_add_with (records.catalogue, item, 0, "load", NULL, NULL, 101, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_true (sw_job_set_done (records.catalogue, id, TRUE, &error));
  g_autoptr (SwItem) done = records_get (&records, item);
  assert_i64_equal (done->n_jobs, 0);
  assert_true (sw_job_withdraw (records.catalogue, id, &error));
  undo_and_redo (&records, "Still: need not take off");
  g_autoptr (GPtrArray) left = sw_job_list (records.catalogue, 0, &error);
  assert_i64_equal (left->len, 0);
}

static void
test_prices (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Crates", 4, -1), id = 0, part = 0;
  g_autoptr (GError) error = NULL;
  SwDay day = records_day ("2019-06-01");
  SwPriceSaid said
      = { .kind = "paid", .amount = sw_money (12000), .day = &day, .source = "the bill" };
  assert_true (sw_price_add (records.catalogue, item, &said, &id, &error));
  undo_and_redo (&records, "Crates: paid 120.00 for 4, the bill");
  said.amount = sw_money (11000);
  assert_true (sw_price_edit (records.catalogue, id, &said, &error));
  undo_and_redo (&records, "Crates: paid 110.00 for 4, the bill, was: 120.00");
  assert_true (sw_item_split (records.catalogue, item, 1, &part, &error));
  g_autoptr (GPtrArray) of_part = sw_price_list (records.catalogue, part, &error);
  const SwPrice *copied = g_ptr_array_index (of_part, 0);
  assert_i64_equal (copied->pieces, 4);
  assert_money_equal (copied->amount, 11000);
  assert_true (copied->has_day);
  assert_true (sw_price_withdraw (records.catalogue, id, &error));
  g_autoptr (GPtrArray) left = sw_price_list (records.catalogue, item, &error);
  assert_i64_equal (left->len, 0);
  assert_false (sw_price_edit (records.catalogue, id, &said, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  said.kind = "felt";
  assert_false (sw_price_add (records.catalogue, item, &said, NULL, &error));
  assert_contains (error->message, "like things");
  g_clear_error (&error);
  said.kind = "new";
  said.amount = sw_money (-1);
  assert_false (sw_price_add (records.catalogue, item, &said, NULL, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

/* A megabyte is refused by one sentence wherever text is taken, and nothing is written. */
static void
test_text_of_a_megabyte (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 item = records_item (&records, "Vat", 1, -1);
  g_autofree char *huge = g_strnfill (1024 * 1024, 'x');
  g_autoptr (GError) error = NULL;
  SwPriceSaid said = { .kind = "paid", .remark = huge };
  const gboolean taken[] = {
    sw_fact_add (records.catalogue, item, "story", huge, "seen", NULL, NULL, NULL),
    sw_fact_add (records.catalogue, item, huge, "x", "seen", NULL, NULL, NULL),
    sw_fact_set (records.catalogue, item, "story", huge, "seen", NULL, NULL),
    sw_fact_add (records.catalogue, item, "story", "x", huge, NULL, NULL, NULL),
    sw_question_add (records.catalogue, item, huge, NULL, NULL, NULL, NULL),
    sw_question_add (records.catalogue, item, "x", huge, NULL, NULL, NULL),
    sw_claim_set (records.catalogue, item, huge, SW_CLAIM_MINE, NULL),
    sw_job_add_with (records.catalogue, item, 0, "load", huge, NULL, 1, NULL, NULL),
    sw_job_add_with (records.catalogue, item, 0, huge, NULL, NULL, 1, NULL, NULL),
    sw_price_add (records.catalogue, item, &said, NULL, NULL),
    sw_danger_add (records.catalogue, item, huge, "seen", NULL, NULL),
  };
  for (gsize i = 0; i < G_N_ELEMENTS (taken); i++)
    assert_false (taken[i]);
  assert_false (sw_fact_add (records.catalogue, item, "story", "x", huge, NULL, NULL, &error));
  assert_true (strlen (error->message) < 300);
  g_autofree char *undo = sw_undo_sentence (records.catalogue);
  assert_string_equal (undo, "Item 1 'Vat' added");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_fact_edited_and_withdrawn);
  SW_TEST (tests, test_fact_set);
  SW_TEST (tests, test_fact_texts);
  SW_TEST (tests, test_mass_by_who_lifts_it);
  SW_TEST (tests, test_what_belongs_to_it);
  SW_TEST (tests, test_dangers);
  SW_TEST (tests, test_question_life);
  SW_TEST_ROWS (tests, test_claims, claim_rows);
  SW_TEST (tests, test_answers_claim);
  SW_TEST (tests, test_claim_of_none_by_nobody_settles_all);
  SW_TEST (tests, test_jobs);
  SW_TEST (tests, test_prices);
  SW_TEST (tests, test_text_of_a_megabyte);
  return sw_tests_run (tests, "said");
}
