/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as one flat JSON object: refused, or its texts and numbers write as what reads the same
 * again. */
#include "target.h"

#include "core/base/json-line.h"

#include <stdlib.h>
#include <string.h>

static GString *
written (GHashTable *object)
{
  GString *line = g_string_new ("{");
  GHashTableIter iter;
  gpointer name = NULL, data = NULL;

  g_hash_table_iter_init (&iter, object);
  while (g_hash_table_iter_next (&iter, &name, &data))
    {
      const SwJsonValue *value = data;
      g_string_append (line, line->len > 1 ? ", " : "");
      sw_json_append_string (line, name);
      g_string_append (line, ": ");
      if (value->kind == SW_JSON_NULL)
        g_string_append (line, "null");
      else if (value->kind == SW_JSON_INT)
        g_string_append_printf (line, "%" G_GINT64_FORMAT, value->integer);
      else if (value->kind == SW_JSON_DOUBLE)
        sw_json_append_double (line, value->number);
      else
        sw_json_append_string (line, value->text);
    }
  return g_string_append_c (line, '}');
}

static double
number_of (const SwJsonValue *value)
{
  return value->kind == SW_JSON_INT ? (double)value->integer : value->number;
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GHashTable) object = sw_json_line_parse ((const char *)data, size, &error);
  if ((object == NULL) != (error != NULL))
    abort ();
  if (object == NULL)
    return 0;
  g_autoptr (GString) line = written (object);
  g_autoptr (GHashTable) again = sw_json_line_parse (line->str, line->len, NULL);
  if (again == NULL || g_hash_table_size (again) != g_hash_table_size (object))
    abort ();
  GHashTableIter iter;
  gpointer name = NULL, was = NULL;
  g_hash_table_iter_init (&iter, object);
  while (g_hash_table_iter_next (&iter, &name, &was))
    {
      const SwJsonValue *before = was, *after = g_hash_table_lookup (again, name);
      if (after == NULL || g_strcmp0 (before->text, after->text) != 0
          || number_of (before) != number_of (after))
        abort ();
    }
  return 0;
}
