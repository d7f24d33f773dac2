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
  guint8 *luma = malloc (n);

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

/* Puts it in by size; the smallest falls out when there are too many. Of two with one text the
 * larger stays. */
static guint
keep (SwDecodeCode *codes, guint n, const SwDecodeCode *code)
{
  guint at;

  for (guint k = 0; k < n; k++)
    if (strcmp (codes[k].text, code->text) == 0)
      {
        if (codes[k].share >= code->share)
          return n;
        n--;
        memmove (codes + k, codes + k + 1, (n - k) * sizeof *codes);
        break;
      }
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

/* Each square of so many pixels is one, their mean. */
static guint8 *
coarser (const guint8 *luma, guint width, guint by, guint w, guint h)
{
  guint8 *coarse = g_malloc ((gsize)w * h);

  for (guint y = 0; y < h; y++)
    for (guint x = 0; x < w; x++)
      {
        guint sum = 0;

        for (guint k = 0; k < by; k++)
          for (guint j = 0; j < by; j++)
            sum += luma[((gsize)y * by + k) * width + (gsize)x * by + j];
        coarse[(gsize)y * w + x] = (guint8)(sum / (by * by));
      }
  return coarse;
}

/* Between four neighbours; x and y in 256ths of a pixel. */
static guint8
grey_at (const guint8 *luma, guint width, gint x, gint y)
{
  const guint8 *p = luma + (gsize)(y >> 8) * width + (x >> 8);
  guint across = x & 255, down = y & 255;
  guint top = p[0] * (256 - across) + p[1] * across;
  guint bottom = p[width] * (256 - across) + p[width + 1] * across;

  return (guint8)((top * (256 - down) + bottom * down) >> 16);
}

/* The luma turned by 45 degrees about its middle, on a square that holds all of it; the corners are
 * the grey of no code. */
static guint8 *
turned (const guint8 *luma, guint width, guint height, guint *out_side)
{
  guint side = (guint)ceil ((width + height) * G_SQRT2 / 2);
  guint8 *copy = malloc ((gsize)side * side);
  gint step = (gint)lround (256 / G_SQRT2), half = (gint)side / 2;

  if (copy == NULL)
    return NULL;
  memset (copy, 128, (gsize)side * side);
  for (gint y = 0; y < (gint)side; y++)
    {
      gint from_x = (y - 2 * half) * step + (gint)width * 128;
      gint from_y = y * step + (gint)height * 128;

      for (gint x = 0; x < (gint)side; x++, from_x += step, from_y -= step)
        if (from_x >= 0 && from_y >= 0 && from_x >> 8 < (gint)width - 1
            && from_y >> 8 < (gint)height - 1)
          copy[(gsize)y * side + (gsize)x] = grey_at (luma, width, from_x, from_y);
    }
  *out_side = side;
  return copy;
}

/* long_side: of the picture that shares are told of. */
static guint
read_luma (const guint8 *luma, guint width, guint height, guint long_side,
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
  zbar_image_set_data (image, luma, (gsize)width * height, NULL);
  n = scan (scanner, image, long_side, out);
  zbar_image_destroy (image);
  zbar_image_scanner_destroy (scanner);
  return n;
}

/* The second look, at a turned copy. */
static guint
read_turned (const guint8 *luma, guint width, guint height, SwDecodeCode out[SW_DECODE_CODES])
{
  guint by = (MAX (width, height) + TURNED_MOST - 1) / TURNED_MOST, side = 0;
  guint w = width / by, h = height / by, n;
  g_autofree guint8 *coarse = NULL;
  guint8 *copy;

  if (w < 2 || h < 2)
    return 0;
  coarse = coarser (luma, width, by, w, h);
  copy = turned (coarse, w, h, &side);
  if (copy == NULL)
    return 0;
  n = read_luma (copy, side, side, MAX (w, h), out);
  free (copy);
  return n;
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
  if (n == 0)
    n = read_turned (luma, w, h, out);
  free (luma);
  return n;
}
