/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet of the trip that is over, what of it waits for a docket, and whose docket it may be. */
#include "app/tick-read.h"

#include "core/catalogue/items.h"
#include "core/catalogue/outlets.h"

#define PLAN_MS 400

void
sw_tick_read_free (gpointer data)
{
  SwTickRead *read = data;

  sw_tick_sheet_free (read->sheet);
  g_clear_pointer (&read->to_scrap, g_ptr_array_unref);
  g_strfreev (read->yards);
  g_free (read);
}

/* What was ticked as scrapped and waits for its docket. */
static gboolean
read_scrap (SwCatalogue *catalogue, SwTickRead *read, GError **error)
{
  read->to_scrap = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_item_free);
  for (guint i = 0; i < read->sheet->lines->len; i++)
    {
      const SwTickLine *line = g_ptr_array_index (read->sheet->lines, i);
      g_autoptr (SwItem) item = NULL;

      if (g_strcmp0 (line->row.tick, sw_tick_word (SW_TICK_SCRAPPED)) != 0)
        continue;
      item = sw_item_get (catalogue, line->row.item, error);
      if (item == NULL)
        return FALSE;
      if (item->state == SW_STATE_FOR_SCRAP)
        g_ptr_array_add (read->to_scrap, g_steal_pointer (&item));
    }
  return TRUE;
}

static GStrv
read_yards (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();

  if (outlets == NULL)
    return NULL;
  for (guint i = 0; i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);

      if (outlet->kind == SW_OUTLET_SCRAP_YARD)
        g_strv_builder_add (names, outlet->name);
    }
  return g_strv_builder_end (names);
}

gpointer
sw_tick_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  SwDay today = sw_day_of_instant (sw_catalogue_now (catalogue), sw_catalogue_zone (catalogue));
  SwTickRead *read = g_new0 (SwTickRead, 1);
  gint64 trip = 0;

  if (sw_tick_trip (catalogue, today, &trip, error) && trip != 0
      && (read->sheet = sw_tick_sheet (catalogue, trip, PLAN_MS, cancellable, error)) != NULL
      && read_scrap (catalogue, read, error)
      && (read->yards = read_yards (catalogue, error)) != NULL)
    return read;
  sw_tick_read_free (read);
  return NULL;
}
