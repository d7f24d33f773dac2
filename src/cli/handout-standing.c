/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hand-out standing, inventory and receipt: for whoever takes over, for an executor or insurer,
 * for a buyer. */
#include "cli/handout.h"
#include "cli/output.h"
#include "core/handout/inventory.h"
#include "core/handout/receipt.h"
#include "core/handout/standing.h"
#include "core/base/language.h"

static void
print_pages (SwCall *call, int pages, const SwInventoryReport *inventory)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  if (!call->json)
    {
      sw_out_line (_ ("%s written: %d pages."), sw_handout_options.to, pages);
      if (inventory != NULL && inventory->missing > 0)
        sw_out_line (_ ("No picture could be made of %u photos."), inventory->missing);
      return;
    }
  json_builder_begin_object (builder);
  sw_json_text (builder, "file", sw_handout_options.to);
  sw_json_int (builder, "pages", pages);
  if (inventory != NULL)
    {
      sw_json_int (builder, "items", inventory->items);
      sw_json_int (builder, "pictures", inventory->pictures);
      sw_json_int (builder, "missing", inventory->missing);
    }
  json_builder_end_object (builder);
  sw_out_json (builder);
}

int
sw_handout_standing (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  SwDay today;
  int pages = 0;

  if (catalogue == NULL || !sw_call_day (catalogue, NULL, &today, error)
      || !sw_standing_write (catalogue, today, sw_handout_options.to, &pages, error))
    return SW_EXIT_REFUSED;
  print_pages (call, pages, NULL);
  return SW_EXIT_STANDS;
}

int
sw_handout_inventory (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_autoptr (SwInventory) inventory = NULL;
  g_autoptr (SwDecoder) decoder = NULL;
  SwInventoryReport report = { 0 };
  SwDay today;

  if (catalogue == NULL || !sw_call_day (catalogue, NULL, &today, error)
      || (inventory = sw_inventory_read (catalogue, today, error)) == NULL)
    return SW_EXIT_REFUSED;
  decoder = sw_decoder_new (NULL, 1);
  if (!sw_inventory_write (inventory, decoder, sw_handout_options.to, NULL, NULL, &report, error))
    return SW_EXIT_REFUSED;
  print_pages (call, report.pages, &report);
  return SW_EXIT_STANDS;
}

int
sw_handout_receipt (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  int pages = 0;

  if (sw_handout_options.offer == NULL)
    return sw_usage (error, _ ("The receipt needs --offer."));
  catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  if (catalogue == NULL
      || !sw_receipt_write (catalogue, sw_handout_options.offer, sw_handout_options.buyers,
                            sw_handout_options.to, &pages, error))
    return SW_EXIT_REFUSED;
  print_pages (call, pages, NULL);
  return SW_EXIT_STANDS;
}
