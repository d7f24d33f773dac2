/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands that bring photos and items together: notes, pair, clock. */
#include <math.h>
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/trips.h"
#include "core/match/clock-words.h"
#include "core/match/notes.h"
#include "core/match/pairing.h"
#include "core/match/sorting.h"

static char *notes_trip;
static gboolean notes_strict;

static const GOptionEntry notes_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &notes_trip, N_ ("The trip they were jotted down on"),
    "N" },
  { "strict", 0, 0, G_OPTION_ARG_NONE, &notes_strict, N_ ("Take no row when one of them is bad"),
    NULL },
  { NULL },
};

static void
notes_to_json (const SwNotesReport *report)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_int (builder, "rows", report->rows);
  sw_json_int (builder, "notes_added", report->notes_added);
  sw_json_int (builder, "items_added", report->items_added);
  sw_json_int (builder, "already_there", report->already_there);
  sw_json_texts (builder, "places_made", report->places_made);
  json_builder_set_member_name (builder, "remarked");
  json_builder_begin_array (builder);
  for (guint i = 0; i < report->remarks->len; i++)
    {
      const SwNotesRemark *remark = g_ptr_array_index (report->remarks, i);
      json_builder_begin_object (builder);
      sw_json_int (builder, "line", remark->line);
      sw_json_text (builder, "remark", remark->text);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static void
notes_to_text (const SwNotesReport *report)
{
  for (guint i = 0; i < report->places_made->len; i++)
    sw_out_line (_ ("New place: %s"), (char *)g_ptr_array_index (report->places_made, i));
  for (guint i = 0; i < report->remarks->len; i++)
    {
      const SwNotesRemark *remark = g_ptr_array_index (report->remarks, i);
      sw_out_line (_ ("Left out: line %d: %s"), remark->line, remark->text);
    }
  sw_out_line (_ ("%d notes and %d items added; %d notes were there already."), report->notes_added,
               report->items_added, report->already_there);
}

static int
run_notes (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwNotesReport) report = NULL;
  gint64 trip = 0;

  if (notes_trip == NULL)
    return sw_usage (error, _ ("It needs --trip."));
  if (!sw_call_number (notes_trip, _ ("The trip"), 1, &trip, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL
      || !sw_notes_read (catalogue, trip, call->operands[1], notes_strict, &report, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    notes_to_json (report);
  else
    notes_to_text (report);
  return SW_EXIT_STANDS;
}

static char *pair_trip, *pair_accept, *pair_explain;
static gboolean pair_strict;

static const GOptionEntry pair_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &pair_trip, N_ ("The trip"), "N" },
  { "accept", 0, 0, G_OPTION_ARG_FILENAME, &pair_accept,
    N_ ("Make the proposals of this band hold"), "sure" },
  { "explain", 0, 0, G_OPTION_ARG_FILENAME, &pair_explain,
    N_ ("Say what speaks for the proposal of a photo"), "PHOTO" },
  { "strict", 0, 0, G_OPTION_ARG_NONE, &pair_strict,
    N_ ("Exit 1 when any stop is not sure, or a photo is remarked on"), NULL },
  { NULL },
};

static void
clock_parts_to_json (JsonBuilder *builder, const SwPairingClock *clock)
{
  json_builder_set_member_name (builder, "parts");
  json_builder_begin_array (builder);
  for (guint i = 0; i < clock->parts->len; i++)
    {
      const SwPairingClockPart *part = &g_array_index (clock->parts, SwPairingClockPart, i);
      g_autofree char *from = sw_civil_to_text (sw_civil_from_us (part->from_us));

      json_builder_begin_object (builder);
      sw_json_int (builder, "from_photo", part->from_photo);
      sw_json_text (builder, "from_time", from);
      sw_json_double_or_null (builder, "shift_s", TRUE, part->shift_s);
      sw_json_double_or_null (builder, "step_s", TRUE, part->step_s);
      sw_json_bool (builder, "set_by_person", part->set_by_person);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
clock_faces_to_json (JsonBuilder *builder, const SwPairingClock *clock)
{
  json_builder_set_member_name (builder, "seen");
  json_builder_begin_array (builder);
  for (guint i = 0; i < clock->faces->len; i++)
    {
      const SwClockFace *face = &g_array_index (clock->faces, SwClockFace, i);
      g_autofree char *full = sw_civil_to_text (sw_civil_from_us (face->seen_us));
      char *time = face->dated ? full : strchr (full, 'T') + 1;

      if (face->resolution_s == 60)
        full[strlen ("2026-04-03T14:05")] = '\0';
      json_builder_begin_object (builder);
      sw_json_int (builder, "photo", face->photo);
      sw_json_text (builder, "time", time);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
clock_to_json (JsonBuilder *builder, const SwPairingClock *clock)
{
  gboolean other = clock->other_share > 0;

  json_builder_begin_object (builder);
  sw_json_text (builder, "camera", clock->label);
  sw_json_double_or_null (builder, "shift_s", clock->known, clock->shift_s);
  sw_json_double_or_null (builder, "spread_s", clock->known, clock->spread_s);
  sw_json_int (builder, "evidence", clock->evidence);
  sw_json_bool (builder, "set_by_person", clock->set_by_person);
  sw_json_double_or_null (builder, "other_shift_s", other, clock->other_s);
  sw_json_double_or_null (builder, "other_share", other, clock->other_share);
  sw_json_double_or_null (builder, "drift_s_day", TRUE, clock->drift_s_day);
  json_builder_set_member_name (builder, "from");
  json_builder_begin_object (builder);
  sw_json_int (builder, "notes", clock->counts.notes);
  sw_json_int (builder, "seen", clock->counts.faces);
  sw_json_int (builder, "fixes", clock->counts.fixes);
  sw_json_int (builder, "beside", clock->counts.beside);
  json_builder_end_object (builder);
  clock_faces_to_json (builder, clock);
  clock_parts_to_json (builder, clock);
  json_builder_end_object (builder);
}

static void
stop_to_json (JsonBuilder *builder, const SwPairingStop *stop)
{
  json_builder_begin_object (builder);
  sw_json_ints (builder, "photos", stop->photos);
  sw_json_texts (builder, "files", stop->files);
  sw_json_text (builder, "place", stop->place);
  sw_json_text (builder, "item", stop->item);
  sw_json_int_or_null (builder, "item_number", stop->item_number != 0, stop->item_number);
  sw_json_bool (builder, "is_new", stop->is_new);
  sw_json_double_or_null (builder, "probability", TRUE, stop->probability);
  sw_json_text (builder, "band", sw_band_word (stop->band));
  sw_json_text (builder, "reason", stop->reason);
  sw_json_texts (builder, "also", stop->also);
  json_builder_end_object (builder);
}

/* Left out where there are none. */
static void
remarks_to_json (JsonBuilder *builder, const GPtrArray *remarks)
{
  json_builder_set_member_name (builder, "remarks");
  json_builder_begin_array (builder);
  for (guint i = 0; i < remarks->len; i++)
    {
      const SwPairingRemark *remark = g_ptr_array_index (remarks, i);

      json_builder_begin_object (builder);
      sw_json_int (builder, "photo", remark->photo);
      sw_json_text (builder, "file", remark->file);
      sw_json_text (builder, "remark", remark->text);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
pairing_to_json (const SwPairing *pairing)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  json_builder_set_member_name (builder, "clocks");
  json_builder_begin_array (builder);
  for (guint i = 0; i < pairing->clocks->len; i++)
    clock_to_json (builder, g_ptr_array_index (pairing->clocks, i));
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "stops");
  json_builder_begin_array (builder);
  for (guint i = 0; i < pairing->stops->len; i++)
    stop_to_json (builder, g_ptr_array_index (pairing->stops, i));
  json_builder_end_array (builder);
  if (pairing->remarks->len > 0)
    remarks_to_json (builder, pairing->remarks);
  if (pairing->explanation != NULL)
    sw_json_text (builder, "explanation", pairing->explanation);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static void
clock_to_text (const SwPairingClock *clock)
{
  g_autoptr (GPtrArray) lines = sw_clock_words (clock);

  for (guint i = 0; i < lines->len; i++)
    sw_out_line (_ ("Clock of %s: %s."), clock->label, (const char *)g_ptr_array_index (lines, i));
}

/* What it shows, and what else. */
static char *
item_cell (const SwPairingStop *stop)
{
  GString *text = g_string_new (stop->item != NULL ? stop->item : _ ("no item"));

  for (guint k = 0; k < stop->also->len; k++)
    g_string_append_printf (text, "%s%s", k == 0 ? _ (", also ") : ", ",
                            (const char *)g_ptr_array_index (stop->also, k));
  return g_string_free (text, FALSE);
}

static char **
stop_cells (const SwPairingStop *stop)
{
  char **cells = g_new0 (char *, 7);

  cells[0] = g_strdup_printf ("%d", stop->position);
  cells[1] = g_strdup_printf ("%u", stop->photos->len);
  cells[2] = g_strdup (sw_band_word (stop->band));
  cells[3] = g_strdup_printf ("%.0f %%", stop->probability * 100);
  cells[4] = item_cell (stop);
  cells[5] = g_strdup (stop->reason);
  return cells;
}

/* The explanation has lines of its own; each is printed harmlessly. */
static void
explanation_to_text (const char *explanation)
{
  g_auto (GStrv) lines = g_strsplit (explanation, "\n", -1);

  for (int i = 0; lines[i] != NULL; i++)
    if (*lines[i] != '\0')
      sw_out_line ("%s", lines[i]);
}

static void
pairing_to_text (const SwPairing *pairing)
{
  static const char *const header[]
      = { "stop", "photos", "band", "chance", "item", "because", NULL };
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  if (pairing->explanation != NULL)
    {
      explanation_to_text (pairing->explanation);
      return;
    }
  for (guint i = 0; i < pairing->clocks->len; i++)
    clock_to_text (g_ptr_array_index (pairing->clocks, i));
  for (guint i = 0; i < pairing->remarks->len; i++)
    {
      const SwPairingRemark *remark = g_ptr_array_index (pairing->remarks, i);

      sw_out_line (_ ("Photo %" PRId64 " (%s) %s."), remark->photo, remark->file, remark->text);
    }
  if (pairing->stops->len == 0)
    {
      sw_out_line (_ ("No photos on this trip."));
      return;
    }
  g_ptr_array_add (rows, g_strdupv ((char **)header));
  for (guint i = 0; i < pairing->stops->len; i++)
    g_ptr_array_add (rows, stop_cells (g_ptr_array_index (pairing->stops, i)));
  sw_out_table (rows, 1u << 0 | 1u << 1 | 1u << 3);
}

static gboolean
all_sure (const SwPairing *pairing)
{
  for (guint i = 0; i < pairing->stops->len; i++)
    if (((SwPairingStop *)g_ptr_array_index (pairing->stops, i))->band != SW_BAND_SURE)
      return FALSE;
  return TRUE;
}

/* What was asked for in one command is taken back by one undo: pairing, accepting, and proposing
 * the rest again, for which what was accepted is evidence. The likenesses are made before, so that
 * the act is short. */
static SwPairing *
pair_and_accept (SwCatalogue *catalogue, gint64 trip, const SwPairingOptions *options,
                 GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwTrip) found = sw_trip_get (catalogue, trip, error);
  g_autoptr (SwPairing) first = NULL;
  g_autoptr (SwPairing) pairing = NULL;
  g_autofree char *sentence
      = g_strdup_printf (_ ("Trip %" PRId64 " paired, sure stops accepted"), trip);
  SwPairingOptions quick = { .explain = options->explain };

  if (found == NULL
      || !sw_thumbs_make_missing (options->thumbs, catalogue, trip, NULL, NULL, NULL, NULL, error)
      || !sw_act_begin (&act, catalogue, error)
      || (first = sw_pairing_run (catalogue, trip, &quick, error)) == NULL
      || !sw_sorting_accept_band (catalogue, trip, SW_BAND_SURE, NULL, error)
      || (pairing = sw_pairing_run (catalogue, trip, &quick, error)) == NULL
      || !sw_act_commit (&act, sentence, error))
    return NULL;
  return g_steal_pointer (&pairing);
}

static int
run_pair (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwThumbs) thumbs = NULL;
  g_autoptr (SwPairing) pairing = NULL;
  SwPairingOptions options = { 0 };
  gint64 trip = 0;

  if (pair_trip == NULL)
    return sw_usage (error, _ ("It needs --trip."));
  if (pair_accept != NULL && strcmp (pair_accept, "sure") != 0)
    return sw_usage (error, "--accept takes 'sure' alone, not '%s'.", pair_accept);
  if (!sw_call_number (pair_trip, _ ("The trip"), 1, &trip, error)
      || (pair_explain != NULL
          && !sw_call_number (pair_explain, _ ("A photo"), 1, &options.explain, error)))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL)
    return SW_EXIT_REFUSED;
  thumbs = sw_thumbs_new (sw_catalogue_folder (catalogue), NULL);
  options.thumbs = thumbs;
  pairing = pair_accept != NULL ? pair_and_accept (catalogue, trip, &options, error)
                                : sw_pairing_run (catalogue, trip, &options, error);
  if (pairing == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    pairing_to_json (pairing);
  else
    pairing_to_text (pairing);
  return pair_strict && (pairing->remarks->len > 0 || !all_sure (pairing)) ? SW_EXIT_REFUSED
                                                                           : SW_EXIT_STANDS;
}

static char *clock_trip, *clock_shift, *clock_from, *clock_seen;

static const GOptionEntry clock_options[] = {
  { "trip", 0, 0, G_OPTION_ARG_FILENAME, &clock_trip, N_ ("The trip"), "N" },
  { "shift", 0, 0, G_OPTION_ARG_FILENAME, &clock_shift,
    N_ ("Seconds to add to the camera's clock, or auto to let the program find out"),
    "SECONDS|auto" },
  { "from", 0, 0, G_OPTION_ARG_FILENAME, &clock_from,
    N_ ("With --shift: from that photo of the camera on, in the order of file names"), "PHOTO" },
  { "seen", 0, 0, G_OPTION_ARG_FILENAME, &clock_seen,
    N_ ("A photo that shows a clock; the TIME on it stands behind the camera, or none"), "PHOTO" },
  { NULL },
};

/* Half a century either way is more than any camera is off. */
#define LONGEST_SHIFT_S 1.6e9

static gboolean
parse_shift (const char *text, double *out_shift, GError **error)
{
  char *end = NULL;
  double shift = g_ascii_strtod (text, &end);

  if (end == text || *end != '\0' || !isfinite (shift) || fabs (shift) > LONGEST_SHIFT_S)
    {
      sw_usage (error, _ ("--shift is a number of seconds, as in -3600, or auto, not '%s'."), text);
      return FALSE;
    }
  *out_shift = shift;
  return TRUE;
}

/* A clock read in a picture. */
static int
run_clock_seen (SwCall *call, gint64 trip, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  gint64 photo = 0;

  if (call->n_operands != 3 || clock_shift != NULL || clock_from != NULL)
    return sw_usage (error, _ ("--seen PHOTO needs the TIME behind the camera, and no --shift."));
  if (!sw_call_number (clock_seen, _ ("A photo"), 1, &photo, error))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL
      || !sw_clock_see (catalogue, call->operands[1], trip, photo, call->operands[2], error))
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "camera", call->operands[1]);
      sw_json_int (builder, "trip", trip);
      sw_json_int (builder, "photo", photo);
      sw_json_text (builder, "seen", call->operands[2]);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else
    sw_out_line (_ ("The clock in photo %" PRId64 " speaks for the clock of %s now."), photo,
                 call->operands[1]);
  return SW_EXIT_STANDS;
}

static int
run_clock (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  gboolean automatic;
  double shift = 0;
  gint64 trip = 0, from = 0;

  if (clock_trip == NULL || (clock_shift == NULL && clock_seen == NULL))
    return sw_usage (error, _ ("It needs --trip, and --shift or --seen."));
  if (!sw_call_number (clock_trip, _ ("The trip"), 1, &trip, error))
    return SW_EXIT_MALFORMED;
  if (clock_seen != NULL)
    return run_clock_seen (call, trip, error);
  if (call->n_operands != 2)
    return sw_usage (error, _ ("A TIME goes with --seen alone."));
  automatic = strcmp (clock_shift, "auto") == 0;
  if ((!automatic && !parse_shift (clock_shift, &shift, error))
      || (clock_from != NULL && !sw_call_number (clock_from, _ ("A photo"), 1, &from, error)))
    return SW_EXIT_MALFORMED;
  catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  if (catalogue == NULL
      || !sw_clock_set (catalogue, call->operands[1], trip, from, automatic ? NULL : &shift, error))
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      g_autoptr (JsonBuilder) builder = json_builder_new ();
      json_builder_begin_object (builder);
      sw_json_text (builder, "camera", call->operands[1]);
      sw_json_int (builder, "trip", trip);
      sw_json_int_or_null (builder, "from_photo", from != 0, from);
      sw_json_double_or_null (builder, "shift_s", !automatic, shift);
      json_builder_end_object (builder);
      sw_out_json (builder);
    }
  else if (automatic)
    sw_out_line (_ ("The clock of %s is left to the program; run shedwalk pair again."),
                 call->operands[1]);
  else
    sw_out_line (_ ("%+.3f s are added to the clock of %s on trip %" PRId64 "%s."), shift,
                 call->operands[1], trip, from != 0 ? _ (" from that photo on") : "");
  return SW_EXIT_STANDS;
}

const SwCommand sw_pair_commands[] = {
  { "notes", "CAT FILE", 2, 2, N_ ("Read a notebook: each row a field note, each thing an item"),
    NULL, run_notes, notes_options, sw_notes_help },
  { "pair", "CAT", 1, 1, N_ ("Propose which item each photo shows, and say how sure that is"),
    N_ ("Photos are gathered into stops, camera clocks are put right, and each stop gets an item "
        "and "
        "a\n"
        "reason. Proposals are stored; they hold only when accepted. What a person decided stays."),
    run_pair, pair_options },
  { "clock", "CAT CAMERA [TIME]", 2, 3, N_ ("Set what must be added to a camera's clock on a trip"),
    N_ ("CAMERA is its name as shedwalk photos prints it. A clock that is an hour ahead gets "
        "-3600, "
        "one\n"
        "that is an hour behind 3600. The times of its photos follow at once. A clock that shows "
        "in a\n"
        "picture is read with --seen PHOTO and the TIME on it, 14:05 or 14:05:30."),
    run_clock, clock_options },
  { NULL },
};
