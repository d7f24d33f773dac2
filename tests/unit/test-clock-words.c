/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said of a camera's clock: each thing known of it in a plain line, and nothing that is not
 * known. */
#include "sw-test.h"

#include "core/match/clock-words.h"

typedef struct
{
  const char *label;
  SwPairingClock clock;
  guint n_faces;
  SwPairingClockPart parts[2]; /* from_photo 0: none */
  const char *lines;
} Row;

#define AT(hour, minute) (((hour)*60 + (minute)) * 60 * SW_US_PER_SECOND)

static const Row rows[] = {
  { "nothing is known", { .known = FALSE }, 0, { { 0 } }, "unknown, taken as right" },
  { "right",
    { .known = TRUE, .spread_s = 2.2, .counts = { .notes = 5 } },
    0,
    { { 0 } },
    "left as it is, give or take 3 s: 5 field notes" },
  { "one of each, an hour slow",
    { .known = TRUE,
      .shift_s = 3600,
      .spread_s = 5,
      .counts = { .notes = 1, .faces = 1, .fixes = 1, .beside = 1 } },
    1,
    { { 0 } },
    "put forward 1 h, give or take 5 s: 1 clock read in a picture, 1 field note, 1 position fix, "
    "1 photo beside another camera's" },
  { "two of each, days fast",
    { .known = TRUE,
      .shift_s = -(2 * 86400 + 3 * 3600 + 4 * 60 + 5),
      .spread_s = 9.5,
      .counts = { .faces = 2, .fixes = 2, .beside = 2 } },
    2,
    { { 0 } },
    "put back 2 d 3 h 4 min 5 s, give or take 10 s: 2 clocks read in pictures, 2 position fixes, "
    "2 photos beside another camera's" },
  { "less than half a second",
    { .known = TRUE, .set_by_person = TRUE, .shift_s = -0.4 },
    0,
    { { 0 } },
    "left as it is, as you set it" },
  { "set by the person, whatever faces say",
    { .known = TRUE, .set_by_person = TRUE, .shift_s = 40 },
    3,
    { { 0 } },
    "put forward 40 s, as you set it" },
  { "beside another",
    { .known = TRUE, .beside = TRUE, .shift_s = 60, .counts = { .beside = 4 } },
    0,
    { { 0 } },
    "put forward 1 min to go with the other camera, whose own clock nothing tells of: 4 photos "
    "beside another camera's" },
  { "two likely shifts",
    { .known = TRUE, .spread_s = 1, .counts = { .notes = 2 }, .other_s = 3600, .other_share = 0.2 },
    0,
    { { 0 } },
    "left as it is, give or take 1 s: 2 field notes|it could also be put forward 1 h (20%)" },
  { "a wall clock that stands still",
    { .known = TRUE, .spread_s = 1, .counts = { .notes = 2, .faces = 1 } },
    2,
    { { 0 } },
    "left as it is, give or take 1 s: 1 clock read in a picture, 2 field notes|1 clock read in a "
    "picture speaks against that and is left out; set the shift if it is right" },
  { "two of them",
    { .known = TRUE, .spread_s = 1, .counts = { .notes = 2 } },
    2,
    { { 0 } },
    "left as it is, give or take 1 s: 2 field notes|2 clocks read in pictures speak against that "
    "and are left out; set the shift if they are right" },
  { "slow",
    { .known = TRUE, .spread_s = 1, .counts = { .notes = 2 }, .drift_s_day = 1.25 },
    0,
    { { 0 } },
    "left as it is, give or take 1 s: 2 field notes|it loses 1.2 s a day" },
  { "fast",
    { .known = TRUE, .spread_s = 1, .counts = { .notes = 2 }, .drift_s_day = -0.5 },
    0,
    { { 0 } },
    "left as it is, give or take 1 s: 2 field notes|it gains 0.5 s a day" },
  { "changed on the way: which part a face speaks for is open",
    { .known = TRUE, .spread_s = 1, .counts = { .notes = 2 } },
    1,
    { { 17, AT (9, 5), 3600, 3600, FALSE }, { 30, AT (23, 59), 0, -3600, TRUE } },
    "left as it is, give or take 1 s: 2 field notes|put forward 1 h from 09:05 on (photo 17)|"
    "put back 1 h from 23:59 on (photo 30), as you set it" },
};

static void
says (void **state)
{
  const Row *row = *state;
  SwPairingClock clock = row->clock;
  g_autoptr (GPtrArray) lines = NULL;
  g_autofree char *all = NULL;

  clock.parts = g_array_new (FALSE, TRUE, sizeof (SwPairingClockPart));
  clock.faces = g_array_new (FALSE, TRUE, sizeof (SwClockFace));
  g_array_set_size (clock.faces, row->n_faces);
  for (gsize k = 0; k < G_N_ELEMENTS (row->parts) && row->parts[k].from_photo != 0; k++)
    g_array_append_val (clock.parts, row->parts[k]);
  lines = sw_clock_words (&clock);
  g_ptr_array_add (lines, NULL);
  all = g_strjoinv ("|", (char **)lines->pdata);
  assert_string_equal (all, row->lines);
  g_array_unref (clock.parts);
  g_array_unref (clock.faces);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, says, rows);
  return sw_tests_run (tests, "clock-words");
}
