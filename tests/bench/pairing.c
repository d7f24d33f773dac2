/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long pairing a trip takes, from the stored photos to the stored proposals, against the number
 * of photos: pairing-speed [PHOTOS...]. Photos are rows alone, no pixels. Run by hand. */
#include "../unit/sw-many-photos.h"

#include "core/match/pairing.h"

static void
measure (int n)
{
  SwTestBed bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  g_autoptr (SwPairing) first = NULL, again = NULL;
  gint64 trip = sw_many_photos (&bed, n, n / 12);
  gint64 start = g_get_monotonic_time (), middle;

  first = sw_pairing_run (bed.catalogue, trip, NULL, &error);
  assert_no_error (error);
  middle = g_get_monotonic_time ();
  again = sw_pairing_run (bed.catalogue, trip, NULL, &error);
  assert_no_error (error);
  print_message ("%6d photos, %5u stops: %6.2f s (%5.1f us a photo), again %6.2f s\n", n,
                 first->stops->len, (double)(middle - start) / 1e6, (double)(middle - start) / n,
                 (double)(g_get_monotonic_time () - middle) / 1e6);
  sw_test_bed_clear (&bed);
}

int
main (int argc, char **argv)
{
  static const int usual[] = { 1000, 2500, 5000, 10000, 20000 };

  for (int k = 1; k < argc; k++)
    measure ((int)g_ascii_strtoll (argv[k], NULL, 10));
  for (gsize k = 0; argc == 1 && k < G_N_ELEMENTS (usual); k++)
    measure (usual[k]);
  return 0;
}
