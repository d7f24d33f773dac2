/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbered tags: printed in sheets, stuck on things, photographed first. Records of the catalogue
 * layer. A number is given out once, on paper, and never again: not even when the act that gave it
 * out could be taken back. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* Most tags that are given out at a time: a hundred sheets of 24. */
#define SW_TAGS_AT_ONCE 2400

/* Gives out the next n numbers, *out_first to *out_first + n - 1. Stands in the history and is not
 * for undo: paper cannot be taken back. Errors: BAD_INPUT (n below 1 or above SW_TAGS_AT_ONCE). */
gboolean sw_tags_take (SwCatalogue *catalogue, int n, gint64 *out_first, GError **error);

/* The item with that tag, 0 for none. */
gboolean sw_tag_item (SwCatalogue *catalogue, gint64 tag, gint64 *out_item, GError **error);
/* The item bears the tag from now on; an item may bear several. That it does so already is fine;
 * REFUSED where another item bears it. */
gboolean sw_tag_set (SwCatalogue *catalogue, gint64 tag, gint64 item, GError **error);
/* The tag is free again; that it was free is fine. */
gboolean sw_tag_drop (SwCatalogue *catalogue, gint64 tag, GError **error);

typedef struct
{
  gint64 tag, item;
} SwTag;
/* Tags that items bear: GArray of SwTag by number, transfer full. */
GArray *sw_tag_list (SwCatalogue *catalogue, GError **error);

G_END_DECLS
