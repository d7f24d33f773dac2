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

/* FALSE with an error; *out_empty says that nothing was typed and nothing added. A moment of
 * ISO 8601 stays one. */
static gboolean
add_typed (SwSlip *slip, SwColumn column, SwCatalogue *catalogue, const char *typed,
           gboolean *out_empty, GError **error)
{
  SwDay day;

  *out_empty = *typed == '\0';
  if (*out_empty)
    return TRUE;
  if (sw_moment_parse (typed, sw_catalogue_zone (catalogue), NULL, NULL, NULL))
    sw_slip_text (slip, column, typed);
  else if (sw_typed_day (catalogue, typed, SW_DAY_NEAR, &day, error))
    sw_slip_day (slip, column, day);
  else
    return FALSE;
  return TRUE;
}

gboolean
sw_typed_moment_into (SwSlip *slip, SwColumn column, SwCatalogue *catalogue, const char *typed,
                      SwInstant now, GError **error)
{
  gboolean empty;

  if (!add_typed (slip, column, catalogue, typed, &empty, error))
    return FALSE;
  if (empty)
    sw_slip_instant (slip, column, now);
  return TRUE;
}

gboolean
sw_typed_day_into (SwSlip *slip, SwColumn column, SwCatalogue *catalogue, const char *typed,
                   SwInstant now, GError **error)
{
  gboolean empty;

  if (!add_typed (slip, column, catalogue, typed, &empty, error))
    return FALSE;
  if (empty)
    sw_slip_day (slip, column, sw_day_of_instant (now, sw_catalogue_zone (catalogue)));
  return TRUE;
}

gboolean
sw_typed_day_check (const char *text, GError **error)
{
  const SwDay about_today = { (gint32)(sw_clock_now ().us / (86400 * SW_US_PER_SECOND)) };
  SwDay day;

  return sw_day_from_person (text, about_today, SW_DAY_NEAR, &day, error);
}
