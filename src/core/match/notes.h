/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a file of field notes into a trip. Match layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  int line;
  char *text; /* one sentence, without the line */
} SwNotesRemark;

typedef struct
{
  int rows; /* rows understood */
  int notes_added;
  int items_added;
  int already_there;      /* notes that were read before */
  GPtrArray *places_made; /* char *: paths of places that were not known before */
  GPtrArray *remarks;     /* SwNotesRemark: rows left out, by line */
} SwNotesReport;
void sw_notes_report_free (SwNotesReport *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwNotesReport, sw_notes_report_free)

/* What a notes file may look like, for --help. Transfer none. */
const char *sw_notes_help (void);

/* Reads the file into the trip, as one act. Each row is a field note; one with an item makes it, in
 * Found, unless its place has one of that name; unknown places are made and reported. Rows read
 * before add nothing. Bad rows are left out and remarked by line; under 'strict' any of them
 * refuses the whole file. Errors: NOT_FOUND (file, trip), BAD_INPUT (nothing in it can be
 * understood, or strict: names the lines). */
gboolean sw_notes_read (SwCatalogue *catalogue, gint64 trip, const char *path, gboolean strict,
                        SwNotesReport **out_report, GError **error);
/* The same from bytes; 'name' is what messages call it. */
gboolean sw_notes_read_bytes (SwCatalogue *catalogue, gint64 trip, GBytes *bytes, const char *name,
                              gboolean strict, SwNotesReport **out_report, GError **error);

G_END_DECLS
