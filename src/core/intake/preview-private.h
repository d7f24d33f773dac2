/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One running look, shared by the files that do its steps. Private to core/intake. */
#pragma once

#include "core/catalogue/arrivals.h"
#include "core/intake/metadata.h"
#include "core/intake/preview.h"
#include "core/intake/scan.h"

G_BEGIN_DECLS

struct _SwPreviewBase
{
  char *folder;
  SwInstant now;
  SwZone *zone;
  GPtrArray *arrivals; /* of SwArrival */
  GPtrArray *photos;   /* of SwPhoto that stand */
  GPtrArray *cameras;  /* of SwCamera */
};

typedef enum
{
  SW_PREVIEW_NEW,
  SW_PREVIEW_THERE,
  SW_PREVIEW_ASIDE, /* its bytes are here, put aside: it will come back without being copied */
  SW_PREVIEW_TWICE,
  SW_PREVIEW_UNREADABLE,
} SwPreviewFate;

typedef struct
{
  const SwScanFile *source;
  gboolean is_shared; /* its size is that of another, here or in the folders */
  guint64 print;      /* of its first, middle and last piece; 0: not read */
  char hash[33];      /* of all of it; empty: not worked out */
  SwPhotoMeta meta;
  SwDay day;
  SwPreviewFate fate;
} SwPreviewEntry;

typedef struct
{
  const SwPreviewBase *base;
  SwPreviewProgress *progress;
  GCancellable *cancellable;
  SwPreview *preview;
  SwScan *scan;
  SwPreviewEntry *entries;
  guint n;
  GHashTable *here, *found;               /* size to GPtrArray of SwArrival, of SwPreviewEntry */
  GHashTable *here_prints, *found_prints; /* the same by print */
  guint64 bytes_left;                     /* that may still be read to be certain */
} SwPreviewRun;

/* --- preview.c --- */
/* The camera's number in the catalogue; 0: not known there yet. */
gint64 sw_preview_camera (const SwPreviewBase *base, const SwPhotoMeta *meta);

/* --- preview-sum.c --- */
SwPreview *sw_preview_new (void);
/* Counts, days, cameras and room out of the judged entries. */
void sw_preview_sum (SwPreviewRun *run);

G_END_DECLS
