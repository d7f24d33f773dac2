/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Stops and pairing on small walks: odd input, what a person decided, and exactness against listing
 * every path. */
#include "sw-test.h"

#include "core/match/params.h"
#include "core/match/stops.h"

#include <math.h>

#define S SW_US_PER_SECOND
#define T0 (G_GINT64_CONSTANT (1781946000) * S)

/* A small walk as rows: seconds after T0. */
typedef struct
{
  const char *label;
  double photos[16];
  int n_photos;
  double notes[4];
  int n_notes;
  int stops; /* expected; -1: any */
} Row;

typedef struct
{
  SwWalkPhoto photos[64];
  SwWalkNote notes[8];
  SwWalkItem items[8];
  SwWalkPlace places[2];
  SwWalkCamera cameras[2];
  SwWalk walk;
} Small;

static void
small_init (Small *small, const double *photos, int n_photos, const double *notes, int n_notes)
{
  memset (small, 0, sizeof *small);
  small->walk = (SwWalk){ small->photos,  (gsize)n_photos,
                          small->notes,   (gsize)n_notes,
                          small->items,   (gsize)n_notes,
                          small->places,  2,
                          small->cameras, 1 };
  small->places[0] = (SwWalkPlace){ .name = "Press house", .parent = -1 };
  small->places[1] = (SwWalkPlace){ .name = "Cold store", .parent = -1 };
  for (int k = 0; k < n_photos; k++)
    small->photos[k] = (SwWalkPhoto){ .id = k + 1,
                                      .clock_us = T0 + (gint64)(photos[k] * 1e6),
                                      .resolution_us = S,
                                      .decided = SW_WALK_OPEN,
                                      .place = -1 };
  for (int k = 0; k < n_notes; k++)
    {
      small->items[k] = (SwWalkItem){ .name = "screw press", .place = 0 };
      small->notes[k] = (SwWalkNote){ T0 + (gint64)(notes[k] * 1e6), S, 0, k };
    }
}

/* Each photo in exactly one stop, probabilities in range, a reason for each. */
static void
check_whole (const SwWalk *walk, const SwProposal *proposal)
{
  g_autofree int *seen = g_new0 (int, walk->n_photos + 1);

  for (gsize k = 0; k < proposal->n_stops; k++)
    {
      const SwStop *stop = &proposal->stops[k];

      assert_true (stop->n_photos > 0);
      assert_true (stop->probability >= 0 && stop->probability <= 1);
      assert_true (stop->reason != NULL && stop->reason[0] != '\0');
      assert_null (strchr (stop->reason, '\n'));
      for (gsize i = 0; i < stop->n_photos; i++)
        {
          seen[stop->photos[i]]++;
          assert_int_equal (proposal->views[stop->photos[i]].stop, k);
        }
    }
  for (gsize i = 0; i < walk->n_photos; i++)
    {
      g_autofree char *text = sw_stops_explain (walk, proposal, (guint)i);

      assert_int_equal (seen[i], 1);
      assert_true (strlen (text) > 0);
    }
}

static const SwStop *
stop_of (const SwProposal *proposal, guint photo)
{
  return &proposal->stops[proposal->views[photo].stop];
}

static const Row rows[] = {
  { "nothing at all", { 0 }, 0, { 0 }, 0, 0 },
  { "notes without photos", { 0 }, 0, { 10, 20 }, 2, 0 },
  { "one photo", { 0 }, 1, { 0 }, 0, 1 },
  { "one photo, one note", { 0 }, 1, { 10 }, 1, 1 },
  { "two photos close", { 0, 5 }, 2, { 0 }, 0, 1 },
  { "two photos far apart", { 0, 900 }, 2, { 0 }, 0, 2 },
  { "five photos, two things", { 0, 6, 11, 130, 137 }, 5, { 0 }, 0, 2 },
  { "five photos, two things, notes after", { 0, 6, 11, 130, 137 }, 5, { 25, 150 }, 2, 2 },
  { "equal gaps", { 0, 8, 16, 24, 32, 40, 48, 56, 64, 72, 80, 88 }, 12, { 0 }, 0, -1 },
  { "a burst", { 0, 0, 0, 0, 0, 0, 0, 0, 0, 0 }, 10, { 0 }, 0, 1 },
  { "two bursts", { 0, 0, 0, 0, 0, 100, 100, 100, 100, 100 }, 10, { 0 }, 0, 2 },
  { "one photo a day",
    { 0, 86400, 172800, 259200, 345600, 432000, 518400, 604800, 691200, 777600 },
    10,
    { 0 },
    0,
    10 },
  { "notes all before", { 5000, 5006, 5100, 5107 }, 4, { 0, 60 }, 2, 2 },
  { "notes all after", { 0, 6, 100, 107 }, 4, { 9000, 9060 }, 2, 2 },
  { "notes a year before", { 31536000, 31536006, 31536100 }, 3, { 0, 60 }, 2, -1 },
};

static void
test_rows (void **state)
{
  const Row *row = *state;
  Small small;

  small_init (&small, row->photos, row->n_photos, row->notes, row->n_notes);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  if (row->stops >= 0)
    assert_i64_equal (proposal->n_stops, row->stops);
}

static void
test_notes_pair_in_order (void **state)
{
  static const double photos[] = { 0, 6, 11, 130, 137, 260, 266, 271 };
  static const double notes[] = { 25, 150, 285 };
  static const int expected[] = { 0, 0, 0, 1, 1, 2, 2, 2 };
  Small small;

  small_init (&small, photos, 8, notes, 3);
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  for (int k = 0; k < 8; k++)
    assert_i64_equal (proposal->stops[proposal->views[k].stop].label, expected[k]);
  assert_contains (proposal->stops[0].reason, "14 s before your note");
  assert_contains (proposal->stops[0].reason, "inside Press house");
}

/* What a person decided holds, even against a note right beside it, and carries its stop with it.
 */
static void
test_decided_holds (void **state)
{
  static const double photos[] = { 0, 6, 11, 130, 137, 143, 260, 266, 271 };
  static const double notes[] = { 25, 155, 285 };
  Small small;

  small_init (&small, photos, 9, notes, 3);
  small.photos[4].decided = 2;
  small.photos[8].decided = SW_WALK_NONE;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  for (int k = 3; k <= 5; k++)
    assert_i64_equal (proposal->stops[proposal->views[k].stop].label, 2);
  assert_i64_equal (proposal->stops[proposal->views[8].stop].label, SW_LABEL_NONE);
  assert_contains (proposal->stops[proposal->views[4].stop].reason,
                   "1 of its 3 photos decided before");
}

/* Two photos of one breath, decided differently, never share a stop. */
static void
test_decided_apart (void **state)
{
  static const double photos[] = { 0, 1, 2, 3 };
  static const double notes[] = { 10, 20 };
  Small small;

  small_init (&small, photos, 4, notes, 2);
  small.photos[0].decided = 0;
  small.photos[1].decided = 1;
  small.photos[2].decided = 0;
  small.photos[3].decided = SW_WALK_NONE;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  for (int k = 0; k < 4; k++)
    assert_i64_equal (proposal->stops[proposal->views[k].stop].label, small.photos[k].decided);
}

static void
test_weak_and_missing_times (void **state)
{
  static const double photos[] = { 0, 6, 0, 12, 130, 0, 137 };
  static const double notes[] = { 25, 150 };
  Small small;

  small_init (&small, photos, 7, notes, 2);
  small.photos[2].time_kind = SW_WALK_TIME_NONE;
  small.photos[5].time_kind = SW_WALK_TIME_WEAK;
  small.photos[5].clock_us = T0 + 4000 * S;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_true (proposal->views[2].repaired);
  assert_i64_equal (proposal->views[2].stop, proposal->views[1].stop);
  assert_i64_equal (proposal->views[5].stop, proposal->views[4].stop);
}

/* A copy that came without a camera's name and by a clock of its own goes with the picture it looks
 * the same as; the stop is then for the person to look at. */
static void
test_double_joins (void **state)
{
  static const double photos[] = { 0, 6, 11, 130, 137, 143, 90000 };
  Small small;

  small_init (&small, photos, 7, NULL, 0);
  small.walk.n_cameras = 2;
  small.cameras[1].nameless = TRUE;
  small.photos[6].camera = 1;
  for (guint k = 0; k < 6; k++)
    {
      small.photos[k].has_likeness = TRUE;
      small.photos[k].dhash = G_GUINT64_CONSTANT (0x9E3779B97F4A7C15) * (k + 1);
    }
  small.photos[6].has_likeness = TRUE;
  small.photos[6].dhash = small.photos[4].dhash ^ 1;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->n_stops, 2);
  assert_i64_equal (proposal->views[6].stop, proposal->views[4].stop);
  assert_i64_equal (proposal->stops[1].band, SW_BAND_DOUBTFUL);
  assert_contains (proposal->stops[1].reason, "looks the same");
}

/* One photo by a clock that nothing ties to the others', and one new thing of a single photo: never
 * sure, whatever the gaps say. */
static void
test_lone_is_not_sure (void **state)
{
  static const double photos[] = { 0, 6, 11, 4000, 9000, 9005, 9011 };
  Small small;

  small_init (&small, photos, 7, NULL, 0);
  small.walk.n_cameras = 2;
  small.photos[6].camera = 1;
  small.photos[6].clock_us = T0 - 40 * 86400 * S;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_true (proposal->stops[proposal->views[3].stop].n_photos == 1);
  assert_true (proposal->stops[proposal->views[3].stop].band != SW_BAND_SURE);
  assert_true (proposal->stops[proposal->views[6].stop].n_photos == 1);
  assert_true (proposal->stops[proposal->views[6].stop].band != SW_BAND_SURE);
}

static void
test_no_times_at_all (void **state)
{
  static const double photos[] = { 0, 0, 0 };
  Small small;

  small_init (&small, photos, 3, photos, 0);
  for (int k = 0; k < 3; k++)
    small.photos[k].time_kind = SW_WALK_TIME_NONE;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->n_stops, 1);
  assert_int_equal (proposal->stops[0].band, SW_BAND_UNKNOWN);
}

/* An override wins over what the notes say. */
static void
test_fixed_clock (void **state)
{
  static const double photos[] = { 0, 6, 11, 130, 137, 143 };
  static const double notes[] = { 25, 155 };
  Small small;

  small_init (&small, photos, 6, notes, 2);
  small.cameras[0] = (SwWalkCamera){ TRUE, 7200 };
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_true (proposal->clocks[0].shift_s == 7200);
  assert_i64_equal (proposal->stops[0].label, SW_LABEL_NEW);
  assert_i64_equal (proposal->views[0].t_us, T0 + 7200 * S);
}

/* Pairs of like photos in one stop, unlike ones apart, where the gaps leave it open. */
static void
test_pictures_count (void **state)
{
  static const double photos[] = { 0, 45, 90, 135, 180, 225 };
  Small small;

  small_init (&small, photos, 6, photos, 0);
  for (int k = 0; k < 6; k++)
    {
      small.photos[k].has_likeness = TRUE;
      small.photos[k].dhash
          = k < 3 ? G_GUINT64_CONSTANT (0x0f0f0f0f0f0f0f0f) : ~G_GUINT64_CONSTANT (0) << 20;
    }
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->views[0].stop, proposal->views[2].stop);
  assert_i64_equal (proposal->views[3].stop, proposal->views[5].stop);
  assert_true (proposal->views[2].stop != proposal->views[3].stop);
}

/* A new thing lies where its photos' positions say; far from every place they say nothing. */
static void
test_place_by_position (void **state)
{
  static const double photos[] = { 0, 6, 200, 207, 900 };
  static const double latitudes[] = { -41.0000, -41.0000, -41.0010, -41.0010, -41.2 };
  Small small;

  small_init (&small, photos, 5, photos, 0);
  for (int k = 0; k < 2; k++)
    {
      small.places[k].has_position = TRUE;
      small.places[k].latitude = -41.0000 - 0.0010 * k;
      small.places[k].longitude = 174.0;
    }
  for (int k = 0; k < 5; k++)
    {
      small.photos[k].has_position = TRUE;
      small.photos[k].latitude = latitudes[k];
      small.photos[k].longitude = 174.0;
      small.photos[k].error_m = 8;
    }
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->n_stops, 3);
  assert_i64_equal (proposal->stops[0].place, 0);
  assert_i64_equal (proposal->stops[1].place, 1);
  assert_i64_equal (proposal->stops[2].place, -1);
}

/* Photos whose camera name was stripped lie among the others'; a camera with a clock of its own,
 * not known, does not. */
static void
test_nameless_camera (void **state)
{
  static const double photos[] = { 0, 6, 9, 12, 200, 207 };
  Small small;

  for (int named = 0; named < 2; named++)
    {
      small_init (&small, photos, 6, photos, 0);
      small.walk.n_cameras = 2;
      small.photos[2].camera = 1;
      small.cameras[1].nameless = !named;
      g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
      check_whole (&small.walk, proposal);
      assert_i64_equal (proposal->n_stops, named ? 3 : 2);
      assert_true ((proposal->views[2].stop == proposal->views[1].stop) == !named);
    }
}

/* Exactness: every path listed, weights multiplied out. */
typedef struct
{
  SwModel *model;
  gsize n;
  double total;
  double state_sum[6][64];
  guint path[6];
} Listing;

static void
list_paths (Listing *listing, gsize t, guint state, double weight)
{
  listing->path[t] = state;
  if (weight == 0)
    return;
  if (t + 1 == listing->n)
    {
      weight *= sw_model_finish_weight (listing->model, state);
      listing->total += weight;
      for (gsize i = 0; i < listing->n; i++)
        listing->state_sum[i][listing->path[i]] += weight;
      return;
    }
  g_autofree SwChainEdge *edges = g_new0 (SwChainEdge, sw_model_max_edges (listing->model));
  gsize n = sw_model_edges (listing->model, t, state, edges);
  for (gsize e = 0; e < n; e++)
    list_paths (listing, t + 1, edges[e].to, weight * edges[e].weight);
}

typedef struct
{
  double new_thing, sum;
} LabelSums;

static void
sum_labels (gpointer data, int label, double probability)
{
  LabelSums *sums = data;

  sums->sum += probability;
  if (label == SW_LABEL_NEW)
    sums->new_thing = probability;
}

static void
test_exact (void **state)
{
  guint32 seed = 1;

  for (int round = 0; round < 300; round++)
    {
      double photos[6], notes[3], t = 0;
      int n = 1 + round % 6, m = round / 6 % 4;
      Small small;
      SwModelPhoto chain[6];
      g_autoptr (GRand) dice = g_rand_new_with_seed (seed++);
      g_autofree Listing *listing = g_new0 (Listing, 1);

      for (int k = 0; k < n; k++)
        photos[k] = t += exp (g_rand_double_range (dice, 0, 5.5));
      for (int k = 0; k < m; k++)
        notes[k] = g_rand_double_range (dice, -30, t + 60);
      small_init (&small, photos, n, notes, m);
      if (round % 5 == 4)
        small.photos[n / 2].decided = m > 0 ? 0 : SW_WALK_NONE;
      for (int k = 0; k < n; k++)
        chain[k] = (SwModelPhoto){ (guint)k, small.photos[k].clock_us };
      g_autoptr (SwModel) model = sw_model_new (&small.walk, chain, (gsize)n);
      sw_model_run (model, 0, 0);
      listing->model = model;
      listing->n = (gsize)n;
      for (guint s = 0; s < sw_model_n_states (model, 0); s++)
        list_paths (listing, 0, s, sw_model_start_weight (model, s));
      assert_true (fabs (log (listing->total) - sw_model_log_evidence (model)) < 1e-9);
      for (int k = 0; k < n; k++)
        {
          LabelSums sums = { 0 };
          double exact = 0;

          for (guint s = SW_PHASE_NEW; s < sw_model_n_states (model, (gsize)k); s += SW_N_PHASES)
            exact += listing->state_sum[k][s];
          sw_model_labels (model, (gsize)k, sum_labels, &sums);
          assert_true (fabs (sums.new_thing - exact / listing->total) < 1e-9);
          assert_true (fabs (sums.sum - 1) < 1e-9);
        }
    }
}

/* A card, two things, another card, a thing: taken so quickly that times alone see one stop. */
static void
test_cards_cut_and_place (void **state)
{
  static const double photos[] = { 0, 6, 12, 18, 200, 206, 212, 218, 224 };
  Small small;

  small_init (&small, photos, 9, NULL, 0);
  small.photos[0].is_card = small.photos[6].is_card = TRUE;
  for (guint k = 0; k < 9; k++)
    {
      small.photos[k].place = k < 6 ? 0 : 1;
      small.photos[k].card = k < 6 ? 1 : 7;
    }
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->n_stops, 5);
  for (guint k = 0; k < 9; k++)
    {
      const SwStop *stop = stop_of (proposal, k);
      gboolean card = k == 0 || k == 6;

      assert_i64_equal (stop->label, card ? SW_LABEL_NONE : SW_LABEL_NEW);
      assert_i64_equal (stop->n_photos, card ? 1 : k < 4 ? 3 : 2);
      assert_i64_equal (stop->place, k < 6 ? 0 : 1);
      assert_false (stop->decided);
      if (card)
        assert_true (stop->probability > 0.999 && stop->band == SW_BAND_SURE);
    }
  assert_contains (stop_of (proposal, 0)->reason, "the card of Press house");
  assert_contains (stop_of (proposal, 4)->reason, "the card of Press house, 3 min 20 s before");
  assert_contains (stop_of (proposal, 8)->reason, "the card of Cold store, 6 s before");
}

static double
label_share (const SwProposal *proposal, guint photo, int label)
{
  const SwPhotoView *view = &proposal->views[photo];

  for (int k = 0; k < 3; k++)
    if (view->labels[k] == label)
      return view->label_p[k];
  return 0;
}

/* Two notes lie alike beside a stop; the card tips the scales to the one of its place, with a leak.
 */
static void
test_card_against_notes (void **state)
{
  static const double photos[] = { 0, 100, 106, 112 };
  static const double notes[] = { 90, 90 };
  Small small;

  small_init (&small, photos, 4, notes, 2);
  small.items[1].place = small.notes[1].place = 1;
  for (int card = 0; card < 2; card++)
    {
      small.photos[0].is_card = TRUE;
      for (guint k = 0; k < 4; k++)
        {
          small.photos[k].place = card;
          small.photos[k].card = 1;
        }
      g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
      check_whole (&small.walk, proposal);
      assert_true (label_share (proposal, 2, card) > 10 * label_share (proposal, 2, 1 - card));
      assert_true (label_share (proposal, 2, 1 - card) > 0);
    }
}

/* The next place's card was not photographed at its door. The things there go by their notes all
 * the same, and the card that was seen counts where it stood. */
static void
test_card_missed (void **state)
{
  static const double photos[] = { 0, 20, 26, 32, 60, 66, 300, 306, 312, 350, 356, 400, 407, 412 };
  static const double notes[] = { 18, 58, 298, 348, 398 };
  Small small;

  small_init (&small, photos, G_N_ELEMENTS (photos), notes, G_N_ELEMENTS (notes));
  small.photos[0].is_card = TRUE;
  for (guint k = 0; k < G_N_ELEMENTS (photos); k++)
    {
      small.photos[k].place = 0;
      small.photos[k].card = 1;
    }
  for (guint k = 0; k < G_N_ELEMENTS (notes); k++)
    small.items[k].place = small.notes[k].place = k < 2 ? 0 : 1;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  for (guint i = 1; i < G_N_ELEMENTS (photos); i++)
    assert_i64_equal (stop_of (proposal, i)->label, i < 4    ? 0
                                                    : i < 6  ? 1
                                                    : i < 9  ? 2
                                                    : i < 11 ? 3
                                                             : 4);
}

/* Tags cut where times do not, and a borne tag is its item; without a bearer it is a new thing. */
static void
test_tags_cut_and_name (void **state)
{
  static const double photos[] = { 0, 6, 12, 20, 26, 32, 300, 306 };
  Small small;

  small_init (&small, photos, 8, NULL, 0);
  small.items[0] = (SwWalkItem){ .name = "vat", .place = 1 };
  small.walk.n_items = 1;
  small.photos[0].tag = 12;
  small.photos[3].tag = 5;
  small.photos[3].bearer = 1;
  small.photos[5].tag = 5; /* seen again on the same thing */
  small.photos[5].bearer = 1;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->n_stops, 3);
  for (guint k = 0; k < 8; k++)
    {
      const SwStop *stop = stop_of (proposal, k);

      assert_i64_equal (stop->label, k >= 3 && k < 6 ? 0 : SW_LABEL_NEW);
      assert_i64_equal (stop->tag, k < 3 ? 12 : k < 6 ? 5 : 0);
      assert_false (stop->decided);
    }
  assert_contains (stop_of (proposal, 0)->reason, "tag 12 in the first photo");
  assert_i64_equal (stop_of (proposal, 4)->place, 1);
}

/* Three photos of one camera, three of another, pauses alike; then of one without a name. */
static void
test_camera_in_hand (void **state)
{
  static const double photos[] = { 0, 20, 40, 60, 80, 100 };
  Small small;
  SwModelPhoto at[6];
  double one[5];

  small_init (&small, photos, 6, NULL, 0);
  for (guint k = 0; k < 6; k++)
    at[k] = (SwModelPhoto){ k, small.photos[k].clock_us };
  for (int turn = 0; turn < 3; turn++)
    {
      small.walk.n_cameras = turn > 0 ? 2 : 1;
      small.cameras[1].nameless = turn == 2;
      for (int k = 3; k < 6; k++)
        small.photos[k].camera = turn > 0;
      g_autoptr (SwModel) model = sw_model_new (&small.walk, at, 6);
      sw_model_run (model, 0, 0);
      for (gsize t = 0; t < 5; t++)
        {
          g_autofree SwChainEdge *edges = g_new0 (SwChainEdge, sw_model_max_edges (model));
          gsize n = sw_model_edges (model, t, SW_PHASE_NEW, edges);
          SwGapWeights weights;
          double stay = 0, next = 0;

          sw_model_gap_weights (model, t, &weights);
          for (gsize e = 0; e < n; e++)
            *(edges[e].kind == SW_EDGE_NEXT ? &next : &stay) += edges[e].weight;
          assert_true (fabs (next / stay - weights.pause / weights.hand) < 1e-9 * next / stay);
          if (turn == 0)
            one[t] = sw_model_boundary (model, t);
          if (turn == 1 && t == 2)
            assert_true (weights.hand < 0.5 && sw_model_boundary (model, t) > one[t]);
          else if (turn == 1 && t == 3) /* just changed: it may well be changed again */
            assert_true (weights.hand > 0.8 && weights.hand < 1.2);
          else if (turn == 1)
            assert_true (weights.hand > 1 && sw_model_boundary (model, t) < one[t]);
          else
            assert_true (weights.hand == 1);
        }
    }
}

/* One camera alone tells nothing; the rarer one is, the more its going on says; who changes to and
 * fro goes on doing so. Whatever the next camera is, its chances add up to one: the share of things
 * for which one is picked anew comes out the same of all weights. */
static void
test_camera_weights (void **state)
{
  const SwWalkParams params = sw_walk_params_default ();
  double picked = -1;

  for (int since = 0; since < SW_N_SINCE; since++)
    {
      double change = sw_camera_in_hand (&params, since, TRUE, 0.3), last = 1;

      assert_true (fabs (sw_camera_in_hand (&params, since, FALSE, 1) - 1) < 1e-12);
      assert_true (change < 1.2 && change >= sw_camera_in_hand (&params, SW_SINCE_LONG, TRUE, 0.3));
      for (double share = 0.9; share > 0.01; share /= 2)
        {
          double same = sw_camera_in_hand (&params, since, FALSE, share), found;

          assert_true ((same >= last || since == 1) && same < 10);
          last = same;
          if (same - change < 1e-9)
            continue;
          found = (same - 1) / ((1 - share) * (same - change));
          assert_true (picked < 0 || fabs (found - picked) < 1e-9);
          picked = found;
        }
    }
  assert_true (picked > 0 && picked <= 1);
  assert_int_equal (sw_since_next (SW_SINCE_LONG, FALSE), SW_SINCE_LONG);
  assert_int_equal (sw_since_next (3, TRUE), 1);
  assert_int_equal (sw_since_next (1, FALSE), 2);
  assert_int_equal (sw_since_next (3, FALSE), SW_SINCE_LONG);
}

/* The weights told are the factors that the chain multiplies: steps from a new thing at photo t,
 * and the paths of a walk of one photo. */
static void
test_weights_are_the_chains (void **state)
{
  static const double photos[] = { 0, 9, 31, 300 }, notes[] = { 12 };
  Small small;

  small_init (&small, photos, 4, notes, 0);
  for (int k = 0; k < 4; k++)
    {
      small.photos[k].has_likeness = TRUE;
      small.photos[k].dhash = k < 2 ? 0x0123456789abcdef : 0xfedcba9876543210;
    }
  small.photos[2].tag = 3;
  SwModelPhoto at[4];
  for (guint k = 0; k < 4; k++)
    at[k] = (SwModelPhoto){ k, small.photos[k].clock_us };
  g_autoptr (SwModel) model = sw_model_new (&small.walk, at, 4);
  sw_model_run (model, 0, 0);
  g_autofree SwChainEdge *edges = g_new0 (SwChainEdge, sw_model_max_edges (model));
  for (gsize t = 0; t + 1 < 4; t++)
    {
      gsize n = sw_model_edges (model, t, SW_PHASE_NEW, edges);
      double stay = 0, next = 0;
      SwGapWeights weights;

      sw_model_gap_weights (model, t, &weights);
      for (gsize e = 0; e < n; e++)
        if (edges[e].to % SW_N_PHASES == SW_PHASE_NEW)
          *(edges[e].kind == SW_EDGE_NEXT ? &next : &stay) += edges[e].weight;
      assert_true (stay > 0 && next > 0);
      assert_true (
          fabs (next / stay - weights.pause / (weights.alike * weights.hand * weights.signs))
          < 1e-9 * next / stay);
      assert_true (weights.hand == 1);
      assert_int_equal (weights.bits, t == 1 ? 64 : 0);
      assert_true (t == 1 ? weights.alike < 1 && weights.signs < 1
                          : weights.alike > 1 && weights.signs == 1);
    }

  small_init (&small, photos, 1, notes, 1);
  g_autoptr (SwModel) one = sw_model_new (&small.walk, at, 1);
  SwNoteWeights weights;
  double sum = 0;

  sw_model_run (one, 0, 0);
  assert_true (sw_model_note_weights (one, 0, 0, 0, &weights));
  assert_int_equal (weights.note, 0);
  for (guint s = 0; s < sw_model_n_states (one, 0); s++)
    if (s % SW_N_PHASES == SW_PHASE_PAID || s % SW_N_PHASES == SW_PHASE_PENDING)
      sum += sw_model_start_weight (one, s) * sw_model_finish_weight (one, s);
  assert_true (fabs (sum - sw_model_params (one)->noted * weights.time * weights.place)
               < 1e-9 * sum);
  assert_false (sw_model_note_weights (one, 0, 0, 5, &weights));
}

/* A tag read in a photo of another stop, and the picture of which a person said it once more. */
static void
test_second_things (void **state)
{
  static const double photos[] = { 0, 5, 10, 300, 305, 311, 316 }, notes[] = { 14, 320 };
  const SwWalkSight sights[]
      = { { 1, 7, 1 }, { 2, 9, -1 }, { 3, 8, 1 }, { 5, 0, 0 }, { 6, 0, 0 }, { 6, 7, 0 } };
  Small small;

  small_init (&small, photos, 7, notes, 2);
  small.walk.sights = sights;
  small.walk.n_sights = G_N_ELEMENTS (sights);
  for (int k = 0; k < 7; k++)
    {
      small.photos[k].has_likeness = TRUE;
      small.photos[k].dhash = k == 6   ? 0xff00ff00ff00ff00
                              : k == 4 ? 0x5555aaaa5555aaa8
                              : k == 5 ? 0x5555aaaa5555aaaa
                                       : 0x0123456789abcdef;
    }
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_int_equal (proposal->n_stops, 2);
  assert_int_equal (proposal->stops[0].label, 0);
  assert_int_equal (proposal->stops[1].label, 1);
  /* Tag 9 hangs on nothing, tag 8 on the stop's own thing, tag 7 in photo 6 on what was said. */
  assert_int_equal (proposal->n_also, 2);
  assert_int_equal (proposal->also[0].photo, 1);
  assert_int_equal (proposal->also[0].item, 1);
  assert_int_equal (proposal->also[0].tag, 7);
  assert_int_equal (proposal->also[1].photo, 4);
  assert_int_equal (proposal->also[1].item, 0);
  assert_int_equal (proposal->also[1].like, 5);
  small.photos[4].decided = SW_WALK_NONE;
  g_autoptr (SwProposal) none = sw_stops_propose (&small.walk);
  assert_int_equal (none->n_also, 1);
}

/* A person's word goes before any code. */
static void
test_decided_before_codes (void **state)
{
  static const double photos[] = { 0, 6, 12 };
  Small small;

  small_init (&small, photos, 3, NULL, 0);
  small.items[0] = (SwWalkItem){ .name = "vat", .place = 1 };
  small.items[1] = (SwWalkItem){ .name = "press", .place = 0 };
  small.walk.n_items = 2;
  small.photos[0].is_card = TRUE;
  small.photos[0].place = 0;
  small.photos[0].card = 1;
  small.photos[0].decided = 1;
  small.photos[1].tag = 3;
  small.photos[1].bearer = 1;
  small.photos[1].decided = SW_WALK_NONE;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (stop_of (proposal, 0)->label, 1);
  assert_i64_equal (stop_of (proposal, 1)->label, SW_LABEL_NONE);
}

/* Cards and tags on photos without any time. */
static void
test_codes_without_times (void **state)
{
  static const double photos[] = { 0, 0, 0, 0, 0, 0 };
  Small small;

  small_init (&small, photos, 6, NULL, 0);
  for (guint k = 0; k < 6; k++)
    {
      small.photos[k].time_kind = SW_WALK_TIME_NONE;
      small.photos[k].place = 0;
      small.photos[k].card = 1;
    }
  small.photos[0].is_card = TRUE;
  small.photos[3].tag = 9;
  g_autoptr (SwProposal) proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->n_stops, 3);
  assert_i64_equal (stop_of (proposal, 0)->label, SW_LABEL_NONE);
  assert_i64_equal (stop_of (proposal, 2)->tag, 0);
  assert_i64_equal (stop_of (proposal, 5)->tag, 9);
  assert_i64_equal (stop_of (proposal, 5)->place, 0);
}

/* What a person said of a gap, and the second camera's clock put right afterwards. Photos 0 to 2
 * are the first camera's, 3 the second's. */
typedef struct
{
  const char *label;
  double photos[4], shift_s; /* the second camera's */
  guint photo, beside;       /* of the gap */
  int cut;
  int decided;   /* photo 3 */
  guint same[4]; /* photos of one number are of one stop */
} GapRow;

static const GapRow gap_rows[] = {
  { "cut, as it was", { 0, 4, 500, 2 }, 0, 1, 3, 1, SW_WALK_OPEN, { 0, 1, 2, 0 } },
  { "cut, the other way round", { 0, 4, 500, 2 }, 4, 1, 3, 1, SW_WALK_OPEN, { 0, 0, 2, 1 } },
  { "cut, far apart", { 0, 4, 500, 2 }, 500, 1, 3, 1, SW_WALK_OPEN, { 0, 0, 2, 2 } },
  { "joined, one set between", { 0, 60, 900, 930 }, -900, 1, 0, -1, SW_WALK_OPEN, { 0, 0, 2, 0 } },
  { "joined, another thing's between", { 0, 60, 900, 930 }, -900, 1, 0, -1, 0, { 0, 0, 2, 3 } },
  { "joined, hours apart", { 0, 4, 500, 503 }, 7200, 3, 2, -1, SW_WALK_OPEN, { 0, 0, 2, 2 } },
  { "joined, turned", { 0, 4, 500, 503 }, -7200, 3, 2, -1, SW_WALK_OPEN, { 0, 0, 2, 2 } },
};

static void
test_gap_holds (void **state)
{
  const GapRow *row = *state;
  Small small;
  g_autoptr (SwProposal) proposal = NULL;

  small_init (&small, row->photos, 4, NULL, 0);
  small.walk.n_items = 1;
  small.items[0] = (SwWalkItem){ .name = "screw press", .place = 0 };
  small.walk.n_cameras = 2;
  small.cameras[0].fixed = small.cameras[1].fixed = TRUE;
  small.cameras[1].shift_s = row->shift_s;
  small.photos[3].camera = 1;
  small.photos[3].decided = row->decided;
  small.photos[row->photo].cut = row->cut;
  small.photos[row->photo].beside = row->beside + 1;
  proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  for (gsize i = 0; i < 4; i++)
    for (gsize j = 0; j < i; j++)
      if ((proposal->views[i].stop == proposal->views[j].stop) != (row->same[i] == row->same[j]))
        fail_msg ("photos %zu and %zu", j, i);
}

/* A stop joined to two others: all are one; of which one was decided as another thing since: it is
 * still joined to the other. */
typedef struct
{
  const char *label;
  gboolean contradicted;
  gsize n_stops;
} JoinRow;

static const JoinRow join_rows[] = {
  { "both", FALSE, 1 },
  { "one contradicted", TRUE, 2 },
};

static void
test_second_join_holds (void **state)
{
  const JoinRow *row = *state;
  static const double at_s[] = { 0, 900, 5000, 5003 };
  Small small;
  g_autoptr (SwProposal) proposal = NULL;

  small_init (&small, at_s, 4, NULL, 0);
  small.walk.n_items = 2;
  small.items[0] = (SwWalkItem){ .name = "screw press", .place = 0 };
  small.items[1] = (SwWalkItem){ .name = "apple mill", .place = 0 };
  small.walk.n_cameras = 2;
  small.cameras[0].fixed = small.cameras[1].fixed = TRUE;
  if (row->contradicted)
    small.photos[0].decided = 0;
  for (gsize i = 2; i < 4; i++)
    {
      small.photos[i].camera = 1;
      small.photos[i].decided = 1;
      small.photos[i].cut = -1;
      small.photos[i].beside = (guint)i - 1; /* photos 0 and 1 */
    }
  proposal = sw_stops_propose (&small.walk);
  check_whole (&small.walk, proposal);
  assert_i64_equal (proposal->n_stops, row->n_stops);
  assert_i64_equal (proposal->views[1].stop, proposal->views[3].stop);
  assert_i64_equal (stop_of (proposal, 1)->label, 1);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, test_rows, rows);
  SW_TEST (tests, test_notes_pair_in_order);
  SW_TEST (tests, test_decided_holds);
  SW_TEST (tests, test_decided_apart);
  SW_TEST_ROWS (tests, test_gap_holds, gap_rows);
  SW_TEST (tests, test_weak_and_missing_times);
  SW_TEST (tests, test_double_joins);
  SW_TEST_ROWS (tests, test_second_join_holds, join_rows);
  SW_TEST (tests, test_lone_is_not_sure);
  SW_TEST (tests, test_no_times_at_all);
  SW_TEST (tests, test_fixed_clock);
  SW_TEST (tests, test_pictures_count);
  SW_TEST (tests, test_place_by_position);
  SW_TEST (tests, test_nameless_camera);
  SW_TEST (tests, test_cards_cut_and_place);
  SW_TEST (tests, test_card_against_notes);
  SW_TEST (tests, test_card_missed);
  SW_TEST (tests, test_tags_cut_and_name);
  SW_TEST (tests, test_camera_in_hand);
  SW_TEST (tests, test_camera_weights);
  SW_TEST (tests, test_weights_are_the_chains);
  SW_TEST (tests, test_second_things);
  SW_TEST (tests, test_decided_before_codes);
  SW_TEST (tests, test_codes_without_times);
  SW_TEST (tests, test_exact);
  return sw_tests_run (tests, "stops");
}
