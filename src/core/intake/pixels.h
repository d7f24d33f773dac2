/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain sums over pixels in memory: shrinking, turning upright, measures of likeness. Intake layer;
 * used by the decode helper and by the thumbnails. 8-bit RGB, rows without padding. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  guint width, height;
  guint8 *rgb; /* width * height * 3, g_malloc */
} SwPixels;

void sw_pixels_clear (SwPixels *pixels);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwPixels, sw_pixels_clear)

/* Size that fits max_side, never enlarged, at least 1 x 1. */
void sw_pixels_fit (guint width, guint height, guint max_side, guint *out_width, guint *out_height);

/* Mean over the fields of the smaller picture; width and height at most those of 'from', at
 * least 1. */
SwPixels sw_pixels_shrink (const SwPixels *from, guint width, guint height);

/* Turns a picture stored with Exif orientation 1 to 8 upright (Exif 2.32, 4.6.4: where row 0 and
 * column 0 lie). */
SwPixels sw_pixels_upright (const SwPixels *from, int orientation);
/* A part of what that would give, from x, y (inside it) on; cut off where the picture ends. */
SwPixels sw_pixels_upright_part (const SwPixels *from, int orientation, guint x, guint y,
                                 guint width, guint height);

/* The Exif value that stands for 'orientation' (1 to 8, else 1) and then so many quarter turns
 * clockwise. */
int sw_orientation_turned (int orientation, int quarters);

/* Luma of each pixel (weights of ITU-R BT.601), width * height bytes. Transfer full. */
guint8 *sw_pixels_luma (const SwPixels *pixels);

/* 64 bits: whether the luma falls from each of 9 columns to the next, in 8 rows; the top left pair
 * is the highest bit. */
guint64 sw_pixels_dhash (const SwPixels *pixels);
/* Mean luma of 8 x 8 fields, row by row. */
void sw_pixels_grid (const SwPixels *pixels, guint8 out[64]);

G_END_DECLS
