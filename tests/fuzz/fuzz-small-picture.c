/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as the head of a photo that should hold a small picture: what is found lies within the
 * file, and what is shown of it within what was decoded. The first two bytes are the shape that the
 * photo is said to have. */
#include "target.h"

#include <stdlib.h>

#include "core/intake/small-picture.h"

#define SIDE 160

static void
fit (const uint8_t *shape, const SwPixels *small)
{
  guint x, y, w, h;

  if (sw_small_picture_fit (small, shape[0] * 16u + 1, shape[1] * 16u + 1, &x, &y, &w, &h)
      && (w < 1 || h < 1 || x + w > small->width || y + h > small->height))
    abort ();
}

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  g_auto (SwPixels) small = { 0 };
  guint width = 0, height = 0;

  if (size < 2)
    return 0;
  SwPeek peek = { data + 2, size - 2, -1, size - 2 };
  if (sw_small_picture_read (&peek, SIDE, &small, &width, &height) != SW_DECODE_OK)
    return 0;
  if (small.width < 1 || small.height < 1 || small.width > width || small.height > height)
    abort ();
  fit (data, &small);
  return 0;
}
