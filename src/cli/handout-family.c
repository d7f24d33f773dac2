/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hand-out family: the family choice as a page or on paper. */
#include "cli/handout.h"
#include "cli/output.h"
#include "core/catalogue/places.h"
#include "core/catalogue/trips.h"
#include "core/handout/family.h"
#include "core/base/language.h"

static void
print_report (SwCall *call, const char *to, const SwFamilyReport *report)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "file", to);
      sw_json_int (builder, "items", report->items);
      sw_json_int (builder, "pictures", report->pictures);
      sw_json_int (builder, "missing", report->missing);
      sw_json_int (builder, "questions", report->questions);
      sw_json_int (builder, "pages", report->pages);
      sw_json_int (builder, "bytes", report->bytes);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return;
    }
  sw_out_line (_ ("%s written: %d items, %d pictures, %d questions, %.1f MB."), to, report->items,
               report->pictures, report->questions, (double)report->bytes / 1e6);
  if (report->missing > 0)
    sw_out_line (_ ("No picture could be made of %d photos."), report->missing);
  sw_out_line (_ ("Answers come back with: shedwalk answers CAT FILE"));
}

int
sw_handout_family (SwCall *call, GError **error)
{
  const SwHandoutOptions *options = &sw_handout_options;
  SwFamilyWish wish = { .person = options->person, .prices = options->prices };
  SwFamilyReport report = { 0 };
  g_autoptr (SwCatalogue) catalogue = NULL;

  if (options->trip != NULL
      && !sw_call_number (options->trip, _ ("The trip"), 1, &wish.trip, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  if (wish.trip != 0)
    {
      g_autoptr (SwTrip) trip = sw_trip_get (catalogue, wish.trip, error);
      if (trip == NULL)
        return SW_EXIT_REFUSED;
    }
  if (options->place != NULL)
    {
      g_autoptr (SwPlace) place = sw_place_find (catalogue, options->place, error);
      if (place == NULL)
        return SW_EXIT_REFUSED;
      wish.place = place->id;
    }
  g_autoptr (SwFamilyChoice) choice = sw_family_choice_read (catalogue, &wish, error);
  g_autoptr (SwDecoder) decoder = choice != NULL ? sw_decoder_new (NULL, 0) : NULL;
  if (choice == NULL
      || !sw_family_choice_write (choice, decoder, options->to, NULL, NULL, &report, error))
    return SW_EXIT_REFUSED;
  print_report (call, options->to, &report);
  return SW_EXIT_STANDS;
}
