/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The look before a bring-in, run beside the window. */
#pragma once

#include "app/store.h"
#include "core/intake/preview.h"

G_BEGIN_DECLS

#define SW_TYPE_PREVIEW_JOB (sw_preview_job_get_type ())
G_DECLARE_FINAL_TYPE (SwPreviewJob, sw_preview_job, SW, PREVIEW_JOB, GObject)

/* Signals: "progress" () while it runs; "done" () once, also where it failed; not after it was
 * cancelled. Starts at once. Transfer full. */
SwPreviewJob *sw_preview_job_new (SwStore *store, const char *const *folders);
/* No "done" comes any more. */
void sw_preview_job_cancel (SwPreviewJob *self);
/* One line of where it is. Transfer full. */
char *sw_preview_job_text (SwPreviewJob *self);
/* 0 to 1; below 0 while it is not known. */
double sw_preview_job_fraction (SwPreviewJob *self);
/* What was found; NULL before the end or where it failed. Transfer none. */
const SwPreview *sw_preview_job_preview (SwPreviewJob *self);
/* Why it failed; NULL where it did not. */
const char *sw_preview_job_problem (SwPreviewJob *self);

G_END_DECLS
