/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a camera's clock drifts. Private to the clock modules. */
#pragma once

#include "core/match/stops-private.h"

G_BEGIN_DECLS

/* Looks for drift by the camera's own evidence: what its photos lean by grows with it, and its
 * clock in the proposal says the rate. Drift that may be but was not taken goes into
 * work->doubt_s. */
void sw_clock_find_drift (SwStopsWork *work, int camera);

G_END_DECLS
