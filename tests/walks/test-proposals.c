/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What holds of every proposal, whatever the walk; and that the drawn walks are what they say: the
 * same from the same seed, with and without each side. */
#include "../unit/sw-test.h"

#include "groups.h"
#include "score.h"

#include <string.h>

#define WALKS_EACH 2
#define SEED 77000

/* Shorter than the walks that are told of. */
static WalkKind
short_kind (const WalkGroup *group)
{
  WalkKind kind = group->kind;

  kind.things = 18;
  return kind;
}

static void
check_stop (const SwProposal *proposal, guint number, gboolean *seen)
{
  const SwStop *stop = &proposal->stops[number];

  assert_true (stop->n_photos > 0);
  assert_true (stop->probability >= 0 && stop->probability <= 1);
  assert_true (stop->reason != NULL && stop->reason[0] != '\0');
  assert_true (strchr (stop->reason, '\n') == NULL);
  for (gsize k = 0; k < stop->n_photos; k++)
    {
      guint photo = stop->photos[k];

      assert_false (seen[photo]);
      seen[photo] = TRUE;
      assert_i64_equal (proposal->views[photo].stop, number);
      /* One that only looks the same has no time to stand by. */
      if (k > 0 && stop->timed && !proposal->views[photo].by_likeness)
        assert_true (proposal->views[stop->photos[k - 1]].t_us <= proposal->views[photo].t_us);
    }
}

/* Each photo in one stop; each note in one at most of those that stand together in time. */
static void
check_whole (const TrueWalk *truth, const SwProposal *proposal)
{
  g_autofree gboolean *seen = g_new0 (gboolean, truth->walk.n_photos);
  g_autofree gboolean *used = g_new0 (gboolean, truth->walk.n_notes + 1);

  for (guint k = 0; k < proposal->n_stops; k++)
    {
      int note = proposal->stops[k].note;

      check_stop (proposal, k, seen);
      if (note < 0 || proposal->views[proposal->stops[k].photos[0]].apart)
        continue;
      assert_false (used[note]);
      used[note] = TRUE;
    }
  for (gsize i = 0; i < truth->walk.n_photos; i++)
    {
      const SwPhotoView *view = &proposal->views[i];

      assert_true (seen[i]);
      assert_true (view->boundary_before >= 0 && view->boundary_before <= 1);
      assert_true (view->label_p[0] >= view->label_p[1] && view->label_p[0] <= 1);
    }
}

static void
check_equal (const SwProposal *a, const SwProposal *b)
{
  assert_i64_equal (a->n_stops, b->n_stops);
  for (gsize k = 0; k < a->n_stops; k++)
    {
      assert_i64_equal (a->stops[k].label, b->stops[k].label);
      assert_true (a->stops[k].probability == b->stops[k].probability);
      assert_string_equal (a->stops[k].reason, b->stops[k].reason);
    }
}

static void
test_whole (void **state)
{
  const WalkGroup *group = *state;
  WalkKind kind = short_kind (group);

  for (guint64 k = 0; k < WALKS_EACH; k++)
    {
      g_autoptr (TrueWalk) truth = true_walk_new (SEED + k, &kind);
      g_autoptr (SwProposal) proposal = sw_stops_propose (&truth->walk);

      check_whole (truth, proposal);
      if (k == 0)
        {
          g_autoptr (SwProposal) again = sw_stops_propose (&truth->walk);

          check_equal (proposal, again);
        }
    }
}

/* Other sides of a walk leave its path, its shots and its clocks as they are. */
static void
test_sides (void **state)
{
  WalkKind bare = { .noted = 0.6, .cameras = 1, WALKS_FAULTS }, full = bare;

  full.pictures = full.positions = full.gps_time = full.tags = full.here_notes = TRUE;
  for (guint64 seed = SEED; seed < SEED + 20; seed++)
    {
      g_autoptr (TrueWalk) a = true_walk_new (seed, &bare);
      g_autoptr (TrueWalk) b = true_walk_new (seed, &full);

      assert_i64_equal (a->walk.n_photos, b->walk.n_photos);
      assert_i64_equal (a->walk.n_items, b->walk.n_items);
      for (gsize i = 0; i < a->walk.n_photos; i++)
        {
          assert_i64_equal (a->true_us[i], b->true_us[i]);
          assert_i64_equal (a->photos[i].clock_us, b->photos[i].clock_us);
          assert_i64_equal (a->item[i], b->item[i]);
          assert_false (a->photos[i].has_likeness || a->photos[i].has_position);
          assert_true (b->photos[i].has_likeness);
        }
      for (gsize k = 0; k < a->walk.n_notes; k++)
        assert_i64_equal (a->notes[k].time_us, b->notes[k].time_us);
    }
}

/* Fewer notes are some of the same. */
static void
test_shares (void **state)
{
  WalkKind few = { .noted = 0.3, .cameras = 1, .things = 45 }, many = few;

  many.noted = 0.9;
  for (guint64 seed = SEED; seed < SEED + 20; seed++)
    {
      g_autoptr (TrueWalk) a = true_walk_new (seed, &few);
      g_autoptr (TrueWalk) b = true_walk_new (seed, &many);
      gsize at = 0;

      assert_true (a->walk.n_notes < b->walk.n_notes);
      for (gsize k = 0; k < a->walk.n_notes; k++, at++)
        {
          while (at < b->walk.n_notes && b->notes[at].time_us != a->notes[k].time_us)
            at++;
          assert_true (at < b->walk.n_notes);
        }
    }
}

/* Photos in true order, things and visits that agree, clocks that lack what is said. */
static void
test_truth (void **state)
{
  const WalkGroup *group = *state;

  for (guint64 seed = SEED; seed < SEED + 10; seed++)
    {
      g_autoptr (TrueWalk) truth = true_walk_new (seed, &group->kind);

      for (gsize i = 0; i < truth->walk.n_photos; i++)
        {
          const SwWalkPhoto *photo = &truth->photos[i];
          double lacks_s = (double)(truth->true_us[i] - photo->clock_us) / 1e6;

          assert_true (lacks_s >= truth->lacks_s[i] - 1e-3 && lacks_s <= truth->lacks_s[i] + 1.001);
          assert_true (i == 0 || truth->true_us[i] >= truth->true_us[i - 1]);
          assert_true (i == 0 || truth->visit[i] - truth->visit[i - 1] <= 1);
          assert_true (truth->thing[i] >= 0 && truth->thing[i] < truth->n_things);
          assert_true (truth->also[i] < 0 || truth->also[i] != truth->item[i]);
          if (truth->item[i] >= 0)
            assert_i64_equal (truth->items[truth->item[i]].place, truth->place[i]);
          assert_true (truth->gps_us[i] <= truth->true_us[i]);
        }
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  for (gsize k = 0; k < G_N_ELEMENTS (walk_groups); k++)
    {
      g_autofree char *whole = g_strconcat ("whole: ", walk_groups[k].label, NULL);
      g_autofree char *truth = g_strconcat ("truth: ", walk_groups[k].label, NULL);

      sw_tests_add (tests, whole, test_whole, &walk_groups[k]);
      sw_tests_add (tests, truth, test_truth, &walk_groups[k]);
    }
  SW_TEST (tests, test_sides);
  SW_TEST (tests, test_shares);
  return sw_tests_run (tests, "proposals");
}
