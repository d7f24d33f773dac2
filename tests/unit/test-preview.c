/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The look before a bring-in: counts, days and trips, cameras, what is here, what is double, room;
 * and that it agrees with the bring-in that follows. */
#include "sw-test-card.h"

#include <sys/statvfs.h>

#include "core/catalogue/act.h"
#include "core/intake/decode-helper.h"
#include "core/intake/preview.h"

static int
setup (void **state)
{
  *state = sw_test_card_new ();
  return 0;
}

static int
teardown (void **state)
{
  sw_test_card_free (*state);
  return 0;
}

static SwPreview *
try_look (Bed *b, GCancellable *cancellable, GError **error)
{
  const char *folders[] = { b->card, NULL };
  g_autoptr (SwPreviewBase) base = sw_preview_base_read (b->bed.catalogue, error);

  assert_non_null (base);
  return sw_preview_run (base, folders, NULL, NULL, cancellable, error);
}

static SwPreview *
look (Bed *b)
{
  g_autoptr (GError) error = NULL;
  SwPreview *preview = try_look (b, NULL, &error);

  assert_no_error (error);
  assert_non_null (preview);
  return preview;
}

static void
bring_in (Bed *b)
{
  const char *folders[] = { b->card, NULL };
  g_autoptr (GError) error = NULL;
  gboolean good;

  sw_bring_in_report_free (b->report);
  b->report = sw_bring_in_report_new ();
  good = sw_bring_in_run (b->bed.catalogue, folders, NULL, NULL, NULL, b->report, &error);
  assert_no_error (error);
  assert_true (good);
}

static void
check (const SwPreview *p, int photos, int there, int twice, int to_take)
{
  assert_i64_equal (p->photos, photos);
  assert_i64_equal (p->there, there);
  assert_i64_equal (p->twice, twice);
  assert_i64_equal (p->to_take, to_take);
}

/* A photo by a camera of its own. */
static void
photo_by (Bed *b, const char *name, const char *time, const char *make, const char *model)
{
  ExifFields f = { .orientation = 1, .make = make, .model = model, .original = time };
  g_autoptr (GByteArray) file = photo_file_write (FORM_JPEG, &f);

  put (b, name, file->data, file->len);
}

static void
a_card (void **state)
{
  Bed *b = *state;
  g_autoptr (SwPreview) p = NULL;
  const SwPreviewDay *day;

  photo (b, "DCIM/a.jpg", "2026:04:03 10:00:00", 1);
  photo (b, "DCIM/b.jpg", "2026:04:04 10:00:00", 2);
  photo (b, "DCIM/c.jpg", "2026:04:04 11:00:00", 3);
  photo_by (b, "DCIM/d.jpg", "2026:06:10 11:00:00", "Orrery", "Orrery K2");
  put (b, "DCIM/e.mov",
       "\0\0\0\x14"
       "ftypqt  \0\0\0\0qt  moving",
       26);
  put (b, "DCIM/f.m4a",
       "\0\0\0\x18"
       "ftypM4A \0\0\0\0M4A mp42",
       24);
  put (b, "index.txt", "shots", 5);
  put (b, "DCIM/g.jpg", "", 0);
  p = look (b);
  check (p, 4, 0, 0, 6);
  assert_i64_equal (p->clips, 1);
  assert_i64_equal (p->memos, 1);
  assert_i64_equal (p->raws, 0);
  assert_i64_equal (p->others, 1);
  assert_i64_equal (p->refused->len, 1);
  assert_string_equal (((SwBringInRemark *)p->refused->pdata[0])->file, "DCIM/g.jpg");
  assert_true (p->is_exact);
  assert_i64_equal (p->days->len, 3);
  day = &g_array_index (p->days, SwPreviewDay, 1);
  assert_i64_equal (day->day.n, sw_day_from_ymd (2026, 4, 4).n);
  assert_i64_equal (day->photos, 2);
  assert_i64_equal (p->cameras->len, 2);
  assert_string_equal (((SwPreviewCamera *)p->cameras->pdata[0])->label, "Kettle & Lamp KL-7");
  assert_i64_equal (((SwPreviewCamera *)p->cameras->pdata[0])->photos, 3);
  assert_string_equal (((SwPreviewCamera *)p->cameras->pdata[1])->label, "Orrery K2");
}

/* Every name below a folder with its size and time, so that nothing can have been written. */
static void
list_tree (const char *path, GString *out)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;
  GStatBuf is;

  assert_int_equal (g_stat (path, &is), 0);
  g_string_append_printf (out, "%s %ld %ld.%09ld\n", path, (long)is.st_size,
                          (long)is.st_mtim.tv_sec, is.st_mtim.tv_nsec);
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);

      list_tree (inner, out);
    }
}

static void
nothing_is_written (void **state)
{
  Bed *b = *state;
  g_autoptr (GString) before = g_string_new (NULL), after = g_string_new (NULL);

  photo (b, "a.jpg", "2026:04:03 10:00:00", 1);
  bring_in (b);
  photo (b, "b.jpg", "2026:04:03 10:00:01", 2);
  list_tree (b->bed.folder, before);
  sw_preview_free (look (b));
  list_tree (b->bed.folder, after);
  assert_string_equal (before->str, after->str);
}

/* What it says comes about. */
static void
the_bring_in_agrees (void **state)
{
  Bed *b = *state;
  g_autoptr (SwPreview) first = NULL, again = NULL, undone = NULL;

  photo (b, "a.jpg", "2026:04:03 10:00:00", 1);
  photo (b, "b.jpg", "2026:04:03 10:00:01", 2);
  photo (b, "sent/a again.jpg", "2026:04:03 10:00:00", 1);
  photo (b, "c.jpg", "2026:05:02 10:00:01", 3);
  first = look (b);
  check (first, 4, 0, 1, 3);
  bring_in (b);
  assert_i64_equal (b->report->taken, first->to_take);
  assert_i64_equal (b->report->already_there, first->twice);
  assert_i64_equal (b->report->bytes_copied, first->bytes_needed);
  again = look (b);
  check (again, 4, 4, 0, 0);
  assert_true (again->is_exact);
  assert_i64_equal (again->bytes_needed, 0);
  assert_i64_equal (again->days->len, 0);
  /* undone they are put aside: they would come back, and need no room */
  assert_true (sw_undo (b->bed.catalogue, NULL, NULL));
  undone = look (b);
  check (undone, 4, 0, 0, 4);
  assert_i64_equal (undone->bytes_needed, 0);
}

/* Of one size is not the same: neither at the ends nor in the middle may a byte differ. */
static void
one_size_other_bytes (void **state)
{
  Bed *b = *state;
  g_autofree guint8 *bytes = g_malloc0 (100000);
  static const gsize at[] = { 20, 30000, 50010, 70000, 99999 };

  memcpy (bytes, "\xFF\xD8\xFF\xE0", 4);
  put (b, "0.jpg", bytes, 100000);
  bring_in (b);
  for (gsize i = 0; i < G_N_ELEMENTS (at); i++)
    {
      g_autofree char *name = g_strdup_printf ("%zu.jpg", i + 1);

      bytes[at[i]] = 1;
      put (b, name, bytes, 100000);
      bytes[at[i]] = 0;
    }
  {
    /* 30000 and 70000 lie outside the pieces */
    g_autoptr (SwPreview) p = look (b);

    check (p, 6, 1, 0, 5);
    assert_true (p->is_exact);
  }
}

/* More than is read to the end: the count is 'about', and still right. */
static void
many_bytes_are_about (void **state)
{
  Bed *b = *state;
  g_autoptr (SwPreview) p = NULL;

  for (int i = 0; i < 3; i++)
    {
      g_autofree char *name = g_strdup_printf ("%d.jpg", i);
      g_autofree char *path = g_build_filename (b->card, name, NULL);

      photo (b, name, "2026:04:03 10:00:00", i);
      assert_int_equal (truncate (path, 30 << 20), 0);
    }
  bring_in (b);
  p = look (b);
  check (p, 3, 3, 0, 0);
  assert_false (p->is_exact);
}

static void
look_alikes (void **state)
{
  Bed *b = *state;
  g_autoptr (SwPreview) first = NULL, second = NULL;
  const SwBringInPair *pair;

  put_scene (b, "a.jpg", 1, 95, "2026:04:03 10:15:30");
  put_scene (b, "b.jpg", 1, 40, "2026:04:03 10:15:30");
  put_scene (b, "c.jpg", 2, 95, "2026:04:03 10:15:30");
  put_scene (b, "d.jpg", 1, 60, "2026:04:03 10:15:32");
  first = look (b);
  assert_i64_equal (first->look_alikes->len, 1);
  pair = first->look_alikes->pdata[0];
  assert_string_equal (pair->a, "a.jpg");
  assert_string_equal (pair->b, "b.jpg");
  assert_true (first->look_alikes_are_all);
  /* and with one that is in the catalogue */
  bring_in (b);
  put_scene (b, "e.jpg", 1, 55, "2026:04:03 10:15:32");
  second = look (b);
  check (second, 5, 4, 0, 1);
  assert_i64_equal (second->look_alikes->len, 1);
  pair = second->look_alikes->pdata[0];
  assert_string_equal (pair->a, "e.jpg");
  assert_string_equal (pair->b, "d.jpg");
}

static void
no_time_of_its_own (void **state)
{
  Bed *b = *state;
  g_autoptr (SwPreview) p = NULL;
  g_autoptr (GPtrArray) trips = NULL;
  g_autoptr (GArray) stays = NULL;

  photo (b, "a.jpg", NULL, 1);
  photo (b, "b.jpg", "2026:06:10 10:00:00", 2);
  p = look (b);
  check (p, 2, 0, 0, 2);
  assert_i64_equal (p->weak, 1);
  assert_i64_equal (p->days->len, 2);
  trips = sw_trip_list (b->bed.catalogue, NULL);
  stays = sw_preview_stays (p->days, trips);
  assert_i64_equal (stays->len, 1);
  assert_i64_equal (g_array_index (stays, SwPreviewStay, 0).first.n,
                    sw_day_from_ymd (2026, 6, 10).n);
}

static void
room (void **state)
{
  Bed *b = *state;
  g_autoptr (SwPreview) p = NULL;
  struct statvfs is;

  photo (b, "a.jpg", "2026:04:03 10:00:00", 1);
  p = look (b);
  assert_true (p->free_is_known);
  assert_true (p->fits);
  assert_int_equal (statvfs (b->bed.folder, &is), 0);
  /* others write meanwhile: of the same size, not to the byte */
  assert_true (p->bytes_free / 2 <= (guint64)is.f_bavail * is.f_frsize);
  assert_true ((guint64)is.f_bavail * is.f_frsize / 2 <= p->bytes_free);
}

static void
refusals (void **state)
{
  Bed *b = *state;
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) none = NULL, all = NULL, stopped = NULL, gone = NULL, inside = NULL;
  g_autofree char *card = NULL;

  assert_null (try_look (b, NULL, &none));
  assert_sw_error (none, SW_ERROR_NOT_FOUND);
  put (b, "a.jpg", "", 0);
  assert_null (try_look (b, NULL, &all));
  assert_sw_error (all, SW_ERROR_REFUSED);
  photo (b, "b.jpg", "2026:04:03 10:00:00", 1);
  g_cancellable_cancel (cancellable);
  assert_null (try_look (b, cancellable, &stopped));
  assert_sw_error (stopped, SW_ERROR_CANCELLED);
  card = g_steal_pointer (&b->card);
  b->card = g_strconcat (card, ".gone", NULL);
  assert_null (try_look (b, NULL, &gone));
  assert_sw_error (gone, SW_ERROR_NOT_FOUND);
  g_free (b->card);
  b->card = g_build_filename (b->bed.path, "photos", NULL);
  assert_null (try_look (b, NULL, &inside));
  assert_sw_error (inside, SW_ERROR_REFUSED);
  g_free (b->card);
  b->card = g_steal_pointer (&card);
}

/* The card is taken away after the scan: a decoder that never answers would not do, so the
 * folder is moved from another thread as soon as reading has begun. */
typedef struct
{
  SwPreviewProgress progress;
  const char *card;
  char *away;
} Thief;

static gpointer
steal (gpointer data)
{
  Thief *thief = data;

  while (g_atomic_int_get (&thief->progress.stage) != SW_PREVIEW_READING)
    g_thread_yield ();
  assert_int_equal (g_rename (thief->card, thief->away), 0);
  return NULL;
}

static void
the_card_goes_away (void **state)
{
  Bed *b = *state;
  const char *folders[] = { b->card, NULL };
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPreviewBase) base = NULL;
  g_autoptr (SwPreview) p = NULL;
  Thief thief = { .card = b->card, .away = g_strconcat (b->card, ".away", NULL) };
  GThread *thread;

  for (int i = 0; i < 2000; i++)
    {
      g_autofree char *name = g_strdup_printf ("%04d.jpg", i);

      photo (b, name, "2026:04:03 10:00:00", i);
    }
  base = sw_preview_base_read (b->bed.catalogue, &error);
  assert_non_null (base);
  thread = g_thread_new ("thief", steal, &thief);
  p = sw_preview_run (base, folders, NULL, &thief.progress, NULL, &error);
  g_thread_join (thread);
  assert_null (p);
  assert_sw_error (error, SW_ERROR_FAILED);
  assert_contains (error->message, "went away");
  g_free (thief.away);
}

/* --- stays --- */

typedef struct
{
  const char *label;
  struct
  {
    int day, photos, weak;
  } days[6]; /* days of June 2026 */
  struct
  {
    int first, last;
  } trips[2];
  struct
  {
    int trip, first, last, photos;
  } stays[4];
} StayRow;

static const StayRow stay_rows[] = {
  { "no day", { { 0 } }, { { 0 } }, { { 0 } } },
  { "days in a row", { { 3, 2, 0 }, { 4, 5, 0 } }, { { 0 } }, { { 0, 3, 4, 7 } } },
  { "a day off between", { { 3, 1, 0 }, { 5, 1, 0 } }, { { 0 } }, { { 0, 3, 5, 2 } } },
  { "two days off are two stays",
    { { 3, 1, 0 }, { 6, 1, 0 } },
    { { 0 } },
    { { 0, 3, 3, 1 }, { 0, 6, 6, 1 } } },
  { "within a trip, whatever lies between",
    { { 3, 1, 0 }, { 9, 1, 0 } },
    { { 2, 10 } },
    { { 1, 3, 9, 2 } } },
  { "a day before and a day after a trip",
    { { 4, 1, 0 }, { 5, 3, 0 }, { 6, 1, 0 } },
    { { 5, 5 } },
    { { 0, 4, 4, 1 }, { 1, 5, 5, 3 }, { 0, 6, 6, 1 } } },
  { "a trip without photos parts two days",
    { { 4, 1, 0 }, { 6, 1, 0 } },
    { { 5, 5 } },
    { { 0, 4, 4, 1 }, { 0, 6, 6, 1 } } },
  { "files' own times make no stay", { { 4, 2, 2 }, { 5, 2, 1 } }, { { 0 } }, { { 0, 5, 5, 2 } } },
  { "but are of a trip that has the day", { { 4, 2, 2 } }, { { 4, 4 } }, { { 1, 4, 4, 2 } } },
  { "two trips side by side",
    { { 4, 2, 0 }, { 5, 1, 0 } },
    { { 3, 4 }, { 5, 6 } },
    { { 1, 4, 4, 2 }, { 2, 5, 5, 1 } } },
};

static SwDay
june (int day)
{
  return sw_day_from_ymd (2026, 6, day);
}

static void
stays (void **state)
{
  const StayRow *row = *state;
  g_autoptr (GArray) days = g_array_new (FALSE, FALSE, sizeof (SwPreviewDay));
  g_autoptr (GPtrArray) trips = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GArray) found = NULL;
  guint n = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (row->days) && row->days[i].day != 0; i++)
    {
      SwPreviewDay day = { june (row->days[i].day), row->days[i].photos, row->days[i].weak };

      g_array_append_val (days, day);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (row->trips) && row->trips[i].first != 0; i++)
    {
      SwTrip *trip = g_new0 (SwTrip, 1);

      trip->id = (gint64)i + 1;
      trip->first = june (row->trips[i].first);
      trip->last = june (row->trips[i].last);
      g_ptr_array_add (trips, trip);
    }
  found = sw_preview_stays (days, trips);
  for (; n < G_N_ELEMENTS (row->stays) && row->stays[n].photos != 0; n++)
    {
      const SwPreviewStay *stay = &g_array_index (found, SwPreviewStay, n);

      assert_true (n < found->len);
      assert_i64_equal (stay->trip, row->stays[n].trip);
      assert_i64_equal (stay->first.n, june (row->stays[n].first).n);
      assert_i64_equal (stay->last.n, june (row->stays[n].last).n);
      assert_i64_equal (stay->photos, row->stays[n].photos);
    }
  assert_i64_equal (found->len, n);
}

int
main (int argc, char **argv)
{
  SwTests *tests;
#define CASE(name) cmocka_unit_test_setup_teardown (name, setup, teardown)
  const struct CMUnitTest on_cards[] = {
    CASE (a_card),
    CASE (nothing_is_written),
    CASE (the_bring_in_agrees),
    CASE (one_size_other_bytes),
    CASE (many_bytes_are_about),
    CASE (look_alikes),
    CASE (no_time_of_its_own),
    CASE (room),
    CASE (refusals),
    CASE (the_card_goes_away),
  };
  int failures;

  /* the decoder starts this very program */
  if (argc == 2 && strcmp (argv[1], "--decode") == 0)
    return sw_decode_helper_main (0, 1);
  failures = cmocka_run_group_tests_name ("preview", on_cards, NULL, NULL);
  tests = sw_tests_new ();
  SW_TEST_ROWS (tests, stays, stay_rows);
  return failures + sw_tests_run (tests, "stays");
}
