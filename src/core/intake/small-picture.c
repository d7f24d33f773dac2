/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finds the small picture, decodes it and judges by its shape whether it is of the photo that it
 * lies in. Photos were cut or turned by programs that left the old small picture behind, and
 * cameras put pictures of every shape into 4:3, as the design rule for their file system wants it
 * (DCF 2.0, CIPA DC-009, 2010), with black bars to fill the rest. */
#include "core/intake/small-picture.h"

#include <string.h>

#include "core/intake/decode-formats.h"

/* Long side: cameras write 160, phones up to 512 (common practice). */
#define LEAST_SIDE 48u
#define MOST_SIDE 1024u
/* So many hundredths of a side may be missing to the photo's shape: rounding to whole, even or
 * eighth pixels. 4:3 and 5:4 lie 6 apart. */
#define OFF_PER_CENT 2u
/* A line is black where its mean and its brightest pixel are no lighter: the coder's ringing beside
 * the picture is. */
#define BLACK_MEAN 24u
#define BLACK_MOST 72u
/* The bars end within so many lines of where the sum says. */
#define EDGE 2u

/* Whether line i is black: a row, or (columns) a column. */
static gboolean
is_black (const SwPixels *p, gboolean columns, guint i)
{
  guint n = columns ? p->height : p->width;
  guint64 sum = 0;

  for (guint k = 0; k < n; k++)
    {
      const guint8 *at = p->rgb + ((gsize)(columns ? k : i) * p->width + (columns ? i : k)) * 3;
      guint most = MAX (MAX (at[0], at[1]), at[2]);

      if (most > BLACK_MOST)
        return FALSE;
      sum += most;
    }
  return sum <= (guint64)n * BLACK_MEAN;
}

/* How many lines a bar has that should have 'wanted', counted from one side; 0: it is none. Its
 * last ones may be grey where the coder smeared the picture's edge: they belong to it all the same.
 */
static guint
bar_width (const SwPixels *p, gboolean columns, gboolean from_end, guint wanted)
{
  guint lines = columns ? p->width : p->height;
  guint least = wanted > EDGE ? wanted - EDGE : 1, n = 0;

  while (n < wanted + EDGE && n < lines && is_black (p, columns, from_end ? lines - 1 - n : n))
    n++;
  return n >= least ? MAX (n, wanted) : 0;
}

static guint
rounded (guint64 a, guint64 b, guint64 c)
{
  return (guint)((a * b + c / 2) / c);
}

gboolean
sw_small_picture_fit (const SwPixels *small, guint full_width, guint full_height, guint *out_x,
                      guint *out_y, guint *out_width, guint *out_height)
{
  gboolean columns = (guint64)small->width * full_height > (guint64)small->height * full_width;
  guint side = columns ? small->width : small->height;
  guint shown = columns ? rounded (small->height, full_width, full_height)
                        : rounded (small->width, full_height, full_width);
  guint spare = side - MIN (shown, side), before, behind;

  *out_x = *out_y = 0;
  *out_width = small->width;
  *out_height = small->height;
  if (spare <= MAX (1, side * OFF_PER_CENT / 100))
    return TRUE;
  before = bar_width (small, columns, FALSE, (spare + 1) / 2);
  behind = bar_width (small, columns, TRUE, (spare + 1) / 2);
  if (before == 0 || behind == 0 || before + behind >= side)
    return FALSE;
  *(columns ? out_x : out_y) = before;
  *(columns ? out_width : out_height) = side - before - behind;
  return TRUE;
}

/* Its bytes; NULL where there are none that begin as a JPEG does. Transfer full. */
static guint8 *
take_bytes (const SwPeek *peek, const SwContainer *container, guint32 *out_length)
{
  SwPeek block = *peek; /* offsets must not lead out of the block */
  g_autofree guint8 *bytes = NULL;
  guint64 at;

  block.size = MIN (peek->size, container->exif_end);
  if (container->exif_at == 0 || !sw_tiff_find_small (&block, container->exif_at, &at, out_length)
      || *out_length < 4)
    return NULL;
  bytes = g_malloc (*out_length);
  if (!sw_peek_read (&block, at, bytes, *out_length) || memcmp (bytes, "\xFF\xD8\xFF", 3) != 0)
    return NULL;
  return g_steal_pointer (&bytes);
}

SwDecodeStatus
sw_small_picture_read (const SwPeek *peek, guint max_side, SwPixels *out, guint *out_full_width,
                       guint *out_full_height)
{
  g_auto (SwContainer) container = { 0 };
  g_auto (SwPixels) small = { 0 };
  g_autofree guint8 *bytes = NULL;
  guint32 length;
  guint x, y, w, h;

  sw_container_read (peek, SW_FILE_JPEG, &container);
  bytes = take_bytes (peek, &container, &length);
  if (bytes == NULL || container.width == 0 || container.height == 0
      || sw_decode_small_jpeg (bytes, length, max_side, MOST_SIDE, &small) != SW_DECODE_OK)
    return SW_DECODE_BAD;
  if (MAX (small.width, small.height) < LEAST_SIDE || small.width > container.width
      || small.height > container.height
      || !sw_small_picture_fit (&small, container.width, container.height, &x, &y, &w, &h))
    return SW_DECODE_BAD;
  *out = sw_pixels_upright_part (&small, 1, x, y, w, h);
  *out_full_width = container.width;
  *out_full_height = container.height;
  return SW_DECODE_OK;
}
