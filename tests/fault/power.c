/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The log of what is not flushed, and taking it back from the newest to the oldest. Speaks to the
 * system by syscall alone, since it lies below the calls that the program makes. Nothing in it is
 * freed: the process that it stands in is short. */
#include "power.h"

#include <fcntl.h>
#include <limits.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#define SECTOR 512

typedef enum
{
  DID_WRITE,
  DID_TRUNCATE,
  DID_MAKE_FILE,
  DID_MAKE_FOLDER,
  DID_RENAME,
  DID_REMOVE_FILE,
  DID_REMOVE_FOLDER,
} Did;

typedef struct
{
  dev_t device;
  ino_t inode;
} Identity;

typedef struct
{
  Did did;
  int safe;       /* flushed since */
  Identity of;    /* the file of bytes, the folder of a name */
  int file;       /* bytes: our own descriptor of the file */
  off_t at, size; /* bytes: from where, and how large the file was */
  size_t n;       /* bytes that were there before, in 'old' */
  char *old;
  char *path, *to; /* names */
  char *kept;      /* what was removed or replaced, in the stash; NULL: nothing */
} Entry;

static Entry *entries;
static size_t n_entries;
static char stash_folder[PATH_MAX];
static unsigned int n_kept;

/* Our descriptors of the files that were written. They stay open: closing one would drop the locks
 * that the program holds on the file (POSIX.1-2017, fcntl). */
static struct
{
  Identity of;
  int fd;
} files[1024];
static size_t n_files;

static Entry *
add (Did did)
{
  static size_t room;

  if (n_entries == room)
    {
      room = room > 0 ? 2 * room : 256;
      entries = realloc (entries, room * sizeof *entries);
      if (entries == NULL)
        abort ();
    }
  memset (&entries[n_entries], 0, sizeof *entries);
  entries[n_entries].did = did;
  return &entries[n_entries++];
}

static int
identify (int fd, const char *path, Identity *out)
{
  struct stat is;

  if ((path != NULL ? fstatat (AT_FDCWD, path, &is, AT_SYMLINK_NOFOLLOW) : fstat (fd, &is)) != 0)
    return 0;
  *out = (Identity){ is.st_dev, is.st_ino };
  return 1;
}

static int
is_same (Identity a, Identity b)
{
  return a.device == b.device && a.inode == b.inode;
}

/* 0 where there is none: then the call will fail. */
static int
folder_of (const char *path, Identity *out)
{
  char folder[PATH_MAX];
  char *slash;

  snprintf (folder, sizeof folder, "%s", path);
  slash = strrchr (folder, '/');
  if (slash == NULL || slash == folder)
    return 0;
  *slash = '\0';
  return identify (-1, folder, out);
}

static int
own_descriptor (int fd, Identity of)
{
  char link[64];

  for (size_t i = 0; i < n_files; i++)
    if (is_same (files[i].of, of))
      return files[i].fd;
  if (n_files == sizeof files / sizeof *files)
    abort ();
  snprintf (link, sizeof link, "/proc/self/fd/%d", fd);
  files[n_files].of = of;
  files[n_files].fd = (int)syscall (SYS_openat, AT_FDCWD, link, O_RDWR | O_CLOEXEC, 0);
  return files[n_files++].fd;
}

/* The bytes from 'at' on that a change of n there would cover. */
static void
keep_bytes (Entry *entry, off_t at, size_t n)
{
  struct stat is;

  if (fstat (entry->file, &is) != 0)
    abort ();
  entry->at = at;
  entry->size = is.st_size;
  entry->n = at < is.st_size ? (size_t)(is.st_size - at) : 0;
  if (entry->n > n)
    entry->n = n;
  entry->old = malloc (entry->n + 1);
  if (entry->old == NULL
      || syscall (SYS_pread64, entry->file, entry->old, entry->n, at) != (long)entry->n)
    abort ();
}

static void
change_bytes (Did did, int fd, off_t at, size_t n)
{
  Identity of;
  Entry *entry;
  struct stat is;

  if (!identify (fd, NULL, &of) || fstat (fd, &is) != 0 || !S_ISREG (is.st_mode))
    return;
  if (at < 0)
    at = (syscall (SYS_fcntl, fd, F_GETFL) & O_APPEND) != 0
             ? is.st_size
             : (off_t)syscall (SYS_lseek, fd, 0, SEEK_CUR);
  entry = add (did);
  entry->of = of;
  entry->file = own_descriptor (fd, of);
  keep_bytes (entry, at, n);
}

void
power_start (const char *stash)
{
  snprintf (stash_folder, sizeof stash_folder, "%s", stash);
}

void
power_write (int fd, off_t at, size_t n)
{
  change_bytes (DID_WRITE, fd, at, n);
}

void
power_truncate (int fd, off_t size)
{
  change_bytes (DID_TRUNCATE, fd, size, SIZE_MAX);
}

/* A name more of what stands at 'path', so that it can be put back. */
static char *
keep_file (const char *path)
{
  char kept[PATH_MAX];

  snprintf (kept, sizeof kept, "%.4000s/%d-%u", stash_folder, (int)getpid (), n_kept++);
  return syscall (SYS_linkat, AT_FDCWD, path, AT_FDCWD, kept, 0) == 0 ? strdup (kept) : NULL;
}

/* NULL where nothing can change there. */
static Entry *
change_name (Did did, const char *path)
{
  Identity of;
  Entry *entry;

  if (!folder_of (path, &of))
    return NULL;
  entry = add (did);
  entry->path = strdup (path);
  entry->of = of;
  return entry;
}

void
power_open (const char *path, int flags)
{
  struct stat is;

  if (stat (path, &is) != 0)
    {
      if ((flags & O_CREAT) != 0)
        change_name (DID_MAKE_FILE, path);
      return;
    }
  if ((flags & O_TRUNC) == 0 || (flags & (O_CREAT | O_EXCL)) == (O_CREAT | O_EXCL))
    return;
  int fd = (int)syscall (SYS_openat, AT_FDCWD, path, O_RDWR | O_CLOEXEC, 0);
  if (fd >= 0)
    power_truncate (fd, 0);
}

void
power_mkdir (const char *path)
{
  struct stat is;

  if (stat (path, &is) != 0)
    change_name (DID_MAKE_FOLDER, path);
}

void
power_rename (const char *from, const char *to)
{
  struct stat is;
  char *kept;

  if (lstat (from, &is) != 0)
    return;
  kept = keep_file (to);
  Entry *entry = change_name (DID_RENAME, to);
  if (entry == NULL)
    return;
  entry->path = strdup (from);
  entry->to = strdup (to);
  entry->kept = kept;
}

void
power_remove (const char *path)
{
  struct stat is;

  if (lstat (path, &is) != 0)
    return;
  if (S_ISDIR (is.st_mode))
    change_name (DID_REMOVE_FOLDER, path);
  else
    {
      char *kept = keep_file (path);
      Entry *entry = change_name (DID_REMOVE_FILE, path);
      if (entry != NULL)
        entry->kept = kept;
    }
}

void
power_flush (int fd)
{
  Identity of;

  if (!identify (fd, NULL, &of))
    return;
  for (size_t i = 0; i < n_entries; i++)
    if (is_same (entries[i].of, of))
      entries[i].safe = 1;
}

void
power_flush_all (void)
{
  for (size_t i = 0; i < n_entries; i++)
    entries[i].safe = 1;
}

/* ---- the cut ---- */

/* Where what was at 'path' when entry i was made stands now: later renames that stay may have moved
 * it, or a folder around it. */
static void
now_at (size_t i, const char *path, char *out)
{
  char next[2 * PATH_MAX];

  snprintf (out, PATH_MAX, "%s", path);
  for (size_t j = i + 1; j < n_entries; j++)
    {
      size_t n = entries[j].did == DID_RENAME && entries[j].safe ? strlen (entries[j].path) : 0;

      if (n == 0 || strncmp (out, entries[j].path, n) != 0 || (out[n] != '/' && out[n] != '\0'))
        continue;
      snprintf (next, sizeof next, "%s%s", entries[j].to, out + n);
      snprintf (out, PATH_MAX, "%.*s", PATH_MAX - 1, next);
    }
}

static void
remove_tree (const char *path)
{
  char command[PATH_MAX + 32];

  if (syscall (SYS_unlinkat, AT_FDCWD, path, AT_REMOVEDIR) == 0)
    return;
  /* rare: files in it were flushed, its own name was not */
  snprintf (command, sizeof command, "rm -rf '%s'", path);
  if (system (command) != 0)
    abort ();
}

static void
take_name_back (size_t i)
{
  const Entry *entry = &entries[i];
  char path[PATH_MAX], to[PATH_MAX];

  now_at (i, entry->path, path);
  switch (entry->did)
    {
    case DID_MAKE_FILE:
      syscall (SYS_unlinkat, AT_FDCWD, path, 0);
      break;
    case DID_MAKE_FOLDER:
      remove_tree (path);
      break;
    case DID_RENAME:
      now_at (i, entry->to, to);
      syscall (SYS_renameat2, AT_FDCWD, to, AT_FDCWD, path, 0);
      if (entry->kept != NULL)
        syscall (SYS_linkat, AT_FDCWD, entry->kept, AT_FDCWD, to, 0);
      break;
    case DID_REMOVE_FILE:
      if (entry->kept != NULL)
        syscall (SYS_linkat, AT_FDCWD, entry->kept, AT_FDCWD, path, 0);
      break;
    case DID_REMOVE_FOLDER:
      syscall (SYS_mkdirat, AT_FDCWD, path, 0700);
      break;
    default:
      break;
    }
}

static void
put_bytes (const Entry *entry, const char *bytes, size_t n, off_t at)
{
  if (syscall (SYS_pwrite64, entry->file, bytes, n, at) != (long)n)
    abort ();
}

static void
take_bytes_back (const Entry *entry)
{
  put_bytes (entry, entry->old, entry->n, entry->at);
  if (syscall (SYS_ftruncate, entry->file, entry->size) != 0)
    abort ();
}

/* Every other sector, by chance, is as it was before; where there was nothing it is zeros. */
static void
tear_bytes (const Entry *entry)
{
  static const char zeros[SECTOR];
  struct stat is;

  if (fstat (entry->file, &is) != 0)
    abort ();
  for (off_t at = entry->at; at < is.st_size; at += SECTOR - at % SECTOR)
    {
      size_t n = (size_t)(SECTOR - at % SECTOR), done = (size_t)(at - entry->at);
      size_t old = done < entry->n ? entry->n - done : 0;

      if (rand () % 2 == 0)
        continue;
      if (n > (size_t)(is.st_size - at))
        n = (size_t)(is.st_size - at);
      if (old > 0)
        put_bytes (entry, entry->old + done, old < n ? old : n, at);
      else if (at >= entry->size)
        put_bytes (entry, zeros, n, at);
    }
}

static int
is_of_bytes (const Entry *entry)
{
  return entry->did == DID_WRITE || entry->did == DID_TRUNCATE;
}

/* File systems write their names down in the order of the calls: those up to some moment stay. */
static void
let_some_names_stay (void)
{
  size_t open_ones = 0, stay;

  for (size_t i = 0; i < n_entries; i++)
    open_ones += !entries[i].safe && !is_of_bytes (&entries[i]);
  stay = (size_t)rand () % (open_ones + 1);
  for (size_t i = 0; i < n_entries && stay > 0; i++)
    if (!entries[i].safe && !is_of_bytes (&entries[i]))
      {
        entries[i].safe = 1;
        stay--;
      }
}

void
power_cut (PowerLoss loss, unsigned int seed)
{
  srand (seed);
  if (loss == POWER_TORN)
    let_some_names_stay ();
  for (size_t i = n_entries; i-- > 0;)
    {
      int chance = loss == POWER_TORN ? rand () % 3 : 0;

      if (entries[i].safe)
        continue;
      if (!is_of_bytes (&entries[i]))
        take_name_back (i);
      else if (chance == 0 || (chance == 1 && entries[i].did == DID_TRUNCATE))
        take_bytes_back (&entries[i]);
      else if (chance == 1)
        tear_bytes (&entries[i]);
    }
}
