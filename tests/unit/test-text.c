/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checking, tidying, printing harmlessly. */
#include "sw-test.h"

#include "core/base/text.h"

typedef struct
{
  const char *label;
  const char *text;
  gboolean one_line, many_lines; /* whether each kind takes it */
} CheckRow;

static const CheckRow check_rows[] = {
  { "plain", "Cider press", TRUE, TRUE },
  { "other scripts", "\xd0\xa8\xd0\xba\xd0\xb0\xd1\x84 \xe6\x9f\x9c", TRUE, TRUE },
  { "tab", "a\tb", FALSE, TRUE },
  { "newline", "a\nb", FALSE, TRUE },
  { "line separator",
    "a\xe2\x80\xa8"
    "b",
    FALSE, TRUE },
  { "carriage return", "a\rb", FALSE, FALSE },
  { "escape", "a\x1b[31m", FALSE, FALSE },
  { "delete", "a\x7f", FALSE, FALSE },
  { "C1 control", "a\xc2\x9b", FALSE, FALSE },
  { "broken UTF-8", "a\xff", FALSE, FALSE },
  { "overlong", "a\xc0\xaf", FALSE, FALSE },
  { "surrogate", "a\xed\xa0\x80", FALSE, FALSE },
  { "empty", "", FALSE, FALSE },
  { "blanks", " \xc2\xa0 ", FALSE, FALSE },
  { "missing", NULL, FALSE, FALSE },
};

static void
check (void **state)
{
  const CheckRow *row = *state;
  for (int multiline = 0; multiline <= 1; multiline++)
    {
      g_autoptr (GError) error = NULL;
      gboolean expected = multiline ? row->many_lines : row->one_line;
      assert_true (sw_text_check (row->text, "The name of the item", multiline, FALSE, &error)
                   == expected);
      if (expected)
        continue;
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_true (g_str_has_prefix (error->message, "The name of the item "));
    }
}

static void
check_empty_where_allowed (void **state)
{
  assert_true (sw_text_check ("", "The remark", FALSE, TRUE, NULL));
  assert_true (sw_text_check (NULL, "The remark", FALSE, TRUE, NULL));
  assert_true (sw_text_check ("  ", "The remark", FALSE, TRUE, NULL));
}

static void
check_length (void **state)
{
  g_autofree char *text = g_strnfill (SW_TEXT_MAX + 1, 'x');
  g_autoptr (GError) error = NULL;
  assert_false (sw_text_check (text, "The remark", FALSE, FALSE, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  text[SW_TEXT_MAX] = '\0';
  assert_true (sw_text_check (text, "The remark", FALSE, FALSE, NULL));
}

typedef struct
{
  const char *label;
  const char *text, *expected;
} PairRow;

static const PairRow tidy_rows[] = {
  { "nothing to do", "Cider press", "Cider press" },
  { "ends and inside", "  Cider \t\n press ", "Cider press" },
  { "no-break spaces", "Cider\xc2\xa0\xe2\x80\xafpress", "Cider press" },
  { "only blanks", " \t ", "" },
  { "missing", NULL, "" },
  { "broken UTF-8 stays text", "a\xff b", "a\xef\xbf\xbd b" },
};

static void
tidy (void **state)
{
  const PairRow *row = *state;
  g_autofree char *text = sw_text_tidy (row->text);
  assert_string_equal (text, row->expected);
}

static const PairRow printable_rows[] = {
  { "plain", "Cider \xc3\xa9 \xe6\x9f\x9c", "Cider \xc3\xa9 \xe6\x9f\x9c" },
  { "escape sequence", "\x1b[2Jx", "\\x1B[2Jx" },
  { "newline and tab", "a\nb\tc", "a\\x0Ab\\x09c" },
  { "delete", "a\x7f", "a\\x7F" },
  { "C1 control",
    "a\xc2\x9b"
    "b",
    "a\\xC2\\x9Bb" },
  { "bidi override",
    "a\xe2\x80\xae"
    "b",
    "a\\xE2\\x80\\xAEb" },
  { "bidi isolate",
    "a\xe2\x81\xa6"
    "b",
    "a\\xE2\\x81\\xA6b" },
  { "arabic letter mark",
    "a\xd8\x9c"
    "b",
    "a\\xD8\\x9Cb" },
  { "line separator",
    "a\xe2\x80\xa8"
    "b",
    "a\\xE2\\x80\\xA8b" },
  { "broken UTF-8", "a\xff\xc3", "a\\xFF\\xC3" },
  { "overlong slash", "\xc0\xaf", "\\xC0\\xAF" },
  { "cut character", "\xe2\x82", "\\xE2\\x82" },
  { "empty", "", "" },
  { "missing", NULL, "" },
};

static void
printable (void **state)
{
  const PairRow *row = *state;
  g_autofree char *text = sw_text_printable (row->text, -1);
  assert_string_equal (text, row->expected);
}

static void
printable_with_length (void **state)
{
  g_autofree char *with_nul = sw_text_printable ("a\0b", 3);
  assert_string_equal (with_nul, "a\\x00b");
  g_autofree char *cut = sw_text_printable ("\xe6\x9f\x9c", 2);
  assert_string_equal (cut, "\\xE6\\x9F");
}

static void
quote (void **state)
{
  g_autofree char *plain = sw_text_quote ("press");
  assert_string_equal (plain, "\xe2\x80\x98press\xe2\x80\x99");
  g_autofree char *missing = sw_text_quote (NULL);
  assert_string_equal (missing, "\xe2\x80\x98\xe2\x80\x99");
  /* Cut between characters, whatever their width. */
  for (int width = 50; width < 70; width++)
    {
      g_autofree char *fill = g_strnfill ((gsize)width, 'x');
      g_autofree char *text
          = g_strconcat (fill, "\xe6\x9f\x9c\xe6\x9f\x9c\xe6\x9f\x9c\xe6\x9f\x9c", NULL);
      g_autofree char *cut = sw_text_quote (text);
      assert_true (g_utf8_validate (cut, -1, NULL));
      assert_true (strlen (cut) <= 60 + 9);
    }
}

static const PairRow stem_rows[] = {
  { "plain", "IMG_0042", "IMG_0042" },
  { "blanks and marks", "Cider press (large)", "Cider-press-large" },
  { "accents", "Pressoir \xc3\xa0 pommes", "Pressoir-a-pommes" },
  { "path", "../../etc/passwd", "etc-passwd" },
  { "colon and newline", "C:\nx", "C-x" },
  { "nothing left", "\xe2\x80\xae\x01", "x" },
  { "empty", "", "x" },
  { "missing", NULL, "x" },
  { "device name", "con", "con_" },
  { "device name with number", "COM1", "COM1_" },
  { "longer than a device name", "console", "console" },
  { "long", "0123456789012345678901234567890123456789012345",
    "0123456789012345678901234567890123456789" },
  { "hyphens at the cut", "012345678901234567890123456789012345678---x",
    "012345678901234567890123456789012345678" },
};

static void
safe_stem (void **state)
{
  const PairRow *row = *state;
  g_autofree char *stem = sw_text_safe_stem (row->text);
  assert_string_equal (stem, row->expected);
  assert_true (strlen (stem) <= 40);
}

typedef struct
{
  const char *label;
  const char *a, *b;
  gboolean same;
} SameRow;

static const SameRow same_rows[] = {
  { "case", "Packing Shed", "packing shed", TRUE },
  { "blanks", " packing   shed", "packing shed ", TRUE },
  { "composed and not", "caf\xc3\xa9", "cafe\xcc\x81", TRUE },
  { "capital of another script", "\xd0\xa8\xd0\x9a\xd0\x90\xd0\xa4",
    "\xd1\x88\xd0\xba\xd0\xb0\xd1\x84", TRUE },
  { "accent matters", "caf\xc3\xa9", "cafe", FALSE },
  { "different", "packing shed", "packing shed 2", FALSE },
  { "nothing and blank", NULL, "  ", TRUE },
};

static void
same_name (void **state)
{
  const SameRow *row = *state;
  assert_true (sw_text_same_name (row->a, row->b) == row->same);
  assert_true (sw_text_same_name (row->b, row->a) == row->same);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, check, check_rows);
  SW_TEST (tests, check_empty_where_allowed);
  SW_TEST (tests, check_length);
  SW_TEST_ROWS (tests, tidy, tidy_rows);
  SW_TEST_ROWS (tests, printable, printable_rows);
  SW_TEST (tests, printable_with_length);
  SW_TEST (tests, quote);
  SW_TEST_ROWS (tests, safe_stem, stem_rows);
  SW_TEST_ROWS (tests, same_name, same_rows);
  return sw_tests_run (tests, "text");
}
