/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A clock that changed within the trip, stretch by stretch: each is judged by the photos taken in
 * it alone, as if it were a camera of its own beside the others. Private to the clock modules. */
#pragma once

#include "core/match/stops-private.h"

G_BEGIN_DECLS

/* Once the cameras' clocks are found: moves what the photos of each stretch lean by, and gives each
 * part a clock of its own. standing: cameras whose photos the stretches go by. TRUE where one was
 * laid some seconds from where it stood. */
gboolean sw_clock_judge_stretches (SwStopsWork *work, const gboolean *standing);

G_END_DECLS
