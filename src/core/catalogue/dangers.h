/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Dangers: the words, and the usual caution of each. A danger of an item is a fact of the kind
 * 'danger' whose text is one of these words. The cautions are common practice, and give way to the
 * codes of the place and to licensed people. Records of the catalogue layer. */
#pragma once

#include "core/catalogue/facts.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  const char *word, *caution;
  gboolean clear_first; /* never to be offered before somebody licensed has cleared it */
} SwDanger;

/* All of them, *out_n. Static. */
const SwDanger *sw_dangers (gsize *out_n);
/* NULL where there is no such word. Static. */
const SwDanger *sw_danger_find (const char *word);
/* The danger that a fact tells of; NULL for any other fact. Static. */
const SwDanger *sw_danger_of_fact (const SwFact *fact);

/* Adds the danger with its source, and marks the item never to be offered before it is cleared
 * where that is so: one act. One that is there already changes its source. Errors: BAD_INPUT naming
 * the words. */
gboolean sw_danger_add (SwCatalogue *catalogue, gint64 item, const char *word, const char *source,
                        const char *by_whom, GError **error);

G_END_DECLS
