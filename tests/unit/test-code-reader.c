/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Codes on pictures: where they lie, how large they are said to be, and that a text comes plain
 * whatever a code holds. Drawn by libqrencode after ISO/IEC 18004 (2015). */
#include "sw-test.h"

#include <math.h>
#include <qrencode.h>

#include "core/intake/code-reader.h"

typedef struct
{
  guint side;
  guint8 *rgb;
} Sheet;

static Sheet
sheet_new (guint side)
{
  Sheet sheet = { side, g_malloc ((gsize)side * side * 3) };

  memset (sheet.rgb, 235, (gsize)side * side * 3);
  return sheet;
}

/* A code whose top left corner lies at x, y, modules of 'module' pixels, turned by 'degrees' about
 * that corner. Its side in pixels, without the quiet zone. */
static guint
draw_code (Sheet *sheet, const void *text, gsize n, double x, double y, double module,
           double degrees)
{
  QRcode *code = QRcode_encodeData ((int)n, text, 0, QR_ECLEVEL_M);
  double cosine = cos (degrees * G_PI / 180), sine = sin (degrees * G_PI / 180);
  guint side;

  assert_non_null (code);
  for (guint v = 0; v < sheet->side; v++)
    for (guint u = 0; u < sheet->side; u++)
      {
        double across = ((u - x) * cosine + (v - y) * sine) / module;
        double down = ((v - y) * cosine - (u - x) * sine) / module;

        if (across >= 0 && down >= 0 && across < code->width && down < code->width
            && (code->data[(int)down * code->width + (int)across] & 1) != 0)
          memset (sheet->rgb + ((gsize)v * sheet->side + u) * 3, 15, 3);
      }
  side = (guint)(code->width * module);
  QRcode_free (code);
  return side;
}

/* Frees the sheet's pixels. */
static guint
read_codes (Sheet *sheet, SwDecodeCode codes[SW_DECODE_CODES])
{
  SwPixels pixels = { sheet->side, sheet->side, sheet->rgb };
  guint n = sw_code_reader_read (&pixels, codes);

  sw_pixels_clear (&pixels);
  return n;
}

typedef struct
{
  const char *label;
  const char *text;
  gsize n; /* 0: its length */
  const char *want;
} TextRow;

static const TextRow text_rows[] = {
  { "a text", "press house 7", 0, "press house 7" },
  { "a hidden end", "press\0house", 11, "press?house" },
  { "a line break", "press\nhouse", 0, "press?house" },
  { "a terminal's command", "press\x1B[2Jhouse", 0, "press?[2Jhouse" },
  { "longer than is kept", "0123456789012345678901234567890123456789012345678901234567890123456789",
    0, "012345678901234567890123456789012345678901234567890123456789012" },
};

/* A text comes plain, whatever a code holds. */
static void
a_code_is_read (void **state)
{
  const TextRow *row = *state;
  SwDecodeCode codes[SW_DECODE_CODES];
  Sheet sheet = sheet_new (640);
  guint side
      = draw_code (&sheet, row->text, row->n > 0 ? row->n : strlen (row->text), 100, 200, 6, 0);
  guint n = read_codes (&sheet, codes);

  assert_i64_equal (n, 1);
  assert_string_equal (codes[0].text, row->want);
  assert_in_range (codes[0].share, side * 1000 / 640 - 40, side * 1000 / 640 + 40);
}

static void
a_code_on_a_larger_photo (void **state)
{
  SwDecodeCode codes[SW_DECODE_CODES];
  Sheet sheet = sheet_new (3000);
  guint side = draw_code (&sheet, "press house", 11, 900, 900, 30, 0);
  guint n = read_codes (&sheet, codes);

  assert_i64_equal (n, 1);
  assert_string_equal (codes[0].text, "press house");
  assert_in_range (codes[0].share, side * 1000 / 3000 - 40, side * 1000 / 3000 + 40);
}

/* ISO/IEC 18004 has the corners there for that: a code is read however it lies. */
static void
codes_lie_as_they_lie (void **state)
{
  for (int degrees = 0; degrees < 360; degrees += 5)
    {
      SwDecodeCode codes[SW_DECODE_CODES];
      Sheet sheet = sheet_new (1200);
      guint n;

      draw_code (&sheet, "press house", 11, 600, 600, 16, degrees);
      n = read_codes (&sheet, codes);
      if (n != 1)
        fail_msg ("turned by %d degrees, %u codes are found", degrees, n);
      assert_string_equal (codes[0].text, "press house");
    }
}

/* Nine codes, each larger than the one before, and the first once more: the eight largest are kept,
 * largest first, each text once. */
static void
the_largest_codes_are_kept (void **state)
{
  SwDecodeCode codes[SW_DECODE_CODES];
  Sheet sheet = sheet_new (1600);
  guint n;

  for (guint k = 0; k < 9; k++)
    {
      g_autofree char *text = g_strdup_printf ("place %u", k);

      draw_code (&sheet, text, strlen (text), 60 + k % 3 * 520, 60 + k / 3 * 520, 5 + k * 1.5, 0);
    }
  draw_code (&sheet, "place 8", 7, 60 + 300, 60, 6, 0);
  n = read_codes (&sheet, codes);
  assert_i64_equal (n, SW_DECODE_CODES);
  for (guint k = 0; k < SW_DECODE_CODES; k++)
    {
      g_autofree char *want = g_strdup_printf ("place %u", 8 - k);

      assert_string_equal (codes[k].text, want);
      if (k > 0)
        assert_true (codes[k].share <= codes[k - 1].share);
    }
}

static void
nothing_to_read (void **state)
{
  static const guint sides[] = { 1, 3, 640 };

  for (gsize k = 0; k < G_N_ELEMENTS (sides); k++)
    {
      SwDecodeCode codes[SW_DECODE_CODES];
      Sheet sheet = sheet_new (sides[k]);

      assert_i64_equal (read_codes (&sheet, codes), 0);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, a_code_is_read, text_rows);
  SW_TEST (tests, a_code_on_a_larger_photo);
  SW_TEST (tests, codes_lie_as_they_lie);
  SW_TEST (tests, the_largest_codes_are_kept);
  SW_TEST (tests, nothing_to_read);
  return sw_tests_run (tests, "code-reader");
}
