/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures in memory to pixels, one function a format. Runs only inside the decode helper. */
#pragma once

#include "core/intake/decode-helper.h"
#include "core/intake/pixels.h"
#include "core/intake/sniff.h"

G_BEGIN_DECLS

/* Decodes to at least 'max_side' on the long side where the picture has so many, scaled on the way
 * where the format allows. out_full_*: the whole size as stored. Pixels are as stored, but HEIF
 * ones follow their own turn; what can be seen through lies on white. An empty file is BAD. */
SwDecodeStatus sw_decode_bytes (const guint8 *bytes, gsize length, SwFileKind kind, guint max_side,
                                SwPixels *out, guint *out_full_width, guint *out_full_height);

/* The same of a JPEG that stands in for another picture until that is decoded: nothing is worth
 * waiting for, so one that is damaged, or over 'most_side' pixels by its own header, is BAD. */
SwDecodeStatus sw_decode_small_jpeg (const guint8 *bytes, gsize length, guint max_side,
                                     guint most_side, SwPixels *out);

G_END_DECLS
