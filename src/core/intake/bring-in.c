/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A bring-in from start to end: look through the folders, compare what has the size of something
 * known, copy the rest in batches, each made durable, named and entered before the next; then
 * look-alikes, companions and the closing act. Whatever stops it, what stands is kept, and a new
 * run goes on from there. */
#include "core/intake/bring-in.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/trips.h"
#include "core/intake/bring-in-private.h"

#define BATCH_FILES 200
#define BATCH_BYTES (G_GINT64_CONSTANT (1) << 30)
/* Set free when the disk is full, so that the rows of what was copied still find room. */
#define RESERVE_BYTES SW_BRING_IN_RESERVE
#define RESERVE_NAME SW_COPY_TEMPORARY_PREFIX "reserve" SW_COPY_TEMPORARY_SUFFIX
#define NOT_PHOTOS_NAMED 1000
#define NAMED_REFUSED 3

static gboolean
is_cancelled (const SwRun *run)
{
  return g_cancellable_is_cancelled (run->cancellable);
}

static void
set_stage (SwRun *run, SwBringInStage stage)
{
  g_atomic_int_set (&run->progress->stage, (int)stage);
}

/* --- before anything is written --- */

static gboolean
scan_all (SwRun *run, GError **error)
{
  SwScan *scan = run->scan;

  set_stage (run, SW_BRING_IN_SCANNING);
  for (const char *const *folder = run->folders; *folder != NULL; folder++)
    if (!sw_scan_add (scan, *folder, run->catalogue, run->cancellable, error))
      return FALSE;
  sw_scan_finish (scan);
  for (guint i = 0; i < scan->refused->len; i++)
    {
      const SwScanRemark *r = scan->refused->pdata[i];

      sw_run_refuse (run, r->file, r->remark);
    }
  for (guint i = 0; i < scan->remarked->len; i++)
    {
      const SwScanRemark *r = scan->remarked->pdata[i];

      sw_run_remark (run, r->file, r->remark);
    }
  run->report->not_photos = scan->not_photos->len;
  for (guint i = 0; i < MIN (scan->not_photos->len, NOT_PHOTOS_NAMED); i++)
    g_ptr_array_add (run->report->not_photo_files, g_strdup (scan->not_photos->pdata[i]));
  return TRUE;
}

static gboolean
lock_photos (SwRun *run, GError **error)
{
  g_autofree char *path = g_build_filename (run->catalogue, "photos", NULL);

  if (mkdir (path, SW_FOLDER_MODE) != 0 && errno != EEXIST)
    return sw_error_from_errno (error, errno, _ ("The catalogue's photo folder could not be made"));
  run->photos_fd = open (path, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  if (run->photos_fd < 0)
    return sw_error_from_errno (error, errno,
                                _ ("The catalogue's photo folder could not be opened"));
  if (flock (run->photos_fd, LOCK_EX | LOCK_NB) == 0 || errno != EWOULDBLOCK)
    return TRUE;
  g_set_error_literal (
      error, SW_ERROR, SW_ERROR_BUSY,
      _ ("Photos are being brought into this catalogue already: wait until that is "
         "done and try again."));
  return FALSE;
}

/* Folder and name without extension, small letters: what belongs together has the same. */
static char *
stem_of (const char *path)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);
  char *dot = strrchr (lower, '.'), *slash = strrchr (lower, '/');

  if (dot != NULL && (slash == NULL || dot > slash + 1))
    *dot = '\0';
  return g_steal_pointer (&lower);
}

static void
make_entries (SwRun *run)
{
  run->n = run->scan->files->len;
  run->entries = g_new0 (SwEntry, run->n);
  for (guint i = 0; i < run->n; i++)
    {
      SwEntry *entry = &run->entries[i];
      SwScanFile *source = run->scan->files->pdata[i];
      gint64 size = (gint64)source->size;

      entry->job.source = source;
      entry->job.known = g_hash_table_lookup (run->by_size, &size);
      entry->stem = stem_of (source->path);
    }
  g_atomic_int_set (&run->progress->files_total, (int)run->n);
  __atomic_store_n (&run->progress->bytes_total, (gint64)run->scan->bytes, __ATOMIC_RELAXED);
}

/* --- copying --- */

static SwCopier *
new_copier (SwRun *run)
{
  return sw_copier_new (run->photos_fd, run->catalogue, run->options->threads, run->now,
                        &run->progress->bytes_done, &run->progress->files_done, run->cancellable);
}

/* Looks first at what may be there already, so that a card brought in again writes nothing. TRUE
 * when something remains to be copied. */
static gboolean
compare_known (SwRun *run, SwCopier *copier)
{
  gboolean remains = FALSE;

  for (guint i = 0; i < run->n; i++)
    if (run->entries[i].job.known != NULL)
      sw_copier_push (copier, &run->entries[i].job, TRUE);
  for (guint i = 0; i < run->n; i++)
    {
      SwEntry *entry = &run->entries[i];

      if (entry->job.known != NULL)
        sw_copier_wait (copier, &entry->job);
      entry->job.known = NULL; /* looked at once is enough */
      remains
          = remains || entry->job.state == SW_COPY_WAITING || entry->job.state == SW_COPY_STOPPED;
    }
  return remains;
}

static void
push_all (SwRun *run, SwCopier *copier)
{
  for (guint i = 0; i < run->n; i++)
    if (run->entries[i].job.state == SW_COPY_WAITING
        || run->entries[i].job.state == SW_COPY_STOPPED)
      sw_copier_push (copier, &run->entries[i].job, FALSE);
}

/* Files of one stem stay in one batch. */
static guint
end_of_batch (const SwRun *run, guint first)
{
  guint64 bytes = 0;
  guint end = first;

  while (end < run->n && end - first < BATCH_FILES && bytes < BATCH_BYTES)
    bytes += run->entries[end++].job.source->size;
  while (end < run->n && strcmp (run->entries[end].stem, run->entries[end - 1].stem) == 0)
    end++;
  return end;
}

/* The lists by size hold SwKnown, which begin with what the copier sees. */
static SwKnown *
known_of (const SwEntry *entry)
{
  return (SwKnown *)entry->job.there;
}

/* A card that was pulled out fails every file; that is one thing to say, not hundreds. */
static gboolean
source_is_gone (const SwEntry *entry)
{
  g_autofree char *folder = g_path_get_dirname (entry->job.source->path);

  return access (folder, F_OK) != 0;
}

static void
end_job (SwRun *run, SwCopier *copier, SwEntry *entry)
{
  switch (entry->job.state)
    {
    case SW_COPY_THERE:
      entry->fate = SW_ENTRY_THERE;
      entry->known = known_of (entry);
      break;
    case SW_COPY_REFUSED:
      if (!run->source_gone && source_is_gone (entry))
        {
          run->source_gone = TRUE;
          sw_copier_stop (copier);
        }
      if (!run->source_gone)
        sw_run_refuse (run, entry->job.source->file, entry->job.problem);
      break;
    case SW_COPY_STOPPED:
      if (entry->job.errsv != 0 && run->errsv == 0)
        {
          run->errsv = entry->job.errsv;
          unlinkat (run->photos_fd, RESERVE_NAME, 0);
        }
      break;
    default:
      break;
    }
}

static gboolean
run_batch (SwRun *run, SwCopier *copier, GError **error)
{
  for (guint i = run->first; i < run->end; i++)
    {
      sw_copier_wait (copier, &run->entries[i].job);
      end_job (run, copier, &run->entries[i]);
    }
  sw_run_judge (run);
  return run->execute (run, sw_run_piece_settle, error) && sw_run_name (run, error)
         && run->execute (run, sw_run_piece_rows, error);
}

static gboolean
fail_full (GError **error)
{
  g_autofree char *size = g_format_size (RESERVE_BYTES);

  g_set_error (
      error, SW_ERROR, SW_ERROR_NO_SPACE,
      _ ("The disk is full: less than %s are free. Free some space and bring the folder in "
         "again."),
      size);
  return FALSE;
}

/* Where not even the reserve fits, nothing is copied: the copies could not get their rows, and
 * would only take the last of the disk. */
static gboolean
make_reserve (SwRun *run, GError **error)
{
  int fd = openat (run->photos_fd, RESERVE_NAME, O_WRONLY | O_CREAT | O_CLOEXEC | O_NOFOLLOW,
                   SW_FILE_MODE);
  int result;

  if (fd < 0)
    return TRUE;
  result = posix_fallocate (fd, 0, RESERVE_BYTES);
  close (fd);
  if (result == 0)
    return TRUE;
  unlinkat (run->photos_fd, RESERVE_NAME, 0);
  return (result != ENOSPC && result != EDQUOT) || fail_full (error);
}

/* Asked before the safety copy, so that trying again does not eat what is left. A file system that
 * does not know its size says 0 blocks. */
static gboolean
check_room (SwRun *run, GError **error)
{
  struct statvfs is;

  return fstatvfs (run->photos_fd, &is) != 0 || is.f_blocks == 0
         || (guint64)is.f_bavail * is.f_frsize >= RESERVE_BYTES || fail_full (error);
}

static gboolean
open_bring_in (SwRun *run, GError **error)
{
  /* first, for it may be what fills the disk */
  sw_run_clear_half_done (run);
  return check_room (run, error) && run->execute (run, sw_run_piece_open, error)
         && make_reserve (run, error);
}

/* Whether rows of photos that are there will change. */
static gboolean
needs_writing (SwRun *run)
{
  for (guint i = 0; i < run->n; i++)
    {
      const SwEntry *entry = &run->entries[i];
      const SwKnown *known = entry->job.state == SW_COPY_THERE ? known_of (entry) : NULL;

      if (known != NULL && (known->aside || (known->trip == 0 && run->options->trip != 0)))
        return TRUE;
    }
  return run->resumed;
}

static gboolean
copy_all (SwRun *run, GError **error)
{
  g_autoptr (SwCopier) copier = new_copier (run);

  set_stage (run, SW_BRING_IN_COPYING);
  __atomic_store_n (&run->progress->copying_since_us, g_get_monotonic_time (), __ATOMIC_RELAXED);
  if ((compare_known (run, copier) || needs_writing (run)) && !open_bring_in (run, error))
    return FALSE;
  push_all (run, copier);
  for (run->first = 0; run->first < run->n; run->first = run->end)
    {
      run->end = end_of_batch (run, run->first);
      if (!run_batch (run, copier, error))
        return FALSE;
    }
  return TRUE;
}

/* --- the end --- */

static guint
count_missing (const SwRun *run)
{
  guint missing = 0;

  for (guint i = 0; i < run->n; i++)
    if (run->entries[i].job.state == SW_COPY_STOPPED
        || (run->source_gone && run->entries[i].job.state == SW_COPY_REFUSED))
      missing++;
  return missing;
}

static char *
size_text (const SwRun *run)
{
  guint64 bytes = 0;

  for (guint i = 0; i < run->n; i++)
    if (run->entries[i].job.state == SW_COPY_STOPPED)
      bytes += run->entries[i].job.source->size;
  return g_format_size (bytes);
}

/* Why it ended before its end; TRUE where it did not. */
static gboolean
check_complete (SwRun *run, GError **error)
{
  guint missing = count_missing (run), done = run->n - missing;
  g_autofree char *size = NULL;

  if (missing == 0)
    return TRUE;
  size = size_text (run);
  if (run->errsv == ENOSPC || run->errsv == EDQUOT)
    g_set_error (
        error, SW_ERROR, SW_ERROR_NO_SPACE,
        _ ("The disk is full: %u of %u files are in the catalogue. Free %s and bring the folder "
           "in again."),
        done, run->n, size);
  else if (run->errsv != 0)
    {
      g_autofree char *what
          = g_strdup_printf (_ ("Only %u of %u files are in the catalogue"), done, run->n);

      return sw_error_from_errno (error, run->errsv, what);
    }
  else if (run->source_gone)
    g_set_error (
        error, SW_ERROR, SW_ERROR_FAILED,
        _ ("The folder with the photos went away: %u of %u files are in the catalogue. Put the "
           "card back and bring it in again."),
        done, run->n);
  else
    g_set_error (
        error, SW_ERROR, SW_ERROR_CANCELLED,
        _ ("Stopped: %u of %u files are in the catalogue. Bring the folder in again to go on."),
        done, run->n);
  return FALSE;
}

/* "a.jpg, b.jpg and 3 more". Transfer full. */
static char *
name_refused (const GPtrArray *refused)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < refused->len && i < NAMED_REFUSED; i++)
    {
      g_autofree char *name = sw_text_printable (((SwBringInRemark *)refused->pdata[i])->file, -1);
      gboolean last = i + 1 == refused->len;

      g_string_append_printf (names, "%s%s", i == 0 ? "" : last ? _ (" and ") : ", ", name);
    }
  if (refused->len > NAMED_REFUSED)
    g_string_append_printf (names, _ (" and %u more"), refused->len - NAMED_REFUSED);
  return g_string_free (names, FALSE);
}

static void
say_about_card (SwRun *run, gboolean complete)
{
  SwBringInReport *report = run->report;
  const GPtrArray *refused = report->refused;
  g_autofree char *names = name_refused (refused);

  report->card_may_be_cleared = complete && refused->len == 0;
  if (report->card_may_be_cleared)
    return;
  g_free (report->why_not);
  if (!complete)
    report->why_not = g_strdup (_ ("Keep the memory card: not all of it is in the catalogue yet."));
  else
    report->why_not = sw_text_counted (
        refused->len,
        "Keep the memory card: %s could not be taken. Look at it in the camera or try another "
        "reader; the rest is in the catalogue.",
        "Keep the memory card: %s could not be taken. Look at them in the camera or try another "
        "reader; the rest is in the catalogue.",
        names);
}

static gboolean
finish (SwRun *run, GError **error)
{
  if (run->bring_in == 0)
    return TRUE;
  unlinkat (run->photos_fd, RESERVE_NAME, 0);
  /* what is removed must not come back after a power cut, when no bring-in is open that it could
   * belong to */
  sw_run_flush_photos (run);
  if (run->report->taken > 0 && !is_cancelled (run) && run->errsv == 0)
    {
      set_stage (run, SW_BRING_IN_COMPARING);
      if (!run->execute (run, sw_run_piece_list, error))
        return FALSE;
      sw_run_compare (run);
    }
  return run->execute (run, sw_run_piece_close, error);
}

static gboolean
run_all (SwRun *run, GError **error)
{
  gboolean complete;

  if (!run->execute (run, sw_run_piece_prepare, error) || !scan_all (run, error))
    return FALSE;
  if (run->scan->files->len == 0)
    return sw_refuse_nothing (run->folders, run->report->refused, error);
  if (!lock_photos (run, error))
    return FALSE;
  make_entries (run);
  if (!copy_all (run, error) || !finish (run, error))
    {
      say_about_card (run, FALSE);
      return FALSE;
    }
  complete = check_complete (run, error);
  say_about_card (run, complete);
  set_stage (run, SW_BRING_IN_DONE);
  if (!complete)
    return FALSE;
  if (run->report->taken + run->report->companions + run->report->already_there == 0)
    return sw_refuse_nothing (run->folders, run->report->refused, error);
  return TRUE;
}

/* --- around it --- */

static void
known_free (gpointer data)
{
  SwKnown *known = data;

  g_free (known->base.stored);
  g_free (known->base.hash);
  g_free (known);
}

static void
entry_clear (SwRun *run, SwEntry *entry)
{
  if (entry->job.temporary != NULL && run->photos_fd >= 0)
    unlinkat (run->photos_fd, entry->job.temporary, 0);
  sw_copy_job_clear (&entry->job);
  g_free (entry->stem);
  g_free (entry->outside);
  g_free (entry->hash);
  g_free (entry->stored);
}

static void
run_init (SwRun *run)
{
  run->photos_fd = -1;
  run->scan = sw_scan_new ();
  run->known = g_ptr_array_new_with_free_func (known_free);
  run->by_hash = g_hash_table_new (g_str_hash, g_str_equal);
  run->by_size = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free,
                                        (GDestroyNotify)g_ptr_array_unref);
  run->pairs = g_array_new (FALSE, FALSE, sizeof (SwLookAlike));
}

static void
run_clear (SwRun *run)
{
  for (guint i = 0; i < run->n; i++)
    entry_clear (run, &run->entries[i]);
  g_free (run->entries);
  if (run->photos_fd >= 0)
    {
      unlinkat (run->photos_fd, RESERVE_NAME, 0);
      close (run->photos_fd);
    }
  g_hash_table_unref (run->by_size);
  g_hash_table_unref (run->by_hash);
  g_ptr_array_unref (run->known);
  g_array_unref (run->pairs);
  sw_scan_free (run->scan);
  g_clear_pointer (&run->trips, g_ptr_array_unref);
  g_clear_pointer (&run->arrivals, g_ptr_array_unref);
  g_clear_pointer (&run->shown, g_ptr_array_unref);
  g_free (run->catalogue);
}

static gboolean
execute_here (SwRun *run, SwRunPiece piece, GError **error)
{
  return piece (run->executor, run, error);
}

gboolean
sw_run_with (SwRunExecute execute, gpointer executor, const char *const *folders,
             const SwBringInOptions *options, SwBringInProgress *progress,
             GCancellable *cancellable, SwBringInReport *report, GError **error)
{
  static const SwBringInOptions defaults = { 0 };
  SwBringInProgress unseen = { 0 };
  SwRun run = { .execute = execute,
                .executor = executor,
                .folders = folders,
                .options = options != NULL ? options : &defaults,
                .progress = progress != NULL ? progress : &unseen,
                .cancellable = cancellable,
                .report = report };
  gboolean good;

  g_return_val_if_fail (folders != NULL && report != NULL, FALSE);
  run_init (&run);
  good = run_all (&run, error);
  run_clear (&run);
  return good;
}

gboolean
sw_bring_in_run (SwCatalogue *catalogue, const char *const *folders,
                 const SwBringInOptions *options, SwBringInProgress *progress,
                 GCancellable *cancellable, SwBringInReport *report, GError **error)
{
  return sw_run_with (execute_here, catalogue, folders, options, progress, cancellable, report,
                      error);
}
