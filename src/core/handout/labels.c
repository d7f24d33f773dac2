/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/handout/labels.h"

#include <math.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

/* ISO 216 A4. */
#define PAGE_WIDTH 210.0
#define PAGE_HEIGHT 297.0
/* Smallest label: its code keeps modules of some 0.4 mm, which 150 dots an inch still part. */
#define LEAST_WIDTH 38.0
#define LEAST_HEIGHT 20.0
/* What rounding of typed measures may leave over the page's edge. */
#define SLACK 0.2

static const SwLabelSheet sheets[] = {
  { N_ ("plain paper"), 3, 8, 0, 0, 70, 37.125, 70, 37.125, TRUE },
  { "70 x 37 mm", 3, 8, 0, 0.5, 70, 37, 70, 37, FALSE },
  { "63.5 x 38.1 mm", 3, 7, 7.2, 15.15, 66, 38.1, 63.5, 38.1, FALSE },
  { "99.1 x 33.9 mm", 2, 8, 4.65, 12.9, 101.6, 33.9, 99.1, 33.9, FALSE },
  { "99.1 x 67.7 mm", 2, 4, 4.65, 13.1, 101.6, 67.7, 99.1, 67.7, FALSE },
  { "48.5 x 25.4 mm", 4, 11, 8, 8.8, 48.5, 25.4, 48.5, 25.4, FALSE },
};

const SwLabelSheet *
sw_label_sheets (gsize *out_n)
{
  *out_n = G_N_ELEMENTS (sheets);
  return sheets;
}

static gboolean
check (const SwLabelSheet *sheet, GError **error)
{
  const char *problem = NULL;

  if (sheet->columns < 1 || sheet->rows < 1 || sheet->columns > 20 || sheet->rows > 40)
    problem = _ ("A sheet has 1 to 20 columns and 1 to 40 rows of labels.");
  else if (!(sheet->width >= LEAST_WIDTH && sheet->height >= LEAST_HEIGHT))
    problem = _ ("A label must be at least 38 mm wide and 20 mm high: the code on a smaller one is "
                 "not read.");
  else if (sheet->pitch_x < sheet->width || sheet->pitch_y < sheet->height)
    problem = _ ("The labels overlap: the pitch is at least the label's width and height.");
  else if (sheet->left < 0 || sheet->top < 0
           || sheet->left + (sheet->columns - 1) * sheet->pitch_x + sheet->width
                  > PAGE_WIDTH + SLACK
           || sheet->top + (sheet->rows - 1) * sheet->pitch_y + sheet->height > PAGE_HEIGHT + SLACK)
    problem = _ ("These labels do not fit on an A4 page of 210 x 297 mm.");
  if (problem == NULL)
    return TRUE;
  g_set_error_literal (error, SW_ERROR, SW_ERROR_BAD_INPUT, problem);
  return FALSE;
}

static gboolean
parse_number (const char *text, double *out)
{
  char *end = NULL;

  *out = g_ascii_strtod (text, &end);
  return end != text && *end == '\0' && isfinite (*out);
}

static gboolean
parse_measure (const char *text, SwLabelSheet *sheet)
{
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);
  g_auto (GStrv) grid = g_strsplit (parts[0] != NULL ? parts[0] : "", "x", -1);
  gint64 columns = 0, rows = 0;
  double *const fields[] = { &sheet->left,    &sheet->top,   &sheet->pitch_x,
                             &sheet->pitch_y, &sheet->width, &sheet->height };

  if (g_strv_length (parts) != 1 + G_N_ELEMENTS (fields) || g_strv_length (grid) != 2
      || !g_ascii_string_to_signed (grid[0], 10, 0, 1000, &columns, NULL)
      || !g_ascii_string_to_signed (grid[1], 10, 0, 1000, &rows, NULL))
    return FALSE;
  sheet->columns = (int)columns;
  sheet->rows = (int)rows;
  for (gsize i = 0; i < G_N_ELEMENTS (fields); i++)
    if (!parse_number (parts[i + 1], fields[i]))
      return FALSE;
  return TRUE;
}

gboolean
sw_label_sheet_parse (const char *text, SwLabelSheet *out_sheet, GError **error)
{
  SwLabelSheet typed = { 0 };
  g_autofree char *shown = sw_text_quote (text);
  g_autoptr (GString) names = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (sheets); i++)
    {
      if (sw_text_same_name (sheets[i].name, text))
        {
          *out_sheet = sheets[i];
          return TRUE;
        }
      g_string_append_printf (names, "%s'%s'", i > 0 ? ", " : "", sheets[i].name);
    }
  if (parse_measure (text, &typed))
    {
      if (!check (&typed, error))
        return FALSE;
      *out_sheet = typed;
      return TRUE;
    }
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("There is no sheet of labels %s: there is %s, or its measure as "
                  "COLUMNSxROWS,LEFT,TOP,PITCHX,PITCHY,WIDTH,HEIGHT in mm."),
               shown, names->str);
  return FALSE;
}
