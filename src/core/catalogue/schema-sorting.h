/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of the sorting: where a person cut or joined stops, and what photos show that show no item. A stop is known by its first
 * photo, so that cutting one leaves the rows of the others alone; it and its photos can be worked out again, so nothing refers to them
 * and they refer to nothing: an undo that takes an item away is not held up by a proposal. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_SORTING                                                                          \
  "CREATE TABLE photo_cut (photo INTEGER PRIMARY KEY REFERENCES photo (id),\n"                     \
  "  cut INTEGER NOT NULL CHECK (cut IN (-1, 1))) STRICT;\n"                                       \
  "ALTER TABLE photo_no_item ADD COLUMN kind TEXT NOT NULL DEFAULT ''\n"                           \
  "  CHECK (kind IN ('', 'building', 'paper', 'receipt', 'mistake'));\n"                           \
  "CREATE TABLE walk_stop (\n"                                                                     \
  "  first INTEGER PRIMARY KEY, trip INTEGER NOT NULL, start_us INTEGER,\n"                        \
  "  item INTEGER, is_new INTEGER NOT NULL CHECK (is_new IN (0, 1)), name TEXT, place INTEGER,\n"  \
  "  probability REAL NOT NULL CHECK (probability BETWEEN 0 AND 1),\n"                             \
  "  band TEXT NOT NULL CHECK (band IN ('sure','doubtful','unknown')), reason TEXT NOT NULL,\n"    \
  "  CHECK (is_new = 0 OR item IS NULL)) STRICT;\n"                                                \
  "CREATE INDEX walk_stop_trip ON walk_stop (trip, start_us, first);\n"                            \
  "CREATE TABLE walk_stop_photo (photo INTEGER PRIMARY KEY, stop INTEGER NOT NULL,\n"              \
  "  place_in_stop INTEGER NOT NULL) STRICT;\n"                                                    \
  "CREATE INDEX walk_stop_photo_stop ON walk_stop_photo (stop, place_in_stop);\n"                  \
  /* their order stands in for the time until they are proposed again */                           \
  "INSERT INTO walk_stop (first, trip, start_us, item, is_new, name, place, probability,\n"        \
  "  band, reason) SELECT p.photo, s.trip, s.position, s.item, s.is_new, s.name, s.place,\n"       \
  "  s.probability, s.band, s.reason FROM stop s JOIN stop_photo p ON p.trip = s.trip\n"           \
  "  AND p.position = s.position AND p.place_in_stop = 0;\n"                                       \
  "INSERT INTO walk_stop_photo (photo, stop, place_in_stop) SELECT p.photo, f.photo,\n"            \
  "  p.place_in_stop FROM stop_photo p JOIN stop_photo f ON f.trip = p.trip\n"                     \
  "  AND f.position = p.position AND f.place_in_stop = 0;\n"                                       \
  "DROP TABLE stop_photo;\n"                                                                       \
  "DROP TABLE stop;\n"
