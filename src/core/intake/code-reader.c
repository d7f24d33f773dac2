/* SPDX-License-Identifier: GPL-3.0-or-later */
/* zbar over the luma of a picture. Only QR codes are looked for: the bars on old boxes are none of
 * our business. */
#include "core/intake/code-reader.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <zbar.h>

/* Every second line is scanned. On 48 photos of 12 megapixels with a card at 6 to 20% of their
 * width, every second line at 2,000 pixels read 32 codes in 1.5 s, every line at 1,600 pixels 29
 * in 2.3 s. */
#define LINE_STEP 2
/* Lines along the picture's sides miss a code turned by more than a quarter of a right angle; in a
 * copy turned by half of one it lies straighter. That second look is at fewer pixels: it costs a
 * quarter of the first, and a code beside a thing is held large. */
#define TURNED_MOST 1000u

static guint8 *
luma_of (const SwPixels *pixels)
{
  gsize n = (gsize)pixels->width * pixels->height;
  guint8 *luma = malloc (n); /* zbar frees it */

  if (luma == NULL)
    return NULL;
  /* ITU-R BT.601 weights in 256ths */
  for (gsize i = 0; i < n; i++)
    {
      const guint8 *p = pixels->rgb + i * 3;
      luma[i] = (guint8)((77u * p[0] + 150u * p[1] + 29u * p[2]) >> 8);
    }
  return luma;
}

static guint32
share_of (const zbar_symbol_t *symbol, guint long_side)
{
  int left = G_MAXINT, right = G_MININT, top = G_MAXINT, bottom = G_MININT;

  for (unsigned k = 0; k < zbar_symbol_get_loc_size (symbol); k++)
    {
      int x = zbar_symbol_get_loc_x (symbol, k), y = zbar_symbol_get_loc_y (symbol, k);

      left = MIN (left, x);
      right = MAX (right, x);
      top = MIN (top, y);
      bottom = MAX (bottom, y);
    }
  if (right < left || bottom < top || long_side == 0)
    return 0;
  return (guint32)CLAMP ((gint64)MAX (right - left, bottom - top) * 1000 / long_side, 0, 1000);
}

/* Plain characters alone go back: whatever else a code holds becomes '?', so that no text with a
 * hidden end looks like another. */
static void
copy_text (const zbar_symbol_t *symbol, char out[SW_DECODE_CODE_MAX])
{
  const char *data = zbar_symbol_get_data (symbol);
  gsize n = MIN (zbar_symbol_get_data_length (symbol), SW_DECODE_CODE_MAX - 1);

  memset (out, 0, SW_DECODE_CODE_MAX);
  for (gsize i = 0; i < n; i++)
    out[i] = data[i] >= 0x20 && data[i] < 0x7F ? data[i] : '?';
}

/* Puts it in by size; the smallest falls out when there are too many. */
static guint
keep (SwDecodeCode *codes, guint n, const SwDecodeCode *code)
{
  guint at;

  for (guint k = 0; k < n; k++)
    if (strcmp (codes[k].text, code->text) == 0)
      return n;
  for (at = n; at > 0 && codes[at - 1].share < code->share; at--)
    if (at < SW_DECODE_CODES)
      codes[at] = codes[at - 1];
  if (at < SW_DECODE_CODES)
    codes[at] = *code;
  return MIN (n + 1, SW_DECODE_CODES);
}

static guint
scan (zbar_image_scanner_t *scanner, zbar_image_t *image, guint long_side, SwDecodeCode *out)
{
  guint n = 0;

  if (zbar_scan_image (scanner, image) <= 0)
    return 0;
  for (const zbar_symbol_t *s = zbar_image_first_symbol (image); s != NULL;
       s = zbar_symbol_next (s))
    {
      SwDecodeCode code = { .share = share_of (s, long_side) };

      if (zbar_symbol_get_type (s) != ZBAR_QRCODE || zbar_symbol_get_data_length (s) == 0)
        continue;
      copy_text (s, code.text);
      n = keep (out, n, &code);
    }
  return n;
}

/* The luma turned by 45 degrees about its middle, on a square that holds all of it; the corners are
 * the grey of no code. */
static guint8 *
turned (const guint8 *luma, guint width, guint height, guint *out_side)
{
  guint side = (guint)ceil ((width + height) * G_SQRT2 / 2);
  guint8 *copy = malloc ((gsize)side * side); /* zbar frees it */

  if (copy == NULL)
    return NULL;
  for (guint y = 0; y < side; y++)
    for (guint x = 0; x < side; x++)
      {
        double u = x - side / 2.0, v = y - side / 2.0;
        double from_x = (u + v) / G_SQRT2 + width / 2.0, from_y = (v - u) / G_SQRT2 + height / 2.0;
        gboolean inside = from_x >= 0 && from_y >= 0 && from_x < width - 1 && from_y < height - 1;
        guint8 grey = 128;

        if (inside)
          {
            guint left = (guint)from_x, top = (guint)from_y;
            double across = from_x - left, down = from_y - top;
            const guint8 *p = luma + (gsize)top * width + left;

            grey = (guint8)((1 - down) * ((1 - across) * p[0] + across * p[1])
                            + down * ((1 - across) * p[width] + across * p[width + 1]));
          }
        copy[(gsize)y * side + x] = grey;
      }
  *out_side = side;
  return copy;
}

/* Takes the luma over. long_side: of the picture that shares are told of. */
static guint
read_luma (guint8 *luma, guint width, guint height, guint long_side,
           SwDecodeCode out[SW_DECODE_CODES])
{
  zbar_image_scanner_t *scanner = zbar_image_scanner_create ();
  zbar_image_t *image = zbar_image_create ();
  guint n;

  zbar_image_scanner_request_dbus (scanner, 0);
  zbar_image_scanner_set_config (scanner, ZBAR_NONE, ZBAR_CFG_ENABLE, 0);
  zbar_image_scanner_set_config (scanner, ZBAR_QRCODE, ZBAR_CFG_ENABLE, 1);
  zbar_image_scanner_set_config (scanner, ZBAR_NONE, ZBAR_CFG_X_DENSITY, LINE_STEP);
  zbar_image_scanner_set_config (scanner, ZBAR_NONE, ZBAR_CFG_Y_DENSITY, LINE_STEP);
  zbar_image_set_format (image, zbar_fourcc ('Y', '8', '0', '0'));
  zbar_image_set_size (image, width, height);
  zbar_image_set_data (image, luma, (gsize)width * height, zbar_image_free_data);
  n = scan (scanner, image, long_side, out);
  zbar_image_destroy (image);
  zbar_image_scanner_destroy (scanner);
  return n;
}

/* The second look, at a turned copy. */
static guint
read_turned (const SwPixels *pixels, SwDecodeCode out[SW_DECODE_CODES])
{
  g_auto (SwPixels) small = { 0 };
  guint8 *luma, *copy = NULL;
  guint w, h, side = 0;

  sw_pixels_fit (pixels->width, pixels->height, TURNED_MOST, &w, &h);
  if (w < 2 || h < 2)
    return 0;
  if (w != pixels->width || h != pixels->height)
    small = sw_pixels_shrink (pixels, w, h);
  luma = luma_of (small.rgb != NULL ? &small : pixels);
  if (luma != NULL)
    copy = turned (luma, w, h, &side);
  free (luma);
  return copy != NULL ? read_luma (copy, side, side, MAX (w, h), out) : 0;
}

guint
sw_code_reader_read (const SwPixels *pixels, SwDecodeCode out[SW_DECODE_CODES])
{
  g_auto (SwPixels) small = { 0 };
  const SwPixels *seen = pixels;
  guint8 *luma;
  guint w, h, n;

  sw_pixels_fit (pixels->width, pixels->height, SW_CODE_READER_MOST, &w, &h);
  if (w != pixels->width || h != pixels->height)
    {
      small = sw_pixels_shrink (pixels, w, h);
      seen = &small;
    }
  luma = luma_of (seen);
  if (luma == NULL)
    return 0;
  n = read_luma (luma, w, h, MAX (w, h), out);
  return n > 0 ? n : read_turned (seen, out);
}
