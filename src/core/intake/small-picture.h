/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The small picture that a camera puts into the header of a JPEG: the first thing there is to show
 * of a photo, long before its own pixels are decoded. Runs only inside the decode helper. */
#pragma once

#include "core/intake/container.h"
#include "core/intake/decode-helper.h"
#include "core/intake/pixels.h"

G_BEGIN_DECLS

/* Bytes at the start of a file that hold it as a rule: one segment of a JPEG is no longer (ITU-T
 * T.81, B.1.1.4). */
#define SW_SMALL_PICTURE_HEAD (64 * 1024)

/* Decodes it to at least max_side pixels on the long side where it has so many; as stored, not yet
 * upright. Black bars that fit it into another shape than the photo's are cut off. BAD where there
 * is none, or where it cannot be of this photo: damaged, outside its block, of another shape,
 * larger than the photo or than any camera makes it, or too small to be told from a blot.
 * out_full_*: the photo's own size, as stored. */
SwDecodeStatus sw_small_picture_read (const SwPeek *peek, guint max_side, SwPixels *out,
                                      guint *out_full_width, guint *out_full_height);

/* Which part of 'small' shows a photo of this size: all of it, or what lies between black bars
 * above and below, or left and right. FALSE where it is another picture's. */
gboolean sw_small_picture_fit (const SwPixels *small, guint full_width, guint full_height,
                               guint *out_x, guint *out_y, guint *out_width, guint *out_height);

G_END_DECLS
