/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trip of 20,000 photos: paired whole, and a photo costs no more there than on a short trip. */
#include "sw-many-photos.h"

#include "core/match/pairing.h"

#include <time.h>

#define SHORT 4000
#define LONG 20000

/* Processor seconds, which other programs do not stretch. */
static double
pair (int n)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPairing) pairing = NULL;
  SwTestBed bed = sw_test_bed_new ();
  gint64 trip = sw_many_photos (&bed, n, n / 12);
  clock_t start = clock ();
  guint photos = 0;
  double seconds;

  pairing = sw_pairing_run (bed.catalogue, trip, NULL, &error);
  seconds = (double)(clock () - start) / CLOCKS_PER_SEC;
  assert_no_error (error);
  for (guint k = 0; k < pairing->stops->len; k++)
    photos += ((SwPairingStop *)g_ptr_array_index (pairing->stops, k))->photos->len;
  assert_i64_equal (photos, n);
  assert_true (pairing->stops->len > (guint)n / 9 && pairing->stops->len < (guint)n / 3);
  sw_test_bed_clear (&bed);
  return seconds;
}

static void
test_near_linear (void **state)
{
  double few = pair (SHORT), many = pair (LONG);

  print_message ("%d photos: %.2f s, %d photos: %.2f s\n", SHORT, few, LONG, many);
  assert_true (many / LONG < 2 * few / SHORT);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST (tests, test_near_linear);
  return sw_tests_run (tests, "many-photos");
}
