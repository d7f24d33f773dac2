/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The load: published knapsacks to their optimum, every small load against full enumeration, what
 * must go, and numbers that no van has. Problems P02 to P04: Martello & Toth (1990), Knapsack
 * Problems, examples 2.3 and 2.7 among them; P01 and P05 to P08: Kreher & Stinson (1999),
 * Combinatorial Algorithms, as republished; all optima recomputed by enumeration. */
#include "core/trip/load.h"
#include "sw-test.h"

#define MOST 24
#define SECOND 1000

typedef struct
{
  const char *label;
  gint64 capacity, weights[MOST], profits[MOST], optimum, weight;
} Published;

/* clang-format off */
static const Published published[] = {
  { "P01", 165, { 23, 31, 29, 44, 53, 38, 63, 85, 89, 82 }, { 92, 57, 49, 68, 60, 43, 67, 84, 87, 72 }, 309, 165 },
  { "P02", 26, { 12, 7, 11, 8, 9 }, { 24, 13, 23, 15, 16 }, 51, 26 },
  { "P03", 190, { 56, 59, 80, 64, 75, 17 }, { 50, 50, 64, 46, 50, 5 }, 150, 190 },
  { "P04", 50, { 31, 10, 20, 19, 4, 3, 6 }, { 70, 20, 39, 37, 7, 5, 10 }, 107, 50 },
  { "P05", 104, { 25, 35, 45, 5, 25, 3, 2, 2 }, { 350, 400, 450, 20, 70, 8, 5, 5 }, 900, 104 },
  { "P06", 170, { 41, 50, 49, 59, 55, 57, 60 }, { 442, 525, 511, 593, 546, 564, 617 }, 1735, 169 },
  { "P07", 750, { 70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120 },
    { 135, 139, 149, 150, 156, 163, 173, 184, 192, 201, 210, 214, 221, 229, 240 }, 1458, 749 },
  { "P08", 6404180,
    { 382745, 799601, 909247, 729069, 467902, 44328, 34610, 698150, 823460, 903959, 853665, 551830, 610856, 670702,
      488960, 951111, 323046, 446298, 931161, 31385, 496951, 264724, 224916, 169684 },
    { 825594, 1677009, 1676628, 1523970, 943972, 97426, 69666, 1296457, 1679693, 1902996, 1844992, 1049289, 1252836,
      1319836, 953277, 2067538, 675367, 853655, 1826027, 65731, 901489, 577243, 466257, 369261 }, 13549094, 6402560 },
};
/* clang-format on */

static SwLoadPlan *
solve (const SwLoadPiece *pieces, gsize n, const SwLoadRun *runs, gsize n_runs)
{
  g_autoptr (GError) error = NULL;
  SwLoadPlan *plan = sw_load_solve (pieces, n, runs, n_runs, 60 * SECOND, NULL, &error);

  assert_no_error (error);
  return plan;
}

static void
test_published (void **state)
{
  for (gsize p = 0; p < G_N_ELEMENTS (published); p++)
    {
      const Published *row = &published[p];
      SwLoadPiece pieces[MOST] = { 0 };
      SwLoadRun run = { row->capacity, 0 };
      gint64 weight = 0;
      gsize n = 0;

      for (; n < MOST && row->weights[n] > 0; n++)
        pieces[n] = (SwLoadPiece){ 1, row->weights[n], 0, row->profits[n], SW_LOAD_FREE };
      g_autoptr (SwLoadPlan) plan = solve (pieces, n, &run, 1);
      print_message ("%s\n", row->label);
      assert_i64_equal (plan->value, row->optimum);
      assert_true (plan->best);
      for (gsize i = 0; i < n; i++)
        weight += plan->taken[i] * row->weights[i];
      assert_i64_equal (weight, row->weight);
    }
}

/* ---- assignments, put as loads ---- */

#define SQUARE 5

/* Who does what at the least cost, one to one. The first: SciPy, reference guide,
 * linear_sum_assignment (2024); the second and third: OR-Tools, guides, assignment (2024), the
 * second of five people for four tasks, here with a column of zeros more; the others from memory.
 * All optima recomputed by enumeration. */
static const struct
{
  gsize n;
  gint64 cost[SQUARE][SQUARE], optimum;
  int column[SQUARE];
} assignments[] = {
  { 3, { { 4, 1, 3 }, { 2, 0, 5 }, { 3, 2, 2 } }, 5, { 1, 0, 2 } },
  { 5,
    { { 90, 80, 75, 70 },
      { 35, 85, 55, 65 },
      { 125, 95, 90, 95 },
      { 45, 110, 95, 115 },
      { 50, 100, 90, 100 } },
    265,
    { 3, 2, 1, 0, 4 } },
  { 4,
    { { 90, 76, 75, 70 }, { 35, 85, 55, 65 }, { 125, 95, 90, 105 }, { 45, 110, 95, 115 } },
    265,
    { 3, 2, 1, 0 } },
  { 4,
    { { 82, 83, 69, 92 }, { 77, 37, 49, 92 }, { 11, 69, 5, 86 }, { 8, 9, 98, 23 } },
    140,
    { 2, 1, 0, 3 } },
  { 3, { { 400, 150, 400 }, { 400, 450, 600 }, { 300, 225, 300 } }, 850, { 1, 0, 2 } },
  { 3, { { 10, 10, 8 }, { 9, 8, 1 }, { 9, 7, 4 } }, 18, { 0, 2, 1 } },
};

/* A piece for each pair: its mass has a one at the digit of its row, its floor at that of its
 * column, to a base that no sum of theirs carries over. The van holds a one at each digit, and what
 * fills it is worth more than any cost: so the best load takes each row and each column once. */
static void
test_assignments (void **state)
{
  const gint64 base = SQUARE + 1, bonus = 10000;

  for (gsize a = 0; a < G_N_ELEMENTS (assignments); a++)
    {
      const gsize n = assignments[a].n;
      SwLoadPiece pieces[SQUARE * SQUARE];
      gint64 digit[SQUARE], all = 0;

      for (gsize k = 0; k < n; k++)
        {
          digit[k] = k == 0 ? 1 : digit[k - 1] * base;
          all += digit[k];
        }
      for (gsize k = 0; k < n * n; k++)
        {
          gint64 row = digit[k / n], column = digit[k % n];
          pieces[k] = (SwLoadPiece){ 1, row, column,
                                     bonus * (row + column) - assignments[a].cost[k / n][k % n],
                                     SW_LOAD_FREE };
        }
      SwLoadRun run = { all, all };
      g_autoptr (SwLoadPlan) plan = solve (pieces, n * n, &run, 1);
      assert_true (plan->best);
      assert_i64_equal (2 * bonus * all - plan->value, assignments[a].optimum);
      for (gsize k = 0; k < n * n; k++)
        assert_i64_equal (plan->taken[k], assignments[a].column[k / n] == (int)(k % n));
    }
}

/* ---- every load there is ---- */

typedef struct
{
  const SwLoadPiece *pieces;
  gsize n, n_runs;
  gint64 best; /* G_MININT64: none fits */
} Search;

static void
search (Search *search_state, gsize k, SwLoadRun *room, gint64 left, gint64 value)
{
  gsize i = k / search_state->n_runs, r = k % search_state->n_runs;
  const SwLoadPiece *piece = &search_state->pieces[i];

  if (i == search_state->n)
    {
      search_state->best = MAX (search_state->best, value);
      return;
    }
  if (r == 0)
    left = piece->wish == SW_LOAD_NOT_NOW ? 0 : piece->count;
  for (gint64 here = 0; here <= left; here++)
    {
      if (here * piece->grams > room[r].grams || here * piece->floor_cm2 > room[r].floor_cm2)
        break;
      if (r + 1 == search_state->n_runs && piece->wish == SW_LOAD_MUST && here < left)
        continue;
      room[r].grams -= here * piece->grams;
      room[r].floor_cm2 -= here * piece->floor_cm2;
      search (search_state, k + 1, room, left - here, value + here * piece->value);
      room[r].grams += here * piece->grams;
      room[r].floor_cm2 += here * piece->floor_cm2;
    }
}

static SwLoadPiece
draw_piece (GRand *dice)
{
  int wish = g_rand_int_range (dice, 0, 8);

  return (SwLoadPiece){
    .count = g_rand_int_range (dice, 1, 4),
    .grams = g_rand_int_range (dice, 0, 60) * 1000,
    .floor_cm2 = g_rand_int_range (dice, 0, 12) * 1000,
    .value = g_rand_int_range (dice, -2000, 20000),
    .wish = wish == 0   ? SW_LOAD_MUST
            : wish == 1 ? SW_LOAD_NOT_NOW
                        : SW_LOAD_FREE,
  };
}

static void
check_plan (const SwLoadPlan *plan, const SwLoadPiece *pieces, const SwLoadRun *runs)
{
  gint64 value = 0;

  for (gsize r = 0; r < plan->n_runs; r++)
    {
      gint64 grams = 0, cm2 = 0;

      for (gsize i = 0; i < plan->n; i++)
        {
          grams += plan->taken[r * plan->n + i] * pieces[i].grams;
          cm2 += plan->taken[r * plan->n + i] * pieces[i].floor_cm2;
          value += plan->taken[r * plan->n + i] * pieces[i].value;
        }
      assert_true (grams <= runs[r].grams && cm2 <= runs[r].floor_cm2);
    }
  assert_i64_equal (plan->value, value);
}

static void
test_against_enumeration (void **state)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (7);
  int refused = 0;

  for (int round = 0; round < 400; round++)
    {
      SwLoadPiece pieces[5];
      SwLoadRun runs[2], room[2];
      gsize n = (gsize)g_rand_int_range (dice, 1, 6), n_runs = (gsize)g_rand_int_range (dice, 1, 3);
      Search all = { pieces, n, n_runs, G_MININT64 };
      g_autoptr (GError) error = NULL;

      for (gsize i = 0; i < n; i++)
        pieces[i] = draw_piece (dice);
      for (gsize r = 0; r < n_runs; r++)
        runs[r] = (SwLoadRun){ g_rand_int_range (dice, 0, 200) * 1000,
                               g_rand_int_range (dice, 0, 40) * 1000 };
      memcpy (room, runs, sizeof room);
      search (&all, 0, room, 0, 0);
      g_autoptr (SwLoadPlan) plan
          = sw_load_solve (pieces, n, runs, n_runs, 60 * SECOND, NULL, &error);
      if (all.best == G_MININT64)
        {
          assert_error (error, SW_ERROR, SW_ERROR_REFUSED);
          refused++;
          continue;
        }
      assert_no_error (error);
      check_plan (plan, pieces, runs);
      assert_true (plan->best);
      assert_i64_equal (plan->value, all.best);
    }
  assert_true (refused > 5 && refused < 200);
}

static void
test_two_thousand (void **state)
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (11);
  g_autofree SwLoadPiece *pieces = g_new (SwLoadPiece, 2000);
  SwLoadRun runs[] = { { 900000, 45000 }, { 900000, 45000 } };

  for (gsize i = 0; i < 2000; i++)
    {
      pieces[i] = draw_piece (dice);
      pieces[i].wish = i < 3 ? SW_LOAD_MUST : SW_LOAD_FREE;
    }
  g_autoptr (GError) error = NULL;
  g_autoptr (SwLoadPlan) plan = sw_load_solve (pieces, 2000, runs, 2, SECOND, NULL, &error);
  assert_no_error (error);
  check_plan (plan, pieces, runs);
  assert_true (plan->bound >= plan->value);
  assert_true (plan->best == (plan->bound == plan->value));
  /* what is left to find is less than one thing's worth */
  assert_true (plan->bound - plan->value <= 20000);
}

static void
test_must_that_does_not_fit (void **state)
{
  SwLoadPiece pieces[] = { { 2, 300000, 0, 100, SW_LOAD_MUST }, { 1, 10, 0, 1, SW_LOAD_FREE } };
  SwLoadRun runs[] = { { 500000, 0 }, { 100000, 0 } };
  g_autoptr (GError) error = NULL;

  assert_null (sw_load_solve (pieces, 2, runs, 1, SECOND, NULL, &error));
  assert_error (error, SW_ERROR, SW_ERROR_REFUSED);
  assert_non_null (strstr (error->message, "weighs 600 kg and the van takes 500 kg in 1 run:"));
  g_clear_error (&error);
  /* together they would carry it, but no run carries its part */
  assert_null (sw_load_solve (pieces, 2, runs, 2, SECOND, NULL, &error));
  assert_error (error, SW_ERROR, SW_ERROR_REFUSED);
  assert_non_null (strstr (error->message, "cannot be parted over 2 runs so"));
  g_clear_error (&error);
  pieces[0].floor_cm2 = 30000;
  runs[0] = (SwLoadRun){ 700000, 50000 };
  assert_null (sw_load_solve (pieces, 2, runs, 1, SECOND, NULL, &error));
  assert_error (error, SW_ERROR, SW_ERROR_REFUSED);
  assert_non_null (strstr (error->message, "needs 6.0 m2 of floor and the van has 5.0 m2"));
}

/* A van of more than a road carries, or of less than nothing. */
static void
test_odd_van (void **state)
{
  static const SwLoadRun odd[]
      = { { SW_LOAD_GRAMS_MOST + 1, 10 }, { 10, SW_LOAD_CM2_MOST + 1 }, { -1, 10 }, { 10, -1 } };
  static const SwLoadRun most = { SW_LOAD_GRAMS_MOST, SW_LOAD_CM2_MOST };
  static const SwLoadPiece piece = { 1, 1000, 20, 100, SW_LOAD_FREE };

  for (gsize k = 0; k < G_N_ELEMENTS (odd); k++)
    {
      const SwLoadRun runs[] = { most, odd[k] };
      g_autoptr (GError) error = NULL;

      assert_null (sw_load_solve (&piece, 1, runs, 2, SECOND, NULL, &error));
      assert_error (error, SW_ERROR, SW_ERROR_BAD_INPUT);
      assert_non_null (strstr (error->message, "put the van's payload right"));
    }
  g_autoptr (SwLoadPlan) plan = solve (&piece, 1, &most, 1);
  assert_i64_equal (plan->taken[0], 1);
}

static void
test_odd_input (void **state)
{
  SwLoadPiece piece = { 1, 1000, 0, 100, SW_LOAD_FREE };
  SwLoadRun run = { 0, 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GCancellable) stopped = g_cancellable_new ();

  g_autoptr (SwLoadPlan) empty = solve (NULL, 0, &run, 1);
  assert_i64_equal (empty->value, 0);
  assert_true (empty->best);
  g_autoptr (SwLoadPlan) zero = solve (&piece, 1, &run, 1); /* a van of zero takes nothing */
  assert_i64_equal (zero->taken[0], 0);
  piece.grams = 0; /* what weighs nothing goes along */
  g_autoptr (SwLoadPlan) light = solve (&piece, 1, &run, 1);
  assert_i64_equal (light->taken[0], 1);
  assert_null (sw_load_solve (&piece, 1, &run, 0, SECOND, NULL, &error));
  assert_error (error, SW_ERROR, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  piece.grams = -1;
  assert_null (sw_load_solve (&piece, 1, &run, 1, SECOND, NULL, &error));
  assert_error (error, SW_ERROR, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  piece.grams = G_MAXINT64;
  assert_null (sw_load_solve (&piece, 1, &run, 1, SECOND, NULL, &error));
  assert_error (error, SW_ERROR, SW_ERROR_BAD_INPUT);
  g_clear_error (&error);
  piece.grams = 1;
  g_cancellable_cancel (stopped);
  run.grams = 10;
  assert_null (sw_load_solve (&piece, 1, &run, 1, SECOND, stopped, &error));
  assert_error (error, SW_ERROR, SW_ERROR_CANCELLED);
}

int
main (void)
{
  const struct CMUnitTest tests[] = {
    cmocka_unit_test (test_published),    cmocka_unit_test (test_against_enumeration),
    cmocka_unit_test (test_two_thousand), cmocka_unit_test (test_must_that_does_not_fit),
    cmocka_unit_test (test_odd_van),      cmocka_unit_test (test_odd_input),
    cmocka_unit_test (test_assignments),
  };
  return cmocka_run_group_tests (tests, NULL, NULL);
}
