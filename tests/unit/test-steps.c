/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of items: every pair of states against a second copy of the table, written by hand from the
 * design; what a step needs; splits; walks by the books; undo. */
#include "core/catalogue/check.h"
#include "sw-records.h"

#include "core/catalogue/facts.h"

/* One row a state: how an item gets there from Found (by the books), and all it may become. */
typedef struct
{
  const char *label; /* the state's word */
  const char *way;
  const char *next;
} StateRow;

#define FOUND_LEADS_TO                                                                             \
  "On hold,Sold,Bring home,For scrap,Kept,Given away,Disposed,Broken up,Missing"

static const StateRow state_rows[] = {
  { "Found", "", "Ready," FOUND_LEADS_TO },
  { "Ready", "Ready", "On offer,Found," FOUND_LEADS_TO },
  { "On offer", "Ready,On offer", "Sold,No sale,On hold,Missing,Ready,At home" },
  { "On hold", "On hold", "On offer,Ready,Found,At home,Sold,Kept,Given away,Missing" },
  { "Sold", "Sold", "Handed over,No sale" },
  { "No sale", "Ready,On offer,No sale",
    "Ready,On offer,Sold,On hold,Bring home,At home,For scrap,Kept,Given away,Disposed,Broken up,"
    "Missing" },
  { "Bring home", "Bring home", "At home,Ready,Found,On hold,Sold,Kept,Missing" },
  { "At home", "Bring home,At home",
    "On offer,On hold,Sold,Kept,Given away,For scrap,Disposed,Broken up,Missing" },
  { "For scrap", "For scrap", "Scrapped,Ready,Found,Sold,Kept,Given away,Disposed,Missing" },
  { "Missing", "Missing", "Found,Disposed" },
  { "Handed over", "Sold,Handed over", "No sale" },
  { "Scrapped", "For scrap,Scrapped", "" },
  { "Kept", "Kept", "" },
  { "Given away", "Given away", "" },
  { "Disposed", "Disposed", "" },
  { "Broken up", "Broken up", "" },
};

#define ONLY_BY_BOOKS "On offer,Sold,No sale,Handed over,Scrapped"

static gboolean
list_has (const char *list, const char *word)
{
  g_auto (GStrv) words = g_strsplit (list, ",", -1);
  return g_strv_contains ((const char *const *)words, word);
}

static SwState
state_of (const char *word)
{
  SwState state = SW_STATE_FOUND;
  g_autoptr (GError) error = NULL;
  sw_state_parse (word, &state, &error);
  assert_no_error (error);
  return state;
}

static SwDay hold_until;

static SwStepOptions
options_by (gboolean by_books)
{
  hold_until = records_day ("2026-05-01");
  return (SwStepOptions){ .by_books = by_books, .until = &hold_until, .hold_for = "Ada" };
}

static gint64
item_in_state (Records *records, const StateRow *row)
{
  gint64 number = records_item (records, "Screw press", 3, 900);
  g_auto (GStrv) way = g_strsplit (row->way, ",", -1);
  for (int i = 0; way[i] != NULL; i++)
    {
      g_autoptr (GError) error = NULL;
      SwStepOptions options = options_by (TRUE);
      sw_item_move (records->catalogue, number, state_of (way[i]), &options, NULL, NULL, &error);
      assert_no_error (error);
    }
  return number;
}

static void
check_pair (Records *records, const StateRow *from, const StateRow *to, gboolean by_books)
{
  gint64 number = item_in_state (records, from);
  gboolean same = from == to;
  gboolean legal = list_has (from->next, to->label);
  gboolean allowed = legal && (by_books || !list_has (ONLY_BY_BOOKS, to->label));
  /* asked for what is so already: nothing to do by hand, a fault of the books; a hold may always be
   * made anew */
  gboolean expected = allowed || (same && (!by_books || strcmp (to->label, "On hold") == 0));
  g_autoptr (SwItem) before = records_get (records, number);
  g_autofree char *why
      = sw_item_why_not (records->catalogue, before, state_of (to->label), !by_books);
  SwStepOptions options = options_by (by_books);
  g_autoptr (GError) error = NULL;
  gint64 taker = 0;
  gboolean ok = sw_item_move (records->catalogue, number, state_of (to->label), &options, &taker,
                              NULL, &error);
  if (ok != expected || (why == NULL) != allowed)
    fail_msg ("%s to %s (%s): %s, expected %s; why not: %s", from->label, to->label,
              by_books ? "books" : "by hand", ok ? "went" : error->message,
              expected ? "to go" : "a refusal", why);
  g_autoptr (SwItem) after = records_get (records, number);
  assert_string_equal (sw_state_word (after->state), ok ? to->label : from->label);
  assert_int_equal (after->has_hold, strcmp (sw_state_word (after->state), "On hold") == 0);
  if (ok)
    {
      assert_i64_equal (taker, number);
      return;
    }
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "Screw press");
  assert_i64_equal (after->revision, before->revision);
}

static void
test_every_pair (void **state)
{
  const StateRow *from = *state;
  g_auto (Records) records = records_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (state_rows); i++)
    {
      check_pair (&records, from, &state_rows[i], TRUE);
      check_pair (&records, from, &state_rows[i], FALSE);
    }
}

static void
test_the_copy_is_whole (void **state)
{
  assert_i64_equal (G_N_ELEMENTS (state_rows), SW_N_STATES);
  for (guint s = 0; s < SW_N_STATES; s++)
    assert_string_equal (state_rows[s].label, sw_state_word (s));
}

/* --- what a step needs --- */

typedef struct
{
  const char *label, *from, *to;
  gboolean neutral, priced, never_offer;
  SwClaim claim;
  const char *says; /* NULL: it goes, by a booking in the window */
} NeedRow;

static const NeedRow need_rows[] = {
  { "all there", "Found", "Ready", FALSE, TRUE, FALSE, SW_CLAIM_NONE, NULL },
  { "no price", "Found", "Ready", FALSE, FALSE, FALSE, SW_CLAIM_NONE, "asking price" },
  { "the machine's name", "Found", "Ready", TRUE, TRUE, FALSE, SW_CLAIM_NONE, "name" },
  { "open claim", "Found", "Ready", FALSE, TRUE, FALSE, SW_CLAIM_OPEN, "claim of Bea" },
  { "claimed does not hinder Ready", "Found", "Ready", FALSE, TRUE, FALSE, SW_CLAIM_MINE, NULL },
  { "claimed hinders the offer", "Ready", "On offer", FALSE, TRUE, FALSE, SW_CLAIM_MINE,
    "claimed" },
  { "never offer does not hinder Ready", "Found", "Ready", FALSE, TRUE, TRUE, SW_CLAIM_NONE, NULL },
  { "home and priced", "At home", "On offer", FALSE, TRUE, FALSE, SW_CLAIM_NONE, NULL },
  { "home without price", "At home", "On offer", FALSE, FALSE, FALSE, SW_CLAIM_NONE,
    "asking price" },
  { "home without name", "At home", "On offer", TRUE, TRUE, FALSE, SW_CLAIM_NONE, "name" },
  { "sold while open", "Found", "Sold", FALSE, TRUE, FALSE, SW_CLAIM_OPEN, "Bea" },
  { "sold though claimed", "Found", "Sold", FALSE, TRUE, FALSE, SW_CLAIM_MINE, "claimed" },
  { "sold uncleared", "Found", "Sold", FALSE, TRUE, TRUE, SW_CLAIM_NONE, "cleared" },
  { "sold without price", "Found", "Sold", FALSE, FALSE, FALSE, SW_CLAIM_NONE, NULL },
  { "given away while open", "Found", "Given away", FALSE, TRUE, FALSE, SW_CLAIM_OPEN, "Bea" },
  { "given away uncleared", "Found", "Given away", FALSE, TRUE, TRUE, SW_CLAIM_NONE, "cleared" },
  { "on offer again while open", "No sale", "On offer", FALSE, TRUE, FALSE, SW_CLAIM_OPEN, "Bea" },
  { "on offer again uncleared", "No sale", "On offer", FALSE, TRUE, TRUE, SW_CLAIM_NONE,
    "cleared" },
  { "kept though claimed", "Found", "Kept", FALSE, FALSE, TRUE, SW_CLAIM_MINE, NULL },
  { "scrap though open", "Found", "For scrap", TRUE, FALSE, TRUE, SW_CLAIM_OPEN, NULL },
  { "home though open", "Found", "Bring home", TRUE, FALSE, TRUE, SW_CLAIM_OPEN, NULL },
};

/* The rows stand in the order of the states: test_the_copy_is_whole. */
static const StateRow *
row_of (const char *word)
{
  return &state_rows[state_of (word)];
}

/* An item as the row says, brought to its state by the books first. */
static gint64
needy_item (Records *records, const NeedRow *row)
{
  g_autoptr (GError) error = NULL;
  gint64 number = 0;
  SwMoney asking = sw_money (900);
  SwItemNew item = { .name = "thing 3",
                     .neutral = row->neutral,
                     .place = records_place (records, "Loft"),
                     .asking = row->priced ? &asking : NULL };
  assert_true (sw_item_add (records->catalogue, &item, &number, &error));
  g_auto (GStrv) way = g_strsplit (row_of (row->from)->way, ",", -1);
  SwStepOptions options = options_by (TRUE);
  for (int i = 0; way[i] != NULL; i++)
    assert_true (
        sw_item_move (records->catalogue, number, state_of (way[i]), &options, NULL, NULL, &error));
  SwItemChange change
      = { .claim = &row->claim, .claim_by = "Bea", .never_offer = &row->never_offer };
  assert_true (sw_item_change (records->catalogue, number, &change, &error));
  return number;
}

static void
test_needs (void **state)
{
  const NeedRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 number = needy_item (&records, row);
  g_autoptr (SwItem) item = records_get (&records, number);
  g_autofree char *why = sw_item_why_not (records.catalogue, item, state_of (row->to), FALSE);
  if (row->says == NULL)
    assert_null (why);
  else
    assert_contains (why, row->says);
  /* by the books all of it passes; what blocks (not what is merely missing) is remarked */
  g_autoptr (GError) error = NULL;
  g_autofree char *remark = NULL;
  SwStepOptions options = options_by (TRUE);
  assert_true (sw_item_move (records.catalogue, number, state_of (row->to), &options, NULL, &remark,
                             &error));
  gboolean blocks
      = row->says != NULL && strcmp (row->to, "Ready") != 0 && strcmp (row->from, "At home") != 0;
  if (blocks)
    assert_contains (remark, row->says);
  else
    assert_null (remark);
}

static void
test_by_hand_says_where_to_go (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Screw press", 1, 900);
  g_autoptr (GError) error = NULL;
  assert_false (sw_item_move (records.catalogue, number, SW_STATE_SOLD, NULL, NULL, NULL, &error));
  assert_contains (error->message, "book");
  g_clear_error (&error);
  assert_false (
      sw_item_move (records.catalogue, number, SW_STATE_AT_HOME, NULL, NULL, NULL, &error));
  assert_contains (error->message, "Ready, On hold, Sold, Bring home");
  g_clear_error (&error);
  assert_true (sw_item_move (records.catalogue, number, SW_STATE_KEPT, NULL, NULL, NULL, &error));
  assert_false (sw_item_move (records.catalogue, number, SW_STATE_FOUND, NULL, NULL, NULL, &error));
  assert_contains (error->message, "undo");
  g_clear_error (&error);
  assert_false (sw_item_move (records.catalogue, 77, SW_STATE_READY, NULL, NULL, NULL, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

/* --- holds --- */

typedef struct
{
  const char *label, *until, *hold_for;
  gboolean by_books, goes;
} HoldRow;

static const HoldRow hold_rows[] = {
  { "both", "2026-05-01", "Ada", FALSE, TRUE },
  { "the day itself", "2026-04-10", "Ada", FALSE, TRUE },
  { "the day before", "2026-04-09", "Ada", FALSE, FALSE },
  { "nobody", "2026-05-01", NULL, FALSE, FALSE },
  { "blank", "2026-05-01", "  ", FALSE, FALSE },
  { "no day", NULL, "Ada", FALSE, FALSE },
  { "newline", "2026-05-01", "A\nda", FALSE, FALSE },
  { "told without a person", "2026-05-01", NULL, TRUE, TRUE },
  { "told without a day", NULL, "Ada", TRUE, FALSE },
};

static void
test_hold (void **state)
{
  const HoldRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Cider vat", 1, -1);
  SwDay until = row->until != NULL ? records_day (row->until) : (SwDay){ 0 };
  SwStepOptions options = { .until = row->until != NULL ? &until : NULL,
                            .hold_for = row->hold_for,
                            .by_books = row->by_books };
  g_autoptr (GError) error = NULL;
  gboolean ok
      = sw_item_move (records.catalogue, number, SW_STATE_ON_HOLD, &options, NULL, NULL, &error);
  assert_int_equal (ok, row->goes);
  g_autoptr (SwItem) item = records_get (&records, number);
  assert_int_equal (item->has_hold, row->goes);
  if (!row->goes)
    return;
  assert_i64_equal (item->hold_until.n, until.n);
  if (row->hold_for != NULL)
    assert_string_equal (item->hold_for, row->hold_for);
  g_auto (SwCheckReport) report = { 0 };
  assert_true (sw_check_run (records.catalogue, NULL, &report, &error));
  assert_i64_equal (report.faults->len, 0);
  assert_true (sw_item_move (records.catalogue, number, SW_STATE_FOUND, NULL, NULL, NULL, &error));
  g_autoptr (SwItem) freed = records_get (&records, number);
  assert_false (freed->has_hold);
  assert_null (freed->hold_for);
}

static void
test_hold_made_anew (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Crates", 5, -1);
  SwStepOptions options = options_by (FALSE);
  g_autoptr (GError) error = NULL;
  assert_true (
      sw_item_move (records.catalogue, number, SW_STATE_ON_HOLD, &options, NULL, NULL, &error));
  options.hold_for = "Bea";
  options.count = 2;
  gint64 part = 0;
  assert_true (
      sw_item_move (records.catalogue, number, SW_STATE_ON_HOLD, &options, &part, NULL, &error));
  g_autoptr (SwItem) one = records_get (&records, number);
  g_autoptr (SwItem) two = records_get (&records, part);
  assert_string_equal (one->hold_for, "Ada");
  assert_string_equal (two->hold_for, "Bea");
  assert_i64_equal (one->count, 3);
  assert_i64_equal (two->count, 2);
}

/* --- splits --- */

typedef struct
{
  const char *label;
  gint64 count, part, asking, mass, asking_stays, asking_goes, mass_stays, mass_goes;
} SplitRow;

/* By hand: largest remainder, ties to what stays. */
static const SplitRow split_rows[] = {
  { "even", 4, 2, 1000, 400, 500, 500, 200, 200 },
  { "tie stays", 2, 1, 5, 7, 3, 2, 4, 3 },
  { "thirds, one goes", 3, 1, 100, 10, 67, 33, 7, 3 },
  { "thirds, two go", 3, 2, 100, 10, 33, 67, 3, 7 },
  { "less than the count", 5, 2, 1, 0, 1, 0, 0, 0 },
  { "large", 1000000000, 1, 1000000001, 1000000000, 1000000000, 1, 999999999, 1 },
};

static void
test_split (void **state)
{
  const SplitRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Crates", row->count, row->asking);
  gint64 photos[] = { records_photo (&records, "b.jpg"), records_photo (&records, "a.jpg") };
  g_autoptr (GError) error = NULL;
  SwMass mass = { row->mass };
  SwItemChange change = { .mass = &mass, .mass_source = "weighed" };
  assert_true (sw_item_change (records.catalogue, number, &change, &error));
  assert_true (sw_item_assign (records.catalogue, number, photos, 2, FALSE, &error));
  assert_true (
      sw_fact_add (records.catalogue, number, "danger", "lead paint", "seen", NULL, NULL, &error));
  gint64 part = 0;
  assert_true (sw_item_split (records.catalogue, number, row->part, &part, &error));
  assert_i64_equal (part, number + 1);
  g_autoptr (SwItem) stays = records_get (&records, number);
  g_autoptr (SwItem) goes = records_get (&records, part);
  assert_i64_equal (stays->count, row->count - row->part);
  assert_i64_equal (goes->count, row->part);
  assert_money_equal (stays->asking, row->asking_stays);
  assert_money_equal (goes->asking, row->asking_goes);
  assert_i64_equal (stays->mass.ug, row->mass_stays);
  assert_i64_equal (goes->mass.ug, row->mass_goes);
  assert_string_equal (goes->mass_source, "weighed");
  assert_i64_equal (goes->origin, number);
  assert_i64_equal (goes->place, stays->place);
  g_autoptr (GArray) shown = sw_item_photos (records.catalogue, part, &error);
  assert_i64_equal (shown->len, 2);
  assert_i64_equal (g_array_index (shown, gint64, 0), photos[0]);
  g_autoptr (GPtrArray) facts = sw_fact_list (records.catalogue, part, &error);
  assert_i64_equal (facts->len, 1);
}

static void
test_split_without_amounts (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Crates", 3, -1);
  g_autoptr (GError) error = NULL;
  gint64 part = 0;
  assert_true (sw_item_split (records.catalogue, number, 1, &part, &error));
  g_autoptr (SwItem) goes = records_get (&records, part);
  assert_false (goes->has_asking || goes->has_mass);
  const gint64 bad[] = { 0, -1, 2, 3 };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      assert_false (sw_item_split (records.catalogue, number, bad[i], NULL, &error));
      assert_sw_error (error, SW_ERROR_REFUSED);
      g_clear_error (&error);
    }
}

static void
test_a_part_takes_the_step (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Crates", 20, 6000);
  SwStepOptions options = { .count = 3 };
  g_autoptr (GError) error = NULL;
  gint64 part = 0;
  assert_true (
      sw_item_move (records.catalogue, number, SW_STATE_KEPT, &options, &part, NULL, &error));
  g_autoptr (SwItem) stays = records_get (&records, number);
  g_autoptr (SwItem) goes = records_get (&records, part);
  assert_i64_equal (stays->state, SW_STATE_FOUND);
  assert_i64_equal (goes->state, SW_STATE_KEPT);
  assert_i64_equal (stays->count, 17);
  g_autofree char *sentence = sw_undo_sentence (records.catalogue);
  assert_string_equal (sentence, "3 of 20 Crates: Found to Kept");
  /* refused steps split nothing */
  assert_false (
      sw_item_move (records.catalogue, number, SW_STATE_SOLD, &options, NULL, NULL, &error));
  g_clear_error (&error);
  options.count = 18;
  assert_false (
      sw_item_move (records.catalogue, number, SW_STATE_KEPT, &options, NULL, NULL, &error));
  assert_contains (error->message, "only 17");
  g_clear_error (&error);
  options.count = 17;
  gint64 whole = 0;
  assert_true (
      sw_item_move (records.catalogue, number, SW_STATE_KEPT, &options, &whole, NULL, &error));
  assert_i64_equal (whole, number);
  g_autoptr (GPtrArray) items = sw_item_list (records.catalogue, NULL, &error);
  assert_i64_equal (items->len, 2);
  /* the part of a part */
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (SwItem) joined = records_get (&records, number);
  assert_i64_equal (joined->count, 20);
  assert_money_equal (joined->asking, 6000);
  assert_null (sw_item_get (records.catalogue, part, &error));
  g_clear_error (&error);
  records_reopen (&records);
  assert_true (sw_redo (records.catalogue, NULL, &error));
  g_autoptr (SwItem) again = records_get (&records, part);
  assert_i64_equal (again->count, 3);
  assert_i64_equal (again->state, SW_STATE_KEPT);
  /* a number is never given twice */
  assert_true (sw_undo (records.catalogue, NULL, &error));
  assert_true (records_item (&records, "Bottle rack", 1, -1) > part);
}

/* --- walks by the books --- */

typedef struct
{
  const char *label, *from, *to;
  const char *told; /* the steps, oldest first; NULL: refused */
} WalkRow;

static const WalkRow walk_rows[] = {
  { "found, put up", "Found", "On offer", "Found to Ready,Ready to On offer" },
  { "found, sold", "Found", "Sold", "Found to Sold" },
  { "found, no sale", "Found", "No sale", "Found to Ready,Ready to On offer,On offer to No sale" },
  { "found, gone", "Found", "Handed over", "Found to Sold,Sold to Handed over" },
  { "found, weighed", "Found", "Scrapped", "Found to For scrap,For scrap to Scrapped" },
  { "on offer, weighed", "On offer", "Scrapped",
    "On offer to Ready,Ready to For scrap,For scrap to Scrapped" },
  { "home, put up", "At home", "On offer", "At home to On offer" },
  { "scrap, put up", "For scrap", "On offer", "For scrap to Ready,Ready to On offer" },
  { "to bring home, put up", "Bring home", "On offer", "Bring home to Ready,Ready to On offer" },
  { "missing, sold", "Missing", "Sold", "Missing to Found,Found to Sold" },
  { "missing, put up", "Missing", "On offer", "Missing to Found,Found to Ready,Ready to On offer" },
  { "sold, not found", "Sold", "Missing", "Sold to No sale,No sale to Missing" },
  { "second offer", "On offer", "On offer", "" },
  { "second no sale", "No sale", "No sale", "" },
  { "held anew", "On hold", "On hold", "still On hold until 2026-05-01 for Ada" },
  { "hold before offer", "On offer", "On hold", "On offer to On hold until 2026-05-01 for Ada" },
  { "sold twice", "Sold", "Sold", NULL },
  { "sold, put up", "Sold", "On offer", NULL },
  { "sold, weighed", "Sold", "Scrapped", NULL },
  { "gone, sold", "Handed over", "Sold", NULL },
  { "gone, missing", "Handed over", "Missing", NULL },
  { "gone twice", "Handed over", "Handed over", NULL },
  { "kept, sold", "Kept", "Sold", NULL },
  { "scrapped twice", "Scrapped", "Scrapped", NULL },
};

/* "A to B,B to C" of the moves of the last act. */
static char *
moves_told (Records *records, gint64 number, gint64 after)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) events = sw_events_of (records->catalogue, SW_SUBJECT_ITEM, number, &error);
  assert_no_error (error);
  g_autoptr (GString) told = g_string_new (NULL);
  for (guint i = events->len; i > 0; i--)
    {
      const SwEvent *event = g_ptr_array_index (events, i - 1);
      if (event->id <= after)
        continue;
      assert_true (event->has_day);
      assert_i64_equal (event->day.n, records_day ("2026-03-07").n);
      g_string_append_printf (told, "%s%s", told->len > 0 ? "," : "",
                              event->sentence + strlen ("Screw press: "));
    }
  return g_strdup (told->str);
}

static gint64
last_event (Records *records, gint64 number)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) events = sw_events_of (records->catalogue, SW_SUBJECT_ITEM, number, &error);
  return ((const SwEvent *)g_ptr_array_index (events, 0))->id;
}

static void
test_walk (void **state)
{
  const WalkRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 number = item_in_state (&records, row_of (row->from));
  gint64 before = last_event (&records, number);
  SwDay day = records_day ("2026-03-07");
  SwStepOptions options = options_by (TRUE);
  options.day = &day;
  g_autoptr (GError) error = NULL;
  gint64 taker = 0;
  gboolean ok = sw_item_walk_to (records.catalogue, number, state_of (row->to), &options, &taker,
                                 NULL, &error);
  g_autofree char *told = moves_told (&records, number, before);
  g_autoptr (SwItem) item = records_get (&records, number);
  if (row->told == NULL)
    {
      assert_false (ok);
      assert_sw_error (error, SW_ERROR_REFUSED);
      assert_string_equal (told, "");
      assert_string_equal (sw_state_word (item->state), row->from);
      return;
    }
  assert_no_error (error);
  assert_string_equal (told, row->told);
  assert_string_equal (sw_state_word (item->state), row->to);
  assert_i64_equal (taker, number);
  if (*row->told == '\0')
    return;
  /* the whole walk is one act */
  assert_true (sw_undo (records.catalogue, NULL, &error));
  g_autoptr (SwItem) back = records_get (&records, number);
  assert_string_equal (sw_state_word (back->state), row->from);
}

static void
test_walk_of_a_part_with_remark (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Crates", 6, 600);
  const SwClaim open = SW_CLAIM_OPEN;
  SwItemChange change = { .claim = &open, .claim_by = "Bea" };
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_change (records.catalogue, number, &change, &error));
  SwStepOptions options = { .count = 2 };
  gint64 part = 0;
  g_autofree char *remark = NULL;
  assert_true (sw_item_walk_to (records.catalogue, number, SW_STATE_NO_SALE, &options, &part,
                                &remark, &error));
  assert_i64_equal (part, number + 1);
  assert_contains (remark, "whether Bea wants it");
  g_autoptr (SwItem) goes = records_get (&records, part);
  g_autoptr (SwItem) stays = records_get (&records, number);
  assert_i64_equal (goes->state, SW_STATE_NO_SALE);
  assert_i64_equal (goes->count, 2);
  assert_i64_equal (stays->state, SW_STATE_FOUND);
}

static void
test_step_inside_a_larger_act (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 number = records_item (&records, "Screw press", 1, 900);
  g_autoptr (GError) error = NULL;
  {
    g_auto (SwAct) act = SW_ACT_INIT;
    assert_true (sw_act_begin (&act, records.catalogue, &error));
    assert_true (
        sw_item_move (records.catalogue, number, SW_STATE_READY, NULL, NULL, NULL, &error));
    assert_false (
        sw_item_move (records.catalogue, number, SW_STATE_SOLD, NULL, NULL, NULL, &error));
    g_clear_error (&error);
    assert_true (sw_item_move (records.catalogue, number, SW_STATE_KEPT, NULL, NULL, NULL, &error));
  } /* not committed */
  g_autoptr (SwItem) item = records_get (&records, number);
  assert_i64_equal (item->state, SW_STATE_FOUND);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_the_copy_is_whole);
  SW_TEST_ROWS (tests, test_every_pair, state_rows);
  SW_TEST_ROWS (tests, test_needs, need_rows);
  SW_TEST (tests, test_by_hand_says_where_to_go);
  SW_TEST_ROWS (tests, test_hold, hold_rows);
  SW_TEST (tests, test_hold_made_anew);
  SW_TEST_ROWS (tests, test_split, split_rows);
  SW_TEST (tests, test_split_without_amounts);
  SW_TEST (tests, test_a_part_takes_the_step);
  SW_TEST_ROWS (tests, test_walk, walk_rows);
  SW_TEST (tests, test_walk_of_a_part_with_remark);
  SW_TEST (tests, test_step_inside_a_larger_act);
  return sw_tests_run (tests, "steps");
}
