/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step that parts the clocks that were found from those that a person set: what is found can be worked out
 * again and stands in no changeset, so that undo and redo of what was set never meet it. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_CLOCKS                                                                           \
  "CREATE TABLE camera_clock_found (camera INTEGER NOT NULL, trip INTEGER NOT NULL,\n"             \
  "  shift_s REAL NOT NULL, spread_s REAL NOT NULL, evidence INTEGER NOT NULL,\n"                  \
  "  PRIMARY KEY (camera, trip)) STRICT, WITHOUT ROWID;\n"                                         \
  "INSERT INTO camera_clock_found SELECT camera, trip, shift_s, spread_s, evidence\n"              \
  "  FROM camera_clock WHERE set_by_person = 0;\n"                                                 \
  "DELETE FROM camera_clock WHERE set_by_person = 0;\n"
