/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole catalogue in open formats, to be read without this program, and a new catalogue from it.
 * Catalogue layer.
 *
 * The archive is a folder:
 *
 *     archive.json          one JSON object of plain values: format "shedwalk archive", version 1,
 *                           schema (the number of the tables' layout), catalogue (its id), name,
 *                           currency, zone
 *     README.txt            this description, for whoever finds it
 *     tables/NAME.jsonl     one table each; one JSON object a line (RFC 8259, UTF-8), its names the
 *                           columns. Money is whole minor units, days count from 1970-01-01, names
 *                           in _us are microseconds since 1970-01-01T00:00:00Z, in _ug micrograms.
 *                           Bytes stand as base64 (RFC 4648) under the column's name with :base64.
 *     photos/...            every photo, raw, clip and memo as it was brought in, under the path
 * that the table photo calls 'stored' checksums.sha256      of all of these, as sha256sum -c reads
 * it
 *
 * Every table is in it but two kinds: what can be worked out again (the search), and the changesets
 * that undo applies. So the whole history comes back as it can be read, but nothing done before can
 * be undone in the new catalogue; an entry there says so. Thumbnails are made anew. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  int tables;
  gint64 rows, photos, bytes; /* bytes of photos */
} SwArchiveReport;

typedef struct _SwArchive SwArchive;

/* Begins on the catalogue's thread: looks whether the folder can be made, and copies the database,
 * so that what comes after sees one moment. Transfer full. Errors: REFUSED (something is there,
 * inside the catalogue), NO_SPACE, READ_ONLY. */
SwArchive *sw_archive_begin (SwCatalogue *catalogue, const char *folder, GError **error);
/* How many photos it will hold; 0 where that cannot be read. */
gint64 sw_archive_n_photos (SwArchive *archive);
/* Writes it, on any thread; every photo is compared with its fingerprint. *done (atomic, may be
 * NULL) counts photos. Errors: DAMAGED (photos are missing or changed), NO_SPACE, CANCELLED;
 * nothing is left behind then. */
gboolean sw_archive_finish (SwArchive *archive, int *done, GCancellable *cancellable,
                            SwArchiveReport *out_report, GError **error);
/* Leaves nothing behind where it was not finished. */
void sw_archive_free (SwArchive *archive);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwArchive, sw_archive_free)

/* Makes the catalogue 'folder' (NAME.shedwalk; must not be there, or be empty) from an archive, and
 * brings it up to the latest schema. Everything in an archive is hostile until read: nothing is
 * read or written outside the two folders. Errors: NOT_FOUND, REFUSED (no archive), NEWER_SCHEMA,
 * DAMAGED (a file is missing, changed, or says what cannot be), NO_SPACE, CANCELLED; nothing is
 * left behind then. */
gboolean sw_archive_read (const char *archive, const char *folder, GCancellable *cancellable,
                          SwArchiveReport *out_report, GError **error);

G_END_DECLS
