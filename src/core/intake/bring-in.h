/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Brings the photos of a memory card or folder into a catalogue: scan, copy, rows, report. Intake
 * layer. The source is never changed. Run again after any interruption it ends as if there had been
 * none. */
#pragma once

#include "core/catalogue/photos.h"
#include "core/catalogue/worker.h"

G_BEGIN_DECLS

typedef struct
{
  char *file;   /* path below the folder given; bytes as on disk, print with sw_text_printable */
  char *remark; /* one sentence */
} SwBringInRemark;

typedef struct
{
  char *a, *b; /* files that look the same and were taken at the same moment */
} SwBringInPair;

/* What happened. Each file is counted once: taken (photos), companions (raw files, clips and memos
 * taken), already_there (photos and companions whose bytes are in the catalogue or came earlier in
 * the same run), not_photos or refused. */
typedef struct
{
  gint64 bring_in; /* 0: nothing was written */
  gint64 taken, already_there, not_photos, companions;
  GPtrArray *remarked;        /* of SwBringInRemark */
  GPtrArray *refused;         /* of SwBringInRemark */
  GPtrArray *not_photo_files; /* of char *, the first 1000 */
  GPtrArray *look_alikes;     /* of SwBringInPair */
  gboolean card_may_be_cleared;
  char *why_not; /* one sentence where the card may not be cleared, else NULL */
  /* For the summary of the window. */
  gint64 bytes_copied;
  gboolean has_days;
  SwDay first_day, last_day; /* of the photos taken, by the property's zone */
} SwBringInReport;
SwBringInReport *sw_bring_in_report_new (void);
void sw_bring_in_report_free (SwBringInReport *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwBringInReport, sw_bring_in_report_free)

typedef enum
{
  SW_BRING_IN_SCANNING,
  SW_BRING_IN_COPYING,
  SW_BRING_IN_COMPARING, /* look-alikes */
  SW_BRING_IN_DONE,
} SwBringInStage;

/* Read from any thread while it runs, with g_atomic_int_get and sw_bring_in_progress_bytes. */
typedef struct
{
  int stage; /* SwBringInStage */
  int files_total, files_done;
  gint64 bytes_total, bytes_done;
  gint64 copying_since_us; /* g_get_monotonic_time */
} SwBringInProgress;
void sw_bring_in_progress_bytes (SwBringInProgress *progress, gint64 *out_done, gint64 *out_total);
/* Seconds left at the rate so far; -1 while unknown. */
int sw_bring_in_progress_seconds_left (SwBringInProgress *progress);

typedef struct
{
  gint64 trip;         /* 0: by the days of the trips */
  const char *program; /* for the decode helper, see sw_decoder_new; NULL: the usual one */
  guint threads;       /* copying; 0: by the machine */
} SwBringInOptions;

/* 'folders': NULL-terminated paths of folders (single files are taken too). options, progress,
 * cancellable may be NULL. 'report' is filled also when it fails: what was done is kept and named
 * there. Blocks; use on the catalogue's thread. Errors: NOT_FOUND (a folder or the trip is not
 * there; no photo in the folders), REFUSED (a folder inside the catalogue; everything was refused),
 * BUSY (another program is bringing photos in), NO_SPACE, READ_ONLY, CANCELLED, FAILED (the source
 * went away). */
gboolean sw_bring_in_run (SwCatalogue *catalogue, const char *const *folders,
                          const SwBringInOptions *options, SwBringInProgress *progress,
                          GCancellable *cancellable, SwBringInReport *report, GError **error);

/* The same for the window: runs on the calling thread (not the main one, not the worker's) and
 * sends short pieces of work on the database to the catalogue thread. */
gboolean sw_bring_in_run_on_worker (SwWorker *worker, const char *const *folders,
                                    const SwBringInOptions *options, SwBringInProgress *progress,
                                    GCancellable *cancellable, SwBringInReport *report,
                                    GError **error);

G_END_DECLS
