/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Printing for the command line: plain text made harmless for terminals, and JSON. */
#pragma once

#include <json-glib/json-glib.h>

#include "core/base/money.h"

G_BEGIN_DECLS

/* A line to stdout; the bytes of its arguments are printed harmlessly (control characters as \xNN).
 */
void sw_out_line (const char *format, ...) G_GNUC_PRINTF (1, 2);
/* The same to stderr. */
void sw_err_line (const char *format, ...) G_GNUC_PRINTF (1, 2);
/* Text that is ours and already laid out (help), as it is. */
void sw_out_text (const char *text);
/* A table: cells joined in columns; numbers right-aligned where 'right' has their bit. rows of
 * GStrv. */
void sw_out_table (GPtrArray *rows, guint right);
/* Everything printed must have reached its reader: FALSE with an error on a full disk or closed
 * pipe. */
gboolean sw_out_flush (GError **error);

/* Prints the builder's document and a newline. */
void sw_out_json (JsonBuilder *builder);
/* Members, for short code. NULL text is null. */
void sw_json_text (JsonBuilder *builder, const char *name, const char *text);
void sw_json_int (JsonBuilder *builder, const char *name, gint64 value);
void sw_json_int_or_null (JsonBuilder *builder, const char *name, gboolean has, gint64 value);
void sw_json_double_or_null (JsonBuilder *builder, const char *name, gboolean has, double value);
void sw_json_bool (JsonBuilder *builder, const char *name, gboolean value);
/* An array of numbers (GArray of gint64). */
void sw_json_ints (JsonBuilder *builder, const char *name, const GArray *values);
/* An array of texts (GPtrArray of char *). */
void sw_json_texts (JsonBuilder *builder, const char *name, const GPtrArray *values);

G_END_DECLS
