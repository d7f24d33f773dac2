/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where things stand, for whoever takes over: what is promised, held and due, what has a day, what
 * is to be asked, and whose keys are where. Handout layer. It names buyers and relatives: for the
 * hands of one person, not for a notice board. */
#pragma once

#include "core/base/civil.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* As of 'today', a PDF, whole or not at all; *out_pages may be NULL. Errors: those of sw_paper_write_file;
 * REFUSED inside the catalogue. */
gboolean sw_standing_write (SwCatalogue *catalogue, SwDay today, const char *path, int *out_pages,
                            GError **error);

G_END_DECLS
