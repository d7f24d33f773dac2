/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step 1: settings, acts and events, places, trips, items, photos, what is said of them. Private to core/catalogue.
 * Units: day = days since 1970-01-01; *_us = microseconds since 1970-01-01T00:00:00Z, camera clocks as if in UTC;
 * money in minor units; mass in micrograms. Booleans are 0 or 1. */
#pragma once

#define SW_SCHEMA_FOUNDATION                                                                       \
  "CREATE TABLE setting (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;\n"      \
  /* acts and events are not in the changesets: they stay for ever */                              \
  "CREATE TABLE act (\n"                                                                           \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, at_us INTEGER NOT NULL, author TEXT NOT NULL,\n"        \
  /* told: events without a change; nothing to take back */                                        \
  "  kind TEXT NOT NULL CHECK (kind IN ('act','bring-in','told','undo','redo','barrier')),\n"      \
  "  sentence TEXT NOT NULL,\n"                                                                    \
  "  refers INTEGER REFERENCES act (id), bring_in INTEGER REFERENCES bring_in (id),\n"             \
  "  undone_by INTEGER REFERENCES act (id)) STRICT;\n"                                             \
  "CREATE TABLE changeset (act INTEGER PRIMARY KEY REFERENCES act (id), data BLOB NOT NULL) STRICT;\n" \
  "CREATE TABLE event (\n"                                                                         \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, act INTEGER NOT NULL REFERENCES act (id),\n"            \
  "  subject TEXT NOT NULL, subject_id INTEGER NOT NULL, verb TEXT NOT NULL, day INTEGER,\n"       \
  "  sentence TEXT NOT NULL) STRICT;\n"                                                            \
  "CREATE INDEX event_subject ON event (subject, subject_id, id);\n"                               \
  "CREATE INDEX event_act ON event (act);\n"                                                       \
  "CREATE TABLE place (\n"                                                                         \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, parent INTEGER REFERENCES place (id),\n"                \
  "  name TEXT NOT NULL, path TEXT NOT NULL UNIQUE,\n"                                             \
  "  off_property INTEGER NOT NULL DEFAULT 0 CHECK (off_property IN (0, 1)),\n"                    \
  "  latitude REAL, longitude REAL,\n"                                                             \
  "  box_x INTEGER, box_y INTEGER, box_w INTEGER CHECK (box_w > 0), box_h INTEGER CHECK (box_h > 0),\n" \
  "  walk_order INTEGER NOT NULL DEFAULT 0,\n"                                                     \
  "  CHECK ((latitude IS NULL) = (longitude IS NULL)),\n"                                          \
  "  CHECK (latitude BETWEEN -90 AND 90), CHECK (longitude BETWEEN -180 AND 180)) STRICT;\n"       \
  "CREATE INDEX place_parent ON place (parent);\n"                                                 \
  "CREATE TABLE trip (\n"                                                                          \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, title TEXT NOT NULL,\n"                                 \
  "  first_day INTEGER NOT NULL, last_day INTEGER NOT NULL CHECK (last_day >= first_day),\n"       \
  "  note TEXT NOT NULL DEFAULT '') STRICT;\n"                                                     \
  "CREATE TABLE person (id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL UNIQUE) STRICT;\n" \
  /* number = id; AUTOINCREMENT, so that a number is never given twice */                          \
  "CREATE TABLE item (\n"                                                                          \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL,\n"                                  \
  "  neutral INTEGER NOT NULL DEFAULT 0 CHECK (neutral IN (0, 1)),\n"                              \
  "  place INTEGER NOT NULL REFERENCES place (id), trip INTEGER REFERENCES trip (id),\n"           \
  "  state TEXT NOT NULL DEFAULT 'found',\n"                                                       \
  "  count INTEGER NOT NULL DEFAULT 1 CHECK (count > 0),\n"                                        \
  "  asking INTEGER CHECK (asking >= 0),\n"                                                        \
  "  mass_ug INTEGER CHECK (mass_ug >= 0),\n"                                                      \
  "  mass_source TEXT CHECK (mass_source IN ('weighed','typed','worked out','size class')),\n"     \
  "  origin INTEGER REFERENCES item (id),\n"                                                       \
  "  claim TEXT NOT NULL DEFAULT 'none' CHECK (claim IN ('none','open','mine')), claim_by TEXT,\n" \
  "  never_offer INTEGER NOT NULL DEFAULT 0 CHECK (never_offer IN (0, 1)),\n"                      \
  "  hold_until INTEGER, hold_for TEXT,\n"                                                         \
  "  cover INTEGER REFERENCES photo (id),\n"                                                       \
  "  revision INTEGER NOT NULL DEFAULT 1,\n"                                                       \
  "  added_us INTEGER NOT NULL) STRICT;\n"                                                         \
  "CREATE INDEX item_place ON item (place, state, count, asking);\n"                               \
  "CREATE INDEX item_trip ON item (trip);\n"                                                       \
  "CREATE INDEX item_name ON item (name COLLATE NOCASE);\n"                                        \
  "CREATE TABLE fact (\n"                                                                          \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, item INTEGER NOT NULL REFERENCES item (id),\n"          \
  "  kind TEXT NOT NULL, text TEXT NOT NULL,\n"                                                    \
  "  source TEXT NOT NULL CHECK (source IN ('seen','tried','told','guessed')), by_whom TEXT,\n"    \
  "  at_us INTEGER NOT NULL) STRICT;\n"                                                            \
  "CREATE INDEX fact_item ON fact (item);\n"                                                       \
  "CREATE TABLE question (\n"                                                                      \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, item INTEGER NOT NULL REFERENCES item (id),\n"          \
  "  text TEXT NOT NULL, person TEXT, by_day INTEGER, answer TEXT) STRICT;\n"                      \
  "CREATE INDEX question_item ON question (item);\n"                                               \
  "CREATE TABLE job (\n"                                                                           \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, item INTEGER REFERENCES item (id),\n"                   \
  "  place INTEGER REFERENCES place (id), kind TEXT NOT NULL, text TEXT NOT NULL DEFAULT '',\n"    \
  "  done INTEGER NOT NULL DEFAULT 0 CHECK (done IN (0, 1))) STRICT;\n"                            \
  "CREATE INDEX job_item ON job (item);\n"                                                         \
  "CREATE TABLE camera (\n"                                                                        \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, make TEXT NOT NULL, model TEXT NOT NULL,\n"             \
  "  serial TEXT NOT NULL, label TEXT NOT NULL UNIQUE, UNIQUE (make, model, serial)) STRICT;\n"    \
  /* a bring-in enters itself as open before its first copy and closes with its last rows */       \
  "CREATE TABLE bring_in (\n"                                                                      \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT, opened_us INTEGER NOT NULL, closed_us INTEGER,\n"       \
  "  source TEXT NOT NULL) STRICT;\n"                                                              \
  "CREATE TABLE photo (\n"                                                                         \
  "  id INTEGER PRIMARY KEY AUTOINCREMENT,\n"                                                      \
  "  kind TEXT NOT NULL CHECK (kind IN ('photo','raw','clip','memo')),\n"                          \
  "  format TEXT NOT NULL, file TEXT NOT NULL, stored TEXT NOT NULL UNIQUE,\n"                     \
  "  size INTEGER NOT NULL CHECK (size >= 0), hash TEXT NOT NULL UNIQUE,\n"                        \
  "  trip INTEGER REFERENCES trip (id), camera INTEGER REFERENCES camera (id),\n"                  \
  "  clock_us INTEGER, zone_offset_s INTEGER,\n"                                                   \
  "  time_source TEXT NOT NULL CHECK (time_source IN ('original','digitized','modified','name','file')),\n" \
  "  latitude REAL, longitude REAL, position_error_m REAL, gps_us INTEGER,\n"                      \
  "  orientation INTEGER NOT NULL DEFAULT 1 CHECK (orientation BETWEEN 1 AND 8),\n"                \
  "  width INTEGER, height INTEGER, remark TEXT NOT NULL DEFAULT '',\n"                            \
  "  companion_of INTEGER REFERENCES photo (id),\n"                                                \
  "  likeness BLOB, sharpness REAL,\n"                                                             \
  "  aside INTEGER NOT NULL DEFAULT 0 CHECK (aside IN (0, 1)),\n"                                  \
  "  bring_in INTEGER NOT NULL REFERENCES bring_in (id)) STRICT;\n"                                \
  "CREATE INDEX photo_trip ON photo (trip, clock_us, id);\n"                                       \
  "CREATE INDEX photo_bring_in ON photo (bring_in);\n"                                             \
  /* every path the same bytes were met under, in byte order the first names the photo */          \
  "CREATE TABLE photo_path (photo INTEGER NOT NULL REFERENCES photo (id), file TEXT NOT NULL,\n"   \
  "  PRIMARY KEY (photo, file)) STRICT, WITHOUT ROWID;\n"                                          \
  "CREATE TABLE look_alike (a INTEGER NOT NULL REFERENCES photo (id), b INTEGER NOT NULL REFERENCES photo (id),\n" \
  "  PRIMARY KEY (a, b), CHECK (a < b)) STRICT, WITHOUT ROWID;\n"                                  \
  /* decided: a person said so (1) or accepted a sure proposal (1); the machine never changes it */ \
  "CREATE TABLE item_photo (\n"                                                                    \
  "  item INTEGER NOT NULL REFERENCES item (id), photo INTEGER NOT NULL REFERENCES photo (id),\n"  \
  "  position INTEGER NOT NULL DEFAULT 0, also INTEGER NOT NULL DEFAULT 0 CHECK (also IN (0, 1)),\n" \
  "  PRIMARY KEY (item, photo)) STRICT, WITHOUT ROWID;\n"                                          \
  "CREATE INDEX item_photo_photo ON item_photo (photo);\n"                                         \
  /* a person said that it shows no item */                                                        \
  "CREATE TABLE photo_no_item (photo INTEGER PRIMARY KEY REFERENCES photo (id)) STRICT;\n"         \
  "CREATE TABLE camera_clock (camera INTEGER NOT NULL REFERENCES camera (id),\n"                   \
  "  trip INTEGER NOT NULL REFERENCES trip (id), shift_s REAL NOT NULL, spread_s REAL NOT NULL,\n" \
  "  evidence INTEGER NOT NULL, set_by_person INTEGER NOT NULL CHECK (set_by_person IN (0, 1)),\n" \
  "  PRIMARY KEY (camera, trip)) STRICT, WITHOUT ROWID;\n"                                        \
  "CREATE TABLE place_photo (place INTEGER NOT NULL REFERENCES place (id),\n"                      \
  "  photo INTEGER NOT NULL REFERENCES photo (id), PRIMARY KEY (place, photo)) STRICT, WITHOUT ROWID;\n"
