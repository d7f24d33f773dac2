/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/trip-paper.h"
#include "core/base/language.h"

#include "core/catalogue/act.h"
#include "core/handout/paper.h"
#include "core/trip/held.h"
#include "core/trip/scrap-run.h"
#include "core/trip/tick-sheet.h"

#define PLAN_MS 5000
#define BOX "\xE2\x98\x90" /* ballot box */

/* "[] 12  2 x Crates: Ann, 40.00 due" */
static char *
what_cell (const SwTripLine *line)
{
  g_autofree char *what = line->detail != NULL ? g_strconcat (line->what, ": ", line->detail, NULL)
                                               : g_strdup (line->what);
  g_autofree char *whole = line->caution != NULL
                               ? g_strdup_printf (_ ("%s. Caution: %s"), what, line->caution)
                               : g_steal_pointer (&what);

  return g_strdup_printf (BOX " %d  %s", line->number, whole);
}

static void
set_row (GPtrArray *rows, char *what, const char *where)
{
  char **row = g_new0 (char *, 3);

  row[0] = what;
  row[1] = g_strdup (where != NULL ? where : "");
  g_ptr_array_add (rows, row);
}

static void
set_part (SwPaper *paper, const SwTripSheet *sheet, SwTripPart part)
{
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  set_row (rows, g_strdup (_ ("What")), _ ("Where"));
  for (guint i = 0; i < sheet->lines->len; i++)
    {
      const SwTripLine *line = g_ptr_array_index (sheet->lines, i);

      if (line->part == part)
        set_row (rows, what_cell (line), line->place);
    }
  if (rows->len == 1)
    return;
  sw_paper_heading (paper, sw_trip_part_heading (part));
  sw_paper_table (paper, (char **const *)rows->pdata, rows->len, 2, 0, FALSE);
}

static void
set_scrap_run (SwPaper *paper, const SwTripSheet *sheet, SwCurrency currency)
{
  if (sheet->pile.things == 0)
    return;
  for (guint i = 0; i < sheet->pile.classes->len; i++)
    {
      const SwScrapClass *of_class = g_ptr_array_index (sheet->pile.classes, i);
      g_autofree char *line = sw_scrap_run_line (of_class, currency);
      g_autofree char *named = g_strdup_printf ("%s: %s", sw_scrap_run_name (of_class), line);

      sw_paper_line (paper, named);
    }
  for (const char *const *caution = sw_scrap_run_cautions (); *caution != NULL; caution++)
    sw_paper_line (paper, _ (*caution));
}

static void
set_held (SwPaper *paper, const SwTripSheet *sheet)
{
  if (sheet->held->len == 0)
    return;
  sw_paper_heading (paper, _ ("Held back"));
  for (guint i = 0; i < sheet->held->len; i++)
    {
      const SwItem *item = g_ptr_array_index (sheet->held, i);
      g_autofree char *words = sw_held_words (item, sheet->trip, sheet->today);
      g_autofree char *line = g_strdup_printf ("%s (%s): %s.", item->name, item->place_path, words);

      sw_paper_line (paper, line);
    }
}

/* Boxes too: it is ticked while the van is packed, before any line of the sheet is. */
static void
set_packing (SwPaper *paper, const SwTripSheet *sheet)
{
  g_autoptr (GString) line = g_string_new (NULL);

  for (guint i = 0; i < sheet->pack->things->len; i++)
    {
      const SwPackingThing *thing = g_ptr_array_index (sheet->pack->things, i);
      g_autofree char *words = sw_packing_thing_words (thing);

      g_string_append_printf (line, "%s" BOX " %s (%s)", i > 0 ? "   " : "", thing->name, words);
    }
  if (sheet->pack->hands > 1)
    g_string_append_printf (line, "%s" BOX " ", line->len > 0 ? "   " : "");
  if (sheet->pack->hands > 1)
    g_string_append_printf (line, _ ("%" PRId64 " people for one of the jobs"), sheet->pack->hands);
  if (line->len == 0)
    return;
  sw_paper_heading (paper, _ ("To pack"));
  sw_paper_line (paper, line->str);
}

static void
set_cautions (SwPaper *paper, const SwTripSheet *sheet)
{
  if (sheet->load->refused != NULL)
    sw_paper_line (paper, sheet->load->refused);
  if (sheet->load->things->len == 0)
    return;
  sw_paper_heading (paper, _ ("Before you drive"));
  for (const char *const *caution = sw_load_cautions (); *caution != NULL; caution++)
    sw_paper_line (paper, _ (*caution));
}

/* *out_pages may be NULL. Transfer full. */
static GBytes *
trip_paper_pdf (const SwTripSheet *sheet, SwCurrency currency, int *out_pages, GError **error)
{
  g_autofree char *first = sw_day_to_person (sheet->trip->first);
  g_autofree char *last = sw_day_to_person (sheet->trip->last);
  g_autofree char *title
      = g_strdup_printf (_ ("Trip %" PRId64 ": %s"), sheet->trip->id, sheet->trip->title);
  g_autofree char *days = g_strdup_printf (_ ("%s to %s"), first, last);
  g_autofree char *due = sw_money_to_person (sheet->due, currency);
  g_autofree char *counted_back = sw_last_day_sentence (sheet->last);
  g_autofree char *walk = sw_walk_sentence (sheet->walk);
  g_autoptr (SwPaper) paper = sw_paper_new (title);

  sw_paper_heading (paper, title);
  sw_paper_line (paper, days);
  if (sheet->due.minor > 0)
    {
      g_autofree char *line = g_strdup_printf (_ ("To be paid at hand-overs: %s."), due);
      sw_paper_line (paper, line);
    }
  if (counted_back != NULL)
    sw_paper_line (paper, counted_back);
  if (walk != NULL)
    sw_paper_line (paper, walk);
  if (sheet->lines->len == 0 && sheet->held->len == 0)
    sw_paper_line (paper, _ ("Nothing is planned for this trip yet."));
  set_packing (paper, sheet);
  for (int part = 0; part < SW_N_TRIP_PARTS; part++)
    {
      set_part (paper, sheet, (SwTripPart)part);
      if (part == SW_TRIP_HAND_OVER)
        set_held (paper, sheet);
      else if (part == SW_TRIP_SCRAP)
        set_scrap_run (paper, sheet, currency);
    }
  set_cautions (paper, sheet);
  return sw_paper_pdf (paper, out_pages, error);
}

/* What is ticked off by number are the lines of the sheet that was written last. */
static gboolean
keep_lines (SwCatalogue *catalogue, const SwTripSheet *sheet, GError **error)
{
  g_autoptr (GArray) rows = sw_trip_sheet_rows (sheet);
  g_autoptr (GArray) earlier = sw_trip_lines_list (catalogue, sheet->trip->id, error);

  if (earlier == NULL)
    return FALSE;
  sw_trip_rows_carry_over (rows, earlier);
  return sw_trip_lines_keep (catalogue, sheet->trip->id,
                             (const SwTripLineRow *)(gpointer)rows->data, rows->len, error);
}

static gboolean
write_sheet (const char *path, GBytes *pdf, GError **error)
{
  return sw_paper_write_file (path, ".pdf", pdf, _ ("The trip sheet"), error);
}

/* The sheet and its lines go together: the file is written once the lines are in, and they stand
 * once it is. */
static gboolean
write_and_keep (SwCatalogue *catalogue, const SwTripSheet *sheet, const char *path, GBytes *pdf,
                GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence
      = g_strdup_printf (_ ("The sheet of trip %" PRId64 " written"), sheet->trip->id);

  if (!sw_act_begin (&act, catalogue, error) || !keep_lines (catalogue, sheet, error)
      || !write_sheet (path, pdf, error))
    return FALSE;
  if (sw_act_commit (&act, sentence, error))
    return TRUE;
  g_prefix_error (error,
                  _ ("The trip sheet was written to %s, but its lines are not kept for "
                     "ticking off; write it again. "),
                  path);
  return FALSE;
}

gboolean
sw_trip_paper_write (SwCatalogue *catalogue, gint64 trip, const char *path, int *out_pages,
                     GError **error)
{
  g_autoptr (SwTripSheet) sheet = sw_trip_sheet (catalogue, trip, PLAN_MS, NULL, error);
  g_autoptr (GBytes) pdf = NULL;

  if (sheet == NULL)
    return FALSE;
  pdf = trip_paper_pdf (sheet, sw_catalogue_currency (catalogue), out_pages, error);
  return pdf != NULL
         && (sw_catalogue_is_read_only (catalogue)
                 ? write_sheet (path, pdf, error)
                 : write_and_keep (catalogue, sheet, path, pdf, error));
}
