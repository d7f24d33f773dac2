/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The person's language. Sentences stand in the sources in English and are looked up with gettext.
 * _() looks a literal up; N_() only marks one, in a table whose reader looks it up; C_() and NC_()
 * tell apart what is one word in English. Base layer: includes nothing of the project.
 *
 * What other programs read is never looked up: keys, words of states in files and JSON, headers of
 * tables and the words in their rows, those that a command prints too, file formats, the log. */
#pragma once

#include <glib/gi18n.h>
#include <inttypes.h> /* PRId64: a format that may stand inside _(), unlike G_GINT64_FORMAT */

G_BEGIN_DECLS

/* Looks sentences up in the catalogues of 'folder' (LANGUAGE/LC_MESSAGES/shedwalk.mo) from now on,
 * and reads the one of the person's language at once: later no lookup opens a file. Call after
 * setlocale (). Without this call everything stays English. */
void sw_language_start (const char *folder);

/* A sentence with a count: 'one' and 'many' are whole and hold the number, "%d photo of %s" and
 * "%d photos of %s"; n chooses, and is given again where it stands in the text. Literals without
 * _(), which xgettext finds here. Transfer full. */
char *sw_text_counted (gint64 n, const char *one, const char *many, ...) G_GNUC_PRINTF (2, 4)
    G_GNUC_PRINTF (3, 4);

/* The same where the number is all that is filled in: "%d photo", "%d photos". */
#define sw_text_count(n, one, many) sw_text_counted ((n), one, many, (int)(n))

G_END_DECLS
