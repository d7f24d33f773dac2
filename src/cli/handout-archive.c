/* SPDX-License-Identifier: GPL-3.0-or-later */
/* hand-out archive: the whole catalogue in open formats. */
#include "cli/handout.h"
#include "cli/output.h"
#include "core/catalogue/archive.h"
#include "core/base/language.h"

int
sw_handout_archive (SwCall *call, GError **error)
{
  const char *to = sw_handout_options.to;
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_autoptr (SwArchive) archive
      = catalogue != NULL ? sw_archive_begin (catalogue, to, error) : NULL;
  SwArchiveReport report = { 0 };

  if (archive == NULL || !sw_archive_finish (archive, NULL, NULL, &report, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "folder", to);
      sw_json_int (builder, "tables", report.tables);
      sw_json_int (builder, "rows", report.rows);
      sw_json_int (builder, "photos", report.photos);
      sw_json_int (builder, "bytes", report.bytes);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (_ ("%s: %d tables, %" PRId64 " rows, %" PRId64 " photos. It holds "
                    "everything, buyers and positions too: keep it safe."),
                 to, report.tables, report.rows, report.photos);
  return SW_EXIT_STANDS;
}
