/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trip sheet on paper: numbered lines with boxes to tick, part by part. Handout layer. It names
 * buyers: it is for the person's own pocket. */
#pragma once

#include "core/trip/trip-sheet.h"

G_BEGIN_DECLS

/* Of that trip, into a file whose name ends in .pdf; its lines are kept with their numbers, so that
 * they can be ticked off by them (trip-lines.h), as one act. A catalogue that cannot be written
 * gives the file alone. Errors: as sw_trip_sheet and sw_paper_write_file. */
gboolean sw_trip_paper_write (SwCatalogue *catalogue, gint64 trip, const char *path, int *out_pages,
                              GError **error);

G_END_DECLS
