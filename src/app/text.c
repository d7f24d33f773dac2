/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Words the window makes of core values. Keeps wording in one place, so that pages and readers say
 * the same. */
#include "app/text.h"

#include <string.h>

static GDate *
to_date (SwDay day)
{
  int year, month, of_month;

  sw_day_to_ymd (day, &year, &month, &of_month);
  return g_date_new_dmy ((GDateDay)of_month, (GDateMonth)month, (GDateYear)year);
}

static char *
format (SwDay day, const char *pattern)
{
  g_autoptr (GDate) date = to_date (day);
  char buffer[128] = "";

  g_date_strftime (buffer, sizeof buffer, pattern, date);
  return g_strdup (g_strstrip (buffer));
}

char *
sw_text_days (SwDay first, SwDay last)
{
  int year[2], month[2], of_month;
  g_autofree char *from = NULL;
  g_autofree char *to = sw_day_written (last);

  sw_day_to_ymd (first, &year[0], &month[0], &of_month);
  sw_day_to_ymd (last, &year[1], &month[1], &of_month);
  if (first.n == last.n)
    return g_steal_pointer (&to);
  from = format (first, year[0] != year[1]     ? C_ ("date", "%e %B %Y")
                        : month[0] != month[1] ? C_ ("date", "%e %B")
                                               : C_ ("date", "%e"));
  return g_strdup_printf (_ ("%s to %s"), from, to);
}

char *
sw_text_month (SwDay day)
{
  return format (day, C_ ("date", "%B %Y"));
}

char *
sw_text_trip (const SwTrip *trip)
{
  return g_strdup_printf (_ ("Trip %" PRId64 ", %s"), trip->id, trip->title);
}

const char *
sw_text_credit (SwCredit credit)
{
  static const char *const notes[SW_N_CREDITS] = {
    N_ ("All money of an item counts with the trip that found it."),
    N_ ("Money counts with the trip during or after which the item was sold."),
    N_ ("Money counts with the trip during or after which the item was collected."),
  };

  return _ (notes[credit]);
}

char *
sw_text_seconds (int seconds)
{
  if (seconds < 60)
    return g_strdup_printf (_ ("%d s"), seconds);
  if (seconds < 3600)
    return g_strdup_printf (_ ("%d min"), (seconds + 30) / 60);
  return g_strdup_printf (_ ("%d h %d min"), seconds / 3600, seconds / 60 % 60);
}
