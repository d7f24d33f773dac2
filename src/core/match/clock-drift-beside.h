/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drift that nothing but other cameras tells. Private to the clock modules. */
#pragma once

#include "core/match/stops-private.h"

G_BEGIN_DECLS

/* Looks for drift of a camera's clock by the photos of those that stand, which it must not be one
 * of; TRUE where it was found: its photos lean by it, its clock in the proposal says the rate and
 * the shift that goes with it. */
gboolean sw_clock_find_drift_beside (SwStopsWork *work, int camera, const gboolean *standing);

G_END_DECLS
