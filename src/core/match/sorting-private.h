/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What sorting.c and sorting-accept.c share. Private to core/match. */
#pragma once

#include "core/catalogue/proposals.h"
#include "core/match/sorting.h"

G_BEGIN_DECLS

/* The number of photo i of the stop. */
static inline gint64
sw_sorting_photo_at (const SwStopRecord *stop, guint i)
{
  return g_array_index (stop->photos, gint64, i);
}

/* Stop k. Transfer none. */
static inline SwStopRecord *
sw_sorting_stop_at (const GPtrArray *stops, int k)
{
  return g_ptr_array_index (stops, k);
}

/* Where it stands among them; -1 with NOT_FOUND. */
int sw_sorting_find_stop (const GPtrArray *stops, gint64 key, GError **error);

/* Both ends of the stop hold from now on. */
gboolean sw_sorting_fence (SwCatalogue *catalogue, const GPtrArray *stops, int k, GError **error);

/* sorting-accept.c. The item a new thing becomes; its neutral name is counted on where it was taken
 * meanwhile. *out_item: its number. */
gboolean sw_sorting_make_item (SwCatalogue *catalogue, const SwStopRecord *stop, gint64 *out_item,
                               GError **error);

G_END_DECLS
