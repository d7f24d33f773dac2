/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cards and tags as they are printed, photographed and read back: each page is drawn, turned,
 * blurred, pressed into a JPEG of quality 60, and read by the helper.
 * Quiet zone of four light modules: ISO/IEC 18004:2015, 6.3.8. */
#include "sw-records.h"

#include <math.h>
#include <turbojpeg.h>

#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/tags.h"
#include "core/handout/cards.h"
#include "core/handout/qr.h"
#include "core/intake/decode-helper.h"
#include "core/intake/decoder.h"
#include "core/match/codes.h"

/* A view on a page: the part in mm, how large and how it is held. */
typedef struct
{
  double x, y, width, height;
  double scale;   /* pixels a mm */
  double degrees; /* turned about the middle */
  int blur;       /* radius of the mean, in pixels */
} View;

typedef gboolean (*DrawFunc) (cairo_t *cr, gpointer data);

static void
blur_rows (guint8 *rgb, int width, int height, int radius, int step_x, int step_y)
{
  g_autofree guint8 *copy = g_memdup2 (rgb, (gsize)width * height * 3);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      for (int c = 0; c < 3; c++)
        {
          int sum = 0, n = 0;

          for (int k = -radius; k <= radius; k++)
            {
              int u = x + k * step_x, v = y + k * step_y;

              if (u < 0 || v < 0 || u >= width || v >= height)
                continue;
              sum += copy[(v * width + u) * 3 + c];
              n++;
            }
          rgb[(y * width + x) * 3 + c] = (guint8)(sum / n);
        }
}

/* The view as a JPEG file. */
static void
take_photo (const View *view, DrawFunc draw, gpointer data, const char *path)
{
  int w = (int)(view->width * view->scale), h = (int)(view->height * view->scale);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, w, h);
  cairo_t *cr = cairo_create (surface);
  g_autofree guint8 *rgb = g_malloc ((gsize)w * h * 3);
  unsigned char *jpeg = NULL;
  unsigned long n = 0;
  tjhandle tj = tjInitCompress ();

  cairo_set_source_rgb (cr, 0.9, 0.88, 0.82);
  cairo_paint (cr);
  cairo_translate (cr, w / 2.0, h / 2.0);
  cairo_rotate (cr, view->degrees * G_PI / 180);
  cairo_scale (cr, view->scale, view->scale);
  cairo_translate (cr, -view->x - view->width / 2, -view->y - view->height / 2);
  assert_true (draw (cr, data));
  cairo_surface_flush (surface);
  for (int y = 0; y < h; y++)
    for (int x = 0; x < w; x++)
      {
        guint32 pixel;

        memcpy (&pixel,
                cairo_image_surface_get_data (surface)
                    + y * cairo_image_surface_get_stride (surface) + x * 4,
                4);
        for (int c = 0; c < 3; c++)
          rgb[(y * w + x) * 3 + c] = (guint8)(pixel >> (16 - 8 * c));
      }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  if (view->blur > 0)
    {
      blur_rows (rgb, w, h, view->blur, 1, 0);
      blur_rows (rgb, w, h, view->blur, 0, 1);
    }
  assert_int_equal (tjCompress2 (tj, rgb, w, 0, h, TJPF_RGB, &jpeg, &n, TJSAMP_420, 60, 0), 0);
  assert_true (g_file_set_contents (path, (char *)jpeg, (gssize)n, NULL));
  tjFree (jpeg);
  tjDestroy (tj);
}

static GPtrArray *
read_codes (SwDecoder *decoder, const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPicture) picture
      = sw_decoder_decode_with_codes (decoder, path, 1, 640, NULL, &error);

  assert_no_error (error);
  assert_non_null (picture->codes);
  return g_steal_pointer (&picture->codes);
}

static const SwPhotoCode *
code_in (const GPtrArray *codes, const char *text)
{
  for (guint k = 0; k < codes->len; k++)
    if (strcmp (((SwPhotoCode *)g_ptr_array_index (codes, k))->text, text) == 0)
      return g_ptr_array_index (codes, k);
  return NULL;
}

/* A page, or the part of it that was cut out (in mm), on the ground it was photographed on. */
typedef struct
{
  SwCardSet *set;
  int page;
  double x, y, width, height;
} Page;

static gboolean
draw_page (cairo_t *cr, gpointer data)
{
  const Page *page = data;

  cairo_rectangle (cr, page->x, page->y, page->width, page->height);
  cairo_clip_preserve (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_fill (cr);
  return sw_card_set_draw (page->set, page->page, cr, NULL);
}

typedef struct
{
  Records records;
  char catalogue[SW_CODE_CATALOGUE_LENGTH + 1];
  SwCardSet *set;
  SwDecoder *decoder;
  char *path;
} Bed;

#define N_TAGS 27

static int
setup (void **state)
{
  Bed *b = g_new0 (Bed, 1);
  static const char *const places[] = { "Packing shed", "Packing shed > Loft", "Cold store" };

  b->records = records_new ();
  for (gsize k = 0; k < G_N_ELEMENTS (places); k++)
    {
      gint64 id = 0;
      assert_true (sw_place_ensure (b->records.catalogue, places[k], &id, NULL, NULL));
    }
  assert_true (sw_place_add (b->records.catalogue, "Home", TRUE, NULL, NULL, NULL, NULL));
  /* whether a code is read hangs on what it holds: the same in each run */
  assert_true (sw_setting_put (b->records.catalogue, "id", "orchard", NULL));
  assert_true (sw_code_catalogue (b->records.catalogue, b->catalogue, NULL));
  b->set = sw_card_set_new (b->records.catalogue, 1, N_TAGS, NULL);
  assert_non_null (b->set);
  b->decoder = sw_decoder_new (NULL, 1);
  b->path = g_build_filename (b->records.folder, "photo.jpg", NULL);
  *state = b;
  return 0;
}

static int
teardown (void **state)
{
  Bed *b = *state;

  sw_decoder_free (b->decoder);
  sw_card_set_free (b->set);
  g_free (b->path);
  records_clear (&b->records);
  g_free (b);
  return 0;
}

static char *
text_of (const Bed *b, SwCodeKind kind, gint64 number)
{
  SwCode code = { .kind = kind, .number = number };

  memcpy (code.catalogue, b->catalogue, sizeof code.catalogue);
  return sw_code_format (&code);
}

/* How a card or a tag is photographed: scale is for the part that is seen. */
typedef struct
{
  double long_side; /* of the photo, pixels */
  double around;    /* how much more than the part itself is seen */
  double degrees;
  int blur;
} Hold;

static const Hold holds[] = {
  { 1600, 1.1, 0, 0 },   /* held well */
  { 1600, 1.3, 10, 1 },  /* askew, a little out of focus */
  { 2600, 1.3, -10, 2 }, /* a large photo, scaled down before it is read */
  { 1600, 2.5, 10, 1 },  /* from two steps away */
  { 640, 1.2, 0, 1 },    /* sent through a messenger */
  { 1200, 1.5, 90, 1 },  /* the phone on its side */
  { 1200, 1.5, 187, 1 }, /* hung upside down */
  { 1600, 1.5, 28, 1 },  /* slanted, as no line along the picture finds it */
};

static void
check_part (Bed *b, const Page *part, const Hold *hold, const char *expected)
{
  double seen = MAX (part->width, part->height) * hold->around;
  View view = { part->x + part->width / 2 - seen / 2,
                part->y + part->height / 2 - seen / 2,
                seen,
                seen,
                hold->long_side / seen,
                hold->degrees,
                hold->blur };
  Page what = *part;
  g_autoptr (GPtrArray) codes = NULL;

  take_photo (&view, draw_page, &what, b->path);
  codes = read_codes (b->decoder, b->path);
  if (code_in (codes, expected) == NULL)
    print_error ("%s, hold %d: not among %u codes\n", expected, (int)(hold - holds), codes->len);
  assert_non_null (code_in (codes, expected));
}

static void
every_card_reads_back (void **state)
{
  Bed *b = *state;
  g_autoptr (GPtrArray) places = sw_place_list (b->records.catalogue, NULL);
  int at = 0;

  for (guint k = 0; k < places->len; k++)
    {
      const SwPlace *place = g_ptr_array_index (places, k);
      g_autofree char *text = text_of (b, SW_CODE_PLACE, place->id);

      if (place->off_property)
        continue;
      Page part = { b->set, at / SW_CARDS_A_PAGE, 0, at % SW_CARDS_A_PAGE * 148.5, 210, 148.5 };
      for (gsize h = 0; h < G_N_ELEMENTS (holds); h++)
        check_part (b, &part, &holds[h], text);
      at++;
    }
  assert_i64_equal (at, sw_card_set_n_cards (b->set));
  assert_true (at >= 3);
}

static void
every_tag_reads_back (void **state)
{
  Bed *b = *state;
  int pages = sw_card_set_n_pages (b->set), first = pages - 2;

  for (int k = 0; k < N_TAGS; k++)
    {
      int on_page = k % SW_TAGS_A_PAGE;
      Page part
          = { b->set,   first + k / SW_TAGS_A_PAGE, on_page % 3 * 70.0, on_page / 3 * 297.0 / 8, 70,
              297.0 / 8 };
      g_autofree char *text = text_of (b, SW_CODE_TAG, 1 + k);

      check_part (b, &part, &holds[(gsize)k % G_N_ELEMENTS (holds)], text);
    }
}

static gboolean
draw_text_code (cairo_t *cr, gpointer data)
{
  return sw_qr_draw (cr, data, 10, 10, 80, NULL);
}

/* Twelve codes on a board, the first the largest, each its own width from the next. */
#define BOARD_COLUMNS 4
#define BOARD_ROWS 3
#define BOARD_PITCH 44.0

static double
board_size (int k)
{
  return 28 - k * 0.6;
}

static char *
board_text (int k)
{
  return g_strdup_printf ("Crate %d of twelve", k + 1);
}

static gboolean
draw_board (cairo_t *cr, gpointer data)
{
  for (int k = 0; k < BOARD_COLUMNS * BOARD_ROWS; k++)
    {
      g_autofree char *text = board_text (k);

      if (!sw_qr_draw (cr, text, k % BOARD_COLUMNS * BOARD_PITCH,
                       (double)(k / BOARD_COLUMNS) * BOARD_PITCH, board_size (k), NULL))
        return FALSE;
    }
  return TRUE;
}

/* The eight largest come back, the largest first. */
static void
many_codes_at_once (void **state)
{
  Bed *b = *state;
  View view
      = { -10, -10, BOARD_COLUMNS * BOARD_PITCH + 10, BOARD_ROWS * BOARD_PITCH + 10, 9, 0, 0 };
  g_autoptr (GPtrArray) codes = NULL;

  take_photo (&view, draw_board, NULL, b->path);
  codes = read_codes (b->decoder, b->path);
  assert_i64_equal (codes->len, SW_DECODE_CODES);
  for (int k = 0; k < SW_DECODE_CODES; k++)
    {
      g_autofree char *text = board_text (k);
      const SwPhotoCode *found = g_ptr_array_index (codes, (guint)k);

      assert_string_equal (found->text, text);
    }
}

/* What the code says goes back as plain text, cut; the picture is there as ever. */
static void
codes_of_others (void **state)
{
  Bed *b = *state;
  View view = { 0, 0, 100, 100, 16, 5, 1 };
  g_autofree char *long_text = g_strnfill (1500, 'x');
  const char *const texts[]
      = { "https://example.org/?a=b", "\x1b[2Jtab\there", long_text, "SW1:P:nonsense" };

  memcpy (long_text, "SW1:P:3F09A1B2C4D5:12:AB", 24);
  for (gsize k = 0; k < G_N_ELEMENTS (texts); k++)
    {
      g_autoptr (GPtrArray) codes = NULL;
      SwCode code;

      take_photo (&view, draw_text_code, (gpointer)(gsize)texts[k], b->path);
      codes = read_codes (b->decoder, b->path);
      assert_i64_equal (codes->len, 1);
      const SwPhotoCode *found = g_ptr_array_index (codes, 0);
      assert_true (strlen (found->text) < SW_DECODE_CODE_MAX);
      for (const char *p = found->text; *p != '\0'; p++)
        assert_true (*p >= 0x20 && *p < 0x7F);
      assert_true (sw_code_parse (found->text, &code) != SW_CODE_READ);
      assert_true (found->share > 100 && found->share <= 1000);
    }
}

static gboolean
draw_nothing (cairo_t *cr, gpointer data)
{
  return TRUE;
}

/* Half a code, a code scratched through beyond repair, no code at all. */
static gboolean
draw_spoilt (cairo_t *cr, gpointer data)
{
  gboolean good = sw_qr_draw (cr, "SW1:P:3F09A1B2C4D5:12:AB", 10, 10, 80, NULL);

  cairo_rectangle (cr, 40, 0, 60, 100);
  cairo_set_source_rgb (cr, 0.5, 0.5, 0.5);
  cairo_fill (cr);
  return good;
}

static void
no_code_and_spoilt_codes (void **state)
{
  Bed *b = *state;
  View view = { 0, 0, 100, 100, 8, 0, 0 };
  static const DrawFunc draws[] = { draw_nothing, draw_spoilt };

  for (gsize k = 0; k < G_N_ELEMENTS (draws); k++)
    {
      g_autoptr (GPtrArray) codes = NULL;

      take_photo (&view, draws[k], NULL, b->path);
      codes = read_codes (b->decoder, b->path);
      assert_i64_equal (codes->len, 0);
    }
}

/* Squares within squares, as in the corners of a code, on all of the picture. */
static gboolean
draw_corners (cairo_t *cr, gpointer data)
{
  for (int k = 0; k < 50 * 50 * 3; k++)
    {
      double in = 0.2 * (k % 3), side = 1.4 - 2 * in, grey = k % 3 == 1 ? 1 : 0;

      cairo_set_source_rgb (cr, grey, grey, grey);
      cairo_rectangle (cr, k / 3 % 50 * 2 + in, k / 150 * 2 + in, side, side);
      cairo_fill (cr);
    }
  return TRUE;
}

/* Which three of thousands of corners are a code's is not asked to the end: that costs the codes,
 * not the picture. */
static void
a_picture_of_corners_alone (void **state)
{
  Bed *b = *state;
  View view = { 0, 0, 100, 100, 15, 0, 0 };
  g_autoptr (SwPicture) picture = NULL;
  g_autoptr (GError) error = NULL;

  take_photo (&view, draw_corners, NULL, b->path);
  picture = sw_decoder_decode_with_codes (b->decoder, b->path, 1, 640, NULL, &error);
  assert_no_error (error);
  assert_non_null (picture);
  assert_null (picture->codes);
}

/* Without being asked the helper looks for none. */
static void
only_when_asked (void **state)
{
  Bed *b = *state;
  View view = { 0, 0, 100, 100, 8, 0, 0 };
  g_autoptr (SwPicture) picture = NULL;

  take_photo (&view, draw_text_code, (gpointer)(gsize) "A", b->path);
  picture = sw_decoder_decode (b->decoder, b->path, 1, 640, NULL, NULL);
  assert_non_null (picture);
  assert_null (picture->codes);
}

static guint8
luma_at (cairo_surface_t *surface, int x, int y)
{
  guint32 pixel;

  memcpy (&pixel,
          cairo_image_surface_get_data (surface) + y * cairo_image_surface_get_stride (surface)
              + x * 4,
          4);
  return (guint8)(pixel >> 8);
}

/* Four light modules on each side, on a black ground. */
static void
the_quiet_zone_is_quiet (void **state)
{
  Bed *b = *state;
  g_autofree char *text = text_of (b, SW_CODE_TAG, 12);
  const int side = 33 * 10; /* version 2 is 25 modules wide, 33 with the zone */
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, side, side);
  cairo_t *cr = cairo_create (surface);

  assert_true (sw_qr_draw (cr, text, 0, 0, side, NULL));
  cairo_surface_flush (surface);
  for (int k = 0; k < side; k++)
    for (int depth = 1; depth < SW_QR_QUIET * 10 - 1; depth++)
      {
        assert_int_equal (luma_at (surface, k, depth), 255);
        assert_int_equal (luma_at (surface, k, side - 1 - depth), 255);
        assert_int_equal (luma_at (surface, depth, k), 255);
        assert_int_equal (luma_at (surface, side - 1 - depth, k), 255);
      }
  /* the finder pattern's corner module begins right there */
  assert_int_equal (luma_at (surface, 45, 45), 0);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
too_long_for_a_code (void **state)
{
  g_autofree char *text = g_strnfill (5000, 'x');
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 9, 9);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (GError) error = NULL;

  assert_false (sw_qr_draw (cr, text, 0, 0, 9, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* The same bytes each time, no moment in them, and as many pages as were said. */
static void
the_pdf_is_the_same_each_time (void **state)
{
  Bed *b = *state;
  g_autoptr (GBytes) one = sw_card_set_pdf (b->set, NULL), two = sw_card_set_pdf (b->set, NULL);
  gsize n = 0;
  const char *data = g_bytes_get_data (one, &n);

  assert_true (g_bytes_equal (one, two));
  assert_true (n > 1000 && memcmp (data, "%PDF-1.", 7) == 0);
  assert_null (g_strstr_len (data, (gssize)n, "CreationDate"));
  assert_null (g_strstr_len (data, (gssize)n, "ModDate"));
  assert_null (g_strstr_len (data, (gssize)n, g_get_user_name ()));
  assert_i64_equal (sw_card_set_n_pages (b->set), (sw_card_set_n_cards (b->set) + 1) / 2 + 2);
}

static void
writing (void **state)
{
  Bed *b = *state;
  SwCatalogue *catalogue = b->records.catalogue;
  g_autofree char *path = g_build_filename (b->records.folder, "cards.pdf", NULL);
  g_autofree char *other = g_build_filename (b->records.folder, "cards.txt", NULL);
  g_autofree char *lost = g_build_filename (b->records.folder, "no", "cards.pdf", NULL);
  g_autoptr (GError) error = NULL;
  SwCardsReport report = { 0 };
  gint64 next = 0;

  assert_true (sw_cards_write (catalogue, path, 30, &report, NULL));
  assert_i64_equal (report.first_tag, 1);
  assert_i64_equal (report.tags, 30);
  assert_true (g_file_test (path, G_FILE_TEST_IS_REGULAR));
  /* a name that will not do, a folder that is not there: no number is lost */
  assert_false (sw_cards_write (catalogue, other, 5, &report, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  assert_false (sw_cards_write (catalogue, lost, 5, &report, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_i64_equal (report.first_tag, 1);
  assert_true (sw_tags_take (catalogue, 1, &next, NULL));
  assert_i64_equal (next, 31);
  assert_true (sw_cards_write (catalogue, path, 0, &report, NULL));
  assert_i64_equal (report.first_tag, 0);
  assert_i64_equal (report.tags, 0);
}

static void
nothing_to_print (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;

  assert_null (sw_card_set_new (records.catalogue, 0, 0, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

int
main (int argc, char **argv)
{
#define CASE(name) cmocka_unit_test_setup_teardown (name, setup, teardown)
  const struct CMUnitTest tests[] = {
    CASE (every_card_reads_back),
    CASE (every_tag_reads_back),
    CASE (many_codes_at_once),
    CASE (codes_of_others),
    CASE (no_code_and_spoilt_codes),
    CASE (a_picture_of_corners_alone),
    CASE (only_when_asked),
    CASE (the_quiet_zone_is_quiet),
    CASE (too_long_for_a_code),
    CASE (the_pdf_is_the_same_each_time),
    CASE (writing),
    CASE (nothing_to_print),
  };

  /* the decoder starts this very program */
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (0, 1);
  return cmocka_run_group_tests_name ("cards", tests, NULL, NULL);
}
