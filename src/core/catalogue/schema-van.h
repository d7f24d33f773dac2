/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema: the van, how often it goes on a trip and what is kept free of it, and what must go or
 * waits. van has one row or none; 0 millimetres: not measured. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_VAN                                                                              \
  "CREATE TABLE van (id INTEGER PRIMARY KEY CHECK (id = 1),\n"                                     \
  "  payload INTEGER NOT NULL CHECK (payload > 0),\n"                                              \
  "  length INTEGER NOT NULL CHECK (length >= 0), width INTEGER NOT NULL CHECK (width >= 0),\n"    \
  "  height INTEGER NOT NULL CHECK (height >= 0),\n"                                               \
  "  door_width INTEGER NOT NULL CHECK (door_width >= 0),\n"                                       \
  "  door_height INTEGER NOT NULL CHECK (door_height >= 0)) STRICT;\n"                             \
  "CREATE TABLE trip_load (trip INTEGER PRIMARY KEY REFERENCES trip (id),\n"                       \
  "  runs INTEGER NOT NULL CHECK (runs BETWEEN 1 AND 20),\n"                                       \
  "  kept_mass INTEGER NOT NULL CHECK (kept_mass >= 0)) STRICT;\n"                                 \
  "CREATE TABLE load_wish (trip INTEGER NOT NULL REFERENCES trip (id),\n"                          \
  "  item INTEGER NOT NULL REFERENCES item (id),\n"                                                \
  "  wish TEXT NOT NULL CHECK (wish IN ('must','not this time')),\n"                               \
  "  PRIMARY KEY (trip, item)) STRICT, WITHOUT ROWID;\n"
