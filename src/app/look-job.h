/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Looks at the photos that nobody has looked at yet (thumbnails and likenesses, on all cores), then
 * makes the proposals of the trips anew. Runs beside the window. */
#pragma once

#include "app/long-job.h"
#include "app/store.h"

G_BEGIN_DECLS

#define SW_TYPE_LOOK_JOB (sw_look_job_get_type ())
G_DECLARE_FINAL_TYPE (SwLookJob, sw_look_job, SW, LOOK_JOB, SwLongJob)

/* trip 0: proposals of all trips that have photos. Starts at once. Transfer full. */
SwLookJob *sw_look_job_new (SwStore *store, gint64 trip);

G_END_DECLS
