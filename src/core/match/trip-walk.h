/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trip of the catalogue as the plain arrays of the model, with the way back from indices to
 * numbers. Private to the match layer. */
#pragma once

#include "core/catalogue/catalogue.h"
#include "core/catalogue/items.h"
#include "core/catalogue/photos.h"
#include "core/catalogue/places.h"
#include "core/match/signs.h"
#include "core/match/walk.h"

G_BEGIN_DECLS

typedef struct
{
  SwWalk walk;
  GPtrArray *photos;       /* SwPhoto by file; same index as walk.photos */
  GArray *cameras;         /* gint64 numbers, rising; 0: photos that name none */
  GPtrArray *items;        /* SwItem; all of the catalogue */
  GPtrArray *places;       /* SwPlace; all */
  GArray *shows;           /* SwPhotoShows */
  GPtrArray *signs;        /* SwSign */
  gboolean *set_by_person; /* of each camera's clock, from its first photo on */
  GArray *clock_rows;      /* SwCameraClock, as stored */
  GArray *clock_sets;      /* SwWalkClockSet, camera by camera */
  GArray *faces;           /* SwClockFace */
  GArray *zone_steps;      /* SwWalkZoneStep */
  GArray *sights;          /* SwWalkSight */
  SwWalkPhoto *walk_photos;
  SwWalkNote *walk_notes;
  SwWalkItem *walk_items;
  SwWalkPlace *walk_places;
  SwWalkCamera *walk_cameras;
} SwTripWalk;

/* Reads the trip. NULL with an error of the database. Transfer full. */
SwTripWalk *sw_trip_walk_load (SwCatalogue *catalogue, gint64 trip, GError **error);
void sw_trip_walk_free (SwTripWalk *walk);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwTripWalk, sw_trip_walk_free)

/* Index of a photo by its number, -1 where the trip has none such. */
int sw_trip_walk_find (const SwTripWalk *walk, gint64 photo);

G_END_DECLS
