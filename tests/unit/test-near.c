/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names close to one typed: order, limits, text that is none. */
#include "core/catalogue/near.h"
#include "sw-test.h"

typedef struct
{
  const char *label, *typed, *words; /* words NULL: none is close */
} Row;

static const char *const names[] = {
  "Press house",
  "Press",
  "Packing shed",
  "Cold store",
  "Cold stove",
  "Kontrollhaus \xC3\x84u\xC3\x9F"
  "erstes",
};

static const Row rows[] = {
  { "capitals", "cold STORE", "'Cold store' or 'Cold stove'" },
  { "beginning", "Pac", "'Packing shed'" },
  { "longer than a name", "Press house yard", "'Press house' or 'Press'" },
  { "a letter more", "Packing sheed", "'Packing shed'" },
  { "neighbours swapped", "Pakcing shed", "'Packing shed'" },
  { "umlaut in other case",
    "kontrollhaus \xC3\xA4u\xC3\x9F"
    "erstes",
    "'Kontrollhaus \xC3\x84u\xC3\x9F"
    "erstes'" },
  { "two letters begin too much", "Pa", NULL },
  { "far", "Glasshouse", NULL },
  { "nothing", "", NULL },
  { "invalid UTF-8", "\xFF\xFE", NULL },
};

static void
test_near (void **state)
{
  const Row *row = *state;
  g_autoptr (SwNear) near_names = sw_near_new (row->typed);
  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    sw_near_consider (near_names, names[i]);
  g_autofree char *words = sw_near_words (near_names);
  if (row->words == NULL)
    assert_null (words);
  else
    assert_string_equal (words, row->words);
}

static void
test_three_at_most_and_the_best (void **state)
{
  g_autoptr (SwNear) near_names = sw_near_new ("crate 1");
  const char *const crates[] = { "crate 2", "crate 3", "crate 4", "crate 12", "CRATE 1" };
  for (gsize i = 0; i < G_N_ELEMENTS (crates); i++)
    sw_near_consider (near_names, crates[i]);
  g_autofree char *words = sw_near_words (near_names);
  assert_string_equal (words, "'CRATE 1', 'crate 12' or 'crate 2'");
}

static void
test_long_names (void **state)
{
  g_autofree char *typed = g_strnfill (100000, 'x');
  g_autofree char *name = g_strnfill (100000, 'y');
  g_autoptr (SwNear) near_names = sw_near_new (typed);
  sw_near_consider (near_names, name);
  g_autofree char *words = sw_near_words (near_names);
  assert_null (words);
}

static void
test_numbers (void **state)
{
  static const struct
  {
    const char *text;
    gboolean is;
    gint64 number;
  } cases[] = {
    { "0", TRUE, 0 },
    { "12", TRUE, 12 },
    { "0012", TRUE, 12 },
    { "", FALSE, 0 },
    { "-1", FALSE, 0 },
    { "+1", FALSE, 0 },
    { " 1", FALSE, 0 },
    { "1x", FALSE, 0 },
    { "999999999999999999", TRUE, 999999999999999999 },
    { "1000000000000000000", FALSE, 0 },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      gint64 number = -7;
      assert_int_equal (sw_near_is_number (cases[i].text, &number), cases[i].is);
      assert_i64_equal (number, cases[i].is ? cases[i].number : -7);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_near, rows);
  SW_TEST (tests, test_three_at_most_and_the_best);
  SW_TEST (tests, test_long_names);
  SW_TEST (tests, test_numbers);
  return sw_tests_run (tests, "near");
}
