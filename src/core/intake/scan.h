/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks the folders of a bring-in and says what each file is. Reads only, follows no links. Intake
 * layer. */
#pragma once

#include <gio/gio.h>

#include "core/intake/sniff.h"

G_BEGIN_DECLS

/* A file found. */
typedef struct
{
  char *path; /* as on disk */
  char *file; /* below the folder given, valid UTF-8, for people and the database */
  char *key;  /* below the folder given, bytes as on disk: the order of the run */
  SwFileKind kind;
  guint64 size;
  gint64 mtime_us;
} SwScanFile;

/* What is said of a file that is not taken. */
typedef struct
{
  char *file, *remark;
} SwScanRemark;

typedef struct
{
  GPtrArray *files; /* of SwScanFile: photos and companions, by key in byte order */
  GPtrArray
      *refused; /* of SwScanRemark: empty or unreadable files, and what only claims to be a photo */
  GPtrArray *remarked;   /* of SwScanRemark: links, pipes, devices, folders that cannot be read */
  GPtrArray *not_photos; /* of char *: other files */
  guint64 bytes;         /* of 'files' */
  int *seen;             /* counts files of any kind, atomic; not owned, may be NULL */
} SwScan;

/* An empty one. Transfer full. */
SwScan *sw_scan_new (void);
void sw_scan_free (SwScan *scan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwScan, sw_scan_free)

/* Adds the files of one folder (or one single file) to the scan. A catalogue inside the folder is
 * passed over with a remark. 'catalogue' is the folder of the catalogue that takes the photos: a
 * folder in it is refused, and so is the folder itself. Errors: NOT_FOUND, REFUSED, errno ones for
 * the folder itself, CANCELLED. */
gboolean sw_scan_add (SwScan *scan, const char *folder, const char *catalogue,
                      GCancellable *cancellable, GError **error);
/* Puts the files of all folders into order. */
void sw_scan_finish (SwScan *scan);

G_END_DECLS
