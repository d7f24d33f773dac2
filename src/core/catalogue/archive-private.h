/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What writing and reading of archives share. */
#pragma once

#include <sqlite3.h>

#include "core/catalogue/archive.h"

G_BEGIN_DECLS

#define SW_ARCHIVE_FORMAT "shedwalk archive"
#define SW_ARCHIVE_VERSION 1
#define SW_ARCHIVE_HEAD "archive.json"
#define SW_ARCHIVE_NOTE "README.txt"
#define SW_ARCHIVE_SUMS "checksums.sha256"
#define SW_ARCHIVE_TABLES "tables"
#define SW_ARCHIVE_BASE64 ":base64"
/* How far numbers were given out (AUTOINCREMENT): a table of SQLite's own. */
#define SW_ARCHIVE_SEQUENCE "sqlite_sequence"

/* The tables that an archive holds, of that database: by name, the sequence last. GPtrArray of
 * char *, transfer full. */
GPtrArray *sw_archive_table_names (sqlite3 *db, GError **error);
/* Columns of a table by name. Transfer full. */
GPtrArray *sw_archive_columns (sqlite3 *db, const char *table, GError **error);
/* An identifier of SQL between its quotation marks. Transfer full. */
char *sw_archive_quote (const char *name);

G_END_DECLS
