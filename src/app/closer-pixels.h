/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pixels for looking closer: of each wanted photo the whole at a fitting size, and a part of it at
 * the scale looked at. Decoded one after another in a helper process, the most urgent first, and
 * dropped as soon as nobody wants it: what is kept is bounded by what is wished for.
 *
 * Budget: a whole is at most 2,048 pixels a side (16 MB), a part at most 24 megapixels (96 MB).
 * Two photos beside each other with their neighbours prepared stay below 260 MB, whatever their
 * size; one photo alone below 150 MB. */
#pragma once

#include <cairo.h>

#include "app/picture-source.h"

G_BEGIN_DECLS

#define SW_CLOSER_WHOLE_SIDE 2048u
#define SW_CLOSER_PART_PIXELS 24000000u

#define SW_TYPE_CLOSER_PIXELS (sw_closer_pixels_get_type ())
G_DECLARE_FINAL_TYPE (SwCloserPixels, sw_closer_pixels, SW, CLOSER_PIXELS, GObject)

/* Pixels of a photo that were decoded: scaled to scaled_width x scaled_height and turned upright;
 * the surface holds what lies from x, y on. full_*: unscaled, upright. */
typedef struct
{
  cairo_surface_t *surface;
  int full_width, full_height, scaled_width, scaled_height, x, y, width, height;
} SwCloserPart;

/* part FALSE: the whole. Else the part around x, y, width, height (of the photo scaled to 'side' on
 * its long side) is wanted. */
typedef struct
{
  gint64 photo;
  gboolean part;
  int side, x, y, width, height;
} SwCloserWish;

/* Signal: "loaded" (gint64 photo): more is known of it. Transfer full. */
SwCloserPixels *sw_closer_pixels_new (SwPictureSource *source);

/* What is wanted now, the most urgent first; what is not among it is dropped. */
void sw_closer_pixels_set_wishes (SwCloserPixels *self, const SwCloserWish *wishes, guint n);
/* The photo is turned otherwise now: what is kept of it is of no use. */
void sw_closer_pixels_forget (SwCloserPixels *self, gint64 photo);

/* NULL: not there yet. Transfer none, valid until the main loop runs again. */
const SwCloserPart *sw_closer_pixels_whole (SwCloserPixels *self, gint64 photo);
const SwCloserPart *sw_closer_pixels_part (SwCloserPixels *self, gint64 photo);
/* No picture can be made of it. */
gboolean sw_closer_pixels_failed (SwCloserPixels *self, gint64 photo);
/* Nothing wished for is missing. */
gboolean sw_closer_pixels_is_idle (SwCloserPixels *self);

G_END_DECLS
