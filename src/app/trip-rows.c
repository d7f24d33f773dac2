/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/trip-rows.h"

#include "app/text.h"
#include "core/trip/held.h"
#include "core/trip/scrap-run.h"

static void
add_head (GtkTreeStore *rows, GtkTreeIter *head, const char *text, int n)
{
  g_autofree char *title = g_strdup_printf ("%s (%d)", text, n);

  gtk_tree_store_insert_with_values (rows, head, NULL, -1, SW_TRIP_COLUMN_NUMBER, "",
                                     SW_TRIP_COLUMN_WHAT, title, SW_TRIP_COLUMN_DETAIL, "",
                                     SW_TRIP_COLUMN_WHERE, "", SW_TRIP_COLUMN_WEIGHT,
                                     PANGO_WEIGHT_BOLD, -1);
}

/* A line without a number. thing: what a wish is about; words: what is said of it when chosen; NULL
 * for none. */
static void
add_row (GtkTreeStore *rows, GtkTreeIter *head, const char *what, const char *detail,
         const char *where, SwLoadThing *thing, const char *words)
{
  gtk_tree_store_insert_with_values (
      rows, NULL, head, -1, SW_TRIP_COLUMN_NUMBER, "", SW_TRIP_COLUMN_WHAT, what,
      SW_TRIP_COLUMN_DETAIL, detail, SW_TRIP_COLUMN_WHERE, where, SW_TRIP_COLUMN_THING, thing,
      SW_TRIP_COLUMN_WORDS, words, SW_TRIP_COLUMN_WEIGHT, PANGO_WEIGHT_NORMAL, -1);
}

static SwLoadThing *
thing_of (const SwTripSheet *sheet, const SwTripLine *line)
{
  for (guint i = 0; line->part == SW_TRIP_LOAD && i < sheet->load->things->len; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (sheet->load->things, i);

      if (thing->item->id == line->subject)
        return thing;
    }
  return NULL;
}

static void
add_part (GtkTreeStore *rows, const SwTripSheet *sheet, SwTripPart part)
{
  GtkTreeIter head;
  int n = 0;

  for (guint i = 0; i < sheet->lines->len; i++)
    n += ((SwTripLine *)g_ptr_array_index (sheet->lines, i))->part == part;
  if (n == 0)
    return;
  add_head (rows, &head, _ (sw_trip_part_heading (part)), n);
  for (guint i = 0; i < sheet->lines->len; i++)
    {
      SwTripLine *line = g_ptr_array_index (sheet->lines, i);
      g_autofree char *number = g_strdup_printf ("%d", line->number);

      if (line->part == part)
        gtk_tree_store_insert_with_values (
            rows, NULL, &head, -1, SW_TRIP_COLUMN_NUMBER, number, SW_TRIP_COLUMN_WHAT, line->what,
            SW_TRIP_COLUMN_DETAIL, line->detail != NULL ? line->detail : "", SW_TRIP_COLUMN_WHERE,
            line->place != NULL ? line->place : "", SW_TRIP_COLUMN_LINE, line, SW_TRIP_COLUMN_THING,
            thing_of (sheet, line), SW_TRIP_COLUMN_WEIGHT, PANGO_WEIGHT_NORMAL, -1);
    }
}

const char *
sw_trip_stays_words (const SwLoadThing *thing)
{
  const char *why = sw_load_obstacle_words (thing->obstacle);

  return why != NULL                ? _ (why)
         : thing->leaves.minor <= 0 ? _ ("no price to tell what it would leave")
                                    : _ ("others leave more");
}

gboolean
sw_trip_thing_stays (const SwTripSheet *sheet, const SwLoadThing *thing)
{
  return sheet->load->has_van && thing->pieces == 0;
}

/* Those that would leave most: nobody reads thousands, and a table takes a frame for each few
 * hundred. */
#define STAYS_MOST 200

static void
add_how_many_more (GtkTreeStore *rows, GtkTreeIter *head, int n)
{
  g_autofree char *more = g_strdup_printf (_ ("and %d more"), n);

  if (n > 0)
    add_row (rows, head, more, "", "", NULL, more);
}

static void
add_what_stays (GtkTreeStore *rows, const SwTripSheet *sheet)
{
  GtkTreeIter head;
  int n = 0, shown = 0;

  for (guint i = 0; i < sheet->load->things->len; i++)
    n += sw_trip_thing_stays (sheet, g_ptr_array_index (sheet->load->things, i));
  if (n == 0)
    return;
  add_head (rows, &head, _ ("Stays this time"), n);
  for (guint i = 0; i < sheet->load->things->len && shown < STAYS_MOST; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (sheet->load->things, i);

      if (!sw_trip_thing_stays (sheet, thing))
        continue;
      shown++;
      add_row (rows, &head, thing->item->name, sw_trip_stays_words (thing), thing->item->place_path,
               thing, NULL);
    }
  add_how_many_more (rows, &head, n - shown);
}

static void
add_what_to_weigh (GtkTreeStore *rows, const SwTripSheet *sheet)
{
  const GPtrArray *weigh = sheet->load->weigh;
  GtkTreeIter head;

  if (weigh->len == 0)
    return;
  add_head (rows, &head, _ ("Weigh first"), (int)weigh->len);
  for (guint i = 0; i < weigh->len; i++)
    {
      SwLoadThing *thing = g_ptr_array_index (weigh, i);
      g_autofree char *mass = sw_mass_to_rough_text (thing->each);
      g_autofree char *taken = g_strdup_printf (_ ("taken for %s"), mass);

      add_row (rows, &head, thing->item->name, taken, thing->item->place_path, thing, NULL);
    }
}

/* What the pile brings, class by class. */
static void
add_scrap_classes (GtkTreeStore *rows, const SwTripSheet *sheet, SwCurrency currency)
{
  const GPtrArray *classes = sheet->pile.classes;
  GtkTreeIter head;

  if (sheet->pile.things == 0)
    return;
  add_head (rows, &head, _ ("Scrap by class"), (int)classes->len);
  for (guint i = 0; i < classes->len; i++)
    {
      const SwScrapClass *of_class = g_ptr_array_index (classes, i);
      g_autofree char *line = sw_scrap_run_line (of_class, currency);
      g_autofree char *cautions = sw_scrap_run_cautions_text ();
      g_autofree char *words = g_strdup_printf (_ ("%s: %s. Caution: %s"),
                                                _ (sw_scrap_run_name (of_class)), line, cautions);

      add_row (rows, &head, _ (sw_scrap_run_name (of_class)), line, "", NULL, words);
    }
}

static void
add_held (GtkTreeStore *rows, const SwTripSheet *sheet)
{
  GtkTreeIter head;

  if (sheet->held->len == 0)
    return;
  add_head (rows, &head, _ ("Held back"), (int)sheet->held->len);
  for (guint i = 0; i < sheet->held->len; i++)
    {
      const SwItem *item = g_ptr_array_index (sheet->held, i);
      g_autofree char *detail = sw_held_words (item, sheet->trip, sheet->today);
      g_autofree char *words = g_strdup_printf ("%s: %s", item->name, detail);

      add_row (rows, &head, item->name, detail, item->place_path, NULL, words);
    }
}

static void
add_packing (GtkTreeStore *rows, const SwTripSheet *sheet)
{
  const GPtrArray *things = sheet->pack->things;
  GtkTreeIter head;

  if (things->len == 0)
    return;
  add_head (rows, &head, _ ("To pack"), (int)things->len);
  for (guint i = 0; i < things->len; i++)
    {
      const SwPackingThing *thing = g_ptr_array_index (things, i);
      g_autofree char *detail = sw_packing_thing_words (thing);
      g_autofree char *words = g_strdup_printf ("%s: %s", thing->name, detail);

      add_row (rows, &head, thing->name, detail, "", NULL, words);
    }
}

/* The first to be decided; a longer list would be read by nobody. */
#define LAST_MOST 60

static void
add_last_day (GtkTreeStore *rows, const SwTripSheet *sheet, SwCurrency currency)
{
  const GPtrArray *things = sheet->last->things;
  GtkTreeIter head;

  if (things->len == 0)
    return;
  add_head (rows, &head, _ ("Before the last day"), (int)things->len);
  for (guint i = 0; i < MIN (things->len, LAST_MOST); i++)
    {
      const SwLastThing *thing = g_ptr_array_index (things, i);
      g_autofree char *detail = sw_last_thing_words (thing, currency);
      g_autofree char *words = g_strdup_printf ("%s: %s", thing->item->name, detail);

      add_row (rows, &head, thing->item->name, detail, thing->item->place_path, NULL, words);
    }
}

void
sw_trip_rows_fill (GtkTreeStore *rows, const SwTripSheet *sheet, SwCurrency currency)
{
  for (int part = 0; part < SW_N_TRIP_PARTS; part++)
    {
      add_part (rows, sheet, (SwTripPart)part);
      if (part == SW_TRIP_HAND_OVER)
        add_held (rows, sheet);
      else if (part == SW_TRIP_LOAD)
        {
          add_what_stays (rows, sheet);
          add_what_to_weigh (rows, sheet);
        }
      else if (part == SW_TRIP_SCRAP)
        add_scrap_classes (rows, sheet, currency);
      else if (part == SW_TRIP_JOB)
        add_packing (rows, sheet);
    }
  add_last_day (rows, sheet, currency);
}

/* ---- the table ---- */

static const struct
{
  int column;
  const char *title;
  gboolean expands;
} columns[] = {
  { SW_TRIP_COLUMN_NUMBER, N_ ("No."), FALSE },
  { SW_TRIP_COLUMN_WHAT, N_ ("What"), TRUE },
  { SW_TRIP_COLUMN_DETAIL, N_ ("What to know"), TRUE },
  { SW_TRIP_COLUMN_WHERE, N_ ("Where"), FALSE },
};

static void
add_column (GtkTreeView *table, gsize i)
{
  GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
  GtkTreeViewColumn *made = gtk_tree_view_column_new_with_attributes (
      _ (columns[i].title), cell, "text", columns[i].column, "weight", SW_TRIP_COLUMN_WEIGHT, NULL);

  g_object_set (cell, "ellipsize",
                columns[i].column == SW_TRIP_COLUMN_NUMBER ? PANGO_ELLIPSIZE_NONE
                                                           : PANGO_ELLIPSIZE_END,
                "width-chars", columns[i].column == SW_TRIP_COLUMN_NUMBER ? 3 : 14, "xalign",
                columns[i].column == SW_TRIP_COLUMN_NUMBER ? 1.0 : 0.0, NULL);
  gtk_tree_view_column_set_expand (made, columns[i].expands);
  gtk_tree_view_append_column (table, made);
}

void
sw_trip_rows_set_up (GtkTreeView *table)
{
  g_autoptr (GtkTreeStore) rows = gtk_tree_store_new (
      SW_TRIP_N_COLUMNS, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_POINTER,
      G_TYPE_POINTER, G_TYPE_STRING, G_TYPE_INT);

  gtk_tree_view_set_model (table, GTK_TREE_MODEL (rows));
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    add_column (table, i);
}
