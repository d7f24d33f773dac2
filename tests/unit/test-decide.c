/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The deciding round without a window: what is left and in what order, what waits and why, the
 * fields one by one, and taking over what was said of the find before. */
#include "core/catalogue/claims.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/prices.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/ready.h"
#include "core/catalogue/decide-fields.h"
#include "core/catalogue/decide.h"
#include "sw-records.h"

/* ---- the order ---- */

/* "3 1 | 2 ": those that wait stand after the stroke. */
static char *
order_of (Records *records, gint64 place, SwDecideOrder order)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwDecideRound) round = sw_decide_read (records->catalogue, place, 0, order, &error);
  GString *text = g_string_new (NULL);
  gboolean waits = FALSE;
  assert_no_error (error);
  for (guint i = 0; i < round->items->len; i++)
    {
      const SwDecideItem *item = &g_array_index (round->items, SwDecideItem, i);
      if (item->put_off != SW_PUT_OFF_NOT && !waits)
        g_string_append (text, "| ");
      waits = item->put_off != SW_PUT_OFF_NOT;
      g_string_append_printf (text, "%" G_GINT64_FORMAT " ", item->item);
    }
  return g_string_free (text, FALSE);
}

static void
assert_order (Records *records, gint64 place, SwDecideOrder order, const char *wanted)
{
  g_autofree char *got = order_of (records, place, order);
  assert_string_equal (got, wanted);
}

static gint64
item_in (Records *records, const char *name, const char *place, gint64 count)
{
  g_autoptr (GError) error = NULL;
  gint64 number = 0;
  SwItemNew item = { .name = name, .place = records_place (records, place), .count = count };
  assert_true (sw_item_add (records->catalogue, &item, &number, &error));
  return number;
}

static void
say_price (Records *records, gint64 item, const char *kind, gint64 minor, gint64 pieces)
{
  g_autoptr (GError) error = NULL;
  SwPriceSaid said = { .kind = kind, .amount = sw_money (minor), .pieces = pieces };
  assert_true (sw_price_add (records->catalogue, item, &said, NULL, &error));
}

static gint64
outlet (Records *records, const char *name, gint64 running, gint64 pay)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  SwOutlet made
      = { .name = (char *)name, .running_days = running, .pay_days = pay, .collect_days = -1 };
  assert_true (sw_outlet_put (records->catalogue, &made, &id, &error));
  return id;
}

/* 1 Bench (Cooperage), 2 Press (Press house), 3 Crates (Cooperage > Loft). */
static void
fill (Records *records)
{
  records_place (records, "Press house");
  item_in (records, "Bench", "Cooperage", 1);
  item_in (records, "Press", "Press house", 1);
  item_in (records, "Crates", "Cooperage > Loft", 10);
}

static void
test_by_place (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  fill (&records);
  gint64 cooperage = records_place (&records, "Cooperage");
  gint64 press_house = records_place (&records, "Press house");
  assert_true (sw_place_set_walk_order (records.catalogue, press_house, 1, &error));
  assert_true (sw_place_set_walk_order (records.catalogue, cooperage, 2, &error));
  assert_true (sw_place_set_walk_order (records.catalogue,
                                        records_place (&records, "Cooperage > Loft"), 3, &error));
  assert_order (&records, 0, SW_DECIDE_BY_PLACE, "2 1 3 ");
  assert_order (&records, cooperage, SW_DECIDE_BY_PLACE, "1 3 ");
  /* decided is out of the round, and undo brings it back */
  assert_true (sw_item_move (records.catalogue, 2, SW_STATE_KEPT, NULL, NULL, NULL, &error));
  assert_order (&records, 0, SW_DECIDE_BY_PLACE, "1 3 ");
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_order (&records, 0, SW_DECIDE_BY_PLACE, "2 1 3 ");
}

/* What like things brought counts before a guess, a guess before what was paid, the price new not
 * at all; the amount is brought to the count: worked by hand. */
static void
test_by_worth (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  SwMoney asking = sw_money (30000);
  SwItemChange priced = { .asking = &asking };
  fill (&records);
  say_price (&records, 2, "new", 990000, 1);
  say_price (&records, 3, "guessed", 5000, 1); /* 10 pieces: 500.00 */
  say_price (&records, 3, "paid", 900, 1);
  assert_true (sw_item_change (records.catalogue, 1, &priced, &error));
  assert_order (&records, 0, SW_DECIDE_BY_WORTH, "3 1 2 ");
  say_price (&records, 3, "like things", 2500, 1); /* 250.00 */
  assert_order (&records, 0, SW_DECIDE_BY_WORTH, "1 3 2 ");
  g_autoptr (SwDecideRound) round
      = sw_decide_read (records.catalogue, 0, 0, SW_DECIDE_BY_WORTH, &error);
  assert_money_equal (g_array_index (round->items, SwDecideItem, 1).worth, 25000);
  assert_false (g_array_index (round->items, SwDecideItem, 2).has_worth);
}

static void
test_by_due (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  fill (&records);
  /* today is 2026-04-10; without a next trip nothing is due */
  records_trip (&records, "2026-03-01", "2026-03-04");
  gint64 quick = outlet (&records, "Dealer", 1, 1);
  outlet (&records, "Auction", 7, 5);
  g_autoptr (SwDecideRound) none
      = sw_decide_read (records.catalogue, 0, 0, SW_DECIDE_BY_DUE, &error);
  assert_false (none->has_trip);
  assert_false (g_array_index (none->items, SwDecideItem, 0).has_due);
  records_trip (&records, "2026-07-01", "2026-07-04");
  records_trip (&records, "2026-05-20", "2026-05-24");
  SwItemChange to_dealer = { .outlet = &quick };
  assert_true (sw_item_change (records.catalogue, 1, &to_dealer, &error));
  say_price (&records, 3, "guessed", 100, 1);
  assert_order (&records, 0, SW_DECIDE_BY_DUE, "3 2 1 ");
  g_autoptr (SwDecideRound) round
      = sw_decide_read (records.catalogue, 0, 0, SW_DECIDE_BY_DUE, &error);
  assert_true (round->has_trip);
  assert_i64_equal (round->next_trip.n, records_day ("2026-05-20").n);
  /* 12 days before for the slowest outlet, 2 for the dealer */
  assert_i64_equal (g_array_index (round->items, SwDecideItem, 0).due.n,
                    records_day ("2026-05-08").n);
  assert_i64_equal (g_array_index (round->items, SwDecideItem, 2).due.n,
                    records_day ("2026-05-18").n);
}

static void
test_what_waits_comes_last (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  SwWaits later = SW_WAITS_LATER, price = SW_WAITS_PRICE;
  SwItemChange to_later = { .waits = &later }, to_price = { .waits = &price };
  fill (&records);
  item_in (&records, "Vat", "Cooperage", 1);
  item_in (&records, "Trunk", "Cooperage", 1);
  assert_true (sw_item_change (records.catalogue, 1, &to_later, &error));
  assert_true (sw_item_change (records.catalogue, 2, &to_price, &error));
  assert_true (sw_question_add (records.catalogue, 3, "Whose?", "Ada", NULL, NULL, &error));
  assert_true (sw_job_add (records.catalogue, 4, 0, "measure", "", NULL, &error));
  g_autoptr (SwDecideRound) round
      = sw_decide_read (records.catalogue, 0, 0, SW_DECIDE_BY_WORTH, &error);
  assert_i64_equal (g_array_index (round->items, SwDecideItem, 0).item, 5);
  for (int why = 0; why < SW_N_PUT_OFFS; why++)
    assert_i64_equal (round->waiting[why], 1);
  /* an answer and a price end the waiting */
  assert_true (sw_question_answer (records.catalogue, 1, "not mine", &error));
  SwMoney asking = sw_money (100);
  SwItemChange priced = { .asking = &asking };
  assert_true (sw_item_change (records.catalogue, 2, &priced, &error));
  g_autoptr (SwDecideRound) after
      = sw_decide_read (records.catalogue, 0, 0, SW_DECIDE_BY_WORTH, &error);
  assert_i64_equal (after->waiting[SW_PUT_OFF_NOT], 3);
  assert_true (sw_claim_set (records.catalogue, 5, "Ina", SW_CLAIM_OPEN, &error));
  g_autoptr (SwItem) claimed = records_get (&records, 5);
  assert_i64_equal (sw_put_off_of (claimed), SW_PUT_OFF_ASK);
}

static void
test_where_the_person_stood (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  SwDecideMark mark = { SW_DECIDE_BY_DUE, 7, 6 }, read = { 9, 9, 9 };
  assert_true (sw_decide_mark_get (records.catalogue, &read, &error));
  assert_i64_equal (read.order, SW_DECIDE_BY_PLACE);
  assert_i64_equal (read.item + read.before, 0);
  assert_true (sw_decide_mark_put (records.catalogue, &mark, &error));
  records_reopen (&records);
  assert_true (sw_decide_mark_get (records.catalogue, &read, &error));
  assert_i64_equal (read.order, SW_DECIDE_BY_DUE);
  assert_i64_equal (read.item, 7);
  assert_i64_equal (read.before, 6);
  assert_null (sw_undo_sentence (records.catalogue));
}

/* ---- what Ready needs ---- */

static void
test_what_it_lacks (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gint64 number = 0;
  SwItemNew fresh
      = { .name = "thing 1", .place = records_place (&records, "Loft"), .neutral = TRUE };
  assert_true (sw_item_add (records.catalogue, &fresh, &number, &error));
  g_autoptr (SwItem) item = records_get (&records, number);
  g_autofree char *words = sw_ready_lacking_words (sw_item_lacks (item));
  assert_string_equal (words, "a name of its own and an asking price");
  assert_true (sw_claim_set (records.catalogue, number, "Ina", SW_CLAIM_OPEN, &error));
  g_autoptr (SwItem) claimed = records_get (&records, number);
  g_autofree char *three = sw_ready_lacking_words (sw_item_lacks (claimed));
  assert_string_equal (three, "a name of its own, an asking price and an answer to the open claim");
  assert_true (sw_claim_set (records.catalogue, number, "Ina", SW_CLAIM_MINE, &error));
  SwMoney asking = sw_money (100);
  SwItemChange rest = { .name = "Loom", .asking = &asking };
  assert_true (sw_item_change (records.catalogue, number, &rest, &error));
  g_autoptr (SwItem) whole = records_get (&records, number);
  assert_i64_equal (sw_item_lacks (whole), 0);
  assert_null (sw_ready_lacking_words (0));
  /* the step asks the same table */
  g_autofree char *why = sw_item_why_not (records.catalogue, whole, SW_STATE_READY, TRUE);
  assert_null (why);
}

/* ---- the fields ---- */

typedef struct
{
  const char *label;
  SwDecideField field;
  SwDecideValue set;
  const char *text; /* as read afterwards; NULL: the number counts */
  gint64 number;
  const char *sentence;
} FieldRow;

static const FieldRow field_rows[] = {
  { "name",
    SW_DECIDE_NAME,
    { TRUE, 0, (char *)"Screw press" },
    "Screw press",
    0,
    "Item 1 is called 'Screw press' now" },
  { "count", SW_DECIDE_COUNT, { TRUE, 6 }, NULL, 6, "Bench: count 6" },
  { "condition",
    SW_DECIDE_CONDITION,
    { TRUE, 0, (char *)"worn", (char *)"seen" },
    "worn",
    0,
    "Bench: condition: worn" },
  { "what is wrong",
    SW_DECIDE_WRONG,
    { TRUE, 0, (char *)"a leg is loose", (char *)"told", (char *)"Ada" },
    "a leg is loose",
    0,
    "Bench: what is wrong: a leg is loose" },
  { "lifted by",
    SW_DECIDE_LIFTED,
    { TRUE, SW_SIZE_TWO_PEOPLE },
    NULL,
    SW_SIZE_TWO_PEOPLE,
    "Bench: lifted by two people" },
  { "rides on",
    SW_DECIDE_RIDES,
    { TRUE, SW_STOWS_ROOF },
    NULL,
    SW_STOWS_ROOF,
    "Bench: rides on roof" },
  { "danger",
    SW_DECIDE_DANGER,
    { TRUE, 0, (char *)"lead paint", (char *)"guessed" },
    "lead paint",
    0,
    "Bench: dangers: lead paint" },
  { "ask",
    SW_DECIDE_ASK,
    { TRUE, 0, (char *)"Whose was it?", NULL, (char *)"Ada" },
    "Whose was it?",
    0,
    "Bench: whom to ask: Whose was it?" },
  { "outlet",
    SW_DECIDE_OUTLET,
    { TRUE, 0, (char *)"old lane SHOP" },
    "Old Lane Shop",
    1,
    "Bench: meant for Old Lane Shop" },
  { "price", SW_DECIDE_PRICE, { TRUE, 12550 }, NULL, 12550, "Bench: asking 125.50" },
  { "job",
    SW_DECIDE_JOB,
    { TRUE, 0, (char *)"Take off the vice" },
    "take off the vice",
    0,
    "Bench: jobs on the next trip: Take off the vice" },
};

static void
test_field (void **state)
{
  const FieldRow *row = *state;
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwDecideValue) before = { 0 }, after = { 0 }, undone = { 0 };
  item_in (&records, "Bench", "Cooperage", 1);
  outlet (&records, "Old Lane Shop", 60, 30);
  assert_true (sw_decide_value_get (records.catalogue, 1, row->field, &before, &error));
  assert_true (sw_decide_set (records.catalogue, 1, row->field, &row->set, &before, &error));
  assert_true (sw_decide_value_get (records.catalogue, 1, row->field, &after, &error));
  assert_true (after.has);
  if (row->text != NULL)
    assert_string_equal (after.text, row->text);
  assert_i64_equal (after.number, row->number);
  assert_string_equal (after.source != NULL ? after.source : "",
                       row->set.source != NULL ? row->set.source : "");
  assert_string_equal (after.by_whom != NULL ? after.by_whom : "",
                       row->set.by_whom != NULL ? row->set.by_whom : "");
  /* one act, one undo */
  g_autofree char *sentence = sw_undo_sentence (records.catalogue);
  assert_string_equal (sentence, row->sentence);
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_decide_value_get (records.catalogue, 1, row->field, &undone, &error));
  assert_true (sw_decide_value_equal (&undone, &before));
}

static void
test_the_same_again_is_no_act (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  item_in (&records, "Bench", "Cooperage", 4);
  SwDecideValue four = { TRUE, 4 };
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_COUNT, &four, NULL, &error));
  g_autofree char *sentence = sw_undo_sentence (records.catalogue);
  assert_string_equal (sentence, "Item 1 'Bench' added");
}

/* Nothing that somebody else said meanwhile is overwritten unseen; other fields are free. */
static void
test_changed_meanwhile (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwDecideValue) seen = { 0 };
  gint64 nine = 9;
  SwItemChange other = { .count = &nine };
  SwDecideValue four = { TRUE, 4 };
  item_in (&records, "Bench", "Cooperage", 1);
  assert_true (sw_decide_value_get (records.catalogue, 1, SW_DECIDE_COUNT, &seen, &error));
  assert_true (sw_item_change (records.catalogue, 1, &other, &error));
  assert_false (sw_decide_set (records.catalogue, 1, SW_DECIDE_COUNT, &four, &seen, &error));
  assert_sw_error (error, SW_ERROR_BUSY);
  assert_string_equal (
      error->message,
      "Bench: its count was changed to 9 meanwhile; set it again if it is to be otherwise.");
  g_clear_error (&error);
  SwDecideValue price = { TRUE, 500 };
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_PRICE, &price, NULL, &error));
  assert_true (sw_decide_value_get (records.catalogue, 1, SW_DECIDE_COUNT, &seen, &error));
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_COUNT, &four, &seen, &error));
}

typedef struct
{
  const char *label;
  SwDecideField field;
  SwDecideValue other, mine;
  const char *says;
} MeanwhileRow;

static const MeanwhileRow meanwhile_rows[] = {
  { "a price",
    SW_DECIDE_PRICE,
    { TRUE, 12550 },
    { TRUE, 9900 },
    "its asking price was changed to 125.50 meanwhile" },
  { "who lifts it",
    SW_DECIDE_LIFTED,
    { TRUE, SW_SIZE_MACHINE },
    { TRUE, SW_SIZE_HAND },
    "its who lifts it was changed to machine meanwhile" },
  { "a name",
    SW_DECIDE_NAME,
    { TRUE, 0, (char *)"Long bench" },
    { TRUE, 0, (char *)"Stool" },
    "its name was changed to \u2018Long bench\u2019 meanwhile" },
};

/* What it says now is told as the person reads it. */
static void
test_what_it_is_meanwhile (void **state)
{
  const MeanwhileRow *row = *state;
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwDecideValue) seen = { 0 };
  item_in (&records, "Bench", "Cooperage", 1);
  assert_true (sw_decide_value_get (records.catalogue, 1, row->field, &seen, &error));
  assert_true (sw_decide_set (records.catalogue, 1, row->field, &row->other, NULL, &error));
  assert_false (sw_decide_set (records.catalogue, 1, row->field, &row->mine, &seen, &error));
  assert_sw_error (error, SW_ERROR_BUSY);
  assert_contains (error->message, row->says);
}

static void
test_gone_meanwhile (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwDecideValue) seen = { 0 };
  SwDecideValue price = { TRUE, 500 }, none = { FALSE }, mine = { TRUE, 900 };
  item_in (&records, "Bench", "Cooperage", 1);
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_PRICE, &price, NULL, &error));
  assert_true (sw_decide_value_get (records.catalogue, 1, SW_DECIDE_PRICE, &seen, &error));
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_PRICE, &none, NULL, &error));
  assert_false (sw_decide_set (records.catalogue, 1, SW_DECIDE_PRICE, &mine, &seen, &error));
  assert_contains (error->message, "was changed to nothing meanwhile");
}

/* The same danger again takes it away; the mark that it brought stays until it is cleared. */
static void
test_a_danger_is_turned_on_and_off (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwDecideValue) read = { 0 };
  SwDecideValue asbestos = { TRUE, 0, (char *)"asbestos", (char *)"guessed" };
  SwDecideValue wiring = { TRUE, 0, (char *)"old wiring", (char *)"seen" };
  item_in (&records, "Bench", "Cooperage", 1);
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_DANGER, &asbestos, NULL, &error));
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_DANGER, &wiring, NULL, &error));
  assert_true (sw_decide_value_get (records.catalogue, 1, SW_DECIDE_DANGER, &read, &error));
  assert_string_equal (read.text, "asbestos, old wiring");
  /* from another source it is said otherwise, not withdrawn */
  asbestos.source = (char *)"seen";
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_DANGER, &asbestos, NULL, &error));
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_DANGER, &asbestos, NULL, &error));
  assert_true (sw_decide_value_get (records.catalogue, 1, SW_DECIDE_DANGER, &read, &error));
  assert_string_equal (read.text, "old wiring");
  g_autoptr (SwItem) item = records_get (&records, 1);
  assert_true (item->never_offer);
}

static const struct
{
  SwDecideField field;
  SwDecideValue value;
  const char *sentence;
} refused[] = {
  { SW_DECIDE_OUTLET,
    { TRUE, 0, (char *)"Nowhere" },
    "There is no outlet \xE2\x80\x98Nowhere\xE2\x80\x99; " },
  { SW_DECIDE_JOB, { TRUE, 0, (char *)"polish it" }, "A job begins with one of photograph, " },
  { SW_DECIDE_JOB, { TRUE, 0, (char *)"cutting" }, "A job begins with one of photograph, " },
  { SW_DECIDE_COUNT, { TRUE, 0 }, NULL },
  { SW_DECIDE_PRICE, { TRUE, -1 }, NULL },
  { SW_DECIDE_DANGER, { TRUE, 0, (char *)"dragons" }, "A danger is " },
  { SW_DECIDE_WRONG, { TRUE, 0, (char *)"bent", (char *)"told" }, "A fact that was told needs" },
  { SW_DECIDE_CONDITION, { TRUE, 0, (char *)"bent", (char *)"dreamt" }, "The source of a fact is" },
};

static void
test_refused (void **state)
{
  g_auto (Records) records = records_new ();
  item_in (&records, "Bench", "Cooperage", 1);
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autoptr (GError) error = NULL;
      assert_false (
          sw_decide_set (records.catalogue, 1, refused[i].field, &refused[i].value, NULL, &error));
      assert_non_null (error);
      if (refused[i].sentence != NULL && !g_str_has_prefix (error->message, refused[i].sentence))
        fail_msg ("%s", error->message);
    }
  g_autofree char *sentence = sw_undo_sentence (records.catalogue);
  assert_string_equal (sentence, "Item 1 'Bench' added");
}

/* A megabyte of text in any field is refused in one sentence, and what stood there stays. */
static void
test_a_megabyte_of_text (void **state)
{
  static const SwDecideField fields[]
      = { SW_DECIDE_NAME, SW_DECIDE_CONDITION, SW_DECIDE_WRONG, SW_DECIDE_DANGER,
          SW_DECIDE_ASK,  SW_DECIDE_OUTLET,    SW_DECIDE_JOB };
  g_auto (Records) records = records_new ();
  g_autofree char *letters = g_strnfill (1 << 20, 'x');
  g_autofree char *job = g_strconcat ("cut ", letters, NULL);
  item_in (&records, "Bench", "Cooperage", 1);
  for (gsize i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      g_autoptr (GError) error = NULL;
      SwDecideValue much
          = { TRUE, 0, fields[i] == SW_DECIDE_JOB ? job : letters, (char *)"seen", NULL };
      assert_false (sw_decide_set (records.catalogue, 1, fields[i], &much, NULL, &error));
      assert_non_null (error);
      assert_true (sw_test_is_sentence (error->message));
      if (strlen (error->message) > 1000)
        fail_msg ("field %d: %zu bytes of message", (int)fields[i], strlen (error->message));
    }
  g_autofree char *sentence = sw_undo_sentence (records.catalogue);
  assert_string_equal (sentence, "Item 1 'Bench' added");
}

/* ---- the same as before ---- */

static void
test_repeat (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  guint n = 0;
  SwDecideValue worn = { TRUE, 0, (char *)"worn", (char *)"told", (char *)"Ada" };
  SwDecideValue hand = { TRUE, SW_SIZE_HAND }, cut = { TRUE, 0, (char *)"cut the belt" };
  SwDecideValue lead = { TRUE, 0, (char *)"lead paint", (char *)"guessed" };
  item_in (&records, "Bench", "Cooperage", 1);
  item_in (&records, "Stool", "Cooperage", 1);
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_CONDITION, &worn, NULL, &error));
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_LIFTED, &hand, NULL, &error));
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_JOB, &cut, NULL, &error));
  assert_true (sw_decide_set (records.catalogue, 1, SW_DECIDE_DANGER, &lead, NULL, &error));
  assert_true (sw_decide_set (records.catalogue, 2, SW_DECIDE_DANGER, &lead, NULL, &error));
  guint all = (1u << SW_N_DECIDE_FIELDS) - 1 - (1u << SW_DECIDE_NAME) - (1u << SW_DECIDE_COUNT);
  assert_true (sw_decide_repeat (records.catalogue, 2, 1, all, &n, &error));
  assert_i64_equal (n, 4);
  g_auto (SwDecideValue) read = { 0 };
  assert_true (sw_decide_value_get (records.catalogue, 2, SW_DECIDE_CONDITION, &read, &error));
  assert_true (sw_decide_value_equal (&read, &worn)); /* hearsay stays hearsay */
  assert_true (sw_decide_value_get (records.catalogue, 2, SW_DECIDE_DANGER, &read, &error));
  assert_string_equal (read.text, "lead paint");
  assert_true (sw_decide_value_get (records.catalogue, 2, SW_DECIDE_JOB, &read, &error));
  assert_string_equal (read.text, "cut the belt");
  /* as one act */
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_decide_value_get (records.catalogue, 2, SW_DECIDE_LIFTED, &read, &error));
  assert_false (read.has);
  assert_false (sw_decide_repeat (records.catalogue, 2, 1, 1u << SW_DECIDE_PRICE, &n, &error));
  assert_string_equal (error->message, "Bench says nothing there that could be repeated.");
}

static void
test_people (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  item_in (&records, "Bench", "Cooperage", 1);
  assert_true (sw_claim_set (records.catalogue, 1, "Ina", SW_CLAIM_MINE, &error));
  assert_true (sw_fact_add (records.catalogue, 1, "age", "old", "told", "Bram", NULL, &error));
  assert_true (sw_question_add (records.catalogue, 1, "Whose?", "Ada", NULL, NULL, &error));
  assert_true (sw_question_add (records.catalogue, 1, "How old?", "Ina", NULL, NULL, &error));
  g_autoptr (GPtrArray) people = sw_people (records.catalogue, &error);
  assert_i64_equal (people->len, 3);
  assert_string_equal (g_ptr_array_index (people, 0), "Ada");
  assert_string_equal (g_ptr_array_index (people, 1), "Ina");
  assert_string_equal (g_ptr_array_index (people, 2), "Bram");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_by_place);
  SW_TEST (tests, test_by_worth);
  SW_TEST (tests, test_by_due);
  SW_TEST (tests, test_what_waits_comes_last);
  SW_TEST (tests, test_where_the_person_stood);
  SW_TEST (tests, test_what_it_lacks);
  SW_TEST (tests, test_the_same_again_is_no_act);
  SW_TEST (tests, test_changed_meanwhile);
  SW_TEST_ROWS (tests, test_what_it_is_meanwhile, meanwhile_rows);
  SW_TEST (tests, test_gone_meanwhile);
  SW_TEST (tests, test_a_danger_is_turned_on_and_off);
  SW_TEST (tests, test_refused);
  SW_TEST (tests, test_a_megabyte_of_text);
  SW_TEST (tests, test_repeat);
  SW_TEST (tests, test_people);
  SW_TEST_ROWS (tests, test_field, field_rows);
  return sw_tests_run (tests, "round");
}
