/* SPDX-License-Identifier: GPL-3.0-or-later */
/* All that the sheet ticked off after a trip shows, read in one go on the catalogue thread. Plain
 * data; no widget. */
#pragma once

#include "core/trip/tick-sheet.h"

G_BEGIN_DECLS

typedef struct
{
  SwTickSheet *sheet;
  GPtrArray *to_scrap; /* SwItem that were ticked as scrapped and wait for their docket */
  GStrv yards;         /* names of the outlets that are scrap yards */
} SwTickRead;

void sw_tick_read_free (gpointer read);

/* An SwWorkFunc; data is not used. Makes an SwTickRead of the last trip that has begun. */
gpointer sw_tick_read (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable,
                       GError **error);

G_END_DECLS
