/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Booked dockets in words. */
#include "core/trade/docket-sheet.h"
#include "core/base/language.h"

#include <string.h>

void
sw_docket_sheet_free (SwDocketSheet *sheet)
{
  if (sheet == NULL)
    return;
  g_free (sheet->ref);
  g_free (sheet->outlet_name);
  g_free (sheet->lines);
  g_free (sheet->other_class);
  g_free (sheet);
}

/* Takes 'more' over and puts it behind. */
static void
append (char **text, const char *between, char *more)
{
  char *joined = *text != NULL ? g_strconcat (*text, between, more, NULL) : g_strdup (more);

  g_free (more);
  g_free (*text);
  *text = joined;
}

static SwDocketSheet *
sheet_of (const SwDocketWeighed *weighed)
{
  SwDocketSheet *sheet = g_new0 (SwDocketSheet, 1);

  sheet->deal = weighed->deal;
  sheet->ref = g_strdup (weighed->ref);
  sheet->outlet_name = g_strdup (weighed->outlet_name);
  sheet->day = weighed->ended;
  sheet->amount = weighed->amount;
  sheet->charges = weighed->charges;
  return sheet;
}

static void
add_line (SwDocketSheet *sheet, const SwDocketWeighed *weighed)
{
  g_autofree char *net = sw_mass_to_text (weighed->net);

  append (&sheet->lines, ", ", g_strdup_printf ("%s %s", weighed->class_name, net));
}

static void
add_other_class (SwDocketSheet *sheet, const SwDocketWeighed *weighed)
{
  if (weighed->scrap_class != NULL && strcmp (weighed->scrap_class, weighed->class_name) != 0)
    append (&sheet->other_class, "; ",
            g_strdup_printf (_ ("%s marked as %s, taken as %s"), weighed->item_name,
                             weighed->scrap_class, weighed->class_name));
}

GPtrArray *
sw_docket_sheets (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) weighed = sw_docket_weighed_list (catalogue, error);
  g_autoptr (GPtrArray) sheets
      = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_docket_sheet_free);
  SwDocketSheet *sheet = NULL;
  gint64 line = 0;

  if (weighed == NULL)
    return NULL;
  for (guint i = 0; i < weighed->len; i++)
    {
      const SwDocketWeighed *row = g_ptr_array_index (weighed, i);
      if (sheet == NULL || sheet->deal != row->deal)
        g_ptr_array_add (sheets, sheet = sheet_of (row));
      if (row->line != line)
        add_line (sheet, row);
      line = row->line;
      add_other_class (sheet, row);
    }
  return g_steal_pointer (&sheets);
}
