/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who asks for a running offer: holds, no-shows, the underbidder; changed prices; how it was paid;
 * a buyer's data removed for good; and what is composed for buyers. Amounts are worked by hand. */
#include "core/catalogue/backup.h"
#include "core/catalogue/buyers.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/folder.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/steps.h"
#include "core/trade/holds.h"
#include "core/trade/run-sheet.h"
#include "core/trade/offer-text.h"
#include "core/trade/offering.h"
#include "core/trade/offers.h"
#include "core/trade/sale-sheet.h"
#include "sw-test-money.h"

#define BOARD "outlet|outlet=Board|kind=priced ad|pay_days=3|collect_days=14\n"
#define LADDER_UP "offer|ref=N1|outlet=Board|item=Ladder|up=2026-04-14|start=60.00\n"

static gint64
deal_of (SwCatalogue *catalogue, const char *ref)
{
  g_autoptr (SwDeal) deal = NULL;
  assert_true (sw_deal_find (catalogue, ref, &deal, NULL));
  assert_non_null (deal);
  return deal->id;
}

static gint64
ask (SwCatalogue *catalogue, const char *ref, const char *person, gint64 minor)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  const SwEnquiry enquiry = { .deal = deal_of (catalogue, ref),
                              .at = { 1 },
                              .person = (char *)person,
                              .has_amount = minor >= 0,
                              .amount = sw_money (minor) };
  sw_enquiry_add (catalogue, &enquiry, &id, &error);
  assert_no_error (error);
  return id;
}

static SwDay
in_days (SwCatalogue *catalogue, int n)
{
  SwDay day = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  day.n += n;
  return day;
}

static void
assert_item (SwCatalogue *catalogue, gint64 number, const char *is)
{
  g_autofree char *item = sw_test_item (catalogue, number);
  assert_string_equal (item, is);
}

/* What the only running offer says of its enquiries; held_end 0: nothing is held. */
static void
assert_row (SwCatalogue *catalogue, guint enquiries, gint64 held_end)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) rows = sw_run_running (catalogue, &error);
  assert_no_error (error);
  assert_int_equal (rows->len, 1);
  const SwRunRow *row = g_ptr_array_index (rows, 0);
  assert_int_equal (row->enquiries, enquiries);
  assert_int_equal (row->is_held, held_end != 0);
  assert_i64_equal (row->held_end.us, held_end);
}

static void
test_hold_and_no_show (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, BOARD LADDER_UP, NULL);
  gint64 named = ask (bed.catalogue, "N1", "A. Caller", 5500);
  gint64 nameless = ask (bed.catalogue, "N1", NULL, 4000);
  assert_false (sw_enquiry_hold (bed.catalogue, nameless, in_days (bed.catalogue, 3), &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_enquiry_hold (bed.catalogue, named, in_days (bed.catalogue, -1), &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_true (sw_enquiry_hold (bed.catalogue, named, in_days (bed.catalogue, 3), &error));
  assert_item (bed.catalogue, 5, "5 On hold x1 5000");
  g_autoptr (SwEnquiry) held = sw_enquiry_get (bed.catalogue, named, &error);
  assert_int_equal (held->outcome, SW_ENQUIRY_HELD);
  assert_int_equal (held->until.n, in_days (bed.catalogue, 3).n);
  SwInstant next_day = sw_day_start (in_days (bed.catalogue, 4), sw_catalogue_zone (bed.catalogue));
  assert_i64_equal (held->until_end.us, next_day.us);
  assert_row (bed.catalogue, 2, next_day.us);
  assert_true (sw_enquiry_no_show (bed.catalogue, named, &error));
  assert_row (bed.catalogue, 2, 0);
  assert_item (bed.catalogue, 5, "5 On offer x1 5000");
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_item (bed.catalogue, 5, "5 On hold x1 5000");
  const SwEnquiry nothing = { .deal = held->deal };
  assert_false (sw_enquiry_add (bed.catalogue, &nothing, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
}

static void
test_to_the_next (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL PRESS_UP, NULL);
  ask (bed.catalogue, "A1", "A. Buyer", 20000); /* who bought it is no underbidder */
  ask (bed.catalogue, "A1", "B. Other", 18000);
  ask (bed.catalogue, "A1", "C. Third", 19000);
  sw_test_book (bed.catalogue, HILL PRESS_UP PRESS_SOLD, NULL);
  gint64 deal = deal_of (bed.catalogue, "A1");
  g_autoptr (SwSaleSheet) sheet = sw_sale_sheet (bed.catalogue, deal, &error);
  assert_no_error (error);
  assert_string_equal (sheet->next->person, "C. Third");
  assert_money_equal (sheet->fees_total, 1730);
  g_autofree char *ref = NULL;
  SwInstant at = sw_catalogue_now (bed.catalogue);
  assert_true (
      sw_sale_to_next (bed.catalogue, deal, "C. Third", sw_money (19000), at, &ref, &error));
  assert_item (bed.catalogue, 1, "1 Sold x1 30000");
  SwTakingsRow total;
  g_autofree char *rows = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  /* 200 went back; 190 came. Listing 2.30 and commission 15.00 stay, as nobody gave them back; of
   * the second sale 10.00 + 4.50, and no listing: it is no offer */
  assert_money_equal (total.proceeds, 19000);
  assert_money_equal (total.fees, 1730 + 1450);
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  g_autofree char *before = sw_test_takings (bed.catalogue, SW_CREDIT_FOUND, SW_BY_TRIP, &total);
  assert_money_equal (total.proceeds, 20000);
  sw_test_totals_agree (bed.catalogue);
}

static void
test_fees_and_payments (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue,
                HILL PRESS "payment|ref=A1|at=2026-04-27|amount=50.00\n"
                           "fee|ref=A1|charge=commission|at=2026-05-01|amount=16.00\n"
                           "fee|ref=A1|charge=photo|at=2026-05-01|amount=1.00\n",
                NULL);
  gint64 deal = deal_of (bed.catalogue, "A1");
  assert_true (sw_payment_tell (bed.catalogue, deal, "cash", "Bea", &error));
  g_autoptr (SwSaleSheet) sheet = sw_sale_sheet (bed.catalogue, deal, &error);
  assert_no_error (error);
  const SwPaymentTold *paid = g_ptr_array_index (sheet->payments, 0);
  assert_string_equal (paid->how, "cash");
  assert_string_equal (paid->to_whom, "Bea");
  assert_int_equal (sheet->fees->len, 3);
  const SwSaleFee *commission = g_ptr_array_index (sheet->fees, 0),
                  *listing = g_ptr_array_index (sheet->fees, 1),
                  *photo = g_ptr_array_index (sheet->fees, 2);
  assert_money_equal (commission->difference, 100); /* 16.00 charged, 15.00 worked out */
  assert_false (listing->has_charged);
  assert_money_equal (listing->counts, 230);
  assert_money_equal (photo->difference, 100);
  assert_money_equal (sheet->fees_total, 1600 + 230 + 100);
}

static void
test_price (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, BOARD LADDER_UP, NULL);
  gint64 deal = deal_of (bed.catalogue, "N1");
  assert_true (sw_offer_set_price (bed.catalogue, deal, sw_money (4500), &error));
  g_autoptr (GPtrArray) offers = sw_offer_list (bed.catalogue, &error);
  assert_money_equal (((const SwOffer *)g_ptr_array_index (offers, 0))->start, 4500);
  g_autoptr (GPtrArray) events = sw_events_of (bed.catalogue, SW_SUBJECT_OFFER, deal, &error);
  assert_string_equal (((const SwEvent *)g_ptr_array_index (events, 0))->sentence,
                       "Offer N1: price from 60.00 to 45.00");
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_false (sw_offer_set_price (bed.catalogue, deal, sw_money (-1), &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_true (sw_offer_withdraw (bed.catalogue, deal, sw_test_day ("2026-04-20"), &error));
  assert_false (sw_offer_set_price (bed.catalogue, deal, sw_money (1), &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
}

static void
test_taken_back_by_hand (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, BOARD LADDER_UP, NULL);
  g_autoptr (GPtrArray) before = sw_offer_list (bed.catalogue, &error);
  assert_false (((const SwOffer *)g_ptr_array_index (before, 0))->to_withdraw);
  assert_true (sw_item_move (bed.catalogue, 5, SW_STATE_READY, NULL, NULL, NULL, &error));
  g_autoptr (GPtrArray) after = sw_offer_list (bed.catalogue, &error);
  assert_true (((const SwOffer *)g_ptr_array_index (after, 0))->to_withdraw);
  assert_true (sw_offer_withdraw (bed.catalogue, deal_of (bed.catalogue, "N1"),
                                  sw_test_day ("2026-04-20"), &error));
  assert_no_error (error);
  assert_item (bed.catalogue, 5, "5 Ready x1 5000");
}

/* --- removal --- */

static void
test_blot (void **state)
{
  (void)state;
  static const struct
  {
    const char *sentence, *name, *becomes;
  } cases[] = {
    { "held for Al", "Al", "held for (removed)" },
    { "held for Alba", "Al", NULL },
    { "Al, Alba and Al", "Al", "(removed), Alba and (removed)" },
    { "für Zoë", "Zo", NULL },
    { "für Zoë.", "Zoë", "für (removed)." },
  };
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *blotted = sw_buyer_blot (cases[i].sentence, cases[i].name, "(removed)");
      if (cases[i].becomes == NULL)
        assert_null (blotted);
      else
        assert_string_equal (blotted, cases[i].becomes);
    }
}

static gboolean
file_holds (const char *folder, const char *text)
{
  g_autofree char *path = g_build_filename (folder, "catalogue.db", NULL);
  g_autofree char *bytes = NULL;
  gsize length = 0;
  assert_true (g_file_get_contents (path, &bytes, &length, NULL));
  return memmem (bytes, length, text, strlen (text)) != NULL;
}

static void
test_removed_for_good (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, HILL PRESS BOARD LADDER_UP, NULL);
  gint64 id = ask (bed.catalogue, "N1", "A. Buyer", 5500);
  assert_true (sw_enquiry_hold (bed.catalogue, id, in_days (bed.catalogue, 3), &error));
  SwTakingsRow before, after;
  g_autofree char *rows = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_TRIP, &before);
  assert_true (file_holds (bed.path, "A. Buyer"));
  assert_true (sw_buyer_remove (bed.catalogue, "A. Buyer", &error));
  assert_no_error (error);
  assert_false (file_holds (bed.path, "A. Buyer"));
  g_autofree char *same = sw_test_takings (bed.catalogue, SW_CREDIT_SOLD, SW_BY_TRIP, &after);
  assert_money_equal (after.proceeds, before.proceeds.minor);
  assert_item (bed.catalogue, 5, "5 On hold x1 5000"); /* held still, for nobody named */
  /* no undo brings it back */
  assert_false (sw_undo (bed.catalogue, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_buyer_remove (bed.catalogue, "A. Buyer", &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM deal WHERE buyer > 0"), 0);
}

static gint64
ask_in_words (SwCatalogue *catalogue, const char *person, const char *remark)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  const SwEnquiry enquiry = { .deal = deal_of (catalogue, "N1"),
                              .at = { 1 },
                              .person = (char *)person,
                              .remark = (char *)remark };
  sw_enquiry_add (catalogue, &enquiry, &id, &error);
  assert_no_error (error);
  return id;
}

/* The act of a second enquiry does not hold the name, only the person's number. */
static void
test_removed_with_what_they_wrote (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  sw_test_book (bed.catalogue, BOARD LADDER_UP, NULL);
  ask_in_words (bed.catalogue, "A. Caller", "after six, side gate");
  gint64 second = ask_in_words (bed.catalogue, "A. Caller", "rings again on Friday");
  assert_true (sw_enquiry_hold (bed.catalogue, second, in_days (bed.catalogue, 3), &error));
  ask_in_words (bed.catalogue, "A. Caller", "asked in vain");
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  ask_in_words (bed.catalogue, "B. Other", "takes it as it is");
  assert_true (file_holds (bed.path, "rings again on Friday"));
  assert_true (sw_buyer_remove (bed.catalogue, "A. Caller", &error));
  assert_no_error (error);
  static const char *const gone[]
      = { "A. Caller", "after six, side gate", "rings again on Friday", "asked in vain" };
  for (guint i = 0; i < G_N_ELEMENTS (gone); i++)
    if (file_holds (bed.path, gone[i]))
      fail_msg ("'%s' is in the file still", gone[i]);
  assert_true (file_holds (bed.path, "takes it as it is"));
  /* what another one asked can be undone as before */
  assert_true (sw_undo (bed.catalogue, NULL, &error));
  assert_no_error (error);
  assert_false (sw_undo (bed.catalogue, NULL, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
}

static void
test_copies_that_hold_a_name (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *home = g_strconcat (bed.path, "-home", NULL), *unseen = NULL;
  sw_test_book (bed.catalogue, BOARD LADDER_UP, NULL);
  assert_true (sw_backup_database (bed.catalogue, "before", &error));
  ask (bed.catalogue, "N1", "A. Caller", 5500);
  assert_true (sw_backup_database (bed.catalogue, "with", &error));
  assert_true (sw_backup_to (bed.catalogue, home, NULL, NULL, &error));
  assert_no_error (error);
  g_autoptr (GPtrArray) copies = sw_buyer_copies (bed.catalogue, "A. Caller", &unseen);
  assert_int_equal (copies->len, 2);
  assert_true (g_str_has_suffix (copies->pdata[0], "-with.db"));
  assert_true (g_str_has_prefix (copies->pdata[1], home));
  assert_null (unseen);
  g_autoptr (GPtrArray) others = sw_buyer_copies (bed.catalogue, "B. Other", &unseen);
  assert_int_equal (others->len, 0);
  /* the next copies are without it */
  assert_true (sw_buyer_remove (bed.catalogue, "A. Caller", &error));
  assert_true (sw_backup_database (bed.catalogue, "after", &error));
  assert_true (sw_backup_to (bed.catalogue, home, NULL, NULL, &error));
  g_autoptr (GPtrArray) left = sw_buyer_copies (bed.catalogue, "A. Caller", &unseen);
  assert_int_equal (left->len, 1);
  assert_true (g_str_has_suffix (left->pdata[0], "-with.db"));
  sw_folder_remove (home);
  g_autoptr (GPtrArray) away = sw_buyer_copies (bed.catalogue, "A. Caller", &unseen);
  assert_int_equal (away->len, 1);
  assert_string_equal (unseen, home);
}

/* --- text --- */

static void
say (SwCatalogue *catalogue, const char *kind, const char *text, const char *source)
{
  g_autoptr (GError) error = NULL;
  sw_fact_add (catalogue, 5, kind, text, source, g_str_equal (source, "told") ? "Uncle" : NULL,
               NULL, &error);
  assert_no_error (error);
}

static void
test_text (void **state)
{
  (void)state;
  g_auto (SwTestBed) bed = sw_test_property_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *title = NULL, *text = NULL, *bare = NULL, *bare_title = NULL;
  sw_test_book (bed.catalogue, BOARD LADDER_UP, NULL);
  gint64 deal = deal_of (bed.catalogue, "N1");
  assert_true (sw_offer_text_compose (bed.catalogue, deal, &bare_title, &bare, &error));
  assert_string_equal (bare, "Condition: not known.\n"
                             "Faults: none noted; not tested for any.\n"
                             "Size: not measured.\n"
                             "Mass: not known.\n"
                             "Sold as it stands. The buyer collects it by appointment. To be paid "
                             "within 3 days. To be collected within 14 days.");
  say (bed.catalogue, SW_FACT_CONDITION, "as new", "guessed");
  say (bed.catalogue, SW_FACT_WRONG, "a rung is loose", "seen");
  say (bed.catalogue, SW_FACT_WRONG, "worm in one rail", "guessed");
  say (bed.catalogue, "maker", "Press & Sons", "told");
  say (bed.catalogue, "wood", "ash", "guessed");
  say (bed.catalogue, SW_FACT_REMARK, "Uncle may know its age",
       "seen"); /* jotted down for oneself */
  say (bed.catalogue, SW_FACT_BELONGS, "a wall hook", "seen");
  assert_true (sw_danger_add (bed.catalogue, 5, "heavy lift", "guessed", NULL, &error));
  gint64 length = 4200;
  gboolean guessed = TRUE;
  SwMass mass;
  sw_mass_parse ("18 kg", &mass, &error);
  SwItemChange change
      = { .length_mm = &length, .size_guessed = &guessed, .mass = &mass, .mass_source = "guessed" };
  assert_true (sw_item_change (bed.catalogue, 5, &change, &error));
  const SwOfferNoteChange note = { .extra = "two more of another make" };
  assert_true (sw_offer_note_change (bed.catalogue, deal, &note, &error));
  assert_true (sw_offer_text_compose (bed.catalogue, deal, &title, &text, &error));
  assert_string_equal (title, "Ladder");
  /* what was guessed is no claim: neither condition, wood, length nor mass */
  assert_null (strstr (text, "as new"));
  assert_null (strstr (text, "ash"));
  assert_null (strstr (text, "4.2"));
  assert_null (strstr (text, "18 kg"));
  assert_null (strstr (text, "Uncle"));
  assert_null (strstr (text, "Packing shed"));
  assert_contains (text, "Wrong with it: a rung is loose.\n"
                         "May be wrong with it: worm in one rail; not checked.\n"
                         "Other faults: not known.\n"
                         "Maker: Press & Sons, it is said.\n");
  assert_contains (text, "With it: a wall hook.\n");
  assert_contains (text, "Caution, heavy lift (may be, not checked): ");
  assert_contains (text, "Local codes and licensed people have the last word.");
  assert_contains (text, "Also to be had with it: two more of another make.\n");
  guessed = FALSE;
  SwItemChange sure = { .size_guessed = &guessed, .mass = &mass, .mass_source = "weighed" };
  g_autofree char *again = NULL, *again_title = NULL;
  assert_true (sw_item_change (bed.catalogue, 5, &sure, &error));
  assert_true (sw_offer_text_compose (bed.catalogue, deal, &again_title, &again, &error));
  assert_contains (again, "Size: 4.2 m.\nMass: 18 kg, weighed.\n");
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_hold_and_no_show),
    cmocka_unit_test (test_to_the_next),
    cmocka_unit_test (test_fees_and_payments),
    cmocka_unit_test (test_price),
    cmocka_unit_test (test_taken_back_by_hand),
    cmocka_unit_test (test_blot),
    cmocka_unit_test (test_removed_for_good),
    cmocka_unit_test (test_removed_with_what_they_wrote),
    cmocka_unit_test (test_copies_that_hold_a_name),
    cmocka_unit_test (test_text),
  };
  int failed = cmocka_run_group_tests (tests, NULL, NULL);
  sw_test_property_end ();
  return failed;
}
