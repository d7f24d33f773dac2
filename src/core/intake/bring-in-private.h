/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One running bring-in, shared by the files that do its steps. Private to core/intake. */
#pragma once

#include "core/catalogue/arrivals.h"
#include "core/intake/bring-in.h"
#include "core/intake/copy-in.h"
#include "core/intake/scan.h"

G_BEGIN_DECLS

/* Kept free on the catalogue's disk, for the rows of what is copied. */
#define SW_BRING_IN_RESERVE (4 << 20)

typedef struct _SwRun SwRun;

/* A short piece of work on the database. */
typedef gboolean (*SwRunPiece) (SwCatalogue *catalogue, SwRun *run, GError **error);
/* Runs a piece where the catalogue may be used, and waits for it. */
typedef gboolean (*SwRunExecute) (SwRun *run, SwRunPiece piece, GError **error);

typedef enum
{
  SW_ENTRY_NONE,   /* not taken: refused or not reached */
  SW_ENTRY_NEW,    /* gets a name and a row */
  SW_ENTRY_THERE,  /* its bytes are those of 'known' */
  SW_ENTRY_MENDED, /* the catalogue's own copy was gone or damaged: this one takes its place */
} SwEntryFate;

/* What is known by content: a row of the catalogue, or an entry of this run on its way to one. */
typedef struct
{
  SwCopyKnown base; /* base.id 0 until it has its row */
  gint64 trip, bring_in;
  gboolean aside, counted;
  const char *remark;
  const char *temporary; /* while it has no name yet */
} SwKnown;

/* A file of the source and what became of it. */
typedef struct
{
  SwCopyJob job;
  SwEntryFate fate;
  SwKnown *known;  /* THERE and MENDED: the one with these bytes; NEW: itself */
  char *stem;      /* folder and name without extension, for companions */
  char *hash;      /* with SHA-256 behind after a collision */
  char *stored;    /* NEW: below the catalogue folder */
  gint64 id, trip; /* of the photo row; 0 none */
  gboolean has_day;
  SwDay day;
  char *outside; /* back from aside: remark that it lies outside the trip named, else NULL */
} SwEntry;

/* Photos that look the same and were taken at the same moment, a < b. */
typedef struct
{
  gint64 a, b;
} SwLookAlike;

struct _SwRun
{
  SwRunExecute execute;
  gpointer executor; /* SwCatalogue or SwWorker */
  const SwBringInOptions *options;
  SwBringInProgress *progress;
  GCancellable *cancellable;
  SwBringInReport *report;
  const char *const *folders;

  char *catalogue; /* its folder */
  SwInstant now;
  GPtrArray *trips;    /* of SwTrip */
  GPtrArray *arrivals; /* of SwArrival */
  GPtrArray *known;    /* of SwKnown, owned */
  GHashTable *by_hash; /* hash to SwKnown */
  GHashTable *by_size; /* guint64 to GPtrArray of SwKnown; fixed once copying begins */
  gint64 bring_in;     /* 0 until opened */
  gboolean resumed;    /* it was cut short before */

  int photos_fd;
  SwScan *scan;
  SwEntry *entries;
  guint n;
  guint first, end; /* the batch at hand */
  int errsv;        /* why copying stopped: errno of the target, 0 */
  gboolean source_gone;
  GArray *pairs;    /* of SwLookAlike, found by comparing */
  GPtrArray *shown; /* of SwPhoto: those that may look alike */
};

/* --- bring-in-rows.c: the pieces --- */
gboolean sw_run_piece_prepare (SwCatalogue *catalogue, SwRun *run, GError **error);
gboolean sw_run_piece_open (SwCatalogue *catalogue, SwRun *run, GError **error);
/* Times, trips and days of the batch's new entries. */
gboolean sw_run_piece_settle (SwCatalogue *catalogue, SwRun *run, GError **error);
gboolean sw_run_piece_rows (SwCatalogue *catalogue, SwRun *run, GError **error);
gboolean sw_run_piece_list (SwCatalogue *catalogue, SwRun *run, GError **error);
gboolean sw_run_piece_close (SwCatalogue *catalogue, SwRun *run, GError **error);

/* --- bring-in-batch.c --- */
/* Names of files that only a bring-in cut short leaves. */
void sw_run_clear_half_done (SwRun *run);
/* What each copied file of the batch is: new, a double, a mend. */
void sw_run_judge (SwRun *run);
/* Makes the batch durable and gives it its names, in the power-safe order
 * (core/catalogue/folder.h). */
gboolean sw_run_name (SwRun *run, GError **error);
/* Flushes the photo folder: what was named or removed in it stays so. FALSE with errno. */
gboolean sw_run_flush_photos (const SwRun *run);

/* --- look-alikes.c --- */
void sw_run_compare (SwRun *run);

/* --- bring-in-report.c --- */
/* Transfer full. */
SwBringInRemark *sw_bring_in_remark_new (const char *file, const char *remark);
void sw_bring_in_remark_free (SwBringInRemark *remark);
void sw_bring_in_pair_free (SwBringInPair *pair);
/* Says that no photo of the folders can be taken, and why; 'refused' holds SwBringInRemark. Returns
 * FALSE. */
gboolean sw_refuse_nothing (const char *const *folders, const GPtrArray *refused, GError **error);
void sw_run_remark (SwRun *run, const char *file, const char *remark);
void sw_run_refuse (SwRun *run, const char *file, const char *remark);
/* Counts an entry that is in the catalogue now. */
void sw_run_count (SwRun *run, SwEntry *entry);

/* --- bring-in.c --- */
gboolean sw_run_with (SwRunExecute execute, gpointer executor, const char *const *folders,
                      const SwBringInOptions *options, SwBringInProgress *progress,
                      GCancellable *cancellable, SwBringInReport *report, GError **error);

G_END_DECLS
