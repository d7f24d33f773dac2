/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An indented list, as people type one. Base layer; knows nothing of places. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  char *path; /* "A > B > C" */
  int line;   /* 1, 2, 3 in the text */
} SwOutlineEntry;

/* One line an entry; a line that begins farther in than the one above it lies inside that one. A
 * tab counts as two blanks; a hyphen, star or bullet in front is taken off; empty lines are passed
 * over; blanks are tidied. GPtrArray of SwOutlineEntry in the order of the text, transfer full.
 * Error: BAD_INPUT with the line: a name that is none (see sw_text_check), the same path twice,
 * more than ten deep. */
GPtrArray *sw_outline_parse (const char *text, GError **error);

G_END_DECLS
