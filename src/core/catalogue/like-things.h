/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Like things of the past: what was sold under a name like this one's, for how much, where, and how
 * long it took; from the person's own record. Records of the catalogue layer; it advises nothing.
 */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 item, count;
  char *name, *outlet; /* outlet NULL: sold without one */
  SwMoney price;       /* what the count brought, delivery and later reversals apart from fees */
  SwDay day;           /* of the sale */
  gint64 days;         /* from going up to the result; -1: sold without an offer */
  int likeness;        /* words of the name in common, the last one (the kind of thing) twice */
} SwLikeThing;
void sw_like_thing_free (SwLikeThing *thing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwLikeThing, sw_like_thing_free)

/* The most alike first, of equals the latest sale first; at most 'most'. None for an item without
 * a name of its own. What fell through as a whole, and what a yard took as scrap, is no sale.
 * GPtrArray of SwLikeThing, transfer full. */
GPtrArray *sw_like_things (SwCatalogue *catalogue, gint64 item, guint most, GError **error);

G_END_DECLS
