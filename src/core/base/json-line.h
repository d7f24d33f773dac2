/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON as our files of rows need it (RFC 8259): text as a string, and one flat object a line, whose
 * values are null, whole numbers, other numbers and strings. Anything nested is refused, so that no
 * depth and no size that a file claims costs more than its own bytes. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Appends the text between quotation marks; invalid UTF-8 comes as U+FFFD. */
void sw_json_append_string (GString *to, const char *text);
/* A number that reads back as the same; one without an end comes as 1e999. */
void sw_json_append_double (GString *to, double value);

typedef enum
{
  SW_JSON_NULL,
  SW_JSON_INT,
  SW_JSON_DOUBLE,
  SW_JSON_STRING,
} SwJsonKind;

typedef struct
{
  SwJsonKind kind;
  gint64 integer;
  double number;
  char *text; /* of a STRING; valid UTF-8, without NUL */
} SwJsonValue;

/* One object: name -> SwJsonValue. Transfer full. Error: BAD_INPUT ("This is no JSON object ..."):
 * not such an object, a name twice, anything behind it. */
GHashTable *sw_json_line_parse (const char *line, gsize length, GError **error);

G_END_DECLS
