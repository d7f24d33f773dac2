/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What speaks of one camera's clock, gathered from a proposal in the making. Private to
 * camera-clocks.c and clock-parts.c. */
#pragma once

#include "core/match/clock.h"
#include "core/match/stops-private.h"

G_BEGIN_DECLS

/* The arrays that the evidence borrows. */
typedef struct
{
  GArray *stops, *photos, *others; /* SwClockStop; gint64; gint64 */
  GArray *faces, *fixes;           /* SwClockAnchor */
  SwWalkParams params;
  SwClockEvidence evidence;
} SwClockGathered;
void sw_clock_gathered_clear (SwClockGathered *gathered);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwClockGathered, sw_clock_gathered_clear)

/* Photos (SwModelPhoto) of all those cameras in property time by the clocks as they stand, in time
 * order. Transfer full. */
GArray *sw_clock_standing_photos (const SwStopsWork *work, const gboolean *cameras);
/* Evidence of one camera by its own clock, as it leans. settled: which cameras' photos are its
 * others; NULL: none. */
void sw_clock_gather (const SwStopsWork *work, int camera, const gboolean *settled,
                      SwClockGathered *out);
/* The same of those photos alone (SwModelPhoto, in time order by one camera's clock). */
void sw_clock_gather_photos (const SwStopsWork *work, const GArray *photos, SwClockGathered *out);
/* Evidence of all those cameras as one, in property time by the clocks found: what is sought is one
 * shift more. bases: their shifts. */
void sw_clock_gather_together (const SwStopsWork *work, const gboolean *cameras,
                               const double *bases, gsize n_bases, SwClockGathered *out);
/* The pieces that go with the shift. */
SwClockCounts sw_clock_count (const SwClockEvidence *evidence, double shift_s);
int sw_clock_counts_sum (const SwClockCounts *counts);

G_END_DECLS
