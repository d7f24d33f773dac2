/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A trip's cameras with what is known of their clocks, and the order in time of its photos: as it
 * stands, and as a change of one clock would make it. Match layer; read once, then asked as often
 * as wanted, without the catalogue. Stores nothing. */
#pragma once

#include "core/base/civil.h"
#include "core/match/pairing.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 photo; /* its number */
  int camera;   /* index into cameras */
  char *file;
  gint64 clock_us; /* what the camera wrote, as if in UTC */
  gint64 t_us;     /* property time as it stands, as if in UTC */
} SwOrderPhoto;

typedef struct
{
  SwPairingClock clock;
  GArray *photos; /* guint: indices into SwClockOrder.photos, by file */
} SwOrderCamera;

typedef struct
{
  gint64 trip;
  SwDay first, last;  /* days of the trip */
  GPtrArray *photos;  /* SwOrderPhoto with a time and a camera, by property time */
  GPtrArray *cameras; /* SwOrderCamera, by number; without photos that name none */
  SwZone *zone;
} SwClockOrder;
void sw_clock_order_free (SwClockOrder *order);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwClockOrder, sw_clock_order_free)

/* As stored: no pairing is run. Errors: NOT_FOUND (the trip), those of the database. Transfer full.
 */
SwClockOrder *sw_clock_order_read (SwCatalogue *catalogue, gint64 trip, GError **error);

/* Index of a photo by its number, -1 where there is none such with a time and a camera. */
int sw_clock_order_find (const SwClockOrder *order, gint64 photo);
/* Seconds that are added to that photo's clock now, a written offset included. */
double sw_clock_order_shift (const SwClockOrder *order, guint photo);

/* A camera's clock set to a shift, from the photo 'from' on (an index; -1: all of them) to where it
 * changes next. */
typedef struct
{
  int camera;
  int from;
  double shift_s;
} SwClockChange;

/* Photos shown on each side of one. */
#define SW_ORDER_NEAR 3
typedef struct
{
  gint64 t_us;               /* of the photo in the middle */
  int before[SW_ORDER_NEAR]; /* indices, nearest first; -1: none */
  int after[SW_ORDER_NEAR];
  gint64 before_us[SW_ORDER_NEAR], after_us[SW_ORDER_NEAR];
} SwOrderPlace;

/* Where a photo stands; change NULL: as it is. */
SwOrderPlace sw_clock_order_place (const SwClockOrder *order, guint photo,
                                   const SwClockChange *change);

typedef struct
{
  int n_changed; /* photos that get another time */
  int n_passing; /* those of them that go past one that keeps its time */
  int n_outside; /* photos of the clock that then lie outside the days of the trip */
} SwOrderEffect;
/* What the change would do to the order of photos. Changes nothing. */
SwOrderEffect sw_clock_order_effect (const SwClockOrder *order, const SwClockChange *change);

/* The shift that makes that photo's clock agree with a clock seen in it ("14:05", "14:05:30",
 * "2026-04-03T14:05:30"; property time): of a time without its day the one nearest to what is added
 * now, of a time to the minute its middle. BAD_INPUT for another text. */
gboolean sw_clock_order_seen (const SwClockOrder *order, guint photo, const char *text,
                              double *out_shift_s, GError **error);

G_END_DECLS
