/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The walking order: against every order there is on up to nine places, and never longer than the
 * one given on many. */
#include "core/trip/walking-order.h"
#include "sw-test.h"

#include <math.h>

#define MOST 60

static void
draw_ways (GRand *dice, gsize n, gint64 *ways)
{
  double x[MOST], y[MOST];

  for (gsize i = 0; i < n; i++)
    {
      x[i] = g_rand_int_range (dice, 0, 200000);
      y[i] = g_rand_int_range (dice, 0, 100000);
    }
  for (gsize a = 0; a < n; a++)
    for (gsize b = 0; b < n; b++)
      ways[a * n + b] = llround (hypot (x[a] - x[b], y[a] - y[b]));
}

static void
check_order (const guint *order, gsize n, guint first)
{
  gboolean seen[MOST] = { FALSE };

  assert_int_equal (order[0], first);
  for (gsize i = 0; i < n; i++)
    {
      assert_true (order[i] < n && !seen[order[i]]);
      seen[order[i]] = TRUE;
    }
}

static gint64
shortest_of_all (const gint64 *ways, gsize n, guint *order, gsize from)
{
  gint64 best = G_MAXINT64;

  if (from == n)
    return sw_walking_length (ways, n, order);
  for (gsize i = from; i < n; i++)
    {
      guint kept = order[from];
      gint64 length;

      order[from] = order[i];
      order[i] = kept;
      length = shortest_of_all (ways, n, order, from + 1);
      best = MIN (best, length);
      order[i] = order[from];
      order[from] = kept;
    }
  return best;
}

static void
test_every_order_of_nine (void **state)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (3);

  for (gsize n = 1; n <= 9; n++)
    for (int round = 0; round < (n < 8 ? 40 : 4); round++)
      {
        gint64 ways[9 * 9];
        guint order[9], tried[9];

        draw_ways (dice, n, ways);
        for (gsize i = 0; i < n; i++)
          tried[i] = order[i] = (guint)(n - 1 - i);
        sw_walking_order (ways, n, order);
        check_order (order, n, (guint)n - 1);
        assert_i64_equal (sw_walking_length (ways, n, order), shortest_of_all (ways, n, tried, 1));
      }
}

static void
test_never_longer (void **state)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (4);
  int shorter = 0;

  for (int round = 0; round < 60; round++)
    {
      gsize n = (gsize)g_rand_int_range (dice, 10, MOST + 1);
      g_autofree gint64 *ways = g_new (gint64, n * n);
      guint order[MOST], again[MOST];
      gint64 given;

      draw_ways (dice, n, ways);
      for (gsize i = 0; i < n; i++)
        order[i] = (guint)i;
      given = sw_walking_length (ways, n, order);
      sw_walking_order (ways, n, order);
      check_order (order, n, 0);
      assert_true (sw_walking_length (ways, n, order) <= given);
      shorter += sw_walking_length (ways, n, order) < given * 2 / 3;
      memcpy (again, order, sizeof again);
      sw_walking_order (ways, n, again);
      assert_memory_equal (again, order, n * sizeof *order); /* nothing left to better */
    }
  assert_true (shorter > 50);
}

static void
test_ties_keep_what_was_given (void **state)
{
  gint64 ways[16 * 16] = { 0 };

  for (gsize n = 1; n <= 16; n++)
    {
      guint order[16];

      for (gsize i = 0; i < n; i++)
        order[i] = (guint)((i + 1) % n);
      sw_walking_order (ways, n, order);
      for (gsize i = 0; i < n; i++)
        assert_int_equal (order[i], (i + 1) % n);
    }
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_every_order_of_nine),
    cmocka_unit_test (test_never_longer),
    cmocka_unit_test (test_ties_keep_what_was_given),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
