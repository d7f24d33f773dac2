/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "core/catalogue/folder.h"

#include <errno.h>
#include <fcntl.h>
#include <gio/gio.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/catalogue-private.h"

static gboolean
folder_is_empty (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  return dir != NULL && g_dir_read_name (dir) == NULL;
}

gboolean
sw_folder_is_free (const char *folder, GError **error)
{
  GStatBuf is;
  if (g_lstat (folder, &is) != 0 || folder_is_empty (folder))
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
               _ ("There is something at %s already; choose another name."), folder);
  return FALSE;
}

gboolean
sw_folder_flush (const char *path, GError **error)
{
  int fd = open (path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  int errsv = errno;
  g_autofree char *what = g_strdup_printf (_ ("The folder %s could not be flushed"), path);
  if (fd < 0)
    return sw_error_from_errno (error, errsv, what);
  int result = fsync (fd);
  errsv = errno;
  close (fd);
  /* FAT cannot flush a folder and says EINVAL */
  return result == 0 || errsv == EINVAL || sw_error_from_errno (error, errsv, what);
}

gboolean
sw_folder_flush_up (const char *path, const char *top, GError **error)
{
  g_autofree char *here = g_strdup (path);

  while (sw_folder_flush (here, error))
    {
      char *around = g_path_get_dirname (here);
      if (strlen (here) <= strlen (top))
        {
          g_free (around);
          return TRUE;
        }
      g_free (here);
      here = around;
    }
  return FALSE;
}

static gboolean
write_and_flush (int fd, const char *bytes, gsize n)
{
  while (n > 0)
    {
      ssize_t done = write (fd, bytes, n);
      if (done < 0 && errno != EINTR)
        return FALSE;
      bytes += MAX (done, 0);
      n -= (gsize)MAX (done, 0);
    }
  return fsync (fd) == 0;
}

gboolean
sw_file_put (const char *path, const void *bytes, gsize n, int mode, const char *what,
             GError **error)
{
  g_autofree char *part = g_strconcat (path, SW_PART_SUFFIX, NULL);
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = open (part, O_WRONLY | O_CREAT | O_TRUNC | O_NOFOLLOW | O_CLOEXEC, mode);
  if (fd < 0)
    return sw_error_from_errno (error, errno, what);
  gboolean ok = write_and_flush (fd, bytes, n);
  int errsv = errno;
  ok = close (fd) == 0 && ok;
  if (ok && g_rename (part, path) != 0)
    {
      errsv = errno;
      ok = FALSE;
    }
  if (ok)
    return sw_folder_flush (folder, error);
  g_unlink (part);
  return sw_error_from_errno (error, errsv, what);
}

void
sw_folder_remove (const char *path)
{
  g_autoptr (GDir) dir
      = g_file_test (path, G_FILE_TEST_IS_SYMLINK) ? NULL : g_dir_open (path, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);
      sw_folder_remove (inner);
    }
  g_remove (path);
}

/* A part is locked as long as its maker lives: what can be locked was left by one that was killed.
 */
static void
remove_left_part (const char *path)
{
  int fd = open (path, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  if (fd < 0)
    return;
  if (flock (fd, LOCK_EX | LOCK_NB) == 0)
    sw_folder_remove (path);
  close (fd);
}

static void
remove_left_parts (const char *parent, const char *prefix)
{
  g_autoptr (GDir) dir = g_dir_open (parent, 0, NULL);
  const char *name = NULL;
  while (dir != NULL && (name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_prefix (name, prefix) && g_str_has_suffix (name, SW_PART_SUFFIX))
      {
        g_autofree char *path = g_build_filename (parent, name, NULL);
        remove_left_part (path);
      }
}

char *
sw_folder_part_make (const char *folder, int *out_lock, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (folder);
  g_autofree char *base = g_path_get_basename (folder);
  g_autofree char *uuid = g_uuid_string_random ();
  g_autofree char *prefix = g_strdup_printf (".new-%08x-", g_str_hash (base));
  g_autofree char *part = g_strdup_printf ("%s/%s%.8s" SW_PART_SUFFIX, parent, prefix, uuid);
  g_autofree char *what = g_strdup_printf (_ ("The folder %s could not be made"), folder);
  remove_left_parts (parent, prefix);
  if (g_mkdir (part, SW_FOLDER_MODE) != 0)
    {
      sw_error_from_errno (error, errno, what);
      return NULL;
    }
  int lock = open (part, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (lock >= 0)
    flock (lock, LOCK_EX | LOCK_NB);
  *out_lock = lock;
  return g_steal_pointer (&part);
}

gboolean
sw_folder_part_fail (const char *part, int lock, const char *folder, GError **error)
{
  if (lock >= 0)
    close (lock);
  sw_folder_remove (part);
  if (error == NULL || *error == NULL)
    return FALSE;
  GString *message = g_string_new ((*error)->message);
  g_string_replace (message, part, folder, 0);
  g_free ((*error)->message);
  (*error)->message = g_string_free (message, FALSE);
  return FALSE;
}

gboolean
sw_folder_part_place (const char *part, int lock, const char *folder, GError **error)
{
  g_autofree char *parent = g_path_get_dirname (folder);
  g_autofree char *what = g_strdup_printf (_ ("The folder %s could not be made"), folder);
  if (g_rename (part, folder) != 0)
    {
      sw_error_from_errno (error, errno, what);
      return sw_folder_part_fail (part, lock, folder, error);
    }
  if (lock >= 0)
    close (lock);
  return sw_folder_flush (parent, error);
}

/* A catalogue from elsewhere may say anything: nothing is read or written outside its photos. */
gboolean
sw_stored_is_safe (const char *stored)
{
  if (!g_str_has_prefix (stored, SW_PHOTOS_NAME "/"))
    return FALSE;
  g_auto (GStrv) parts = g_strsplit (stored, "/", -1);
  for (gsize i = 0; parts[i] != NULL; i++)
    if (parts[i][0] == '\0' || g_str_equal (parts[i], ".") || g_str_equal (parts[i], ".."))
      return FALSE;
  return TRUE;
}
