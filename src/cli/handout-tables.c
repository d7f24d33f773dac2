/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hand-out tables: items, sales and events as CSV and JSON. */
#include "cli/handout.h"
#include "cli/output.h"
#include "core/handout/tables.h"
#include "core/base/language.h"

int
sw_handout_tables (SwCall *call, GError **error)
{
  const SwHandoutOptions *options = &sw_handout_options;
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  SwTablesReport report = { 0 };

  if (catalogue == NULL
      || !sw_tables_write (catalogue, options->to, options->buyers, &report, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "folder", options->to);
      sw_json_int (builder, "items", report.items);
      sw_json_int (builder, "sales", report.sales);
      sw_json_int (builder, "events", report.events);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (_ ("%s: %d items, %d sales and %d events, each as .csv and .json."), options->to,
                 report.items, report.sales, report.events);
  return SW_EXIT_STANDS;
}
