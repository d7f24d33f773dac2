/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Copies files into the photo folder: a few threads, large buffers, the fingerprint taken of the
 * same buffer, and a hint to start writing at each close. Measured against a flush per file this
 * halves the time; durability comes from one syncfs a batch, which is the caller's. The source is
 * opened for reading only and nothing of it is ever changed. */
#include "core/intake/copy-in.h"
#include "core/base/language.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>
#include <xxhash.h>

#include "core/catalogue/catalogue.h"

#define BUFFER_BYTES (512 * 1024)
#define TAIL_BYTES (64 * 1024)
/* With more of one size, hashing once is cheaper than comparing with each. */
#define MAX_COMPARED 4

struct _SwCopier
{
  GThreadPool *pool;
  int photos_fd;
  char *catalogue;
  SwInstant now;
  gint64 *bytes_done;
  int *files_done;
  GCancellable *cancellable;
  int stopped;
  int next_number;
  GMutex lock;
  GCond ended;
};

typedef struct
{
  SwCopyJob *job;
  gboolean compare_only;
} Task;

static GPrivate buffers = G_PRIVATE_INIT (g_free);

static guint8 *
buffer (void)
{
  guint8 *b = g_private_get (&buffers);

  if (b == NULL)
    {
      b = g_malloc (2 * BUFFER_BYTES);
      g_private_set (&buffers, b);
    }
  return b;
}

static ssize_t
read_some (int fd, void *to, gsize n)
{
  ssize_t got;

  do
    got = read (fd, to, n);
  while (got < 0 && errno == EINTR);
  return got;
}

/* Fills the buffer as far as the file goes. */
static ssize_t
read_full (int fd, guint8 *to, gsize n)
{
  gsize have = 0;

  while (have < n)
    {
      ssize_t got = read_some (fd, to + have, n - have);

      if (got < 0)
        return -1;
      if (got == 0)
        break;
      have += (gsize)got;
    }
  return (ssize_t)have;
}

static gboolean
write_full (int fd, const guint8 *from, gsize n)
{
  while (n > 0)
    {
      ssize_t put = write (fd, from, n);

      if (put < 0 && errno == EINTR)
        continue;
      if (put < 0)
        return FALSE;
      from += put;
      n -= (gsize)put;
    }
  return TRUE;
}

gboolean
sw_same_bytes (int a, int b)
{
  guint8 *left = buffer (), *right = left + BUFFER_BYTES;

  if (lseek (a, 0, SEEK_SET) != 0 || lseek (b, 0, SEEK_SET) != 0)
    return FALSE;
  for (;;)
    {
      ssize_t n = read_full (a, left, BUFFER_BYTES), m = read_full (b, right, BUFFER_BYTES);

      if (n < 0 || n != m || memcmp (left, right, (gsize)n) != 0)
        return FALSE;
      if (n == 0)
        return TRUE;
    }
}

void
sw_copy_job_clear (SwCopyJob *job)
{
  g_clear_pointer (&job->temporary, g_free);
  g_clear_pointer (&job->problem, g_free);
  sw_photo_meta_clear (&job->meta);
}

static void
hash_to_text (const XXH3_state_t *state, char out[33])
{
  XXH128_canonical_t canonical;

  XXH128_canonicalFromHash (&canonical, XXH3_128bits_digest (state));
  for (int i = 0; i < 16; i++)
    snprintf (out + 2 * i, 3, "%02x", canonical.digest[i]);
}

gboolean
sw_hash_file (int fd, char out[33])
{
  XXH3_state_t *state = XXH3_createState ();
  guint8 *b = buffer ();
  ssize_t n = lseek (fd, 0, SEEK_SET);

  XXH3_128bits_reset (state);
  while (n >= 0 && (n = read_full (fd, b, BUFFER_BYTES)) > 0)
    XXH3_128bits_update (state, b, (gsize)n);
  hash_to_text (state, out);
  XXH3_freeState (state);
  return n == 0;
}

static gboolean
is_same_as (const SwCopier *copier, int fd, const SwCopyKnown *known)
{
  g_autofree char *path = g_build_filename (copier->catalogue, known->stored, NULL);
  int other = open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
  gboolean same = other >= 0 && sw_same_bytes (fd, other);

  if (other >= 0)
    close (other);
  return same;
}

/* Looks for the file among those of its size; TRUE when found, with job->there. */
static gboolean
find_known (const SwCopier *copier, int fd, SwCopyJob *job)
{
  char hash[33] = "";

  if (job->known == NULL)
    return FALSE;
  if (job->known->len > MAX_COMPARED && !sw_hash_file (fd, hash))
    return FALSE;
  for (guint i = 0; i < job->known->len; i++)
    {
      const SwCopyKnown *known = job->known->pdata[i];

      if ((*hash == '\0' || strncmp (hash, known->hash, 32) == 0) && is_same_as (copier, fd, known))
        {
          job->there = known;
          return TRUE;
        }
    }
  return FALSE;
}

/* A JPEG that breaks off has no end marker near its end (trailers behind it are common practice, so
 * a wide look, but not into its header: a small picture in there has an end marker of its own). */
static gboolean
lacks_end (int fd, const SwCopyJob *job)
{
  guint8 *b = buffer ();
  guint64 at = MIN (job->meta.pixels_at, job->size);
  gsize n = (gsize)MIN (job->size - at, TAIL_BYTES);
  ssize_t got = pread (fd, b, n, (off_t)(job->size - n));

  return got == (ssize_t)n && memmem (b, n, "\xFF\xD9", 2) == NULL;
}

static void
end_meta (int fd, SwCopyJob *job)
{
  static const char cut[] = N_ ("The file is cut short: a part of the picture is missing.");

  if (job->source->kind == SW_FILE_JPEG && job->meta.remarks->len == 0 && lacks_end (fd, job))
    g_ptr_array_add (job->meta.remarks, g_strdup (_ (cut)));
}

typedef enum
{
  PASS_GOOD,
  PASS_SOURCE_FAILED,
  PASS_TARGET_FAILED,
  PASS_CANCELLED,
} Pass;

static gboolean
is_stopped (const SwCopier *copier)
{
  return g_atomic_int_get (&copier->stopped) != 0
         || g_cancellable_is_cancelled (copier->cancellable);
}

/* One pass over the bytes: read, fingerprint, write; the first buffer also gives the metadata. */
static Pass
copy_bytes (SwCopier *copier, int from, int to, SwCopyJob *job)
{
  XXH3_state_t *state = XXH3_createState ();
  guint8 *b = buffer ();
  Pass pass = PASS_GOOD;
  gboolean first = TRUE;
  ssize_t n;

  XXH3_128bits_reset (state);
  while (pass == PASS_GOOD && (n = read_full (from, b, BUFFER_BYTES)) != 0)
    {
      if (n < 0)
        pass = PASS_SOURCE_FAILED;
      else if (is_stopped (copier))
        pass = PASS_CANCELLED;
      else if (!write_full (to, b, (gsize)n))
        pass = PASS_TARGET_FAILED;
      if (pass != PASS_GOOD)
        break;
      XXH3_128bits_update (state, b, (gsize)n);
      if (first)
        {
          SwPeek peek = { b, (gsize)n, from, job->source->size };

          sw_photo_meta_read (&peek, job->source->kind, copier->now, &job->meta);
          first = FALSE;
        }
      job->size += (guint64)n;
      __atomic_add_fetch (copier->bytes_done, n, __ATOMIC_RELAXED);
    }
  job->errsv = pass == PASS_TARGET_FAILED || pass == PASS_SOURCE_FAILED ? errno : 0;
  hash_to_text (state, job->hash);
  XXH3_freeState (state);
  if (pass == PASS_GOOD && first)
    pass = PASS_SOURCE_FAILED; /* it was not empty when the folder was looked through */
  return pass;
}

static void
refuse (SwCopyJob *job, const char *problem)
{
  job->problem = g_strdup (problem);
  job->state = SW_COPY_REFUSED;
}

static int
open_temporary (SwCopier *copier, SwCopyJob *job)
{
  job->temporary = g_strdup_printf (SW_COPY_TEMPORARY_PREFIX "%06d" SW_COPY_TEMPORARY_SUFFIX,
                                    g_atomic_int_add (&copier->next_number, 1));
  return openat (copier->photos_fd, job->temporary,
                 O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, SW_FILE_MODE);
}

/* Keeps the file's own time, and lets the disk begin. */
static gboolean
close_copy (int to, const SwCopyJob *job)
{
  struct timespec times[2]
      = { { .tv_nsec = UTIME_OMIT },
          { .tv_sec = (time_t)(job->source->mtime_us / G_USEC_PER_SEC),
            .tv_nsec = (long)(job->source->mtime_us % G_USEC_PER_SEC) * 1000 } };

  if (times[1].tv_nsec < 0)
    times[1] = (struct timespec){ .tv_nsec = UTIME_OMIT };
  futimens (to, times); /* FAT rounds and old media refuse: not worth a word */
  sync_file_range (to, 0, 0, SYNC_FILE_RANGE_WRITE);
  return close (to) == 0;
}

static void
copy_one (SwCopier *copier, int from, SwCopyJob *job)
{
  int to = open_temporary (copier, job);
  Pass pass;

  if (to < 0)
    {
      job->errsv = errno;
      g_clear_pointer (&job->temporary, g_free);
      job->state = SW_COPY_STOPPED;
      return;
    }
  pass = lseek (from, 0, SEEK_SET) == 0 ? copy_bytes (copier, from, to, job) : PASS_SOURCE_FAILED;
  if (pass == PASS_GOOD)
    end_meta (from, job);
  if (!close_copy (to, job) && pass == PASS_GOOD)
    {
      job->errsv = errno;
      pass = PASS_TARGET_FAILED;
    }
  if (pass == PASS_GOOD)
    {
      job->state = SW_COPY_DONE;
      return;
    }
  unlinkat (copier->photos_fd, job->temporary, 0);
  g_clear_pointer (&job->temporary, g_free);
  if (pass == PASS_SOURCE_FAILED)
    refuse (job, _ ("It could not be read to its end."));
  else
    job->state = SW_COPY_STOPPED;
}

static void
run_job (SwCopier *copier, SwCopyJob *job, gboolean compare_only)
{
  int from = open (job->source->path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY);
  struct stat st;

  if (from < 0 || fstat (from, &st) != 0 || !S_ISREG (st.st_mode))
    refuse (job, _ ("It could not be read."));
  else
    {
      posix_fadvise (from, 0, 0, POSIX_FADV_SEQUENTIAL);
      if (find_known (copier, from, job))
        {
          job->state = SW_COPY_THERE;
          __atomic_add_fetch (copier->bytes_done, (gint64)job->source->size, __ATOMIC_RELAXED);
        }
      else if (compare_only)
        job->state = SW_COPY_STOPPED;
      else
        copy_one (copier, from, job);
    }
  if (from >= 0)
    close (from);
}

/* Results are written into a job of the thread's own and handed over under the lock, so that the
 * one who waits never sees half of them. */
static void
work (gpointer data, gpointer user_data)
{
  Task *task = data;
  SwCopier *copier = user_data;
  SwCopyJob result = *task->job;

  if (is_stopped (copier))
    result.state = SW_COPY_STOPPED;
  else
    run_job (copier, &result, task->compare_only);
  if (result.state == SW_COPY_DONE || result.state == SW_COPY_THERE)
    g_atomic_int_inc (copier->files_done);
  /* a full disk fails every further file: begin none */
  if (result.state == SW_COPY_STOPPED && result.errsv != 0)
    g_atomic_int_set (&copier->stopped, 1);
  g_mutex_lock (&copier->lock);
  *task->job = result;
  g_cond_broadcast (&copier->ended);
  g_mutex_unlock (&copier->lock);
  g_free (task);
}

SwCopier *
sw_copier_new (int photos_fd, const char *catalogue, guint threads, SwInstant now,
               gint64 *bytes_done, int *files_done, GCancellable *cancellable)
{
  SwCopier *copier = g_new0 (SwCopier, 1);

  copier->photos_fd = photos_fd;
  copier->catalogue = g_strdup (catalogue);
  copier->now = now;
  copier->bytes_done = bytes_done;
  copier->files_done = files_done;
  copier->cancellable = cancellable;
  g_mutex_init (&copier->lock);
  g_cond_init (&copier->ended);
  copier->pool = g_thread_pool_new (
      work, copier, (int)(threads > 0 ? threads : CLAMP (g_get_num_processors (), 2, 4)), FALSE,
      NULL);
  return copier;
}

void
sw_copier_free (SwCopier *copier)
{
  if (copier == NULL)
    return;
  sw_copier_stop (copier);
  g_thread_pool_free (copier->pool, FALSE, TRUE);
  g_mutex_clear (&copier->lock);
  g_cond_clear (&copier->ended);
  g_free (copier->catalogue);
  g_free (copier);
}

void
sw_copier_push (SwCopier *copier, SwCopyJob *job, gboolean compare_only)
{
  Task *task = g_new0 (Task, 1);

  task->job = job;
  task->compare_only = compare_only;
  job->state = SW_COPY_WAITING;
  g_thread_pool_push (copier->pool, task, NULL);
}

void
sw_copier_wait (SwCopier *copier, SwCopyJob *job)
{
  g_mutex_lock (&copier->lock);
  while (job->state == SW_COPY_WAITING)
    g_cond_wait (&copier->ended, &copier->lock);
  g_mutex_unlock (&copier->lock);
}

void
sw_copier_stop (SwCopier *copier)
{
  g_atomic_int_set (&copier->stopped, 1);
}
