/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of clocks that change within a trip, that drift, and that were read off a picture. camera_clock_found
 * and camera_clock_part can be worked out again and stand in no changeset. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_CLOCK_PARTS                                                                      \
  "ALTER TABLE camera_clock_found ADD COLUMN drift_s_day REAL NOT NULL DEFAULT 0;\n"               \
  "ALTER TABLE camera_clock_found ADD COLUMN drift_from_us INTEGER NOT NULL DEFAULT 0;\n"          \
  "ALTER TABLE camera_clock_found ADD COLUMN other_s REAL NOT NULL DEFAULT 0;\n"                   \
  "ALTER TABLE camera_clock_found ADD COLUMN other_share REAL NOT NULL DEFAULT 0;\n"               \
  "ALTER TABLE camera_clock_found ADD COLUMN notes INTEGER NOT NULL DEFAULT 0;\n"                  \
  "ALTER TABLE camera_clock_found ADD COLUMN faces INTEGER NOT NULL DEFAULT 0;\n"                  \
  "ALTER TABLE camera_clock_found ADD COLUMN fixes INTEGER NOT NULL DEFAULT 0;\n"                  \
  "ALTER TABLE camera_clock_found ADD COLUMN beside INTEGER NOT NULL DEFAULT 0;\n"                 \
  /* found: from that photo on, in the order of file names, the clock goes so */                   \
  "CREATE TABLE camera_clock_part (camera INTEGER NOT NULL, trip INTEGER NOT NULL,\n"              \
  "  from_photo INTEGER NOT NULL, shift_s REAL NOT NULL, spread_s REAL NOT NULL,\n"                \
  "  evidence INTEGER NOT NULL, drift_s_day REAL NOT NULL, drift_from_us INTEGER NOT NULL,\n"      \
  "  PRIMARY KEY (camera, trip, from_photo)) STRICT, WITHOUT ROWID;\n"                             \
  /* the same, set by a person */                                                                  \
  "CREATE TABLE camera_clock_set (camera INTEGER NOT NULL REFERENCES camera (id),\n"               \
  "  trip INTEGER NOT NULL REFERENCES trip (id), from_photo INTEGER NOT NULL REFERENCES photo (id),\n" \
  "  shift_s REAL NOT NULL, PRIMARY KEY (camera, trip, from_photo)) STRICT, WITHOUT ROWID;\n"      \
  /* a clock in the picture, read by a person: the property's civil time as if in UTC */           \
  "CREATE TABLE clock_face (photo INTEGER PRIMARY KEY REFERENCES photo (id),\n"                    \
  "  seen_us INTEGER NOT NULL, resolution_s INTEGER NOT NULL CHECK (resolution_s IN (1, 60)),\n"   \
  "  dated INTEGER NOT NULL CHECK (dated IN (0, 1))) STRICT;\n"
