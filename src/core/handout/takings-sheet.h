/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The takings for others: one sheet that a relative understands, as a PDF, and the rows as a table.
 * Handout layer. Names no buyer. */
#pragma once

#include "core/handout/paper.h"
#include "core/trade/takings.h"

G_BEGIN_DECLS

/* Writes the file: a sheet where the name ends in .pdf, RFC 4180 where it ends in .csv (cells that
 * begin with a formula character are made harmless). The sheet says what scrap alone would have
 * brought, where that is known, and ends with the family's account and who pays whom, where its
 * shares add up. *out_pages (may be NULL): of the sheet, else 0. Errors: BAD_INPUT (another
 * name), REFUSED, NO_SPACE, FAILED. */
gboolean sw_takings_hand_out (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping,
                              const char *path, int *out_pages, GError **error);

/* The same sheet for a printer. Transfer full. */
SwPaper *sw_takings_sheet_new (SwCatalogue *catalogue, SwCredit credit, SwGrouping grouping,
                               GError **error);

G_END_DECLS
