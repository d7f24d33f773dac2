/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the units of a strip stand: photos of one size, gaps as wide as they were long, stops that
 * bracket their photos, bands of one place. Geometry along the time only, from its beginning; a
 * reader from right to left mirrors it. Pure; draws nothing. */
#pragma once

#include "core/match/strip.h"

G_BEGIN_DECLS

/* Pixels. */
typedef struct
{
  int photo, file;   /* width of a photo's cell, and of a clip's or memo's */
  int least_stop;    /* width a stop has at least, for its words */
  int pad;           /* between a stop's end and its first and last photo */
  int near, between; /* a gap of no time within a stop, and between two */
  int fold;          /* a gap too long for the scale */
  double per_second; /* the scale */
} SwStripMetrics;

/* A gap longer than this is folded, whatever the scale: seconds. */
#define SW_STRIP_FOLD_S 600

typedef enum
{
  SW_GAP_SCALED,
  SW_GAP_FOLDED,
  SW_GAP_NIGHT,   /* folded: over a midnight, for hours */
  SW_GAP_UNKNOWN, /* folded: what follows has no time */
} SwGapKind;

typedef struct
{
  gint64 x;
  int width;
  SwGapKind gap; /* before it */
  int gap_width;
  double gap_s; /* 0 for the first */
} SwStripSpan;

/* Stops [first, last] of one place on end. */
typedef struct
{
  guint first, last;
  gint64 x, end;
} SwStripBand;

typedef struct
{
  SwStripSpan *units;
  guint n_units;
  SwStripSpan *stops; /* gap: that of its first unit */
  guint n_stops;
  GArray *bands; /* SwStripBand */
  gint64 total;
} SwStripLayout;

/* Linear in units. Transfer full. */
SwStripLayout *sw_strip_layout_new (const SwStrip *strip, const SwStripMetrics *metrics);
void sw_strip_layout_free (SwStripLayout *layout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwStripLayout, sw_strip_layout_free)

/* The first span / band that ends behind x; n (bands->len) for none. Binary search. */
guint sw_strip_spans_from (const SwStripSpan *spans, guint n, gint64 x);
guint sw_strip_bands_from (const SwStripLayout *layout, gint64 x);

/* "42 min", "3 h 10 min", "night", "no time". Transfer full. */
char *sw_strip_gap_text (const SwStripSpan *span);

G_END_DECLS
