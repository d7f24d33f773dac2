/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pictures of every make that cameras and scanners write, decoded in this process: their colours,
 * what is cut short, what is too large. test-decoder does the same for a few behind the fence.
 * Layouts: TIFF 6.0 (1992), sections 3 to 18; RFC 9649 (2024) for WebP; PNG (third edition, 2025).
 */
#include "sw-test.h"

#include <png.h>
#include <tiffio.h>
#include <turbojpeg.h>
#include <unistd.h>
#include <webp/encode.h>

#include "core/intake/decode-formats.h"

#define W 96
#define H 64

static GBytes *
png_of (const guint8 *pixels, guint width, guint height, guint32 format)
{
  png_image image
      = { .version = PNG_IMAGE_VERSION, .width = width, .height = height, .format = format };
  png_alloc_size_t n = 0;
  g_autofree guint8 *bytes = NULL;

  assert_true (png_image_write_to_memory (&image, NULL, &n, 0, pixels, 0, NULL));
  bytes = g_malloc (n);
  assert_true (png_image_write_to_memory (&image, bytes, &n, 0, pixels, 0, NULL));
  return g_bytes_new (bytes, n);
}

/* Red, green over blue, white. */
static const guint8 colours[4][3]
    = { { 220, 20, 20 }, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 } };

static int
quarter_of (guint x, guint y)
{
  return (y >= H / 2) * 2 + (x >= W / 2);
}

static guint8 *
quarters (void)
{
  guint8 *rgb = g_malloc (W * H * 3);

  for (guint y = 0; y < H; y++)
    for (guint x = 0; x < W; x++)
      memcpy (rgb + (y * W + x) * 3, colours[quarter_of (x, y)], 3);
  return rgb;
}

static GBytes *
jpeg_from (const guint8 *pixels, int format, int sampling)
{
  tjhandle tj = tjInitCompress ();
  unsigned char *bytes = NULL;
  unsigned long n = 0;
  GBytes *file;

  assert_int_equal (tjCompress2 (tj, pixels, W, 0, H, format, &bytes, &n, sampling, 95, 0), 0);
  file = g_bytes_new (bytes, n);
  tjFree (bytes);
  tjDestroy (tj);
  return file;
}

static GBytes *
jpeg_rgb (void)
{
  g_autofree guint8 *rgb = quarters ();

  return jpeg_from (rgb, TJPF_RGB, TJSAMP_444);
}

static GBytes *
jpeg_grey (void)
{
  g_autofree guint8 *rgb = quarters ();

  return jpeg_from (rgb, TJPF_RGB, TJSAMP_GRAY);
}

/* Inks inverted: 255 is none of it. Half of the black ink makes each light half as strong. */
static GBytes *
jpeg_inks (void)
{
  g_autofree guint8 *rgb = quarters ();
  g_autofree guint8 *inks = g_malloc (W * H * 4);

  for (guint i = 0; i < W * H; i++)
    {
      memcpy (inks + 4 * i, rgb + 3 * i, 3);
      inks[4 * i + 3] = 128;
    }
  return jpeg_from (inks, TJPF_CMYK, TJSAMP_444);
}

static GBytes *
png_rgb (void)
{
  g_autofree guint8 *rgb = quarters ();

  return png_of (rgb, W, H, PNG_FORMAT_RGB);
}

static GBytes *
png_grey (void)
{
  g_autofree guint8 *rgb = quarters ();
  g_autofree guint8 *grey = g_malloc (W * H);

  for (guint i = 0; i < W * H; i++)
    grey[i] = rgb[3 * i + 1];
  return png_of (grey, W, H, PNG_FORMAT_GRAY);
}

/* The red quarter cannot be seen at all. */
static guint8 *
with_a_hole (void)
{
  g_autofree guint8 *rgb = quarters ();
  guint8 *rgba = g_malloc (W * H * 4);

  for (guint i = 0; i < W * H; i++)
    {
      memcpy (rgba + 4 * i, rgb + 3 * i, 3);
      rgba[4 * i + 3] = quarter_of (i % W, i / W) == 0 ? 0 : 255;
    }
  return rgba;
}

static GBytes *
png_with_a_hole (void)
{
  g_autofree guint8 *rgba = with_a_hole ();

  return png_of (rgba, W, H, PNG_FORMAT_RGBA);
}

static GBytes *
webp_from (const guint8 *pixels, gboolean with_alpha, gboolean lossless)
{
  guint8 *bytes = NULL;
  gsize n = with_alpha ? lossless ? WebPEncodeLosslessRGBA (pixels, W, H, W * 4, &bytes)
                                  : WebPEncodeRGBA (pixels, W, H, W * 4, 95, &bytes)
            : lossless ? WebPEncodeLosslessRGB (pixels, W, H, W * 3, &bytes)
                       : WebPEncodeRGB (pixels, W, H, W * 3, 95, &bytes);
  GBytes *file = g_bytes_new (bytes, n);

  WebPFree (bytes);
  return file;
}

static GBytes *
webp_plain (void)
{
  g_autofree guint8 *rgb = quarters ();

  return webp_from (rgb, FALSE, FALSE);
}

static GBytes *
webp_lossless (void)
{
  g_autofree guint8 *rgb = quarters ();

  return webp_from (rgb, FALSE, TRUE);
}

static GBytes *
webp_with_a_hole (void)
{
  g_autofree guint8 *rgba = with_a_hole ();

  return webp_from (rgba, TRUE, TRUE);
}

/* By way of a name, which libtiff wants; the fields that all layouts share are set. */
static TIFF *
tiff_begin (char **out_path, const char *mode, int bits, int samples, int photometric)
{
  TIFF *tiff;
  int fd;

  *out_path = g_build_filename (g_get_tmp_dir (), "sw-helper-XXXXXX", NULL);
  fd = g_mkstemp (*out_path);
  assert_true (fd >= 0);
  close (fd);
  tiff = TIFFOpen (*out_path, mode);
  assert_non_null (tiff);
  TIFFSetField (tiff, TIFFTAG_IMAGEWIDTH, W);
  TIFFSetField (tiff, TIFFTAG_IMAGELENGTH, H);
  TIFFSetField (tiff, TIFFTAG_BITSPERSAMPLE, bits);
  TIFFSetField (tiff, TIFFTAG_SAMPLESPERPIXEL, samples);
  TIFFSetField (tiff, TIFFTAG_PHOTOMETRIC, photometric);
  return tiff;
}

static GBytes *
tiff_end (TIFF *tiff, char *path)
{
  g_autofree char *bytes = NULL;
  gsize n = 0;

  TIFFClose (tiff);
  assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  g_unlink (path);
  g_free (path);
  return g_bytes_new (bytes, n);
}

/* Of the other byte order, packed, in two strips (section 9). */
static GBytes *
tiff_strips (void)
{
  g_autofree guint8 *rgb = quarters ();
  char *path;
  TIFF *tiff = tiff_begin (&path, "wb", 8, 3, PHOTOMETRIC_RGB);

  TIFFSetField (tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  TIFFSetField (tiff, TIFFTAG_COMPRESSION, COMPRESSION_PACKBITS);
  TIFFSetField (tiff, TIFFTAG_ROWSPERSTRIP, H / 2);
  for (guint32 y = 0; y < H; y++)
    assert_int_equal (TIFFWriteScanline (tiff, rgb + y * W * 3, y, 0), 1);
  return tiff_end (tiff, path);
}

/* Tiles (section 15). */
static GBytes *
tiff_tiles (void)
{
  guint8 tile[32 * 32 * 3];
  char *path;
  TIFF *tiff = tiff_begin (&path, "wl", 8, 3, PHOTOMETRIC_RGB);

  TIFFSetField (tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  TIFFSetField (tiff, TIFFTAG_TILEWIDTH, 32);
  TIFFSetField (tiff, TIFFTAG_TILELENGTH, 32);
  for (guint y = 0; y < H; y += 32)
    for (guint x = 0; x < W; x += 32)
      {
        for (guint i = 0; i < 32 * 32; i++)
          memcpy (tile + 3 * i, colours[quarter_of (x + i % 32, y + i / 32)], 3);
        assert_true (TIFFWriteTile (tiff, tile, x, y, 0, 0) > 0);
      }
  return tiff_end (tiff, path);
}

/* Sixteen bits a sample, each light in a plane of its own. */
static GBytes *
tiff_planes (void)
{
  char *path;
  TIFF *tiff = tiff_begin (&path, "wl", 16, 3, PHOTOMETRIC_RGB);

  TIFFSetField (tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_SEPARATE);
  for (guint16 c = 0; c < 3; c++)
    for (guint32 y = 0; y < H; y++)
      {
        guint16 line[W];

        for (guint x = 0; x < W; x++)
          line[x] = (guint16)(colours[quarter_of (x, y)][c] * 257);
        assert_int_equal (TIFFWriteScanline (tiff, line, y, c), 1);
      }
  return tiff_end (tiff, path);
}

/* A palette (section 5). */
static GBytes *
tiff_palette (void)
{
  guint16 map[3][256] = { { 0 } };
  char *path;
  TIFF *tiff = tiff_begin (&path, "wl", 8, 1, PHOTOMETRIC_PALETTE);

  for (guint k = 0; k < 4; k++)
    for (guint c = 0; c < 3; c++)
      map[c][k] = (guint16)(colours[k][c] * 257);
  TIFFSetField (tiff, TIFFTAG_COLORMAP, map[0], map[1], map[2]);
  for (guint32 y = 0; y < H; y++)
    {
      guint8 line[W];

      for (guint x = 0; x < W; x++)
        line[x] = (guint8)quarter_of (x, y);
      assert_int_equal (TIFFWriteScanline (tiff, line, y, 0), 1);
    }
  return tiff_end (tiff, path);
}

/* With a fourth sample that says what can be seen through (section 18), the lights as they are or
 * weakened by it already. */
static GBytes *
tiff_with_a_hole (guint16 kind)
{
  g_autofree guint8 *rgba = with_a_hole ();
  char *path;
  TIFF *tiff = tiff_begin (&path, "wl", 8, 4, PHOTOMETRIC_RGB);

  for (guint i = 0; kind == EXTRASAMPLE_ASSOCALPHA && i < W * H; i++)
    if (rgba[4 * i + 3] == 0)
      memset (rgba + 4 * i, 0, 3);
  TIFFSetField (tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  TIFFSetField (tiff, TIFFTAG_EXTRASAMPLES, 1, &kind);
  for (guint32 y = 0; y < H; y++)
    assert_int_equal (TIFFWriteScanline (tiff, rgba + y * W * 4, y, 0), 1);
  return tiff_end (tiff, path);
}

static GBytes *
tiff_hole_beside (void)
{
  return tiff_with_a_hole (EXTRASAMPLE_UNASSALPHA);
}

static GBytes *
tiff_hole_within (void)
{
  return tiff_with_a_hole (EXTRASAMPLE_ASSOCALPHA);
}

/* One bit, 0 is white, as from a scanner of papers (section 3): the green and the blue quarter are
 * black. */
static GBytes *
tiff_bilevel (void)
{
  char *path;
  TIFF *tiff = tiff_begin (&path, "wl", 1, 1, PHOTOMETRIC_MINISWHITE);

  for (guint32 y = 0; y < H; y++)
    {
      guint8 line[W / 8];

      for (guint x = 0; x < W; x += 8)
        line[x / 8] = quarter_of (x, y) % 3 == 0 ? 0 : 0xFF;
      assert_int_equal (TIFFWriteScanline (tiff, line, y, 0), 1);
    }
  return tiff_end (tiff, path);
}

typedef struct
{
  const char *label;
  SwFileKind kind;
  GBytes *(*make) (void);
  guint8 want[4][3];
} MakeRow;

#define COLOURS                                                                                    \
  {                                                                                                \
    { 220, 20, 20 }, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 }                           \
  }
#define WHITE                                                                                      \
  {                                                                                                \
    255, 255, 255                                                                                  \
  }

static const MakeRow make_rows[] = {
  { "JPEG", SW_FILE_JPEG, jpeg_rgb, COLOURS },
  /* 0.299 R + 0.587 G + 0.114 B (ITU-R BT.601, as JFIF 1.02 has it) */
  { "JPEG, grey",
    SW_FILE_JPEG,
    jpeg_grey,
    { { 80, 80, 80 }, { 137, 137, 137 }, { 43, 43, 43 }, { 240, 240, 240 } } },
  { "JPEG, four inks",
    SW_FILE_JPEG,
    jpeg_inks,
    { { 110, 10, 10 }, { 10, 110, 10 }, { 10, 10, 110 }, { 120, 120, 120 } } },
  { "PNG", SW_FILE_PNG, png_rgb, COLOURS },
  { "PNG, grey",
    SW_FILE_PNG,
    png_grey,
    { { 20, 20, 20 }, { 220, 220, 220 }, { 20, 20, 20 }, { 240, 240, 240 } } },
  { "PNG with a hole",
    SW_FILE_PNG,
    png_with_a_hole,
    { WHITE, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 } } },
  { "WebP", SW_FILE_WEBP, webp_plain, COLOURS },
  { "WebP, lossless", SW_FILE_WEBP, webp_lossless, COLOURS },
  { "WebP with a hole",
    SW_FILE_WEBP,
    webp_with_a_hole,
    { WHITE, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 } } },
  { "TIFF in strips", SW_FILE_TIFF, tiff_strips, COLOURS },
  { "TIFF in tiles", SW_FILE_TIFF, tiff_tiles, COLOURS },
  { "TIFF in planes of 16 bits", SW_FILE_TIFF, tiff_planes, COLOURS },
  { "TIFF with a palette", SW_FILE_TIFF, tiff_palette, COLOURS },
  { "TIFF with a hole",
    SW_FILE_TIFF,
    tiff_hole_beside,
    { WHITE, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 } } },
  { "TIFF with a hole, weakened",
    SW_FILE_TIFF,
    tiff_hole_within,
    { WHITE, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 } } },
  { "TIFF of one bit", SW_FILE_TIFF, tiff_bilevel, { WHITE, { 0, 0, 0 }, { 0, 0, 0 }, WHITE } },
};

/* Within what the coders lose. */
static void
check_colour (const guint8 *rgb, guint width, guint x, guint y, const guint8 want[3])
{
  const guint8 *p = rgb + ((gsize)y * width + x) * 3;

  for (guint c = 0; c < 3; c++)
    if (ABS (p[c] - want[c]) > 6)
      {
        print_error ("%u,%u is %u %u %u, expected %u %u %u\n", x, y, p[0], p[1], p[2], want[0],
                     want[1], want[2]);
        fail ();
      }
}

/* At its own size and at half of it, where a format may be scaled on the way. */
static void
is_decoded_in_its_colours (void **state)
{
  const MakeRow *row = *state;
  g_autoptr (GBytes) file = row->make ();
  gsize n;
  const guint8 *bytes = g_bytes_get_data (file, &n);

  for (guint side = W / 2; side <= W; side += W / 2)
    {
      g_auto (SwPixels) pixels = { 0 };
      guint full_w = 0, full_h = 0, w, h;

      assert_i64_equal (sw_decode_bytes (bytes, n, row->kind, side, &pixels, &full_w, &full_h),
                        SW_DECODE_OK);
      w = pixels.width;
      h = pixels.height;
      assert_true ((w == W && h == H) || (w == side && h == side * H / W));
      assert_i64_equal (full_w, W);
      assert_i64_equal (full_h, H);
      for (guint q = 0; q < 4; q++)
        check_colour (pixels.rgb, w, q % 2 * w / 2 + w / 4, q / 2 * h / 2 + h / 4, row->want[q]);
    }
}

/* Cut at every tenth of its length: some of it, or a plain answer, and never a byte beyond. */
static void
a_cut_one_is_some_or_none (void **state)
{
  const MakeRow *row = *state;
  g_autoptr (GBytes) file = row->make ();
  gsize n;
  const guint8 *bytes = g_bytes_get_data (file, &n);

  for (gsize tenth = 0; tenth < 10; tenth++)
    {
      g_auto (SwPixels) pixels = { 0 };
      gsize length = n * tenth / 10;
      g_autofree guint8 *cut = g_memdup2 (bytes, length); /* so that a sanitizer sees its end */
      guint full_w = 0, full_h = 0;
      SwDecodeStatus status
          = sw_decode_bytes (cut, length, row->kind, W, &pixels, &full_w, &full_h);

      assert_true (status == SW_DECODE_BAD || (status == SW_DECODE_OK && length > 0));
      if (status == SW_DECODE_OK)
        assert_true (pixels.width == W && pixels.height == H);
    }
}

/* ---- pictures over the cap, by their own header: none is decoded, and their size is told ---- */

static GBytes *
png_huge (void)
{
  /* 60,000 x 60,000, with sums that fit, and no pixels */
  static const char bytes[] = "\x89PNG\r\n\x1A\n\0\0\0\rIHDR\0\0\xEA\x60\0\0\xEA\x60\x08\x02\0\0\0"
                              "\x0F\xB0\xE2\x15\0\0\0\0IDAT\x35\xAF\x06\x1E";

  return g_bytes_new (bytes, sizeof bytes - 1);
}

static GBytes *
webp_huge (void)
{
  /* 16,383 x 16,383, the most that the format has: 268 megapixels (RFC 9649, 2.5 and 2.7) */
  static const char bytes[] = "RIFF\x1A\0\0\0WEBPVP8X\x0A\0\0\0\0\0\0\0\xFE\x3F\0\xFE\x3F\0VP8 ";

  return g_bytes_new (bytes, sizeof bytes - 1);
}

static GBytes *
tiff_huge (void)
{
  char *path;
  TIFF *tiff = tiff_begin (&path, "wl", 8, 3, PHOTOMETRIC_RGB);
  guint8 nothing[3] = { 0 };

  TIFFSetField (tiff, TIFFTAG_IMAGEWIDTH, 40000);
  TIFFSetField (tiff, TIFFTAG_IMAGELENGTH, 40000);
  TIFFSetField (tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  TIFFSetField (tiff, TIFFTAG_ROWSPERSTRIP, 40000);
  assert_true (TIFFWriteRawStrip (tiff, 0, nothing, sizeof nothing) > 0);
  return tiff_end (tiff, path);
}

/* Its frame header says 65,000 x 65,000. */
static GBytes *
jpeg_huge (void)
{
  g_autoptr (GBytes) file = jpeg_rgb ();
  gsize n;
  guint8 *bytes = g_bytes_unref_to_data (g_steal_pointer (&file), &n);

  for (gsize i = 0; i + 9 < n; i++)
    if (bytes[i] == 0xFF && bytes[i + 1] == 0xC0)
      {
        memcpy (bytes + i + 5, "\xFD\xE8\xFD\xE8", 4);
        return g_bytes_new_take (bytes, n);
      }
  fail ();
  return NULL;
}

typedef struct
{
  const char *label;
  SwFileKind kind;
  GBytes *(*make) (void);
  guint side;
} HugeRow;

static const HugeRow huge_rows[] = {
  { "JPEG", SW_FILE_JPEG, jpeg_huge, 65000 },
  { "PNG", SW_FILE_PNG, png_huge, 60000 },
  { "TIFF", SW_FILE_TIFF, tiff_huge, 40000 },
  { "WebP", SW_FILE_WEBP, webp_huge, 16383 },
};

static void
is_too_large (void **state)
{
  const HugeRow *row = *state;
  g_autoptr (GBytes) file = row->make ();
  g_auto (SwPixels) pixels = { 0 };
  guint full_w = 0, full_h = 0;
  gsize n;
  const guint8 *bytes = g_bytes_get_data (file, &n);

  assert_i64_equal (sw_decode_bytes (bytes, n, row->kind, 100, &pixels, &full_w, &full_h),
                    SW_DECODE_TOO_LARGE);
  assert_i64_equal (full_w, row->side);
  assert_i64_equal (full_h, row->side);
  assert_null (pixels.rgb);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, is_decoded_in_its_colours, make_rows);
  SW_TEST_ROWS (tests, a_cut_one_is_some_or_none, make_rows);
  SW_TEST_ROWS (tests, is_too_large, huge_rows);
  return sw_tests_run (tests, "decode-formats");
}
