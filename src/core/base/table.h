/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tables as text: RFC 4180 with the tolerance that files of people need. Base layer.
 * Reads UTF-8 (BOM or not) and UTF-16 (BOM), comma, semicolon or tab (the one that parts the header
 * line best), quoted line breaks; knows the line each row begins on. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _SwTable SwTable;

/* Longest cell, in bytes; a longer one is an error with its line number. */
#define SW_TABLE_CELL_MAX 100000
/* Longest file that is read, in bytes. */
#define SW_TABLE_FILE_MAX 100000000

/* Reads the whole table; cells trimmed of surrounding blanks, line breaks inside them given as
 * "\n"; rows with only empty cells dropped. A quotation mark inside an unquoted cell is text (a 3"
 * pipe); in a quoted cell it must be doubled. Invalid UTF-8, NUL bytes, an unclosed quotation mark,
 * text after a closing one, a cell that is too long: BAD_INPUT naming the line. No row at all:
 * BAD_INPUT. The header (first row) is matched without case. Transfer full. */
SwTable *sw_table_read (GBytes *bytes, GError **error);
SwTable *sw_table_read_file (const char *path, GError **error);
void sw_table_free (SwTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwTable, sw_table_free)

gsize sw_table_n_rows (const SwTable *table); /* without the header */
/* Of the header. */
gsize sw_table_n_columns (const SwTable *table);
/* As the header has it; valid while the table is. */
const char *sw_table_column_name (const SwTable *table, gsize column);
/* -1 where no column has the name. */
int sw_table_find_column (const SwTable *table, const char *name);
/* First line of the row in the file, counted from 1. */
int sw_table_line (const SwTable *table, gsize row);
/* Cells of this row, may differ from n_columns. */
gsize sw_table_n_cells (const SwTable *table, gsize row);
/* "" where the row is short or column < 0. Transfer none. */
const char *sw_table_cell (const SwTable *table, gsize row, int column);

/* Whether the bytes are UTF-8 or UTF-16 text; returns UTF-8 without BOM. Error: BAD_INPUT with the
 * line. Transfer full. */
char *sw_table_decode (GBytes *bytes, gsize *out_length, GError **error);

/* One field for writing: quoted where RFC 4180 asks; text that begins with a formula character (= +
 * - @ TAB CR LF) gets a leading apostrophe when guard is TRUE. */
void sw_table_append_cell (GString *line, const char *text, gboolean guard);

G_END_DECLS
