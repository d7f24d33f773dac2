/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A booked docket in words. */
#include "core/trade/docket-sheet.h"
#include "core/base/language.h"

#include <string.h>

#include "core/catalogue/items.h"
#include "core/trade/sale-sheet.h"

void
sw_docket_sheet_clear (SwDocketSheet *sheet)
{
  g_clear_pointer (&sheet->lines, g_free);
  g_clear_pointer (&sheet->other_class, g_free);
}

static gboolean
add_other_classes (SwCatalogue *catalogue, const SwDocketLine *line, GString *words, GError **error)
{
  for (guint i = 0; i < line->items->len; i++)
    {
      g_autoptr (SwItem) item
          = sw_item_get (catalogue, g_array_index (line->items, SwDocketItem, i).item, error);
      if (item == NULL)
        return FALSE;
      if (item->scrap_class != NULL && strcmp (item->scrap_class, line->class_name) != 0)
        g_string_append_printf (words, _ ("%s%s marked as %s, taken as %s"),
                                words->len > 0 ? "; " : "", item->name, item->scrap_class,
                                line->class_name);
    }
  return TRUE;
}

gboolean
sw_docket_sheet_read (SwCatalogue *catalogue, gint64 deal, SwDocketSheet *out_sheet, GError **error)
{
  g_autoptr (GPtrArray) lines = sw_docket_lines (catalogue, deal, error);
  g_autoptr (SwSaleSheet) sale = lines != NULL ? sw_sale_sheet (catalogue, deal, error) : NULL;
  g_autoptr (GString) weighed = g_string_new (NULL), other = g_string_new (NULL);
  if (sale == NULL)
    return FALSE;
  for (guint i = 0; i < lines->len; i++)
    {
      const SwDocketLine *line = g_ptr_array_index (lines, i);
      g_autofree char *net = sw_mass_to_text (line->net);
      g_string_append_printf (weighed, "%s%s %s", i > 0 ? ", " : "", line->class_name, net);
      if (!add_other_classes (catalogue, line, other, error))
        return FALSE;
    }
  *out_sheet = (SwDocketSheet){ .lines = g_strdup (weighed->str),
                                .other_class = other->len > 0 ? g_strdup (other->str) : NULL,
                                .charges = sale->fees_total };
  return TRUE;
}
