/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ground: boxes drawn for places, how they nest, the order they are walked in, the plan's scale
 * and where a place really lies. Records of the catalogue layer; each change is an act. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  int x, y, w, h; /* plan units */
} SwBox;

/* Where a box is drawn: its new geometry, and what the person saw of boxes that were never stored:
 * that of the place it lies in, which is stored along with it, and its own from before. Either may
 * be NULL: nothing is shown of it. */
typedef struct
{
  SwBox box;
  const SwBox *outer, *before;
} SwDrawn;

/* A new place of that name with its box, inside 'parent' (0: by itself), as the last of its
 * neighbours in the walk. *out_id may be NULL. REFUSED where a neighbour has the name. */
gboolean sw_ground_draw (SwCatalogue *catalogue, const char *name, gint64 parent,
                         const SwDrawn *drawn, gint64 *out_id, GError **error);

/* The box of a place put elsewhere, and the place into 'parent' (0: out of every place); boxes drawn
 * inside it go along by as much. Refused like sw_place_move. */
gboolean sw_ground_put (SwCatalogue *catalogue, gint64 place, gint64 parent, const SwDrawn *drawn,
                        GError **error);

/* Takes an empty place off the plan and out of the list. REFUSED while anything speaks of it: items
 * (those found there, too), places inside, photos, notes, jobs, money. */
gboolean sw_ground_remove (SwCatalogue *catalogue, gint64 place, GError **error);

/* A person says that it was looked through (or takes that back). */
gboolean sw_ground_set_walked (SwCatalogue *catalogue, gint64 place, gboolean walked,
                               GError **error);
/* Off the property (home, the shop, the yard) or on it, with all places inside. REFUSED for a place
 * inside another. */
gboolean sw_ground_set_off_property (SwCatalogue *catalogue, gint64 place, gboolean off,
                                     GError **error);

/* So many places earlier (below 0) or later in the walk among its neighbours; at an end nothing
 * changes. */
gboolean sw_ground_shift_walk (SwCatalogue *catalogue, gint64 place, int by, GError **error);

/* The rough scale: micrometres on the ground for one plan unit; 0: not set. */
gboolean sw_ground_scale (SwCatalogue *catalogue, gint64 *out_um_per_unit, GError **error);
/* "This box is 24 m long": its longer side. The box is stored along with it. Error: BAD_INPUT. */
gboolean sw_ground_set_length (SwCatalogue *catalogue, gint64 place, const SwBox *box, gint64 mm,
                               GError **error);
/* Millimetres of so many units under a scale, rounded half up; 0 where none is set. */
gint64 sw_ground_mm (gint64 um_per_unit, int units);

/* The place lies where its photos (of its items, and its own) were taken: the middle one of their
 * latitudes and of their longitudes, so that a few old fixes do not move it. Fixes worse than 50 m
 * count only where there are no others. REFUSED where no photo has a position. */
gboolean sw_ground_position_from_photos (SwCatalogue *catalogue, gint64 place, GError **error);

G_END_DECLS
