/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures of photos on drawn pictures whose fault is known, what they are called, which photo
 * stands for an item, and turning one. The Gaussian is the usual one; that the variance of the
 * Laplacian falls with every step of blur is what Pech-Pacheco et al. (2000, ICPR 15) use it for.
 */
#include "sw-test.h"

#include <math.h>
#include <string.h>

#include "core/catalogue/act.h"
#include "core/catalogue/photo-quality.h"
#include "core/intake/quality.h"
#include "sw-records.h"

#define W 640
#define H 480

/* Crates in a shed: boards with edges and grain, on a plain wall. */
static SwPixels
drawing (void)
{
  SwPixels p = { W, H, g_malloc (W * H * 3) };
  guint32 noise = 7;

  for (int y = 0; y < H; y++)
    for (int x = 0; x < W; x++)
      {
        gboolean crate = x > 120 && x < 520 && y > 90 && y < 400;
        int board = crate ? ((y / 24) % 2 ? 150 : 105) + ((x / 57) % 2 ? 0 : 22) : 185;
        guint8 *q = p.rgb + (y * W + x) * 3;

        noise = noise * 1664525u + 1013904223u;
        board += crate ? (int)(noise >> 27) - 16 : 0;
        q[0] = (guint8)CLAMP (board + 8, 0, 255);
        q[1] = (guint8)CLAMP (board, 0, 255);
        q[2] = (guint8)CLAMP (board - 14, 0, 255);
      }
  return p;
}

/* One axis of a Gaussian of the given standard deviation, in pixels. */
static void
blur_axis (SwPixels *p, double sigma, gboolean down)
{
  int reach = (int)ceil (3 * sigma), n = down ? H : W;
  g_autofree double *kernel = g_new (double, reach + 1);
  g_autofree guint8 *line = g_malloc ((gsize)n);

  for (int i = 0; i <= reach; i++)
    kernel[i] = exp (-i * i / (2 * sigma * sigma));
  for (int other = 0; other < (down ? W : H); other++)
    for (int c = 0; c < 3; c++)
      {
        for (int i = 0; i < n; i++)
          line[i] = p->rgb[(down ? i * W + other : other * W + i) * 3 + c];
        for (int i = 0; i < n; i++)
          {
            double sum = 0, weight = 0;

            for (int k = -reach; k <= reach; k++)
              {
                sum += kernel[ABS (k)] * line[CLAMP (i + k, 0, n - 1)];
                weight += kernel[ABS (k)];
              }
            p->rgb[(down ? i * W + other : other * W + i) * 3 + c] = (guint8)lround (sum / weight);
          }
      }
}

static SwPhotoQuality
measured (const SwPixels *p)
{
  SwPhotoQuality quality = { 0 };

  sw_quality_measure (p, &quality);
  quality.marks = sw_photo_marks_of (&quality);
  return quality;
}

static void
scale (SwPixels *p, double factor, int plus)
{
  for (gsize i = 0; i < (gsize)W * H * 3; i++)
    p->rgb[i] = (guint8)CLAMP (p->rgb[i] * factor + plus, 0, 255);
}

static void
blur_orders (void **state)
{
  static const double sigmas[] = { 0.6, 1.0, 1.6, 2.5, 4.0, 8.0 };
  g_auto (SwPixels) plain = drawing ();
  SwPhotoQuality before = measured (&plain);

  assert_i64_equal (before.marks, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (sigmas); i++)
    {
      g_auto (SwPixels) p = drawing ();
      SwPhotoQuality quality;

      blur_axis (&p, sigmas[i], FALSE);
      blur_axis (&p, sigmas[i], TRUE);
      quality = measured (&p);
      assert_true (quality.sharpness < before.sharpness);
      assert_true (quality.focus <= before.focus);
      if (0)
        assert_i64_equal ((quality.marks & SW_PHOTO_MARK_BLURRED) != 0, sigmas[i] >= 1.6);
      before = quality;
    }
}

/* A hand that moved: along one axis alone. */
static void
a_shaken_one_is_blurred (void **state)
{
  g_auto (SwPixels) p = drawing ();

  blur_axis (&p, 6, TRUE);
  blur_axis (&p, 2, FALSE);
  assert_i64_equal (measured (&p).marks, SW_PHOTO_MARK_BLURRED);
}

static void
contrast_does_not_count_as_focus (void **state)
{
  g_auto (SwPixels) plain = drawing (), faint = drawing ();
  double a, b;

  scale (&faint, 0.5, 60);
  a = measured (&plain).focus;
  b = measured (&faint).focus;
  assert_true (fabs (a - b) < 0.25 * a);
  assert_i64_equal (measured (&faint).marks, 0);
}

static void
exposure (void **state)
{
  static const struct
  {
    double factor;
    int plus;
    guint marks;
  } rows[] = {
    { 1, 0, 0 },
    { 0.4, 0, 0 },
    { 0.12, 0, SW_PHOTO_MARK_DARK },
    { 1, -150, SW_PHOTO_MARK_DARK },
    { 1, 40, 0 },
    { 1, 140, SW_PHOTO_MARK_BRIGHT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_auto (SwPixels) p = drawing ();
      SwPhotoQuality quality;

      scale (&p, rows[i].factor, rows[i].plus);
      quality = measured (&p);
      assert_i64_equal (quality.marks & (SW_PHOTO_MARK_DARK | SW_PHOTO_MARK_BRIGHT), rows[i].marks);
    }
}

/* Shares are counted: 100 of 480 rows black, the border pixels left out of the sums. */
static void
shares (void **state)
{
  g_auto (SwPixels) p = drawing ();

  memset (p.rgb, 0, (gsize)W * 100 * 3);
  memset (p.rgb + (gsize)W * 430 * 3, 255, (gsize)W * 50 * 3);
  assert_i64_equal (measured (&p).dark, 99 * 1000 / 478);
  assert_i64_equal (measured (&p).bright, 49 * 1000 / 478);
}

/* A round thing over a corner, its rim as soft as something a finger's breadth from the lens. */
static void
lay_over (SwPixels *p, double radius, double soft, int r, int g, int b)
{
  for (int y = 0; y < H; y++)
    for (int x = 0; x < W; x++)
      {
        double d = hypot (W - x, H - y);
        double a = CLAMP ((radius + soft / 2 - d) / soft, 0, 1);
        guint8 *q = p->rgb + (y * W + x) * 3;

        a = a * a * (3 - 2 * a);
        q[0] = (guint8)(q[0] * (1 - a) + r * a);
        q[1] = (guint8)(q[1] * (1 - a) + g * a);
        q[2] = (guint8)(q[2] * (1 - a) + b * a);
      }
}

static void
a_finger_is_told_from_a_red_box_and_a_dark_corner (void **state)
{
  static const struct
  {
    double radius, soft;
    int r, g, b;
    gboolean covered;
  } rows[] = {
    { 330, 170, 150, 62, 48, TRUE },    /* a finger, lit through */
    { 330, 170, 24, 18, 16, FALSE },    /* a dark corner */
    { 330, 1, 150, 62, 48, FALSE },     /* a red drum with a rim in focus */
    { 120, 90, 150, 62, 48, FALSE },    /* a finger tip in the corner spoils nothing */
    { 330, 170, 200, 196, 190, FALSE }, /* a light wall out of focus */
    { 1000, 90, 150, 62, 48, TRUE },    /* a finger over the whole lens */
    { 1000, 90, 128, 128, 128, FALSE }, /* a grey wall and nothing else */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_auto (SwPixels) p = drawing ();

      lay_over (&p, rows[i].radius, rows[i].soft, rows[i].r, rows[i].g, rows[i].b);
      if (((measured (&p).marks & SW_PHOTO_MARK_COVERED) != 0) != rows[i].covered)
        fail_msg ("row %d: covered %d", (int)i, measured (&p).covered);
    }
}

static void
small_and_flat_pictures_are_measured (void **state)
{
  guint8 three[3] = { 90, 90, 90 };
  g_autofree guint8 *flat = g_malloc (64 * 48 * 3);
  SwPixels dot = { 1, 1, three }, wall = { 64, 48, flat };

  memset (flat, 128, 64 * 48 * 3);
  measured (&dot);
  assert_i64_equal (measured (&wall).marks, 0);
}

static void
the_gravest_mark_is_named (void **state)
{
  assert_null (sw_photo_mark_word (0));
  assert_null (sw_photo_mark_icon (0));
  assert_string_equal (sw_photo_mark_word (SW_PHOTO_MARK_DARK | SW_PHOTO_MARK_COVERED),
                       "lens covered");
  assert_string_equal (sw_photo_mark_word (SW_PHOTO_MARK_BLURRED | SW_PHOTO_MARK_DARK), "blurred");
  assert_string_equal (sw_photo_mark_icon (SW_PHOTO_MARK_BRIGHT), "sw-bright-symbolic");
}

/* --- which photo stands for an item --- */

static void
put (Records *records, gint64 photo, double focus, int mean)
{
  SwPhotoQuality quality = { .photo = photo, .sharpness = 100, .focus = focus, .mean = mean };
  g_autoptr (GError) error = NULL;

  sw_photo_quality_put (records->catalogue, &quality, 1, &error);
  assert_no_error (error);
}

static void
the_cover_is_the_first_good_photo (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_item (&records, "Screw press", 1, -1), photos[5];
  g_autoptr (GError) error = NULL;
  static const struct
  {
    double focus[4]; /* 0: not measured */
    int mean[4];
    int cover;
  } rows[] = {
    { { 0 }, { 0 }, 0 },
    { { 0.002, 0.1, 0.12, 0.2 }, { 120, 120, 120, 120 }, 1 },      /* the first is blurred */
    { { 0.1, 0.1, 0.1, 0.1 }, { 20, 245, 120, 120 }, 2 },          /* dark, bright */
    { { 0.05, 0.1, 0.4, 0.3 }, { 120, 120, 120, 120 }, 2 },        /* under a third of the best */
    { { 0.2, 0.1, 0.4, 0.3 }, { 120, 120, 120, 120 }, 0 },         /* good enough: the first view */
    { { 0.002, 0.004, 0.008, 0.001 }, { 120, 120, 120, 120 }, 2 }, /* none is good: the best */
  };

  for (int i = 0; i < 5; i++)
    {
      g_autofree char *name = g_strdup_printf ("%d.jpg", i);
      photos[i] = records_photo (&records, name);
    }
  sw_item_assign (records.catalogue, press, photos, 4, FALSE, &error);
  sw_item_assign (records.catalogue, press, photos + 4, 1, TRUE, &error);
  assert_no_error (error);
  put (&records, photos[4], 0.9, 120); /* a wide view is never proposed where there is another */
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (SwItem) item = NULL;

      for (int k = 0; k < 4; k++)
        if (rows[i].focus[k] > 0)
          put (&records, photos[k], rows[i].focus[k], rows[i].mean[k]);
      item = records_get (&records, press);
      assert_i64_equal (item->first_photo, photos[rows[i].cover]);
    }
}

static void
a_person_says_which_is_the_cover (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_item (&records, "Screw press", 1, -1), photos[2];
  g_autoptr (SwItem) chosen = NULL, undone = NULL, proposed = NULL;
  g_autofree char *sentence = NULL;
  g_autoptr (GError) error = NULL;

  photos[0] = records_photo (&records, "a.jpg");
  photos[1] = records_photo (&records, "b.jpg");
  sw_item_assign (records.catalogue, press, photos, 1, FALSE, &error);
  assert_false (sw_item_cover_set (records.catalogue, press, photos[1], &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  sw_item_assign (records.catalogue, press, photos + 1, 1, FALSE, &error);
  sw_item_cover_set (records.catalogue, press, photos[1], &error);
  assert_no_error (error);
  chosen = records_get (&records, press);
  assert_i64_equal (chosen->first_photo, photos[1]);
  sw_undo (records.catalogue, &sentence, &error);
  assert_no_error (error);
  undone = records_get (&records, press);
  assert_i64_equal (undone->first_photo, photos[0]);
  sw_item_cover_set (records.catalogue, press, photos[1], &error);
  sw_item_cover_set (records.catalogue, press, 0, &error);
  assert_no_error (error);
  proposed = records_get (&records, press);
  assert_i64_equal (proposed->first_photo, photos[0]);
}

static int
turn_of (Records *records, gint64 photo)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPhoto) found = sw_photo_get (records->catalogue, photo, &error);

  assert_no_error (error);
  assert_i64_equal (found->orientation, 1);
  return found->turn;
}

static void
a_photo_is_turned_and_turned_back (void **state)
{
  static const int steps[][2] = { { 1, 1 }, { 1, 2 }, { -1, 1 }, { -2, 3 }, { 5, 0 } };
  g_auto (Records) records = records_new ();
  gint64 photo = records_photo (&records, "a.jpg");
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      sw_photo_turn (records.catalogue, photo, steps[i][0], &error);
      assert_no_error (error);
      assert_i64_equal (turn_of (&records, photo), steps[i][1]);
    }
  sw_undo (records.catalogue, &sentence, &error);
  assert_no_error (error);
  assert_i64_equal (turn_of (&records, photo), 3);
  assert_false (sw_photo_turn (records.catalogue, photo + 1, 1, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

/* What was measured is nobody's act: undo does not take it back. */
static void
measures_are_kept_apart_from_acts (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 photo = records_photo (&records, "a.jpg");
  g_autoptr (GArray) list = NULL, old = NULL, new = NULL;
  SwPhotoQuality back = { 0 };
  gboolean found = TRUE;
  g_autoptr (GError) error = NULL;
  g_autofree char *sentence = NULL;

  sw_photo_quality_get (records.catalogue, photo, &back, &found, &error);
  assert_false (found);
  sw_photo_turn (records.catalogue, photo, 1, &error);
  put (&records, photo, 0.002, 20);
  sw_undo (records.catalogue, &sentence, &error);
  assert_no_error (error);
  assert_i64_equal (turn_of (&records, photo), 0);
  sw_photo_quality_get (records.catalogue, photo, &back, &found, &error);
  assert_true (found);
  assert_i64_equal (back.marks, SW_PHOTO_MARK_BLURRED | SW_PHOTO_MARK_DARK);
  assert_true (back.focus == 0.002);
  list = sw_photo_quality_list (records.catalogue, 0, &error);
  old = sw_photo_quality_measured (records.catalogue, 1, &error);
  new = sw_photo_quality_measured (records.catalogue, 2, &error);
  assert_i64_equal (list->len, 1);
  assert_i64_equal (old->len, 1);
  assert_i64_equal (new->len, 0);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (blur_orders),
    cmocka_unit_test (a_shaken_one_is_blurred),
    cmocka_unit_test (contrast_does_not_count_as_focus),
    cmocka_unit_test (exposure),
    cmocka_unit_test (shares),
    cmocka_unit_test (a_finger_is_told_from_a_red_box_and_a_dark_corner),
    cmocka_unit_test (small_and_flat_pictures_are_measured),
    cmocka_unit_test (the_gravest_mark_is_named),
    cmocka_unit_test (the_cover_is_the_first_good_photo),
    cmocka_unit_test (a_person_says_which_is_the_cover),
    cmocka_unit_test (a_photo_is_turned_and_turned_back),
    cmocka_unit_test (measures_are_kept_apart_from_acts),
  };

  return cmocka_run_group_tests (tests, NULL, NULL);
}
