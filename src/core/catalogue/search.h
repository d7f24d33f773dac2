/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The search over items: their number, name, place, facts that stand and tags, as whole words or
 * their beginnings; "tag 17" is a tag. Private to core/catalogue. Fed by the outermost commit, in its transaction, for
 * the items and places whose rows were written since it began. */
#pragma once

#include "core/catalogue/catalogue-private.h"

G_BEGIN_DECLS

#define SW_SEARCH_TABLE "item_search"

/* Begins to note which rows of items and places are written; once for a connection. */
void sw_search_watch (SwCatalogue *catalogue);
/* Forgets what was noted. */
void sw_search_forget (SwCatalogue *catalogue);
/* Writes the rows of the search anew for what was noted. Inside the open transaction. */
gboolean sw_search_feed (SwCatalogue *catalogue, GError **error);
/* The words of a search as a full-text query; NULL where there is nothing to search for. Transfer
 * full. */
char *sw_search_query (const char *words);

G_END_DECLS
