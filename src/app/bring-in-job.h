/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bring-in that runs beside the window: its progress ten times a second, its end, its cancel.
 * Then the pictures are looked at (thumbnails and likenesses), so that proposals can be made. */
#pragma once

#include "app/long-job.h"
#include "app/store.h"
#include "core/intake/bring-in.h"

G_BEGIN_DECLS

#define SW_TYPE_BRING_IN_JOB (sw_bring_in_job_get_type ())
G_DECLARE_FINAL_TYPE (SwBringInJob, sw_bring_in_job, SW, BRING_IN_JOB, SwLongJob)

/* "done" comes also after a failure or a cancel. folders: NULL-terminated paths. Starts at once.
 * Transfer full. */
SwBringInJob *sw_bring_in_job_new (SwStore *store, const char *const *folders);

/* What happened; NULL before "done". Transfer none. */
const SwBringInReport *sw_bring_in_job_report (SwBringInJob *self);

G_END_DECLS
