/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trip along its time: what stands where, gaps to scale, what was taken between; and what came
 * of it. */
#include "sw-test-walk.h"

#include "app/stop-words.h"
#include "app/strip-layout.h"
#include "core/catalogue/photo-quality.h"
#include "core/match/sorting.h"

static const SwStripMetrics metrics = { .photo = 100,
                                        .file = 60,
                                        .least_stop = 150,
                                        .pad = 5,
                                        .near = 3,
                                        .between = 10,
                                        .fold = 80,
                                        .per_second = 0.2 };

static gint64
add_file (SwTestWalk *walk, const char *kind, int seconds)
{
  g_autoptr (GError) error = NULL;
  gint64 photo = sw_test_walk_photo (walk, seconds);
  g_autofree char *sql
      = g_strdup_printf ("UPDATE photo SET kind = '%s', file = 'card/%s-%d' WHERE id = %d", kind,
                         kind, seconds, (int)photo);

  sw_test_exec (walk->bed.catalogue, sql);
  return photo;
}

static const SwStripUnit *
unit (const SwStrip *strip, guint u)
{
  return &g_array_index (strip->units, SwStripUnit, u);
}

static SwStrip *
read_strip (SwTestWalk *walk)
{
  g_autoptr (GError) error = NULL;
  SwStrip *strip = sw_strip_read (walk->bed.catalogue, walk->trip, &error);

  assert_no_error (error);
  return strip;
}

static void
test_units (void **state)
{
  SwTestWalk walk;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  sw_pairing_free (sw_test_walk_pair (&walk));
  gint64 inside = add_file (&walk, "memo", 9), between = add_file (&walk, "clip", 60),
         late = sw_test_walk_photo (&walk, 900);
  g_autoptr (SwStrip) strip = read_strip (&walk);
  assert_i64_equal (strip->stops->len, 3);
  assert_i64_equal (strip->units->len, 12);
  assert_i64_equal (unit (strip, 2)->photo, inside);
  assert_i64_equal (unit (strip, 2)->stop, 0);
  assert_string_equal (unit (strip, 2)->file, "memo-9");
  assert_i64_equal (unit (strip, 3)->n_in_stop, 3);
  assert_i64_equal (unit (strip, 4)->photo, between);
  assert_i64_equal (unit (strip, 4)->stop, -1);
  assert_i64_equal (g_array_index (strip->begins, guint, 1), 5);
  assert_i64_equal (unit (strip, 11)->photo, late); /* not proposed yet */
  assert_i64_equal (unit (strip, 11)->stop, -1);
  /* photos at 0, 6, 12 with a memo between; 120, 127, 133; 250, 255, 262 */
  assert_i64_equal (sw_strip_longest_pause (strip, 0), 1);
  assert_i64_equal (sw_strip_longest_pause (strip, 1), 6);
  assert_i64_equal (sw_strip_longest_pause (strip, 2), 10);
  assert_i64_equal (strip->left.open, 3);
  assert_i64_equal (strip->left.sure + strip->left.doubtful + strip->left.unknown, 3);
  sw_test_bed_clear (&walk.bed);
}

static void
test_gaps_to_scale (void **state)
{
  SwTestWalk walk;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  sw_test_walk_photo (&walk, 262 + 3 * 3600);
  sw_test_walk_photo (&walk, 24 * 3600);
  sw_pairing_free (sw_test_walk_pair (&walk));
  g_autoptr (SwStrip) strip = read_strip (&walk);
  g_autoptr (SwStripLayout) layout = sw_strip_layout_new (strip, &metrics);
  /* six seconds within, 108 s between the first two: base and a fifth of a pixel a second */
  assert_i64_equal (layout->units[1].x - layout->units[0].x, 100 + 3 + 1);
  assert_i64_equal (layout->stops[1].x - (layout->stops[0].x + layout->stops[0].width), 10 + 21);
  assert_i64_equal (layout->stops[0].width, 5 + 3 * 100 + 2 * 4 + 5);
  assert_i64_equal (layout->units[9].gap, SW_GAP_FOLDED);
  assert_i64_equal (layout->units[9].gap_width, 10 + 80);
  g_autofree char *folded = sw_strip_gap_text (&layout->units[9]);
  assert_string_equal (folded, "3 h");
  assert_i64_equal (layout->stops[3].width, 150); /* one photo, but room for the words */
  assert_i64_equal (layout->units[10].gap, SW_GAP_NIGHT);
  for (guint u = 1; u < layout->n_units; u++)
    assert_true (layout->units[u].x >= layout->units[u - 1].x + layout->units[u - 1].width);
  assert_i64_equal (sw_strip_spans_from (layout->units, layout->n_units, 0), 0);
  assert_i64_equal (sw_strip_spans_from (layout->units, layout->n_units, layout->units[4].x + 99),
                    4);
  assert_i64_equal (sw_strip_spans_from (layout->units, layout->n_units, layout->units[4].x + 100),
                    5);
  assert_i64_equal (sw_strip_spans_from (layout->units, layout->n_units, layout->total), 11);
  sw_test_bed_clear (&walk.bed);
}

static void
test_bands (void **state)
{
  SwTestWalk walk;

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  sw_test_walk_notes (&walk, THREE_NOTES);
  sw_pairing_free (sw_test_walk_pair (&walk));
  g_autoptr (SwStrip) strip = read_strip (&walk);
  g_autoptr (SwStripLayout) layout = sw_strip_layout_new (strip, &metrics);
  assert_i64_equal (layout->bands->len, 2);
  const SwStripBand *loft = &g_array_index (layout->bands, SwStripBand, 0);
  assert_i64_equal (loft->first, 0);
  assert_i64_equal (loft->last, 1);
  assert_i64_equal (loft->x, layout->stops[0].x);
  assert_i64_equal (sw_strip_bands_from (layout, loft->end), 1);
  assert_i64_equal (sw_strip_bands_from (layout, loft->end - 1), 0);
  sw_test_bed_clear (&walk.bed);
}

static void
test_sum (void **state)
{
  SwTestWalk walk;
  g_autoptr (GError) error = NULL;
  const gint64 one[] = { 1 }, rest[] = { 2, 3 };

  sw_test_walk_init (&walk);
  sw_test_walk_three_things (&walk, 0);
  sw_test_walk_notes (&walk, "09:59:50 Loft\n12:00:00 Press house\n");
  sw_pairing_free (sw_test_walk_pair (&walk));
  assert_true (
      sw_sorting_give_new (walk.bed.catalogue, walk.trip, "Ladder", 0, one, 1, NULL, &error));
  assert_true (sw_sorting_no_item (walk.bed.catalogue, walk.trip, "mistake", rest, 2, &error));
  assert_true (sw_sorting_accept (walk.bed.catalogue, walk.trip, 4, NULL, &error));
  assert_no_error (error);
  SwPhotoQuality blurred = { .photo = 1 };
  assert_true (sw_photo_marks_of (&blurred) != 0);
  assert_true (sw_place_ensure (walk.bed.catalogue, "Press house > Cellar", NULL, NULL, &error));
  assert_true (sw_photo_quality_put (walk.bed.catalogue, &blurred, 1, &error));
  g_autoptr (SwStripSum) sum = sw_strip_sum_read (walk.bed.catalogue, walk.trip, &error);
  assert_i64_equal (sum->items_new, 2);
  assert_i64_equal (sum->items_known, 0);
  assert_i64_equal (sum->unnamed, 1);
  assert_i64_equal (sum->without_item, 2);
  assert_i64_equal (sum->one_poor->len, 1);
  assert_i64_equal (sum->not_seen->len, 1);
  assert_string_equal (g_ptr_array_index (sum->not_seen, 0), "Press house");
  sw_test_bed_clear (&walk.bed);
}

/* A hundred thousand: laid out in one pass, and found in seventeen steps. */
static void
test_long_strip (void **state)
{
  g_autoptr (SwStrip) strip = g_new0 (SwStrip, 1);

  strip->units = g_array_new (FALSE, TRUE, sizeof (SwStripUnit));
  strip->begins = g_array_new (FALSE, FALSE, sizeof (guint));
  strip->stops = g_ptr_array_new_with_free_func ((GDestroyNotify)sw_stop_record_free);
  for (int u = 0; u < 100000; u++)
    {
      SwStripUnit unit
          = { .photo = u + 1, .timed = TRUE, .t_us = u * 7 * SW_US_PER_SECOND, .stop = u / 5 };
      guint begin = (guint)u;

      if (u % 5 == 0)
        {
          g_ptr_array_add (strip->stops, sw_stop_record_new ());
          g_array_append_val (strip->begins, begin);
        }
      g_array_append_val (strip->units, unit);
    }
  g_autoptr (SwStripLayout) layout = sw_strip_layout_new (strip, &metrics);
  assert_i64_equal (layout->n_stops, 20000);
  assert_true (layout->total > G_MAXINT16);
  for (guint u = 0; u < layout->n_units; u += 997)
    assert_i64_equal (sw_strip_spans_from (layout->units, layout->n_units, layout->units[u].x), u);
}

/* A wide photo's second things stand beside the stop's own, each once, until it is decided. */
static void
test_second_things (void **state)
{
  g_autoptr (SwStopRecord) stop = sw_stop_record_new ();

  stop->name = g_strdup ("Screw press");
  stop->n_open = 1;
  g_autofree char *alone = sw_stop_title (stop);
  assert_string_equal (alone, "Screw press");
  g_ptr_array_add (stop->also, sw_stop_also_new (4, 2, 7, "Vat", "tag 7 can be read in photo 4"));
  g_ptr_array_add (stop->also, sw_stop_also_new (5, 2, 7, "Vat", "tag 7 can be read in photo 5"));
  g_ptr_array_add (stop->also, sw_stop_also_new (5, 0, 9, "tag 9", "tag 9 can be read in photo 5"));
  g_autofree char *wide = sw_stop_title (stop);
  assert_string_equal (wide, "Screw press, also Vat, tag 9");
  stop->n_open = 0;
  stop->decided_name = g_strdup ("Screw press");
  g_autofree char *decided = sw_stop_title (stop);
  assert_string_equal (decided, "Screw press");
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_units);
  SW_TEST (tests, test_gaps_to_scale);
  SW_TEST (tests, test_bands);
  SW_TEST (tests, test_sum);
  SW_TEST (tests, test_long_strip);
  SW_TEST (tests, test_second_things);
  return sw_tests_run (tests, "strip");
}
