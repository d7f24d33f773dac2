/* SPDX-License-Identifier: GPL-3.0-or-later */
/* QR codes on a picture. Runs only inside the decode helper: the pixels are hostile, and so is what
 * a code says. Intake layer; does not know which codes are ours. */
#pragma once

#include "core/intake/decode-helper.h"
#include "core/intake/pixels.h"

G_BEGIN_DECLS

/* Long side that codes are looked for at, where the photo has so many: what a decoder's scaling by
 * halves gives between these. A code stays readable where it takes up some 4% of it. */
#define SW_CODE_READER_SIDE 1600u
#define SW_CODE_READER_MOST 2048u

/* Finds up to SW_DECODE_CODES codes, the largest first, each text once. Their number. */
guint sw_code_reader_read (const SwPixels *pixels, SwDecodeCode out[SW_DECODE_CODES]);

G_END_DECLS
