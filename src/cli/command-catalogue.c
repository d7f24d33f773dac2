/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on a whole catalogue: new, undo, redo, check, backup, restore. */
#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/archive.h"
#include "core/catalogue/backup.h"
#include "core/catalogue/check.h"
#include "core/catalogue/rescue.h"
#include "core/intake/bring-in.h"

static char *new_name, *new_currency, *new_zone, *new_archive;

static const GOptionEntry new_options[] = {
  { "name", 0, 0, G_OPTION_ARG_FILENAME, &new_name, N_ ("Name of the property"), "NAME" },
  { "currency", 0, 0, G_OPTION_ARG_FILENAME, &new_currency, N_ ("Currency, by ISO 4217"), "CODE" },
  { "zone", 0, 0, G_OPTION_ARG_FILENAME, &new_zone, N_ ("Time zone of the property, by IANA"),
    "AREA/CITY" },
  { "from-archive", 0, 0, G_OPTION_ARG_FILENAME, &new_archive,
    N_ ("Make it from an archive (hand-out archive), which says all three"), "FOLDER" },
  { NULL },
};

static int
new_from_archive (SwCall *call, GError **error)
{
  SwArchiveReport report = { 0 };

  if (new_name != NULL || new_currency != NULL || new_zone != NULL)
    return sw_usage (error, _ ("An archive says name, currency and zone itself; leave them out."));
  if (!sw_archive_read (new_archive, call->operands[0], NULL, &report, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "catalogue", call->operands[0]);
      sw_json_int (builder, "rows", report.rows);
      sw_json_int (builder, "photos", report.photos);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (
        _ ("Made the catalogue %s from the archive: %" PRId64 " rows, %" PRId64
           " photos, each compared. Its history can be read; what was done before cannot be "
           "undone any more."),
        call->operands[0], report.rows, report.photos);
  return SW_EXIT_STANDS;
}

static int
run_new (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;

  if (new_archive != NULL)
    return new_from_archive (call, error);
  if (new_name == NULL || new_currency == NULL || new_zone == NULL)
    return sw_usage (error, _ ("It needs --name, --currency and --zone."));
  catalogue = sw_catalogue_create (call->operands[0], new_name, new_currency, new_zone, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "catalogue", sw_catalogue_folder (catalogue));
      sw_json_text (builder, "name", sw_catalogue_name (catalogue));
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (_ ("Made the catalogue '%s' in %s."), sw_catalogue_name (catalogue),
                 sw_catalogue_folder (catalogue));
  return SW_EXIT_STANDS;
}

typedef gboolean (*UndoFunc) (SwCatalogue *catalogue, char **out_sentence, GError **error);

static int
run_undo_or_redo (SwCall *call, UndoFunc func, const char *member, const char *lead, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  g_autofree char *sentence = NULL;

  if (catalogue == NULL || !func (catalogue, &sentence, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, member, sentence);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line ("%s: %s", lead, sentence);
  return SW_EXIT_STANDS;
}

static int
run_undo (SwCall *call, GError **error)
{
  return run_undo_or_redo (call, sw_undo, "undone", _ ("Taken back"), error);
}

static int
run_redo (SwCall *call, GError **error)
{
  return run_undo_or_redo (call, sw_redo, "redone", _ ("Done again"), error);
}

static void
print_check (SwCall *call, const SwCheckReport *report)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_texts (builder, "faults", report->faults);
      sw_json_texts (builder, "remarks", report->remarks);
      sw_json_int (builder, "photos", report->photos);
      sw_json_int (builder, "items", report->items);
      sw_json_int (builder, "sums", report->sums);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return;
    }
  for (guint i = 0; i < report->faults->len; i++)
    sw_out_line (_ ("Fault: %s"), (char *)g_ptr_array_index (report->faults, i));
  for (guint i = 0; i < report->remarks->len; i++)
    sw_out_line (_ ("Remark: %s"), (char *)g_ptr_array_index (report->remarks, i));
  sw_out_line (
      _ ("Looked at %" PRId64 " photos, %" PRId64 " items and %" PRId64 " sums: %u faults."),
      report->photos, report->items, report->sums, report->faults->len);
}

static int
run_check (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_auto (SwCheckReport) report = { 0 };

  if (catalogue == NULL || !sw_check_run (catalogue, NULL, &report, error))
    return SW_EXIT_REFUSED;
  print_check (call, &report);
  return report.faults->len > 0 ? SW_EXIT_REFUSED : SW_EXIT_STANDS;
}

static void
print_copies (SwCall *call, const SwBackupReport *report, const char *lead)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_int (builder, "photos_copied", report->photos_copied);
      sw_json_int (builder, "photos_there", report->photos_there);
      sw_json_int (builder, "bytes_copied", report->bytes_copied);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (
        _ ("%s: %" PRId64 " photos copied, %" PRId64 " there already; read back and found right."),
        lead, report->photos_copied, report->photos_there);
}

static int
run_backup (SwCall *call, GError **error)
{
  g_autoptr (GError) inner = NULL;
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, &inner);
  SwBackupReport report = { 0 };

  /* What cannot be written can be copied all the same; only the day of the backup is not noted. */
  if (g_error_matches (inner, SW_ERROR, SW_ERROR_READ_ONLY))
    catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  else if (inner != NULL)
    g_propagate_error (error, g_steal_pointer (&inner));
  if (catalogue == NULL || !sw_backup_to (catalogue, call->operands[1], NULL, &report, error))
    return SW_EXIT_REFUSED;
  print_copies (call, &report, _ ("Backed up"));
  return SW_EXIT_STANDS;
}

/* The photos that came after the safety copy get their rows anew. */
static gboolean
bring_later (const SwRescueReport *rescue, const char *folder, SwBringInReport *brought,
             GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (GPtrArray) paths = g_ptr_array_new ();
  SwBringInOptions options = { 0 };

  if (rescue->later->len == 0)
    return TRUE;
  for (guint i = 0; i < rescue->later->len; i++)
    g_ptr_array_add (paths, rescue->later->pdata[i]);
  g_ptr_array_add (paths, NULL);
  catalogue = sw_catalogue_open (folder, SW_OPEN_READ_WRITE, error);
  return catalogue != NULL
         && sw_bring_in_run (catalogue, (const char *const *)paths->pdata, &options, NULL, NULL,
                             brought, error);
}

static void
print_rescue (SwCall *call, const SwRescueReport *rescue, const SwBringInReport *brought)
{
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "safety_copy", rescue->safety_copy);
      sw_json_int (builder, "photos_copied", rescue->copied.photos_copied);
      sw_json_int (builder, "brought_in_again", brought->taken + brought->companions);
      sw_json_texts (builder, "later", rescue->later);
      json_builder_end_object (builder);
      sw_out_json (builder);
      return;
    }
  sw_out_line (
      _ ("Restored from the safety copy %s: %" PRId64 " photos copied, read back and found right."),
      rescue->safety_copy, rescue->copied.photos_copied);
  for (guint i = 0; i < rescue->later->len; i++)
    sw_out_line (_ ("Came later: %s"), (char *)rescue->later->pdata[i]);
  if (rescue->later->len > 0)
    sw_out_line (_ ("Of these %" PRId64 " were brought in again."),
                 brought->taken + brought->companions);
  sw_out_line (
      _ ("What was entered after that copy is not in it: look through it and enter it again."));
}

/* The catalogue stands even where photos are missing: then all else is told, and the error names
 * them. */
static int
run_rescue (SwCall *call, GError **error)
{
  g_auto (SwRescueReport) rescue = { 0 };
  g_autoptr (SwBringInReport) brought = sw_bring_in_report_new ();
  gboolean whole = sw_rescue (call->operands[0], call->operands[1], NULL, &rescue, error);
  gboolean all;

  if (rescue.later == NULL)
    return SW_EXIT_REFUSED;
  all = bring_later (&rescue, call->operands[1], brought, whole ? error : NULL);
  print_rescue (call, &rescue, brought);
  return whole && all ? SW_EXIT_STANDS : SW_EXIT_REFUSED;
}

static int
run_restore (SwCall *call, GError **error)
{
  SwBackupReport report = { 0 };

  if (sw_rescue_is_for (call->operands[0]))
    return run_rescue (call, error);
  if (!sw_restore (call->operands[0], call->operands[1], NULL, &report, error))
    return SW_EXIT_REFUSED;
  print_copies (call, &report, _ ("Restored"));
  return SW_EXIT_STANDS;
}

const SwCommand sw_catalogue_commands[] = {
  { "new", "CAT", 1, 1, N_ ("Make a catalogue: the folder CAT.shedwalk"),
    N_ ("Example: shedwalk new Orchard.shedwalk --name 'Old cider works' --currency NZD "
        "--zone Pacific/Auckland\n"
        "From an archive: shedwalk new Orchard.shedwalk --from-archive FOLDER"),
    run_new, new_options },
  { "undo", "CAT", 1, 1, N_ ("Take back the last act"), NULL, run_undo, NULL },
  { "redo", "CAT", 1, 1, N_ ("Make the act taken back last stand again"), NULL, run_redo, NULL },
  { "check", "CAT", 1, 1,
    N_ ("Look whether every photo is present and unchanged, every sum and link sound"),
    N_ ("Prints each fault by name and exits 1 when there is one. What an interrupted bring-in "
        "left\n"
        "half-done is no fault: bring the folder in again and it completes."),
    run_check, NULL },
  { "backup", "CAT TARGET", 2, 2,
    N_ ("Copy database and photos to the folder TARGET, and read them back"),
    N_ ("Only what is new is copied. TARGET is the second home of this catalogue and of no other."),
    run_backup, NULL },
  { "restore", "TARGET CAT", 2, 2, N_ ("Make the catalogue CAT from its second home TARGET"),
    N_ ("CAT must not be there yet, or be an empty folder.\n"
        "TARGET may also be a damaged catalogue: then its newest safety copy that is sound is "
        "taken,\n"
        "photos that came later are brought in again, and it says which."),
    run_restore, NULL },
  { NULL },
};
