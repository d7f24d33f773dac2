/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a bring-in must know of all photos at once, to tell what is there already. Catalogue layer.
 */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 id, size, trip, bring_in; /* trip 0: none */
  char *hash, *stored, *kind, *remark;
  gboolean aside;
} SwArrival;

/* GPtrArray of SwArrival, in no order, asides too. Transfer full. */
GPtrArray *sw_arrival_list (SwCatalogue *catalogue, GError **error);

/* The bring-in that was cut short, 0 for none. */
gboolean sw_arrival_open_bring_in (SwCatalogue *catalogue, gint64 *out_id, GError **error);

/* A photo put aside stands again, as one of this bring-in. Part of a plain act of the caller or its
 * own. */
gboolean sw_arrival_take_back (SwCatalogue *catalogue, gint64 photo, gint64 bring_in,
                               GError **error);

G_END_DECLS
