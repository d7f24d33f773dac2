/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Items that part and come together: split by photos, join, break up. A split by count is
 * sw_item_split. Records of the catalogue layer. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* The photos show another thing, or others of the same: they go to a new item with a link to its
 * origin. Of a count above 1 so many ('count', below the item's) go along, with their share of
 * price and mass; of a count of 1 the new item counts 1 and has neither. Facts that stand are
 * copied, claims too. Errors: BAD_INPUT (no photo, all photos), REFUSED (a photo that is not the
 * item's; the count). */
gboolean sw_item_split_photos (SwCatalogue *catalogue, gint64 number, const gint64 *photos, gsize n,
                               gint64 count, gint64 *out_number, GError **error);

/* 'other' becomes part of 'number': counts, prices and masses add up (a missing one of either is
 * missing then), photos, facts, questions, jobs, claims, evidence and tags go over, and the other
 * number is not used any more. REFUSED where they stand in different places or states, or the other
 * was ever in an offer, a sale, a docket or a field note's own act. */
gboolean sw_item_join (SwCatalogue *catalogue, gint64 number, gint64 other, GError **error);

typedef struct
{
  const char *name;
  gint64 count; /* 0 is taken as 1 */
} SwPart;
/* The item becomes Broken up, each part a new item Found in the same place and trip, with a link to
 * its origin, its photos as wide views, and its dangers. *out_numbers (may be NULL): GArray of
 * gint64, transfer full. Errors: BAD_INPUT (no parts), REFUSED (its state). */
gboolean sw_item_break_up (SwCatalogue *catalogue, gint64 number, const SwPart *parts, gsize n,
                           GArray **out_numbers, GError **error);

G_END_DECLS
