/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order of a trip's photos under a change of one camera's clock; shifts and times as typed. */
#include "sw-test-catalogue.h"

#include "core/catalogue/photos.h"
#include "core/catalogue/trips.h"
#include "core/match/clock-order.h"
#include "core/match/clock-words.h"

#include <math.h>

#define S SW_US_PER_SECOND

/* ---- as typed ---- */

typedef struct
{
  const char *label;
  double shift_s;   /* NAN: no shift */
  const char *back; /* as it is written again */
} ShiftRow;
static const ShiftRow shift_rows[] = {
  { "+1:00:00", 3600, "+1:00:00" },
  { "-0:00:40", -40, "-0:00:40" },
  { "\u22120:00:40", -40, "-0:00:40" },
  { "40", 40, "+0:00:40" },
  { "-3600", -3600, "-1:00:00" },
  { "0", 0, "+0:00:00" },
  { "-0", 0, "+0:00:00" },
  { "30:00:01", 108001, "+30:00:01" },
  { "1:60:00", NAN, NULL },
  { "1:00:60", NAN, NULL },
  { "1:00", NAN, NULL },
  { "--1:00:00", NAN, NULL },
  { "+ 1:00:00", NAN, NULL },
  { "1:-1:00", NAN, NULL },
  { "9999999:00:00", NAN, NULL },
  { "99999999999999999999", NAN, NULL },
  { "an hour", NAN, NULL },
  { "", NAN, NULL },
  { "+", NAN, NULL },
};

static void
test_shift (void **state)
{
  const ShiftRow *row = *state;
  double shift = 12345;
  gboolean valid = sw_clock_shift_parse (row->label, &shift);

  assert_int_equal (valid, !isnan (row->shift_s));
  if (!valid)
    {
      assert_true (shift == 12345); /* untouched */
      return;
    }
  assert_true (shift == row->shift_s);
  g_autofree char *back = sw_clock_shift_text (shift);
  assert_string_equal (back, row->back);
}

/* ---- a trip of two cameras ---- */

static gint64
add_photo (SwCatalogue *catalogue, gint64 camera, const char *file, const char *clock)
{
  g_autofree char *hash = g_compute_checksum_for_string (G_CHECKSUM_MD5, file, -1);
  g_autofree char *stored = g_strdup_printf ("photos/%s.jpg", file);
  g_autoptr (SwPhoto) photo = g_new0 (SwPhoto, 1);
  g_autoptr (SwZone) utc = sw_zone_new ("UTC", NULL);
  g_autoptr (GError) error = NULL;
  SwInstant at;

  assert_true (sw_moment_parse (clock, utc, &at, NULL, NULL));
  photo->kind = g_strdup ("photo");
  photo->format = g_strdup ("jpeg");
  photo->file = g_strdup (file);
  photo->stored = g_strdup (stored);
  photo->size = 1;
  photo->hash = g_strdup (hash);
  assert_true (sw_bring_in_open (catalogue, "/media/card", &photo->bring_in, NULL));
  assert_true (sw_bring_in_close (catalogue, photo->bring_in, NULL));
  photo->trip = 1;
  photo->camera = camera;
  photo->has_clock = TRUE;
  photo->clock_us = at.us;
  photo->time_source = g_strdup ("original");
  photo->orientation = 1;
  sw_photo_add (catalogue, photo, &error);
  assert_no_error (error);
  return photo->id;
}

typedef struct
{
  SwCatalogue *catalogue;
  gint64 a, b; /* cameras */
  gint64 first_a, first_b, third_b;
} Trip;

/* Camera A at 10:00, 10:10, 10:20 and 10:30; B five minutes after each, an hour behind. */
static Trip
make_trip (SwCatalogue *catalogue)
{
  Trip trip = { catalogue };
  gint64 number = 0;

  assert_true (sw_trip_add (catalogue, "Autumn", sw_day_from_ymd (2026, 4, 3),
                            sw_day_from_ymd (2026, 4, 5), &number, NULL));
  assert_true (sw_camera_ensure (catalogue, "Orrery", "K2", "", &trip.a, NULL));
  assert_true (sw_camera_ensure (catalogue, "Orrery", "K7", "", &trip.b, NULL));
  trip.first_a = add_photo (catalogue, trip.a, "A1", "2026-04-04T10:00:00");
  add_photo (catalogue, trip.a, "A2", "2026-04-04T10:10:00");
  add_photo (catalogue, trip.a, "A3", "2026-04-04T10:20:00");
  add_photo (catalogue, trip.a, "A4", "2026-04-04T10:30:00");
  trip.first_b = add_photo (catalogue, trip.b, "B1", "2026-04-04T09:05:00");
  add_photo (catalogue, trip.b, "B2", "2026-04-04T09:15:00");
  trip.third_b = add_photo (catalogue, trip.b, "B3", "2026-04-04T09:25:00");
  add_photo (catalogue, trip.b, "B4", "2026-04-04T09:35:00");
  return trip;
}

static SwClockOrder *
read_order (const Trip *trip)
{
  g_autoptr (GError) error = NULL;
  SwClockOrder *order = sw_clock_order_read (trip->catalogue, 1, &error);

  assert_null (error);
  assert_int_equal (order->cameras->len, 2);
  assert_int_equal (order->photos->len, 8);
  return order;
}

static const char *
file_at (const SwClockOrder *order, int index)
{
  return index < 0 ? ""
                   : ((const SwOrderPhoto *)g_ptr_array_index (order->photos, (guint)index))->file;
}

static void
test_a_whole_change (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  Trip trip = make_trip (bed.catalogue);
  g_autoptr (SwClockOrder) order = read_order (&trip);
  guint b1 = (guint)sw_clock_order_find (order, trip.first_b);
  SwClockChange change = { .camera = 1, .from = -1, .shift_s = 3600 };
  SwOrderPlace now = sw_clock_order_place (order, b1, NULL);
  SwOrderPlace then = sw_clock_order_place (order, b1, &change);
  SwOrderEffect effect = sw_clock_order_effect (order, &change);

  assert_string_equal (file_at (order, now.before[0]), "");
  assert_string_equal (file_at (order, now.after[0]), "B2");
  assert_string_equal (file_at (order, then.before[0]), "A1");
  assert_string_equal (file_at (order, then.before[1]), "");
  assert_string_equal (file_at (order, then.after[0]), "A2");
  assert_string_equal (file_at (order, then.after[1]), "B2");
  assert_string_equal (file_at (order, then.after[2]), "A3");
  assert_i64_equal (then.t_us - now.t_us, 3600 * S);
  assert_int_equal (effect.n_changed, 4);
  assert_int_equal (effect.n_passing, 4);
  assert_int_equal (effect.n_outside, 0);
  /* a day and a half on: the fifth is the trip's last day */
  change.shift_s = 2 * 86400;
  assert_int_equal (sw_clock_order_effect (order, &change).n_outside, 4);
  /* less than to the next photo: times change, the order does not */
  change.shift_s = 60;
  effect = sw_clock_order_effect (order, &change);
  assert_int_equal (effect.n_changed, 4);
  assert_int_equal (effect.n_passing, 0);
}

static void
test_from_a_photo_on_to_where_it_changes_next (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  Trip trip = make_trip (bed.catalogue);
  g_autoptr (SwClockOrder) order = read_order (&trip);
  double shift = 3600;
  SwClockChange change = { .camera = 1, .shift_s = 3600 };

  change.from = sw_clock_order_find (order, trip.third_b);
  assert_int_equal (sw_clock_order_effect (order, &change).n_changed, 2);
  /* from the first photo on is all of them */
  change.from = sw_clock_order_find (order, trip.first_b);
  assert_int_equal (sw_clock_order_effect (order, &change).n_changed, 4);
  /* set so from the third on, a change of the second reaches no further */
  assert_true (sw_camera_clock_set_from (trip.catalogue, trip.b, 1, trip.third_b, &shift, NULL));
  g_autoptr (SwClockOrder) again = read_order (&trip);
  const SwOrderCamera *camera = g_ptr_array_index (again->cameras, 1);
  assert_int_equal (camera->clock.parts->len, 1);
  assert_true (g_array_index (camera->clock.parts, SwPairingClockPart, 0).set_by_person);
  change = (SwClockChange){ .camera = 1, .shift_s = -60 };
  change.from = (int)g_array_index (camera->photos, guint, 1);
  assert_int_equal (sw_clock_order_effect (again, &change).n_changed, 1);
  assert_true (sw_clock_order_shift (again, (guint)sw_clock_order_find (again, trip.third_b))
               == 3600);
}

/* What the preview says is what setting it then gives. */
static void
test_the_preview_comes_true (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  Trip trip = make_trip (bed.catalogue);
  g_autoptr (SwClockOrder) order = read_order (&trip);
  guint b3 = (guint)sw_clock_order_find (order, trip.third_b);
  SwClockChange change = { .camera = 1, .from = -1, .shift_s = 3599 };
  SwOrderPlace then = sw_clock_order_place (order, b3, &change);

  assert_true (sw_clock_set (trip.catalogue, "Orrery K7", 1, 0, &change.shift_s, NULL));
  g_autoptr (SwClockOrder) after = read_order (&trip);
  SwOrderPlace real
      = sw_clock_order_place (after, (guint)sw_clock_order_find (after, trip.third_b), NULL);
  assert_i64_equal (real.t_us, then.t_us);
  for (int k = 0; k < SW_ORDER_NEAR; k++)
    {
      assert_string_equal (file_at (after, real.before[k]), file_at (order, then.before[k]));
      assert_string_equal (file_at (after, real.after[k]), file_at (order, then.after[k]));
    }
}

typedef struct
{
  const char *label;
  double shift_s; /* NAN: no time */
} SeenRow;
/* B1 wrote 09:05:00. */
static const SeenRow seen_rows[] = {
  { "10:05:00", 3600 },
  { "09:04:20", -40 },
  { "10:05", 3630 },      /* the middle of the minute */
  { "23:05:00", -36000 }, /* nearer by the day before */
  { "2026-04-05T09:05:00", 86400 },
  { "24:00", NAN },
  { "10.05", NAN },
  { "2026-02-30T10:00", NAN },
  { "", NAN },
};

static void
test_seen (void **state)
{
  const SeenRow *row = *state;
  double shift = 12345;
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  Trip trip = make_trip (bed.catalogue);
  g_autoptr (SwClockOrder) order = read_order (&trip);
  g_autoptr (GError) error = NULL;
  gboolean valid = sw_clock_order_seen (order, (guint)sw_clock_order_find (order, trip.first_b),
                                        row->label, &shift, &error);

  assert_int_equal (valid, !isnan (row->shift_s));
  if (valid)
    assert_true (shift == row->shift_s);
  else
    assert_int_equal (error->code, SW_ERROR_BAD_INPUT);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, test_shift, shift_rows);
  SW_TEST_ROWS (tests, test_seen, seen_rows);
  SW_TEST (tests, test_a_whole_change);
  SW_TEST (tests, test_from_a_photo_on_to_where_it_changes_next);
  SW_TEST (tests, test_the_preview_comes_true);
  return sw_tests_run (tests, "clock-order");
}
