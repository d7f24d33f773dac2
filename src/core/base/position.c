/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading and printing of positions; the decimal point is a point whatever the locale. */
#include "core/base/position.h"

#include <math.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

static gboolean
read_degrees (const char **at, double most, double *out)
{
  char *end = NULL;
  const char *start = *at;

  while (*start == ' ')
    start++;
  *out = g_ascii_strtod (start, &end);
  if (end == start || !isfinite (*out) || fabs (*out) > most)
    return FALSE;
  while (*end == ' ')
    end++;
  *at = end;
  return TRUE;
}

gboolean
sw_position_parse (const char *text, double *out_latitude, double *out_longitude, GError **error)
{
  const char *at = text;
  double latitude, longitude;

  if (read_degrees (&at, 90, &latitude) && *at++ == ',' && read_degrees (&at, 180, &longitude)
      && *at == '\0')
    {
      *out_latitude = latitude;
      *out_longitude = longitude;
      return TRUE;
    }
  g_autofree char *shown = sw_text_printable (text, -1);
  g_set_error (
      error, SW_ERROR, SW_ERROR_BAD_INPUT,
      _ ("'%s' is no position: write latitude and longitude in degrees, as in -41.32,174.81."),
      shown);
  return FALSE;
}

char *
sw_position_to_text (double latitude, double longitude)
{
  char north[G_ASCII_DTOSTR_BUF_SIZE], east[G_ASCII_DTOSTR_BUF_SIZE];

  g_ascii_formatd (north, sizeof north, "%.5f", latitude);
  g_ascii_formatd (east, sizeof east, "%.5f", longitude);
  return g_strdup_printf ("%s, %s", north, east);
}
