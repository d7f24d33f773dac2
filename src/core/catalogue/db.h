/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The connection and its statements: private to core/catalogue; no other folder includes this.
 * All statements stand in tables (statements-*.h), are collected in statements.h and prepared when
 * the catalogue opens. */
#pragma once

#include <sqlite3.h>

#include "core/catalogue/catalogue.h"
#include "core/catalogue/statements.h"

G_BEGIN_DECLS

/* A prepared statement in use; leaving the scope resets it and clears its bindings. */
typedef struct
{
  sqlite3_stmt *stmt;
  gboolean *in_use; /* the mark of this statement, taken off with it */
} SwUse;

void sw_use_clear (SwUse *use);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwUse, sw_use_clear)

/* Takes the statement and binds by 'types', one letter a parameter: i gint64, t const char * (NULL
 * is SQL NULL), d double, b GBytes * (NULL is SQL NULL), n SQL NULL (no argument), I gboolean +
 * gint64 (SQL NULL where FALSE). An i must be passed as a gint64: cast literals and ints. t is
 * copied. Two things are a programmer's mistake and abort: a statement already in use (nested use
 * of one statement), and one that writes outside an act. */
SwUse sw_db_use (SwCatalogue *catalogue, SwStatementId id, const char *types, ...);

/* Steps once: *out_row (may be NULL) TRUE with a row, FALSE at the end. SQLite codes become
 * SW_ERROR in one function. */
gboolean sw_db_step (SwCatalogue *catalogue, SwUse *use, gboolean *out_row, GError **error);
/* For a loop over the rows: TRUE with the next one. FALSE past the last one, and on an error, which
 * sets *ok to FALSE. */
gboolean sw_db_next (SwCatalogue *catalogue, SwUse *use, gboolean *ok, GError **error);

/* Use, step to the end, ignore rows. */
gboolean sw_db_run (SwCatalogue *catalogue, GError **error, SwStatementId id, const char *types,
                    ...);
/* Use, first column of the first row; *out_found FALSE where there is none (NULL: then it is
 * NOT_FOUND). */
gboolean sw_db_get_int (SwCatalogue *catalogue, gint64 *out_value, gboolean *out_found,
                        GError **error, SwStatementId id, const char *types, ...);

/* Makes a record of the current row; transfer full. */
typedef gpointer (*SwRowFunc) (const SwUse *use);
/* Steps to the end; each row becomes a record. Transfer full; NULL on an error. */
GPtrArray *sw_db_collect (SwCatalogue *catalogue, SwUse *use, SwRowFunc make,
                          GDestroyNotify destroy, GError **error);

/* Writes what the current row holds into a zeroed place of a plain kind, which owns nothing. */
typedef void (*SwRowFill) (const SwUse *use, gpointer out);
/* Steps to the end; each row becomes a place of that many bytes: GArray, transfer full; NULL on an
 * error. */
GArray *sw_db_collect_plain (SwCatalogue *catalogue, SwUse *use, gsize size, SwRowFill fill,
                             GError **error);
/* The same with the first column alone: GArray of gint64. */
GArray *sw_db_collect_ids (SwCatalogue *catalogue, SwUse *use, GError **error);

/* Columns of the current row. Text: transfer full (NULL for SQL NULL). */
gint64 sw_col_int (const SwUse *use, int column);
double sw_col_double (const SwUse *use, int column);
char *sw_col_text (const SwUse *use, int column);
gboolean sw_col_is_null (const SwUse *use, int column);
/* Transfer full, NULL for SQL NULL. */
GBytes *sw_col_blob (const SwUse *use, int column);

/* The number of the row that was inserted last. */
gint64 sw_db_last_id (SwCatalogue *catalogue);
/* How many rows the last statement changed. */
int sw_db_changes (SwCatalogue *catalogue);
/* The connection itself, for tests that write or lock past the records. Transfer none. */
sqlite3 *sw_db_handle (SwCatalogue *catalogue);

/* Any SQLite result as a GError of SW_ERROR; FALSE always. */
gboolean sw_db_error (sqlite3 *db, int code, const char *what, GError **error);

G_END_DECLS
