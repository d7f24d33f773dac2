/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cameras' clocks on drawn walks: each kind of evidence alone, a third of it wrong, drift, changes
 * on the way, cameras beside each other, and what is not known. */
#include "sw-test.h"

#include "core/match/clock.h"
#include "core/match/stops.h"

#include <math.h>

#define S SW_US_PER_SECOND
#define T0 (G_GINT64_CONSTANT (1781946000) * S)
#define THINGS 30
#define EACH 4

/* A person walks past THINGS things, takes EACH photos of every one and writes a note some seconds
 * later. All in property time; the tests then put the clocks wrong. */
typedef struct
{
  SwWalkPhoto photos[THINGS * EACH];
  SwWalkNote notes[THINGS];
  SwWalkItem items[THINGS];
  SwWalkCamera cameras[3];
  SwWalkZoneStep steps[1];
  SwWalkClockSet sets[1];
  SwWalk walk;
  guint seed;
} Drawn;

/* The generator of the C standard's example (ISO/IEC 9899:1999, 7.20.2.2). */
static int
draw (Drawn *drawn, int low, int high)
{
  drawn->seed = drawn->seed * 1103515245u + 12345u;
  return low + (int)(drawn->seed / 65536u % 32768u) % (high - low + 1);
}

static void
drawn_init (Drawn *drawn, guint seed)
{
  gint64 now = T0;

  memset (drawn, 0, sizeof *drawn);
  drawn->seed = seed;
  for (int k = 0; k < THINGS; k++)
    {
      now += draw (drawn, 40, 150) * S;
      for (int i = 0; i < EACH; i++)
        {
          drawn->photos[k * EACH + i] = (SwWalkPhoto){ .id = k * EACH + i + 1,
                                                       .clock_us = now,
                                                       .resolution_us = S,
                                                       .decided = SW_WALK_OPEN,
                                                       .place = -1 };
          if (i + 1 < EACH)
            now += draw (drawn, 3, 12) * S;
        }
      drawn->items[k] = (SwWalkItem){ .name = "apple mill", .place = -1 };
      drawn->notes[k] = (SwWalkNote){ now + draw (drawn, 8, 16) * S, S, -1, k };
    }
  drawn->walk = (SwWalk){ .photos = drawn->photos,
                          .n_photos = THINGS * EACH,
                          .notes = drawn->notes,
                          .n_notes = THINGS,
                          .items = drawn->items,
                          .n_items = THINGS,
                          .cameras = drawn->cameras,
                          .n_cameras = 1 };
}

/* From that photo on the camera's clock lacks so many seconds more. */
static void
put_wrong (Drawn *drawn, int camera, gsize from, double lacks_s)
{
  for (gsize i = from; i < drawn->walk.n_photos; i++)
    if (drawn->photos[i].camera == camera)
      drawn->photos[i].clock_us -= (gint64)(lacks_s * 1e6);
}

static void
assert_near (double value, double expected, double within)
{
  if (!(fabs (value - expected) <= within))
    fail_msg ("%.2f is not within %.2f of %.2f", value, within, expected);
}

typedef struct
{
  const char *label;
  double lacks_s;
} ShiftRow;
static const ShiftRow shift_rows[] = {
  { "right", 0 },
  { "minutes behind", 317 },
  { "an hour ahead", -3600 },
  { "a day behind", 86400 },
  { "an hour and a bit", 3600 + 41 },
};

static void
test_notes (void **state)
{
  const ShiftRow *row = *state;
  Drawn drawn;

  drawn_init (&drawn, 5);
  put_wrong (&drawn, 0, 0, row->lacks_s);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_true (proposal->clocks[0].known);
  assert_near (proposal->clocks[0].shift_s, row->lacks_s, 6);
  assert_true (proposal->clocks[0].counts.notes >= THINGS * 9 / 10);
  assert_i64_equal (proposal->n_parts, 0);
}

/* Every third note is wrong by minutes, this way and that. */
static void
test_a_third_wrong (void **state)
{
  const ShiftRow *row = *state;
  Drawn drawn;

  drawn_init (&drawn, 9);
  put_wrong (&drawn, 0, 0, row->lacks_s);
  for (int k = 0; k < THINGS; k += 3)
    drawn.notes[k].time_us += draw (&drawn, 120, 900) * (k % 2 ? -S : S);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_true (proposal->clocks[0].known);
  assert_near (proposal->clocks[0].shift_s, row->lacks_s, 8);
}

static void
test_unknown (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 3);
  drawn.walk.n_notes = 0;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_false (proposal->clocks[0].known);
  assert_true (proposal->clocks[0].shift_s == 0);
  assert_i64_equal (proposal->clocks[0].evidence, 0);
  g_autofree char *text = sw_stops_explain (&drawn.walk, proposal, 0);
  assert_contains (text, "nothing says whether it is right");
}

/* --- a clock in a picture --- */

static void
read_face (Drawn *drawn, gsize photo, double lacks_s, gboolean dateless)
{
  SwWalkPhoto *one = &drawn->photos[photo];

  one->has_seen = TRUE;
  one->seen_us = one->clock_us + (gint64)(lacks_s * 1e6);
  one->seen_dateless = dateless;
}

static void
test_face (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 4);
  drawn.walk.n_notes = 0;
  read_face (&drawn, 17, -1234, FALSE);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_true (proposal->clocks[0].known);
  assert_near (proposal->clocks[0].shift_s, -1234, 3);
  assert_i64_equal (proposal->clocks[0].counts.faces, 1);
  /* to the minute: somewhere in it */
  drawn.photos[17].seen_resolution_us = 60 * S;
  g_autoptr (SwProposal) minute = sw_stops_propose (&drawn.walk);
  assert_near (minute->clocks[0].shift_s, -1234 + 30, 33);
  assert_true (minute->clocks[0].spread_s > 5);
}

/* A dial tells no day: the nearest one is taken. */
static void
test_face_without_day (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 4);
  drawn.walk.n_notes = 0;
  read_face (&drawn, 17, 5400 + 3 * 86400, TRUE);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_near (remainder (proposal->clocks[0].shift_s - 5400, 86400), 0, 3);
}

/* Two of three pictures agree. */
static void
test_face_misread (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 4);
  drawn.walk.n_notes = 0;
  read_face (&drawn, 17, 250, FALSE);
  read_face (&drawn, 50, 252, FALSE);
  read_face (&drawn, 90, -2900, FALSE);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_near (proposal->clocks[0].shift_s, 251, 3);
  assert_i64_equal (proposal->clocks[0].counts.faces, 2);
}

/* --- position fixes --- */

/* Fixes of every photo: fresh, but for the share that bears one made minutes before. */
static void
fix_positions (Drawn *drawn, double lacks_s, int old_of_ten)
{
  gint64 last = 0;

  for (gsize i = 0; i < drawn->walk.n_photos; i++)
    {
      SwWalkPhoto *photo = &drawn->photos[i];
      gint64 now = photo->clock_us + (gint64)(lacks_s * 1e6);

      if (last == 0 || draw (drawn, 1, 10) > old_of_ten)
        last = now;
      photo->has_fix = TRUE;
      photo->fix_us = last;
    }
}

static void
test_fixes (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 6);
  drawn.walk.n_notes = 0;
  fix_positions (&drawn, 471, 6);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_true (proposal->clocks[0].known);
  assert_near (proposal->clocks[0].shift_s, 471, 3);
  assert_true (proposal->clocks[0].counts.fixes > 10);
}

/* One fix for all photos, made long before the first: no clock. */
static void
test_old_fix (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 6);
  drawn.walk.n_notes = 0;
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    {
      drawn.photos[i].has_fix = TRUE;
      drawn.photos[i].fix_us = T0 - 5400 * S;
    }
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_true (!proposal->clocks[0].known || proposal->clocks[0].spread_s > 60
               || fabs (proposal->clocks[0].shift_s) < 3);
}

/* --- drift and changes --- */

/* Three days, ten things each; the clock loses a second an hour. */
static void
test_drift (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 8);
  drawn.walk.n_notes = 0;
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    drawn.photos[i].clock_us += (gint64)(i / (10 * EACH)) * 86400 * S;
  fix_positions (&drawn, 0, 0);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    drawn.photos[i].clock_us -= (drawn.photos[i].clock_us - T0) / 3600;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_near (proposal->clocks[0].drift_s_day, 24, 2);
  for (gsize i = 0; i < drawn.walk.n_photos; i += 7)
    assert_near ((double)(proposal->views[i].t_us - drawn.photos[i].fix_us) / 1e6, 0, 4);
}

static void
test_no_drift_of_a_steady_clock (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 8);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    drawn.photos[i].clock_us += (gint64)(i / (10 * EACH)) * 86400 * S;
  for (gsize k = 0; k < THINGS; k++)
    drawn.notes[k].time_us += (gint64)(k / 10) * 86400 * S;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_true (proposal->clocks[0].drift_s_day == 0);
  assert_near (proposal->clocks[0].shift_s, 0, 5);
}

/* Notes jotted down sooner or later after each thing, or after every fourth: their times alone
 * leave it open whether the clock drifts, so that the whole model is asked, which knows their
 * order. */
typedef struct
{
  const char *label;
  gsize every;
  double rate; /* seconds a day that the clock loses */
} RateRow;
static const RateRow rate_rows[] = {
  { "a steady clock", 1, 0 },
  { "a quarter of a minute a day", 4, 16 },
  { "half a minute a day", 4, 30 },
  { "a minute a day, gained", 4, -60 },
};

/* By how much the notes come later each day than the one before, in seconds: the slope of a line
 * fitted by least squares. Nothing tells that from drift. */
static double
later_each_day (const Drawn *drawn, const gint64 *ends_us)
{
  double n = (double)drawn->walk.n_notes, days = 0, lags = 0, squares = 0, products = 0;

  for (gsize k = 0; k < drawn->walk.n_notes; k++)
    {
      double day = (double)(drawn->notes[k].time_us - T0) / 86400e6;
      double lag = (double)(drawn->notes[k].time_us - ends_us[drawn->notes[k].item]) / 1e6;

      days += day;
      lags += lag;
      squares += day * day;
      products += day * lag;
    }
  return (products - days * lags / n) / (squares - days * days / n);
}

static void
drift_by_loose_notes (void **state)
{
  const RateRow *row = *state;
  gint64 ends_us[THINGS];
  double rate;
  Drawn drawn;

  drawn_init (&drawn, 2);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    {
      gint64 *clock_us = &drawn.photos[i].clock_us;

      *clock_us += (gint64)(i / (10 * EACH)) * 86400 * S;
      ends_us[i / EACH] = *clock_us;
      *clock_us -= (gint64)((double)(*clock_us - T0) / 86400 * row->rate);
    }
  for (gsize k = 0; k < THINGS; k++)
    drawn.notes[k].time_us += ((gint64)(k / 10) * 86400 + draw (&drawn, 0, 20)) * S;
  drawn.walk.n_notes = 0;
  for (gsize k = 0; k < THINGS; k += row->every)
    drawn.notes[drawn.walk.n_notes++] = drawn.notes[k];
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  rate = row->rate == 0 ? 0 : row->rate + later_each_day (&drawn, ends_us);
  assert_near (proposal->clocks[0].drift_s_day, rate, row->rate == 0 ? 0 : 4);
  assert_near (proposal->clocks[0].shift_s, 0, 5);
}

static const RateRow beside_rows[] = {
  { "a steady clock beside another", 0, 0 },
  { "half a minute a day beside another", 0, 30 },
  { "a minute a day beside another, gained", 0, -60 },
};

/* No notes; of every thing a second camera takes one photo in between. Its clock goes otherwise
 * than the first one's, which nothing but the pauses tells. */
static void
drift_beside (void **state)
{
  const RateRow *row = *state;
  gint64 days_us[THINGS * EACH], first_us = 0;
  Drawn drawn;

  drawn_init (&drawn, 5);
  drawn.walk.n_notes = 0;
  drawn.walk.n_cameras = 2;
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    {
      gint64 *clock_us = &drawn.photos[i].clock_us;

      *clock_us += (gint64)(i / (15 * EACH)) * 86400 * S;
      days_us[i] = *clock_us;
      if (i % EACH != 1)
        continue;
      if (first_us == 0)
        first_us = *clock_us;
      drawn.photos[i].camera = 1;
      *clock_us -= 3600 * S + (gint64)((double)(*clock_us - first_us) / 86400 * row->rate);
    }
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_near (proposal->clocks[1].drift_s_day, row->rate, row->rate == 0 ? 0 : 6);
  /* What each has by the other tells how they go together, not what time it was. */
  assert_false (proposal->clocks[0].known);
  assert_true (proposal->clocks[1].beside_s > 0 && proposal->clocks[1].spread_s > 60);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    assert_near ((double)(proposal->views[i].t_us - days_us[i]) / 1e6, 0, 6);
}

static const ShiftRow change_rows[] = {
  { "an hour back on the way", 3600 },
  { "an hour on on the way", -3600 },
  { "a flat battery: another year", 3e8 },
  { "a flat battery: another year, near a whole hour", 299998800.0 + 20 },
};

/* From the middle on the clock goes otherwise. */
static void
test_change (void **state)
{
  const ShiftRow *row = *state;
  const gsize from = THINGS / 2 * EACH;
  Drawn drawn;
  double error = 0;

  drawn_init (&drawn, 12);
  g_autofree gint64 *truth = g_new (gint64, drawn.walk.n_photos);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    truth[i] = drawn.photos[i].clock_us;
  put_wrong (&drawn, 0, from, row->lacks_s);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_i64_equal (proposal->n_parts, 1);
  assert_near (proposal->parts[0].from, (double)from, EACH);
  assert_near (proposal->parts[0].step_s, row->lacks_s, 15);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    if (i < from - EACH || i >= from + EACH)
      error = MAX (error, fabs ((double)(proposal->views[i].t_us - truth[i]) / 1e6));
  assert_near (error, 0, 20);
}

/* The night of 2024-04-07 in Auckland: at 14:00 UTC of the 6th civil time fell from 03:00 to 02:00
 * (IANA time zone database 2025b, read with zdump); the camera did not follow. */
static void
test_season (void **state)
{
  const gint64 change = sw_civil_to_us ((SwCivil){ .year = 2024, .month = 4, .day = 7, .hour = 2 });
  const gsize from = THINGS / 2 * EACH;
  Drawn drawn;

  drawn_init (&drawn, 14);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    drawn.photos[i].clock_us += change - T0 - 12 * 3600 * S + (i >= from ? 18 * 3600 * S : 0);
  for (gsize k = 0; k < THINGS; k++)
    drawn.notes[k].time_us += change - T0 - 12 * 3600 * S + (k * EACH >= from ? 17 * 3600 * S : 0);
  drawn.steps[0] = (SwWalkZoneStep){ change, -3600 };
  drawn.walk.zone_steps = drawn.steps;
  drawn.walk.n_zone_steps = 1;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_near (proposal->clocks[0].shift_s, 0, 6);
  assert_i64_equal (proposal->n_parts, 1);
  assert_i64_equal (proposal->parts[0].from, from);
  assert_true (proposal->parts[0].step_s == -3600);
  g_autofree char *text = sw_stops_explain (&drawn.walk, proposal, (guint)from);
  assert_contains (text, "put back 1 h from");
}

/* --- the person's word --- */

static void
test_override (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 5);
  fix_positions (&drawn, 0, 0);
  read_face (&drawn, 10, 0, FALSE);
  drawn.cameras[0] = (SwWalkCamera){ .fixed = TRUE, .shift_s = 7200 };
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_true (proposal->clocks[0].known && proposal->clocks[0].shift_s == 7200);
  assert_i64_equal (proposal->n_parts, 0);
  for (gsize i = 0; i < drawn.walk.n_photos; i++)
    assert_i64_equal (proposal->views[i].t_us, drawn.photos[i].clock_us + 7200 * S);
}

static void
test_override_from (void **state)
{
  const guint from = 60;
  Drawn drawn;

  drawn_init (&drawn, 5);
  drawn.sets[0] = (SwWalkClockSet){ from, -500 };
  drawn.cameras[0].sets = drawn.sets;
  drawn.cameras[0].n_sets = 1;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_near (proposal->clocks[0].shift_s, 0, 6);
  assert_i64_equal (proposal->n_parts, 1);
  assert_true (proposal->parts[0].set);
  for (guint i = from; i < drawn.walk.n_photos; i++)
    assert_i64_equal (proposal->views[i].t_us, drawn.photos[i].clock_us - 500 * S);
}

/* --- other cameras --- */

static void
second_camera (Drawn *drawn, double lacks_s)
{
  drawn->walk.n_cameras = 2;
  for (gsize i = 0; i < drawn->walk.n_photos; i++)
    if (i % EACH == 1 || i % EACH == 3)
      drawn->photos[i].camera = 1;
  put_wrong (drawn, 1, 0, lacks_s);
}

static void
test_second_camera (void **state)
{
  const ShiftRow *row = *state;
  Drawn drawn;

  drawn_init (&drawn, 21);
  second_camera (&drawn, row->lacks_s);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_near (proposal->clocks[0].shift_s, 0, 6);
  assert_true (proposal->clocks[1].known);
  assert_near (proposal->clocks[1].shift_s, row->lacks_s, 8);
  assert_true (proposal->clocks[1].counts.beside > THINGS);
}

/* Without notes the second goes with the first; how that one went stays open. */
static void
test_beside (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 21);
  second_camera (&drawn, -3600);
  drawn.walk.n_notes = 0;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  assert_false (proposal->clocks[0].known);
  assert_true (proposal->clocks[1].known);
  assert_near (proposal->clocks[1].shift_s, -3600, 5);
  assert_true (proposal->clocks[1].beside_s > 0 && proposal->clocks[1].beside_s < 20);
  assert_true (proposal->clocks[1].spread_s > 100);
}

/* One face and one that contradicts it: neither is hidden. */
static void
test_other_mode (void **state)
{
  Drawn drawn;

  drawn_init (&drawn, 4);
  drawn.walk.n_notes = 0;
  read_face (&drawn, 17, 300, FALSE);
  read_face (&drawn, 60, -420, FALSE);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&drawn.walk);
  const SwClockResult *clock = &proposal->clocks[0];
  assert_true (clock->n_modes >= 2);
  assert_true (clock->other_share > 0.05);
}

typedef struct
{
  const char *label;
  gsize n;
  SwClockMode modes[4]; /* shift, spread, log weight, gain */
  gboolean known;
  double spread_s, within; /* what is claimed, and how near to it */
  gboolean other;          /* told */
} SettleRow;

static const SettleRow settle_rows[] = {
  { "nothing to go by", .n = 0 },
  { "one", 1, { { 300, 2, 0, 20 } }, TRUE, 2, 0.1 },
  { "one that chance would tell as well", 1, { { 300, 2, 0, 1 } }, FALSE, 2, 0.1 },
  { "two as likely, an hour apart",
    2,
    { { 0, 2, 0, 20 }, { 3600, 2, 0, 20 } },
    FALSE,
    1800,
    1,
    TRUE },
  { "most of it in one, the rest an hour off",
    2,
    { { 0, 2, 0, 20 }, { 3600, 2, -1.5, 20 } },
    TRUE,
    1390,
    20,
    TRUE },
  { "three as likely within minutes: nearer than not known",
    3,
    { { 4100, 2, 0, 80 }, { 3900, 2, 0, 80 }, { 4300, 2, 0, 80 } },
    TRUE,
    163,
    2,
    TRUE },
  { "the same, with no more to say than chance has",
    3,
    { { 4100, 2, 0, 1 }, { 3900, 2, 0, 1 }, { 4300, 2, 0, 1 } },
    FALSE,
    163,
    2,
    TRUE },
};

static void
test_settle (void **state)
{
  const SettleRow *row = *state;
  SwClockResult result = sw_clock_settle (row->modes, row->n);

  assert_i64_equal (result.known, row->known);
  assert_near (result.shift_s, row->modes[0].shift_s, 1e-9);
  assert_near (result.spread_s, row->spread_s, row->within + 1e-9);
  assert_i64_equal (result.other_share > 0, row->other);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, test_settle, settle_rows);
  SW_TEST_ROWS (tests, test_notes, shift_rows);
  SW_TEST_ROWS (tests, test_a_third_wrong, shift_rows);
  SW_TEST (tests, test_unknown);
  SW_TEST (tests, test_face);
  SW_TEST (tests, test_face_without_day);
  SW_TEST (tests, test_face_misread);
  SW_TEST (tests, test_fixes);
  SW_TEST (tests, test_old_fix);
  SW_TEST (tests, test_drift);
  SW_TEST (tests, test_no_drift_of_a_steady_clock);
  SW_TEST_ROWS (tests, drift_by_loose_notes, rate_rows);
  SW_TEST_ROWS (tests, drift_beside, beside_rows);
  SW_TEST_ROWS (tests, test_change, change_rows);
  SW_TEST (tests, test_season);
  SW_TEST (tests, test_override);
  SW_TEST (tests, test_override_from);
  SW_TEST_ROWS (tests, test_second_camera, shift_rows);
  SW_TEST (tests, test_beside);
  SW_TEST (tests, test_other_mode);
  return sw_tests_run (tests, "clocks");
}
