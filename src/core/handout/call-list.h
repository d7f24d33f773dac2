/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The call list: what there is to ask, by person, as plain text to read out, print or send. Handout
 * layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* person NULL: of everybody, each under a heading; "": where nobody is named. Lines end in a
 * newline; "Nothing to ask." where there is nothing. Control characters are made harmless. Transfer
 * full. */
char *sw_call_list_text (SwCatalogue *catalogue, const char *person, GError **error);

/* The same as pages of ISO 216 A4, with a line for each answer; the same bytes for the same list
 * each time. *out_pages may be NULL. Transfer full. */
GBytes *sw_call_list_pdf (SwCatalogue *catalogue, const char *person, int *out_pages,
                          GError **error);
/* Into a file whose name ends in .pdf; one of that name is replaced as a whole. Errors: BAD_INPUT
 * (name), NO_SPACE, errno ones. */
gboolean sw_call_list_write (SwCatalogue *catalogue, const char *person, const char *path,
                             int *out_pages, GError **error);

G_END_DECLS
