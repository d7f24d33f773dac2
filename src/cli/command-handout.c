/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is handed out: cards and tags to print, and the takings. */
#include <string.h>

#include "cli/command.h"
#include "cli/handout.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/tags.h"
#include "core/handout/cards.h"
#include "core/handout/neighbour-slip.h"
#include "core/handout/takings-sheet.h"
#include "core/handout/trip-paper.h"

SwHandoutOptions sw_handout_options;
static char *handout_credit, *handout_by;

static const GOptionEntry handout_options[] = {
  { "to", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.to,
    N_ ("The file (the pack: the folder) to write"), "FILE" },
  { "tags", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.tags,
    N_ ("With the cards or the tags: print this many with new numbers"), "N" },
  { "labels", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.labels,
    N_ ("With the tags: the sheet of labels, by name or measure"), "SHEET" },
  { "credit", 0, 0, G_OPTION_ARG_FILENAME, &handout_credit,
    N_ ("With the takings: what money counts with"), "found|sold|handed-over" },
  { "by", 0, 0, G_OPTION_ARG_FILENAME, &handout_by, N_ ("With the takings: rows by"),
    "trip|place|outlet|month|round" },
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.trip,
    N_ ("With the sheet: the trip, else the one at hand; with the family choice: what it found"),
    "N" },
  { "for", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.person,
    N_ ("With the family choice: put the open questions to this person"), "NAME" },
  { "place", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.place,
    N_ ("With the family choice: what stands there, or in places inside it"), "PLACE" },
  { "prices", 0, 0, G_OPTION_ARG_NONE, &sw_handout_options.prices,
    N_ ("With the family choice: with asking prices"), NULL },
  { "buyers", 0, 0, G_OPTION_ARG_NONE, &sw_handout_options.buyers,
    N_ ("With the tables and the receipt: with the names of buyers"), NULL },
  { "offer", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.offer,
    N_ ("With the pack: of the offer of that ref; with the receipt: of that sale"), "REF" },
  { "item", 0, 0, G_OPTION_ARG_FILENAME, &sw_handout_options.item,
    N_ ("With the pack: of an item, or the lot that it is in"), "ITEM" },
  { "looked", 0, 0, G_OPTION_ARG_NONE, &sw_handout_options.looked,
    N_ ("With the pack: its photos were looked at for house numbers, plates and faces"), NULL },
  { NULL },
};

static void
print_report (SwCall *call, const SwCardsReport *report)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "file", sw_handout_options.to);
      sw_json_int (builder, "cards", report->cards);
      sw_json_int (builder, "tags", report->tags);
      sw_json_int_or_null (builder, "first_tag", report->tags > 0, report->first_tag);
      sw_json_int (builder, "pages", report->pages);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return;
    }
  sw_out_line (_ ("%s: %d pages."), sw_handout_options.to, report->pages);
  if (report->cards > 0)
    sw_out_line (_ ("%d cards, one a place: hang each at its door and photograph it first when you "
                    "walk in."),
                 report->cards);
  if (report->tags > 0)
    sw_out_line (_ ("Tags %" PRId64 " to %" PRId64
                    ": stick one on a thing and photograph it first. These numbers are not printed "
                    "again."),
                 report->first_tag, report->first_tag + report->tags - 1);
}

static int
tell_written (SwCall *call, int pages)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "file", sw_handout_options.to);
      sw_json_int (builder, "pages", pages);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (_ ("%s written."), sw_handout_options.to);
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
    return sw_usage (error, _ ("--credit is found, sold or handed-over, not '%s'."),
                     handout_credit);
  if (handout_by != NULL && !sw_grouping_parse (handout_by, &by))
    return sw_usage (error, _ ("--by is trip, place, outlet, month or round, not '%s'."),
                     handout_by);
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL
      || !sw_takings_hand_out (catalogue, credit, by, sw_handout_options.to, &pages, error))
    return SW_EXIT_REFUSED;
  return tell_written (call, pages);
}

static int
hand_out_sheet (SwCall *call, GError **error)
{
  g_autoptr (GError) why = NULL;
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, &why);
  gint64 trip = 0;
  int pages = 0;

  /* its lines are kept where the catalogue can be written */
  if (catalogue == NULL && g_error_matches (why, SW_ERROR, SW_ERROR_READ_ONLY))
    catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  else if (catalogue == NULL)
    g_propagate_error (error, g_steal_pointer (&why));
  if (catalogue == NULL || !sw_call_trip (catalogue, sw_handout_options.trip, &trip, error)
      || !sw_trip_paper_write (catalogue, trip, sw_handout_options.to, &pages, error))
    return SW_EXIT_REFUSED;
  return tell_written (call, pages);
}

static int
hand_out_slip (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  gint64 trip = 0;
  int pages = 0;

  if (catalogue == NULL || !sw_call_trip (catalogue, sw_handout_options.trip, &trip, error)
      || !sw_neighbour_slip_write (catalogue, trip, sw_handout_options.to, &pages, error))
    return SW_EXIT_REFUSED;
  return tell_written (call, pages);
}

static int
hand_out_cards (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  SwCardsReport report = { 0 };
  gint64 tags = 0;

  if (sw_handout_options.tags != NULL
      && !sw_call_number (sw_handout_options.tags, _ ("The number of tags"), 1, &tags, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, tags > 0 ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL
      || !sw_cards_write (catalogue, sw_handout_options.to, (int)MIN (tags, SW_TAGS_AT_ONCE + 1),
                          &report, error))
    return SW_EXIT_REFUSED;
  print_report (call, &report);
  return SW_EXIT_STANDS;
}

static int
hand_out_tags (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  gsize n_sheets;
  SwLabelSheet sheet = sw_label_sheets (&n_sheets)[0];
  SwCardsReport report = { 0 };
  gint64 tags = sheet.columns * sheet.rows;

  if (sw_handout_options.labels != NULL
      && !sw_label_sheet_parse (sw_handout_options.labels, &sheet, error))
    return SW_EXIT_REFUSED;
  tags = sheet.columns * sheet.rows; /* one sheet where nothing is said */
  if (sw_handout_options.tags != NULL
      && !sw_call_number (sw_handout_options.tags, _ ("The number of tags"), 1, &tags, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL
      || !sw_tags_write (catalogue, &sheet, sw_handout_options.to,
                         (int)MIN (tags, SW_TAGS_AT_ONCE + 1), &report, error))
    return SW_EXIT_REFUSED;
  print_report (call, &report);
  return SW_EXIT_STANDS;
}

/* What there is to hand out, once. */
static const struct
{
  const char *word;
  SwCommandFunc run;
  const char *help;
} handouts[] = {
  { "cards", hand_out_cards,
    N_ ("(.pdf) a card for each door: photographed first on walking in, it tells where the photos\n"
        "after it were taken. With --tags numbered tags: stuck on a thing and photographed first, "
        "one\n"
        "makes it an item. Codes hold numbers alone, no names.") },
  { "tags", hand_out_tags,
    N_ ("(.pdf) tags alone, on a sheet of labels (--labels): a name such as '63.5 x 38.1 mm', or\n"
        "COLUMNSxROWS,LEFT,TOP,PITCHX,PITCHY,WIDTH,HEIGHT in mm. Try one on plain paper first.") },
  { "receipt", sw_handout_receipt,
    N_ ("(.pdf) of a hand-over (--offer REF), for both to sign; the buyer's name only with "
        "--buyers.") },
  { "takings", hand_out_takings, N_ ("a sheet (.pdf) or a table (.csv).") },
  { "sheet", hand_out_sheet,
    N_ ("(.pdf) what is to do on a trip, with boxes to tick; it names buyers.") },
  { "slip", hand_out_slip,
    N_ ("(.pdf) for a neighbour who hands over alone: buyer by buyer what goes and what is to be "
        "taken;\n"
        "it names buyers.") },
  { "family", sw_handout_family,
    N_ ("what still stands, for relatives to say what they would like to become of it: a page "
        "with\n"
        "its pictures inside (.html), or paper (.pdf); answers come back by 'answers'.") },
  { "pack", sw_handout_pack,
    N_ ("a new folder with photos, title and text to put an offer up with (--offer or --item); "
        "camera,\n"
        "position and all else that a photo's file says stay at home.") },
  { "standing", sw_handout_standing,
    N_ ("(.pdf) for whoever takes over: promises, holds, dues, days, questions, keys; it names "
        "people.") },
  { "inventory", sw_handout_inventory,
    N_ ("(.pdf) what still stands, with photos and values, for an executor or an insurer.") },
  { "tables", sw_handout_tables, N_ ("a folder with items, sales and events as .csv and .json.") },
  { "archive", sw_handout_archive,
    N_ ("a folder with everything in open formats; 'new --from-archive' makes a catalogue of it "
        "again.") },
};

static int
run_handout (SwCall *call, GError **error)
{
  if (sw_handout_options.to == NULL)
    return sw_usage (error, _ ("It needs --to."));
  for (gsize i = 0; i < G_N_ELEMENTS (handouts); i++)
    if (strcmp (handouts[i].word, call->operands[1]) == 0)
      return handouts[i].run (call, error);
  g_autoptr (GString) all = g_string_new (NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (handouts); i++)
    g_string_append_printf (all, "%s'%s'", i == 0 ? "" : ", ", handouts[i].word);
  return sw_usage (error, _ ("There is %s to hand out, no '%s'."), all->str, call->operands[1]);
}

/* What each is, by the table; made once. */
static const char *
handout_help (void)
{
  static char *help;

  if (help == NULL)
    {
      GString *text = g_string_new (NULL);
      for (gsize i = 0; i < G_N_ELEMENTS (handouts); i++)
        g_string_append_printf (text, "%s: %s\n", handouts[i].word, _ (handouts[i].help));
      g_string_append (text, _ ("Example: shedwalk hand-out CAT cards --to cards.pdf --tags 48"));
      help = g_string_free (text, FALSE);
    }
  return help;
}

const SwCommand sw_handout_commands[] = {
  { "hand-out", "CAT WHAT", 2, 2,
    N_ ("Write what is to be printed or sent: cards, sheets, the family choice, an offer's pack"),
    NULL, run_handout, handout_options, handout_help },
  { NULL },
};
