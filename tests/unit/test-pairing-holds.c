/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Nothing that a person fixed ever moves: decisions, pairing, accepting, undo and redo by dice. The
 * test keeps its own book of what was decided, and its own undo. */
#include "sw-test-walk.h"

#include "core/match/sorting.h"

#define N_PHOTOS 40
#define N_ITEMS 4
#define OPEN 0
#define NONE (-1)
#define ROUNDS 4
#define STEPS 30
#define MOST_UNDO 64

/* What each photo shows by a person's word: an item, NONE, or OPEN; which things beside it, a bit
 * each; and which place. */
typedef struct
{
  gint64 shows[N_PHOTOS + 1], place[N_PHOTOS + 1];
  guint64 also[N_PHOTOS + 1];
} Book;

typedef struct
{
  SwTestWalk walk;
  GRand *dice;
  Book now, undo[MOST_UNDO], redo[MOST_UNDO];
  int n_undo, n_redo;
} Game;

static void
deal (Game *game, guint32 seed)
{
  g_autoptr (GString) notes = g_string_new (NULL);
  int at = 0;

  *game = (Game){ .dice = g_rand_new_with_seed (seed) };
  sw_test_walk_init (&game->walk);
  for (int k = 0; k < N_PHOTOS; k++)
    {
      static const int longest[] = { 8, 8, 8, 300 };

      sw_test_walk_photo (&game->walk, at);
      at += g_rand_int_range (game->dice, 0, longest[g_rand_int_range (game->dice, 0, 4)]);
    }
  for (int k = 0; k < N_ITEMS; k++)
    {
      int when = g_rand_int_range (game->dice, 0, MAX (at, 1));
      g_string_append_printf (notes, "10:%02d:%02d Loft: thing with a name %d\n",
                              MIN (when / 60, 59), when % 60, k + 1);
    }
  sw_test_walk_notes (&game->walk, notes->str);
}

static void
read_book (Game *game, Book *book)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) shows = sw_photo_shows_list (game->walk.bed.catalogue, &error);
  g_autoptr (GArray) places
      = sw_place_photo_list (game->walk.bed.catalogue, game->walk.trip, &error);

  assert_no_error (error);
  *book = (Book){ { 0 } };
  for (guint k = 0; k < places->len; k++)
    {
      const SwPlacePhoto *row = &g_array_index (places, SwPlacePhoto, k);

      assert_i64_equal (book->place[row->photo], 0);
      book->place[row->photo] = row->place;
    }
  for (guint k = 0; k < shows->len; k++)
    {
      const SwPhotoShows *row = &g_array_index (shows, SwPhotoShows, k);

      assert_true (row->item < 64);
      if (row->also)
        book->also[row->photo] |= G_GUINT64_CONSTANT (1) << row->item;
      else
        book->shows[row->photo] = row->item == 0 ? NONE : row->item;
    }
}

static void
check_stop (const SwPairingStop *stop, gboolean *seen)
{
  assert_true (stop->photos->len > 0);
  assert_i64_equal (stop->photos->len, stop->files->len);
  assert_true (stop->probability >= 0 && stop->probability <= 1);
  assert_true (stop->reason != NULL && *stop->reason != '\0');
  assert_true (!stop->is_new || (stop->item != NULL && stop->item_number == 0));
  for (guint k = 0; k < stop->photos->len; k++)
    {
      gint64 photo = g_array_index (stop->photos, gint64, k);

      assert_true (photo >= 1 && photo <= N_PHOTOS && !seen[photo]);
      seen[photo] = TRUE;
    }
}

/* Each photo stands in one stop; a decided one in a stop of what it was decided to be. */
static void
check_pairing (const Game *game, const SwPairing *pairing)
{
  gboolean seen[N_PHOTOS + 1] = { FALSE };

  for (guint k = 0; k < pairing->stops->len; k++)
    {
      const SwPairingStop *stop = g_ptr_array_index (pairing->stops, k);

      check_stop (stop, seen);
      for (guint j = 0; j < stop->photos->len; j++)
        {
          gint64 shows = game->now.shows[g_array_index (stop->photos, gint64, j)];

          if (shows == NONE)
            assert_true (stop->item == NULL && stop->item_number == 0 && !stop->is_new);
          else if (shows != OPEN)
            assert_i64_equal (stop->item_number, shows);
        }
    }
  for (int k = 1; k <= N_PHOTOS; k++)
    assert_true (seen[k]);
}

static char *
in_words (const SwPairing *pairing)
{
  GString *text = g_string_new (NULL);

  for (guint k = 0; k < pairing->stops->len; k++)
    {
      const SwPairingStop *stop = g_ptr_array_index (pairing->stops, k);

      g_string_append_printf (text, "%" G_GINT64_FORMAT "+%u %s %" G_GINT64_FORMAT " %.17g %d %s\n",
                              g_array_index (stop->photos, gint64, 0), stop->photos->len,
                              stop->item ? stop->item : "-", stop->item_number, stop->probability,
                              (int)stop->band, stop->reason);
    }
  return g_string_free (text, FALSE);
}

static void
pair_twice (Game *game)
{
  g_autoptr (SwPairing) one = sw_test_walk_pair (&game->walk);
  g_autoptr (SwPairing) two = sw_test_walk_pair (&game->walk);
  g_autofree char *first = in_words (one), *second = in_words (two);

  assert_string_equal (first, second);
  check_pairing (game, one);
}

/* An act was made: what stood before it can be got back. */
static void
acted (Game *game)
{
  Book before = game->now;

  read_book (game, &game->now);
  if (memcmp (&before, &game->now, sizeof before) == 0)
    return;
  assert_true (game->n_undo < MOST_UNDO);
  game->undo[game->n_undo++] = before;
  game->n_redo = 0;
}

static void
decide (Game *game)
{
  g_autoptr (GError) error = NULL;
  gint64 photos[3], item = g_rand_int_range (game->dice, 0, N_ITEMS + 1);
  int n = g_rand_int_range (game->dice, 1, 4),
      first = g_rand_int_range (game->dice, 1, N_PHOTOS - 2);

  for (int k = 0; k < n; k++)
    photos[k] = first + k;
  assert_true (sw_item_assign (game->walk.bed.catalogue, item, photos, (gsize)n, FALSE, &error));
  acted (game);
  for (int k = 0; k < n; k++)
    assert_i64_equal (game->now.shows[photos[k]], item == 0 ? NONE : item);
}

/* A thing more in view: what the photo was given to stands. */
static void
say_also (Game *game)
{
  g_autoptr (GError) error = NULL;
  gint64 photo = g_rand_int_range (game->dice, 1, N_PHOTOS + 1);
  gint64 item = g_rand_int_range (game->dice, 1, N_ITEMS + 1), shows = game->now.shows[photo];

  if (shows == NONE || shows == item)
    return;
  assert_true (sw_item_assign (game->walk.bed.catalogue, item, &photo, 1, TRUE, &error));
  acted (game);
  assert_i64_equal (game->now.shows[photo], shows);
  assert_true (game->now.also[photo] >> item & 1);
}

static void
say_place (Game *game)
{
  g_autoptr (GError) error = NULL;
  gint64 photo = g_rand_int_range (game->dice, 1, N_PHOTOS + 1);
  g_autoptr (SwPlace) place = sw_place_find (game->walk.bed.catalogue, "Loft", &error);

  assert_no_error (error);
  assert_true (sw_place_give_photos (game->walk.bed.catalogue, place->id, &photo, 1, &error));
  acted (game);
  assert_i64_equal (game->now.shows[photo], NONE);
  assert_i64_equal (game->now.place[photo], place->id);
}

/* Only what was open may change. */
static void
accept (Game *game)
{
  g_autoptr (GError) error = NULL;
  Book before = game->now;

  assert_true (sw_sorting_accept_band (game->walk.bed.catalogue, game->walk.trip,
                                       (SwBand)g_rand_int_range (game->dice, 0, 3), NULL, &error));
  acted (game);
  for (int k = 1; k <= N_PHOTOS; k++)
    {
      if (before.shows[k] != OPEN)
        assert_i64_equal (game->now.shows[k], before.shows[k]);
      assert_i64_equal (before.also[k] & ~game->now.also[k], 0);
      assert_i64_equal (game->now.place[k], before.place[k]);
    }
}

static void
go_back (Game *game)
{
  g_autoptr (GError) error = NULL;

  if (game->n_undo == 0)
    return;
  game->redo[game->n_redo++] = game->now;
  assert_true (sw_undo (game->walk.bed.catalogue, NULL, &error));
  read_book (game, &game->now);
  assert_memory_equal (&game->now, &game->undo[--game->n_undo], sizeof (Book));
}

static void
go_forth (Game *game)
{
  g_autoptr (GError) error = NULL;

  if (game->n_redo == 0)
    return;
  game->undo[game->n_undo++] = game->now;
  assert_true (sw_redo (game->walk.bed.catalogue, NULL, &error));
  read_book (game, &game->now);
  assert_memory_equal (&game->now, &game->redo[--game->n_redo], sizeof (Book));
}

static void
test_what_was_decided_holds (void **state)
{
  static void (*const moves[]) (Game *)
      = { decide, decide, say_also, say_place, accept, go_back, go_back, go_forth };

  for (guint32 round = 0; round < ROUNDS; round++)
    {
      Game game;

      deal (&game, 7100 + round);
      pair_twice (&game);
      for (int k = 0; k < STEPS; k++)
        {
          moves[g_rand_int_range (game.dice, 0, G_N_ELEMENTS (moves))](&game);
          if (g_rand_boolean (game.dice))
            pair_twice (&game);
        }
      g_rand_free (game.dice);
      sw_test_bed_clear (&game.walk.bed);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_what_was_decided_holds);
  return sw_tests_run (tests, "pairing-holds");
}
