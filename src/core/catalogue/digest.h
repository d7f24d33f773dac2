/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fingerprint of a file's bytes, as photo.hash keeps it: XXH3-128 in its canonical (big-endian) form, 32 hexadecimal digits;
 * behind them, where two different files had the same, digits of their SHA-256. Private to core/catalogue (backup and check). */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

typedef enum
{
  SW_DIGEST_SAME,
  SW_DIGEST_OTHER, /* there, but not those bytes */
  SW_DIGEST_MISSING,
  SW_DIGEST_UNREADABLE, /* a bad sector, or no permission */
} SwDigestVerdict;

/* Reads the plain file 'path' (a link or anything else is OTHER) and compares size and fingerprint. Error: CANCELLED. */
gboolean sw_digest_verify (const char *path, gint64 size, const char *hash, GCancellable *cancellable,
                           SwDigestVerdict *out_verdict, GError **error);

/* Copies 'from' to the new file 'to', flushed, and says whether the bytes that went over were those of size and hash. 'to' is left behind
 * on failure, and with any verdict but SAME. Errors: those of writing, CANCELLED. */
gboolean sw_digest_copy (const char *from, const char *to, gint64 size, const char *hash,
                         GCancellable *cancellable, SwDigestVerdict *out_verdict, GError **error);

G_END_DECLS
