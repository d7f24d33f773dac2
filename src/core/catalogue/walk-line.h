/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the walk of a trip led: its places in time order. Records of the catalogue layer. */
#pragma once

#include "core/base/civil.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* A while in one place. */
typedef struct
{
  gint64 place;
  SwInstant from, to; /* the first and the last trace of it */
  int photos;
} SwWalkLeg;

/* From the trip's photos at their property times, each in the place where what it shows was found
 * (else the place it shows, else where its stop is proposed to be), and its field notes. Photos of
 * no known place and those without a time are left out; the same place without another in between
 * is one leg. GArray of SwWalkLeg, transfer full. */
GArray *sw_walk_line (SwCatalogue *catalogue, gint64 trip, GError **error);

G_END_DECLS
