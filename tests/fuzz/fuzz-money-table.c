/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a money table: each row is known and without a fault, or named with its line. */
#include "target.h"

#include "core/trade/rows.h"

#include <stdlib.h>

static void
count (int line, const char *sentence, gpointer data)
{
  int *n = data;
  if (line < 1 || *sentence == '\0')
    abort ();
  (*n)++;
}

static void
pass_over (int line, const char *sentence, gpointer data)
{
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", NULL);
  g_autoptr (GBytes) bytes = g_bytes_new (data, size);
  g_autoptr (SwTable) table = sw_table_read (bytes, NULL);
  if (zone == NULL || table == NULL)
    return 0;
  g_autoptr (GError) error = NULL;
  int faults = 0, faulty = 0;
  g_autoptr (GPtrArray) rows
      = sw_rows_read (table, (SwCurrency){ "NZD", 2 }, zone, count, pass_over, &faults, &error);
  if ((rows == NULL) != (error != NULL))
    abort ();
  for (guint i = 0; rows != NULL && i < rows->len; i++)
    {
      const SwRow *row = g_ptr_array_index (rows, i);
      g_autofree char *content = row->known ? sw_row_content (row) : NULL;
      faulty += row->known ? 0 : 1;
      for (int c = 0; row->known && c < SW_N_COLUMNS; c++)
        if (row->value[c] < 0 && c != SW_COLUMN_AT && c != SW_COLUMN_UP && c != SW_COLUMN_FROM
            && c != SW_COLUMN_CLOSES && c != SW_COLUMN_UNTIL)
          abort (); /* no amount, count or mass is negative; moments before 1970 are */
    }
  if ((faults == 0) != (faulty == 0))
    abort ();
  return 0;
}
