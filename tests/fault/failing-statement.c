/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "failing-statement.h"

#include <sqlite3.h>
#include <stdio.h>
#include <string.h>

int __real_sqlite3_step (sqlite3_stmt *statement);
int __wrap_sqlite3_step (sqlite3_stmt *statement);

static int steps, fails_at;
static char failed[256];

/* SQLite leaves no transaction open after a ROLLBACK, whatever the disk says: what it could not put
 * back, the next reader does. */
static int
can_fail (sqlite3_stmt *statement)
{
  return strncmp (sqlite3_sql (statement), "ROLLBACK", strlen ("ROLLBACK")) != 0;
}

int
__wrap_sqlite3_step (sqlite3_stmt *statement)
{
  if (can_fail (statement) && ++steps == fails_at)
    {
      snprintf (failed, sizeof failed, "%s", sqlite3_sql (statement));
      sqlite3_reset (statement);
      return SQLITE_IOERR_READ;
    }
  return __real_sqlite3_step (statement);
}

void
failing_statement_begin (int at)
{
  steps = 0;
  fails_at = at;
}

const char *
failing_statement_text (void)
{
  return failed;
}

int
failing_statement_end (void)
{
  fails_at = 0;
  return steps;
}
