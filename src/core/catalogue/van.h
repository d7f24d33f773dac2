/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The van, how it is used on a trip, and what must go or waits. Records of the catalogue layer;
 * each change is an act. The plan of the load is core/trip's. */
#pragma once

#include "core/base/mass.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

#define SW_VAN_RUNS_MOST 20

typedef struct
{
  SwMass payload;                        /* what it may carry besides driver and passengers; > 0 */
  gint64 length_mm, width_mm, height_mm; /* of the space for the load; 0: not measured */
  gint64 door_width_mm, door_height_mm;  /* of the opening; 0: not measured */
} SwVan;

/* *out_found FALSE where none was entered. */
gboolean sw_van_get (SwCatalogue *catalogue, gboolean *out_found, SwVan *out_van, GError **error);
/* BAD_INPUT: a payload of zero or beyond 100 t; lengths below zero or beyond 30 m; a floor or an
 * opening of which one side alone is given. */
gboolean sw_van_set (SwCatalogue *catalogue, const SwVan *van, GError **error);

typedef struct
{
  gint64 runs; /* how often it goes, 1 to SW_VAN_RUNS_MOST */
  SwMass kept; /* of the payload of each run, kept free for scrap */
} SwTripLoad;

/* One run and nothing kept free where nothing was said. */
gboolean sw_trip_load_get (SwCatalogue *catalogue, gint64 trip, SwTripLoad *out_load,
                           GError **error);
gboolean sw_trip_load_set (SwCatalogue *catalogue, gint64 trip, const SwTripLoad *load,
                           GError **error);

typedef enum
{
  SW_WISH_NONE, /* as it pays */
  SW_WISH_MUST,
  SW_WISH_NOT_THIS_TIME,
  SW_N_WISHES,
} SwWish;
/* "must", "not this time"; NULL for NONE. Static. */
const char *sw_wish_word (SwWish wish);

typedef struct
{
  gint64 item;
  SwWish wish;
} SwLoadWishRow;
/* Of a trip, by item; NONE is left out. GArray of SwLoadWishRow, transfer full. */
GArray *sw_load_wish_list (SwCatalogue *catalogue, gint64 trip, GError **error);
/* NOT_FOUND (trip, item); MUST is REFUSED for what does not stand any more. */
gboolean sw_load_wish_set (SwCatalogue *catalogue, gint64 trip, gint64 item, SwWish wish,
                           GError **error);

G_END_DECLS
