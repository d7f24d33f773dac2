/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What civil.c needs to know of a zone beyond civil.h; nobody else includes it. All times here are
 * whole seconds since 1970-01-01T00:00:00Z, all offsets seconds east of UTC. */
#pragma once

#include "core/base/civil.h"

#include <glib.h>

G_BEGIN_DECLS

/* Largest offset that a zone file may hold, either way: RFC 8536 (Olson, Eggert and Murchison,
 * 2019), 3.2, rounded up to a whole number of hours. */
#define SW_ZONE_OFFSET_MAX (26 * 3600)

/* A stretch of time with one offset: from <= t < to. */
typedef struct
{
  gint64 from, to;
  int offset_s;
} SwZoneStretch;

/* Seconds east of UTC at that second. */
int sw_zone_offset_at (const SwZone *zone, gint64 second);

/* The stretches that meet [from, to], in order and without a hole, the first reaching back to
 * G_MININT64 and the last on to G_MAXINT64; at most 'max' of them. Returns how many. */
gsize sw_zone_stretches (const SwZone *zone, gint64 from, gint64 to, SwZoneStretch *out_stretches,
                         gsize max);

G_END_DECLS
