/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The failing file system: every method passes on to the real one unless its turn has come. One
 * thread. */
#include "fault-vfs.h"

#include <sqlite3.h>

typedef struct
{
  sqlite3_file base;
  sqlite3_file *real;
} FaultFile;

static sqlite3_vfs *real_vfs;
static sqlite3_vfs fault_vfs;
static struct
{
  guint kinds;
  int left; /* calls until it fails */
  gboolean for_good, hit;
} armed;

static gboolean
turn_has_come (guint kind)
{
  if ((armed.kinds & kind) == 0)
    return FALSE;
  armed.left--;
  if (armed.left > 0 || (armed.left < 0 && !armed.for_good))
    return FALSE;
  armed.hit = TRUE;
  return TRUE;
}

static sqlite3_file *
real_of (sqlite3_file *file)
{
  return ((FaultFile *)(void *)file)->real;
}

static int
file_close (sqlite3_file *file)
{
  sqlite3_file *real = real_of (file);
  return real->pMethods != NULL ? real->pMethods->xClose (real) : SQLITE_OK;
}

static int
file_read (sqlite3_file *file, void *data, int n, sqlite3_int64 at)
{
  sqlite3_file *real = real_of (file);
  return turn_has_come (FAULT_READ) ? SQLITE_IOERR_READ : real->pMethods->xRead (real, data, n, at);
}

static int
file_write (sqlite3_file *file, const void *data, int n, sqlite3_int64 at)
{
  sqlite3_file *real = real_of (file);
  if (turn_has_come (FAULT_FULL))
    {
      /* what fitted is there: half of it */
      real->pMethods->xWrite (real, data, n / 2, at);
      return SQLITE_FULL;
    }
  return turn_has_come (FAULT_WRITE) ? SQLITE_IOERR_WRITE
                                     : real->pMethods->xWrite (real, data, n, at);
}

static int
file_truncate (sqlite3_file *file, sqlite3_int64 size)
{
  sqlite3_file *real = real_of (file);
  return turn_has_come (FAULT_TRUNCATE) ? SQLITE_IOERR_TRUNCATE
                                        : real->pMethods->xTruncate (real, size);
}

/* Nobody pulls the machine's plug here, so that a flush need not be waited for. */
static int
file_sync (sqlite3_file *file, int flags)
{
  return turn_has_come (FAULT_SYNC) ? SQLITE_IOERR_FSYNC : SQLITE_OK;
}

static int
file_size (sqlite3_file *file, sqlite3_int64 *out_size)
{
  sqlite3_file *real = real_of (file);
  return real->pMethods->xFileSize (real, out_size);
}

static int
file_lock (sqlite3_file *file, int level)
{
  sqlite3_file *real = real_of (file);
  return turn_has_come (FAULT_LOCK) ? SQLITE_BUSY : real->pMethods->xLock (real, level);
}

static int
file_unlock (sqlite3_file *file, int level)
{
  sqlite3_file *real = real_of (file);
  return real->pMethods->xUnlock (real, level);
}

static int
file_check_lock (sqlite3_file *file, int *out_held)
{
  sqlite3_file *real = real_of (file);
  return real->pMethods->xCheckReservedLock (real, out_held);
}

static int
file_control (sqlite3_file *file, int op, void *arg)
{
  sqlite3_file *real = real_of (file);
  return real->pMethods->xFileControl (real, op, arg);
}

static int
file_sector (sqlite3_file *file)
{
  sqlite3_file *real = real_of (file);
  return real->pMethods->xSectorSize (real);
}

static int
file_character (sqlite3_file *file)
{
  sqlite3_file *real = real_of (file);
  return real->pMethods->xDeviceCharacteristics (real);
}

static const sqlite3_io_methods file_methods = {
  .iVersion = 1,
  .xClose = file_close,
  .xRead = file_read,
  .xWrite = file_write,
  .xTruncate = file_truncate,
  .xSync = file_sync,
  .xFileSize = file_size,
  .xLock = file_lock,
  .xUnlock = file_unlock,
  .xCheckReservedLock = file_check_lock,
  .xFileControl = file_control,
  .xSectorSize = file_sector,
  .xDeviceCharacteristics = file_character,
};

static int
vfs_open (sqlite3_vfs *vfs, const char *name, sqlite3_file *file, int flags, int *out_flags)
{
  FaultFile *fault = (FaultFile *)(void *)file;
  fault->base.pMethods = NULL;
  fault->real = (sqlite3_file *)(void *)(fault + 1);
  if (turn_has_come (FAULT_OPEN))
    return SQLITE_CANTOPEN;
  int code = real_vfs->xOpen (real_vfs, name, fault->real, flags, out_flags);
  if (fault->real->pMethods != NULL)
    fault->base.pMethods = &file_methods;
  return code;
}

static int
vfs_delete (sqlite3_vfs *vfs, const char *name, int sync)
{
  return turn_has_come (FAULT_DELETE) ? SQLITE_IOERR_DELETE : real_vfs->xDelete (real_vfs, name, 0);
}

static int
vfs_access (sqlite3_vfs *vfs, const char *name, int flags, int *out)
{
  return real_vfs->xAccess (real_vfs, name, flags, out);
}

static int
vfs_full_path (sqlite3_vfs *vfs, const char *name, int n, char *out)
{
  return real_vfs->xFullPathname (real_vfs, name, n, out);
}

static int
vfs_randomness (sqlite3_vfs *vfs, int n, char *out)
{
  return real_vfs->xRandomness (real_vfs, n, out);
}

/* A busy handler that waits would only make the tests slow: the lock it waits for is ours to
 * refuse. */
static int
vfs_sleep (sqlite3_vfs *vfs, int microseconds)
{
  return microseconds;
}

static int
vfs_current_time (sqlite3_vfs *vfs, double *out)
{
  return real_vfs->xCurrentTime (real_vfs, out);
}

static int
vfs_last_error (sqlite3_vfs *vfs, int n, char *out)
{
  return real_vfs->xGetLastError (real_vfs, n, out);
}

void
fault_vfs_install (void)
{
  real_vfs = sqlite3_vfs_find (NULL);
  fault_vfs = (sqlite3_vfs){
    .iVersion = 1,
    .szOsFile = (int)sizeof (FaultFile) + real_vfs->szOsFile,
    .mxPathname = real_vfs->mxPathname,
    .zName = "fault",
    .xOpen = vfs_open,
    .xDelete = vfs_delete,
    .xAccess = vfs_access,
    .xFullPathname = vfs_full_path,
    .xRandomness = vfs_randomness,
    .xSleep = vfs_sleep,
    .xCurrentTime = vfs_current_time,
    .xGetLastError = vfs_last_error,
  };
  sqlite3_vfs_register (&fault_vfs, 1);
}

void
fault_vfs_arm (guint kinds, int nth, gboolean for_good)
{
  armed.kinds = kinds;
  armed.left = nth;
  armed.for_good = for_good;
  armed.hit = FALSE;
}

gboolean
fault_vfs_disarm (void)
{
  armed.kinds = 0;
  return armed.hit;
}
