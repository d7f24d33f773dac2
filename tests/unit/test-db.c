/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements in use: rows one by one, collected, and cut short by an error. */
#include "sw-records.h"

static Records
three_places (void)
{
  Records records = records_new ();

  records_place (&records, "Cold store");
  records_place (&records, "Glasshouse");
  records_place (&records, "Press house");
  return records;
}

static int n_alive;

/* Counts what is made and not yet freed; after 'stop_after' rows the connection is told to stop. */
static sqlite3 *to_stop;
static int stop_after;

static void
count_row (void)
{
  if (--stop_after == 0)
    sqlite3_interrupt (to_stop);
}

static gpointer
make_path (const SwUse *use)
{
  n_alive++;
  count_row ();
  return sw_col_text (use, 3);
}

static void
free_path (gpointer path)
{
  n_alive--;
  g_free (path);
}

static void
fill_pair (const SwUse *use, gpointer out)
{
  gint64 *pair = out;

  /* a place is zero before it is filled */
  assert_true (pair[0] == 0 && pair[1] == 0);
  pair[0] = sw_col_int (use, 0);
  pair[1] = -1;
  count_row ();
}

static void
records_are_collected_in_order (void **state)
{
  static const char *const paths[] = { "Cold store", "Glasshouse", "Press house" };
  g_auto (Records) records = three_places ();
  g_autoptr (GError) error = NULL;
  g_auto (SwUse) use = sw_db_use (records.catalogue, SW_STMT_PLACE_LIST, "");
  GPtrArray *list = sw_db_collect (records.catalogue, &use, make_path, free_path, &error);

  assert_no_error (error);
  assert_i64_equal (list->len, G_N_ELEMENTS (paths));
  for (guint i = 0; i < list->len; i++)
    assert_string_equal (g_ptr_array_index (list, i), paths[i]);
  assert_i64_equal (n_alive, 3);
  g_ptr_array_unref (list);
  assert_i64_equal (n_alive, 0);
}

static void
plain_rows_are_collected_in_order (void **state)
{
  g_auto (Records) records = three_places ();
  g_autoptr (GError) error = NULL;

  {
    g_auto (SwUse) use = sw_db_use (records.catalogue, SW_STMT_PLACE_LIST, "");
    g_autoptr (GArray) pairs
        = sw_db_collect_plain (records.catalogue, &use, 2 * sizeof (gint64), fill_pair, &error);
    assert_i64_equal (pairs->len, 3);
    for (gint64 i = 0; i < 3; i++)
      {
        assert_i64_equal (((const gint64 *)(gpointer)pairs->data)[2 * i], i + 1);
        assert_i64_equal (((const gint64 *)(gpointer)pairs->data)[2 * i + 1], -1);
      }
  }
  g_auto (SwUse) again = sw_db_use (records.catalogue, SW_STMT_PLACE_LIST, "");
  g_autoptr (GArray) ids = sw_db_collect_ids (records.catalogue, &again, &error);
  assert_i64_equal (ids->len, 3);
  for (guint i = 0; i < 3; i++)
    assert_i64_equal (g_array_index (ids, gint64, i), i + 1);
}

static void
no_rows_are_no_error (void **state)
{
  g_auto (Records) records = records_new ();
  g_autoptr (GError) error = NULL;
  g_auto (SwUse) use = sw_db_use (records.catalogue, SW_STMT_PLACE_LIST, "");
  g_autoptr (GPtrArray) list
      = sw_db_collect (records.catalogue, &use, make_path, free_path, &error);

  assert_no_error (error);
  assert_i64_equal (list->len, 0);
}

/* The error of a later row is that of the whole: nothing half comes back, and nothing is lost. */
static void
an_error_half_way_gives_nothing (void **state)
{
  g_auto (Records) records = three_places ();

  to_stop = sw_db_handle (records.catalogue);
  for (int after = 1; after <= 2; after++)
    {
      g_autoptr (GError) error = NULL, other = NULL;
      {
        g_auto (SwUse) use = sw_db_use (records.catalogue, SW_STMT_PLACE_LIST, "");
        stop_after = after;
        assert_null (sw_db_collect (records.catalogue, &use, make_path, free_path, &error));
      }
      assert_non_null (error);
      assert_true (error->domain == SW_ERROR && sw_test_is_sentence (error->message));
      assert_i64_equal (n_alive, 0);
      {
        g_auto (SwUse) use = sw_db_use (records.catalogue, SW_STMT_PLACE_LIST, "");
        stop_after = after;
        assert_null (
            sw_db_collect_plain (records.catalogue, &use, 2 * sizeof (gint64), fill_pair, &other));
      }
      assert_non_null (other);
    }
  stop_after = 0;
  /* and the statement is as good as before */
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) places = sw_place_list (records.catalogue, &error);
  assert_no_error (error);
  assert_i64_equal (places->len, 3);
}

/* Left at a row, a statement would hold a lock that no act gets past, and go on from there. */
static void
a_statement_left_at_a_row_lets_go (void **state)
{
  g_auto (Records) records = three_places ();
  g_autoptr (GError) error = NULL;

  for (int round = 0; round < 2; round++)
    {
      g_auto (SwUse) use = sw_db_use (records.catalogue, SW_STMT_PLACE_LIST, "");
      gboolean row = FALSE;
      assert_true (sw_db_step (records.catalogue, &use, &row, &error));
      assert_true (row);
      assert_i64_equal (sw_col_int (&use, 0), 1);
    }
  for (sqlite3_stmt *each = sqlite3_next_stmt (sw_db_handle (records.catalogue), NULL);
       each != NULL; each = sqlite3_next_stmt (sw_db_handle (records.catalogue), each))
    assert_false (sqlite3_stmt_busy (each));
  records_place (&records, "Loft");
}

static void
one_number (void **state)
{
  g_auto (Records) records = three_places ();
  g_autoptr (GError) error = NULL;
  gint64 value = 7;
  gboolean found = TRUE;

  assert_true (sw_db_get_int (records.catalogue, &value, &found, &error, SW_STMT_BRING_IN_STATE,
                              "i", (gint64)99));
  assert_false (found);
  assert_i64_equal (value, 7);
  assert_false (sw_db_get_int (records.catalogue, &value, NULL, &error, SW_STMT_BRING_IN_STATE, "i",
                               (gint64)99));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  assert_i64_equal (value, 7);
  records_photo (&records, "one.jpg");
  g_clear_error (&error);
  assert_true (sw_db_get_int (records.catalogue, &value, &found, &error, SW_STMT_BRING_IN_STATE,
                              "i", (gint64)1));
  assert_true (found);
  assert_i64_equal (value, 1);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (records_are_collected_in_order),
    cmocka_unit_test (plain_rows_are_collected_in_order),
    cmocka_unit_test (no_rows_are_no_error),
    cmocka_unit_test (an_error_half_way_gives_nothing),
    cmocka_unit_test (a_statement_left_at_a_row_lets_go),
    cmocka_unit_test (one_number),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
