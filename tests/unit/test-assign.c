/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which photos show which item: given, taken, wide views, none at all, open again; undo. */
#include "sw-records.h"
#include "sw-test-catalogue.h"

typedef struct
{
  Records records;
  gint64 press, crates;
  gint64 photos[4];
} Shelf;

static Shelf
shelf_new (void)
{
  Shelf shelf = { .records = records_new () };
  shelf.press = records_item (&shelf.records, "Screw press", 1, -1);
  shelf.crates = records_item (&shelf.records, "Crates", 5, -1);
  const char *const files[] = { "d.jpg", "c.jpg", "b.jpg", "a.jpg" };
  for (gsize i = 0; i < G_N_ELEMENTS (files); i++)
    shelf.photos[i] = records_photo (&shelf.records, files[i]);
  return shelf;
}

static void
shelf_clear (Shelf *shelf)
{
  records_clear (&shelf->records);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Shelf, shelf_clear)

static void
assign (Shelf *shelf, gint64 item, gsize from, gsize n, gboolean also)
{
  g_autoptr (GError) error = NULL;
  sw_item_assign (shelf->records.catalogue, item, shelf->photos + from, n, also, &error);
  assert_no_error (error);
}

/* "1 3 " of what the item shows, by position. */
static void
shows (Shelf *shelf, gint64 item, const char *expected)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) photos = sw_item_photos (shelf->records.catalogue, item, &error);
  assert_no_error (error);
  g_autoptr (GString) text = g_string_new (NULL);
  for (guint i = 0; i < photos->len; i++)
    g_string_append_printf (text, "%" G_GINT64_FORMAT " ", g_array_index (photos, gint64, i));
  assert_string_equal (text->str, expected);
  g_autoptr (SwItem) row = records_get (&shelf->records, item);
  assert_i64_equal (row->n_photos, photos->len);
}

static void
decided_none (Shelf *shelf, gint64 photo, gboolean expected, guint n_items)
{
  g_autoptr (GError) error = NULL;
  gboolean none = !expected;
  g_autoptr (GArray) items = sw_photo_items (shelf->records.catalogue, photo, &none, &error);
  assert_no_error (error);
  assert_int_equal (none, expected);
  assert_i64_equal (items->len, n_items);
}

static void
test_given_in_order_and_taken (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  gint64 turned[] = { shelf.photos[2], shelf.photos[0] };
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_assign (shelf.records.catalogue, shelf.press, turned, 2, FALSE, &error));
  shows (&shelf, shelf.press, "3 1 ");
  assign (&shelf, shelf.press, 1, 1, FALSE);
  shows (&shelf, shelf.press, "3 1 2 ");
  assign (&shelf, shelf.crates, 2, 1, FALSE);
  shows (&shelf, shelf.press, "1 2 ");
  shows (&shelf, shelf.crates, "3 ");
  g_autoptr (GPtrArray) events
      = sw_events_of (shelf.records.catalogue, SW_SUBJECT_ITEM, shelf.press, &error);
  const SwEvent *newest = g_ptr_array_index (events, 0);
  assert_string_equal (newest->sentence, "1 photo was taken from it");
}

static void
test_wide_view (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  assign (&shelf, shelf.press, 0, 2, FALSE);
  assign (&shelf, shelf.crates, 0, 1, TRUE);
  assign (&shelf, shelf.crates, 2, 1, FALSE);
  shows (&shelf, shelf.press, "1 2 ");
  shows (&shelf, shelf.crates, "3 1 ");
  g_autoptr (SwItem) crates = records_get (&shelf.records, shelf.crates);
  assert_i64_equal (crates->first_photo, shelf.photos[2]);
  /* giving the wide view to a third item takes it from the press, where it was more than that */
  gint64 rack = records_item (&shelf.records, "Bottle rack", 1, -1);
  assign (&shelf, rack, 0, 1, FALSE);
  shows (&shelf, shelf.press, "2 ");
  shows (&shelf, shelf.crates, "3 1 ");
  shows (&shelf, rack, "1 ");
  /* a wide view may become the item's own */
  assign (&shelf, shelf.crates, 0, 1, FALSE);
  shows (&shelf, rack, "");
  decided_none (&shelf, shelf.photos[0], FALSE, 1);
}

static void
test_none_and_open (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  assign (&shelf, shelf.press, 0, 2, FALSE);
  assign (&shelf, shelf.crates, 0, 1, TRUE);
  assign (&shelf, 0, 0, 1, FALSE);
  shows (&shelf, shelf.press, "2 ");
  shows (&shelf, shelf.crates, "");
  decided_none (&shelf, shelf.photos[0], TRUE, 0);
  decided_none (&shelf, shelf.photos[3], FALSE, 0);
  assign (&shelf, shelf.press, 0, 1, FALSE);
  decided_none (&shelf, shelf.photos[0], FALSE, 1);
  g_autoptr (GError) error = NULL;
  assign (&shelf, 0, 1, 1, FALSE);
  assert_true (sw_item_unassign (shelf.records.catalogue, shelf.photos, 2, &error));
  decided_none (&shelf, shelf.photos[0], FALSE, 0);
  decided_none (&shelf, shelf.photos[1], FALSE, 0);
  shows (&shelf, shelf.press, "");
}

static void
test_cover (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  assign (&shelf, shelf.press, 0, 3, FALSE);
  g_autoptr (SwItem) plain = records_get (&shelf.records, shelf.press);
  assert_i64_equal (plain->first_photo, shelf.photos[0]);
  g_autoptr (GError) error = NULL;
  SwItemChange change = { .cover = &shelf.photos[2] };
  assert_true (sw_item_change (shelf.records.catalogue, shelf.press, &change, &error));
  g_autoptr (SwItem) covered = records_get (&shelf.records, shelf.press);
  assert_i64_equal (covered->first_photo, shelf.photos[2]);
  assign (&shelf, shelf.crates, 2, 1, FALSE);
  g_autoptr (SwItem) bare = records_get (&shelf.records, shelf.press);
  assert_i64_equal (bare->cover, 0);
  assert_i64_equal (bare->first_photo, shelf.photos[0]);
}

static void
test_nothing_new_is_no_act (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  assign (&shelf, shelf.press, 0, 2, FALSE);
  g_autofree char *before = sw_undo_sentence (shelf.records.catalogue);
  assert_string_equal (before, "2 photos to Screw press");
  assign (&shelf, 0, 3, 1, FALSE);
  assign (&shelf, shelf.press, 0, 2, FALSE);
  assign (&shelf, 0, 3, 1, FALSE);
  g_autofree char *after = sw_undo_sentence (shelf.records.catalogue);
  assert_string_equal (after, "Photo 4 to no item");
  assign (&shelf, shelf.press, 0, 0, FALSE);
}

static void
test_unknown_changes_nothing (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  assign (&shelf, shelf.press, 0, 1, FALSE);
  const gint64 photos[] = { shelf.photos[0], 99 };
  g_autoptr (GError) error = NULL;
  assert_false (sw_item_assign (shelf.records.catalogue, shelf.crates, photos, 2, FALSE, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_contains (error->message, "photo 99");
  shows (&shelf, shelf.press, "1 ");
  g_clear_error (&error);
  assert_false (sw_item_assign (shelf.records.catalogue, 99, photos, 1, FALSE, &error));
  assert_contains (error->message, "item 99");
  g_clear_error (&error);
  records_put_aside (&shelf.records, shelf.photos[1]);
  assert_false (
      sw_item_assign (shelf.records.catalogue, shelf.press, shelf.photos, 2, FALSE, &error));
  assert_sw_error (error, SW_ERROR_REFUSED);
}

static void
test_aside_is_not_shown (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  assign (&shelf, shelf.press, 0, 2, FALSE);
  g_autoptr (GError) error = NULL;
  records_put_aside (&shelf.records, shelf.photos[0]);
  shows (&shelf, shelf.press, "2 ");
  g_autoptr (SwItem) item = records_get (&shelf.records, shelf.press);
  assert_i64_equal (item->first_photo, shelf.photos[1]);
}

static void
test_undo_over_reopen (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  assign (&shelf, shelf.press, 0, 3, FALSE);
  assign (&shelf, shelf.crates, 1, 1, FALSE);
  assign (&shelf, 0, 2, 1, FALSE);
  g_autoptr (GError) error = NULL;
  assert_true (sw_item_unassign (shelf.records.catalogue, shelf.photos, 1, &error));
  records_reopen (&shelf.records);
  for (int i = 0; i < 3; i++)
    assert_true (sw_undo (shelf.records.catalogue, NULL, &error));
  shows (&shelf, shelf.press, "1 2 3 ");
  shows (&shelf, shelf.crates, "");
  records_reopen (&shelf.records);
  for (int i = 0; i < 3; i++)
    assert_true (sw_redo (shelf.records.catalogue, NULL, &error));
  shows (&shelf, shelf.press, "");
  shows (&shelf, shelf.crates, "2 ");
  decided_none (&shelf, shelf.photos[2], TRUE, 0);
}

static void
move (Shelf *shelf, gint64 photo, gint64 to, const char *refusal)
{
  g_autoptr (GError) error = NULL;
  gboolean ok = sw_item_photo_move (shelf->records.catalogue, shelf->press, photo, to, &error);
  assert_int_equal (ok, refusal == NULL);
  if (refusal == NULL)
    return;
  assert_sw_error (error, SW_ERROR_REFUSED);
  assert_contains (error->message, refusal);
}

/* Photos 1 to 3 are the press's own, 4 is a wide view. */
static void
test_order (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  g_autoptr (GError) error = NULL;
  const gint64 *p = shelf.photos;
  assign (&shelf, shelf.press, 0, 3, FALSE);
  assign (&shelf, shelf.press, 3, 1, TRUE);
  shows (&shelf, shelf.press, "1 2 3 4 ");
  move (&shelf, p[2], 1, NULL);
  shows (&shelf, shelf.press, "3 1 2 4 ");
  move (&shelf, p[2], 2, NULL);
  shows (&shelf, shelf.press, "1 3 2 4 ");
  move (&shelf, p[1], -5, NULL); /* before the first is the first */
  shows (&shelf, shelf.press, "2 1 3 4 ");
  move (&shelf, p[0], 4, "behind the photos of the item alone");
  move (&shelf, p[3], 1, "behind the photos of the item alone");
  move (&shelf, p[3], 99, NULL); /* it is the last */
  shows (&shelf, shelf.press, "2 1 3 4 ");
  gint64 acts = sw_test_ask (shelf.records.catalogue, "SELECT count(*) FROM act");
  move (&shelf, p[0], 2, NULL); /* it is there */
  assert_i64_equal (sw_test_ask (shelf.records.catalogue, "SELECT count(*) FROM act"), acts);
  assert_true (sw_undo (shelf.records.catalogue, NULL, &error));
  shows (&shelf, shelf.press, "1 3 2 4 ");
  assert_true (sw_redo (shelf.records.catalogue, NULL, &error));
  shows (&shelf, shelf.press, "2 1 3 4 ");
}

/* A photo of another item, one set aside, one that comes to those put in order. */
static void
test_order_of_others (void **state)
{
  g_auto (Shelf) shelf = shelf_new ();
  const gint64 *p = shelf.photos;
  assign (&shelf, shelf.press, 0, 2, FALSE);
  move (&shelf, p[1], 1, NULL);
  move (&shelf, p[3], 1, "none of Screw press");
  assign (&shelf, shelf.press, 2, 1, FALSE);
  shows (&shelf, shelf.press, "2 1 3 ");
  g_autoptr (GError) error = NULL;
  assert_false (sw_item_photo_move (shelf.records.catalogue, 99, p[0], 1, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, test_order);
  SW_TEST (tests, test_order_of_others);
  SW_TEST (tests, test_given_in_order_and_taken);
  SW_TEST (tests, test_wide_view);
  SW_TEST (tests, test_none_and_open);
  SW_TEST (tests, test_cover);
  SW_TEST (tests, test_nothing_new_is_no_act);
  SW_TEST (tests, test_unknown_changes_nothing);
  SW_TEST (tests, test_aside_is_not_shown);
  SW_TEST (tests, test_undo_over_reopen);
  return sw_tests_run (tests, "assign");
}
