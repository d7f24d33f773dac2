/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The readers of the base layer under bytes that nobody meant for them: random ones, and sensible
 * text damaged at random. The seed is fixed, so a failure comes again. What must hold: no crash
 * (the sanitizers watch), a refusal is always a harmless sentence, and what is taken can be printed
 * and read again. */
#include "sw-test.h"

#include "core/base/civil.h"
#include "core/base/mass.h"
#include "core/base/table.h"
#include "core/base/text.h"

#define ROUNDS 20000

/* Pieces that readers look for; damage made of these goes deeper than random bytes. */
static const char *const pieces[] = {
  "0",
  "1",
  "9",
  "00",
  "123",
  "999999999999999999999",
  ".",
  ",",
  ";",
  "'",
  "\"",
  "\"\"",
  "-",
  "+",
  ":",
  "T",
  "Z",
  " ",
  "\t",
  "\n",
  "\r",
  "\r\n",
  "\xc2\xa0",
  "\xe2\x80\xaf",
  "\xe2\x80\x99",
  "kg",
  "t",
  "lb",
  "cwt",
  "g",
  "2026-04-05",
  "21:04:07",
  "+12:00",
  "e9",
  "=",
  "@",
  "\xef\xbb\xbf",
  "\xff\xfe",
  "\xfe\xff",
  "\xff",
  "\xc3",
  "\xed\xa0\x80",
  "\x1b[2J",
  "\x7f",
  "\xe2\x80\xae",
  "a,b\n",
  "item",
  "\xf0\x9f\x9a\x9c",
};

static void
append_piece (GRand *rand, GString *text)
{
  if (g_rand_int_range (rand, 0, 4) == 0)
    g_string_append_c (text, (char)g_rand_int_range (rand, 0, 256));
  else
    g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
}

/* A text of at most n pieces; it may hold zero bytes. */
static GString *
random_text (GRand *rand, int n)
{
  GString *text = g_string_new (NULL);
  for (int i = g_rand_int_range (rand, 0, n + 1); i > 0; i--)
    append_piece (rand, text);
  return text;
}

/* One change to a text: a byte replaced, a piece put in, or a run taken out. */
static void
damage (GRand *rand, GString *text)
{
  gsize at = text->len > 0 ? (gsize)g_rand_int_range (rand, 0, (gint32)text->len) : 0;
  switch (g_rand_int_range (rand, 0, 3))
    {
    case 0:
      if (text->len > 0)
        text->str[at] = (char)g_rand_int_range (rand, 0, 256);
      break;
    case 1:
      g_string_insert (text, (gssize)at, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
      break;
    default:
      g_string_erase (text, (gssize)at, MIN ((gssize)(text->len - at), 3));
    }
}

/* Random, or one of the given texts with up to three changes. */
static GString *
hostile_text (GRand *rand, const char *const *good, gsize n_good)
{
  if (g_rand_int_range (rand, 0, 3) == 0)
    return random_text (rand, 12);
  GString *text = g_string_new (good[g_rand_int_range (rand, 0, (gint32)n_good)]);
  for (int i = g_rand_int_range (rand, 0, 4); i > 0; i--)
    damage (rand, text);
  return text;
}

static void
check_refusal (gboolean taken, const GError *error)
{
  if (taken)
    assert_null (error);
  else
    assert_sw_error (error, SW_ERROR_BAD_INPUT);
}

static void
money (void **state)
{
  static const char *const good[]
      = { "1234.50", "1 234,50", "1'234.50", "1.234.567,89", "-3", "0.05" };
  static const SwCurrency currencies[] = { { "EUR", 2 }, { "JPY", 0 }, { "KWD", 3 } };
  static const SwNumberStyle styles[] = {
    { ".", "," }, { ",", "." }, { ",", "\xe2\x80\xaf" }, { ".", "\xe2\x80\x99" }, { ".", "" }
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);
  int n_taken = 0;
  for (int i = 0; i < ROUNDS; i++)
    {
      g_autoptr (GString) text = hostile_text (rand, good, G_N_ELEMENTS (good));
      g_autoptr (GError) plain_error = NULL, local_error = NULL;
      const SwCurrency *currency = &currencies[i % (int)G_N_ELEMENTS (currencies)];
      const SwNumberStyle *style = &styles[i % (int)G_N_ELEMENTS (styles)];
      SwMoney plain = { 0 }, local = { 0 };
      gboolean is_plain
          = sw_money_parse_plain (text->str, *currency, i % 2 == 0, &plain, &plain_error);
      gboolean is_local = sw_money_parse_local (text->str, *currency, *style, &local, &local_error);
      check_refusal (is_plain, plain_error);
      check_refusal (is_local, local_error);
      n_taken += is_plain + is_local;
      if (is_local)
        {
          assert_true (local.minor >= 0);
          g_autofree char *printed = sw_money_to_local (local, *currency, *style);
          SwMoney back = { -1 };
          assert_true (sw_money_parse_local (printed, *currency, *style, &back, NULL));
          assert_money_equal (back, local.minor);
        }
      if (is_plain)
        {
          g_autofree char *printed = sw_money_to_plain (plain, *currency);
          SwMoney back = { -1 };
          assert_true (sw_money_parse_plain (printed, *currency, TRUE, &back, NULL));
          assert_money_equal (back, plain.minor);
        }
    }
  assert_true (n_taken > ROUNDS / 20);
}

static void
masses (void **state)
{
  static const char *const good[]
      = { "12 kg", "12,5kg", "800 g", "1.2 t", "40 lb", "3 cwt", "0.000001 g" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  int n_taken = 0;
  for (int i = 0; i < ROUNDS; i++)
    {
      g_autoptr (GString) text = hostile_text (rand, good, G_N_ELEMENTS (good));
      g_autoptr (GError) error = NULL;
      SwMass mass = { -1 }, back = { -2 };
      gboolean taken = sw_mass_parse (text->str, &mass, &error);
      check_refusal (taken, error);
      n_taken += taken;
      if (!taken)
        continue;
      g_autofree char *printed = sw_mass_to_text (mass);
      assert_true (mass.ug >= 0);
      assert_true (sw_mass_parse (printed, &back, NULL));
      assert_i64_equal (back.ug, mass.ug);
    }
  assert_true (n_taken > ROUNDS / 20);
}

static void
moments (void **state)
{
  static const char *const good[] = { "2026-04-05",
                                      "2026-04-05T21:04",
                                      "2026-04-05T21:04:07.25+12:00",
                                      "2199-12-31T23:59:59-23:59",
                                      "1900-01-01T00:00Z",
                                      "2025-09-28 02:30" };
  g_autoptr (SwZone) zone = sw_zone_new ("Pacific/Auckland", NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);
  int n_taken = 0;
  for (int i = 0; i < ROUNDS; i++)
    {
      g_autoptr (GString) text = hostile_text (rand, good, G_N_ELEMENTS (good));
      g_autoptr (GError) error = NULL, day_error = NULL, zone_error = NULL;
      SwInstant instant = { 0 }, back = { 1 };
      SwDay day = { 0 };
      gboolean taken = sw_moment_parse (text->str, zone, &instant, NULL, &error);
      check_refusal (taken, error);
      gboolean is_day = sw_day_parse (text->str, &day, &day_error);
      check_refusal (is_day, day_error);
      assert_null (sw_zone_new (text->str, &zone_error));
      assert_sw_error (zone_error, SW_ERROR_BAD_INPUT);
      n_taken += taken;
      if (!taken)
        continue;
      g_autofree char *printed = sw_instant_to_text (instant, zone);
      g_autofree char *year = g_strndup (printed, 4);
      /* an offset may carry the last hours of the range over its edge */
      if (atoi (year) < 1900 || atoi (year) > 2199)
        continue;
      assert_true (sw_moment_parse (printed, zone, &back, NULL, NULL));
      assert_i64_equal (back.us, instant.us);
    }
  assert_true (n_taken > ROUNDS / 20);
}

static void
texts (void **state)
{
  static const char *const good[] = { "Cider press", "  Packing shed \n", "caf\xc3\xa9", "con" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);
  for (int i = 0; i < ROUNDS; i++)
    {
      g_autoptr (GString) text = hostile_text (rand, good, G_N_ELEMENTS (good));
      g_autoptr (GError) error = NULL;
      gboolean fit_text = sw_text_check (text->str, "The name", i % 2 == 0, FALSE, &error);
      check_refusal (fit_text, error);
      g_autofree char *printable = sw_text_printable (text->str, (gssize)text->len);
      g_autofree char *sentence = g_strconcat (printable, ".", NULL);
      assert_true (sw_test_is_sentence (sentence));
      g_autofree char *tidy = sw_text_tidy (text->str);
      g_autofree char *tidy_twice = sw_text_tidy (tidy);
      assert_string_equal (tidy, tidy_twice);
      assert_true (sw_text_same_name (text->str, tidy));
      g_autofree char *stem = sw_text_safe_stem (text->str);
      gsize fit = strspn (stem, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-");
      assert_true (fit >= 1 && fit <= 40 && stem[fit] == '\0');
    }
}

/* Line numbers rise and stay within the file; cells stay within their bounds. */
static void
check_table (const SwTable *table, const GString *text)
{
  int last = 0, lines = 1;
  for (gsize i = 0; i < text->len; i++)
    lines += text->str[i] == '\n' || text->str[i] == '\r';
  for (gsize row = 0; row < sw_table_n_rows (table); row++)
    {
      int line = sw_table_line (table, row);
      assert_true (line > last && line <= lines);
      last = line;
      gsize n_empty = 0, n = sw_table_n_cells (table, row);
      for (gsize i = 0; i < n; i++)
        {
          const char *cell = sw_table_cell (table, row, (int)i);
          assert_true (g_utf8_validate (cell, -1, NULL) && strlen (cell) <= SW_TABLE_CELL_MAX);
          assert_null (strchr (cell, '\r'));
          n_empty += *cell == '\0';
        }
      assert_true (n_empty < n);
    }
}

static void
tables (void **state)
{
  static const char *const good[] = {
    "a,b\n1,2\n3,4\n",
    "a;b;c\r\n1,5;\"x\r\ny\";3\r\n\r\n;;\r\n4;5;6",
    "\xef\xbb\xbf"
    "a\tb\r1\t\"say \"\"when\"\"\"\r",
    "what,item\noffer,5\" pipe\nresult,\" \"\n",
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  int n_taken = 0;
  for (int i = 0; i < ROUNDS; i++)
    {
      g_autoptr (GString) text = hostile_text (rand, good, G_N_ELEMENTS (good));
      g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
      g_autoptr (GError) error = NULL;
      g_autoptr (SwTable) table = sw_table_read (bytes, &error);
      check_refusal (table != NULL, error);
      n_taken += table != NULL;
      if (table != NULL)
        check_table (table, text);
    }
  assert_true (n_taken > ROUNDS / 20);
}

/* A cell that survives trimming and the one spelling of line breaks. */
static char *
random_cell (GRand *rand)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = g_rand_int_range (rand, 0, 6); i > 0; i--)
    append_piece (rand, text);
  g_autofree char *valid = g_utf8_make_valid (text->str, -1);
  g_auto (GStrv) lines = g_strsplit_set (valid, "\r", -1);
  g_autofree char *joined = g_strjoinv ("\n", lines);
  const char *start = joined;
  while (*start != '\0' && g_unichar_isspace (g_utf8_get_char (start)))
    start = g_utf8_next_char (start);
  char *cell = g_strdup (start);
  for (char *end = cell + strlen (cell); end > cell; end = cell + strlen (cell))
    {
      char *last = g_utf8_prev_char (end);
      if (!g_unichar_isspace (g_utf8_get_char (last)))
        break;
      *last = '\0';
    }
  return cell;
}

/* Any cells, written and read: the same cells on the lines where they were put. */
static void
written_tables (void **state)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);
  for (int round = 0; round < 2000; round++)
    {
      g_autoptr (GString) text = g_string_new ("one,two,three\r\n");
      g_autoptr (GPtrArray) cells = g_ptr_array_new_with_free_func (g_free);
      int lines[5], line = 2, n_rows = g_rand_int_range (rand, 1, 6);
      for (int row = 0; row < n_rows; row++)
        {
          lines[row] = line++;
          for (int i = 0; i < 3; i++)
            {
              char *cell = i == 0 ? g_strdup_printf ("row %d", row) : random_cell (rand);
              g_ptr_array_add (cells, cell);
              sw_table_append_cell (text, cell, FALSE);
              g_string_append (text, i < 2 ? "," : "\r\n");
              for (const char *p = cell; *p != '\0'; p++)
                line += *p == '\n';
            }
        }
      g_autoptr (GBytes) bytes = g_bytes_new (text->str, text->len);
      g_autoptr (GError) error = NULL;
      g_autoptr (SwTable) table = sw_table_read (bytes, &error);
      assert_no_error (error);
      assert_i64_equal ((gint64)sw_table_n_rows (table), n_rows);
      for (guint i = 0; i < cells->len; i++)
        assert_string_equal (sw_table_cell (table, i / 3, (int)(i % 3)),
                             g_ptr_array_index (cells, i));
      for (int row = 0; row < n_rows; row++)
        assert_i64_equal (sw_table_line (table, (gsize)row), lines[row]);
    }
}

/* A zone file damaged anywhere is refused or read as some zone; in neither case may anything be
 * read beyond its end. */
static void
zone_files (void **state)
{
  g_autofree char *data = NULL;
  gsize length = 0;
  assert_true (g_file_get_contents ("/usr/share/zoneinfo/Europe/Dublin", &data, &length, NULL));
  g_autofree char *folder = g_dir_make_tmp ("shedwalk-zones-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "Damaged", NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  int n_taken = 0, n_refused = 0, n_unwritten = 0;
  g_setenv ("TZDIR", folder, TRUE);
  for (int i = 0; i < 1500; i++)
    {
      g_autoptr (GString) bytes = g_string_new_len (data, (gssize)length);
      for (int k = g_rand_int_range (rand, 1, 5); k > 0; k--)
        {
          gsize reach = k % 2 == 0 ? MIN (bytes->len, 60) : bytes->len;
          bytes->str[g_rand_int_range (rand, 0, (gint32)reach)]
              = (char)g_rand_int_range (rand, 0, 256);
        }
      if (i % 3 == 0)
        g_string_truncate (bytes, (gsize)g_rand_int_range (rand, 0, (gint32)length));
      if (i % 3 == 1)
        damage (rand, bytes);
      n_unwritten += !g_file_set_contents (path, bytes->str, (gssize)bytes->len, NULL);
      g_autoptr (SwZone) zone = sw_zone_new ("Damaged", NULL);
      n_taken += zone != NULL;
      n_refused += zone == NULL;
      for (int k = 0; zone != NULL && k < 50; k++)
        {
          SwCivil civil = sw_civil_from_us ((gint64)g_rand_double_range (rand, -6e15, 9e15));
          SwInstant instant = sw_civil_to_instant (civil, zone, NULL);
          sw_day_of_instant (instant, zone);
          sw_day_start (sw_day_from_ymd (civil.year, civil.month, civil.day), zone);
        }
    }
  g_unsetenv ("TZDIR");
  g_unlink (path);
  g_rmdir (folder);
  assert_i64_equal (n_unwritten, 0);
  assert_true (n_taken > 50 && n_refused > 50);
}

/* There and back again, at any moment of any year: plain times come back as they went, the second
 * of two becomes the first. */
static void
wall_clocks (void **state)
{
  static const char *const names[]
      = { "Pacific/Auckland",  "Australia/Lord_Howe", "Europe/Dublin", "America/Havana",
          "Africa/Casablanca", "America/St_Johns",    "Pacific/Apia",  "Antarctica/Troll" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (SwZone) zone = sw_zone_new (names[i], NULL);
      assert_non_null (zone);
      for (int round = 0; round < ROUNDS / 8; round++)
        {
          SwInstant instant = { (gint64)g_rand_double_range (rand, -2.2e15, 7.2e15) };
          SwCivilKind kind = SW_CIVIL_GAP;
          SwCivil civil = sw_civil_from_instant (instant, zone, NULL);
          SwInstant back = sw_civil_to_instant (civil, zone, &kind);
          assert_true (kind == SW_CIVIL_FOLD || (kind == SW_CIVIL_PLAIN && back.us == instant.us));
          assert_true (back.us <= instant.us);
          SwDay day = sw_day_of_instant (instant, zone);
          assert_true (sw_day_start (day, zone).us <= instant.us);
          assert_true (sw_day_start ((SwDay){ day.n + 1 }, zone).us > instant.us);
        }
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST (tests, money);
  SW_TEST (tests, masses);
  SW_TEST (tests, moments);
  SW_TEST (tests, texts);
  SW_TEST (tests, tables);
  SW_TEST (tests, written_tables);
  SW_TEST (tests, zone_files);
  SW_TEST (tests, wall_clocks);
  return sw_tests_run (tests, "hostile text");
}
