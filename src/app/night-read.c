/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which night is shown, and its rows. */
#include "app/night-read.h"

void
sw_night_read_free (gpointer data)
{
  g_clear_pointer (&((SwNightRead *)data)->rows, g_ptr_array_unref);
  g_free (data);
}

static gboolean
read_rows (SwCatalogue *catalogue, const SwNightWish *wish, SwNightRead *read, GError **error)
{
  if (wish->has_span && !wish->next)
    {
      read->from = wish->from;
      read->until = wish->until;
      read->rows = sw_run_sheet (catalogue, read->from, read->until, error);
      if (read->rows == NULL)
        return FALSE;
      read->found = read->rows->len > 0;
      if (read->found)
        return TRUE;
      g_clear_pointer (&read->rows, g_ptr_array_unref);
    }
  if (!sw_run_next_night (catalogue, wish->now, &read->found, &read->from, &read->until, error))
    return FALSE;
  read->rows
      = read->found ? sw_run_sheet (catalogue, read->from, read->until, error) : g_ptr_array_new ();
  return read->rows != NULL;
}

gpointer
sw_night_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const SwNightWish *wish = data;
  const SwZone *zone = sw_catalogue_zone (catalogue);
  gboolean any = FALSE;
  SwNightRead *read = g_new0 (SwNightRead, 1);

  read->read = wish->read;
  if (read_rows (catalogue, wish, read, error)
      && (!read->found
          || (sw_run_totals (catalogue, read->from, read->until, &read->totals, error)
              && sw_run_earlier_night (catalogue, read->from, &any, &read->before, error))))
    {
      read->day = sw_day_of_instant (read->from, zone);
      read->day_before = sw_day_of_instant (read->before.from, zone);
      return read;
    }
  sw_night_read_free (read);
  return NULL;
}
