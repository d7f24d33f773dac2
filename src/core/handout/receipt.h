/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The receipt of a hand-over, to be signed by both. Handout layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* Of the sale with that ref: what and how many, the amount, what is paid and owed, the day it was
 * handed over (a line to fill in where it was not yet), the cautions of the dangers that are known
 * of it, and room for both signatures. The buyer's name is in it only 'with_buyer', else a line to
 * fill in. A PDF, whole or not at all; *out_pages may be NULL. Errors: NOT_FOUND; REFUSED (not
 * sold, fell through, inside the catalogue); those of sw_paper_write_file. */
gboolean sw_receipt_write (SwCatalogue *catalogue, const char *ref, gboolean with_buyer,
                           const char *path, int *out_pages, GError **error);

G_END_DECLS
