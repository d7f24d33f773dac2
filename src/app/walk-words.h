/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The walk of a trip as the plan shows it: its places in order, and when it was in each, in words.
 */
#pragma once

#include "app/store.h"

G_BEGIN_DECLS

typedef struct
{
  GArray *places;    /* gint64, in time order */
  GHashTable *times; /* place -> "Sat 10:05, Sun 9:40" */
} SwWalkWords;
void sw_walk_words_free (SwWalkWords *self);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwWalkWords, sw_walk_words_free)

/* An SwWorkFunc: SwWalkWords of the trip *trip (gint64). */
gpointer sw_walk_words_read (SwCatalogue *catalogue, gpointer trip, GCancellable *cancellable,
                             GError **error);
/* When it was there; NULL: never. self may be NULL. Transfer none. */
const char *sw_walk_words_of (const SwWalkWords *self, gint64 place);

G_END_DECLS
