/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A slip for a neighbour who hands things over alone: buyer by buyer what goes, where it stands,
 * what is to be taken for it, what to mind, and room for both signatures. Handout layer. It names
 * buyers: it is written only where the person asks for it. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* What waits to be fetched, into a file whose name ends in .pdf; deadlines as seen from that trip.
 * *out_pages may be NULL. Errors: NOT_FOUND (the trip), REFUSED (nothing waits), those of
 * sw_paper_write_file. */
gboolean sw_neighbour_slip_write (SwCatalogue *catalogue, gint64 trip, const char *path,
                                  int *out_pages, GError **error);

G_END_DECLS
