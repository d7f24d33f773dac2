/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stops by gaps alone against a published rule: Platt, J. C., Czerwinski, M., Field, B. A., 2003,
 * PhotoTOC: automatic clustering for browsing personal photographs, IEEE Pacific Rim Conf. on
 * Multimedia: a group ends at gap N where ln g(N) >= K + mean of ln g(N - d) to ln g(N + d), with K
 * = ln 17 and d = 10; at the ends the mean is of the gaps there are (formula and constants from
 * memory). */
#include "../unit/sw-test.h"

#include "core/match/stops.h"

#include <math.h>

#define K_GAP 2.8332133440562162 /* ln 17 */
#define D_GAPS 10
#define MOST 64

typedef struct
{
  const char *label;
  double gaps_s[MOST]; /* 0 ends them */
  int cuts[8];         /* after which photo, from 1; 0 ends them */
} Row;

static const Row rows[] = {
  /* The figures of the test below it are worked out by the rule. */
  { "two long gaps", { 10, 12, 8, 15, 9, 600, 11, 14, 10, 13, 7200, 20, 9, 16 }, { 6, 11 } },
  { "no long gap", { 10, 12, 9, 14, 8, 11, 10, 13, 9, 12 }, { 0 } },
  { "one in the middle", { 5, 6, 4, 7, 5, 300, 6, 5, 4, 7, 6 }, { 6 } },
  { "every thing thrice", { 6, 5, 700, 5, 7, 720, 6, 6, 650, 5, 6, 900, 7, 5 }, { 3, 6, 9, 12 } },
};

static double
local_mean (const double *gaps_s, int n, int at)
{
  double sum = 0;
  int count = 0;

  for (int k = MAX (0, at - D_GAPS); k <= MIN (n - 1, at + D_GAPS); k++, count++)
    sum += log (MAX (gaps_s[k], 1));
  return sum / count;
}

static int
count_gaps (const Row *row)
{
  int n = 0;

  while (n < MOST && row->gaps_s[n] > 0)
    n++;
  return n;
}

static void
test_worked_example (void **state)
{
  const Row *row = &rows[0];

  assert_true (fabs (K_GAP + local_mean (row->gaps_s, 14, 5) - 6.0419) < 5e-5);
  assert_true (fabs (K_GAP + local_mean (row->gaps_s, 14, 10) - 6.0419) < 5e-5);
  assert_true (fabs (log (600) - 6.3969) < 5e-5);
  assert_true (fabs (log (7200) - 8.8818) < 5e-5);
}

static SwProposal *
propose (const Row *row, int n, SwWalkPhoto *photos)
{
  static const SwWalkCamera camera;
  SwWalk walk = { .photos = photos, .n_photos = (gsize)n + 1, .cameras = &camera, .n_cameras = 1 };
  gint64 at = sw_civil_to_us ((SwCivil){ 2026, 6, 20, 10, 0, 0, 0 });

  for (int k = 0; k <= n; k++)
    {
      photos[k] = (SwWalkPhoto){ .id = k + 1,
                                 .clock_us = at,
                                 .resolution_us = SW_US_PER_SECOND,
                                 .decided = SW_WALK_OPEN,
                                 .place = -1 };
      at += (gint64)(row->gaps_s[k] * 1e6);
    }
  return sw_stops_propose (&walk);
}

/* The rule cuts as the row says, and so do we: where it is plain, two ways to see it agree. */
static void
test_cuts (void **state)
{
  const Row *row = *state;
  int n = count_gaps (row), found = 0;
  SwWalkPhoto photos[MOST + 1];
  g_autoptr (SwProposal) proposal = propose (row, n, photos);

  for (int k = 0; k < n; k++)
    if (log (row->gaps_s[k]) >= K_GAP + local_mean (row->gaps_s, n, k))
      assert_i64_equal (k + 1, row->cuts[found++]);
  assert_i64_equal (row->cuts[found], 0);
  assert_i64_equal (proposal->n_stops, found + 1);
  for (int k = 0; k < found; k++)
    assert_i64_equal (proposal->stops[k + 1].photos[0], row->cuts[k]);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_worked_example);
  SW_TEST_ROWS (tests, test_cuts, rows);
  return sw_tests_run (tests, "gap-grouping");
}
