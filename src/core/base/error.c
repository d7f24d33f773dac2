/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The error domain, and the one place where errno becomes a sentence: a full disk must read the
 * same whoever met it. Decides nothing about what to do next. */
#include "core/base/error.h"
#include "core/base/language.h"

#include <errno.h>

/* clang-format off: the name is one word */
G_DEFINE_QUARK (sw - error - quark, sw_error)
/* clang-format on */

typedef struct
{
  int errsv;
  SwError code;
  const char *why;
} ErrnoRow;

static const ErrnoRow errno_rows[] = {
  { ENOSPC, SW_ERROR_NO_SPACE, N_ ("the disk is full; free some space and try again") },
  { EDQUOT, SW_ERROR_NO_SPACE,
    N_ ("your share of the disk is used up; free some space and try again") },
  { EROFS, SW_ERROR_READ_ONLY,
    N_ ("the disk is read-only; copy the catalogue to one that can be written") },
  { EACCES, SW_ERROR_REFUSED,
    N_ ("you are not allowed to; ask its owner or change its permissions") },
  { EPERM, SW_ERROR_REFUSED,
    N_ ("you are not allowed to; ask its owner or change its permissions") },
  { ENOENT, SW_ERROR_NOT_FOUND, N_ ("it is not there") },
  { ENOTDIR, SW_ERROR_NOT_FOUND, N_ ("a part of its path is not a folder") },
  { EEXIST, SW_ERROR_REFUSED, N_ ("something of that name is there already") },
  { ELOOP, SW_ERROR_BAD_INPUT, N_ ("its links lead in a circle") },
  { ENAMETOOLONG, SW_ERROR_BAD_INPUT, N_ ("its name is too long") },
};

gboolean
sw_error_from_errno (GError **error, int errsv, const char *what)
{
  for (gsize i = 0; i < G_N_ELEMENTS (errno_rows); i++)
    if (errno_rows[i].errsv == errsv)
      {
        g_set_error (error, SW_ERROR, errno_rows[i].code, "%s: %s.", what, _ (errno_rows[i].why));
        return FALSE;
      }
  g_set_error (error, SW_ERROR, SW_ERROR_FAILED, "%s: %s.", what, g_strerror (errsv));
  return FALSE;
}
