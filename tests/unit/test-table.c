/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables of people: encodings, delimiters, line numbers, quotation marks gone wrong. */
#include "sw-test.h"

#include "core/base/table.h"

#include <errno.h>

#define NO_LINE 0

/* What a table reads as: each row as line number, then its cells between bars. */
static char *
spell_out (const SwTable *table)
{
  GString *text = g_string_new ("");
  for (gsize i = 0; i < sw_table_n_columns (table); i++)
    g_string_append_printf (text, "|%s", sw_table_column_name (table, i));
  for (gsize row = 0; row < sw_table_n_rows (table); row++)
    {
      g_string_append_printf (text, "/%d", sw_table_line (table, row));
      for (gsize i = 0; i < sw_table_n_cells (table, row); i++)
        g_string_append_printf (text, "|%s", sw_table_cell (table, row, (int)i));
    }
  return g_string_free (text, FALSE);
}

typedef struct
{
  const char *label;
  const char *data;
  gsize length;
  const char *expected; /* NULL: refused */
  const char *named;    /* what the message must name */
} TableRow;

#define T(text) text, sizeof (text) - 1

static const TableRow rows[] = {
  { "plain", T ("a,b\n1,2\n3,4\n"), "|a|b/2|1|2/3|3|4", NULL },
  { "no closing line break", T ("a,b\n1,2"), "|a|b/2|1|2", NULL },
  { "no closing line break after quotes", T ("a,b\n1,\"2\""), "|a|b/2|1|2", NULL },
  { "CRLF", T ("a,b\r\n1,2\r\n3,4\r\n"), "|a|b/2|1|2/3|3|4", NULL },
  { "CR alone", T ("a,b\r1,2\r3,4\r"), "|a|b/2|1|2/3|3|4", NULL },
  { "header alone", T ("a,b\n"), "|a|b", NULL },
  { "mark of byte order",
    T ("\xef\xbb\xbf"
       "a,b\n1,2\n"),
    "|a|b/2|1|2", NULL },
  { "semicolons", T ("a;b\n1,5;2\n"), "|a|b/2|1,5|2", NULL },
  { "tabs", T ("a\tb\n1,5\t2;3\n"), "|a|b/2|1,5|2;3", NULL },
  { "empty cells between tabs", T ("a\tb\tc\n\t\tx\n"), "|a|b|c/2|||x", NULL },
  { "one column", T ("a\n1\n"), "|a/2|1", NULL },
  { "semicolon inside quotes of the header", T ("\"a;b;c\",d\n1,2\n"), "|a;b;c|d/2|1|2", NULL },
  { "inch mark in the header", T ("pipe 5\"; length; price\n1,5;2,5;3,5\n"),
    "|pipe 5\"|length|price/2|1,5|2,5|3,5", NULL },
  { "doubled mark in the header", T ("\"a \"\"b,c\"\",d\";e\n1;2\n"), "|a \"b,c\",d|e/2|1|2",
    NULL },
  { "cells trimmed",
    T (" a , b \n  1  ,\xc2\xa0"
       "2\n"),
    "|a|b/2|1|2", NULL },
  { "trimmed inside quotes", T ("a,b\n\" 1 \",2\n"), "|a|b/2|1|2", NULL },
  { "blanks around quotes", T ("a,b\n  \"1,5\"  ,2\n"), "|a|b/2|1,5|2", NULL },
  { "doubled marks", T ("a,b\n\"say \"\"when\"\"\",2\n"), "|a|b/2|say \"when\"|2", NULL },
  { "inch mark in a plain cell", T ("a,b\n5\" pipe,2\n"), "|a|b/2|5\" pipe|2", NULL },
  { "blank lines", T ("\n\na,b\n\n1,2\n  \n3,4\n\n"), "|a|b/5|1|2/7|3|4", NULL },
  { "rows of empty cells", T ("a,b\n,\n\"\",\" \"\n1,2\n"), "|a|b/4|1|2", NULL },
  { "short and long rows", T ("a,b\n1\n1,2,3\n"), "|a|b/2|1/3|1|2|3", NULL },
  { "trailing delimiter", T ("a,b,\n1,2,\n"), "|a|b|/2|1|2|", NULL },
  { "line break in a cell, LF", T ("a,b\n\"x\ny\",2\n3,4\n"), "|a|b/2|x\ny|2/4|3|4", NULL },
  { "line break in a cell, CRLF", T ("a,b\r\n\"x\r\ny\",2\r\n3,4\r\n"), "|a|b/2|x\ny|2/4|3|4",
    NULL },
  { "line break in a cell, CR", T ("a,b\r\"x\ry\",2\r3,4\r"), "|a|b/2|x\ny|2/4|3|4", NULL },
  { "two broken cells in a row", T ("a,b\n\"x\n\ny\",\"p\nq\"\n3,4\n"), "|a|b/2|x\n\ny|p\nq/6|3|4",
    NULL },
  { "line break in the header", T ("\"a\nb\",c\n1,2\n"), "|a\nb|c/3|1|2", NULL },
  { "UTF-16 little-endian",
    T ("\xff\xfe"
       "a\0,\0b\0\n\0"
       "1\0,\0\xe9\0\n\0"),
    "|a|b/2|1|\xc3\xa9", NULL },
  { "UTF-16 big-endian",
    T ("\xfe\xff"
       "\0a\0,\0b\0\n\0"
       "1\0,\0\xe9\0\n"),
    "|a|b/2|1|\xc3\xa9", NULL },
  { "UTF-16 pair",
    T ("\xfe\xff"
       "\0a\0\n\xd8\x3d\xde\x9c"),
    "|a/2|\xf0\x9f\x9a\x9c", NULL },
  { "UTF-16 lone half",
    T ("\xfe\xff"
       "\0a\0\n\0b\xd8\x3d\0\n"),
    NULL, "Line 2" },
  { "UTF-16 cut within a character",
    T ("\xff\xfe"
       "a\0\n\0b"),
    NULL, "Line 2" },
  { "UTF-16 zero",
    T ("\xff\xfe"
       "a\0\n\0\n\0\0\0"),
    NULL, "Line 3" },
  { "zero byte", T ("a,b\n1,2\n3,\0\n"), NULL, "Line 3" },
  { "not UTF-8", T ("a,b\r\n1,2\r\n3,caf\xe9\r\n"), NULL, "Line 3" },
  { "not UTF-8 after CR", T ("a,b\r1,2\r3,caf\xe9"), NULL, "Line 3" },
  { "mark never closed", T ("a,b\n1,2\n3,\"four\n5,6\n7,8\n"), NULL, "Line 3" },
  { "mark never closed in the second cell", T ("a,b\n\"x\ny\",\"four\n5,6\n"), NULL, "Line 3" },
  { "mark at the very end", T ("a,b\n1,\""), NULL, "Line 2" },
  { "text after a closing mark", T ("a,b\n1,2\n\"5\" pipe\",2\n"), NULL, "Line 3" },
  { "text after a broken cell", T ("a,b\n\"x\ny\" z,2\n"), NULL, "Line 3" },
  { "empty", T (""), NULL, "empty" },
  { "only blanks", T (" \r\n\n ,\n"), NULL, "empty" },
  { "mark of byte order alone", T ("\xef\xbb\xbf"), NULL, "empty" },
  { "UTF-16 mark alone", T ("\xff\xfe"), NULL, "empty" },
};

static void
table (void **state)
{
  const TableRow *row = *state;
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_bytes_new (row->data, row->length);
  g_autoptr (SwTable) read = sw_table_read (bytes, &error);
  if (row->expected == NULL)
    {
      assert_null (read);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_contains (error->message, row->named);
      return;
    }
  assert_no_error (error);
  g_autofree char *text = spell_out (read);
  assert_string_equal (text, row->expected);
}

static void
columns (void **state)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static (T ("What, Item ,item\nx,y,z\n"));
  g_autoptr (SwTable) read = sw_table_read (bytes, NULL);
  assert_non_null (read);
  assert_i64_equal (sw_table_find_column (read, "what"), 0);
  assert_i64_equal (sw_table_find_column (read, "ITEM"), 1);
  assert_i64_equal (sw_table_find_column (read, "place"), -1);
  assert_string_equal (sw_table_cell (read, 0, -1), "");
  assert_string_equal (sw_table_cell (read, 0, 3), "");
  assert_string_equal (sw_table_cell (read, 0, 2), "z");
}

/* A cell of the longest length is taken, a byte more is refused by its line, whether in quotes or
 * not. */
static void
cell_length (void **state)
{
  static const char *const forms[] = { "a,b\n\n1,%s\n", "a,b\n\n1,\"%s\"\n" };
  for (gsize form = 0; form < G_N_ELEMENTS (forms); form++)
    for (gsize more = 0; more <= 1; more++)
      {
        g_autofree char *cell = g_strnfill (SW_TABLE_CELL_MAX + more, 'x');
        g_auto (GStrv) parts = g_strsplit (forms[form], "%s", 2);
        g_autofree char *text = g_strconcat (parts[0], cell, parts[1], NULL);
        g_autoptr (GBytes) bytes = g_bytes_new (text, strlen (text));
        g_autoptr (GError) error = NULL;
        g_autoptr (SwTable) read = sw_table_read (bytes, &error);
        if (more == 0)
          assert_string_equal (sw_table_cell (read, 0, 1), cell);
        else
          {
            assert_null (read);
            assert_sw_error (error, SW_ERROR_BAD_INPUT);
            assert_contains (error->message, "Line 3");
          }
      }
}

static void
unclosed_mark_in_a_long_file (void **state)
{
  g_autoptr (GString) text = g_string_new ("a,b\n1,\"two\n");
  for (int i = 0; i < 100000; i++)
    g_string_append (text, "3,4\n");
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  g_autoptr (GError) error = NULL;
  assert_null (sw_table_read (bytes, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "Line 2");
}

static void
files (void **state)
{
  g_autofree char *folder = g_dir_make_tmp ("shedwalk-table-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "money.csv", NULL);
  g_autofree char *absent_path = g_build_filename (folder, "none\n.csv", NULL);
  g_autoptr (GError) absent_error = NULL, folder_error = NULL;
  gboolean written = g_file_set_contents (path, "a,b\n1,2\n", -1, NULL);
  SwTable *read = sw_table_read_file (path, NULL);
  SwTable *absent = sw_table_read_file (absent_path, &absent_error);
  SwTable *no_file = sw_table_read_file (folder, &folder_error);
  g_autofree char *text = read != NULL ? spell_out (read) : g_strdup ("");
  sw_table_free (read);
  g_unlink (path);
  g_rmdir (folder);
  assert_true (written);
  assert_string_equal (text, "|a|b/2|1|2");
  assert_null (absent);
  assert_sw_error (absent_error, SW_ERROR_NOT_FOUND);
  assert_contains (absent_error->message, "none\\x0A.csv");
  assert_null (no_file);
  assert_true (g_error_matches (folder_error, SW_ERROR, SW_ERROR_FAILED)
               || g_error_matches (folder_error, SW_ERROR, SW_ERROR_BAD_INPUT));
}

static void
decoded (void **state)
{
  g_autoptr (GBytes) bytes = g_bytes_new_static (T ("\xff\xfe"
                                                    "h\0\xe9\0"));
  gsize length = 0;
  g_autofree char *text = sw_table_decode (bytes, &length, NULL);
  assert_string_equal (text, "h\xc3\xa9");
  assert_i64_equal ((gint64)length, 3);
  g_autoptr (GBytes) none = g_bytes_new_static ("", 0);
  g_autofree char *empty = sw_table_decode (none, NULL, NULL);
  assert_string_equal (empty, "");
}

typedef struct
{
  const char *label;
  const char *text, *plain, *guarded;
} CellRow;

static const CellRow cell_rows[] = {
  { "plain", "press", "press", "press" },
  { "comma", "a,b", "\"a,b\"", "\"a,b\"" },
  { "mark", "5\" pipe", "\"5\"\" pipe\"", "\"5\"\" pipe\"" },
  { "line break", "a\nb", "\"a\nb\"", "\"a\nb\"" },
  { "carriage return inside", "a\rb", "\"a\rb\"", "\"a\rb\"" },
  { "formula with a comma", "=SUM(A1,A2)", "\"=SUM(A1,A2)\"", "\"'=SUM(A1,A2)\"" },
  { "formula character later", "a=b", "a=b", "a=b" },
  { "negative number", "-3.00", "-3.00", "'-3.00" },
  { "empty", "", "", "" },
  { "missing", NULL, "", "" },
};

static void
append_cell (void **state)
{
  const CellRow *row = *state;
  g_autoptr (GString) plain = g_string_new ("x,");
  g_autoptr (GString) guarded = g_string_new (NULL);
  sw_table_append_cell (plain, row->text, FALSE);
  sw_table_append_cell (guarded, row->text, TRUE);
  assert_string_equal (plain->str + 2, row->plain);
  assert_string_equal (guarded->str, row->guarded);
}

/* What is written reads back. */
static void
round_trip (void **state)
{
  static const char *const cells[]
      = { "press", "a,b", "5\" pipe", "x\ny", "\"", "\"\"", ",", ";\t", "=1" };
  g_autoptr (GString) text = g_string_new ("");
  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    g_string_append_printf (text, "%scolumn", i > 0 ? "," : "");
  g_string_append (text, "\r\n");
  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      if (i > 0)
        g_string_append_c (text, ',');
      sw_table_append_cell (text, cells[i], FALSE);
    }
  g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwTable) read = sw_table_read (bytes, &error);
  assert_no_error (error);
  assert_i64_equal ((gint64)sw_table_n_cells (read, 0), G_N_ELEMENTS (cells));
  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      g_autofree char *expected = g_strstrip (g_strdup (cells[i]));
      assert_string_equal (sw_table_cell (read, 0, (int)i), expected);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, table, rows);
  SW_TEST (tests, columns);
  SW_TEST (tests, cell_length);
  SW_TEST (tests, unclosed_mark_in_a_long_file);
  SW_TEST (tests, files);
  SW_TEST (tests, decoded);
  SW_TEST_ROWS (tests, append_cell, cell_rows);
  SW_TEST (tests, round_trip);
  return sw_tests_run (tests, "table");
}
