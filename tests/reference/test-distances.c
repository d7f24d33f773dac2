/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Distances against published lines and against GeodSolve, the program of GeographicLib (Karney,
 * C. F. F., 2013, Algorithms for geodesics, J. Geodesy 87, 43-55). */
#include "../unit/sw-test.h"

#include "core/base/distance.h"

#include <gio/gio.h>

#include <math.h>
#include <string.h>

#define DEGREES(d, m, s) ((d) + (m) / 60.0 + (s) / 3600.0)

typedef struct
{
  const char *label;
  double lat1, lon1, lat2, lon2;
  double metres, tolerance;
} Row;

static const Row rows[] = {
  /* the example in GeodSolve's manual page, printed to the metre */
  { "New York to Singapore", DEGREES (40, 38, 23), -DEGREES (73, 46, 44), DEGREES (1, 21, 33),
    DEGREES (103, 59, 22), 15347628, 0.5 },
  /* ICSM, Geocentric Datum of Australia technical manual, 2.4 (2014), chapter 4, on GRS 80, which
   * is WGS 84 here to a tenth of a millimetre; from memory, and worked out anew */
  { "Flinders Peak to Buninyong", -DEGREES (37, 57, 3.72030), DEGREES (144, 25, 29.52440),
    -DEGREES (37, 39, 10.15610), DEGREES (143, 55, 35.38390), 54972.271, 0.0006 },
  { "nowhere far", -38.5, 176.25, -38.5, 176.25, 0, 0 },
  /* a quarter of the meridian: 10,001,965.729 m (Karney 2013, section 2) */
  { "the equator to the pole", 0, 12, 90, 77, 10001965.729, 0.0006 },
};

static void
test_published (void **state)
{
  const Row *row = *state;
  double metres = sw_distance_m (row->lat1, row->lon1, row->lat2, row->lon2);

  if (fabs (metres - row->metres) <= row->tolerance)
    return;
  print_error ("%s: %.4f m, expected %.4f m\n", row->label, metres, row->metres);
  fail ();
}

#define N_PAIRS 2000

/* Pairs as a property has them, up to some 2 km apart, all over the earth; and a few anyhow. */
static void
make_pairs (double pairs[][4])
{
  g_autoptr (GRand) dice = g_rand_new_with_seed (1866);

  for (int k = 0; k < N_PAIRS; k++)
    {
      double *p = pairs[k];
      gboolean far = k % 50 == 0;

      p[0] = g_rand_double_range (dice, -89.9, 89.9);
      p[1] = g_rand_double_range (dice, -180, 180);
      p[2] = far ? g_rand_double_range (dice, -90, 90)
                 : p[0] + g_rand_double_range (dice, -0.012, 0.012);
      p[2] = CLAMP (p[2], -90, 90);
      p[3] = far ? g_rand_double_range (dice, -180, 180)
                 : p[1] + g_rand_double_range (dice, -0.012, 0.012) / cos (p[0] * G_PI / 180);
    }
}

static char *
ask_geodsolve (double pairs[][4])
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) lines = g_string_new (NULL);
  g_autoptr (GSubprocess) process = NULL;
  char *answers = NULL;

  for (int k = 0; k < N_PAIRS; k++)
    g_string_append_printf (lines, "%.12f %.12f %.12f %.12f\n", pairs[k][0], pairs[k][1],
                            pairs[k][2], pairs[k][3]);
  process = g_subprocess_new (G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE,
                              &error, "GeodSolve", "-i", "-p", "6", NULL);
  assert_no_error (error);
  g_subprocess_communicate_utf8 (process, lines->str, NULL, &answers, NULL, &error);
  assert_no_error (error);
  assert_true (g_subprocess_get_successful (process));
  return answers;
}

/* To the micrometre where it matters, to a tenth of it everywhere a pair was asked for. */
static void
test_geodsolve (void **state)
{
  double pairs[N_PAIRS][4];
  g_autofree char *answers = NULL;
  g_auto (GStrv) lines = NULL;

  make_pairs (pairs);
  answers = ask_geodsolve (pairs);
  lines = g_strsplit (answers, "\n", -1);
  assert_i64_equal (g_strv_length (lines), N_PAIRS + 1);
  for (int k = 0; k < N_PAIRS; k++)
    {
      g_auto (GStrv) words = g_strsplit (lines[k], " ", -1);
      double theirs, ours;

      assert_i64_equal (g_strv_length (words), 3);
      theirs = g_ascii_strtod (words[2], NULL);
      ours = sw_distance_m (pairs[k][0], pairs[k][1], pairs[k][2], pairs[k][3]);
      if (fabs (ours - theirs) > 1e-6)
        fail_msg ("%s: ours is %.7f m", lines[k], ours);
    }
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, test_published, rows);
  SW_TEST (tests, test_geodsolve);
  return sw_tests_run (tests, "distances");
}
