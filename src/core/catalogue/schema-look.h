/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of looking at photos: the turn a person gave one, and what was measured on its pixels. Private to
 * core/catalogue. */
#pragma once

/* turn: quarter turns clockwise, on top of what the file's orientation says. photo_quality is worked out from the
 * pixels and is no part of anybody's act; measure: which version of the measuring has looked. */
#define SW_SCHEMA_LOOK                                                                             \
  "ALTER TABLE photo ADD COLUMN turn INTEGER NOT NULL DEFAULT 0 CHECK (turn BETWEEN 0 AND 3);\n"   \
  "CREATE TABLE photo_quality (\n"                                                                 \
  "  photo INTEGER PRIMARY KEY REFERENCES photo (id), measure INTEGER NOT NULL,\n"                 \
  "  sharpness REAL NOT NULL CHECK (sharpness >= 0), focus REAL NOT NULL CHECK (focus >= 0),\n"    \
  "  mean INTEGER NOT NULL CHECK (mean BETWEEN 0 AND 255),\n"                                      \
  "  dark INTEGER NOT NULL CHECK (dark BETWEEN 0 AND 1000),\n"                                     \
  "  bright INTEGER NOT NULL CHECK (bright BETWEEN 0 AND 1000),\n"                                 \
  "  covered INTEGER NOT NULL CHECK (covered BETWEEN 0 AND 1000),\n"                               \
  "  marks INTEGER NOT NULL) STRICT;\n"
