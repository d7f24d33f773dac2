/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a camera's clock drifts. Private to the clock modules. */
#pragma once

#include "core/match/stops-private.h"

G_BEGIN_DECLS

/* Looks for drift by the camera's own evidence: what its photos lean by grows with it, and its
 * clock in the proposal says the rate. Drift that may be but was not taken goes into
 * work->doubt_s. */
void sw_clock_find_drift (SwStopsWork *work, int camera);
/* A time by a clock that loses 'rate' seconds a day, as if it had not done so since from_us. */
gint64 sw_clock_leaned (gint64 t_us, gint64 from_us, double rate);
/* The camera's photos lean by that drift from now on, and its clock in the proposal says so. */
void sw_clock_lean (SwStopsWork *work, int camera, gint64 from_us, double rate);
/* Log density of a rate, a second a day, before any evidence; of none: the log of its chance. */
double sw_clock_rate_log_prior (double rate);

G_END_DECLS
