/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The command that ticks off a trip's sheet back home. */
#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/trip/ticks.h"

#define PLAN_MS 5000

static char *ticks_trip, *ticks_taken, *ticks_text, *ticks_counted;

static const GOptionEntry ticks_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &ticks_trip, N_ ("The trip; else the latest that began"),
    "N" },
  { "taken", 0, 0, G_OPTION_ARG_FILENAME, &ticks_taken,
    N_ ("With handed-over: the cash that was taken; else what is due"), "MONEY" },
  { "text", 0, 0, G_OPTION_ARG_FILENAME, &ticks_text,
    N_ ("With broken: what is; with done of a question: the answer"), "TEXT" },
  { "counted", 0, 0, G_OPTION_ARG_FILENAME, &ticks_counted, N_ ("What lies in the cash box"),
    "MONEY" },
  { NULL },
};

static gboolean
find_trip (SwCatalogue *catalogue, gint64 *out_trip, GError **error)
{
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));

  if (ticks_trip != NULL)
    return sw_call_number (ticks_trip, _ ("The trip"), 1, out_trip, error);
  if (!sw_tick_trip (catalogue, today, out_trip, error))
    return FALSE;
  if (*out_trip != 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
               _ ("No trip has begun yet; its sheet is ticked off afterwards."));
  return FALSE;
}

static gboolean
take_money (SwCatalogue *catalogue, const char *text, SwMoney *out_money, GError **error)
{
  return sw_money_parse_plain (text, sw_catalogue_currency (catalogue), FALSE, out_money, error);
}

static gboolean
tick_line (SwCall *call, SwCatalogue *catalogue, gint64 trip, GError **error)
{
  SwTickSaid said = { .trip = trip, .text = ticks_text };
  SwMoney taken;
  gint64 number = 0;

  if (!sw_call_number (call->operands[1], _ ("The line"), 1, &number, error)
      || !sw_tick_parse (call->operands[2], &said.tick, error)
      || (ticks_taken != NULL && !take_money (catalogue, ticks_taken, &taken, error)))
    return FALSE;
  said.number = (int)MIN (number, G_MAXINT);
  said.taken = ticks_taken != NULL ? &taken : NULL;
  return sw_tick (catalogue, &said, NULL, error);
}

static gboolean
count_cash (SwCatalogue *catalogue, gint64 trip, GError **error)
{
  SwMoney counted;

  return take_money (catalogue, ticks_counted, &counted, error)
         && sw_trip_cash_set (catalogue, trip, counted, error);
}

/* ---- telling ---- */

static void
line_to_json (JsonBuilder *builder, const SwTickLine *line)
{
  json_builder_begin_object (builder);
  sw_json_int (builder, "line", line->row.number);
  sw_json_text (builder, "part", sw_trip_part_word (line->part));
  sw_json_text (builder, "what", line->what);
  sw_json_int_or_null (builder, "item", line->row.item != 0, line->row.item);
  sw_json_text (builder, "place", line->place);
  sw_json_text (builder, "detail", line->who);
  sw_json_text (builder, "state", line->state);
  sw_json_text (builder, "tick", line->row.tick);
  sw_json_bool (builder, "broken", line->row.broken);
  sw_json_bool (builder, "open", !line->settled);
  sw_json_int (builder, "due", line->row.due.minor);
  sw_json_int (builder, "taken", line->row.taken.minor);
  json_builder_end_object (builder);
}

static void
sheet_to_json (const SwTickSheet *sheet)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_int (builder, "trip", sheet->trip->id);
  sw_json_bool (builder, "kept", sheet->kept);
  sw_json_int (builder, "open", sheet->open);
  sw_json_int (builder, "due", sheet->due.minor);
  sw_json_int (builder, "taken", sheet->taken.minor);
  sw_json_int_or_null (builder, "counted", sheet->has_counted, sheet->counted.minor);
  sw_json_int (builder, "dockets", sheet->dockets);
  json_builder_set_member_name (builder, "lines");
  json_builder_begin_array (builder);
  for (guint i = 0; i < sheet->lines->len; i++)
    line_to_json (builder, g_ptr_array_index (sheet->lines, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static void
print_line (const SwTickLine *line, SwCurrency currency)
{
  g_autofree char *due = sw_money_to_plain (line->row.due, currency);
  gboolean owed = line->part == SW_TRIP_HAND_OVER && !line->settled && line->row.due.minor > 0;
  g_autofree char *to_pay = owed ? g_strdup_printf (_ (", %s due"), due) : g_strdup ("");

  sw_out_line ("%3d  %s%s%s%s: %s%s", line->row.number, line->what, line->who != NULL ? ", " : "",
               line->who != NULL ? line->who : "", to_pay,
               line->row.tick != NULL ? line->row.tick
               : !line->settled       ? "open"
               : line->state != NULL  ? line->state
                                      : "done",
               line->row.broken ? " (broken)" : "");
}

static void
print_sheet (const SwTickSheet *sheet, SwCurrency currency)
{
  g_autofree char *due = sw_money_to_plain (sheet->due, currency);
  g_autofree char *taken = sw_money_to_plain (sheet->taken, currency);
  g_autofree char *counted = sw_money_to_plain (sheet->counted, currency);

  for (guint i = 0; i < sheet->lines->len; i++)
    print_line (g_ptr_array_index (sheet->lines, i), currency);
  sw_out_line (sheet->lines->len == 1
                   ? _ ("Trip %" PRId64 ": %u of %u line open. Taken %s of %s due.")
                   : _ ("Trip %" PRId64 ": %u of %u lines open. Taken %s of %s due."),
               sheet->trip->id, sheet->open, sheet->lines->len, taken, due);
  if (sheet->has_counted)
    sw_out_line (_ ("Counted: %s."), counted);
  if (sheet->dockets > 0)
    sw_out_line (sheet->dockets == 1
                     ? _ ("%u thing scrapped: its docket is still to be booked.")
                     : _ ("%u things scrapped: their docket is still to be booked."),
                 sheet->dockets);
}

static int
run_tick (SwCall *call, GError **error)
{
  gboolean ticks = call->n_operands == 3;
  gboolean changes = ticks || ticks_counted != NULL;
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwTickSheet) sheet = NULL;
  gint64 trip = 0;

  if (call->n_operands == 2)
    return sw_usage (error, _ ("A line needs its tick: handed-over, brought-home, scrapped, done, "
                               "not-found or broken."));
  catalogue = sw_call_open (call, changes ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL || !find_trip (catalogue, &trip, error)
      || (ticks && !tick_line (call, catalogue, trip, error))
      || (ticks_counted != NULL && !count_cash (catalogue, trip, error))
      || (sheet = sw_tick_sheet (catalogue, trip, PLAN_MS, NULL, error)) == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    sheet_to_json (sheet);
  else
    print_sheet (sheet, sw_catalogue_currency (catalogue));
  return SW_EXIT_STANDS;
}

const SwCommand sw_tick_commands[] = {
  { "tick", "CAT [LINE TICK]", 1, 3, N_ ("Tick off a trip's sheet back home, line by line"),
    N_ ("The lines are those of the sheet that was written last, by their numbers; without LINE "
        "they\n"
        "are listed. TICK is handed-over (books the cash and the sale as collected), "
        "brought-home,\n"
        "scrapped (its docket is booked on its own), done, not-found, or broken, which leaves the "
        "line\n"
        "open. Each is one act: 'shedwalk undo' takes it back.\n"
        "Example: shedwalk tick CAT 3 handed-over --taken 40"),
    run_tick, ticks_options },
  { NULL },
};
