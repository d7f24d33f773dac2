/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places: buildings and spots, nested ("Packing shed > Loft"). Records of the catalogue layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id, parent; /* parent 0: none */
  char *name, *path;
  gboolean off_property;
  gboolean has_position;
  double latitude, longitude; /* degrees, WGS 84 */
  gboolean has_box;
  int box_x, box_y, box_w, box_h; /* on the plan, in plan units (a thousandth of its width) */
  int walk_order;
  gboolean walked; /* a person said that it was looked through */
} SwPlace;
void sw_place_free (SwPlace *place);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPlace, sw_place_free)

/* Adds 'A > B' (at most ten deep); parts are tidied; missing parents are made, off the property
 * like it; what lies inside a place off the property is off it too; the same path again is REFUSED
 * (exact, or the same but for case). */
gboolean sw_place_add (SwCatalogue *catalogue, const char *path, gboolean off_property,
                       const double *latitude, const double *longitude, gint64 *out_id,
                       GError **error);
/* Finds by path (case and blanks folded) or makes it; *out_made may be NULL. */
gboolean sw_place_ensure (SwCatalogue *catalogue, const char *path, gint64 *out_id,
                          gboolean *out_made, GError **error);
/* Error: NOT_FOUND with a sentence naming close ones or how to add it. */
SwPlace *sw_place_find (SwCatalogue *catalogue, const char *path, GError **error);
SwPlace *sw_place_get (SwCatalogue *catalogue, gint64 id, GError **error);
/* A place's own name as people type it: one line, without '>'. Error: BAD_INPUT. */
gboolean sw_place_name_check (const char *name, GError **error);
/* GPtrArray of SwPlace: neighbours in walking order, then by path, each before those inside it.
 * Transfer full. */
GPtrArray *sw_place_list (SwCatalogue *catalogue, GError **error);
gboolean sw_place_set_box (SwCatalogue *catalogue, gint64 id, int x, int y, int w, int h,
                           GError **error);
gboolean sw_place_set_position (SwCatalogue *catalogue, gint64 id, double latitude,
                                double longitude, GError **error);
gboolean sw_place_set_walk_order (SwCatalogue *catalogue, gint64 id, int walk_order,
                                  GError **error);
/* The last part alone, without '>'; the paths of the places inside follow. REFUSED where a
 * neighbour has the name. */
gboolean sw_place_rename (SwCatalogue *catalogue, gint64 id, const char *name, GError **error);
/* Into another place (0: out of every place), with what is inside it. REFUSED into itself, into a
 * place inside it, or where a place of that name is there already; BAD_INPUT where it nests too
 * deep. */
gboolean sw_place_move (SwCatalogue *catalogue, gint64 id, gint64 parent, GError **error);

/* The photo shows the place itself (its door, its card). NOT_FOUND: the place, the photo. */
gboolean sw_place_add_photo (SwCatalogue *catalogue, gint64 id, gint64 photo, GError **error);
/* By a person's word they show that place itself, no other place and no item. One act. Errors:
 * NOT_FOUND (place, photo), REFUSED (a photo set aside). */
gboolean sw_place_give_photos (SwCatalogue *catalogue, gint64 id, const gint64 *photos, gsize n,
                               GError **error);
typedef struct
{
  gint64 photo, place;
} SwPlacePhoto;
/* Of all places: GArray of SwPlacePhoto, by photo, then place. Transfer full. */
GArray *sw_place_photo_list (SwCatalogue *catalogue, gint64 trip, GError **error);

G_END_DECLS
