/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies files into a catalogue's photo folder under hidden names, hashing them on the way, in a
 * few threads. What makes them durable and gives them their names is the batch's business
 * (bring-in.c). Intake layer; no database. */
#pragma once

#include <gio/gio.h>

#include "core/intake/metadata.h"
#include "core/intake/scan.h"

G_BEGIN_DECLS

/* A file of the catalogue that has the size of one being brought in. */
typedef struct
{
  gint64 id;
  char *stored; /* below the catalogue folder */
  char *hash;
} SwCopyKnown;

typedef enum
{
  SW_COPY_WAITING,
  SW_COPY_DONE,    /* a copy lies at 'temporary' */
  SW_COPY_THERE,   /* its bytes are those of 'known' */
  SW_COPY_REFUSED, /* 'problem' says why */
  SW_COPY_STOPPED, /* not begun, or taken back: cancelled or the disk is full */
} SwCopyState;

typedef struct
{
  const SwScanFile *source;
  const GPtrArray *known; /* of SwCopyKnown with the same size, or NULL; not owned */
  /* results, valid once the state is no longer WAITING */
  int state;                /* SwCopyState, atomic */
  int errsv;                /* with STOPPED: why the target failed, 0 for cancel */
  char *temporary;          /* name in the photo folder */
  char hash[33];            /* XXH3-128, canonical form in hexadecimal */
  guint64 size;             /* bytes copied */
  const SwCopyKnown *there; /* with THERE */
  char *problem;
  SwPhotoMeta meta; /* with DONE */
} SwCopyJob;

void sw_copy_job_clear (SwCopyJob *job);

typedef struct _SwCopier SwCopier;

/* 'photos_fd' is the catalogue's photo folder, 'catalogue' the catalogue's path. bytes_done is
 * added to atomically. 'threads' 0: by the machine (2 to 4). */
SwCopier *sw_copier_new (int photos_fd, const char *catalogue, guint threads, SwInstant now,
                         gint64 *bytes_done, int *files_done, GCancellable *cancellable);
/* Waits for what runs; what waits is STOPPED. */
void sw_copier_free (SwCopier *copier);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwCopier, sw_copier_free)

/* Queues a job; with 'compare_only' it is either found THERE or left WAITING-free with state
 * STOPPED and errsv 0 for the caller to queue again. Jobs end in any order. */
void sw_copier_push (SwCopier *copier, SwCopyJob *job, gboolean compare_only);
/* Blocks until the job has ended. */
void sw_copier_wait (SwCopier *copier, SwCopyJob *job);
/* From now on nothing new is begun. */
void sw_copier_stop (SwCopier *copier);

/* Whether two open files have the same bytes from the start to the end. FALSE also where one cannot
 * be read. */
gboolean sw_same_bytes (int a, int b);

/* The fingerprint of a whole open file, as SwPhoto.hash; FALSE where it cannot be read. */
gboolean sw_hash_file (int fd, char out[33]);

#define SW_COPY_TEMPORARY_PREFIX ".incoming-"
#define SW_COPY_TEMPORARY_SUFFIX ".part"

G_END_DECLS
