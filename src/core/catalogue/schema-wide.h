/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of second things in a photo: what is proposed that it shows beside its stop's. Worked
 * out again by each pairing. Private to core/catalogue. */
#pragma once

/* item 0: the thing of a tag that is on no item yet. */
#define SW_SCHEMA_WIDE                                                                             \
  "CREATE TABLE walk_also (\n"                                                                     \
  "  photo INTEGER NOT NULL, item INTEGER NOT NULL, tag INTEGER NOT NULL, stop INTEGER NOT "       \
  "NULL,\n"                                                                                        \
  "  place_in_stop INTEGER NOT NULL, name TEXT NOT NULL, reason TEXT NOT NULL,\n"                  \
  "  PRIMARY KEY (photo, item, tag)) STRICT;\n"                                                    \
  "CREATE INDEX walk_also_stop ON walk_also (stop, place_in_stop);\n"
