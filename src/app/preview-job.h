/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The look before a bring-in, run beside the window. */
#pragma once

#include "app/long-job.h"
#include "app/store.h"
#include "core/intake/preview.h"

G_BEGIN_DECLS

#define SW_TYPE_PREVIEW_JOB (sw_preview_job_get_type ())
G_DECLARE_FINAL_TYPE (SwPreviewJob, sw_preview_job, SW, PREVIEW_JOB, SwLongJob)

/* "done" comes also where it failed; not after it was cancelled. folders: NULL-terminated paths.
 * Starts at once. Transfer full. */
SwPreviewJob *sw_preview_job_new (SwStore *store, const char *const *folders);
/* What was found; NULL before the end or where it failed. Transfer none. */
const SwPreview *sw_preview_job_preview (SwPreviewJob *self);

G_END_DECLS
