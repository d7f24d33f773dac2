/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text from outside: checking, printing harmlessly. Base layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Longest name, remark, title that is taken, in bytes. */
#define SW_TEXT_MAX 10000

/* Valid UTF-8, no NUL or other control characters (tab and newline only if multiline), at most
 * SW_TEXT_MAX bytes, not blank unless may_be_empty. 'what' begins the sentence ("The name of the
 * item"). Error: BAD_INPUT. */
gboolean sw_text_check (const char *text, const char *what, gboolean multiline,
                        gboolean may_be_empty, GError **error);
/* Refuses "none", in whatever case: sums by place, outlet and round have a row of that name for
 * what has none of them. 'what' begins the sentence. Error: REFUSED. */
gboolean sw_text_check_not_none (const char *name, const char *what, GError **error);

/* White space trimmed at both ends and folded inside. Transfer full. */
char *sw_text_tidy (const char *text);

/* Any bytes made safe for a terminal: control characters (C0, DEL, C1), bidi overrides and invalid
 * UTF-8 as \xNN escapes. Transfer full. */
char *sw_text_printable (const char *bytes, gssize length);

/* For error messages: printable, cut to 60 bytes, between single quotation marks. NULL counts as
 * "". Transfer full. */
char *sw_text_quote (const char *text);

/* A file-name stem fit for FAT: ASCII letters, digits, - and _; at most 40 bytes; never empty.
 * Transfer full. */
char *sw_text_safe_stem (const char *name);

/* Equal without case and with white space folded, for names typed by people. */
gboolean sw_text_same_name (const char *a, const char *b);

/* "width" as it begins a label: "Width". Transfer full. */
char *sw_text_capital (const char *word);

G_END_DECLS
