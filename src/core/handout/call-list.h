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

G_END_DECLS
