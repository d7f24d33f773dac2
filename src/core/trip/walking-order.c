/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/trip/walking-order.h"

#include <string.h>

gint64
sw_walking_length (const gint64 *ways, gsize n, const guint *order)
{
  gint64 length = 0;

  for (gsize i = 1; i < n; i++)
    length += ways[order[i - 1] * n + order[i]];
  return length;
}

/* ---- exact ---- */

/* best[set * n + last]: the shortest path from order[0] through the set that ends at last; both in
 * positions of the order given, without the first. */
typedef struct
{
  const gint64 *ways;
  gsize n;
  const guint *order;
  gint64 *best;
  guint8 *before;
} Table;

static gint64
way (const Table *table, gsize from, gsize to)
{
  return table->ways[table->order[from] * table->n + table->order[to]];
}

static void
fill_cell (Table *table, guint set, gsize last)
{
  gsize rest = table->n - 1;
  guint others = set & ~(1u << last);
  gint64 *cell = &table->best[set * rest + last];

  if (others == 0)
    {
      *cell = way (table, 0, last + 1);
      return;
    }
  *cell = G_MAXINT64;
  for (gsize from = 0; from < rest; from++)
    {
      gint64 length;

      if ((others & (1u << from)) == 0)
        continue;
      length = table->best[others * rest + from] + way (table, from + 1, last + 1);
      if (length < *cell)
        {
          *cell = length;
          table->before[set * rest + last] = (guint8)from;
        }
    }
}

static void
read_path (const Table *table, guint *out)
{
  gsize rest = table->n - 1;
  guint set = (1u << rest) - 1;
  gsize last = 0;

  for (gsize end = 1; end < rest; end++)
    if (table->best[set * rest + end] < table->best[set * rest + last])
      last = end;
  for (gsize at = rest; at > 0; at--)
    {
      gsize before = table->before[set * rest + last];

      out[at] = table->order[last + 1];
      set &= ~(1u << last);
      last = before;
    }
  out[0] = table->order[0];
}

static void
walk_exactly (const gint64 *ways, gsize n, const guint *order, guint *out)
{
  gsize rest = n - 1, cells = ((gsize)1 << rest) * rest;
  g_autofree gint64 *best = g_new (gint64, cells);
  g_autofree guint8 *before = g_new0 (guint8, cells);
  Table table = { ways, n, order, best, before };

  for (guint set = 1; set < 1u << rest; set++)
    for (gsize last = 0; last < rest; last++)
      if (set & (1u << last))
        fill_cell (&table, set, last);
  read_path (&table, out);
}

/* ---- bettered ---- */

static void
turn_round (guint *order, gsize from, gsize to)
{
  for (; from < to; from++, to--)
    {
      guint kept = order[from];

      order[from] = order[to];
      order[to] = kept;
    }
}

/* What turning the stretch from 'from' to 'to' round adds. */
static gint64
turning_adds (const gint64 *ways, gsize n, const guint *order, gsize from, gsize to)
{
  gint64 adds = ways[order[from - 1] * n + order[to]] - ways[order[from - 1] * n + order[from]];

  if (to + 1 < n)
    adds += ways[order[from] * n + order[to + 1]] - ways[order[to] * n + order[to + 1]];
  return adds;
}

static gboolean
better_by_turning (const gint64 *ways, gsize n, guint *order)
{
  gboolean any = FALSE;

  for (gsize from = 1; from + 1 < n; from++)
    for (gsize to = from + 1; to < n; to++)
      if (turning_adds (ways, n, order, from, to) < 0)
        {
          turn_round (order, from, to);
          any = TRUE;
        }
  return any;
}

/* The stretch [from, from + length) put before position 'to' of what is left. */
static void
move_stretch (guint *order, gsize n, gsize from, gsize length, gsize to)
{
  guint stretch[3];

  memcpy (stretch, order + from, length * sizeof *order);
  memmove (order + from, order + from + length, (n - from - length) * sizeof *order);
  memmove (order + to + length, order + to, (n - length - to) * sizeof *order);
  memcpy (order + to, stretch, length * sizeof *order);
}

static gboolean
better_by_moving (const gint64 *ways, gsize n, guint *order)
{
  g_autofree guint *tried = g_new (guint, n);
  gint64 length = sw_walking_length (ways, n, order);
  gboolean any = FALSE;

  for (gsize run = 1; run <= 3 && run + 1 < n; run++)
    for (gsize from = 1; from + run <= n; from++)
      for (gsize to = 1; to + run <= n; to++)
        {
          gint64 now;

          memcpy (tried, order, n * sizeof *order);
          move_stretch (tried, n, from, run, to);
          now = sw_walking_length (ways, n, tried);
          if (now >= length)
            continue;
          memcpy (order, tried, n * sizeof *order);
          length = now;
          any = TRUE;
        }
  return any;
}

void
sw_walking_order (const gint64 *ways, gsize n, guint *order)
{
  if (n < 3)
    return;
  if (n <= SW_WALK_EXACT)
    {
      g_autofree guint *shortest = g_new (guint, n);

      walk_exactly (ways, n, order, shortest);
      if (sw_walking_length (ways, n, shortest) < sw_walking_length (ways, n, order))
        memcpy (order, shortest, n * sizeof *order);
      return;
    }
  /* each pass makes it shorter by a whole millimetre at least, so it ends */
  while (better_by_turning (ways, n, order) || better_by_moving (ways, n, order))
    ;
}
