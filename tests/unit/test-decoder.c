/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The decode helper and its client, over real pictures of each format, and the sums over pixels.
 * Orientation: Exif 2.32 (CIPA DC-008, 2019), 4.6.4, where row 0 and column 0 lie. */
#include "sw-test.h"

#include <png.h>
#include <sys/stat.h>
#include <tiffio.h>
#include <turbojpeg.h>
#include <webp/encode.h>

#include "core/catalogue/thumb-store.h"
#include "core/intake/decode-helper.h"
#include "core/intake/decoder.h"
#include "core/intake/pixels.h"

#define W 200
#define H 120

/* Quarters: red, green over blue, white; so that every corner tells where it came from. */
static guint8 *
quarters (void)
{
  static const guint8 colours[4][3]
      = { { 220, 20, 20 }, { 20, 220, 20 }, { 20, 20, 220 }, { 240, 240, 240 } };
  guint8 *rgb = g_malloc (W * H * 3);

  for (int y = 0; y < H; y++)
    for (int x = 0; x < W; x++)
      memcpy (rgb + (y * W + x) * 3, colours[(y >= H / 2) * 2 + (x >= W / 2)], 3);
  return rgb;
}

static int
quarter_at (const guint8 *rgb, guint width, guint x, guint y)
{
  const guint8 *p = rgb + ((gsize)y * width + x) * 3;

  if (p[0] > 150 && p[1] > 150 && p[2] > 150)
    return 3;
  return p[0] > 150 ? 0 : p[1] > 150 ? 1 : p[2] > 150 ? 2 : -1;
}

typedef struct
{
  char *folder;
  char *jpeg, *png, *tiff, *webp;
} Files;

static void
write_jpeg (Files *f, const guint8 *rgb)
{
  tjhandle tj = tjInitCompress ();
  unsigned char *data = NULL;
  unsigned long n = 0;

  assert_int_equal (tjCompress2 (tj, rgb, W, 0, H, TJPF_RGB, &data, &n, TJSAMP_444, 90, 0), 0);
  f->jpeg = g_build_filename (f->folder, "q.jpg", NULL);
  assert_true (g_file_set_contents (f->jpeg, (char *)data, (gssize)n, NULL));
  tjFree (data);
  tjDestroy (tj);
}

static void
write_others (Files *f, const guint8 *rgb)
{
  png_image image
      = { .version = PNG_IMAGE_VERSION, .width = W, .height = H, .format = PNG_FORMAT_RGB };
  guint8 *coded = NULL;
  gsize n;
  TIFF *tiff;

  f->png = g_build_filename (f->folder, "q.png", NULL);
  assert_true (png_image_write_to_file (&image, f->png, 0, rgb, 0, NULL));
  f->webp = g_build_filename (f->folder, "q.webp", NULL);
  n = WebPEncodeLosslessRGB (rgb, W, H, W * 3, &coded);
  assert_true (g_file_set_contents (f->webp, (char *)coded, (gssize)n, NULL));
  WebPFree (coded);
  f->tiff = g_build_filename (f->folder, "q.tif", NULL);
  tiff = TIFFOpen (f->tiff, "w");
  TIFFSetField (tiff, TIFFTAG_IMAGEWIDTH, W);
  TIFFSetField (tiff, TIFFTAG_IMAGELENGTH, H);
  TIFFSetField (tiff, TIFFTAG_BITSPERSAMPLE, 8);
  TIFFSetField (tiff, TIFFTAG_SAMPLESPERPIXEL, 3);
  TIFFSetField (tiff, TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_RGB);
  TIFFSetField (tiff, TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG);
  TIFFSetField (tiff, TIFFTAG_ORIENTATION, ORIENTATION_RIGHTTOP);
  for (guint32 y = 0; y < H; y++)
    assert_int_equal (TIFFWriteScanline (tiff, (void *)(rgb + y * W * 3), y, 0), 1);
  TIFFClose (tiff);
}

static int
setup (void **state)
{
  Files *f = g_new0 (Files, 1);
  g_autofree guint8 *rgb = quarters ();

  f->folder = g_dir_make_tmp ("sw-decoder-XXXXXX", NULL);
  write_jpeg (f, rgb);
  write_others (f, rgb);
  *state = f;
  return 0;
}

static int
teardown (void **state)
{
  Files *f = *state;
  g_autofree char *command = g_strdup_printf ("rm -rf '%s'", f->folder);

  g_spawn_command_line_sync (command, NULL, NULL, NULL, NULL);
  g_free (f->jpeg);
  g_free (f->png);
  g_free (f->tiff);
  g_free (f->webp);
  g_free (f->folder);
  g_free (f);
  return 0;
}

/* Which quarter stands top left, top right, bottom left, bottom right once upright, from the
 * standard's table: with orientation 6, say, row 0 is the right side and column 0 the top, so
 * stored top left comes to the top right. */
static const int upright[9][4] = {
  { 0 },          { 0, 1, 2, 3 }, { 1, 0, 3, 2 }, { 3, 2, 1, 0 }, { 2, 3, 0, 1 },
  { 0, 2, 1, 3 }, { 2, 0, 3, 1 }, { 3, 1, 2, 0 }, { 1, 3, 0, 2 },
};

static void
check_quarters (const SwPicture *p, int orientation)
{
  const guint8 *rgb = g_bytes_get_data (p->rgb, NULL);
  guint w = p->width, h = p->height;

  assert_i64_equal (quarter_at (rgb, w, w / 8, h / 8), upright[orientation][0]);
  assert_i64_equal (quarter_at (rgb, w, w - 1 - w / 8, h / 8), upright[orientation][1]);
  assert_i64_equal (quarter_at (rgb, w, w / 8, h - 1 - h / 8), upright[orientation][2]);
  assert_i64_equal (quarter_at (rgb, w, w - 1 - w / 8, h - 1 - h / 8), upright[orientation][3]);
}

static void
every_format_and_orientation (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 2);
  const char *paths[] = { f->jpeg, f->png, f->tiff, f->webp };

  for (gsize i = 0; i < G_N_ELEMENTS (paths); i++)
    for (int o = 1; o <= 8; o++)
      {
        g_autoptr (GError) error = NULL;
        g_autoptr (SwPicture) p = sw_decoder_decode (decoder, paths[i], o, 50, NULL, &error);

        assert_no_error (error);
        assert_i64_equal (p->width, o >= 5 ? 30 : 50);
        assert_i64_equal (p->height, o >= 5 ? 50 : 30);
        assert_i64_equal (p->full_width, o >= 5 ? H : W);
        check_quarters (p, o);
      }
}

/* Each quarter of the picture by itself, at each turn, against the standard's table: turned once
 * clockwise, what was bottom left stands top left. */
static void
parts_of_a_turned_picture (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  static const int once[4] = { 2, 0, 3, 1 };

  for (int o = 1; o <= 8; o++)
    for (int turn = 0; turn < 4; turn++)
      for (int corner = 0; corner < 4; corner++)
        {
          gboolean swap = (o >= 5) != (turn % 2 == 1);
          guint w = swap ? 60 : 100, h = swap ? 100 : 60;
          SwDecodePart part = { o, turn, 100, corner % 2 * w / 2, corner / 2 * h / 2, w / 2, h };
          g_autoptr (GError) error = NULL;
          g_autoptr (SwPicture) p = sw_decoder_decode_part (decoder, f->png, &part, NULL, &error);
          int from = corner;

          assert_no_error (error);
          assert_i64_equal (p->scaled_width, w);
          assert_i64_equal (p->scaled_height, h);
          assert_i64_equal (p->width, w / 2);
          assert_i64_equal (p->height, h - part.y);
          assert_i64_equal (p->full_width, swap ? H : W);
          for (int i = 0; i < turn; i++)
            from = once[from];
          assert_i64_equal (quarter_at (g_bytes_get_data (p->rgb, NULL), p->width, w / 4, h / 4),
                            upright[o][from]);
        }
}

static void
a_part_outside_is_refused (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  SwDecodePart outside = { 1, 0, W, W, 0, 10, 10 }, all = { 1, 0, 4 * W, 0, 0, W, H };
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPicture) p = sw_decoder_decode_part (decoder, f->jpeg, &outside, NULL, &error);

  assert_null (p);
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  p = sw_decoder_decode_part (decoder, f->jpeg, &all, NULL, &error);
  assert_no_error (error);
  assert_i64_equal (p->width, W); /* never enlarged */
}

/* Written by libheif's own tool, in a process of its own (its encoder leaks). FALSE where this
 * machine has none. */
static gboolean
write_heic (const Files *f, const char *path)
{
  const char *argv[] = { "heif-enc", "-q", "90", f->png, "-o", path, NULL };

  return g_spawn_sync (NULL, (char **)argv, NULL,
                       G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL
                           | G_SPAWN_STDERR_TO_DEV_NULL,
                       NULL, NULL, NULL, NULL, NULL, NULL)
         && g_file_test (path, G_FILE_TEST_IS_REGULAR);
}

static void
heic_ignores_the_exif_turn (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autofree char *path = g_build_filename (f->folder, "q.heic", NULL);

  if (!write_heic (f, path))
    {
      print_message ("no HEVC encoder on this machine\n");
      skip ();
    }
  for (int o = 1; o <= 6; o += 5)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (SwPicture) p = sw_decoder_decode (decoder, path, o, 100, NULL, &error);

      assert_no_error (error);
      assert_i64_equal (p->width, 100);
      assert_i64_equal (p->full_height, H);
      check_quarters (p, 1);
    }
}

static void
likeness_survives_formats_and_sizes (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autoptr (SwPicture) a = sw_decoder_decode (decoder, f->jpeg, 1, 640, NULL, NULL);
  g_autoptr (SwPicture) b = sw_decoder_decode (decoder, f->png, 1, 90, NULL, NULL);
  g_autoptr (SwPicture) turned = sw_decoder_decode (decoder, f->png, 3, 90, NULL, NULL);
  g_autoptr (GBytes) packed = sw_likeness_pack (a);
  guint64 hash;
  guint8 grid[64];

  assert_i64_equal (a->width, W);
  assert_true (sw_dhash_distance (a->dhash, b->dhash) <= 4);
  assert_true (sw_dhash_distance (a->dhash, turned->dhash) >= 8);
  assert_true (sw_likeness_unpack (packed, &hash, grid));
  assert_true (hash == a->dhash && memcmp (grid, a->grid, 64) == 0);
  /* BT.601 luma of the quarters: 0.299 R + 0.587 G + 0.114 B */
  assert_true (ABS (a->grid[0] - 80) < 4 && ABS (a->grid[7] - 137) < 4);
  assert_true (ABS (a->grid[56] - 43) < 4 && ABS (a->grid[63] - 240) < 4);
}

/* Bytes and what must come of them. */
static void
check_bad (Files *f, SwDecoder *decoder, const char *label, const char *bytes, gsize n,
           const char *part)
{
  g_autofree char *path = g_build_filename (f->folder, "bad", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPicture) p = NULL;

  assert_true (g_file_set_contents (path, bytes, (gssize)n, NULL));
  p = sw_decoder_decode (decoder, path, 1, 100, NULL, &error);
  if (p != NULL)
    print_error ("%s was decoded\n", label);
  assert_null (p);
  sw_test_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, __FILE__, __LINE__);
  if (strstr (error->message, part) == NULL)
    print_error ("%s: %s\n", label, error->message);
  assert_non_null (strstr (error->message, part));
}

static void
bad_pictures_cost_one_picture (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autoptr (SwPicture) good = NULL;
  /* a PNG header of 60,000 x 60,000 and no pixels, with sums that fit */
  static const char huge[] = "\x89PNG\r\n\x1A\n\0\0\0\rIHDR\0\0\xEA\x60\0\0\xEA\x60\x08\x02\0\0\0"
                             "\x0F\xB0\xE2\x15\0\0\0\0IDAT\x35\xAF\x06\x1E";
  g_autofree char *jpeg = NULL;
  gsize n;

  check_bad (f, decoder, "nothing", "", 0, "damaged");
  check_bad (f, decoder, "text", "press house", 11, "damaged");
  check_bad (f, decoder, "jpeg header", "\xFF\xD8\xFF\xE0\0\x10JFIF", 10, "damaged");
  check_bad (f, decoder, "png header", "\x89PNG\r\n\x1A\n\0\0\0", 11, "damaged");
  check_bad (f, decoder, "heic",
             "\0\0\0\x18"
             "ftypheic\0\0\0\0mif1heic",
             24, "damaged");
  check_bad (f, decoder, "webp", "RIFF\x10\0\0\0WEBPVP8 \4\0\0\0abcd", 24, "damaged");
  check_bad (f, decoder, "tiff", "II*\0\x08\0\0\0\xFF\xFF", 10, "damaged");
  check_bad (f, decoder, "huge", huge, sizeof huge - 1, "250 megapixels");
  assert_true (g_file_get_contents (f->jpeg, &jpeg, &n, NULL));
  /* height and width of the frame header raised to 65,000 each */
  for (gsize i = 0; i + 9 < n; i++)
    if ((guint8)jpeg[i] == 0xFF && (guint8)jpeg[i + 1] == 0xC0)
      {
        memcpy (jpeg + i + 5, "\xFD\xE8\xFD\xE8", 4);
        break;
      }
  check_bad (f, decoder, "lying jpeg", jpeg, n, "250 megapixels");
  good = sw_decoder_decode (decoder, f->jpeg, 1, 100, NULL, NULL);
  assert_non_null (good);
}

static void
a_cut_jpeg_shows_what_is_there (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autofree char *path = g_build_filename (f->folder, "cut.jpg", NULL);
  g_autofree char *jpeg = NULL;
  g_autoptr (SwPicture) p = NULL;
  gsize n;

  assert_true (g_file_get_contents (f->jpeg, &jpeg, &n, NULL));
  assert_true (g_file_set_contents (path, jpeg, (gssize)(n * 9 / 10), NULL));
  p = sw_decoder_decode (decoder, path, 1, W, NULL, NULL);
  assert_non_null (p);
  assert_i64_equal (quarter_at (g_bytes_get_data (p->rgb, NULL), p->width, 10, 10), 0);
}

/* A helper that dies is an error for its picture alone, and the next picture gets a new one. */
static void
dead_helpers_are_replaced (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) dying = sw_decoder_new ("/bin/false", 1);
  g_autoptr (SwDecoder) missing = sw_decoder_new ("/nowhere/shedwalk", 1);

  for (int i = 0; i < 3; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GError) no_program = NULL;

      assert_null (sw_decoder_decode (dying, f->jpeg, 1, 100, NULL, &error));
      sw_test_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, __FILE__, __LINE__);
      assert_null (sw_decoder_decode (missing, f->jpeg, 1, 100, NULL, &no_program));
      sw_test_error (no_program, SW_ERROR, SW_ERROR_FAILED, __FILE__, __LINE__);
    }
}

/* A picture that takes minutes is given up, its helper ended, and the next one is begun with a new
 * one. The 'helper' here answers never, and says how often it was started. */
static void
a_helper_that_never_answers (void **state)
{
  Files *f = *state;
  g_autofree char *program = g_build_filename (f->folder, "never", NULL);
  g_autofree char *starts = g_build_filename (f->folder, "starts", NULL);
  g_autofree char *script
      = g_strdup_printf ("#!/bin/sh\necho >> '%s'\nexec tail -f /dev/null\n", starts);
  g_autofree char *counted = NULL;
  g_autoptr (SwDecoder) decoder = NULL;
  gint64 since = g_get_monotonic_time ();

  assert_true (
      g_file_set_contents_full (program, script, -1, G_FILE_SET_CONTENTS_NONE, 0700, NULL));
  decoder = sw_decoder_new (program, 1);
  sw_decoder_set_patience (decoder, G_USEC_PER_SEC / 5);
  for (int i = 0; i < 2; i++)
    {
      g_autoptr (GError) error = NULL;

      assert_null (sw_decoder_decode (decoder, f->jpeg, 1, 100, NULL, &error));
      sw_test_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, __FILE__, __LINE__);
    }
  assert_true (g_get_monotonic_time () - since < 30 * G_USEC_PER_SEC);
  assert_true (g_file_get_contents (starts, &counted, NULL, NULL));
  assert_string_equal (counted, "\n\n");
}

static void
no_file_no_pipe (void **state)
{
  Files *f = *state;
  g_autoptr (SwDecoder) decoder = sw_decoder_new (NULL, 1);
  g_autofree char *fifo = g_build_filename (f->folder, "fifo.jpg", NULL);
  g_autofree char *none = g_build_filename (f->folder, "none.jpg", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) not_there = NULL;

  assert_int_equal (mkfifo (fifo, 0600), 0);
  assert_null (sw_decoder_decode (decoder, fifo, 1, 100, NULL, &error));
  sw_test_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, __FILE__, __LINE__);
  assert_null (sw_decoder_decode (decoder, none, 1, 100, NULL, &not_there));
  sw_test_error (not_there, SW_ERROR, SW_ERROR_NOT_FOUND, __FILE__, __LINE__);
}

static void
store_keeps_and_forgets (void **state)
{
  Files *f = *state;
  g_autofree char *path = g_build_filename (f->folder, "thumbs.db", NULL);
  g_autoptr (GBytes) jpeg = g_bytes_new ("a picture", 9);
  SwThumbStore *store = sw_thumb_store_new (path);
  GBytes *back;

  sw_thumb_store_put (store, "aa", 160, 1, jpeg);
  assert_null (sw_thumb_store_get (store, "aa", 160, 2));
  assert_null (sw_thumb_store_get (store, "aa", 640, 1));
  sw_thumb_store_free (store);

  store = sw_thumb_store_new (path);
  back = sw_thumb_store_get (store, "aa", 160, 1);
  assert_true (back != NULL && g_bytes_equal (back, jpeg));
  g_bytes_unref (back);
  sw_thumb_store_free (store);

  assert_true (
      g_file_set_contents (path, "this is no database at all, but long enough to look", -1, NULL));
  store = sw_thumb_store_new (path);
  assert_null (sw_thumb_store_get (store, "aa", 160, 1));
  sw_thumb_store_put (store, "aa", 160, 1, jpeg);
  back = sw_thumb_store_get (store, "aa", 160, 1);
  assert_true (back != NULL && g_bytes_equal (back, jpeg));
  g_bytes_unref (back);
  sw_thumb_store_free (store);

  /* a place that cannot be: the store still works */
  store = sw_thumb_store_new ("/proc/nowhere/thumbs.db");
  sw_thumb_store_put (store, "aa", 160, 1, jpeg);
  back = sw_thumb_store_get (store, "aa", 160, 1);
  assert_non_null (back);
  g_bytes_unref (back);
  sw_thumb_store_free (store);
}

int
main (int argc, char **argv)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (every_format_and_orientation),
    cmocka_unit_test (parts_of_a_turned_picture),
    cmocka_unit_test (a_part_outside_is_refused),
    cmocka_unit_test (heic_ignores_the_exif_turn),
    cmocka_unit_test (likeness_survives_formats_and_sizes),
    cmocka_unit_test (bad_pictures_cost_one_picture),
    cmocka_unit_test (a_cut_jpeg_shows_what_is_there),
    cmocka_unit_test (dead_helpers_are_replaced),
    cmocka_unit_test (a_helper_that_never_answers),
    cmocka_unit_test (no_file_no_pipe),
    cmocka_unit_test (store_keeps_and_forgets),
  };
  g_autofree char *cache = NULL;
  int failed;

  /* the decoder starts this very program */
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (0, 1);
  cache = g_dir_make_tmp ("sw-cache-XXXXXX", NULL);
  g_setenv ("XDG_CACHE_HOME", cache, TRUE);
  failed = cmocka_run_group_tests_name ("decoder", tests, setup, teardown);
  g_autofree char *command = g_strdup_printf ("rm -rf '%s'", cache);
  g_spawn_command_line_sync (command, NULL, NULL, NULL, NULL);
  return failed;
}
