/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Streams a file once through its fingerprint, and to a copy where there is one. Knows no
 * catalogue. */
#include "core/catalogue/digest.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <xxhash.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/catalogue.h"

#define BUFFER_SIZE (1024 * 1024)
#define XXH_DIGITS 32

typedef struct
{
  XXH3_state_t *xxh;
  GChecksum *sha; /* NULL: only the first digits are there to compare */
  gint64 size;
} Digest;

static void
digest_init (Digest *digest, const char *hash)
{
  digest->xxh = XXH3_createState ();
  XXH3_128bits_reset (digest->xxh);
  digest->sha = strlen (hash) > XXH_DIGITS ? g_checksum_new (G_CHECKSUM_SHA256) : NULL;
  digest->size = 0;
}

static void
digest_clear (Digest *digest)
{
  XXH3_freeState (digest->xxh);
  g_clear_pointer (&digest->sha, g_checksum_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Digest, digest_clear)

static void
digest_add (Digest *digest, const guint8 *bytes, gsize n)
{
  XXH3_128bits_update (digest->xxh, bytes, n);
  if (digest->sha != NULL)
    g_checksum_update (digest->sha, bytes, (gssize)n);
  digest->size += (gint64)n;
}

static gboolean
digest_is (Digest *digest, gint64 size, const char *hash)
{
  XXH128_canonical_t bytes;
  char digits[XXH_DIGITS + 1];
  XXH128_canonicalFromHash (&bytes, XXH3_128bits_digest (digest->xxh));
  for (gsize i = 0; i < sizeof bytes.digest; i++)
    g_snprintf (digits + 2 * i, 3, "%02x", bytes.digest[i]);
  if (digest->size != size || g_ascii_strncasecmp (digits, hash, XXH_DIGITS) != 0)
    return FALSE;
  if (digest->sha == NULL)
    return strlen (hash) == XXH_DIGITS;
  const char *rest = hash + XXH_DIGITS;
  return g_ascii_strncasecmp (g_checksum_get_string (digest->sha), rest, strlen (rest)) == 0;
}

static gboolean
fail_on (const char *path, const char *what, int errsv, GError **error)
{
  g_autofree char *text = g_strdup_printf (_ ("The file %s could not be %s"), path, what);
  return sw_error_from_errno (error, errsv, text);
}

static gboolean
write_all (int fd, const guint8 *bytes, gsize n, const char *path, GError **error)
{
  while (n > 0)
    {
      ssize_t done = write (fd, bytes, n);
      if (done < 0 && errno == EINTR)
        continue;
      if (done < 0)
        return fail_on (path, "written", errno, error);
      bytes += done;
      n -= (gsize)done;
    }
  return TRUE;
}

/* to_fd -1: only the fingerprint. A file that cannot be read to its end is a verdict, not an error.
 */
static gboolean
stream (int from_fd, int to_fd, const char *to, Digest *digest, const char *hash, gint64 size,
        GCancellable *cancellable, SwDigestVerdict *out_verdict, GError **error)
{
  g_autofree guint8 *buffer = g_malloc (BUFFER_SIZE);
  for (;;)
    {
      if (g_cancellable_is_cancelled (cancellable))
        {
          g_set_error (error, SW_ERROR, SW_ERROR_CANCELLED, _ ("Stopped; what was done is kept."));
          return FALSE;
        }
      ssize_t n = read (from_fd, buffer, BUFFER_SIZE);
      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        {
          gboolean same = n == 0 && digest_is (digest, size, hash);
          *out_verdict = same ? SW_DIGEST_SAME : n == 0 ? SW_DIGEST_OTHER : SW_DIGEST_UNREADABLE;
          return TRUE;
        }
      digest_add (digest, buffer, (gsize)n);
      if (to_fd >= 0 && !write_all (to_fd, buffer, (gsize)n, to, error))
        return FALSE;
    }
}

/* -1 with *out_verdict where there is nothing to read. Never waits on a FIFO, never follows a link.
 */
static int
open_plain (const char *path, SwDigestVerdict *out_verdict)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
  struct stat is;
  if (fd >= 0 && fstat (fd, &is) == 0 && S_ISREG (is.st_mode))
    return fd;
  if (fd >= 0)
    {
      close (fd);
      *out_verdict = SW_DIGEST_OTHER;
    }
  else if (errno == ENOENT || errno == ENOTDIR)
    *out_verdict = SW_DIGEST_MISSING;
  else
    *out_verdict = errno == ELOOP || errno == ENXIO ? SW_DIGEST_OTHER : SW_DIGEST_UNREADABLE;
  return -1;
}

gboolean
sw_digest_verify (const char *path, gint64 size, const char *hash, GCancellable *cancellable,
                  SwDigestVerdict *out_verdict, GError **error)
{
  int fd = open_plain (path, out_verdict);
  if (fd < 0)
    return TRUE;
  g_auto (Digest) digest;
  digest_init (&digest, hash);
  gboolean ok = stream (fd, -1, NULL, &digest, hash, size, cancellable, out_verdict, error);
  close (fd);
  return ok;
}

/* Flushes and closes; the copy is read back later from the disk, not from memory. */
static gboolean
finish_copy (int fd, const char *to, gboolean ok, GError **error)
{
  if (ok && fsync (fd) != 0)
    ok = fail_on (to, "flushed", errno, error);
  posix_fadvise (fd, 0, 0, POSIX_FADV_DONTNEED);
  if (close (fd) != 0 && ok)
    ok = fail_on (to, "written", errno, error);
  return ok;
}

gboolean
sw_digest_copy (const char *from, const char *to, gint64 size, const char *hash,
                GCancellable *cancellable, SwDigestVerdict *out_verdict, GError **error)
{
  int fd = open_plain (from, out_verdict);
  if (fd < 0)
    return TRUE;
  int to_fd = open (to, O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, SW_FILE_MODE);
  int errsv = errno;
  g_auto (Digest) digest;
  digest_init (&digest, hash);
  gboolean ok
      = to_fd >= 0 ? finish_copy (
            to_fd, to, stream (fd, to_fd, to, &digest, hash, size, cancellable, out_verdict, error),
            error)
                   : fail_on (to, "made", errsv, error);
  close (fd);
  return ok;
}
