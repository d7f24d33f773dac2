/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How locales write money and days, against the locale sources of the GNU C Library (2.36, 2022,
 * which follow the Unicode Common Locale Data Repository). The locales are compiled into a
 * temporary folder, so none need be installed. */
#include "../unit/sw-test.h"
#include "core/base/plain-time.h"

#include <locale.h>

typedef struct
{
  const char *label;
  const char *source, *charset;
  const char *decimal, *grouping;
  const char *amount;   /* 1234567.89 */
  const char *day;      /* 14 August 2026; the order is that of the sentences' language */
  const char *typed[6]; /* 3 April 2026 as people there type it; NULL ends them */
} Row;

#define NNBSP "\xe2\x80\xaf"
#define CURLY "\xe2\x80\x99"
#define NBSP "\xc2\xa0"

static const Row rows[] = {
  { "Germany",
    "de_DE",
    "UTF-8",
    ",",
    ".",
    "1.234.567,89",
    "14 August 2026",
    { "03.04.2026", "3.4.", "3. Apr", "3. April 2026", "3/4/26", NULL } },
  { "Great Britain",
    "en_GB",
    "UTF-8",
    ".",
    ",",
    "1,234,567.89",
    "14 August 2026",
    { "03/04/2026", "3/4", "3 Apr", "3 April 2026", "03-04-26", NULL } },
  { "United States",
    "en_US",
    "UTF-8",
    ".",
    ",",
    "1,234,567.89",
    "14 August 2026",
    { "04/03/2026", "4/3", "Apr 3", "April 3, 2026", "4-3-26", NULL } },
  { "New Zealand",
    "en_NZ",
    "UTF-8",
    ".",
    ",",
    "1,234,567.89",
    "14 August 2026",
    { "3/04/2026", "3/4", "3 Apr", NULL } },
  { "France",
    "fr_FR",
    "UTF-8",
    ",",
    NNBSP,
    "1" NNBSP "234" NNBSP "567,89",
    "14 ao\xc3\xbbt 2026",
    { "03/04/2026", "3 avr.", "3 avril 2026", "vendredi 3 avril", NULL } },
  { "Switzerland",
    "de_CH",
    "UTF-8",
    ".",
    CURLY,
    "1" CURLY "234" CURLY "567.89",
    "14 August 2026",
    { "03.04.2026", "3. April", NULL } },
  { "France, before Unicode",
    "fr_FR",
    "ISO-8859-1",
    ",",
    NBSP,
    "1" NBSP "234" NBSP "567,89",
    "14 ao\xc3\xbbt 2026",
    { "03/04/2026", "3 avril 2026", NULL } },
};

static gboolean
compile_locale (const Row *row, const char *path)
{
  const char *argv[]
      = { "localedef", "--no-archive", "-i", row->source, "-f", row->charset, path, NULL };
  g_autoptr (GError) error = NULL;
  int status = -1;
  g_spawn_sync (NULL, (char **)(gsize)argv, NULL,
                G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                NULL, NULL, NULL, &status, &error);
  if (error != NULL)
    print_error ("localedef: %s\n", error->message);
  return error == NULL && status == 0;
}

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir
      = g_file_test (path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open (path, 0, NULL);
  const char *name;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);
      remove_tree (inside);
    }
  g_remove (path);
}

/* What was not read as the day it is, while the locale is set; what the program writes itself is
 * read back too. Transfer full. */
static char *
typed_wrongly (const Row *row, const char *written)
{
  const SwDay today = sw_day_from_ymd (2026, 5, 1), april = sw_day_from_ymd (2026, 4, 3);
  GString *wrong = g_string_new (NULL);
  SwDay day = { 0 };
  if (!sw_day_from_person (written, today, SW_DAY_NEAR, &day, NULL)
      || day.n != sw_day_from_ymd (2026, 8, 14).n)
    g_string_append_printf (wrong, "%s\n", written);
  for (const char *const *typed = row->typed; *typed != NULL; typed++)
    if (!sw_day_from_person (*typed, today, SW_DAY_NEAR, &day, NULL) || day.n != april.n)
      g_string_append_printf (wrong, "%s\n", *typed);
  return g_string_free (wrong, FALSE);
}

static void
style (void **state)
{
  const Row *row = *state;
  g_autofree char *folder = g_dir_make_tmp ("shedwalk-locale-XXXXXX", NULL);
  g_autofree char *name = g_strconcat (row->source, ".", row->charset, NULL);
  g_autofree char *path = g_build_filename (folder, name, NULL);
  gboolean compiled = compile_locale (row, path);
  g_setenv ("LOCPATH", folder, TRUE);
  gboolean set = setlocale (LC_ALL, name) != NULL;
  SwNumberStyle found = sw_number_style_from_locale ();
  const SwDay day = sw_day_from_ymd (2026, 8, 14);
  g_autofree char *written = sw_day_to_person (day);
  g_autofree char *wrong = typed_wrongly (row, written);
  setlocale (LC_ALL, "C");
  g_autofree char *plain = sw_day_to_person (day);
  g_unsetenv ("LOCPATH");
  remove_tree (folder);
  assert_true (compiled);
  assert_true (set);
  assert_string_equal (found.decimal, row->decimal);
  assert_string_equal (found.grouping, row->grouping);
  assert_string_equal (written, row->day);
  assert_string_equal (wrong, "");
  assert_string_equal (plain, "2026-08-14");

  SwCurrency eur = { "EUR", 2 };
  g_autofree char *text = sw_money_to_local (sw_money (123456789), eur, found);
  assert_string_equal (text, row->amount);
  SwMoney back = { -1 };
  assert_true (sw_money_parse_local (row->amount, eur, found, &back, NULL));
  assert_money_equal (back, 123456789);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, style, rows);
  return sw_tests_run (tests, "locales");
}
