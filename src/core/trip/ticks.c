/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/ticks.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/enquiries.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/ground.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/places.h"
#include "core/catalogue/questions.h"
#include "core/catalogue/steps.h"
#include "core/trade/slip.h"

#define PLAN_MS 2000
#define NEW_HOME N_ ("Home")
#define NEW_HOME_ELSEWHERE N_ ("Home, away from here")

/* One tick on its way. */
typedef struct
{
  SwCatalogue *catalogue;
  const SwTickSaid *said;
  SwTickSheet *sheet;
  SwTickLine *line;
  SwDay day;
  GString *sentence;
} Tick;

static gboolean refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
refuse (GError **error, const char *format, ...)
{
  va_list words;
  g_autofree char *sentence = NULL;

  va_start (words, format);
  sentence = g_strdup_vprintf (format, words);
  va_end (words);
  g_set_error_literal (error, SW_ERROR, SW_ERROR_REFUSED, sentence);
  return FALSE;
}

static gboolean
needs_text (const Tick *tick, const char *what, GError **error)
{
  if (tick->said->text != NULL && *tick->said->text != '\0')
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("%s: say %s."), tick->line->what, what);
  return FALSE;
}

/* ---- handed over ---- */

/* Now, but on the day of the trip: its time of day tells two equal payments of one day apart. */
static SwInstant
moment_of (const Tick *tick)
{
  const SwZone *zone = sw_catalogue_zone (tick->catalogue);
  SwInstant now = sw_catalogue_now (tick->catalogue);
  gint64 back = sw_day_of_instant (now, zone).n - tick->day.n;

  now.us -= back * 86400 * SW_US_PER_SECOND;
  return now;
}

/* A sale made later than the trip cannot be paid before it. */
static void
not_before (Tick *tick, SwDay day)
{
  tick->day.n = MAX (tick->day.n, day.n);
}

static gboolean
book_hand_over (Tick *tick, const SwDeal *deal, SwMoney taken, GError **error)
{
  g_autoptr (SwSlip) slip = sw_slip_new (tick->catalogue);

  if (taken.minor > 0)
    {
      sw_slip_row (slip, SW_ROW_PAYMENT);
      sw_slip_text (slip, SW_COLUMN_REF, deal->ref);
      sw_slip_money (slip, SW_COLUMN_AMOUNT, TRUE, taken);
      sw_slip_instant (slip, SW_COLUMN_AT, moment_of (tick));
    }
  sw_slip_row (slip, SW_ROW_COLLECTED);
  sw_slip_text (slip, SW_COLUMN_REF, deal->ref);
  sw_slip_day (slip, SW_COLUMN_AT, tick->day);
  return sw_slip_book (slip, deal->ref, NULL, error)
         && (taken.minor == 0 || sw_payment_tell (tick->catalogue, deal->id, "cash", "", error));
}

/* The other things of the same sale went along; the money stands in the line that was ticked. */
static gboolean
tick_the_lot (Tick *tick, GError **error)
{
  for (guint i = 0; i < tick->sheet->lines->len; i++)
    {
      SwTickLine *line = g_ptr_array_index (tick->sheet->lines, i);

      if (line == tick->line || line->part != SW_TRIP_HAND_OVER || line->row.tick != NULL
          || line->row.subject != tick->line->row.subject)
        continue;
      line->row.tick = sw_tick_word (SW_TICK_HANDED_OVER);
      line->row.due = SW_MONEY_ZERO;
      if (!sw_trip_line_set (tick->catalogue, tick->said->trip, &line->row, error))
        return FALSE;
      g_string_append_printf (tick->sentence, " + %s", line->what);
    }
  return TRUE;
}

static gboolean
hand_over (Tick *tick, GError **error)
{
  SwTripLineRow *row = &tick->line->row;
  g_autoptr (SwDeal) deal = sw_deal_get (tick->catalogue, row->subject, error);
  SwMoney taken = tick->said->taken != NULL ? *tick->said->taken : row->due;
  g_autofree char *money = sw_money_to_person (taken, sw_catalogue_currency (tick->catalogue));

  if (deal == NULL)
    return FALSE;
  if (taken.minor < 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("The cash that was taken is not below nothing; enter a refund on its own."));
      return FALSE;
    }
  not_before (tick, deal->ended);
  row->taken = taken;
  if (!book_hand_over (tick, deal, taken, error) || !tick_the_lot (tick, error))
    return FALSE;
  g_string_append (tick->sentence, _ (": handed over"));
  if (row->due.minor > 0 || taken.minor > 0)
    g_string_append_printf (tick->sentence, _ (", %s taken"), money);
  if (taken.minor < row->due.minor)
    {
      g_autofree char *left = sw_money_to_person (sw_money (row->due.minor - taken.minor),
                                                  sw_catalogue_currency (tick->catalogue));
      g_string_append_printf (tick->sentence, _ (", %s still owed"), left);
    }
  return TRUE;
}

/* ---- brought home ---- */

/* Those of the place that came home before. */
static guint
brought_to (const GPtrArray *at_home, gint64 place)
{
  guint n = 0;

  for (guint i = 0; i < at_home->len; i++)
    n += ((const SwItem *)g_ptr_array_index (at_home, i))->place == place;
  return n;
}

static gboolean
is_called_home (const SwPlace *place)
{
  return place->off_property
         && (sw_text_same_name (place->path, NEW_HOME)
             || sw_text_same_name (place->path, NEW_HOME_ELSEWHERE));
}

/* Of the places off the property, whatever they are called, that where most things At home stand;
 * before there are such, one called so. NULL: there is none. The yard and a shop lie off the
 * property too, so that no other is guessed. */
static const SwPlace *
home_among (const GPtrArray *places, const GPtrArray *at_home)
{
  const SwPlace *home = NULL;
  guint most = 0;

  for (guint i = 0; i < places->len; i++)
    {
      const SwPlace *place = g_ptr_array_index (places, i);
      guint n = place->off_property ? brought_to (at_home, place->id) : 0;

      if (n > most || (n == most && n > 0 && place->id < home->id)
          || (most == 0 && is_called_home (place)))
        home = place;
      most = MAX (most, n);
    }
  return home;
}

/* A new place off the property; the property itself may have one of that name. */
static gboolean
make_home (Tick *tick, const GPtrArray *places, gint64 *out_home, GError **error)
{
  const char *name = NEW_HOME;

  for (guint i = 0; i < places->len; i++)
    if (sw_text_same_name (((const SwPlace *)g_ptr_array_index (places, i))->path, name))
      name = NEW_HOME_ELSEWHERE;
  return sw_place_add (tick->catalogue, name, TRUE, NULL, NULL, out_home, error);
}

static gboolean
home_of (Tick *tick, gint64 *out_home, GError **error)
{
  const SwState state = SW_STATE_AT_HOME;
  const SwItemFilter filter = { .state = &state };
  g_autoptr (GPtrArray) places = sw_place_list (tick->catalogue, error);
  g_autoptr (GPtrArray) at_home
      = places != NULL ? sw_item_list (tick->catalogue, &filter, error) : NULL;
  const SwPlace *home;

  if (at_home == NULL)
    return FALSE;
  home = home_among (places, at_home);
  if (home == NULL)
    return make_home (tick, places, out_home, error);
  *out_home = home->id;
  return TRUE;
}

/* What is sold, held or on offer stays so: only the place is another. */
static gboolean
may_become_at_home (SwState state)
{
  return state == SW_STATE_BRING_HOME || state == SW_STATE_FOUND || state == SW_STATE_READY
         || state == SW_STATE_NO_SALE;
}

static gboolean
step_home (Tick *tick, SwItem *item, gint64 *out_number, GError **error)
{
  gint64 pieces = tick->line->row.pieces;
  SwStepOptions options
      = { .count = pieces > 0 && pieces < item->count ? pieces : 0, .day = &tick->day };
  gint64 number = item->id;

  if (item->state != SW_STATE_BRING_HOME)
    {
      if (!sw_item_move (tick->catalogue, number, SW_STATE_BRING_HOME, &options, &number, NULL,
                         error))
        return FALSE;
      options.count = 0;
    }
  return sw_item_move (tick->catalogue, number, SW_STATE_AT_HOME, &options, out_number, NULL,
                       error);
}

static gboolean
bring_home (Tick *tick, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (tick->catalogue, tick->line->row.item, error);
  g_autoptr (SwPlace) place = NULL;
  gint64 number = tick->line->row.item, home = 0;
  SwItemChange change = { .place = &home };

  /* the place before the step, which makes it one more thing At home where it stood */
  if (item == NULL || !home_of (tick, &home, error)
      || (may_become_at_home (item->state) && !step_home (tick, item, &number, error))
      || (place = sw_place_get (tick->catalogue, home, error)) == NULL
      || !sw_item_change (tick->catalogue, number, &change, error))
    return FALSE;
  g_string_append_printf (tick->sentence, _ (": brought home to %s"), place->path);
  return TRUE;
}

/* ---- the others ---- */

static gboolean
scrap (Tick *tick, GError **error)
{
  g_string_append (tick->sentence, _ (": scrapped, its docket to be entered"));
  return TRUE;
}

static gboolean
do_it (Tick *tick, GError **error)
{
  gint64 subject = tick->line->row.subject;

  switch (tick->line->part)
    {
    case SW_TRIP_JOB:
      g_string_append (tick->sentence, _ (": job done"));
      return sw_job_set_done (tick->catalogue, subject, TRUE, error);
    case SW_TRIP_LOOK:
      g_string_append (tick->sentence, _ (": walked"));
      return sw_ground_set_walked (tick->catalogue, subject, TRUE, error);
    default:
      g_string_append (tick->sentence, _ (": answered"));
      return needs_text (tick, _ ("what the answer is"), error)
             && sw_question_answer (tick->catalogue, subject, tick->said->text, error);
    }
}

static gboolean
fall_through (Tick *tick, const SwItem *item, GError **error)
{
  g_autoptr (GArray) sales = sw_deal_standing_sales (tick->catalogue, item->id, error);
  g_autoptr (SwDeal) deal = NULL;
  g_autoptr (GArray) things = NULL;
  g_autoptr (SwSlip) slip = NULL;

  if (sales == NULL || sales->len == 0)
    return sales != NULL;
  if ((deal = sw_deal_get (tick->catalogue, g_array_index (sales, gint64, sales->len - 1), error))
          == NULL
      || (things = sw_deal_items (tick->catalogue, deal->id, error)) == NULL)
    return FALSE;
  if (things->len > 1)
    return refuse (error,
                   _ ("%s was sold together with others: agree with the buyer, enter the refund on "
                      "the page On offer, and then say that it is missing."),
                   item->name);
  not_before (tick, deal->ended);
  slip = sw_slip_new (tick->catalogue);
  sw_slip_row (slip, SW_ROW_REVERSAL);
  sw_slip_text (slip, SW_COLUMN_REF, deal->ref);
  sw_slip_day (slip, SW_COLUMN_AT, tick->day);
  g_string_append (tick->sentence, _ (", its sale fell through"));
  return sw_slip_book (slip, deal->ref, NULL, error);
}

static gboolean
miss (Tick *tick, GError **error)
{
  g_autoptr (SwItem) item = sw_item_get (tick->catalogue, tick->line->row.item, error);
  SwStepOptions options = { .day = &tick->day };

  g_string_append (tick->sentence, _ (": not found"));
  return item != NULL && (item->state != SW_STATE_SOLD || fall_through (tick, item, error))
         && sw_item_move (tick->catalogue, item->id, SW_STATE_MISSING, &options, NULL, NULL, error);
}

static gboolean
say_what_is_wrong (Tick *tick, GError **error)
{
  tick->line->row.broken = TRUE;
  g_string_append (tick->sentence, _ (": broken"));
  return needs_text (tick, _ ("what is broken"), error)
         && sw_fact_add (tick->catalogue, tick->line->row.item, SW_FACT_WRONG, tick->said->text,
                         "seen", NULL, NULL, error);
}

static gboolean (*const deeds[SW_N_TICKS]) (Tick *tick, GError **error) = {
  [SW_TICK_HANDED_OVER] = hand_over, [SW_TICK_LOADED] = bring_home,
  [SW_TICK_SCRAPPED] = scrap,        [SW_TICK_DONE] = do_it,
  [SW_TICK_NOT_FOUND] = miss,        [SW_TICK_BROKEN] = say_what_is_wrong,
};

/* ---- the line ---- */

static gboolean
find_line (Tick *tick, GError **error)
{
  const SwTickSaid *said = tick->said;

  for (guint i = 0; i < tick->sheet->lines->len && tick->line == NULL; i++)
    {
      SwTickLine *line = g_ptr_array_index (tick->sheet->lines, i);

      if (line->row.number == said->number)
        tick->line = line;
    }
  if (tick->line == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                   _ ("The sheet of trip %" PRId64 " has no line %d."), said->trip, said->number);
      return FALSE;
    }
  if (said->subject != 0
      && (said->subject != tick->line->row.subject || said->item != tick->line->row.item))
    return refuse (error, _ ("Line %d is another by now; look at the sheet again."), said->number);
  return TRUE;
}

static gboolean
check_line (const Tick *tick, GError **error)
{
  const SwTickLine *line = tick->line;

  if ((line->may & (1u << tick->said->tick)) == 0)
    return refuse (error, _ ("%s: '%s' is not for a line under '%s'."), line->what,
                   _ (sw_tick_word (tick->said->tick)), _ (sw_trip_part_heading (line->part)));
  if (tick->said->tick == SW_TICK_BROKEN)
    return TRUE;
  if (line->row.tick != NULL)
    return refuse (error, _ ("%s is ticked already: %s; undo that first."), line->what,
                   _ (line->row.tick));
  if (line->settled)
    return refuse (error, _ ("%s was seen to already%s%s."), line->what,
                   line->state != NULL ? _ (": it is ") : "",
                   line->state != NULL ? _ (line->state) : "");
  return TRUE;
}

static gboolean
keep_sheet (const Tick *tick, GError **error)
{
  g_autoptr (GArray) rows = NULL;

  if (tick->sheet->kept)
    return TRUE;
  rows = g_array_new (FALSE, FALSE, sizeof (SwTripLineRow));
  for (guint i = 0; i < tick->sheet->lines->len; i++)
    g_array_append_val (rows, ((SwTickLine *)g_ptr_array_index (tick->sheet->lines, i))->row);
  return sw_trip_lines_keep (tick->catalogue, tick->said->trip,
                             (const SwTripLineRow *)(gpointer)rows->data, rows->len, error);
}

static gboolean
find_day (Tick *tick, GError **error)
{
  const SwTrip *trip = tick->sheet->trip;
  SwDay today
      = sw_day_of_instant (sw_catalogue_now (tick->catalogue), sw_catalogue_zone (tick->catalogue));

  if (today.n < trip->first.n)
    return refuse (error, _ ("Trip %" PRId64 " has not begun yet; tick it off afterwards."),
                   trip->id);
  tick->day.n = MIN (today.n, trip->last.n);
  return TRUE;
}

static gboolean
take (Tick *tick, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  const SwTickSaid *said = tick->said;
  SwSubject about = SW_SUBJECT_TRIP;

  if (!sw_act_begin (&act, tick->catalogue, error)
      || (tick->sheet = sw_tick_sheet (tick->catalogue, said->trip, PLAN_MS, NULL, error)) == NULL
      || !find_day (tick, error) || !find_line (tick, error) || !check_line (tick, error)
      || !keep_sheet (tick, error))
    return FALSE;
  g_string_append (tick->sentence, tick->line->what);
  if (!deeds[said->tick](tick, error))
    return FALSE;
  if (said->tick != SW_TICK_BROKEN)
    tick->line->row.tick = sw_tick_word (said->tick);
  about = tick->line->row.item != 0 ? SW_SUBJECT_ITEM : SW_SUBJECT_TRIP;
  return sw_trip_line_set (tick->catalogue, said->trip, &tick->line->row, error)
         && sw_act_tell (&act, about, about == SW_SUBJECT_ITEM ? tick->line->row.item : said->trip,
                         "trip.ticked", &tick->day, tick->sentence->str, error)
         && sw_act_commit (&act, tick->sentence->str, error);
}

gboolean
sw_tick (SwCatalogue *catalogue, const SwTickSaid *said, char **out_sentence, GError **error)
{
  Tick tick = { .catalogue = catalogue, .said = said, .sentence = g_string_new (NULL) };
  gboolean done = take (&tick, error);

  sw_tick_sheet_free (tick.sheet);
  if (done && out_sentence != NULL)
    *out_sentence = g_string_free (tick.sentence, FALSE);
  else
    g_string_free (tick.sentence, TRUE);
  return done;
}
