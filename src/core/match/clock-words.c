/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Clocks as a person types and reads them: times seen, shifts, what is known. Text alone. */
#include "core/match/clock-words.h"

#include "core/base/error.h"
#include "core/base/language.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* --- as typed --- */

static gboolean
bad_time (const char *text, GError **error)
{
  g_autofree char *shown = g_utf8_make_valid (text, -1);

  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("The time on the clock is written as 14:05, 14:05:30 or 2026-04-03T14:05:30, not "
                  "'%.40s'."),
               shown);
  return FALSE;
}

gboolean
sw_clock_face_parse (const char *text, const SwZone *zone, SwClockFace *out, GError **error)
{
  int hours, minutes, seconds = 0, end = 0;
  gboolean day_only = FALSE;
  SwInstant at;

  if (strchr (text, 'T') != NULL)
    {
      if (!sw_moment_parse (text, zone, &at, &day_only, NULL) || day_only)
        return bad_time (text, error);
      out->dated = TRUE;
      out->seen_us = sw_civil_to_us (sw_civil_from_instant (at, zone, NULL));
      out->resolution_s = strlen (strchr (text, 'T')) > strlen ("T14:05") ? 1 : 60;
      return TRUE;
    }
  if (!g_ascii_isdigit (*text)
      || ((sscanf (text, "%2d:%2d:%2d%n", &hours, &minutes, &seconds, &end) != 3
           || text[end] != '\0')
          && (sscanf (text, "%2d:%2d%n", &hours, &minutes, &end) != 2 || text[end] != '\0')))
    return bad_time (text, error);
  out->resolution_s = strlen (text) > strlen ("14:05") ? 1 : 60;
  if (out->resolution_s == 60)
    seconds = 0;
  if (hours < 0 || hours > 23 || minutes < 0 || minutes > 59 || seconds < 0 || seconds > 59)
    return bad_time (text, error);
  out->dated = FALSE;
  out->seen_us = ((gint64)hours * 3600 + minutes * 60 + seconds) * SW_US_PER_SECOND;
  return TRUE;
}

/* Half a century either way is more than any camera is off. */
#define LONGEST_HOURS 440000

gboolean
sw_clock_shift_parse (const char *text, double *out_shift_s)
{
  gboolean minus = *text == '-' || g_str_has_prefix (text, "\u2212");
  int hours, minutes, seconds, end = 0;
  double shift;

  if (*text == '+' || *text == '-')
    text++;
  else if (minus)
    text += strlen ("\u2212");
  if (!g_ascii_isdigit (*text))
    return FALSE;
  if (sscanf (text, "%7d:%2d:%2d%n", &hours, &minutes, &seconds, &end) == 3 && text[end] == '\0')
    {
      if (hours > LONGEST_HOURS || minutes < 0 || minutes > 59 || seconds < 0 || seconds > 59)
        return FALSE;
      shift = hours * 3600.0 + minutes * 60 + seconds;
    }
  else
    {
      gint64 whole;
      if (!g_ascii_string_to_signed (text, 10, 0, LONGEST_HOURS * 3600LL, &whole, NULL))
        return FALSE;
      shift = (double)whole;
    }
  *out_shift_s = minus ? -shift : shift;
  return TRUE;
}

char *
sw_clock_shift_text (double shift_s)
{
  gint64 seconds = llround (fabs (shift_s));

  return g_strdup_printf ("%c%" G_GINT64_FORMAT ":%02d:%02d",
                          shift_s < 0 && seconds != 0 ? '-' : '+', seconds / 3600,
                          (int)(seconds / 60 % 60), (int)(seconds % 60));
}

/* --- in words --- */

/* "put forward 1 h", "put back 40 s", "left as it is". Transfer full. */
static char *
clock_shift_words (double shift_s)
{
  static const struct
  {
    gint64 length;
    const char *word;
  } units[] = { { 86400, "d" }, { 3600, "h" }, { 60, "min" }, { 1, "s" } };
  gint64 rest = llround (fabs (shift_s));
  g_autoptr (GString) words = g_string_new (shift_s < 0 ? _ ("put back") : _ ("put forward"));

  if (rest == 0)
    return g_strdup (_ ("left as it is"));
  for (gsize k = 0; k < G_N_ELEMENTS (units); k++)
    {
      if (rest >= units[k].length)
        g_string_append_printf (words, " %" G_GINT64_FORMAT " %s", rest / units[k].length,
                                units[k].word);
      rest %= units[k].length;
    }
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
add_count (GString *line, int count, const char *one, const char *many)
{
  if (count > 0)
    g_string_append_printf (line, "%s%d %s", line->len > 0 ? ", " : "", count,
                            count == 1 ? one : many);
}

static char *
evidence_words (const SwPairingClock *clock)
{
  GString *line = g_string_new (NULL);

  add_count (line, clock->counts.faces, _ ("clock read in a picture"),
             _ ("clocks read in pictures"));
  add_count (line, clock->counts.notes, _ ("field note"), _ ("field notes"));
  add_count (line, clock->counts.fixes, _ ("position fix"), _ ("position fixes"));
  add_count (line, clock->counts.beside, _ ("photo beside another camera's"),
             _ ("photos beside another camera's"));
  return g_string_free (line, FALSE);
}

static char *
part_words (const SwPairingClockPart *part)
{
  g_autofree char *shift = clock_shift_words (part->step_s);
  SwCivil civil = sw_civil_from_us (part->from_us);

  return g_strdup_printf (_ ("%s from %02d:%02d on (photo %" PRId64 ")%s"), shift, civil.hour,
                          civil.minute, part->from_photo,
                          part->set_by_person ? _ (", as you set it") : "");
}

/* Clocks that were read in pictures and that all other evidence speaks against: a wall clock that
 * stands still tells nothing. With parts each has its own shift, and which it speaks for is open.
 */
static int
faces_left_out (const SwPairingClock *clock)
{
  if (clock->faces == NULL || !clock->known || clock->set_by_person || clock->parts->len > 0)
    return 0;
  return MAX (0, (int)clock->faces->len - clock->counts.faces);
}

GPtrArray *
sw_clock_words (const SwPairingClock *clock)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *shift = clock_shift_words (clock->shift_s);
  g_autofree char *evidence = evidence_words (clock);

  if (!clock->known)
    g_ptr_array_add (lines, g_strdup (_ ("unknown, taken as right")));
  else if (clock->set_by_person)
    g_ptr_array_add (lines, g_strdup_printf (_ ("%s, as you set it"), shift));
  else if (clock->beside)
    g_ptr_array_add (lines, g_strdup_printf (_ ("%s to go with the other camera, whose own clock "
                                                "nothing tells of: %s"),
                                             shift, evidence));
  else
    g_ptr_array_add (lines, g_strdup_printf (_ ("%s, give or take %.0f s: %s"), shift,
                                             ceil (clock->spread_s), evidence));
  if (clock->other_share > 0)
    {
      g_autofree char *other = clock_shift_words (clock->other_s);

      g_ptr_array_add (lines, g_strdup_printf (_ ("it could also be %s (%.0f%%)"), other,
                                               100 * clock->other_share));
    }
  if (faces_left_out (clock) > 0)
    g_ptr_array_add (lines,
                     sw_text_count (faces_left_out (clock),
                                    "%d clock read in a picture speaks against that and is left "
                                    "out; set the shift if it is right",
                                    "%d clocks read in pictures speak against that and are left "
                                    "out; set the shift if they are right"));
  if (clock->drift_s_day != 0)
    g_ptr_array_add (lines, g_strdup_printf (_ ("it %s %.1f s a day"),
                                             clock->drift_s_day > 0 ? _ ("loses") : _ ("gains"),
                                             fabs (clock->drift_s_day)));
  for (guint k = 0; k < clock->parts->len; k++)
    g_ptr_array_add (lines, part_words (&g_array_index (clock->parts, SwPairingClockPart, k)));
  return lines;
}
