/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the system says went wrong, as a sentence of ours. */
#include "sw-test.h"

#include <errno.h>

typedef struct
{
  const char *label;
  int errsv;
  SwError code;
  const char *advice; /* must stand in the sentence */
} Row;

static const Row rows[] = {
  { "disk full", ENOSPC, SW_ERROR_NO_SPACE, "free some space" },
  { "share used up", EDQUOT, SW_ERROR_NO_SPACE, "free some space" },
  { "read-only medium", EROFS, SW_ERROR_READ_ONLY, "read-only" },
  { "not allowed", EACCES, SW_ERROR_REFUSED, "permissions" },
  { "not permitted", EPERM, SW_ERROR_REFUSED, "permissions" },
  { "absent", ENOENT, SW_ERROR_NOT_FOUND, "not there" },
  { "file in place of a folder", ENOTDIR, SW_ERROR_NOT_FOUND, "not a folder" },
  { "name taken", EEXIST, SW_ERROR_REFUSED, "already" },
  { "circle of links", ELOOP, SW_ERROR_BAD_INPUT, "circle" },
  { "name too long", ENAMETOOLONG, SW_ERROR_BAD_INPUT, "too long" },
  { "anything else", EIO, SW_ERROR_FAILED, "" },
  { "no such number", 99999, SW_ERROR_FAILED, "" },
};

static void
from_errno (void **state)
{
  const Row *row = *state;
  g_autoptr (GError) error = NULL;
  assert_false (sw_error_from_errno (&error, row->errsv, "The folder /x could not be read"));
  assert_sw_error (error, row->code);
  assert_true (g_str_has_prefix (error->message, "The folder /x could not be read: "));
  assert_contains (error->message, row->advice);
  assert_false (sw_error_from_errno (NULL, row->errsv, "The folder /x could not be read"));
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  SW_TEST_ROWS (tests, from_errno, rows);
  return sw_tests_run (tests, "error");
}
