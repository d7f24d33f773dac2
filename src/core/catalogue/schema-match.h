/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of the pairing: field notes, and the stops that were proposed. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_MATCH                                                                            \
  "CREATE TABLE field_note (\n"                                                                    \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, trip INTEGER NOT NULL REFERENCES trip (id),\n"          \
  "  at_us INTEGER NOT NULL, resolution_s INTEGER NOT NULL CHECK (resolution_s > 0),\n"            \
  "  place INTEGER REFERENCES place (id), item INTEGER REFERENCES item (id),\n"                    \
  "  what TEXT NOT NULL DEFAULT '', count INTEGER NOT NULL DEFAULT 0 CHECK (count >= 0),\n"        \
  "  remark TEXT NOT NULL DEFAULT '', CHECK (place IS NOT NULL OR item IS NOT NULL)) STRICT;\n"    \
  "CREATE INDEX field_note_trip ON field_note (trip, at_us);\n"                                    \
  "CREATE TABLE stop (\n"                                                                          \
  "  trip INTEGER NOT NULL REFERENCES trip (id), position INTEGER NOT NULL CHECK (position > 0),\n" \
  "  item INTEGER REFERENCES item (id), is_new INTEGER NOT NULL CHECK (is_new IN (0, 1)),\n"       \
  "  name TEXT, place INTEGER REFERENCES place (id),\n"                                            \
  "  probability REAL NOT NULL CHECK (probability BETWEEN 0 AND 1),\n"                             \
  "  band TEXT NOT NULL CHECK (band IN ('sure','doubtful','unknown')), reason TEXT NOT NULL,\n"    \
  "  PRIMARY KEY (trip, position), CHECK (is_new = 0 OR item IS NULL)) STRICT, WITHOUT ROWID;\n"   \
  "CREATE INDEX stop_item ON stop (item);\n"                                                       \
  "CREATE TABLE stop_photo (\n"                                                                    \
  "  photo INTEGER PRIMARY KEY REFERENCES photo (id), trip INTEGER NOT NULL,\n"                    \
  "  position INTEGER NOT NULL, place_in_stop INTEGER NOT NULL,\n"                                 \
  "  FOREIGN KEY (trip, position) REFERENCES stop (trip, position)) STRICT;\n"                     \
  "CREATE INDEX stop_photo_stop ON stop_photo (trip, position, place_in_stop);\n"
