/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is handed out: for now the cards and tags that are printed. */
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/catalogue/tags.h"
#include "core/handout/cards.h"

static char *handout_to, *handout_tags;

static const GOptionEntry handout_options[] = {
  { "to", 0, 0, G_OPTION_ARG_FILENAME, &handout_to, "The file to write", "FILE.pdf" },
  { "tags", 0, 0, G_OPTION_ARG_FILENAME, &handout_tags,
    "With the cards: print this many tags with new numbers", "N" },
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
run_handout (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  SwCardsReport report = { 0 };
  gint64 tags = 0;

  if (strcmp (call->operands[1], "cards") != 0)
    return sw_usage (error, "There is 'cards' to hand out, no '%s'.", call->operands[1]);
  if (handout_to == NULL)
    return sw_usage (error, "It needs --to.");
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

const SwCommand sw_handout_commands[] = {
  { "hand-out", "CAT cards", 2, 2, "Write a PDF to print: a card for each place, and numbered tags",
    "A card hangs at its door; photographed first on walking in, it tells where the photos after "
    "it\n"
    "were taken. A tag is stuck on a thing and photographed first: it makes the thing an item.\n"
    "Codes hold numbers alone, no names. Example: shedwalk hand-out CAT cards --to cards.pdf "
    "--tags "
    "48",
    run_handout, handout_options },
  { NULL },
};
