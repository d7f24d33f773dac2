/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain sums over pixels in memory. Knows no file format. */
#include "core/intake/pixels.h"

#include <string.h>

void
sw_pixels_clear (SwPixels *pixels)
{
  g_clear_pointer (&pixels->rgb, g_free);
}

void
sw_pixels_fit (guint width, guint height, guint max_side, guint *out_width, guint *out_height)
{
  guint side = MAX (width, height);

  if (side <= max_side)
    {
      *out_width = width;
      *out_height = height;
      return;
    }
  *out_width = (guint)MAX (1, ((guint64)width * max_side + side / 2) / side);
  *out_height = (guint)MAX (1, ((guint64)height * max_side + side / 2) / side);
}

SwPixels
sw_pixels_shrink (const SwPixels *from, guint width, guint height)
{
  SwPixels to = { width, height, g_malloc ((gsize)width * height * 3) };

  for (guint y = 0; y < height; y++)
    {
      guint y0 = (guint)((guint64)y * from->height / height);
      guint y1 = MAX ((guint)((guint64)(y + 1) * from->height / height), y0 + 1);

      for (guint x = 0; x < width; x++)
        {
          guint x0 = (guint)((guint64)x * from->width / width);
          guint x1 = MAX ((guint)((guint64)(x + 1) * from->width / width), x0 + 1);
          guint64 sum[3] = { 0 }, n = (guint64)(x1 - x0) * (y1 - y0);

          for (guint v = y0; v < y1; v++)
            for (const guint8 *p = from->rgb + ((gsize)v * from->width + x0) * 3,
                              *end = p + (gsize)(x1 - x0) * 3;
                 p < end; p += 3)
              {
                sum[0] += p[0];
                sum[1] += p[1];
                sum[2] += p[2];
              }
          for (guint c = 0; c < 3; c++)
            to.rgb[((gsize)y * width + x) * 3 + c] = (guint8)((sum[c] + n / 2) / n);
        }
    }
  return to;
}

/* How each Exif orientation is undone: rows and columns change places first, then mirroring. */
static const struct
{
  gboolean swap, mirror_x, mirror_y;
} turns[9] = {
  [1] = { FALSE, FALSE, FALSE }, [2] = { FALSE, TRUE, FALSE }, [3] = { FALSE, TRUE, TRUE },
  [4] = { FALSE, FALSE, TRUE },  [5] = { TRUE, FALSE, FALSE }, [6] = { TRUE, TRUE, FALSE },
  [7] = { TRUE, TRUE, TRUE },    [8] = { TRUE, FALSE, TRUE },
};

SwPixels
sw_pixels_upright_part (const SwPixels *from, int orientation, guint x0, guint y0, guint width,
                        guint height)
{
  int o = orientation >= 1 && orientation <= 8 ? orientation : 1;
  guint whole_w = turns[o].swap ? from->height : from->width;
  guint whole_h = turns[o].swap ? from->width : from->height;
  SwPixels to = { MIN (width, whole_w - x0), MIN (height, whole_h - y0), NULL };

  to.rgb = g_malloc ((gsize)to.width * to.height * 3);
  for (guint y = 0; y < to.height; y++)
    {
      guint8 *row = to.rgb + (gsize)y * to.width * 3;
      guint v = turns[o].mirror_y ? whole_h - 1 - (y + y0) : y + y0;

      if (o == 1)
        {
          memcpy (row, from->rgb + ((gsize)v * from->width + x0) * 3, (gsize)to.width * 3);
          continue;
        }
      for (guint x = 0; x < to.width; x++)
        {
          guint u = turns[o].mirror_x ? whole_w - 1 - (x + x0) : x + x0;
          guint sx = turns[o].swap ? v : u, sy = turns[o].swap ? u : v;

          memcpy (row + (gsize)x * 3, from->rgb + ((gsize)sy * from->width + sx) * 3, 3);
        }
    }
  return to;
}

SwPixels
sw_pixels_upright (const SwPixels *from, int orientation)
{
  guint side = MAX (from->width, from->height);

  return sw_pixels_upright_part (from, orientation, 0, 0, side, side);
}

/* ITU-R BT.601 weights in 256ths. */
static guint
luma (const guint8 *p)
{
  return (77u * p[0] + 150u * p[1] + 29u * p[2] + 128u) >> 8;
}

int
sw_orientation_turned (int orientation, int quarters)
{
  /* the value that one more quarter turn clockwise makes of each */
  static const int next[9] = { 1, 6, 7, 8, 5, 2, 3, 4, 1 };
  int turned = orientation >= 1 && orientation <= 8 ? orientation : 1;

  for (int i = 0; i < (quarters % 4 + 4) % 4; i++)
    turned = next[turned];
  return turned;
}

guint8 *
sw_pixels_luma (const SwPixels *pixels)
{
  gsize n = (gsize)pixels->width * pixels->height;
  guint8 *plane = g_malloc (MAX (n, 1));

  for (gsize i = 0; i < n; i++)
    plane[i] = (guint8)luma (pixels->rgb + 3 * i);
  return plane;
}

/* Mean luma of one field of a columns x rows raster, in 16ths. */
static guint
field_luma (const SwPixels *p, guint columns, guint rows, guint x, guint y)
{
  guint x0 = x * p->width / columns, x1 = MAX ((x + 1) * p->width / columns, x0 + 1);
  guint y0 = y * p->height / rows, y1 = MAX ((y + 1) * p->height / rows, y0 + 1);
  guint64 sum = 0;

  for (guint v = y0; v < y1; v++)
    for (guint u = x0; u < x1; u++)
      sum += luma (p->rgb + ((gsize)v * p->width + u) * 3);
  return (guint)(sum * 16 / ((guint64)(x1 - x0) * (y1 - y0)));
}

guint64
sw_pixels_dhash (const SwPixels *pixels)
{
  guint64 hash = 0;

  for (guint y = 0; y < 8; y++)
    {
      guint left = field_luma (pixels, 9, 8, 0, y);

      for (guint x = 1; x < 9; x++)
        {
          guint right = field_luma (pixels, 9, 8, x, y);

          hash = hash << 1 | (left > right ? 1 : 0);
          left = right;
        }
    }
  return hash;
}

void
sw_pixels_grid (const SwPixels *pixels, guint8 out[64])
{
  for (guint i = 0; i < 64; i++)
    out[i] = (guint8)(field_luma (pixels, 8, 8, i % 8, i / 8) / 16);
}
