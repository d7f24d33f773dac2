/* SPDX-License-Identifier: GPL-3.0-or-later */
/* QR codes on a picture, read with zbar. Runs only inside the decode helper: the pixels are
 * hostile, and so is what a code says. Intake layer; does not know which codes are ours. */
#pragma once

#include "core/intake/decode-helper.h"
#include "core/intake/pixels.h"

G_BEGIN_DECLS

/* Long side at which codes are looked for: a card stays readable where its code takes up some 4% of
 * it. */
#define SW_CODE_READER_SIDE 1600u

/* Finds up to SW_DECODE_CODES codes, the largest first, each text once. Their number. */
guint sw_code_reader_read (const SwPixels *pixels, SwDecodeCode out[SW_DECODE_CODES]);

G_END_DECLS
