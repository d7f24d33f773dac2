/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Photos of an item's trip (of all trips where it has none) that nothing is decided of yet: what
 * may still be its own. Records of the catalogue layer. */
#pragma once

#include "core/catalogue/photos.h"

G_BEGIN_DECLS

/* GPtrArray of SwPhoto, those taken nearest in time to a photo of the item first (where it has
 * none, in the order taken), those without a time last; at most so many. Clips, memos and asides
 * are left out. NOT_FOUND: no such item. Transfer full. */
GPtrArray *sw_open_photos_near (SwCatalogue *catalogue, gint64 item, guint most, GError **error);

G_END_DECLS
