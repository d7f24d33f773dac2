/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a table: refused with an error, or read into cells that can be written and read
 * again. */
#include "target.h"

#include "core/base/table.h"

#include <stdlib.h>
#include <string.h>

static GString *
write_row (const SwTable *table, gsize row)
{
  GString *line = g_string_new ("cell\n");
  sw_table_append_cell (line, sw_table_cell (table, row, 0), FALSE);
  return line;
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (SwTable) table = sw_table_read (bytes, &error);
  if ((table == NULL) != (error != NULL))
    abort ();
  for (gsize row = 0; table != NULL && row < sw_table_n_rows (table); row++)
    {
      if (*sw_table_cell (table, row, 0) == '\0')
        continue;
      g_autoptr (GString) line = write_row (table, row);
      g_autoptr (GBytes) written = g_bytes_new (line->str, line->len);
      g_autoptr (SwTable) again = sw_table_read (written, NULL);
      if (again == NULL || strcmp (sw_table_cell (again, 0, 0), sw_table_cell (table, row, 0)) != 0)
        abort ();
    }
  return 0;
}
