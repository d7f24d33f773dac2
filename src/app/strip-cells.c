/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The strip as cells for assistive technology: each stop, then its units. */
#include "app/strip-view-private.h"

#include "app/stop-words.h"

/* How many stops begin at or before the unit. */
static int
stops_upto (SwStripView *self, int u)
{
  guint low = 0, high = self->strip->begins->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      if (g_array_index (self->strip->begins, guint, middle) <= (guint)u)
        low = middle + 1;
      else
        high = middle;
    }
  return (int)low;
}

/* The stop that cell i is (-1: it is a unit), and the unit it is or begins with. */
static int
cell_stop (SwStripView *self, int i, int *out_unit)
{
  guint low = 0, high = self->strip->begins->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      if (g_array_index (self->strip->begins, guint, middle) + middle <= (guint)i)
        low = middle + 1;
      else
        high = middle;
    }
  if (low > 0 && g_array_index (self->strip->begins, guint, low - 1) + low - 1 == (guint)i)
    {
      *out_unit = (int)g_array_index (self->strip->begins, guint, low - 1);
      return (int)low - 1;
    }
  *out_unit = i - (int)low;
  return -1;
}

static int
cells_count (SwCells *cells)
{
  SwStripView *self = SW_STRIP_VIEW (cells);
  return self->strip != NULL ? sw_strip_n_units (self) + (int)self->strip->stops->len : 0;
}

static char *
cells_name (SwCells *cells, int i)
{
  SwStripView *self = SW_STRIP_VIEW (cells);
  int u, stop = cell_stop (self, i, &u);

  return stop >= 0 ? sw_stop_sentence (g_ptr_array_index (self->strip->stops, (guint)stop))
                   : sw_strip_unit_sentence (self->strip, (guint)u);
}

static void
cells_extents (SwCells *cells, int i, GdkRectangle *out_area)
{
  SwStripView *self = SW_STRIP_VIEW (cells);
  const SwStripHeights *h = &self->brush.heights;
  int u, stop = cell_stop (self, i, &u);
  const SwStripSpan *span = stop >= 0 ? &self->layout->stops[stop] : &self->layout->units[u];
  gint64 at = CLAMP (span->x - (gint64)sw_strip_offset (self), -G_MAXINT / 4, G_MAXINT / 4);

  out_area->x
      = (int)(sw_strip_is_mirrored (self) ? sw_strip_view_width (self) - at - span->width : at);
  out_area->width = span->width;
  /* a stop is pointed at by its words, below its photos */
  out_area->y = stop >= 0 ? h->bracket_y : h->photo_y;
  out_area->height = stop >= 0 ? h->height - h->bracket_y : h->photo_h;
}

static int
cells_selected (SwCells *cells)
{
  SwStripView *self = SW_STRIP_VIEW (cells);
  int u = self->brush.cursor;

  return u >= 0 ? u + stops_upto (self, u) : -1;
}

static void
cells_select (SwCells *cells, int i)
{
  SwStripView *self = SW_STRIP_VIEW (cells);
  int u = -1;

  if (i >= 0)
    cell_stop (self, i, &u);
  sw_strip_pick_nothing_quietly (self);
  sw_strip_choose (self, u, TRUE);
}

static void
cells_activate (SwCells *cells, int i)
{
  cells_select (cells, i);
  sw_strip_activate_chosen (SW_STRIP_VIEW (cells));
}

void
sw_strip_cells_init (SwCellsInterface *iface)
{
  iface->count = cells_count;
  iface->name = cells_name;
  iface->extents = cells_extents;
  iface->selected = cells_selected;
  iface->select = cells_select;
  iface->activate = cells_activate;
}
