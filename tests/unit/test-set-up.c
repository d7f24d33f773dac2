/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the set-up of a new catalogue rests on: indented lists, zones, and where it was left. */
#include "sw-test-catalogue.h"

#include "core/base/civil.h"
#include "core/base/outline.h"
#include "core/base/zone-list.h"
#include "core/catalogue/set-up.h"

/* --- indented lists --- */

typedef struct
{
  const char *label, *text;
  const char *paths; /* parted by |; NULL: refused */
  const char *says;
} OutlineRow;

static const OutlineRow outline_rows[] = {
  { "nothing", "", "", NULL },
  { "blank lines", "\n  \n\t\n", "", NULL },
  { "one", "Press house", "Press house", NULL },
  { "two blanks inside", "Press house\n  Loft\nGlasshouse",
    "Press house|Press house > Loft|Glasshouse", NULL },
  { "a tab inside", "Press house\n\tLoft\n\t\tShelf\nGlasshouse",
    "Press house|Press house > Loft|Press house > Loft > Shelf|Glasshouse", NULL },
  { "tab and two blanks are alike", "Press house\n\tLoft\n  Cellar",
    "Press house|Press house > Loft|Press house > Cellar", NULL },
  { "any number of blanks", "Press house\n     Loft\n   Cellar\nShed",
    "Press house|Press house > Loft|Press house > Cellar|Shed", NULL },
  { "all of it set in", "    Press house\n      Loft\n    Shed",
    "Press house|Press house > Loft|Shed", NULL },
  { "back to between two levels", "A\n    B\n  C", "A|A > B|A > C", NULL },
  { "marks in front", "- Press house\n  * Loft\n\xe2\x80\xa2 Shed",
    "Press house|Press house > Loft|Shed", NULL },
  { "a hyphen in a name", "-40 store\nCold-store", "-40 store|Cold-store", NULL },
  { "line ends of another system", "Press house\r\n  Loft\r\n", "Press house|Press house > Loft",
    NULL },
  { "an empty line between", "Press house\n\n  Loft", "Press house|Press house > Loft", NULL },
  { "one name in two places", "A\n  Loft\nB\n  Loft", "A|A > Loft|B|B > Loft", NULL },
  { "twice", "Loft\nShed\nLoft", NULL, "Line 3: \xe2\x80\x98Loft\xe2\x80\x99 stands in line 1" },
  { "twice but for case", "Loft\nLOFT", NULL, "Line 2:" },
  { "twice inside", "A\n  Loft\n  Loft", NULL, "Line 3:" },
  { "a control character", "A\nB\x01", NULL, "Line 2: the name holds a control character" },
  { "ten deep", "1\n 2\n  3\n   4\n    5\n     6\n      7\n       8\n        9\n         0",
    "1|1 > 2|1 > 2 > 3|1 > 2 > 3 > 4|1 > 2 > 3 > 4 > 5|1 > 2 > 3 > 4 > 5 > 6"
    "|1 > 2 > 3 > 4 > 5 > 6 > 7|1 > 2 > 3 > 4 > 5 > 6 > 7 > 8"
    "|1 > 2 > 3 > 4 > 5 > 6 > 7 > 8 > 9|1 > 2 > 3 > 4 > 5 > 6 > 7 > 8 > 9 > 0",
    NULL },
  { "eleven deep",
    "1\n 2\n  3\n   4\n    5\n     6\n      7\n       8\n        9\n         0\n          1", NULL,
    "Line 11:" },
};

static void
outlines (void **state)
{
  const OutlineRow *row = *state;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = sw_outline_parse (row->text, &error);
  g_autoptr (GString) paths = g_string_new (NULL);

  if (row->paths == NULL)
    {
      assert_null (entries);
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      assert_contains (error->message, row->says);
      return;
    }
  assert_no_error (error);
  for (guint i = 0; i < entries->len; i++)
    g_string_append_printf (paths, "%s%s", i > 0 ? "|" : "",
                            ((SwOutlineEntry *)entries->pdata[i])->path);
  assert_string_equal (paths->str, row->paths);
}

static void
a_name_too_long (void **state)
{
  g_autofree char *name = g_strnfill (10001, 'n');
  g_autofree char *text = g_strconcat ("Shed\n  ", name, NULL);
  g_autoptr (GError) error = NULL;

  assert_null (sw_outline_parse (text, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, "Line 2: the name is too long");
}

/* --- zones --- */

static void
zones_are_listed (void **state)
{
  g_auto (GStrv) names = sw_zone_names ();

  assert_true (g_strv_length (names) > 300);
  for (int i = 0; names[i] != NULL; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (SwZone) zone = sw_zone_new (names[i], &error);

      assert_no_error (error);
      assert_non_null (zone);
      assert_true (i == 0 || strcmp (names[i - 1], names[i]) < 0);
    }
  assert_true (g_strv_contains ((const char *const *)names, "Pacific/Auckland"));
}

static void
no_table_is_an_empty_list (void **state)
{
  g_autofree char *before = g_strdup (g_getenv ("TZDIR"));
  g_auto (GStrv) names = NULL;

  g_setenv ("TZDIR", "/nonexistent", TRUE);
  names = sw_zone_names ();
  if (before != NULL)
    g_setenv ("TZDIR", before, TRUE);
  else
    g_unsetenv ("TZDIR");
  assert_i64_equal (g_strv_length (names), 0);
}

typedef struct
{
  const char *label, *tz, *link, *text, *guess;
} GuessRow;

static const GuessRow guess_rows[] = {
  { "by TZ", "Pacific/Auckland", "/usr/share/zoneinfo/Europe/Rome", "Asia/Tokyo\n",
    "Pacific/Auckland" },
  { "by TZ with a colon", ":Europe/Rome", NULL, NULL, "Europe/Rome" },
  { "by a path in TZ", ":/usr/share/zoneinfo/Europe/Rome", NULL, NULL, "Europe/Rome" },
  { "rule text in TZ names none", "NZST-12NZDT,M9.5.0,M4.1.0/3", "/usr/share/zoneinfo/Europe/Rome",
    NULL, "Europe/Rome" },
  { "by the link", NULL, "/usr/share/zoneinfo/Europe/Rome", "Asia/Tokyo\n", "Europe/Rome" },
  { "by a relative link", NULL, "../usr/share/zoneinfo/America/Argentina/Ushuaia", NULL,
    "America/Argentina/Ushuaia" },
  { "a link to nowhere", NULL, "/usr/share/zoneinfo/No/Such", "Asia/Tokyo\n", "Asia/Tokyo" },
  { "by the text", NULL, NULL, "Asia/Tokyo\n", "Asia/Tokyo" },
  { "nothing", NULL, NULL, NULL, NULL },
  { "nonsense", "../../etc/passwd", NULL, "../../etc/passwd", NULL },
};

static void
guesses (void **state)
{
  const GuessRow *row = *state;
  g_autofree char *folder = g_dir_make_tmp ("sw-test-XXXXXX", NULL);
  g_autofree char *link = g_build_filename (folder, "localtime", NULL);
  g_autofree char *text = g_build_filename (folder, "timezone", NULL);
  g_autofree char *guess = NULL;

  if (row->link != NULL)
    assert_int_equal (symlink (row->link, link), 0);
  if (row->text != NULL)
    assert_true (g_file_set_contents (text, row->text, -1, NULL));
  guess = sw_zone_guess_from (row->tz, link, text);
  sw_test_remove_tree (folder);
  if (row->guess == NULL)
    assert_null (guess);
  else
    assert_string_equal (guess, row->guess);
}

/* --- where it was left --- */

static void
it_is_taken_up_where_it_was_left (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SwSetUp) none = sw_set_up_get (bed.catalogue, &error), kept = NULL;
  SwSetUp put = { .step = SW_SET_UP_TRIP,
                  .places = (char *)"Press house\n  Loft",
                  .title = (char *)"Autumn",
                  .first = (char *)"2026-04-",
                  .last = NULL };
  g_autofree char *undo = NULL;

  assert_no_error (error);
  assert_i64_equal (none->step, SW_SET_UP_DONE);
  assert_string_equal (none->places, "");
  assert_true (sw_set_up_put (bed.catalogue, &put, &error));
  sw_test_reopen (&bed);
  kept = sw_set_up_get (bed.catalogue, &error);
  assert_i64_equal (kept->step, SW_SET_UP_TRIP);
  assert_string_equal (kept->places, put.places);
  assert_string_equal (kept->title, "Autumn");
  assert_string_equal (kept->first, "2026-04-");
  assert_string_equal (kept->last, "");
  undo = sw_undo_sentence (bed.catalogue);
  assert_null (undo);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, outlines, outline_rows);
  SW_TEST (tests, a_name_too_long);
  SW_TEST (tests, zones_are_listed);
  SW_TEST (tests, no_table_is_an_empty_list);
  SW_TEST_ROWS (tests, guesses, guess_rows);
  SW_TEST (tests, it_is_taken_up_where_it_was_left);
  return sw_tests_run (tests, "set-up");
}
