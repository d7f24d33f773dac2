/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A batch of copied files: which are doubles, then one flush of the disk for all, then their names.
 * The rows come after. */
#include "core/intake/bring-in-private.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

/* --- what is left of a run that was cut short --- */

/* "<stem>-<8 or more hexadecimal digits>.<ext>": the names that we give. */
static gboolean
is_our_name (const char *name)
{
  const char *dot = strrchr (name, '.'), *dash = strrchr (name, '-');

  if (dot == NULL || dash == NULL || dot - dash < 9)
    return FALSE;
  for (const char *p = dash + 1; p < dot; p++)
    if (!g_ascii_isxdigit (*p))
      return FALSE;
  return TRUE;
}

typedef void (*VisitFunc) (int dir_fd, const char *folder, const char *name, GHashTable *stored);

static void
visit_names (int photos_fd, const char *folder, VisitFunc visit, GHashTable *stored)
{
  int fd = openat (photos_fd, folder, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  DIR *dir = fd >= 0 ? fdopendir (fd) : NULL;
  struct dirent *entry;

  if (dir == NULL)
    {
      if (fd >= 0)
        close (fd);
      return;
    }
  while ((entry = readdir (dir)) != NULL)
    if (strcmp (entry->d_name, ".") != 0 && strcmp (entry->d_name, "..") != 0)
      visit (fd, folder, entry->d_name, stored);
  closedir (dir);
}

static void
drop_temporary (int dir_fd, const char *folder, const char *name, GHashTable *stored)
{
  if (g_str_has_prefix (name, SW_COPY_TEMPORARY_PREFIX)
      && g_str_has_suffix (name, SW_COPY_TEMPORARY_SUFFIX))
    unlinkat (dir_fd, name, 0);
}

static void
drop_without_row (int dir_fd, const char *folder, const char *name, GHashTable *stored)
{
  g_autofree char *path = g_strdup_printf ("photos/%s/%s", folder, name);
  struct stat st;

  if (is_our_name (name) && !g_hash_table_contains (stored, path)
      && fstatat (dir_fd, name, &st, AT_SYMLINK_NOFOLLOW) == 0 && S_ISREG (st.st_mode))
    unlinkat (dir_fd, name, 0);
}

static void
look_into_folder (int dir_fd, const char *folder, const char *name, GHashTable *stored)
{
  if (g_str_has_prefix (name, "trip-") || strcmp (name, "no-trip") == 0)
    visit_names (dir_fd, name, drop_without_row, stored);
}

void
sw_run_clear_half_done (SwRun *run)
{
  g_autoptr (GHashTable) stored = g_hash_table_new (g_str_hash, g_str_equal);

  visit_names (run->photos_fd, ".", drop_temporary, NULL);
  /* renamed but without a row: only a bring-in that is still open leaves such, and its source is
   * asked for again */
  if (!run->resumed)
    return;
  for (guint i = 0; i < run->arrivals->len; i++)
    g_hash_table_add (stored, ((SwArrival *)run->arrivals->pdata[i])->stored);
  visit_names (run->photos_fd, ".", look_into_folder, stored);
}

/* --- doubles --- */

static int
open_known (const SwRun *run, const SwKnown *known)
{
  g_autofree char *path = NULL;

  if (known->temporary != NULL)
    return openat (run->photos_fd, known->temporary, O_RDONLY | O_NOFOLLOW | O_CLOEXEC);
  path = g_build_filename (run->catalogue, known->base.stored, NULL);
  return open (path, O_RDONLY | O_NOFOLLOW | O_CLOEXEC | O_NONBLOCK);
}

/* SHA-256 of an open file, in hexadecimal; NULL where it cannot be read. */
static char *
sha256_of (int fd)
{
  g_autoptr (GChecksum) sum = g_checksum_new (G_CHECKSUM_SHA256);
  guint8 buffer[65536];
  ssize_t n = lseek (fd, 0, SEEK_SET);

  while (n >= 0 && (n = read (fd, buffer, sizeof buffer)) > 0)
    g_checksum_update (sum, buffer, n);
  return n == 0 ? g_strdup (g_checksum_get_string (sum)) : NULL;
}

/* Same fingerprint, other bytes. Either the catalogue's copy is damaged (its own fingerprint is no
 * longer what the row says: the new copy mends it), or somebody made two files of one fingerprint:
 * both are kept apart by SHA-256. */
static void
judge_unlike (SwEntry *entry, SwKnown *known, int mine, int theirs)
{
  g_autofree char *sha = NULL;
  char now[33] = "";

  if (theirs >= 0)
    sw_hash_file (theirs, now);
  if (strncmp (now, known->base.hash, 32) != 0)
    {
      entry->fate = SW_ENTRY_MENDED;
      entry->known = known;
      return;
    }
  sha = sha256_of (mine);
  if (sha == NULL)
    return;
  entry->hash = g_strdup_printf ("%s%.32s", entry->job.hash, sha);
  entry->fate = SW_ENTRY_NEW;
}

static void
judge_against (SwRun *run, SwEntry *entry, SwKnown *known)
{
  int mine = openat (run->photos_fd, entry->job.temporary, O_RDONLY | O_NOFOLLOW | O_CLOEXEC);
  int theirs = open_known (run, known);

  if (mine >= 0 && theirs >= 0 && sw_same_bytes (mine, theirs))
    {
      entry->fate = SW_ENTRY_THERE;
      entry->known = known;
    }
  else if (mine >= 0)
    judge_unlike (entry, known, mine, theirs);
  if (mine >= 0)
    close (mine);
  if (theirs >= 0)
    close (theirs);
}

static void
make_known (SwRun *run, SwEntry *entry)
{
  SwKnown *known = g_new0 (SwKnown, 1);

  known->base.hash = g_strdup (entry->hash);
  known->bring_in = run->bring_in;
  known->temporary = entry->job.temporary;
  entry->known = known;
  g_ptr_array_add (run->known, known);
  g_hash_table_insert (run->by_hash, known->base.hash, known);
}

static void
judge_copy (SwRun *run, SwEntry *entry)
{
  SwKnown *known = g_hash_table_lookup (run->by_hash, entry->job.hash);

  entry->fate = SW_ENTRY_NEW;
  if (known != NULL)
    {
      entry->fate = SW_ENTRY_NONE;
      judge_against (run, entry, known);
    }
  if (entry->fate != SW_ENTRY_NEW)
    return;
  if (entry->hash == NULL)
    entry->hash = g_strdup (entry->job.hash);
  known = g_hash_table_lookup (run->by_hash, entry->hash);
  if (known == NULL)
    make_known (run, entry);
  else
    {
      entry->fate = SW_ENTRY_THERE; /* fingerprint and SHA-256 agree */
      entry->known = known;
    }
}

static void
drop_copy (SwRun *run, SwEntry *entry)
{
  unlinkat (run->photos_fd, entry->job.temporary, 0);
  g_clear_pointer (&entry->job.temporary, g_free);
}

void
sw_run_judge (SwRun *run)
{
  for (guint i = run->first; i < run->end; i++)
    {
      SwEntry *entry = &run->entries[i];

      if (entry->job.state == SW_COPY_DONE)
        judge_copy (run, entry);
      if (entry->job.state == SW_COPY_DONE && entry->fate != SW_ENTRY_NEW
          && entry->fate != SW_ENTRY_MENDED)
        drop_copy (run, entry);
      if (entry->job.state == SW_COPY_DONE && entry->fate == SW_ENTRY_NONE)
        sw_run_refuse (run, entry->job.source->file, _ ("It could not be read back."));
    }
}

/* --- durable, then named --- */

static char *
extension_of (const SwScanFile *source)
{
  const char *fixed = sw_file_kind_extension (source->kind);
  const char *dot = strrchr (source->key, '.');
  g_autofree char *lower = NULL;

  if (fixed != NULL)
    return g_strdup (fixed);
  if (dot == NULL || strchr (dot, '/') != NULL || strlen (dot + 1) > 5 || dot[1] == '\0')
    return g_strdup (sw_file_kind_word (source->kind));
  lower = g_ascii_strdown (dot + 1, -1);
  for (const char *p = lower; *p != '\0'; p++)
    if (!g_ascii_isalnum (*p))
      return g_strdup (sw_file_kind_word (source->kind));
  return g_steal_pointer (&lower);
}

/* photos/trip-02/press-0a1b2c3d.jpg, with more digits where that is taken. */
static char *
stored_name (const SwEntry *entry, int digits)
{
  g_autofree char *base = g_path_get_basename (entry->job.source->file);
  g_autofree char *extension = extension_of (entry->job.source);
  g_autofree char *stem = NULL;
  g_autofree char *folder = entry->trip > 0
                                ? g_strdup_printf ("trip-%02" G_GINT64_FORMAT, entry->trip)
                                : g_strdup ("no-trip");
  char *dot = strrchr (base, '.');

  if (dot != NULL && dot > base)
    *dot = '\0';
  stem = sw_text_safe_stem (base);
  return g_strdup_printf ("photos/%s/%s-%.*s.%s", folder, stem, digits, entry->hash, extension);
}

static gboolean
rename_new (SwRun *run, const char *temporary, const char *stored)
{
  const char *below = stored + strlen ("photos/");
  struct stat st;

  if (renameat2 (run->photos_fd, temporary, run->photos_fd, below, RENAME_NOREPLACE) == 0)
    return TRUE;
  if (errno != EINVAL && errno != ENOSYS)
    return FALSE;
  /* file systems that do not know the flag: look first; nobody else writes here, the folder is
   * locked */
  if (fstatat (run->photos_fd, below, &st, AT_SYMLINK_NOFOLLOW) == 0)
    {
      errno = EEXIST;
      return FALSE;
    }
  return renameat (run->photos_fd, temporary, run->photos_fd, below) == 0;
}

static gboolean
make_folder_of (SwRun *run, const char *stored)
{
  g_autofree char *folder = g_path_get_dirname (stored + strlen ("photos/"));

  return mkdirat (run->photos_fd, folder, SW_FOLDER_MODE) == 0 || errno == EEXIST;
}

static gboolean
name_new (SwRun *run, SwEntry *entry)
{
  int most = (int)strlen (entry->hash);

  for (int digits = 8; digits <= most;
       digits = digits < most && digits * 2 > most ? most : digits * 2)
    {
      g_autofree char *stored = stored_name (entry, digits);

      if (!make_folder_of (run, stored))
        return FALSE;
      if (rename_new (run, entry->job.temporary, stored))
        {
          entry->stored = g_strdup (stored);
          entry->known->base.stored = g_steal_pointer (&stored);
          entry->known->temporary = NULL;
          g_clear_pointer (&entry->job.temporary, g_free);
          return TRUE;
        }
      if (errno != EEXIST || digits == most)
        return FALSE;
    }
  return FALSE;
}

/* The name that the row knows; a damaged file there gives way. */
static gboolean
name_mended (SwRun *run, SwEntry *entry)
{
  const char *stored = entry->known->base.stored;

  if (!g_str_has_prefix (stored, "photos/") || !make_folder_of (run, stored)
      || renameat (run->photos_fd, entry->job.temporary, run->photos_fd,
                   stored + strlen ("photos/"))
             != 0)
    return FALSE;
  g_clear_pointer (&entry->job.temporary, g_free);
  sw_run_remark (run, entry->job.source->file,
                 _ ("The catalogue's copy of it was gone or damaged and has been put right."));
  return TRUE;
}

/* A folder's names are durable once it is flushed; FAT knows no such thing and says EINVAL. */
static gboolean
flush_folder (int photos_fd, const char *folder)
{
  int fd = openat (photos_fd, folder, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  gboolean good = fd >= 0 && (fsync (fd) == 0 || errno == EINVAL);
  int errsv = errno;

  if (fd >= 0)
    close (fd);
  errno = errsv;
  return good;
}

static gboolean
flush_folders (SwRun *run, GHashTable *folders)
{
  GHashTableIter iter;
  gpointer folder;

  g_hash_table_iter_init (&iter, folders);
  while (g_hash_table_iter_next (&iter, &folder, NULL))
    if (!flush_folder (run->photos_fd, folder))
      return FALSE;
  return flush_folder (run->photos_fd, ".");
}

gboolean
sw_run_flush_photos (const SwRun *run)
{
  return flush_folder (run->photos_fd, ".");
}

static gboolean
name_all (SwRun *run)
{
  g_autoptr (GHashTable) folders = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = run->first; i < run->end; i++)
    {
      SwEntry *entry = &run->entries[i];
      gboolean named = TRUE;

      if (entry->fate == SW_ENTRY_NEW)
        named = name_new (run, entry);
      else if (entry->fate == SW_ENTRY_MENDED && entry->job.temporary != NULL)
        named = name_mended (run, entry);
      else
        continue;
      if (!named)
        return FALSE;
      g_hash_table_add (folders,
                        g_path_get_dirname (entry->known->base.stored + strlen ("photos/")));
    }
  return g_hash_table_size (folders) == 0 || flush_folders (run, folders);
}

static gboolean
has_copies (const SwRun *run)
{
  for (guint i = run->first; i < run->end; i++)
    if (run->entries[i].job.temporary != NULL)
      return TRUE;
  return FALSE;
}

gboolean
sw_run_name (SwRun *run, GError **error)
{
  if (!has_copies (run))
    return TRUE;
  /* errors of writing are told to those who had the folder open before: photos_fd has been since
   * the start */
  if (syncfs (run->photos_fd) != 0 || !name_all (run))
    return sw_error_from_errno (error, errno,
                                _ ("The photos could not be written into the catalogue"));
  return TRUE;
}
