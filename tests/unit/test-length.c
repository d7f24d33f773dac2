/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths and positions as people type them. Factors of inch and foot: NIST Special Publication
 * 811, 2008, appendix B.8 (from memory). */
#include "core/base/length.h"
#include "core/base/position.h"
#include "sw-test.h"

typedef struct
{
  const char *text;
  gint64 mm; /* 0: refused */
} Row;

static const Row length_rows[] = {
  { "24", 24000 },    { "24 m", 24000 }, { "24.5m", 24500 },   { "24,5 m", 24500 },
  { "80 ft", 24384 }, { "9 in", 229 },   { "2400 mm", 2400 },  { "240 cm", 2400 },
  { " 1  M ", 1000 }, { "0.001", 1 },    { "24,500", 0 },      { "24.1234", 0 },
  { "", 0 },          { "m", 0 },        { "-3 m", 0 },        { "3 km", 0 },
  { "3 m 20", 0 },    { "0", 0 },        { "99999999999", 0 }, { "100001", 0 },
  { "1e3", 0 },       { "3.", 0 },
};

static void
test_length (void **state)
{
  const Row *row = *state;
  GError *error = NULL;
  gint64 mm = -1;
  if (row->mm != 0)
    {
      assert_true (sw_length_parse (row->text, &mm, &error));
      assert_i64_equal (mm, row->mm);
      return;
    }
  assert_false (sw_length_parse (row->text, &mm, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_i64_equal (mm, -1);
  g_clear_error (&error);
}

static void
test_printed (void **state)
{
  static const struct
  {
    gint64 mm;
    const char *text;
  } rows[] = { { 24000, "24 m" },    { 24500, "24.5 m" }, { 350, "0.35 m" },
               { 24384, "24.38 m" }, { 995, "1 m" },      { 50, "0.05 m" } };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = sw_length_to_text (rows[i].mm);
      assert_string_equal (text, rows[i].text);
    }
}

static void
test_position (void **state)
{
  static const char *const bad[] = { "", "1", "1;2", "91,0", "0,181", "1,2,3", "nan,1", "x,y" };
  double latitude = 7, longitude = 7;
  GError *error = NULL;
  assert_true (sw_position_parse (" -41.32 , 174.81 ", &latitude, &longitude, &error));
  assert_true (latitude == -41.32 && longitude == 174.81);
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      assert_false (sw_position_parse (bad[i], &latitude, &longitude, &error));
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      g_clear_error (&error);
    }
  g_autofree char *text = sw_position_to_text (latitude, longitude);
  assert_string_equal (text, "-41.32000, 174.81000");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, test_length, length_rows);
  SW_TEST (tests, test_printed);
  SW_TEST (tests, test_position);
  return sw_tests_run (tests, "length");
}
