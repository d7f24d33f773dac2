/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks with a known truth: what the proposal must reach, beside what simpler ways reach on the
 * same walks. */
#include "../unit/sw-test.h"

#include "score.h"

typedef struct
{
  const char *label;
  WalkKind kind;
  int walks;
  guint64 seed;
} Group;

/* Kinds of walk. */
#define ALL_FAULTS .cameras = 1, .things = 45, .clock_faults = TRUE, .note_faults = TRUE
static const Group noted
    = { "90% noted, all clock faults", { .noted = 0.9, ALL_FAULTS }, 60, 1000 };
static const Group sparse
    = { "60% noted, all clock faults", { .noted = 0.6, ALL_FAULTS }, 20, 5000 };
static const Group bare = { "no notes", { .cameras = 1, .things = 45 }, 30, 7000 };
static const Group two = {
  "two cameras, 90% noted",
  { .noted = 0.9, .cameras = 2, .things = 45, .clock_faults = TRUE, .note_faults = TRUE },
  20,
  9000,
};

static Score
run_group (const Group *group)
{
  Score score = { 0 };

  for (int k = 0; k < group->walks; k++)
    {
      g_autoptr (TrueWalk) truth = true_walk_new (group->seed + (guint64)k, &group->kind);
      g_autoptr (SwProposal) proposal = sw_stops_propose (&truth->walk);

      score_add (&score, truth, proposal, NULL);
    }
  print_message ("%s: %d walks, %.0f photos\n", group->label, group->walks, score.photos);
  print_message ("  photos right %.3f, nearest note %.3f; sure %.3f of photos, right %.3f\n",
                 score.right / score.photos, score.nearest_right / score.photos,
                 score.sure / score.photos, score.sure > 0 ? score.sure_right / score.sure : 1);
  print_message ("  boundaries F1 %.3f, fixed 60 s %.3f; calibration error %.3f, Brier %.3f\n",
                 score_f1 (score.hits, score.ours, score.truly),
                 score_f1 (score.fixed_hits, score.fixed_ours, score.truly),
                 score_calibration_error (&score), score.square / score.photos);
  print_message ("  clocks within 5 s %.0f of %.0f, badly wrong and sure of it %.0f\n",
                 score.clocks_near, score.clocks, score.clocks_wrong);
  return score;
}

/* The promise: five points more photos right than the nearest note in time, given the same clock
 * shift. */
static void
test_noted (void **state)
{
  Score score = run_group (&noted);

  assert_true (score.right / score.photos >= score.nearest_right / score.photos + 0.05);
  assert_true (score.sure_right / score.sure >= 0.96);
  assert_true (score.sure / score.photos >= 0.15);
  assert_true (score_calibration_error (&score) <= 0.03);
  assert_true (score.clocks >= 58);
  assert_true (score.clocks_near / score.clocks >= 0.80);
  assert_true (score.clocks_wrong == 0);
}

static void
test_sparse (void **state)
{
  Score score = run_group (&sparse);

  assert_true (score.right / score.photos >= score.nearest_right / score.photos + 0.05);
  assert_true (score.clocks_wrong == 0);
}

/* Without any note there are still stops, better than a fixed gap of a minute. */
static void
test_bare (void **state)
{
  Score score = run_group (&bare);
  double ours = score_f1 (score.hits, score.ours, score.truly);

  assert_true (ours >= score_f1 (score.fixed_hits, score.fixed_ours, score.truly) + 0.05);
  assert_true (ours >= 0.81);
  assert_true (score.sure_right / score.sure >= 0.95);
  assert_true (score_calibration_error (&score) <= 0.05);
}

static void
test_two_cameras (void **state)
{
  Score score = run_group (&two);

  assert_true (score.right / score.photos >= score.nearest_right / score.photos + 0.05);
  assert_true (score.clocks_wrong == 0);
}

/* The same walk gives the same proposal, to the last bit. */
static void
test_deterministic (void **state)
{
  g_autoptr (TrueWalk) truth = true_walk_new (42, &noted.kind);
  g_autoptr (SwProposal) a = sw_stops_propose (&truth->walk);
  g_autoptr (SwProposal) b = sw_stops_propose (&truth->walk);

  assert_i64_equal (a->n_stops, b->n_stops);
  for (gsize k = 0; k < a->n_stops; k++)
    {
      assert_i64_equal (a->stops[k].label, b->stops[k].label);
      assert_true (a->stops[k].probability == b->stops[k].probability);
      assert_string_equal (a->stops[k].reason, b->stops[k].reason);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_noted);
  SW_TEST (tests, test_sparse);
  SW_TEST (tests, test_bare);
  SW_TEST (tests, test_two_cameras);
  SW_TEST (tests, test_deterministic);
  return sw_tests_run (tests, "walks");
}
