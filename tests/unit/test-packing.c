/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the jobs of a trip need, gathered: each thing once, with the lines that it is for. */
#include "core/catalogue/jobs.h"
#include "core/catalogue/trips.h"
#include "core/trip/packing.h"
#include "core/trip/trip-sheet.h"
#include "sw-records.h"

typedef struct
{
  int line;
  const char *tools;
  gint64 hands;
} Needs;

static const struct
{
  const char *label;
  Needs jobs[4];
  const char *packed; /* all of it in one line */
  gint64 hands;
} cases[] = {
  { "nothing", { { 0 } }, "", 0 },
  { "no tools", { { 1, NULL, 1 }, { 2, "", 2 } }, "", 2 },
  { "one", { { 4, "spanner", 1 } }, "spanner for line 4", 1 },
  { "several, however they are parted",
    { { 1, "spanner, drain tray; rags + funnel\nbucket", 1 } },
    "spanner for line 1|drain tray for line 1|rags for line 1|funnel for line 1|bucket for line 1",
    1 },
  { "the same again but for case and blanks",
    { { 2, "Pipe  wrench", 1 }, { 5, " pipe wrench ,rags", 3 }, { 9, "PIPE WRENCH", 1 } },
    "Pipe wrench for lines 2, 5, 9|rags for line 5",
    3 },
  { "twice in one line", { { 7, "rags, rags", 1 } }, "rags for line 7", 1 },
  { "commas alone", { { 1, " , ;;\n", 1 } }, "", 1 },
};

static char *
all_packed (const SwPacking *packing)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < packing->things->len; i++)
    {
      const SwPackingThing *thing = g_ptr_array_index (packing->things, i);
      g_autofree char *words = sw_packing_thing_words (thing);

      g_string_append_printf (text, "%s%s %s", i > 0 ? "|" : "", thing->name, words);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
test_gathered (void **state)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (SwPacking) packing = sw_packing_new ();
      g_autofree char *packed = NULL;

      for (gsize k = 0; k < 4 && cases[i].jobs[k].line != 0; k++)
        sw_packing_add_job (packing, cases[i].jobs[k].line, cases[i].jobs[k].tools,
                            cases[i].jobs[k].hands);
      packed = all_packed (packing);
      if (g_strcmp0 (packed, cases[i].packed) != 0)
        fail_msg ("%s: %s", cases[i].label, packed);
      assert_int_equal (packing->hands, cases[i].hands);
    }
}

/* Numbered as on the sheet; a job that is done needs nothing any more. */
static void
test_of_a_sheet (void **state)
{
  Records records = records_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SwTripSheet) sheet = NULL;
  g_autofree char *packed = NULL;
  gint64 place = records_place (&records, "Cooperage"), trip = 0, done = 0;
  SwDay first, last;

  assert_true (sw_day_parse ("2026-04-03", &first, &error));
  assert_true (sw_day_parse ("2026-04-06", &last, &error));
  sw_trip_add (records.catalogue, "Autumn", first, last, &trip, &error);
  sw_job_add_with (records.catalogue, 0, place, "take off", "hoops", "hammer, chisel", 2, NULL,
                   &error);
  sw_job_add_with (records.catalogue, 0, place, "clean", "floor", "broom", 1, &done, &error);
  sw_job_add_with (records.catalogue, 0, place, "cut", "staves", "saw, hammer", 1, NULL, &error);
  sw_job_set_done (records.catalogue, done, TRUE, &error);
  assert_no_error (error);
  sheet = sw_trip_sheet (records.catalogue, trip, 1000, NULL, &error);
  assert_no_error (error);
  packed = all_packed (sheet->pack);
  assert_string_equal (packed, "hammer for lines 1, 2|chisel for line 1|saw for line 2");
  assert_int_equal (sheet->pack->hands, 2);
  records_clear (&records);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_gathered),
    cmocka_unit_test (test_of_a_sheet),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
