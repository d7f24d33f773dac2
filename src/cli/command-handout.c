/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is handed out: cards and tags to print, and the takings. */
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/catalogue/tags.h"
#include "core/handout/cards.h"
#include "core/handout/takings-sheet.h"
#include "core/handout/trip-paper.h"

static char *handout_to, *handout_tags, *handout_credit, *handout_by, *handout_trip;

static const GOptionEntry handout_options[] = {
  { "to", 0, 0, G_OPTION_ARG_FILENAME, &handout_to, "The file to write", "FILE" },
  { "tags", 0, 0, G_OPTION_ARG_FILENAME, &handout_tags,
    "With the cards: print this many tags with new numbers", "N" },
  { "credit", 0, 0, G_OPTION_ARG_FILENAME, &handout_credit,
    "With the takings: what money counts with", "found|sold|handed-over" },
  { "by", 0, 0, G_OPTION_ARG_FILENAME, &handout_by, "With the takings: rows by",
    "trip|place|outlet|month|round" },
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &handout_trip,
    "With the sheet: the trip; else the one at hand", "N" },
  { NULL },
};

static void
print_report (SwCall *call, const SwCardsReport *report)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "file", handout_to);
      sw_json_int (builder, "cards", report->cards);
      sw_json_int (builder, "tags", report->tags);
      sw_json_int_or_null (builder, "first_tag", report->tags > 0, report->first_tag);
      sw_json_int (builder, "pages", report->pages);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return;
    }
  sw_out_line ("%s: %d pages.", handout_to, report->pages);
  sw_out_line ("%d cards, one a place: hang each at its door and photograph it first when you "
               "walk in.",
               report->cards);
  if (report->tags > 0)
    sw_out_line ("Tags %" G_GINT64_FORMAT " to %" G_GINT64_FORMAT
                 ": stick one on a thing and photograph it first. These numbers are not printed "
                 "again.",
                 report->first_tag, report->first_tag + report->tags - 1);
}

static int
tell_written (SwCall *call, int pages)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "file", handout_to);
      sw_json_int (builder, "pages", pages);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line ("%s written.", handout_to);
  return SW_EXIT_STANDS;
}

static int
hand_out_takings (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  SwCredit credit = SW_CREDIT_FOUND;
  SwGrouping by = SW_BY_TRIP;
  int pages = 0;

  if (handout_credit != NULL && !sw_credit_parse (handout_credit, &credit))
    return sw_usage (error, "--credit is found, sold or handed-over, not '%s'.", handout_credit);
  if (handout_by != NULL && !sw_grouping_parse (handout_by, &by))
    return sw_usage (error, "--by is trip, place, outlet, month or round, not '%s'.", handout_by);
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL || !sw_takings_hand_out (catalogue, credit, by, handout_to, &pages, error))
    return SW_EXIT_REFUSED;
  return tell_written (call, pages);
}

static int
hand_out_sheet (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  gint64 trip = 0;
  int pages = 0;

  if (catalogue == NULL || !sw_call_trip (catalogue, handout_trip, &trip, error)
      || !sw_trip_paper_write (catalogue, trip, handout_to, &pages, error))
    return SW_EXIT_REFUSED;
  return tell_written (call, pages);
}

static int
hand_out_cards (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  SwCardsReport report = { 0 };
  gint64 tags = 0;

  if (handout_tags != NULL && !sw_call_number (handout_tags, "The number of tags", 1, &tags, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, tags > 0 ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL
      || !sw_cards_write (catalogue, handout_to, (int)MIN (tags, SW_TAGS_AT_ONCE + 1), &report,
                          error))
    return SW_EXIT_REFUSED;
  print_report (call, &report);
  return SW_EXIT_STANDS;
}

/* What there is to hand out, once. */
static const struct
{
  const char *word;
  SwCommandFunc run;
} handouts[] = {
  { "cards", hand_out_cards },
  { "takings", hand_out_takings },
  { "sheet", hand_out_sheet },
};

static int
run_handout (SwCall *call, GError **error)
{
  if (handout_to == NULL)
    return sw_usage (error, "It needs --to.");
  for (gsize i = 0; i < G_N_ELEMENTS (handouts); i++)
    if (strcmp (handouts[i].word, call->operands[1]) == 0)
      return handouts[i].run (call, error);
  return sw_usage (error, "There is 'cards', 'takings' and 'sheet' to hand out, no '%s'.",
                   call->operands[1]);
}

const SwCommand sw_handout_commands[] = {
  { "hand-out", "CAT cards|takings|sheet", 2, 2,
    "Write a file to print or send: place cards and tags, the takings, the trip sheet",
    "A card hangs at its door; photographed first on walking in, it tells where the photos after\n"
    "it were taken. A tag is stuck on a thing and photographed first: it makes the thing an item.\n"
    "Codes hold numbers alone, no names. takings: a sheet (.pdf) or a table (.csv). sheet: what "
    "is\n"
    "to do on a trip, with boxes to tick (.pdf); it names buyers. Example:\n"
    "shedwalk hand-out CAT cards --to cards.pdf --tags 48",
    run_handout, handout_options },
  { NULL },
};
