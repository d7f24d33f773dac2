/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bring-in that runs beside the window: its progress ten times a second, its end, its cancel.
 * Then the pictures are looked at (thumbnails and likenesses), so that proposals can be made. */
#pragma once

#include "app/store.h"
#include "core/intake/bring-in.h"

G_BEGIN_DECLS

#define SW_TYPE_BRING_IN_JOB (sw_bring_in_job_get_type ())
G_DECLARE_FINAL_TYPE (SwBringInJob, sw_bring_in_job, SW, BRING_IN_JOB, GObject)

/* Signals: "progress" () while it runs; "done" () once, also after a failure or a cancel.
 * folders: NULL-terminated paths. Starts at once. Transfer full. */
SwBringInJob *sw_bring_in_job_new (SwStore *store, const char *const *folders);
void sw_bring_in_job_cancel (SwBringInJob *self);

/* "Copying: 120 of 340 files, 1.2 of 3.4 GB, 40 s left". Transfer full. */
char *sw_bring_in_job_text (SwBringInJob *self);
/* 0 to 1; below 0 while unknown. */
double sw_bring_in_job_fraction (SwBringInJob *self);

/* After "done": what happened, and why it stopped (NULL: it did not). */
const SwBringInReport *sw_bring_in_job_report (SwBringInJob *self);
const char *sw_bring_in_job_problem (SwBringInJob *self);

G_END_DECLS
