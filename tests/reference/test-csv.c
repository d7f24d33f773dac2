/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables against RFC 4180 (Shafranovich, "Common Format and MIME Type for Comma-Separated Values
 * (CSV) Files", 2005) and against what OWASP lists as the start of a formula. */
#include "../unit/sw-test.h"

#include "core/base/table.h"

typedef struct
{
  const char *label;
  const char *text;
  const char *cells; /* rows after the header, cells between bars */
} ReadRow;

/* Section 2, rules 1 to 7 with their examples, under a header as in rule 3. */
#define HEADER "field_name,field_two,field_three\r\n"

static const ReadRow read_rows[] = {
  { "rule 1", HEADER "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "/aaa|bbb|ccc/zzz|yyy|xxx" },
  { "rule 2", HEADER "aaa,bbb,ccc\r\nzzz,yyy,xxx", "/aaa|bbb|ccc/zzz|yyy|xxx" },
  { "rule 4", HEADER "aaa,bbb,ccc", "/aaa|bbb|ccc" },
  { "rule 5", HEADER "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx", "/aaa|bbb|ccc/zzz|yyy|xxx" },
  { "rule 6", HEADER "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx", "/aaa|b\nbb|ccc/zzz|yyy|xxx" },
  { "rule 7", HEADER "\"aaa\",\"b\"\"bb\",\"ccc\"", "/aaa|b\"bb|ccc" },
};

static void
reads (void **state)
{
  const ReadRow *row = *state;
  g_autoptr (GBytes) bytes = g_bytes_new (row->text, strlen (row->text));
  g_autoptr (GError) error = NULL;
  g_autoptr (SwTable) table = sw_table_read (bytes, &error);
  assert_no_error (error);
  assert_i64_equal (sw_table_find_column (table, "field_two"), 1);
  g_autoptr (GString) cells = g_string_new ("");
  for (gsize i = 0; i < sw_table_n_rows (table); i++)
    for (gsize k = 0; k < sw_table_n_cells (table, i); k++)
      g_string_append_printf (cells, "%c%s", k == 0 ? '/' : '|', sw_table_cell (table, i, (int)k));
  assert_string_equal (cells->str, row->cells);
}

typedef struct
{
  const char *label;
  const char *text, *written;
} WriteRow;

/* OWASP, "CSV Injection" (community page, undated): = + - @ TAB CR, from memory also LF and the
 * full-width forms; OWASP Application Security Verification Standard 5.0 (2025), 1.2.10: a single
 * quote goes before them, after the quoting of RFC 4180, rules 6 and 7. */
static const WriteRow write_rows[] = {
  { "RFC 4180 rule 6, comma", "a,b", "\"a,b\"" },
  { "RFC 4180 rule 6, line break", "a\r\nb", "\"a\r\nb\"" },
  { "RFC 4180 rule 7", "b\"bb", "\"b\"\"bb\"" },
  { "RFC 4180 rule 5, no need", "aaa", "aaa" },
  { "equals", "=1+2", "'=1+2" },
  { "plus", "+1+2", "'+1+2" },
  { "minus", "-1+2", "'-1+2" },
  { "at", "@SUM(1)", "'@SUM(1)" },
  { "tab", "\t=1", "'\t=1" },
  { "carriage return", "\r=1", "\"'\r=1\"" },
  { "line feed", "\n=1", "\"'\n=1\"" },
  { "full-width equals",
    "\xef\xbc\x9d"
    "1",
    "'\xef\xbc\x9d"
    "1" },
  { "full-width plus",
    "\xef\xbc\x8b"
    "1",
    "'\xef\xbc\x8b"
    "1" },
  { "full-width minus",
    "\xef\xbc\x8d"
    "1",
    "'\xef\xbc\x8d"
    "1" },
  { "full-width at",
    "\xef\xbc\xa0"
    "1",
    "'\xef\xbc\xa0"
    "1" },
  { "formula that closes its quotation", "=1\",\"=2", "\"'=1\"\",\"\"=2\"" },
};

static void
writes (void **state)
{
  const WriteRow *row = *state;
  g_autoptr (GString) line = g_string_new (NULL);
  sw_table_append_cell (line, row->text, TRUE);
  assert_string_equal (line->str, row->written);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, reads, read_rows);
  SW_TEST_ROWS (tests, writes, write_rows);
  return sw_tests_run (tests, "csv");
}
