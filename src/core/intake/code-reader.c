/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The luma of a picture is looked over; where nothing is found, a coarser one, by two readers. */
#include "core/intake/code-reader.h"

#include <stdlib.h>
#include <string.h>

#include "core/intake/code-symbols.h"

/* A code out of focus or moved is sharp again where several pixels are one, and the second reader
 * costs little there. On 960 tags at 20 to 70% of a picture's width, turned by any angle and
 * squeezed by up to a half in any direction, the first look read 901, with the coarse one 907, with
 * the second reader 925; of 1,896 in bad light, blurred or from the side the first look left 16,
 * the second none. */
#define COARSE_MOST 1000u

/* A look that found codes is followed by one without them: where many stand together, their corners
 * are taken for each other's. */
#define LOOKS_MOST 8u

typedef struct
{
  guint8 *luma;
  guint width, height;
  SwDecodeCode *codes;
  guint n, n_seen;
} Found;

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

/* Plain characters alone go back: whatever else a code holds becomes '?', so that no text with a
 * hidden end looks like another. */
static void
copy_text (const SwSymbol *symbol, char out[SW_DECODE_CODE_MAX])
{
  gsize n = MIN (symbol->n, SW_DECODE_CODE_MAX - 1);

  memset (out, 0, SW_DECODE_CODE_MAX);
  for (gsize i = 0; i < n; i++)
    out[i] = symbol->data[i] >= 0x20 && symbol->data[i] < 0x7F ? symbol->data[i] : '?';
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

/* Whether the point lies between the four corners, told in turn around. */
static gboolean
is_within (const SwSymbol *symbol, gint x, gint y)
{
  guint right = 0, left = 0;

  for (guint k = 0; k < 4; k++)
    {
      gint64 from_x = symbol->x[k], from_y = symbol->y[k];
      gint64 dx = symbol->x[(k + 1) % 4] - from_x, dy = symbol->y[(k + 1) % 4] - from_y;
      gint64 side = dx * (y - from_y) - dy * (x - from_x);

      right += side >= 0;
      left += side <= 0;
    }
  return right == 4 || left == 4;
}

static gint
least_of (const gint v[4])
{
  return MIN (MIN (v[0], v[1]), MIN (v[2], v[3]));
}

static gint
most_of (const gint v[4])
{
  return MAX (MAX (v[0], v[1]), MAX (v[2], v[3]));
}

/* White as the paper, so that the next look does not see it. */
static void
paint_over (const SwSymbol *symbol, guint8 *luma, guint width, guint height)
{
  gint right = MIN (most_of (symbol->x), (gint)width - 1);
  gint bottom = MIN (most_of (symbol->y), (gint)height - 1);

  for (gint y = MAX (least_of (symbol->y), 0); y <= bottom; y++)
    for (gint x = MAX (least_of (symbol->x), 0); x <= right; x++)
      if (is_within (symbol, x, y))
        luma[(gsize)y * width + (gsize)x] = 255;
}

static guint32
share_of (const SwSymbol *symbol, guint long_side)
{
  gint64 across = (gint64)most_of (symbol->x) - least_of (symbol->x);
  gint64 down = (gint64)most_of (symbol->y) - least_of (symbol->y);

  return (guint32)CLAMP (MAX (across, down) * 1000 / long_side, 0, 1000);
}

static void
on_symbol (const SwSymbol *symbol, gpointer user)
{
  Found *found = user;
  SwDecodeCode code = { .share = share_of (symbol, MAX (found->width, found->height)) };

  paint_over (symbol, found->luma, found->width, found->height);
  found->n_seen++;
  if (symbol->n == 0)
    return;
  copy_text (symbol, code.text);
  found->n = keep (found->codes, found->n, &code);
}

/* Paints over what is found. */
static guint
read_luma (guint8 *luma, guint width, guint height, SwDecodeCode out[SW_DECODE_CODES])
{
  Found found = { .luma = luma, .width = width, .height = height, .codes = out };

  for (guint look = 0; look < LOOKS_MOST; look++)
    {
      guint before = found.n_seen;

      sw_symbols_find (luma, width, height, on_symbol, &found);
      if (found.n_seen == before)
        break;
    }
  return found.n;
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

static guint
read_coarse (const guint8 *luma, guint width, guint height, SwDecodeCode out[SW_DECODE_CODES])
{
  guint by = (MAX (width, height) + COARSE_MOST - 1) / COARSE_MOST;
  g_autofree guint8 *coarse = NULL;
  Found found = { .width = width / by, .height = height / by, .codes = out };

  if (found.width == 0 || found.height == 0)
    return 0;
  coarse = coarser (luma, width, by, found.width, found.height);
  found.luma = coarse;
  found.n = by > 1 ? read_luma (coarse, found.width, found.height, out) : 0;
  if (found.n == 0)
    sw_symbols_find_slowly (coarse, found.width, found.height, on_symbol, &found);
  return found.n;
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
  n = read_luma (luma, w, h, out);
  if (n == 0)
    n = read_coarse (luma, w, h, out);
  free (luma);
  return n;
}
