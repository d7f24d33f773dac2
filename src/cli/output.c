/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/output.h"

#include <errno.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

static void
print_line (FILE *to, const char *format, va_list args)
{
  g_autofree char *raw = g_strdup_vprintf (format, args);
  g_autofree char *safe = sw_text_printable (raw, -1);

  fputs (safe, to);
  fputc ('\n', to);
}

void
sw_out_line (const char *format, ...)
{
  va_list args;

  va_start (args, format);
  print_line (stdout, format, args);
  va_end (args);
}

void
sw_err_line (const char *format, ...)
{
  va_list args;

  va_start (args, format);
  print_line (stderr, format, args);
  va_end (args);
}

void
sw_out_text (const char *text)
{
  fputs (text, stdout);
}

/* A name of ten thousand letters must not push all other rows apart; it alone sticks out. */
#define WIDEST_COLUMN 60

static void
measure_columns (GPtrArray *rows, GArray *widths)
{
  for (guint r = 0; r < rows->len; r++)
    {
      char **cells = g_ptr_array_index (rows, r);
      for (guint c = 0; cells[c] != NULL; c++)
        {
          int width = (int)MIN (g_utf8_strlen (cells[c], -1), WIDEST_COLUMN);
          if (c >= widths->len)
            g_array_append_val (widths, width);
          else if (g_array_index (widths, int, c) < width)
            g_array_index (widths, int, c) = width;
        }
    }
}

static void
append_padded (GString *line, const char *cell, int width, gboolean right, gboolean last)
{
  int pad = width - (int)g_utf8_strlen (cell, -1);

  if (right)
    for (int i = 0; i < pad; i++)
      g_string_append_c (line, ' ');
  g_string_append (line, cell);
  if (!right && !last)
    for (int i = 0; i < pad; i++)
      g_string_append_c (line, ' ');
  if (!last)
    g_string_append (line, "  ");
}

void
sw_out_table (GPtrArray *rows, guint right)
{
  g_autoptr (GPtrArray) safe = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  g_autoptr (GArray) widths = g_array_new (FALSE, TRUE, sizeof (int));

  for (guint r = 0; r < rows->len; r++)
    {
      char **cells = g_ptr_array_index (rows, r);
      guint n = g_strv_length (cells);
      char **copy = g_new0 (char *, n + 1);
      for (guint c = 0; c < n; c++)
        copy[c] = sw_text_printable (cells[c], -1);
      g_ptr_array_add (safe, copy);
    }
  measure_columns (safe, widths);
  for (guint r = 0; r < safe->len; r++)
    {
      char **cells = g_ptr_array_index (safe, r);
      g_autoptr (GString) line = g_string_new (NULL);
      for (guint c = 0; cells[c] != NULL; c++)
        append_padded (line, cells[c], g_array_index (widths, int, c), (right >> c) & 1,
                       cells[c + 1] == NULL);
      fputs (line->str, stdout);
      fputc ('\n', stdout);
    }
}

gboolean
sw_out_flush (GError **error)
{
  if (fflush (stdout) == 0 && !ferror (stdout))
    return TRUE;
  return sw_error_from_errno (error, errno, _ ("The output could not be written"));
}

void
sw_out_json (JsonBuilder *builder)
{
  g_autoptr (JsonGenerator) generator = json_generator_new ();
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  g_autofree char *text = NULL;

  json_generator_set_root (generator, root);
  json_generator_set_pretty (generator, TRUE);
  text = json_generator_to_data (generator, NULL);
  fputs (text, stdout);
  fputc ('\n', stdout);
}

/* JSON is UTF-8; a file name need not be. */
static void
add_text (JsonBuilder *builder, const char *text)
{
  if (text == NULL)
    {
      json_builder_add_null_value (builder);
      return;
    }
  if (g_utf8_validate (text, -1, NULL))
    {
      json_builder_add_string_value (builder, text);
      return;
    }
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  json_builder_add_string_value (builder, valid);
}

void
sw_json_text (JsonBuilder *builder, const char *name, const char *text)
{
  json_builder_set_member_name (builder, name);
  add_text (builder, text);
}

void
sw_json_int (JsonBuilder *builder, const char *name, gint64 value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, value);
}

void
sw_json_int_or_null (JsonBuilder *builder, const char *name, gboolean has, gint64 value)
{
  json_builder_set_member_name (builder, name);
  if (has)
    json_builder_add_int_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
sw_json_double_or_null (JsonBuilder *builder, const char *name, gboolean has, double value)
{
  json_builder_set_member_name (builder, name);
  if (has && isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
sw_json_bool (JsonBuilder *builder, const char *name, gboolean value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_boolean_value (builder, value);
}

void
sw_json_ints (JsonBuilder *builder, const char *name, const GArray *values)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; values != NULL && i < values->len; i++)
    json_builder_add_int_value (builder, g_array_index (values, gint64, i));
  json_builder_end_array (builder);
}

void
sw_json_texts (JsonBuilder *builder, const char *name, const GPtrArray *values)
{
  json_builder_set_member_name (builder, name);
  json_builder_begin_array (builder);
  for (guint i = 0; values != NULL && i < values->len; i++)
    add_text (builder, g_ptr_array_index (values, i));
  json_builder_end_array (builder);
}
