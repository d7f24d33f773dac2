/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos: rows kept whole, equal bytes, paths, property time, order, bring-ins and look-alikes;
 * undo. */
#include "core/catalogue/photo-files.h"
#include "core/catalogue/open-photos.h"
#include "sw-records.h"

static gint64
us_of (const char *moment)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwZone) zone = sw_zone_new ("Etc/UTC", &error);
  SwInstant instant = { 0 };
  sw_moment_parse (moment, zone, &instant, NULL, &error);
  assert_no_error (error);
  return instant.us;
}

static gint64
open_bring_in (Records *records)
{
  g_autoptr (GError) error = NULL;
  gint64 id = 0;
  sw_bring_in_open (records->catalogue, "/media/card", &id, &error);
  assert_no_error (error);
  return id;
}

static void
test_row_is_kept_whole (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-04-03", "2026-04-06");
  g_autoptr (GError) error = NULL;
  gint64 camera = 0;
  assert_true (sw_camera_ensure (records.catalogue, "Kestrel", "C1", "0042", &camera, &error));
  const guint8 looks[] = { 0, 1, 2, 0, 255 };
  g_autoptr (GBytes) likeness = g_bytes_new (looks, sizeof looks);
  SwPhoto photo = {
    .kind = (char *)"photo",
    .format = (char *)"heic",
    .file = (char *)"DCIM/\xC3\x84pfel 1.heic",
    .stored = (char *)"photos/trip-01/x-00000001.heic",
    .size = G_GINT64_CONSTANT (5000000000),
    .hash = (char *)"00112233445566778899aabbccddeeff",
    .trip = trip,
    .camera = camera,
    .bring_in = open_bring_in (&records),
    .has_clock = TRUE,
    .clock_us = us_of ("2026-04-04T10:00:00.25"),
    .has_offset = TRUE,
    .zone_offset_s = -12600,
    .time_source = (char *)"original",
    .has_position = TRUE,
    .latitude = -41.5,
    .longitude = 173.25,
    .position_error_m = 8.5,
    .has_gps_time = TRUE,
    .gps_us = us_of ("2026-04-03T22:00:00"),
    .orientation = 6,
    .width = 4000,
    .height = 3000,
    .remark = (char *)"bad thumbnail",
    .likeness = likeness,
    .sharpness = 0.5,
  };
  assert_true (sw_photo_add (records.catalogue, &photo, &error));
  assert_i64_equal (photo.id, 1);
  records_reopen (&records);
  g_autoptr (SwPhoto) back = sw_photo_get (records.catalogue, 1, &error);
  assert_no_error (error);
  assert_string_equal (back->format, photo.format);
  assert_string_equal (back->file, photo.file);
  assert_string_equal (back->stored, photo.stored);
  assert_i64_equal (back->size, photo.size);
  assert_i64_equal (back->trip, trip);
  assert_string_equal (back->camera_label, "Kestrel C1");
  assert_i64_equal (back->bring_in, photo.bring_in);
  assert_true (back->has_clock && back->has_offset && back->has_position && back->has_gps_time);
  assert_i64_equal (back->clock_us, photo.clock_us);
  assert_i64_equal (back->zone_offset_s, -12600);
  assert_true (back->latitude == -41.5 && back->longitude == 173.25
               && back->position_error_m == 8.5);
  assert_i64_equal (back->gps_us, photo.gps_us);
  assert_i64_equal (back->orientation, 6);
  assert_i64_equal (back->width, 4000);
  assert_i64_equal (back->height, 3000);
  assert_string_equal (back->remark, "bad thumbnail");
  assert_true (g_bytes_equal (back->likeness, likeness));
  assert_true (back->sharpness == 0.5);
  assert_false (back->aside);
}

static void
test_bare_row (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 id = records_photo (&records, "bare.jpg");
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPhoto) photo = sw_photo_get (records.catalogue, id, &error);
  assert_false (photo->has_clock || photo->has_offset || photo->has_position
                || photo->has_gps_time);
  assert_null (photo->likeness);
  assert_null (photo->camera_label);
  assert_i64_equal (photo->width, 0);
  SwInstant instant = { 0 };
  g_autoptr (GArray) clocks = sw_camera_clock_list (records.catalogue, &error);
  assert_false (sw_photo_property_time (records.catalogue, clocks, photo, &instant, NULL));
  assert_null (sw_photo_get (records.catalogue, 9, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

static void
test_equal_bytes_are_refused (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 id = records_photo (&records, "one.jpg");
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPhoto) photo = sw_photo_get (records.catalogue, id, &error);
  g_free (photo->stored);
  photo->stored = g_strdup ("photos/trip-00/other.jpg");
  assert_false (sw_photo_add (records.catalogue, photo, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, "'one.jpg'");
  g_clear_error (&error);
  /* even one that is set aside */
  records_put_aside (&records, id);
  assert_false (sw_photo_add (records.catalogue, photo, &error));
  g_clear_error (&error);
  g_autoptr (SwPhoto) met = sw_photo_by_hash (records.catalogue, photo->hash, &error);
  assert_i64_equal (met->id, id);
  g_autoptr (SwPhoto) none = sw_photo_by_hash (records.catalogue, "ff", &error);
  assert_null (none);
  assert_no_error (error);
}

static void
test_first_path_in_byte_order (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 id = records_photo (&records, "b/1.jpg");
  static const struct
  {
    const char *path, *names;
  } steps[] = {
    { "c/1.jpg", "b/1.jpg" },      { "a/1.jpg", "a/1.jpg" },
    { "a/1.jpg", "a/1.jpg" },      { "B/1.jpg", "B/1.jpg" }, /* capitals come first in bytes */
    { "\xC3\xA4.jpg", "B/1.jpg" },
  };
  g_autoptr (GError) error = NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      assert_true (sw_photo_add_path (records.catalogue, id, steps[i].path, &error));
      g_autoptr (SwPhoto) photo = sw_photo_get (records.catalogue, id, &error);
      assert_string_equal (photo->file, steps[i].names);
    }
  assert_false (sw_photo_add_path (records.catalogue, id, "bad \xFF.jpg", &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

/* --- time --- */

typedef struct
{
  const char *label, *clock;
  gboolean has_offset;
  int offset_s;
  double shift_s; /* 0 and nobody: no shift known */
  int set;        /* 0 none, 1 found by the machine, 2 set by a person */
  const char *property;
  SwCivilKind kind;
} TimeRow;

/* Pacific/Auckland: daylight time ends 2026-04-05 at 03:00 NZDT (+13), begins 2026-09-27 at 02:00
 * NZST (+12). Checked with zdump -v Pacific/Auckland (IANA time zone database). */
static const TimeRow time_rows[] = {
  { "zone in summer", "2026-01-10T10:00:00", FALSE, 0, 0, 0, "2026-01-09T21:00:00Z",
    SW_CIVIL_PLAIN },
  { "zone in winter", "2026-06-10T10:00:00", FALSE, 0, 0, 0, "2026-06-09T22:00:00Z",
    SW_CIVIL_PLAIN },
  { "fold: the first", "2026-04-05T02:30:00", FALSE, 0, 0, 0, "2026-04-04T13:30:00Z",
    SW_CIVIL_FOLD },
  { "gap: moved on", "2026-09-27T02:30:00", FALSE, 0, 0, 0, "2026-09-26T14:30:00Z", SW_CIVIL_GAP },
  { "fraction", "2026-06-10T10:00:00.25", FALSE, 0, 0, 0, "2026-06-09T22:00:00.25Z",
    SW_CIVIL_PLAIN },
  { "offset counts", "2026-06-10T10:00:00", TRUE, 3600, 0, 0, "2026-06-10T09:00:00Z",
    SW_CIVIL_PLAIN },
  { "offset in the fold is plain", "2026-04-05T02:30:00", TRUE, 43200, 0, 0, "2026-04-04T14:30:00Z",
    SW_CIVIL_PLAIN },
  { "found shift", "2026-06-10T10:00:00", FALSE, 0, -3600, 1, "2026-06-09T21:00:00Z",
    SW_CIVIL_PLAIN },
  { "found shift with offset", "2026-06-10T10:00:00", TRUE, 3600, -60, 1, "2026-06-10T08:59:00Z",
    SW_CIVIL_PLAIN },
  { "a person's shift beats the offset", "2026-06-10T10:00:00", TRUE, 3600, 60, 2,
    "2026-06-09T22:01:00Z", SW_CIVIL_PLAIN },
  { "a person's zero beats it too", "2026-06-10T10:00:00", TRUE, 3600, 0, 2, "2026-06-09T22:00:00Z",
    SW_CIVIL_PLAIN },
  { "shifted over the end of daylight time", "2026-04-05T01:59:00", FALSE, 0, 7200, 2,
    "2026-04-04T15:59:00Z", SW_CIVIL_PLAIN },
  { "half a second", "2026-06-10T10:00:00", FALSE, 0, 0.5, 1, "2026-06-09T22:00:00.5Z",
    SW_CIVIL_PLAIN },
};

/* A photo by 'camera' on 'trip' whose clock said 'clock'. */
static gint64
timed_photo (Records *records, const char *name, gint64 camera, gint64 trip, const TimeRow *row)
{
  g_autoptr (GError) error = NULL;
  SwPhoto photo = { .kind = (char *)"photo",
                    .format = (char *)"jpeg",
                    .file = (char *)name,
                    .stored = (char *)name,
                    .hash = (char *)name,
                    .trip = trip,
                    .camera = camera,
                    .bring_in = open_bring_in (records),
                    .has_clock = TRUE,
                    .clock_us = us_of (row->clock),
                    .has_offset = row->has_offset,
                    .zone_offset_s = row->offset_s,
                    .time_source = (char *)"original" };
  sw_photo_add (records->catalogue, &photo, &error);
  assert_no_error (error);
  return photo.id;
}

static void
test_time (void **state)
{
  const TimeRow *row = *state;
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-01-01", "2026-12-31");
  g_autoptr (GError) error = NULL;
  gint64 camera = 0;
  assert_true (sw_camera_ensure (records.catalogue, "Kestrel", "C1", NULL, &camera, &error));
  gint64 id = timed_photo (&records, "a", camera, trip, row);
  if (row->set != 0)
    {
      SwCameraClock clock = { camera, trip, row->shift_s, 0, 1, row->set == 2 };
      assert_true (sw_camera_clock_put (records.catalogue, &clock, &error));
    }
  g_autoptr (SwPhoto) photo = sw_photo_get (records.catalogue, id, &error);
  SwInstant instant = { 0 };
  SwCivilKind kind = SW_CIVIL_GAP;
  g_autoptr (GArray) clocks = sw_camera_clock_list (records.catalogue, &error);
  assert_true (sw_photo_property_time (records.catalogue, clocks, photo, &instant, &kind));
  assert_i64_equal (instant.us, us_of (row->property));
  assert_i64_equal (kind, row->kind);
}

static void
test_list_by_property_time (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-06-01", "2026-06-30");
  g_autoptr (GError) error = NULL;
  gint64 phone = 0, spare = 0;
  assert_true (sw_camera_ensure (records.catalogue, "Kestrel", "C1", NULL, &phone, &error));
  assert_true (sw_camera_ensure (records.catalogue, "Plover", "P2", NULL, &spare, &error));
  const TimeRow ten = { .clock = "2026-06-10T10:00:00" }, nine = { .clock = "2026-06-10T09:30:00" };
  gint64 one = timed_photo (&records, "one", phone, trip, &ten);
  gint64 two = timed_photo (&records, "two", spare, trip, &nine);
  gint64 three = records_photo (&records, "no-time.jpg");
  gint64 four = timed_photo (&records, "four", phone, trip, &ten);
  const SwCameraClock late = { spare, trip, 3600, 0, 2, FALSE };
  assert_true (sw_camera_clock_put (records.catalogue, &late, &error));
  records_put_aside (&records, four);
  g_autoptr (GPtrArray) all = sw_photo_list (records.catalogue, 0, TRUE, &error);
  assert_i64_equal (all->len, 4);
  const gint64 expected[] = { one, four, two, three };
  for (guint i = 0; i < all->len; i++)
    assert_i64_equal (((const SwPhoto *)g_ptr_array_index (all, i))->id, expected[i]);
  g_autoptr (GPtrArray) shown = sw_photo_list (records.catalogue, trip, FALSE, &error);
  assert_i64_equal (shown->len, 2);
  g_autoptr (GPtrArray) without = sw_photo_list (records.catalogue, -1, FALSE, &error);
  assert_i64_equal (without->len, 1);
}

/* --- changes --- */

static void
test_changes_and_undo (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-06-01", "2026-06-30");
  gint64 one = records_photo (&records, "one.jpg"), raw = records_photo (&records, "one.raw");
  g_autoptr (GError) error = NULL;
  assert_true (sw_photo_set_trip (records.catalogue, one, trip, &error));
  assert_true (sw_photo_set_companion (records.catalogue, raw, one, &error));
  assert_false (sw_photo_set_companion (records.catalogue, one, one, &error));
  g_clear_error (&error);
  assert_false (sw_photo_set_trip (records.catalogue, one, 9, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  /* so already: no act */
  assert_true (sw_photo_set_trip (records.catalogue, one, trip, &error));
  records_reopen (&records);
  const char *const sentences[] = { "2 goes with photo 1", "Photo 1 to trip 1" };
  for (gsize i = 0; i < G_N_ELEMENTS (sentences); i++)
    {
      g_autofree char *undone = NULL;
      assert_true (sw_undo (records.catalogue, &undone, &error));
      assert_string_equal (undone, sentences[i]);
    }
  g_autoptr (SwPhoto) back = sw_photo_get (records.catalogue, one, &error);
  assert_i64_equal (back->trip, 0);
  records_reopen (&records);
  for (gsize i = 0; i < G_N_ELEMENTS (sentences); i++)
    assert_true (sw_redo (records.catalogue, NULL, &error));
  g_autoptr (SwPhoto) again = sw_photo_get (records.catalogue, one, &error);
  assert_i64_equal (again->trip, trip);
}

static void
test_likeness_is_no_act (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 id = records_photo (&records, "one.jpg");
  g_autofree char *before = sw_undo_sentence (records.catalogue);
  g_autoptr (GBytes) likeness = g_bytes_new_static ("abc", 3);
  g_autoptr (GError) error = NULL;
  assert_true (sw_photo_set_likeness (records.catalogue, id, likeness, 2.5, 640, 480, &error));
  g_autofree char *after = sw_undo_sentence (records.catalogue);
  assert_string_equal (before, after);
  records_reopen (&records);
  g_autoptr (SwPhoto) photo = sw_photo_get (records.catalogue, id, &error);
  assert_true (g_bytes_equal (photo->likeness, likeness));
  assert_i64_equal (photo->width, 640);
}

static void
test_bring_in (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  gboolean open = TRUE;
  assert_true (sw_bring_in_any_open (records.catalogue, &open, &error));
  assert_false (open);
  gint64 one = open_bring_in (&records), two = open_bring_in (&records);
  records_reopen (&records);
  assert_true (sw_bring_in_close (records.catalogue, one, &error));
  assert_true (sw_bring_in_close (records.catalogue, one, &error));
  assert_true (sw_bring_in_any_open (records.catalogue, &open, &error));
  assert_true (open);
  assert_true (sw_bring_in_close (records.catalogue, two, &error));
  assert_true (sw_bring_in_any_open (records.catalogue, &open, &error));
  assert_false (open);
  assert_false (sw_bring_in_close (records.catalogue, 99, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

static void
check_look_alikes (Records *records, gint64 photo, const char *expected)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) files = sw_look_alike_files (records->catalogue, photo, &error);
  assert_non_null (files);
  g_ptr_array_add (files, NULL);
  g_autofree char *found = g_strjoinv (" ", (char **)files->pdata);
  assert_string_equal (found, expected);
}

static void
test_look_alikes (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 one = records_photo (&records, "1.jpg"), two = records_photo (&records, "2.jpg");
  g_autoptr (GError) error = NULL;
  assert_true (sw_look_alike_add (records.catalogue, two, one, &error));
  assert_true (sw_look_alike_add (records.catalogue, one, two, &error));
  assert_i64_equal (sw_test_ask (records.catalogue, "SELECT count (*) FROM look_alike"), 1);
  assert_i64_equal (sw_test_ask (records.catalogue, "SELECT a FROM look_alike"), one);
  assert_i64_equal (sw_test_ask (records.catalogue, "SELECT b FROM look_alike"), two);
  gint64 three = records_photo (&records, "3.jpg");
  assert_true (sw_look_alike_add (records.catalogue, three, two, &error));
  check_look_alikes (&records, one, "2.jpg");
  check_look_alikes (&records, two, "1.jpg 3.jpg");
  check_look_alikes (&records, three, "2.jpg");
  sw_test_exec (records.catalogue, "UPDATE photo SET aside = 1 WHERE file = '1.jpg'");
  check_look_alikes (&records, two, "3.jpg");
  assert_false (sw_look_alike_add (records.catalogue, one, one, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
  g_clear_error (&error);
  assert_false (sw_look_alike_add (records.catalogue, one, 99, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

static void
test_what_all_photos_show (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 press = records_item (&records, "Screw press", 1, -1);
  gint64 crates = records_item (&records, "Crates", 1, -1);
  gint64 photos[] = { records_photo (&records, "1.jpg"), records_photo (&records, "2.jpg") };
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_assign (records.catalogue, crates, photos, 1, FALSE, &error));
  assert_true (sw_item_assign (records.catalogue, press, photos, 1, TRUE, &error));
  assert_true (sw_item_assign (records.catalogue, 0, photos + 1, 1, FALSE, &error));
  g_autoptr (GArray) shown = sw_photo_shows_list (records.catalogue, &error);
  assert_i64_equal (shown->len, 3);
  const SwPhotoShows *rows = &g_array_index (shown, SwPhotoShows, 0);
  assert_true (rows[0].item == crates && !rows[0].also);
  assert_true (rows[1].item == press && rows[1].also);
  assert_true (rows[2].photo == photos[1] && rows[2].item == 0);
}

/* Open ones of the trip, the nearest in time to a photo of the item first; what a person decided,
 * what was set aside and what belongs to no trip are not among them. */
static void
test_open_photos_near (void **state)
{
  g_auto (Records) records = records_new ();
  gint64 trip = records_trip (&records, "2026-06-01", "2026-06-30");
  SwItemNew vat = {
    .name = "Vat", .place = records_place (&records, "Press house"), .trip = trip, .count = 1
  };
  g_autoptr (GError) error = NULL;
  gint64 phone = 0, press = 0;
  assert_true (sw_item_add (records.catalogue, &vat, &press, &error));
  assert_true (sw_camera_ensure (records.catalogue, "Kestrel", "C1", NULL, &phone, &error));
  static const TimeRow at[]
      = { { .clock = "2026-06-10T10:00:00" }, { .clock = "2026-06-10T10:20:00" },
          { .clock = "2026-06-10T10:05:00" }, { .clock = "2026-06-10T09:58:00" },
          { .clock = "2026-06-10T10:01:00" }, { .clock = "2026-06-10T10:00:30" } };
  gint64 photos[G_N_ELEMENTS (at)];
  for (gsize i = 0; i < G_N_ELEMENTS (at); i++)
    {
      g_autofree char *file = g_strdup_printf ("%d", (int)i);
      photos[i] = timed_photo (&records, file, phone, trip, &at[i]);
    }
  records_photo (&records, "no-trip.jpg");
  assert_true (sw_item_assign (records.catalogue, press, photos, 2, FALSE, &error));
  assert_true (sw_item_assign (records.catalogue, 0, photos + 4, 1, FALSE, &error));
  records_put_aside (&records, photos[5]);
  g_autoptr (GPtrArray) open = sw_open_photos_near (records.catalogue, press, 10, &error);
  assert_no_error (error);
  assert_i64_equal (open->len, 2);
  assert_i64_equal (((const SwPhoto *)g_ptr_array_index (open, 0))->id, photos[3]);
  assert_i64_equal (((const SwPhoto *)g_ptr_array_index (open, 1))->id, photos[2]);
  g_autoptr (GPtrArray) nearest = sw_open_photos_near (records.catalogue, press, 1, &error);
  assert_i64_equal (nearest->len, 1);
  /* without photos of its own: in the order taken */
  assert_true (sw_item_unassign (records.catalogue, photos, 2, &error));
  g_autoptr (GPtrArray) all = sw_open_photos_near (records.catalogue, press, 10, &error);
  assert_i64_equal (all->len, 4);
  assert_i64_equal (((const SwPhoto *)g_ptr_array_index (all, 0))->id, photos[3]);
  assert_i64_equal (((const SwPhoto *)g_ptr_array_index (all, 3))->id, photos[1]);
  assert_null (sw_open_photos_near (records.catalogue, 99, 10, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

static void
note_file (const SwPhotoFile *file, gpointer data)
{
  g_string_append_printf (data, "%d of %d %d+%d %s%s%s, ", (int)file->photo, (int)file->trip,
                          file->orientation, file->turn, file->aside ? "aside " : "",
                          file->is_photo ? "photo" : "other", file->has_likeness ? " known" : "");
  assert_true (g_str_has_prefix (file->stored, "photos/") && strlen (file->hash) == 32);
}

/* By number; of one trip, or all with those put aside. */
static void
test_where_the_pixels_are (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) all = g_string_new (NULL), one = g_string_new (NULL);
  records_trip (&records, "2026-04-03", "2026-04-06");
  for (int k = 0; k < 4; k++)
    {
      g_autofree char *name = g_strdup_printf ("P%d.jpg", k);
      records_photo (&records, name);
    }
  sw_test_exec (records.catalogue, "UPDATE photo SET trip = 1 WHERE id IN (2, 4)");
  sw_test_exec (records.catalogue, "UPDATE photo SET kind = 'clip' WHERE id = 3");
  sw_test_exec (records.catalogue, "UPDATE photo SET orientation = 6, turn = 1 WHERE id = 4");
  records_put_aside (&records, 1);
  assert_true (sw_photo_files_each (records.catalogue, 0, note_file, all, &error));
  assert_string_equal (all->str, "1 of 0 1+0 aside photo, 2 of 1 1+0 photo, 3 of 0 1+0 other, "
                                 "4 of 1 6+1 photo, ");
  assert_true (sw_photo_files_each (records.catalogue, 1, note_file, one, &error));
  assert_string_equal (one->str, "2 of 1 1+0 photo, 4 of 1 6+1 photo, ");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_row_is_kept_whole);
  SW_TEST (tests, test_bare_row);
  SW_TEST (tests, test_equal_bytes_are_refused);
  SW_TEST (tests, test_first_path_in_byte_order);
  SW_TEST_ROWS (tests, test_time, time_rows);
  SW_TEST (tests, test_list_by_property_time);
  SW_TEST (tests, test_changes_and_undo);
  SW_TEST (tests, test_likeness_is_no_act);
  SW_TEST (tests, test_bring_in);
  SW_TEST (tests, test_look_alikes);
  SW_TEST (tests, test_what_all_photos_show);
  SW_TEST (tests, test_open_photos_near);
  SW_TEST (tests, test_where_the_pixels_are);
  return sw_tests_run (tests, "photos");
}
