/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Booking: the money table, a CSV file whose rows are facts, into offers, results, postings and the
 * states of items. Trade layer. All or nothing, in one act that can be undone. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  int rows;    /* in the table */
  int booked;  /* entered now */
  int already; /* there from an earlier booking of the same rows; nothing was entered for them */
  GPtrArray *remarks; /* char *: "line 7: ...", what was taken although something about it is odd */
  GPtrArray *faults;  /* char *: "line 7: ...", why nothing was booked */
} SwBookReport;
void sw_book_report_clear (SwBookReport *report);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwBookReport, sw_book_report_clear)

/* Books the table. FALSE: nothing was booked; the error's sentence names the first 20 faults by
 * line. out_report (may be NULL) is filled in both cases, unlike other out parameters, so that all
 * faults can be shown; it must be zeroed before. Rows that are booked already, word for word, are
 * counted and passed over, so a table that grew can be booked again. Errors: BAD_INPUT, REFUSED
 * (faults in the rows), NOT_FOUND (the file), BUSY, READ_ONLY. */
gboolean sw_book_file (SwCatalogue *catalogue, const char *path, SwBookReport *out_report,
                       GError **error);
/* The same from memory; 'name' is what the history calls the table. */
gboolean sw_book_bytes (SwCatalogue *catalogue, GBytes *bytes, const char *name,
                        SwBookReport *out_report, GError **error);

/* The worked example and the columns, for `book --help`. */
const char *sw_book_help_text (void);
/* The worked example alone, as a table that can be booked where the items it names are there. */
const char *sw_book_example (void);

G_END_DECLS
