/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Today by the program's clock; the reading is core's. */
#include "app/typed-day.h"

#include "app/clock.h"

gboolean
sw_typed_day (SwCatalogue *catalogue, const char *text, SwDayLean lean, SwDay *out_day,
              GError **error)
{
  SwDay today = sw_day_of_instant (sw_clock_now (), sw_catalogue_zone (catalogue));

  return sw_day_from_person (text, today, lean, out_day, error);
}

char *
sw_typed_day_cell (SwCatalogue *catalogue, const char *text, GError **error)
{
  SwDay day;

  if (sw_moment_parse (text, sw_catalogue_zone (catalogue), NULL, NULL, NULL))
    return g_strdup (text);
  if (!sw_typed_day (catalogue, text, SW_DAY_NEAR, &day, error))
    return NULL;
  return sw_day_to_text (day);
}

gboolean
sw_typed_day_check (const char *text, GError **error)
{
  const SwDay about_today = { (gint32)(sw_clock_now ().us / (86400 * SW_US_PER_SECOND)) };
  SwDay day;

  return sw_day_from_person (text, about_today, SW_DAY_NEAR, &day, error);
}
