/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Distance on the earth. Base layer, pure. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Metres along the shortest line between two positions in degrees, on the ellipsoid WGS 84 (the
 * geodesic of Karney, C. F. F., 2013, Algorithms for geodesics, J. Geodesy 87, 43-55, as PROJ has
 * it). Latitudes beyond the poles give NaN. */
double sw_distance_m (double latitude1, double longitude1, double latitude2, double longitude2);

G_END_DECLS
