/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Work that runs beside the window for a while: what all such jobs have in common. It is told ten
 * times a second how far it is, can be cancelled, and says once that it is over and why it failed.
 * What is done stands in the job's own class. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

#define SW_TYPE_LONG_JOB (sw_long_job_get_type ())
G_DECLARE_DERIVABLE_TYPE (SwLongJob, sw_long_job, SW, LONG_JOB, GObject)

struct _SwLongJobClass
{
  GObjectClass parent;
  char *(*text) (SwLongJob *self);      /* as sw_long_job_text () */
  double (*fraction) (SwLongJob *self); /* as sw_long_job_fraction () */
  void (*progress) (SwLongJob *self);   /* before the signal; may be NULL */
};

/* Signals: "progress" () while it runs; "done" () once. */

/* One line of where it is. Transfer full. */
char *sw_long_job_text (SwLongJob *self);
/* 0 to 1; below 0 while it is not known. */
double sw_long_job_fraction (SwLongJob *self);
/* Why it failed; NULL before the end or where it did not. Transfer none. */
const char *sw_long_job_problem (SwLongJob *self);
/* Whether "done" was told. */
gboolean sw_long_job_is_done (SwLongJob *self);
void sw_long_job_cancel (SwLongJob *self);

/* For the job's own class. What it cancels by; a job that nobody holds any more is cancelled too.
 * Transfer none. */
GCancellable *sw_long_job_cancellable (SwLongJob *self);
gboolean sw_long_job_is_cancelled (SwLongJob *self);
/* "progress" from now on. */
void sw_long_job_tick (SwLongJob *self);
/* No "progress" any more. */
void sw_long_job_stop (SwLongJob *self);
/* Stops, keeps the sentence of the error (NULL: none) and tells "done"; the second time nothing. */
void sw_long_job_end (SwLongJob *self, const GError *error);

G_END_DECLS
