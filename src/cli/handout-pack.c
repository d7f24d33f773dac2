/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hand-out pack: what an offer is put up with; and how long an outlet lets texts be. */
#include "cli/handout.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/going-out.h"
#include "core/catalogue/items.h"
#include "core/catalogue/outlets.h"
#include "core/handout/pack.h"

static void
print_report (SwCall *call, const SwPack *pack, const SwPackReport *report)
{
  const char *to = sw_handout_options.to;

  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();

      json_builder_begin_object (builder);
      sw_json_text (builder, "folder", to);
      sw_json_text (builder, "title", pack->title);
      sw_json_int (builder, "photos", report->photos);
      sw_json_int (builder, "missing", report->missing);
      sw_json_int (builder, "lines_left_out", pack->left_out);
      sw_json_texts (builder, "names", pack->names);
      sw_json_bool (builder, "looked", sw_handout_options.looked);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return;
    }
  sw_out_line (_ ("%s written: %s, %u photos."), to, pack->title, report->photos);
  if (report->missing > 0)
    sw_out_line (_ ("No picture could be made of %u photos."), report->missing);
  if (pack->left_out > 0)
    sw_out_line (_ ("%u lines were left out to keep to the outlet's limit."), pack->left_out);
  for (guint i = 0; i < pack->names->len; i++)
    sw_out_line (_ ("The text names %s: see whether that should leave."),
                 (const char *)g_ptr_array_index (pack->names, i));
  if (!sw_handout_options.looked && report->photos > 0)
    sw_out_line (_ ("Nobody has looked at the photos yet: look for house numbers, plates and faces "
                    "before they leave (--looked says that it was done)."));
}

static SwPack *
read_pack (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (SwItem) item = NULL;

  if (sw_handout_options.offer != NULL)
    return sw_pack_of_offer (catalogue, sw_handout_options.offer, error);
  item = sw_item_find (catalogue, sw_handout_options.item, error);
  return item != NULL ? sw_pack_of_item (catalogue, item->id, error) : NULL;
}

int
sw_handout_pack (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwPack) pack = NULL;
  g_autoptr (SwDecoder) decoder = NULL;
  SwPackReport report = { 0 };

  if ((sw_handout_options.offer == NULL) == (sw_handout_options.item == NULL))
    return sw_usage (error, _ ("The pack needs --offer or --item, and one of them alone."));
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  pack = catalogue != NULL ? read_pack (catalogue, error) : NULL;
  decoder = pack != NULL ? sw_decoder_new (NULL, 1) : NULL;
  if (pack == NULL
      || !sw_pack_write (pack, decoder, NULL, sw_handout_options.to, NULL, NULL, &report, error))
    return SW_EXIT_REFUSED;
  print_report (call, pack, &report);
  return SW_EXIT_STANDS;
}

/* ---- limits ---- */

static char *limit_title, *limit_text;

static const GOptionEntry limit_options[] = {
  { "title", 0, 0, G_OPTION_ARG_FILENAME, &limit_title, N_ ("Characters of a title; 0: no limit"),
    "N" },
  { "text", 0, 0, G_OPTION_ARG_FILENAME, &limit_text, N_ ("Characters of a text; 0: no limit"),
    "N" },
  { NULL },
};

static void
print_limits (SwCall *call, const SwOutlet *outlet, const SwTextLimits *limits)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  if (!call->json)
    {
      sw_out_line (_ ("%s: title %" PRId64 ", text %" PRId64 " characters (0: no limit)."),
                   outlet->name, limits->title, limits->text);
      return;
    }
  json_builder_begin_object (builder);
  sw_json_text (builder, "outlet", outlet->name);
  sw_json_int (builder, "title", limits->title);
  sw_json_int (builder, "text", limits->text);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static int
run_limits (SwCall *call, GError **error)
{
  gboolean changes = limit_title != NULL || limit_text != NULL;
  gint64 title = 0, text = 0;
  SwTextLimits limits = { 0 };
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwOutlet) outlet = NULL;

  if ((limit_title != NULL
       && !sw_call_number (limit_title, _ ("The title's limit"), 0, &title, error))
      || (limit_text != NULL
          && !sw_call_number (limit_text, _ ("The text's limit"), 0, &text, error)))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, changes ? SW_OPEN_READ_WRITE : SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL || !sw_outlet_find (catalogue, call->operands[1], &outlet, error))
    return SW_EXIT_REFUSED;
  if (outlet == NULL)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no outlet '%s'."),
                   call->operands[1]);
      return SW_EXIT_REFUSED;
    }
  if (!sw_text_limits_get (catalogue, outlet->id, &limits, error))
    return SW_EXIT_REFUSED;
  limits = (SwTextLimits){ limit_title != NULL ? title : limits.title,
                           limit_text != NULL ? text : limits.text };
  if (changes && !sw_text_limits_set (catalogue, outlet->id, &limits, error))
    return SW_EXIT_REFUSED;
  print_limits (call, outlet, &limits);
  return SW_EXIT_STANDS;
}

const SwCommand sw_going_out_commands[] = {
  { "outlet limits", "CAT OUTLET", 2, 2, N_ ("How long titles and texts may be at an outlet"),
    N_ ("Packs for that outlet keep to it: a title is cut between words; of a text what says least "
        "is\n"
        "left out, never condition, faults, dangers or terms. Example:\n"
        "shedwalk outlet limits CAT Board --title 60 --text 2000"),
    run_limits, limit_options },
  { NULL },
};
