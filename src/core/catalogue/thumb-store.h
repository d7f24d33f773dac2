/* SPDX-License-Identifier: GPL-3.0-or-later */
/* thumbs.db: small pictures by content hash, size and maker's version. A cache: on any error it is
 * thrown away and made anew; it has its own connection and is no part of check, backup or archive.
 * Catalogue layer, for here is the SQL. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

typedef struct _SwThumbStore SwThumbStore;

/* Opens or makes thumbs.db at 'path'. Where that cannot be written, a file of the same use in the
 * user's cache folder; where neither, memory. Never NULL. Thread-safe. */
SwThumbStore *sw_thumb_store_new (const char *path);
void sw_thumb_store_free (SwThumbStore *store);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwThumbStore, sw_thumb_store_free)

/* NULL where there is none. An empty GBytes says that none can be made. Transfer full. */
GBytes *sw_thumb_store_get (SwThumbStore *store, const char *hash, int side, int version);
/* Replaces. Failures are silent: it is a cache. */
void sw_thumb_store_put (SwThumbStore *store, const char *hash, int side, int version,
                         GBytes *jpeg);

G_END_DECLS
