/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file system for SQLite that fails when told to: it stands before the real one, counts the calls
 * of each kind and fails the Nth, once or from then on. Belongs to the tests alone. */
#pragma once

#include <glib.h>

typedef enum
{
  FAULT_OPEN = 1 << 0,
  FAULT_READ = 1 << 1,
  FAULT_WRITE = 1 << 2, /* an input/output error */
  FAULT_FULL = 1 << 3,  /* the same call, but the disk is full */
  FAULT_SYNC = 1 << 4,
  FAULT_TRUNCATE = 1 << 5,
  FAULT_DELETE = 1 << 6,
  FAULT_LOCK = 1 << 7, /* another program has it */
} FaultKind;

/* Makes it the default for files opened from now on. */
void fault_vfs_install (void);
/* The 'nth' call (from 1) of these kinds fails; with for_good all after it too, as when the disk is
 * pulled out. */
void fault_vfs_arm (guint kinds, int nth, gboolean for_good);
/* All is well again. TRUE where a call was made to fail since it was armed. */
gboolean fault_vfs_disarm (void);
