/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Walks the folders of a bring-in. Since no link is followed, no walk can leave the source or run
 * in a circle; a depth limit guards against media that lie about their own tree. */
#include "core/intake/scan.h"

#include <dirent.h>
#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"

#define MAX_DEPTH 100

typedef struct
{
  SwScan *scan;
  dev_t device; /* of the catalogue */
  ino_t inode;
  GCancellable *cancellable;
} Walk;

static void
scan_file_free (gpointer data)
{
  SwScanFile *file = data;

  g_free (file->path);
  g_free (file->file);
  g_free (file->key);
  g_free (file);
}

static void
scan_remark_free (gpointer data)
{
  SwScanRemark *remark = data;

  g_free (remark->file);
  g_free (remark->remark);
  g_free (remark);
}

SwScan *
sw_scan_new (void)
{
  SwScan *scan = g_new0 (SwScan, 1);

  scan->files = g_ptr_array_new_with_free_func (scan_file_free);
  scan->refused = g_ptr_array_new_with_free_func (scan_remark_free);
  scan->remarked = g_ptr_array_new_with_free_func (scan_remark_free);
  scan->not_photos = g_ptr_array_new_with_free_func (g_free);
  return scan;
}

void
sw_scan_free (SwScan *scan)
{
  if (scan == NULL)
    return;
  g_ptr_array_unref (scan->files);
  g_ptr_array_unref (scan->refused);
  g_ptr_array_unref (scan->remarked);
  g_ptr_array_unref (scan->not_photos);
  g_free (scan);
}

static void
say (GPtrArray *list, const char *key, const char *remark)
{
  SwScanRemark *r = g_new0 (SwScanRemark, 1);

  r->file = g_utf8_make_valid (key, -1);
  r->remark = g_strdup (remark);
  g_ptr_array_add (list, r);
}

static void
take_file (Walk *walk, const char *path, const char *key, const struct stat *st, SwFileKind kind)
{
  SwScanFile *file = g_new0 (SwScanFile, 1);

  file->path = g_strdup (path);
  file->key = g_strdup (key);
  file->file = g_utf8_make_valid (key, -1);
  file->kind = kind;
  file->size = (guint64)st->st_size;
  file->mtime_us = (gint64)st->st_mtim.tv_sec * G_USEC_PER_SEC + st->st_mtim.tv_nsec / 1000;
  g_ptr_array_add (walk->scan->files, file);
  walk->scan->bytes += file->size;
}

/* Some systems leave a small file "._NAME" beside each NAME on a card; it never is a photo. */
static gboolean
is_shadow (const char *key)
{
  const char *slash = strrchr (key, '/');

  return g_str_has_prefix (slash != NULL ? slash + 1 : key, "._");
}

static void
sort_out (Walk *walk, const char *path, const char *key, const struct stat *st, SwFileKind kind)
{
  SwScan *scan = walk->scan;

  if (sw_file_kind_is_photo (kind) || sw_file_kind_is_companion (kind))
    take_file (walk, path, key, st, kind);
  else if (is_shadow (key))
    g_ptr_array_add (scan->not_photos, g_utf8_make_valid (key, -1));
  else if (kind == SW_FILE_EMPTY && sw_name_claims_photo (key))
    say (scan->refused, key, _ ("The file is empty."));
  else if (sw_name_claims_photo (key))
    say (scan->refused, key, _ ("It is named like a photo, but there is none in it."));
  else
    g_ptr_array_add (scan->not_photos, g_utf8_make_valid (key, -1));
}

static void
look_at_file (Walk *walk, const char *path, const char *key)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK | O_NOCTTY);
  guint8 head[SW_SNIFF_BYTES];
  struct stat st;
  ssize_t n = -1;
  int errsv;

  if (walk->scan->seen != NULL)
    g_atomic_int_inc (walk->scan->seen);
  if (fd >= 0 && fstat (fd, &st) == 0 && S_ISREG (st.st_mode))
    do
      n = pread (fd, head, sizeof head, 0);
    while (n < 0 && errno == EINTR);
  errsv = errno;
  if (fd >= 0)
    close (fd);
  if (n < 0)
    {
      g_autofree char *remark
          = errsv == EACCES || errsv == EPERM
                ? g_strdup (_ ("You are not allowed to read it."))
                : g_strdup_printf (_ ("It could not be read (%s)."), g_strerror (errsv));

      say (walk->scan->refused, key, remark);
      return;
    }
  sort_out (walk, path, key, &st, st.st_size == 0 ? SW_FILE_EMPTY : sw_sniff (head, (gsize)n, key));
}

static int
by_bytes (gconstpointer a, gconstpointer b)
{
  return strcmp (*(char *const *)a, *(char *const *)b);
}

/* Names in byte order, so that a run does not depend on the disk's. NULL with errno. */
static GPtrArray *
names_in (const char *path)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  DIR *dir = opendir (path);
  struct dirent *entry;
  int errsv;

  if (dir == NULL)
    return NULL;
  while (errno = 0, (entry = readdir (dir)) != NULL)
    if (strcmp (entry->d_name, ".") != 0 && strcmp (entry->d_name, "..") != 0)
      g_ptr_array_add (names, g_strdup (entry->d_name));
  errsv = errno;
  closedir (dir);
  errno = errsv;
  if (errsv != 0)
    return NULL;
  g_ptr_array_sort (names, by_bytes);
  return g_steal_pointer (&names);
}

static gboolean walk_folder (Walk *walk, const char *path, const char *key, int depth);

static gboolean
is_catalogue (const Walk *walk, const char *name, const struct stat *st)
{
  return (st->st_dev == walk->device && st->st_ino == walk->inode)
         || g_str_has_suffix (name, ".shedwalk");
}

static void
visit (Walk *walk, const char *path, const char *key, int depth)
{
  struct stat st;

  if (lstat (path, &st) != 0)
    say (walk->scan->refused, key, _ ("It could not be read."));
  else if (S_ISREG (st.st_mode))
    look_at_file (walk, path, key);
  else if (S_ISLNK (st.st_mode))
    say (walk->scan->remarked, key, _ ("It is a link and was not followed."));
  else if (!S_ISDIR (st.st_mode))
    say (walk->scan->remarked, key, _ ("It is a pipe, socket or device and was passed over."));
  else if (is_catalogue (walk, key, &st))
    say (walk->scan->remarked, key, _ ("It is a catalogue and was passed over."));
  else if (depth >= MAX_DEPTH)
    say (walk->scan->remarked, key, _ ("Its folders lie too deep and were passed over."));
  else if (!walk_folder (walk, path, key, depth + 1))
    say (walk->scan->refused, key, _ ("The folder could not be read."));
}

static gboolean
walk_folder (Walk *walk, const char *path, const char *key, int depth)
{
  g_autoptr (GPtrArray) names = names_in (path);

  if (names == NULL)
    return FALSE;
  for (guint i = 0; i < names->len && !g_cancellable_is_cancelled (walk->cancellable); i++)
    {
      const char *name = names->pdata[i];
      g_autofree char *inner = g_build_filename (path, name, NULL);
      g_autofree char *inner_key
          = *key != '\0' ? g_strconcat (key, "/", name, NULL) : g_strdup (name);

      visit (walk, inner, inner_key, depth);
    }
  return TRUE;
}

/* Whether 'path' is the folder (device, inode) or lies below it. */
static gboolean
lies_in (const char *path, dev_t device, ino_t inode)
{
  g_autofree char *at = realpath (path, NULL);

  while (at != NULL)
    {
      struct stat st;
      char *slash;

      if (stat (at, &st) == 0 && st.st_dev == device && st.st_ino == inode)
        return TRUE;
      slash = strrchr (at, '/');
      if (slash == NULL || at[1] == '\0')
        return FALSE;
      slash[slash == at ? 1 : 0] = '\0';
    }
  return FALSE;
}

gboolean
sw_scan_add (SwScan *scan, const char *folder, const char *catalogue, GCancellable *cancellable,
             GError **error)
{
  g_autofree char *name = sw_text_printable (folder, -1);
  g_autofree char *what = g_strdup_printf (_ ("The photos in %s could not be read"), name);
  Walk walk = { scan, 0, 0, cancellable };
  struct stat st;

  if (stat (catalogue, &st) != 0)
    return sw_error_from_errno (error, errno, _ ("The catalogue could not be read"));
  walk.device = st.st_dev;
  walk.inode = st.st_ino;
  if (stat (folder, &st) != 0)
    return sw_error_from_errno (error, errno, what);
  if (lies_in (folder, walk.device, walk.inode))
    {
      g_set_error (
          error, SW_ERROR, SW_ERROR_REFUSED,
          _ ("%s lies inside the catalogue: choose the memory card or a folder elsewhere."), name);
      return FALSE;
    }
  if (S_ISREG (st.st_mode))
    {
      g_autofree char *base = g_path_get_basename (folder);

      look_at_file (&walk, folder, base);
    }
  else if (!S_ISDIR (st.st_mode))
    return sw_error_from_errno (error, ENOTDIR, what);
  else if (!walk_folder (&walk, folder, "", 0))
    return sw_error_from_errno (error, errno, what);
  if (!g_cancellable_is_cancelled (cancellable))
    return TRUE;
  g_set_error_literal (error, SW_ERROR, SW_ERROR_CANCELLED, _ ("Stopped; nothing was taken."));
  return FALSE;
}

static int
by_key (gconstpointer a, gconstpointer b)
{
  const SwScanFile *x = *(SwScanFile *const *)a, *y = *(SwScanFile *const *)b;
  int order = strcmp (x->key, y->key);

  return order != 0 ? order : strcmp (x->path, y->path);
}

void
sw_scan_finish (SwScan *scan)
{
  g_ptr_array_sort (scan->files, by_key);
}
