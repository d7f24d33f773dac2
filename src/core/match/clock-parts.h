/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a camera's clock changes within a trip (put right or wrong on site, a flat battery, a
 * change of season), and how it drifts. Private to camera-clocks.c and the tests. */
#pragma once

#include "core/match/stops-private.h"

G_BEGIN_DECLS

/* Looks for changes and drift by the camera's own evidence and fills what its photos lean by; its
 * parts are kept in work->parts, each with its step against the shift before. Nothing is found
 * without evidence that pays for it. */
void sw_clock_find_parts (SwStopsWork *work, int camera);
/* Once the cameras' shifts are found: the parts' own, and those that a person set. */
void sw_clock_finish_parts (SwStopsWork *work);

G_END_DECLS
