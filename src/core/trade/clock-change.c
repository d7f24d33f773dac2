/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds times that a clock change skips or repeats by reading the instant back. */
#include "core/trade/clock-change.h"
#include "core/base/language.h"

#include <string.h>

/* "2026-04-05" and "02:30" */
#define DAY_CHARS 10
#define TIME_CHARS 5

/* "T21:04Z", " 21:04+12:00": what follows the day has a sign or a Z. */
static gboolean
has_offset (const char *text)
{
  return strpbrk (text + DAY_CHARS, "+-Zz") != NULL;
}

char *
sw_clock_change_sentence (const char *text, SwInstant instant, const SwZone *zone)
{
  if (strlen (text) <= DAY_CHARS || has_offset (text))
    return NULL;
  SwCivilKind kind;
  SwCivil civil = sw_civil_from_instant (instant, zone, NULL);
  sw_civil_to_instant (civil, zone, &kind);
  g_autofree char *taken = sw_instant_to_text (instant, zone);
  g_autofree char *written = g_strndup (text + DAY_CHARS + 1, TIME_CHARS);
  g_autofree char *time = g_strdup_printf ("%02d:%02d", civil.hour, civil.minute);
  if (strcmp (written, time) != 0)
    return g_strdup_printf (
        _ ("%s never happens, for clocks go forward then: %s is taken; write the "
           "time with its offset."),
        text, taken);
  return kind != SW_CIVIL_FOLD
             ? NULL
             : g_strdup_printf (_ ("%s happens twice, for clocks go back then: the first, %s, is "
                                   "taken; write the second with its offset."),
                                text, taken);
}
