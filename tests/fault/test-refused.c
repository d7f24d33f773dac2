/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calls of core that neither a command nor a form lets through, on the catalogue with something of
 * everything: each is refused with its sentence and leaves the catalogue as it was to the byte. And
 * rows that no call writes: check names each. */
#include "in-turn.h"
#include "statement-bed.h"
#include "unit/sw-test-money.h"

#include "core/catalogue/check.h"
#include "core/catalogue/enquiries.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/going-out.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/notes.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/parts.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/prices.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/shares.h"
#include "core/catalogue/trip-lines.h"
#include "core/catalogue/van.h"
#include "core/catalogue/yard-rates.h"
#include "core/handout/pack.h"
#include "core/trade/holds.h"
#include "core/trip/ticks.h"

#include <math.h>

#define DATABASE STATEMENT_CATALOGUE "/catalogue.db"
#define NOBODY 999

typedef struct
{
  const char *label;
  StatementCall call;
  SwError code;
  const char *says;
} Refused;

#define CALL(name, expression)                                                                     \
  static gboolean name (SwCatalogue *catalogue, GError **error) { return expression; }

CALL (no_fact, sw_fact_withdraw (catalogue, NOBODY, error))
CALL (no_question, sw_question_answer (catalogue, NOBODY, "yes", error))
CALL (no_job, sw_job_set_done (catalogue, NOBODY, TRUE, error))
CALL (no_price, sw_price_withdraw (catalogue, NOBODY, error))
CALL (no_enquiry, sw_enquiry_no_show (catalogue, NOBODY, error))
CALL (share_over_all, sw_share_set (catalogue, "Cleo", 1000001, error))
CALL (cash_below_nothing, sw_trip_cash_set (catalogue, 4, sw_money (-1), error))
CALL (scrap_of_no_mass, sw_collected_rate_set (catalogue, 3, "copper", sw_test_day ("2026-06-01"),
                                               sw_money (1), (SwMass){ -1 }, error))
CALL (hold_of_what_ended, sw_enquiry_hold (catalogue, 2, sw_test_day ("2026-07-02"), error))

static gboolean
no_round (SwCatalogue *catalogue, GError **error)
{
  g_autofree char *title = sw_round_title (catalogue, NOBODY, error);
  return title != NULL;
}

static gboolean
no_offer (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (SwOfferNote) note = sw_offer_note_get (catalogue, NOBODY, error);
  return note != NULL;
}

static gboolean
no_outlet_for_item (SwCatalogue *catalogue, GError **error)
{
  const gint64 outlet = NOBODY;
  const SwItemChange change = { .outlet = &outlet };
  return sw_item_change (catalogue, 4, &change, error);
}

static gboolean
no_line (SwCatalogue *catalogue, GError **error)
{
  const SwTickSaid said = { .trip = 3, .number = 77, .tick = SW_TICK_DONE };
  return sw_tick (catalogue, &said, NULL, error);
}

static gboolean
taken_below_nothing (SwCatalogue *catalogue, GError **error)
{
  const SwMoney taken = sw_money (-1);
  const SwTickSaid said = { .trip = 3, .number = 1, .tick = SW_TICK_HANDED_OVER, .taken = &taken };
  return sw_tick (catalogue, &said, NULL, error);
}

static gboolean
offered_below_nothing (SwCatalogue *catalogue, GError **error)
{
  const SwEnquiry enquiry = { .deal = 5,
                              .at = sw_catalogue_now (catalogue),
                              .person = (char *)"E. Buyer",
                              .has_amount = TRUE,
                              .amount = sw_money (-1),
                              .remark = (char *)"" };
  return sw_enquiry_add (catalogue, &enquiry, NULL, error);
}

static gboolean
entry_below_nothing (SwCatalogue *catalogue, GError **error)
{
  const SwFamilyEntry entry = { .person = (char *)"Ada",
                                .kind = SW_FAMILY_ADVANCE,
                                .day = sw_test_day ("2026-06-01"),
                                .amount = sw_money (-1),
                                .remark = (char *)"" };
  return sw_family_entry_add (catalogue, &entry, NULL, error);
}

static gboolean
van_as_long_as_a_train (SwCatalogue *catalogue, GError **error)
{
  const SwVan van
      = { .payload = { G_GINT64_CONSTANT (1000000000) }, .length_mm = 30001, .width_mm = 1000 };
  return sw_van_set (catalogue, &van, error);
}

static gboolean
note_of_nothing (SwCatalogue *catalogue, GError **error)
{
  SwNote note
      = { .trip = 3, .at = sw_catalogue_now (catalogue), .what = (char *)"", .remark = (char *)"" };
  return sw_note_add (catalogue, &note, NULL, error);
}

static gboolean
clock_of_another (SwCatalogue *catalogue, GError **error)
{
  const double shift_s = 60;
  return sw_camera_clock_set_from (catalogue, 1, 1, 1, &shift_s, error);
}

static gboolean
clock_of_no_number (SwCatalogue *catalogue, GError **error)
{
  const double shift_s = NAN;
  return sw_camera_clock_set_from (catalogue, 1, 3, 1, &shift_s, error);
}

static gboolean
pack_of_nothing (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (SwPack) pack = sw_pack_of_items (catalogue, NULL, 0, "Board", error);
  return pack != NULL;
}

/* An offer with a text of the person's own, through an outlet that takes less. */
static gboolean
pack_of_long_words (SwCatalogue *catalogue, gint64 title, gint64 text, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  const SwTextLimits limits = { .title = title, .text = text };
  g_autoptr (SwPack) pack = NULL;

  assert_true (sw_act_begin (&act, catalogue, NULL));
  assert_true (sw_text_limits_set (catalogue, 1, &limits, NULL));
  pack = sw_pack_of_offer (catalogue, "A2", error);
  return pack != NULL;
}

CALL (title_too_long, pack_of_long_words (catalogue, 3, 0, error))
CALL (text_too_long, pack_of_long_words (catalogue, 0, 3, error))

static gboolean
join_what_was_sold (SwCatalogue *catalogue, GError **error)
{
  return sw_item_join (catalogue, 4, 3, error);
}

static const Refused rows[] = {
  { "a fact that is not there", no_fact, SW_ERROR_NOT_FOUND, "no fact 999" },
  { "a question that is not there", no_question, SW_ERROR_NOT_FOUND, "999" },
  { "a job that is not there", no_job, SW_ERROR_NOT_FOUND, "no job 999" },
  { "a price that is not there", no_price, SW_ERROR_NOT_FOUND, "no price 999" },
  { "an enquiry that is not there", no_enquiry, SW_ERROR_NOT_FOUND, "no enquiry 999" },
  { "a round that is not there", no_round, SW_ERROR_NOT_FOUND, "no round 999" },
  { "an offer that is not there", no_offer, SW_ERROR_NOT_FOUND, "no offer 999" },
  { "an item for an outlet that is not there", no_outlet_for_item, SW_ERROR_NOT_FOUND,
    "no outlet 999" },
  { "a line that the sheet has not", no_line, SW_ERROR_NOT_FOUND, "no line 77" },
  { "cash taken below nothing", taken_below_nothing, SW_ERROR_BAD_INPUT, "not below nothing" },
  { "cash counted below nothing", cash_below_nothing, SW_ERROR_BAD_INPUT, "not below nothing" },
  { "an amount offered below zero", offered_below_nothing, SW_ERROR_BAD_INPUT, "not below zero" },
  { "a family entry below zero", entry_below_nothing, SW_ERROR_BAD_INPUT, "not below zero" },
  { "a share over all there is", share_over_all, SW_ERROR_BAD_INPUT, "from 0 to 100 %" },
  { "a van longer than 30 m", van_as_long_as_a_train, SW_ERROR_BAD_INPUT, "at most 30 m" },
  { "scrap fetched from less than nothing on", scrap_of_no_mass, SW_ERROR_BAD_INPUT, "least mass" },
  { "a note of no place and no item", note_of_nothing, SW_ERROR_BAD_INPUT, "place or an item" },
  { "the clock of a photo of another trip", clock_of_another, SW_ERROR_NOT_FOUND,
    "not one of that camera" },
  { "a shift that is no number", clock_of_no_number, SW_ERROR_BAD_INPUT,
    "not a number of seconds" },
  { "a hold of what has ended", hold_of_what_ended, SW_ERROR_REFUSED, "runs no more" },
  { "a pack of nothing", pack_of_nothing, SW_ERROR_BAD_INPUT, "Nothing is chosen" },
  { "a title that the outlet does not take", title_too_long, SW_ERROR_REFUSED,
    "has 6 characters and the outlet takes 3" },
  { "a text that the outlet does not take", text_too_long, SW_ERROR_REFUSED,
    "has 4 characters and the outlet takes 3" },
  { "joined with what was offered", join_what_was_sold, SW_ERROR_REFUSED, "cannot be joined" },
};

static void
test_refused (void **state)
{
  const Refused *row = *state;
  g_autoptr (GError) error = NULL;
  g_autofree char *before = NULL, *after = NULL;
  gsize n_before = 0, n_after = 0;

  assert_true (g_file_get_contents (DATABASE, &before, &n_before, NULL));
  assert_false (row->call (in_turn_held (), &error));
  assert_sw_error (error, row->code);
  assert_contains (error->message, row->says);
  assert_true (g_file_get_contents (DATABASE, &after, &n_after, NULL));
  assert_i64_equal (n_after, n_before);
  assert_memory_equal (after, before, n_before);
}

/* ---- what check names ---- */

typedef struct
{
  const char *label, *sql, *says;
} Fault;

static const Fault faults[] = {
  { "a docket whose nets are not what was left",
    "UPDATE deal SET gross_ug = gross_ug + 1000000000 WHERE ref = 'D1'",
    "The docket D1: the nets of its lines" },
  { "a docket whose lines do not add up", "UPDATE docket_line SET amount = amount + 1",
    "The docket D1: its lines do not add up" },
  { "postings that are not what the rows say",
    "UPDATE posting SET minor = minor + 1 WHERE deal = (SELECT id FROM deal WHERE ref = 'A1')"
    " AND minor > 0",
    "The postings of A1" },
};

static gboolean
names (const SwCheckReport *report, const char *says)
{
  for (guint i = 0; i < report->faults->len; i++)
    if (strstr (g_ptr_array_index (report->faults, i), says) != NULL)
      return TRUE;
  return FALSE;
}

static void
test_named (void **state)
{
  const Fault *row = *state;
  g_auto (SwCheckReport) report = { 0 }, sound = { 0 };
  g_autoptr (GError) error = NULL;

  assert_true (sw_check_run (in_turn_held (), NULL, &sound, &error));
  assert_int_equal (sound.faults->len, 0);
  sw_test_exec (in_turn_held (), "BEGIN");
  sw_test_exec (in_turn_held (), row->sql);
  sw_check_run (in_turn_held (), NULL, &report, &error);
  sw_test_exec (in_turn_held (), "ROLLBACK");
  assert_no_error (error);
  if (!names (&report, row->says))
    for (guint i = 0; i < report.faults->len; i++)
      print_error ("%s\n", (char *)g_ptr_array_index (report.faults, i));
  assert_true (names (&report, row->says));
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  StatementBed bed;
  int failures;

  statement_bed_open (&bed);
  SW_TEST_ROWS (tests, test_refused, rows);
  SW_TEST_ROWS (tests, test_named, faults);
  failures = sw_tests_run (tests, "refused");
  statement_bed_close (&bed);
  return failures;
}
