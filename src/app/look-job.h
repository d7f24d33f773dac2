/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks at the photos that nobody has looked at yet (thumbnails and likenesses, on all cores), then
 * makes the proposals of the trips anew. Runs beside the window. */
#pragma once

#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_LOOK_JOB (sw_look_job_get_type ())
G_DECLARE_FINAL_TYPE (SwLookJob, sw_look_job, SW, LOOK_JOB, GObject)

/* Signals: "progress" (), "done" () once. trip 0: proposals of all trips that have photos. Starts
 * at once. Transfer full. */
SwLookJob *sw_look_job_new (SwStore *store, gint64 trip);
void sw_look_job_cancel (SwLookJob *self);
/* "Looking at 120 of 340 photos". Transfer full. */
char *sw_look_job_text (SwLookJob *self);
double sw_look_job_fraction (SwLookJob *self);

G_END_DECLS
