/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The look before a bring-in: what lies in the folders, on which days and trips, by which cameras,
 * what is here already, and how much room it needs. Intake layer; nothing is copied, and neither
 * source nor catalogue is changed.
 *
 * What is here already: a file of a size that no other has is new for certain. One whose size and
 * whose first, middle and last 4 KiB are those of a file of the catalogue is taken to be that one;
 * the first 64 MiB of such are read to their end, so that for few files the count is exact, and
 * is_exact says whether it is. Reading all of a full card twice would take as long as the
 * bring-in itself, which compares every byte anyway. */
#pragma once

#include "core/catalogue/trips.h"
#include "core/intake/bring-in.h"

G_BEGIN_DECLS

/* What must be known of the catalogue; read once, then used on any thread. */
typedef struct _SwPreviewBase SwPreviewBase;
/* On the catalogue's thread. Transfer full. Errors: those of the database. */
SwPreviewBase *sw_preview_base_read (SwCatalogue *catalogue, GError **error);
void sw_preview_base_free (SwPreviewBase *base);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPreviewBase, sw_preview_base_free)

typedef enum
{
  SW_PREVIEW_SCANNING,
  SW_PREVIEW_READING,
  SW_PREVIEW_COMPARING, /* for look-alikes */
} SwPreviewStage;

/* Read from any thread while it runs, with g_atomic_int_get. */
typedef struct
{
  int stage;       /* SwPreviewStage */
  int seen;        /* files of any kind, while scanning */
  int total, done; /* photos and companions, while reading */
} SwPreviewProgress;

/* A day with photos to be taken, by the property's zone and the cameras' own clocks. */
typedef struct
{
  SwDay day;
  gint64 photos;
  gint64 weak; /* of these: with nothing but the file's own time */
} SwPreviewDay;

typedef struct
{
  char *label;   /* as a camera of the catalogue is called, or will be */
  gint64 photos; /* of all found, here already or not */
  SwDay first, last;
} SwPreviewCamera;

typedef struct
{
  gint64 photos, raws, clips, memos; /* found */
  gint64 there;                      /* of those: in the catalogue already */
  gint64 twice;                      /* of those: with the bytes of another file of these folders */
  gboolean is_exact;      /* FALSE: there, twice and what follows from them are all but certain */
  gint64 to_take;         /* of those: the rest */
  gint64 photos_to_take;  /* of these: photos */
  gint64 weak;            /* photos to be taken that have no time but the file's own */
  gint64 others;          /* left alone: no photo, no companion */
  GPtrArray *refused;     /* of SwBringInRemark: will not be taken */
  GPtrArray *passed_over; /* of SwBringInRemark: links, pipes, other catalogues */
  guint64 bytes_needed;   /* of what is to be taken */
  guint64 bytes_free;     /* on the catalogue's disk, for this person */
  gboolean free_is_known; /* a file system may not say */
  gboolean fits;          /* also TRUE where it is not known */
  GArray *days;           /* of SwPreviewDay, by day */
  GPtrArray *cameras;     /* of SwPreviewCamera, most photos first */
  GPtrArray *look_alikes; /* of SwBringInPair: look the same, taken at the same moment */
  gboolean look_alikes_are_all; /* FALSE: the search ended at 400 pictures */
} SwPreview;
void sw_preview_free (SwPreview *preview);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwPreview, sw_preview_free)

/* 'folders': NULL-terminated paths, as for a bring-in. 'program' as in sw_decoder_new. progress and
 * cancellable may be NULL. Blocks; any thread but the main one. Transfer full. Errors: NOT_FOUND (a
 * folder is not there; no photo in the folders), REFUSED (a folder inside the catalogue; all is
 * refused), CANCELLED, FAILED (the folder went away meanwhile). */
SwPreview *sw_preview_run (const SwPreviewBase *base, const char *const *folders,
                           const char *program, SwPreviewProgress *progress,
                           GCancellable *cancellable, GError **error);

/* Photos that lie together: those of one trip's days, or days outside all trips that a trip could
 * be made of. */
typedef struct
{
  gint64 trip;       /* 0: outside all trips */
  SwDay first, last; /* of the photos */
  gint64 photos;
} SwPreviewStay;
/* GArray of SwPreviewStay by day. Days outside that are at most two apart (one day without a photo
 * between) and have no trip between them are one stay; days with nothing but files' own times make
 * none. Transfer full. */
GArray *sw_preview_stays (const GArray *days, const GPtrArray *trips);

G_END_DECLS
