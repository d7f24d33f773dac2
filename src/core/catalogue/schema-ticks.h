/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema: the lines of a trip's sheet as they were numbered, what was ticked of each back home, and
 * the cash that was counted. A line names its subject alone: names of things and people stand where
 * they belong. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_TICKS                                                                            \
  "CREATE TABLE trip_line (trip INTEGER NOT NULL REFERENCES trip (id),\n"                          \
  "  number INTEGER NOT NULL CHECK (number > 0),\n"                                                \
  "  part TEXT NOT NULL CHECK (part IN ('hand over','load','scrap','job','look','ask')),\n"        \
  "  subject INTEGER NOT NULL, item INTEGER REFERENCES item (id),\n"                               \
  "  pieces INTEGER NOT NULL CHECK (pieces >= 0),\n"                                               \
  "  tick TEXT CHECK (tick IN\n"                                                                   \
  "    ('handed over','brought home','scrapped','done','not found')),\n"                           \
  "  broken INTEGER NOT NULL DEFAULT 0 CHECK (broken IN (0, 1)),\n"                                \
  "  due INTEGER NOT NULL DEFAULT 0, taken INTEGER NOT NULL DEFAULT 0,\n"                          \
  "  PRIMARY KEY (trip, number)) STRICT, WITHOUT ROWID;\n"                                         \
  "CREATE TABLE trip_cash (trip INTEGER PRIMARY KEY REFERENCES trip (id),\n"                       \
  "  counted INTEGER NOT NULL CHECK (counted >= 0)) STRICT;\n"
