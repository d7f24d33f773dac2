/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one place that knows how long a degree is. */
#include "core/match/distance.h"

#include <geodesic.h>

/* WGS 84: the semi-major axis in metres and the flattening (NGA.STND.0036, 2014, table 3.1). */
#define WGS84_A 6378137.0
#define WGS84_F (1 / 298.257223563)

double
sw_distance_m (double latitude1, double longitude1, double latitude2, double longitude2)
{
  static struct geod_geodesic earth;
  static gsize made;
  double metres = 0;

  if (g_once_init_enter (&made))
    {
      geod_init (&earth, WGS84_A, WGS84_F);
      g_once_init_leave (&made, 1);
    }
  geod_inverse (&earth, latitude1, longitude1, latitude2, longitude2, &metres, NULL, NULL);
  return metres;
}
