/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Running sums over units and stops. The scale is one for the whole strip, so that a longer gap is
 * always the wider one, up to the fold. */
#include "app/strip-layout.h"

#include "app/text.h"

#define DAY_US (24 * 3600 * SW_US_PER_SECOND)
/* A pause over midnight as long as this is a night. */
#define NIGHT_S (4 * 3600)

void
sw_strip_layout_free (SwStripLayout *layout)
{
  if (layout == NULL)
    return;
  g_free (layout->units);
  g_free (layout->stops);
  g_clear_pointer (&layout->bands, g_array_unref);
  g_free (layout);
}

static const SwStripUnit *
unit_at (const SwStrip *strip, guint u)
{
  return &g_array_index (strip->units, SwStripUnit, u);
}

static gint64
day_of (gint64 t_us)
{
  return (t_us >= 0 ? t_us : t_us - (DAY_US - 1)) / DAY_US;
}

/* The gap between two units, as long as it was. */
static void
measure_gap (SwStripSpan *span, const SwStripUnit *before, const SwStripUnit *unit, gboolean within,
             const SwStripMetrics *metrics)
{
  span->gap = SW_GAP_SCALED;
  span->gap_width = within ? metrics->near : metrics->between;
  if (before->timed && !unit->timed && !within)
    span->gap = SW_GAP_UNKNOWN;
  else if (before->timed && unit->timed)
    {
      span->gap_s = (double)MAX (unit->t_us - before->t_us, 0) / SW_US_PER_SECOND;
      if (span->gap_s > NIGHT_S && day_of (unit->t_us) != day_of (before->t_us))
        span->gap = SW_GAP_NIGHT;
      else if (span->gap_s > SW_STRIP_FOLD_S)
        span->gap = SW_GAP_FOLDED;
    }
  span->gap_width
      += span->gap == SW_GAP_SCALED ? (int)(span->gap_s * metrics->per_second) : metrics->fold;
}

/* The stop ends behind its last unit, or where its words do. */
static gint64
close_stop (SwStripSpan *stop, gint64 x, const SwStripMetrics *metrics)
{
  stop->width = (int)MAX (x + metrics->pad - stop->x, metrics->least_stop);
  return stop->x + stop->width;
}

static void
lay_units (SwStripLayout *layout, const SwStrip *strip, const SwStripMetrics *metrics)
{
  gint64 x = metrics->between;
  int open = -1;

  for (guint u = 0; u < layout->n_units; u++)
    {
      const SwStripUnit *unit = unit_at (strip, u);
      SwStripSpan *span = &layout->units[u];
      gboolean within = unit->stop >= 0 && unit->stop == open;

      if (open >= 0 && !within)
        x = close_stop (&layout->stops[open], x, metrics);
      if (u > 0)
        measure_gap (span, unit_at (strip, u - 1), unit, within, metrics);
      x += span->gap_width;
      if (unit->stop >= 0 && !within)
        {
          layout->stops[unit->stop] = *span;
          layout->stops[unit->stop].x = x;
          x += metrics->pad;
        }
      open = unit->stop;
      span->x = x;
      span->width = unit->kind == SW_STRIP_PHOTO ? metrics->photo : metrics->file;
      x += span->width;
    }
  if (open >= 0)
    x = close_stop (&layout->stops[open], x, metrics);
  layout->total = x + metrics->between;
}

static void
lay_bands (SwStripLayout *layout, const SwStrip *strip)
{
  for (guint k = 0; k < layout->n_stops; k++)
    {
      const SwStopRecord *stop = g_ptr_array_index (strip->stops, k);
      const SwStripSpan *span = &layout->stops[k];
      SwStripBand *last = layout->bands->len > 0
                              ? &g_array_index (layout->bands, SwStripBand, layout->bands->len - 1)
                              : NULL;
      const SwStopRecord *before = k > 0 ? g_ptr_array_index (strip->stops, k - 1) : NULL;

      if (stop->place == 0)
        continue;
      if (last != NULL && last->last == k - 1 && before->place == stop->place
          && span->gap <= SW_GAP_FOLDED)
        {
          last->last = k;
          last->end = span->x + span->width;
          continue;
        }
      SwStripBand band = { k, k, span->x, span->x + span->width };
      g_array_append_val (layout->bands, band);
    }
}

SwStripLayout *
sw_strip_layout_new (const SwStrip *strip, const SwStripMetrics *metrics)
{
  SwStripLayout *layout = g_new0 (SwStripLayout, 1);

  layout->n_units = strip->units->len;
  layout->n_stops = strip->stops->len;
  layout->units = g_new0 (SwStripSpan, layout->n_units + 1);
  layout->stops = g_new0 (SwStripSpan, layout->n_stops + 1);
  layout->bands = g_array_new (FALSE, FALSE, sizeof (SwStripBand));
  lay_units (layout, strip, metrics);
  lay_bands (layout, strip);
  return layout;
}

guint
sw_strip_spans_from (const SwStripSpan *spans, guint n, gint64 x)
{
  guint low = 0, high = n;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      if (spans[middle].x + spans[middle].width > x)
        high = middle;
      else
        low = middle + 1;
    }
  return low;
}

guint
sw_strip_bands_from (const SwStripLayout *layout, gint64 x)
{
  guint low = 0, high = layout->bands->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;
      if (g_array_index (layout->bands, SwStripBand, middle).end > x)
        high = middle;
      else
        low = middle + 1;
    }
  return low;
}

char *
sw_strip_gap_text (const SwStripSpan *span)
{
  int minutes = (int)((span->gap_s + 30) / 60);

  if (span->gap == SW_GAP_NIGHT)
    return g_strdup (_ ("night"));
  if (span->gap == SW_GAP_UNKNOWN)
    return g_strdup (_ ("no time"));
  if (minutes < 60)
    return g_strdup_printf (_ ("%d min"), minutes);
  if (minutes % 60 == 0)
    return g_strdup_printf (_ ("%d h"), minutes / 60);
  return g_strdup_printf (_ ("%d h %d min"), minutes / 60, minutes % 60);
}
