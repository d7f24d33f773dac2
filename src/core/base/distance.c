/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one place that knows how long a degree is. PROJ is opened when the first distance is asked
 * for: it needs some thirty more libraries (its network access above all), which every start of the
 * program would pay for, also where no photo has a position. */
#include "core/base/distance.h"

#include <geodesic.h>
#include <gmodule.h>

/* WGS 84: the semi-major axis in metres and the flattening (NGA.STND.0036, 2014, table 3.1). */
#define WGS84_A 6378137.0
#define WGS84_F (1 / 298.257223563)

typedef struct
{
  __typeof__ (geod_init) *init;
  __typeof__ (geod_inverse) *inverse;
  struct geod_geodesic earth;
} Geodesics;

/* As when the linker does not find a library at the start: the program is not whole. */
static void
open_library (Geodesics *out)
{
  GModule *proj = g_module_open (PROJ_SONAME, G_MODULE_BIND_LAZY | G_MODULE_BIND_LOCAL);

  if (proj == NULL || !g_module_symbol (proj, "geod_init", (gpointer *)&out->init)
      || !g_module_symbol (proj, "geod_inverse", (gpointer *)&out->inverse))
    g_error ("The library " PROJ_SONAME " (PROJ) is missing: %s", g_module_error ());
  g_module_make_resident (proj);
  out->init (&out->earth, WGS84_A, WGS84_F);
}

double
sw_distance_m (double latitude1, double longitude1, double latitude2, double longitude2)
{
  static Geodesics geodesics;
  static gsize opened;
  double metres = 0;

  if (g_once_init_enter (&opened))
    {
      open_library (&geodesics);
      g_once_init_leave (&opened, 1);
    }
  geodesics.inverse (&geodesics.earth, latitude1, longitude1, latitude2, longitude2, &metres, NULL,
                     NULL);
  return metres;
}
